package shop

import (
	"cmp"
	"math"
	"slices"
	"time"

	"bayword/internal/calc/fastener"
)

// TakenIn tells who took a vehicle in.
func (s *State) TakenIn(jobID string) (Said, error) {
	j, err := s.job(jobID)
	if err != nil {
		return Said{}, err
	}
	return s.said(j.rec), nil
}

// Closings tells who said that a find is repaired, oldest first.
func (s *State) Closings(number int) []Said {
	var all []Said
	for _, i := range s.closings[number] {
		all = append(all, s.said(i))
	}
	return all
}

// GapSpan is what was measured along one edge: first and, when there was more than
// one reading, last.
type GapSpan struct {
	First  GapReading
	Last   *GapReading
	Target *GapReference
}

// GapSpans gives the edges of a job that were measured, by panel, side, end and
// edge.
func (s *State) GapSpans(jobID string) ([]GapSpan, error) {
	j, err := s.job(jobID)
	if err != nil {
		return nil, err
	}
	var spans []GapSpan
	at := map[Where]int{}
	for _, i := range j.recs {
		e, ok := s.details[i].(GapRecorded)
		if !ok {
			continue
		}
		w := Where{e.Job, e.Panel, e.Side, e.End, e.Edge}
		reading := GapReading{e, s.said(i)}
		if k, seen := at[w]; seen {
			spans[k].Last = &reading
			continue
		}
		at[w] = len(spans)
		spans = append(spans, GapSpan{First: reading, Target: s.gapTarget(w)})
	}
	slices.SortStableFunc(spans, func(a, b GapSpan) int {
		return cmp.Or(cmp.Compare(a.First.Panel, b.First.Panel), cmp.Compare(a.First.Side, b.First.Side),
			cmp.Compare(a.First.End, b.First.End), cmp.Compare(a.First.Edge, b.First.Edge))
	})
	return spans, nil
}

// slack keeps a reading at its very limit inside it, whatever its last binary digit.
const slack = 1e-9

// Within tells whether every reading keeps to its target.
func (g GapReading) Within(t GapReference) bool {
	return !slices.ContainsFunc(g.Gaps, func(v float64) bool { return t.Tolerance > 0 && math.Abs(v-t.Target) > t.Tolerance+slack }) &&
		!slices.ContainsFunc(g.Flush, func(v float64) bool { return t.FlushTolerance > 0 && math.Abs(v) > t.FlushTolerance+slack })
}

// SignOffs gives the torque sign-offs of a job, oldest first.
func (s *State) SignOffs(jobID string) ([]SignOff, error) {
	j, err := s.job(jobID)
	if err != nil {
		return nil, err
	}
	var all []SignOff
	for _, i := range j.recs {
		if e, ok := s.details[i].(TorqueRecorded); ok {
			all = append(all, SignOff{e, s.said(i)})
		}
	}
	return all, nil
}

// BookValues gives the book values in force on a job, by name.
func (s *State) BookValues(jobID string) []TorqueReference {
	var all []TorqueReference
	for k, list := range s.torques {
		if k.job == s.jobAt[jobID] {
			all = append(all, s.torqueOf(list[len(list)-1]))
		}
	}
	slices.SortFunc(all, func(a, b TorqueReference) int { return cmp.Compare(a.Fastener, b.Fastener) })
	return all
}

// Lives tells whether lives hang on a book value's fastener: the book says so, or
// its name does.
func (r TorqueReference) Lives() bool { return r.Critical || fastener.Critical(r.Fastener) }

// Off is how far a sign-off lies from its book value, as a share of it, and
// whether that is more than what goes without a warning.
func (o SignOff) Off(book TorqueReference) (share float64, far bool) {
	share = o.Torque/book.Torque - 1
	return share, math.Abs(share) > bookTolerance+slack
}

// Coats gives the coats on a job in the order they were finished.
func (s *State) Coats(jobID string) ([]Coat, error) {
	j, err := s.job(jobID)
	if err != nil {
		return nil, err
	}
	var all []Coat
	for _, i := range j.recs {
		if e, ok := s.details[i].(CoatRecorded); ok {
			all = append(all, Coat{e, s.said(i)})
		}
	}
	slices.SortStableFunc(all, func(a, b Coat) int { return a.At().Compare(b.At()) })
	return all, nil
}

// NamedBatch is a delivery that named its batch.
type NamedBatch struct {
	Batch string
	Entry uint64
}

// mostNamed bounds how many batches are named for one coat: the newest.
const mostNamed = 6

