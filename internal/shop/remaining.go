package shop

// Hours taken for a task that nobody estimated. Common practice, no source.
const (
	UnsaidLow    = 1.0
	UnsaidLikely = 4.0
	UnsaidHigh   = 10.0
)

// Remaining is what is to come of the agreed hours of a stage.
type Remaining struct {
	StageHours
	Left    bool          // the job has gone on, and no task of the stage is open
	ToCome  Micro         // in all: Unnamed, and what is left of the open tasks
	Unnamed Micro         // in no task's name
	Taken   map[int]Micro // by task in hand: hours in no task's name that must have been work on it
}

// Remaining gives what is to come of a job's agreed hours, by stage:
//
//	unnamed = agreed − done − open tasks, and none when that is negative
//
// where done is the estimate of each finished task and the hours in no task's name,
// and a task that nobody estimated is taken as UnsaidLikely, or what it took. Hours
// logged in no task's name are of no task, but for what done tasks must have taken,
// and what the agreed hours have no room for: that was work on what is in hand. With
// no estimate nobody knows which of the hours were the extras'. A stage that the job
// has left has nothing to come.
func (s *State) Remaining(jobID string) ([stages]Remaining, error) {
	j, err := s.job(jobID)
	if err != nil {
		return [stages]Remaining{}, err
	}
	return s.remainingOf(j), nil
}

func (s *State) remainingOf(j *job) [stages]Remaining {
	var all [stages]Remaining
	var tasks [stages][]Task
	for _, i := range j.tasks {
		t := s.taskOf(i)
		tasks[t.Stage] = append(tasks[t.Stage], t)
	}
	now := s.stageNow(j)
	for st, h := range s.hoursOf(j) {
		all[st] = remaining(h, tasks[st], h.Logged > 0 && leaves(now, Stage(st)))
	}
	return all
}

// leaves tells whether a job at one stage has left another: mechanical and trim go
// on side by side.
func leaves(now, st Stage) bool { return st < now && (st != Mechanical || now != Trim) }

func remaining(h StageHours, tasks []Task, left bool) Remaining {
	r := Remaining{StageHours: h, Left: left, Taken: map[int]Micro{}}
	named, spare := Micro(0), h.Logged // hours of tasks; hours in no task's name
	for _, t := range tasks {
		named += t.taking()
		spare -= t.Logged
		if t.State == Done && t.Logged == 0 { // it took hours, whatever they were logged on
			spare -= t.taking()
		}
		r.Left = r.Left && t.State == Done
	}
	spare = max(spare, 0)
	r.Unnamed = h.Agreed() - named - spare
	for _, t := range tasks {
		took := min(-r.Unnamed, spare, t.taking())
		if t.State == Doing && t.Logged == 0 && took > 0 {
			r.Taken[t.Number] = took
			r.Unnamed += took
			spare -= took
		}
	}
	if h.Estimate == 0 {
		r.Unnamed = h.Extras - named
	}
	r.Unnamed = max(r.Unnamed, 0)
	if r.Left {
		r.Unnamed = 0
	}
	r.ToCome = r.Unnamed
	for _, t := range tasks {
		r.ToCome += r.of(t)
	}
	return r
}

// of is what is to come of a task of the stage.
func (r Remaining) of(t Task) Micro {
	if t.State == Done {
		return 0
	}
	return max(t.taking()-t.Logged-r.Taken[t.Number], 0)
}

// taking is what a task is taken to need, or to have needed, of the agreed hours.
func (t Task) taking() Micro {
	switch {
	case t.Likely > 0:
		return MicroOf(t.Likely)
	case t.State == Done:
		return t.Logged
	}
	return MicroOf(UnsaidLikely)
}
