package shop

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// States of a task.
const (
	Waiting = "waiting"
	Doing   = "doing"
	Done    = "done"
)

// Task is a task as it stands: its State and Who are those of now.
type Task struct {
	TaskAdded
	Logged            Micro
	Started, Finished Said // zero when that is not on record
	Said
	Entries []uint64 // about it, oldest first
}

// Name gives a task's number and title.
func (t TaskAdded) Name() string { return strconv.Itoa(t.Number) + " " + t.Title }

// taskOf gives the task of a record, standing or not.
func (s *State) taskOf(i uint32) Task {
	e, _ := s.details[i].(TaskAdded)
	of := thing{kind: recTask, number: e.Number}
	t := Task{TaskAdded: e, Said: s.said(i), Entries: s.entriesOf(of)}
	for _, k := range s.about[of] {
		switch e := s.details[k].(type) {
		case TaskStarted:
			if t.State == Waiting {
				t.Started = s.said(k)
			}
			t.State, t.Who, t.Finished = Doing, e.Who, Said{}
		case TaskFinished:
			t.State, t.Who, t.Finished = Done, or(e.Who, t.Who), s.said(k)
		}
	}
	at := s.recs[i].job
	for who := range s.people {
		t.Logged += s.worked[workKey{at, workOf(e.Stage, e.Number), e.Stage, uint16(who)}]
	}
	return t
}

// TaskAs gives the task of a record as it stands, or as it was when it was taken
// back.
func (s *State) TaskAs(r Record) Task { return s.taskOf(r.index) }

// TaskNumber gives the standing task of a number.
func (s *State) TaskNumber(n int) (Task, bool) {
	i, ok := s.things[thing{kind: recTask, number: n}]
	if !ok {
		return Task{}, false
	}
	return s.taskOf(i), true
}

// Tasks gives the tasks of a job, or for an empty id of all jobs, by number.
func (s *State) Tasks(jobID string) ([]Task, error) {
	jobs, err := s.jobsOf(jobID)
	if err != nil {
		return nil, err
	}
	var all []Task
	for _, j := range jobs {
		for _, i := range j.tasks {
			all = append(all, s.taskOf(i))
		}
	}
	slices.SortStableFunc(all, func(a, b Task) int { return a.Number - b.Number })
	return all, nil
}

// jobsOf gives one job, or for an empty id all of them.
func (s *State) jobsOf(jobID string) ([]*job, error) {
	if jobID != "" {
		j, err := s.job(jobID)
		return []*job{j}, err
	}
	return slices.DeleteFunc(slices.Clone(s.jobs[1:]), func(j *job) bool { return j.gone }), nil
}

// NewTask asks to add a task.
type NewTask struct {
	Job, Title       string
	Hours, Low, High *float64 // Hours are the likely ones
	Stage            string   // empty means the one the job is in
	After            []int
	AfterNamed       string // words of the tasks before it, or a stage
	Who, NeedsPart   string
}

// Usual spread of an estimate, times its likely hours. Common practice, no source.
const (
	LowSpread  = 0.75
	HighSpread = 1.6
)

// maxTaskHours bounds an estimate, exclusive. Common practice, no source.
const maxTaskHours = 1000

// DecideTask decides the adding of a task.
func (s *State) DecideTask(by string, now time.Time, r NewTask) (Decision, error) {
	if err := s.may(by, taskAddTask); err != nil {
		return Decision{}, err
	}
	first := s.tasksBefore(r)
	r.After = append(slices.Clone(r.After), first...)
	d, err := s.decideTask(r, s.last[recTask]+1)
	if err == nil && r.AfterNamed != "" && len(first) == 0 {
		d.Warnings = append(d.Warnings, "No open task is called "+r.AfterNamed+": it waits for none.")
	}
	if e, ok := d.Event.(TaskAdded); ok && e.NeedsPart != "" {
		p := s.planOf(s.jobs[s.jobAt[e.Job]], now)
		if p.part(e) == nil {
			d.Warnings = append(d.Warnings, "Nothing on record is called "+e.NeedsPart+": it is not on order.")
		}
	}
	return d, err
}