// BatchesBy gives the batches that deliveries of a material had named by a moment,
// newest first. Which of them was open then nobody said.
func (s *State) BatchesBy(id string, by time.Time) []NamedBatch {
	m, err := s.material(id)
	if err != nil {
		return nil // the material was taken back
	}
	var out []NamedBatch
	for _, k := range slices.Backward(m.moves) {
		e, ok := s.details[k].(StockMoved)
		if !ok || e.Kind != Delivery || e.Batch == "" || s.said(k).At.After(by) {
			continue
		}
		if out = append(out, NamedBatch{e.Batch, uint64(s.recs[k].seq)}); len(out) == mostNamed {
			break
		}
	}
	return out
}

// HoursRecord are the hours of one stage with the entries they come from.
type HoursRecord struct {
	Stage            Stage
	Logged, Imported Micro // Logged here, without what was imported
	Agreed, Extras   Micro // Extras are part of Agreed
	Entries          []uint64
}

// HoursRecords gives the stages of a job that have hours, logged or agreed, in the
// order of the work. The job's own entry stands for its estimate and what was
// brought in with it.
func (s *State) HoursRecords(jobID string) ([]HoursRecord, error) {
	j, err := s.job(jobID)
	if err != nil {
		return nil, err
	}
	var all [stages]HoursRecord
	for st, sum := range s.hoursOf(j) {
		h := HoursRecord{Stage: Stage(st), Logged: j.logged[st], Imported: j.JobCreated.Logged[st], Agreed: sum.Agreed(), Extras: sum.Extras}
		if h.Imported != 0 || sum.Estimate != 0 {
			h.Entries = append(h.Entries, s.said(j.rec).Entry)
		}
		all[st] = h
	}
	for _, x := range s.agreed(j) {
		if x.Hours != 0 {
			all[x.Stage].Entries = append(all[x.Stage].Entries, x.Entries...)
		}
	}
	for _, i := range j.bulk {
		if e, ok := s.event(i).(HoursLogged); ok {
			all[e.Stage].Entries = append(all[e.Stage].Entries, uint64(s.recs[i].seq))
		}
	}
	return slices.DeleteFunc(all[:], func(h HoursRecord) bool { return len(h.Entries) == 0 }), nil
}

// Rest gives what is on record of a job and in none of what the handover lists by
// kind, oldest first: notes, uses of material, readings between the first and the
// last, references somebody set, reminders.
func (s *State) Rest(jobID string) ([]Line, error) {
	spans, err := s.GapSpans(jobID)
	if err != nil {
		return nil, err
	}
	shown := map[uint64]bool{}
	for _, g := range spans {
		shown[g.First.Entry] = true
		if g.Last != nil {
			shown[g.Last.Entry] = true
		}
	}
	var all []Line
	for _, i := range s.allOf(jobID) {
		r := s.recs[i]
		switch r.kind {
		case recGap:
			if shown[uint64(r.seq)] {
				continue
			}
		case recTorqueSet, recGapSet:
			if r.by == 0 {
				continue // it is beside what it is the reference of
			}
		case recNote, recUse, recReminder:
		default:
			continue
		}
		all = append(all, s.historyLine(i))
	}
	return all, nil
}

// OtherPhotos gives the photographs that came with records of a job other than its
// finds and their closings, oldest first.
func (s *State) OtherPhotos(jobID string) []Photo {
	var all []Photo
	for _, i := range s.allOf(jobID) {
		if k := s.recs[i].kind; k != recFind && k != recClosing {
			all = append(all, s.photos[i]...)
		}
	}
	return all
}

// allOf gives the standing records of a job, by index.
func (s *State) allOf(jobID string) []uint32 {
	at, ok := s.jobAt[jobID]
	if !ok {
		return nil
	}
	j := s.jobs[at]
	all := slices.Concat([]uint32{j.rec}, j.recs, j.bulk)
	slices.Sort(all)
	return all
}

// Used gives the entries of the uses and coats on a job of materials whose id or
// name has one of the words, oldest first.
func (s *State) Used(jobID string, words ...string) []uint64 {
	var entries []uint64
	for _, i := range s.allOf(jobID) {
		r := s.recs[i]
		of := s.materials[r.ref]
		if e, ok := s.details[i].(CoatRecorded); ok {
			of = s.materials[s.materialAt[e.Material]]
		}
		if (r.kind == recUse || r.kind == recCoat) && called(of.MaterialAdded, words...) {
			entries = append(entries, uint64(r.seq))
		}
	}
	return entries
}

// Structural tells whether a find is on a part that carries load.
func (f Find) Structural() bool { return panels[f.Panel].structural }
