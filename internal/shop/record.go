package shop

import "slices"

// Record is a record as it says now, standing or not.
type Record struct {
	Said
	Event  Event
	Undone bool
	index  uint32
}

// Record finds the record that an entry made, amended or undid.
func (s *State) Record(entry uint64) (Record, bool) {
	i, ok := s.find(entry)
	if !ok {
		return Record{}, false
	}
	return Record{s.said(i), s.event(i), s.recs[i].flags&undone != 0, i}, true
}

// FindNumber gives the standing find of a number.
func (s *State) FindNumber(n int) (Find, bool) {
	i, ok := s.findAt[n]
	if !ok {
		return Find{}, false
	}
	return s.findOf(i), true
}

// Expected is what the ledger expected of a record's material before it.
func (s *State) Expected(r Record) Micro {
	return s.materials[s.recs[r.index].ref].before(s.recs, r.index).Now()
}

// BookValue is the one book value a fastener's name stands for on a job; nil when
// there is none, or more than one.
func (s *State) BookValue(job, fastener string) *TorqueReference {
	return s.bookValue(s.jobAt[job], fastener)
}

// Target is the target gap in force for one edge; nil for none.
func (s *State) Target(w Where) *GapReference { return s.gapTarget(w) }

// ReplacedTorque is the book value that a record replaced: the one before it. For
// one taken back it is the value in force instead.
func (s *State) ReplacedTorque(r Record) *TorqueReference {
	e, _ := r.Event.(TorqueSet)
	i, ok := replaced(s.torques[torqueKey{s.jobAt[e.Job], normalFastener(e.Fastener)}], r)
	if !ok {
		return nil
	}
	ref := s.torqueOf(i)
	return &ref
}

// ReplacedTarget is the target gap that a record replaced; see ReplacedTorque.
func (s *State) ReplacedTarget(r Record) *GapReference {
	e, _ := r.Event.(GapSet)
	i, ok := replaced(s.gaps[gapKey{s.jobAt[e.Job], e.Panel, e.Side, e.Edge}], r)
	if !ok {
		return nil
	}
	ref := s.gapOf(i)
	return &ref
}

func replaced(standing []uint32, r Record) (uint32, bool) {
	if !r.Undone {
		at, _ := slices.BinarySearch(standing, r.index)
		standing = standing[:at]
	}
	if len(standing) == 0 {
		return 0, false
	}
	return standing[len(standing)-1], true
}