func (s *State) decideTask(r NewTask, n int) (Decision, error) {
	if err := missing(need{"job", r.Job != ""}, need{"title", strings.TrimSpace(r.Title) != ""}); err != nil {
		return Decision{}, err
	}
	j, err := s.job(r.Job)
	if err != nil {
		return Decision{}, err
	}
	e := TaskAdded{Number: n, Job: r.Job, Title: strings.TrimSpace(r.Title), Stage: s.stageNow(j), State: Waiting, Who: r.Who, NeedsPart: r.NeedsPart}
	if r.Stage != "" {
		st, ok := ParseStage(strings.ToLower(r.Stage))
		if !ok {
			return Decision{}, refuse(UnknownName, "field", "stage", "value", r.Stage, "accepted", joined(Stages()))
		}
		e.Stage = st
	}
	if err := missing(need{"stage", e.Stage != 0}); err != nil {
		return Decision{}, err
	}
	if n > maxIndex {
		return Decision{}, outOfRange("title", r.Title, "no more tasks than there are")
	}
	if e.Low, e.Likely, e.High, err = estimate(r.Low, r.Hours, r.High); err != nil {
		return Decision{}, err
	}
	if err := s.known("who", r.Who); err != nil {
		return Decision{}, err
	}
	if e.After, err = s.before(j, r.After); err != nil {
		return Decision{}, err
	}
	for _, other := range s.tasksOf(j) {
		if t, _ := s.TaskNumber(other.Number); t.State != Done && sameWords(t.Title, e.Title) {
			return Decision{}, refuse(AlreadyExists, "field", "title", "value", t.Name())
		}
	}
	return Decision{Event: e}, nil
}

// estimate checks the hours of a task, and fills in the usual spread; none at all
// is an estimate nobody made.
func estimate(low, likely, high *float64) (least, usual, most float64, err error) {
	if likely == nil {
		return 0, 0, 0, missing(need{"hours", low == nil && high == nil})
	}
	orElse := func(v *float64, spread float64) float64 {
		if v != nil {
			return *v
		}
		return MicroOf(*likely * spread).Float()
	}
	least, usual, most = orElse(low, LowSpread), *likely, orElse(high, HighSpread)
	for _, h := range []struct {
		field string
		v     float64
	}{{"hours", usual}, {"low_hours", least}, {"high_hours", most}} {
		// The spread of hours that are themselves in range may go beyond it.
		if !(h.v > 0 && MicroOf(h.v) > 0 && (h.v < maxTaskHours || h.field == "high_hours" && high == nil)) {
			return 0, 0, 0, outOfRange(h.field, number(h.v), "more than 0, less than "+number(maxTaskHours))
		}
	}
	switch {
	case least > usual:
		return 0, 0, 0, outOfRange("low_hours", number(least), "up to the likely "+number(usual))
	case most < usual:
		return 0, 0, 0, outOfRange("high_hours", number(most), "the likely "+number(usual)+" or more")
	}
	return least, usual, most, nil
}

// before checks the tasks that must be done first. A new task has a new number
// that no other waits for, and what a task waits for is never changed: so no
// circle can come about.
func (s *State) before(j *job, after []int) ([]int, error) {
	var first []int
	for _, n := range after {
		if _, ok := s.task(j, n); !ok {
			var names []string
			for _, t := range s.tasksOf(j) {
				names = append(names, t.Name())
			}
			return nil, refuse(UnknownName, "field", "after", "value", strconv.Itoa(n), "accepted", joined(names))
		}
		if !slices.Contains(first, n) {
			first = append(first, n)
		}
	}
	return first, nil
}

