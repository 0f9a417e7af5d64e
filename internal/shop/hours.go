package shop

import (
	"fmt"
	"slices"
	"strconv"
	"time"
)

// StageHours are the hours of one stage of a job.
type StageHours struct {
	Stage    Stage
	Logged   Micro // imported hours included
	Estimate Micro // as the job came in
	Extras   Micro // of agreed extras
}

// Agreed is what the customer agreed to: the estimate and the agreed extras.
func (h StageHours) Agreed() Micro { return h.Estimate + h.Extras }

// hoursOf gives the hours of a job by stage. Whatever tells hours, money or an end
// of a job goes by it.
func (s *State) hoursOf(j *job) [stages]StageHours {
	var all [stages]StageHours
	for st := range all {
		all[st] = StageHours{Stage: Stage(st), Logged: j.JobCreated.Logged[st] + j.logged[st], Estimate: j.Estimate[st]}
	}
	for _, x := range s.agreed(j) {
		all[x.Stage].Extras += MicroOf(x.Hours)
	}
	return all
}

// HoursOf gives the hours of one stage.
func (s *State) HoursOf(jobID string, st Stage) StageHours {
	return s.hoursOf(s.jobs[s.jobAt[jobID]])[st]
}

// NewHours asks to log hours.
type NewHours struct {
	Job    string
	People []string
	Hours  *float64
	Work   string // a stage or a task number; empty means the stage the job is in
	Day    string // empty means today
}

// DecideHours decides the logging of hours. now is in the shop's time zone.
func (s *State) DecideHours(by string, now time.Time, r NewHours) (Decision, error) {
	if err := s.may(by, taskLogHours); err != nil {
		return Decision{}, err
	}
	if len(r.People) == 0 {
		r.People = []string{by}
	}
	return s.decideHours(now, r)
}

func (s *State) decideHours(now time.Time, r NewHours) (Decision, error) {
	if err := missing(need{"job", r.Job != ""}, need{"hours", r.Hours != nil}); err != nil {
		return Decision{}, err
	}
	j, err := s.job(r.Job)
	if err != nil {
		return Decision{}, err
	}
	e := HoursLogged{Job: r.Job, People: slices.Clone(r.People)}
	for k, p := range e.People {
		if _, err := s.person(p); err != nil {
			return Decision{}, err
		}
		if slices.Contains(e.People[:k], p) {
			return Decision{}, outOfRange("people", p+" twice", "each person once")
		}
	}
	if !(*r.Hours > 0 && *r.Hours <= maxHours && MicroOf(*r.Hours) > 0) {
		return Decision{}, outOfRange("hours", number(*r.Hours), "more than 0, up to "+number(maxHours))
	}
	e.Hours = MicroOf(*r.Hours)
	if r.Day == "" {
		r.Day = now.Format(dayLayout)
	}
	if e.Day, err = checkDay(r.Day, now); err != nil {
		return Decision{}, err
	}
	for _, p := range e.People {
		if had := s.days[dayKey{s.personAt[p], e.Day}]; had+e.Hours > MicroOf(maxDayHours) {
			return Decision{}, outOfRange("hours", number(*r.Hours),
				fmt.Sprintf("up to %s (%s has %s on %s)", MicroOf(maxDayHours)-had, p, had, e.Day))
		}
	}
	if r.Work == "" {
		r.Work = s.stageInHand(j, e.People[0])
	}
	if e.Stage, e.Task, err = s.workOn(j, r.Work); err != nil {
		return Decision{}, err
	}
	return Decision{Event: e}, nil
}

// stageInHand is the stage of the tasks that a person has in hand on a job; empty
// when there is none, or they are of several.
func (s *State) stageInHand(j *job, person string) string {
	stage := Stage(0)
	for _, i := range j.tasks {
		t := s.taskOf(i)
		if t.State != Doing || t.Who != person {
			continue
		}
		if stage != 0 && stage != t.Stage {
			return ""
		}
		stage = t.Stage
	}
	return stage.String()
}

// workOn reads a stage or a task number of a job.
func (s *State) workOn(j *job, work string) (Stage, int, error) {
	if work == "" {
		st := s.stageNow(j)
		return st, 0, missing(need{"work", st != 0})
	}
	if st, ok := ParseStage(work); ok {
		return st, 0, nil
	}
	if n, err := strconv.Atoi(work); err == nil {
		if t, ok := s.task(j, n); ok {
			return t.Stage, n, nil
		}
	}
	accepted := Stages()
	for _, t := range s.tasksOf(j) {
		accepted = append(accepted, strconv.Itoa(t.Number))
	}
	return 0, 0, refuse(UnknownName, "field", "work", "value", work, "accepted", joined(accepted))
}

