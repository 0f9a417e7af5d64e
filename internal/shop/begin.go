package shop

import (
	"slices"
	"strconv"
	"time"
)

// Progress says which task was begun or ended, and by whom.
type Progress struct {
	Job  string // empty: a number is enough, or words of a task of who said it
	Task string // its number, words of its title, or empty for the one it can only be
	Who  string
}

// DecideTaskStart decides which task is begun and by whom. What is not done first
// is no warning: NotDoneFirst tells.
func (s *State) DecideTaskStart(by string, now time.Time, r Progress) (Decision, error) {
	if err := s.may(by, taskStartTask); err != nil {
		return Decision{}, err
	}
	r.Who = or(r.Who, by)
	if err := s.known("who", r.Who); err != nil {
		return Decision{}, err
	}
	return s.decideStart(now, r)
}

func (s *State) decideStart(now time.Time, r Progress) (Decision, error) {
	t, err := s.which(now, r, true)
	if err != nil {
		return Decision{}, err
	}
	switch {
	case t.State == Doing && t.Who == r.Who:
		return Decision{}, refuse(AlreadyDone, "what", t.Name()+" is in hand by "+s.nameOf(t.Who))
	case t.State == Done:
		return Decision{}, refuse(AlreadyDone, "what", t.Name()+" is done")
	}
	d := Decision{Event: TaskStarted{Number: t.Number, Job: t.Job, Who: r.Who}}
	if t.State == Doing && t.Who != "" {
		d.Warnings = append(d.Warnings, s.nameOf(t.Who)+" had it in hand.")
	}
	p := s.planOf(s.jobs[s.jobAt[t.Job]], now)
	for _, h := range p.causes(t) {
		d.Warnings = append(d.Warnings, upper(h.Root)+".")
	}
	return d, nil
}

// DecideTaskEnd decides which task is done and by whom: the speaker, unless it is
// somebody's already.
func (s *State) DecideTaskEnd(by string, now time.Time, r Progress) (Decision, error) {
	if err := s.may(by, taskFinishTask); err != nil {
		return Decision{}, err
	}
	if err := s.known("who", r.Who); err != nil {
		return Decision{}, err
	}
	said := r.Who
	r.Who = or(r.Who, by)
	t, err := s.which(now, r, false)
	if err != nil {
		return Decision{}, err
	}
	if said == "" && t.Who == "" {
		said = by
	}
	return s.end(t, said)
}

func (s *State) end(t Task, who string) (Decision, error) {
	if t.State == Done {
		return Decision{}, refuse(AlreadyDone, "what", t.Name()+" is done")
	}
	return Decision{Event: TaskFinished{Number: t.Number, Job: t.Job, Who: who}}, nil
}

// TaskCalled gives the task of a job that words or a number mean; one that waits
// before one in hand.
func (s *State) TaskCalled(now time.Time, jobID, words string) (Task, error) {
	return s.which(now, Progress{Job: jobID, Task: words}, true)
}

// which gives the task that is meant: of the job's, or when no job was said by its
// number, or of those that are r.Who's. Words mean what can be begun before what
// is in hand when one starts, and the other way round when one ends.
func (s *State) which(now time.Time, r Progress, starts bool) (Task, error) {
	if n, ok := numberSaid(r.Task); ok {
		return s.numbered(r.Job, n)
	}
	all, err := s.Tasks(r.Job)
	if err != nil {
		return Task{}, err
	}
	if r.Job == "" {
		all = slices.DeleteFunc(all, func(t Task) bool { return t.Who != r.Who })
		if err := missing(need{"job", len(all) > 0}); err != nil {
			return Task{}, err
		}
	}
	open := slices.DeleteFunc(slices.Clone(all), func(t Task) bool { return t.State == Done })
	state := Doing
	if starts {
		state = Waiting
	}
	meant, sure := tasksCalled(r.Task, open)
	if !hasWords(r.Task) {
		if meant, err = s.goingOn(r.Job, state, open, now); err != nil {
			return Task{}, err
		}
		sure = len(meant) > 0
		meant = orList(meant, open)
	}
	meant = prefer(meant, func(t Task) bool { return t.State == state })
	meant = prefer(meant, func(t Task) bool { return t.Who == r.Who })
	switch {
	case len(meant) == 0:
		return Task{}, noSuchTask(r.Task, all, open)
	case len(meant) == 1 && sure:
		return meant[0], nil
	}
	var choices []candidate
	for _, t := range meant {
		_, side := wordsOf(t.Title)
		choices = append(choices, candidate{number: t.Number, side: side, label: t.Name()})
	}
	return Task{}, ambiguous("task", choices)
}