// tasksBefore gives the numbers of the open tasks that words name: those whose
// titles have them, or all of the stage that they are.
func (s *State) tasksBefore(r NewTask) []int {
	open, err := s.Tasks(r.Job)
	if r.AfterNamed == "" || err != nil {
		return nil // a job that is not known is refused later
	}
	open = slices.DeleteFunc(open, func(t Task) bool { return t.State == Done })
	words, _ := wordsOf(r.AfterNamed)
	meant, sure := tasksCalled(r.AfterNamed, open)
	if len(words) == 1 {
		if st, ok := ParseStage(words[0]); ok {
			sure, meant = true, slices.DeleteFunc(open, func(t Task) bool { return t.Stage != st })
		}
	}
	var numbers []int
	for _, t := range meant {
		if sure {
			numbers = append(numbers, t.Number)
		}
	}
	return numbers
}

// known refuses a person the shop does not know; nobody is none.
func (s *State) known(field, id string) error {
	if _, ok := s.personAt[id]; ok || id == "" {
		return nil
	}
	var ids []string
	for _, p := range s.people[1:] {
		ids = append(ids, p.ID)
	}
	return refuse(UnknownName, "field", field, "value", id, "accepted", joined(ids))
}

// retask changes a task. Its spread goes with its likely hours, unless it is said.
func (s *State) retask(e TaskAdded, c Changes) (Decision, error) {
	if c.Job != "" && c.Job != e.Job {
		if n := s.hanging(e) + len(e.After); n > 0 {
			return Decision{}, refuse(InUse, "what", "task "+e.Name(), "records", strconv.Itoa(n))
		}
	}
	r := NewTask{
		Job: or(c.Job, e.Job), Title: or(c.Title, e.Title), Hours: orSize(c.Hours, e.Likely), Low: orSize(c.Low, e.Low), High: orSize(c.High, e.High),
		Stage: e.Stage.String(), After: e.After, Who: or(c.Who, e.Who), NeedsPart: e.NeedsPart,
	}
	if c.Hours != nil {
		r.Low, r.High = c.Low, c.High
		if e.Likely > 0 {
			r.Low, r.High = scaled(c.Low, e.Low, *c.Hours/e.Likely), scaled(c.High, e.High, *c.Hours/e.Likely)
		}
	}
	d, err := s.decideTask(r, e.Number)
	if next, ok := d.Event.(TaskAdded); ok {
		next.State = e.State
		d.Event = next
	}
	return d, err
}

func scaled(said *float64, was, by float64) *float64 {
	if said != nil || was == 0 {
		return said
	}
	v := MicroOf(was * by).Float()
	return &v
}

// hanging counts what rests on a task: what was said about it, hours on it, and
// tasks that wait for it.
func (s *State) hanging(e TaskAdded) int {
	n := len(s.about[thing{kind: recTask, number: e.Number}])
	for k := range s.worked {
		if k.work == workOf(e.Stage, e.Number) && s.jobs[k.job].ID == e.Job {
			n++
		}
	}
	if j, err := s.job(e.Job); err == nil {
		for _, t := range s.tasksOf(j) {
			if slices.Contains(t.After, e.Number) {
				n++
			}
		}
	}
	return n
}

// taskName gives the number and the title of a standing task, or the number alone.
func (s *State) taskName(n int) string {
	if t, ok := s.TaskNumber(n); ok {
		return t.Name()
	}
	return strconv.Itoa(n)
}

// concerns tells whether what was done of a task or a part is about a place: its
// panel is in the name, and the side is the same where the name has one.
func (s *State) concerns(e Event, w Where) bool {
	var name string
	var side Side
	switch e := e.(type) {
	case TaskStarted:
		name = s.taskName(e.Number)
	case TaskFinished:
		name = s.taskName(e.Number)
	case PartOrdered:
		name, side = e.Part, e.Side
	default:
		t, _, _ := thingOf(rec{}, e)
		if i, ok := s.things[t]; ok {
			return s.concerns(s.details[i], w)
		}
		return false
	}
	words, on := wordsOf(name)
	on = or(side, on)
	panel, _ := wordsOf(w.Panel)
	return (w.Panel == "" || within(panel, words)) && (w.Side == 0 || on == w.Side || on == 0 && w.Panel != "")
}