func (s *State) task(j *job, number int) (TaskAdded, bool) {
	for _, t := range s.tasksOf(j) {
		if t.Number == number {
			return t, true
		}
	}
	return TaskAdded{}, false
}

func (s *State) tasksOf(j *job) []TaskAdded {
	ts := make([]TaskAdded, 0, len(j.tasks))
	for _, i := range j.tasks {
		if t, ok := s.details[i].(TaskAdded); ok {
			ts = append(ts, t)
		}
	}
	return ts
}

// TaskName gives a task's number and title, empty for no task.
func (s *State) TaskName(jobID string, number int) string {
	t, ok := s.task(s.jobs[s.jobAt[jobID]], number)
	if !ok {
		return ""
	}
	return strconv.Itoa(t.Number) + " " + t.Title
}

// HoursReport is what was logged and estimated.
type HoursReport struct {
	Stages           []StageHours // those with hours, logged or agreed
	Logged, Agreed   Micro
	Extras, Imported Micro  // of Agreed, those of agreed extras; of Logged, what came with the import
	ToCome           Micro  // of Agreed: see Remaining
	Work             string // for a task its number and title
}

// ReportHours adds hours up, of a job or all, a stage or task or all, a person or
// all. What one person did has no agreed hours, and no imported ones; what is agreed
// of a task is its estimate.
func (s *State) ReportHours(jobID, work, person string) (HoursReport, error) {
	jobs := s.jobs[1:]
	r := HoursReport{Work: work}
	var only workID
	if jobID != "" {
		j, err := s.job(jobID)
		if err != nil {
			return r, err
		}
		jobs = []*job{j}
	}
	if work != "" {
		st, ok := ParseStage(work)
		only = workOf(st, 0)
		if !ok {
			if err := missing(need{"job", jobID != ""}); err != nil {
				return r, err
			}
			st, n, err := s.workOn(jobs[0], work)
			if err != nil {
				return r, err
			}
			only, r.Work = workOf(st, n), s.TaskName(jobID, n)
		}
	}
	var who uint16
	if person != "" {
		var err error
		if who, err = s.person(person); err != nil {
			return r, err
		}
	}
	sums := [stages]StageHours{}
	for _, j := range jobs {
		if j.gone {
			continue
		}
		for st, h := range s.hoursOf(j) {
			if person != "" || only.task() > 0 || (only != 0 && only != workID(st)) {
				continue
			}
			sums[st].Logged += h.Logged
			sums[st].Estimate += h.Estimate
			sums[st].Extras += h.Extras
			r.Imported += j.JobCreated.Logged[st]
		}
	}
	if person != "" || only.task() > 0 {
		s.addWorked(&sums, jobID, only, who)
	}
	if only.task() > 0 && person == "" {
		t, _ := s.task(jobs[0], only.task())
		sums[t.Stage].Estimate = MicroOf(t.Likely)
	}
	if person == "" {
		r.ToCome = s.toCome(jobs, only)
	}
	for st, h := range sums {
		h.Stage = Stage(st)
		r.Logged += h.Logged
		r.Agreed += h.Agreed()
		r.Extras += h.Extras
		if h.Logged != 0 || h.Agreed() != 0 {
			r.Stages = append(r.Stages, h)
		}
	}
	return r, nil
}

// toCome adds up what is to come of the agreed hours of some jobs: of a stage or a
// task, or all.
func (s *State) toCome(jobs []*job, only workID) (sum Micro) {
	for _, j := range jobs {
		if j.gone {
			continue
		}
		left := s.remainingOf(j)
		for st, r := range left {
			if only == 0 || only == workID(st) {
				sum += r.ToCome
			}
		}
		for _, i := range j.tasks {
			if t := s.taskOf(i); only.task() > 0 && t.Number == only.task() {
				sum += left[t.Stage].of(t)
			}
		}
	}
	return sum
}

// addWorked adds the hours of one person, or of one task. Hours of a task count
// to its stage too.
func (s *State) addWorked(sums *[stages]StageHours, jobID string, only workID, who uint16) {
	for k, h := range s.worked {
		switch {
		case jobID != "" && s.jobAt[jobID] != k.job:
		case who != 0 && who != k.person:
		case only.task() > 0 && k.work != only:
		case only != 0 && only.task() == 0 && k.stage != Stage(only):
		default:
			sums[k.stage].Logged += h
		}
	}
}