// goingOn gives the open tasks in a state that can be gone on with.
func (s *State) goingOn(jobID, state string, open []Task, now time.Time) ([]Task, error) {
	next, err := s.Next(jobID, "", now)
	return slices.DeleteFunc(slices.Clone(open), func(t Task) bool {
		return t.State != state || !slices.ContainsFunc(next.Tasks, func(n NextTask) bool { return n.Number == t.Number })
	}), err
}

// numbered gives the task of a number, of a job if one was said.
func (s *State) numbered(jobID string, n int) (Task, error) {
	open, err := s.Tasks(jobID)
	if err != nil {
		return Task{}, err
	}
	open = slices.DeleteFunc(open, func(t Task) bool { return t.State == Done })
	t, ok := s.TaskNumber(n)
	switch {
	case !ok:
		return Task{}, noSuchTask(strconv.Itoa(n), nil, open)
	case jobID != "" && t.Job != jobID:
		return Task{}, noSuchTask(strconv.Itoa(n)+" on "+jobID+" (it is on "+t.Job+")", nil, open)
	}
	return t, nil
}

// noSuchTask refuses words that mean no open task: one that is done says so.
func noSuchTask(words string, all, open []Task) error {
	done := slices.DeleteFunc(slices.Clone(all), func(t Task) bool { return t.State != Done })
	if meant, sure := tasksCalled(words, done); len(meant) > 0 && sure {
		return refuse(AlreadyDone, "what", meant[len(meant)-1].Name()+" is done")
	}
	var names []string
	for _, t := range open {
		names = append(names, t.Name())
	}
	return refuse(NotFound, "field", "task", "value", words, "accepted", joined(names))
}

// tasksCalled gives the tasks whose titles share the most words with what was
// said, and whether they share enough of them to be sure. A side that was said
// must be theirs.
func tasksCalled(text string, all []Task) (best []Task, sure bool) {
	said, side := wordsOf(text)
	most := 0
	for _, t := range all {
		title, on := wordsOf(t.Title)
		n := common(said, title)
		score := 2 * n
		if side != 0 && on == side {
			score++
		}
		if len(said) > 0 && n == 0 || side != 0 && on != 0 && on != side {
			continue
		}
		switch {
		case score > most:
			best, most, sure = []Task{t}, score, 2*n >= len(said)
		case score == most && score > 0:
			best = append(best, t)
		}
	}
	return best, sure
}

// restart changes which task was begun, or by whom.
func (s *State) restart(e TaskStarted, c Changes, now time.Time) (Decision, error) {
	if err := s.known("who", c.Who); err != nil {
		return Decision{}, err
	}
	e.Who = or(c.Who, e.Who)
	if c.Task == "" {
		return Decision{Event: e}, nil
	}
	return s.decideStart(now, Progress{Job: e.Job, Task: c.Task, Who: e.Who})
}

// refinish changes which task was done, or by whom.
func (s *State) refinish(e TaskFinished, c Changes, now time.Time) (Decision, error) {
	if err := s.known("who", c.Who); err != nil {
		return Decision{}, err
	}
	e.Who = or(c.Who, e.Who)
	if c.Task == "" {
		return Decision{Event: e}, nil
	}
	t, err := s.which(now, Progress{Job: e.Job, Task: c.Task, Who: e.Who}, false)
	if err != nil {
		return Decision{}, err
	}
	return s.end(t, e.Who)
}
