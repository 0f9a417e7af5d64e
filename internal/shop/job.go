package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// JobLine is one job of the list.
type JobLine struct {
	JobCreated
	LoggedAll, AgreedAll Micro
	ExtrasAll            Micro // of the hours agreed
	OpenFinds            int
}

// stageNow is the stage that a job is in: that of the task begun last, or, when no
// start is on record, done last; with neither, the one it came in with.
func (s *State) stageNow(j *job) Stage {
	for _, list := range [][]uint32{j.begun, j.ended} {
		for _, i := range slices.Backward(list) {
			t, _, _ := thingOf(s.recs[i], s.details[i])
			if e, ok := s.details[s.things[t]].(TaskAdded); ok && e.Number == t.number && e.Stage != 0 {
				return e.Stage
			}
		}
	}
	return j.Stage
}

// now is a job with the stage it is in.
func (s *State) now(j *job) JobCreated {
	e := j.JobCreated
	e.Stage = s.stageNow(j)
	return e
}

// Jobs gives the jobs in the order they came in, with the stages they are in.
func (s *State) Jobs() []JobLine {
	open := map[string]int{}
	for _, i := range s.finds {
		if f := s.findOf(i); !f.Repaired {
			open[f.Job]++
		}
	}
	var lines []JobLine
	for _, j := range s.jobs[1:] {
		if j.gone {
			continue
		}
		l := JobLine{JobCreated: s.now(j), OpenFinds: open[j.ID]}
		for _, h := range s.hoursOf(j) {
			l.LoggedAll += h.Logged
			l.AgreedAll += h.Agreed()
			l.ExtrasAll += h.Extras
		}
		lines = append(lines, l)
	}
	return lines
}

// Status is where a job is.
type Status struct {
	JobCreated
	Hours                      []StageHours // those with hours, logged or agreed
	Open                       []Find
	Doing, Late, Extras, Snags []string
	Doors                      []DoorGeometrySet
	Counts                     struct{ TasksDone, Tasks, Parts, Coats int }
}

// Status tells where a job is. now is in the shop's time zone.
func (s *State) Status(jobID string, now time.Time) (Status, error) {
	j, err := s.job(jobID)
	if err != nil {
		return Status{}, err
	}
	st := Status{JobCreated: s.now(j)}
	for _, h := range s.hoursOf(j) {
		if h.Logged != 0 || h.Agreed() != 0 {
			st.Hours = append(st.Hours, h)
		}
	}
	if st.Open, err = s.Finds(FindFilter{Job: jobID, Open: true}); err != nil {
		return Status{}, err
	}
	for _, i := range j.recs {
		switch e := s.details[i].(type) {
		case TaskAdded:
			st.Counts.Tasks++
			switch t := s.taskOf(i); t.State {
			case Done:
				st.Counts.TasksDone++
			case Doing:
				st.Doing = append(st.Doing, t.Title+comma(s.nameOf(t.Who)))
			}
		case PartOrdered:
			st.Counts.Parts++
			if p := s.partOf(i, now); p.State == Late {
				st.Late = append(st.Late, fmt.Sprintf("%s, due %s", placeName(e.Part, e.Side, 0), p.Due))
			}
		case ExtraProposed:
			if s.extraOf(i).State == Proposed {
				st.Extras = append(st.Extras, fmt.Sprintf("extra %d: %s, %s hours", e.Number, e.Text, number(e.Hours)))
			}
		case SnagAdded:
			if !s.snagOf(i).Closed {
				st.Snags = append(st.Snags, fmt.Sprintf("snag %d: %s", e.Number, e.Text))
			}
		case CoatRecorded:
			st.Counts.Coats++
		}
	}
	st.Doors = s.doorsOf(jobID)
	return st, nil
}

// doorsOf gives the sizes of a job's hung panels: the last ones kept.
func (s *State) doorsOf(jobID string) []DoorGeometrySet {
	var last []DoorGeometrySet
	for _, d := range s.doors {
		if d.Job != jobID {
			continue
		}
		last = append(slices.DeleteFunc(last, func(had DoorGeometrySet) bool { return had.Panel == d.Panel && had.Side == d.Side }), d)
	}
	return last
}

// nameOf gives a person's name, or the id when the shop does not know it.
func (s *State) nameOf(id string) string {
	if at, ok := s.personAt[id]; ok {
		return s.people[at].Name
	}
	return id
}

// NewJob asks to take a vehicle in.
type NewJob struct {
	ID                                 string
	Year                               *int
	Make, Model, Body, Drive, Customer string
}

// oldestYear is when vehicles begin. Common practice, no source.
const oldestYear = 1880

// DecideJob decides the taking in of a vehicle.
func (s *State) DecideJob(by string, now time.Time, r NewJob) (Decision, error) {
	if err := s.may(by, taskCreateJob); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"model", r.Model != "" || r.ID != ""}); err != nil {
		return Decision{}, err
	}
	id := r.ID
	if id == "" {
		id = Slug(r.Model)
	}
	if id == "" || id != Slug(id) || len(id) > maxID {
		return Decision{}, outOfRange("id", id, idRule)
	}
	e := JobCreated{ID: id, Make: r.Make, Model: r.Model, Body: r.Body, Drive: strings.ToLower(r.Drive), Customer: r.Customer, Stage: Strip}
	if r.Year != nil {
		if *r.Year < oldestYear || *r.Year > now.Year()+1 {
			return Decision{}, outOfRange("year", strconv.Itoa(*r.Year), fmt.Sprintf("%d to %d", oldestYear, now.Year()+1))
		}
		e.Year = *r.Year
	}
	if e.Drive != "" && e.Drive != "rhd" && e.Drive != "lhd" {
		return Decision{}, refuse(UnknownName, "field", "drive", "value", r.Drive, "accepted", "rhd, lhd")
	}
	if _, ok := s.jobAt[id]; ok {
		return Decision{}, refuse(AlreadyExists, "field", "id", "value", id)
	}
	if len(s.jobs) > maxIndex {
		return Decision{}, outOfRange("id", id, "no more jobs than there are")
	}
	return Decision{Event: e}, nil
}

// NewNote asks to keep a note.
type NewNote struct {
	Job, Text, Panel string
	Side             Side
}

// DecideNote decides the keeping of a note.
func (s *State) DecideNote(by string, r NewNote) (Decision, error) {
	if err := s.may(by, taskAddNote); err != nil {
		return Decision{}, err
	}
	return s.decideNote(r)
}

func (s *State) decideNote(r NewNote) (Decision, error) {
	if err := missing(need{"text", strings.TrimSpace(r.Text) != ""}); err != nil {
		return Decision{}, err
	}
	if r.Job != "" {
		if _, err := s.job(r.Job); err != nil {
			return Decision{}, err
		}
	}
	if r.Panel != "" {
		if err := place(r.Panel, r.Side, false); err != nil {
			return Decision{}, err
		}
	}
	return Decision{Event: NoteAdded(r)}, nil
}
