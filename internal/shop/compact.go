package shop

import "fmt"

// compact gives what of an event a rec holds, and the event itself when it says
// more than that.
func (s *State) compact(e Event) (r rec, detail Event, err error) {
	if r.kind = kindOf(e); r.kind == 0 {
		return r, nil, fmt.Errorf("%T is no record", e)
	}
	var jobID string
	detail = e
	switch e := e.(type) {
	case StockMoved:
		jobID, r.value = e.Job, int64(e.Amount)
		at, ok := s.materialAt[e.Material]
		if !ok {
			return r, nil, fmt.Errorf("no material %q", e.Material)
		}
		r.ref = at
		if e.Batch == "" && e.Expires == 0 && e.Why == "" {
			detail = nil
		}
	case HoursLogged:
		jobID = e.Job
		if e.Task > maxIndex || e.Stage >= stages {
			return r, nil, fmt.Errorf("no task %d, no stage %d", e.Task, e.Stage)
		}
		r.value, r.day, r.work = int64(e.Hours), e.Day, workOf(e.Stage, e.Task)
		if r.ref, err = s.crewOf(e.People); err != nil {
			return r, nil, err
		}
		if e.Task == 0 && r.ref > 0 {
			detail = nil
		}
	case FindRecorded:
		jobID = e.Job
	case FindClosed:
		jobID = e.Job
	case TorqueSet:
		jobID = e.Job
	case TorqueRecorded:
		jobID = e.Job
	case GapSet:
		jobID = e.Job
	case GapRecorded:
		jobID = e.Job
	case NoteAdded:
		jobID = e.Job
	case TaskAdded:
		jobID = e.Job
	case PartOrdered:
		jobID = e.Job
	case CoatRecorded:
		jobID = e.Job
	case ExtraProposed:
		jobID = e.Job
	case SnagAdded:
		jobID = e.Job
	case TaskStarted:
		jobID = e.Job
	case TaskFinished:
		jobID = e.Job
	case PartArrived:
		jobID = e.Job
	case PartFitted:
		jobID = e.Job
	case PartReturned:
		jobID = e.Job
	case PartDueChanged:
		jobID = e.Job
	case BriefAdded:
		jobID = e.Job
	case BriefMet:
		jobID = e.Job
	case SnagClosed:
		jobID = e.Job
	case ExtraDecided:
		jobID = e.Job
	case ReminderSet:
		jobID = e.Job
	}
	at, ok := s.jobAt[jobID]
	if !ok && jobID != "" {
		return r, nil, fmt.Errorf("no job %q", jobID)
	}
	r.job = at
	return r, detail, nil
}

// kindOf gives the kind of record that an event makes, 0 for none.
func kindOf(e Event) recKind {
	switch e := e.(type) {
	case StockMoved:
		if k := recKind(e.Kind); k.isMove() {
			return k
		}
	case HoursLogged:
		return recHours
	case JobCreated:
		return recJob
	case MaterialAdded:
		return recMaterial
	case FindRecorded:
		return recFind
	case FindClosed:
		return recClosing
	case TorqueSet:
		return recTorqueSet
	case TorqueRecorded:
		return recTorque
	case GapSet:
		return recGapSet
	case GapRecorded:
		return recGap
	case NoteAdded:
		return recNote
	case TaskAdded:
		return recTask
	case PartOrdered:
		return recPart
	case CoatRecorded:
		return recCoat
	case ExtraProposed:
		return recExtra
	case SnagAdded:
		return recSnag
	case TaskStarted:
		return recTaskStart
	case TaskFinished:
		return recTaskEnd
	case PartArrived:
		return recArrival
	case PartFitted:
		return recFitting
	case PartReturned:
		return recReturn
	case PartDueChanged:
		return recDueChange
	case BriefAdded:
		return recBrief
	case BriefMet:
		return recBriefMet
	case SnagClosed:
		return recSnagClosing
	case ExtraDecided:
		return recDecision
	case ReminderSet:
		return recReminder
	}
	return 0
}

// crewOf gives the index of a set of people; 0 when there is no more room for
// sets, and the event must be kept whole.
func (s *State) crewOf(people []string) (uint16, error) {
	key := make([]byte, 0, 16)
	for _, p := range people {
		at, ok := s.personAt[p]
		if !ok {
			return 0, fmt.Errorf("no person %q", p)
		}
		key = append(key, byte(at), byte(at>>8))
	}
	if at, ok := s.crewAt[string(key)]; ok {
		return at, nil
	}
	if len(s.crews) > maxIndex {
		return 0, nil
	}
	at := uint16(len(s.crews))
	s.crews = append(s.crews, string(key))
	s.crewAt[string(key)] = at
	return at, nil
}

// crewIndices calls fn with each person of a record of hours.
func (s *State) crewIndices(i uint32, fn func(person uint16)) {
	if ref := s.recs[i].ref; ref > 0 {
		for key := s.crews[ref]; len(key) > 0; key = key[2:] {
			fn(uint16(key[0]) | uint16(key[1])<<8)
		}
		return
	}
	e, _ := s.details[i].(HoursLogged) // kept whole for want of a set
	for _, p := range e.People {
		fn(s.personAt[p])
	}
}

func (s *State) crew(ref uint16) []string {
	var ids []string
	for key := s.crews[ref]; len(key) > 0; key = key[2:] {
		ids = append(ids, s.people[uint16(key[0])|uint16(key[1])<<8].ID)
	}
	return ids
}

func (s *State) stageOf(r rec) Stage {
	if r.work < stages {
		return Stage(r.work)
	}
	return 0 // a task's hours are kept whole
}
