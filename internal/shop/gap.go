package shop

import (
	"slices"
)

// GapReference is a target gap and who set it.
type GapReference struct {
	GapSet
	Said
}

// GapReading is a reading and who took it.
type GapReading struct {
	GapRecorded
	Said
}

// Where is a panel's edge on a job; zero values mean any.
type Where struct {
	Job, Panel string
	Side       Side
	End        End
	Edge       Edge
}

// LookUpGap finds the targets in force at a place, nearest first: this job
// before the whole shop, this side before both, this edge before all round. With
// no edge asked it gives every target the job has for the panel. Readings are
// those that fit, newest first.
func (s *State) LookUpGap(w Where) ([]GapReference, []GapReading, error) {
	if err := missing(need{"job", w.Job != ""}, need{"panel", w.Panel != ""}); err != nil {
		return nil, nil, err
	}
	j, err := s.job(w.Job)
	if err != nil {
		return nil, nil, err
	}
	if err := place(w.Panel, w.Side, false); err != nil {
		return nil, nil, err
	}
	var refs []GapReference
	if w.Edge != 0 {
		if r := s.gapTarget(w); r != nil {
			refs = append(refs, *r)
		}
	} else {
		for e := FrontEdge; e <= BottomEdge; e++ {
			w := w
			w.Edge = e
			if r := s.gapTarget(w); r != nil && r.Edge != 0 {
				refs = append(refs, *r)
			}
		}
		if r := s.gapTarget(w); r != nil && (len(refs) == 0 || r.Job != "") {
			refs = append(refs, *r)
		}
	}
	const maxShown = 8
	var readings []GapReading
	for _, i := range slices.Backward(j.recs) {
		e, ok := s.details[i].(GapRecorded)
		if !ok || e.Panel != w.Panel || !sameSide(w.Side, e.Side) ||
			(w.End != 0 && e.End != 0 && w.End != e.End) || (w.Edge != 0 && w.Edge != e.Edge) {
			continue
		}
		if readings = append(readings, GapReading{e, s.said(i)}); len(readings) == maxShown {
			break
		}
	}
	return refs, readings, nil
}

// gapTarget is the target in force for one edge, or for the panel all round when
// no edge is given; nil for none.
func (s *State) gapTarget(w Where) *GapReference {
	job := s.jobAt[w.Job]
	for _, k := range []gapKey{
		{job, w.Panel, w.Side, w.Edge}, {job, w.Panel, 0, w.Edge},
		{job, w.Panel, w.Side, 0}, {job, w.Panel, 0, 0},
		{0, w.Panel, w.Side, w.Edge}, {0, w.Panel, 0, w.Edge},
		{0, w.Panel, 0, 0},
	} {
		if list := s.gaps[k]; len(list) > 0 {
			r := s.gapOf(list[len(list)-1])
			return &r
		}
	}
	return nil
}

func (s *State) gapOf(i uint32) GapReference {
	e, _ := s.details[i].(GapSet)
	return GapReference{e, s.said(i)}
}

// NewGap asks to record readings along one edge.
type NewGap struct {
	Where
	Gaps, Flush []float64
}

// DecideGap decides the recording of readings.
func (s *State) DecideGap(by string, r NewGap) (Decision, error) {
	if err := s.may(by, taskRecordGap); err != nil {
		return Decision{}, err
	}
	return s.decideGap(r)
}

func (s *State) decideGap(r NewGap) (Decision, error) {
	err := missing(need{"job", r.Job != ""}, need{"panel", r.Panel != ""}, need{"side", r.Side != 0 || !Sided(r.Panel)},
		need{"edge", r.Edge != 0 || !edgeNeeded(r.Panel, r.Side)}, need{"gap_mm", len(r.Gaps)+len(r.Flush) > 0})
	if err != nil {
		return Decision{}, err
	}
	if _, err := s.job(r.Job); err != nil {
		return Decision{}, err
	}
	if err := place(r.Panel, r.Side, true); err != nil {
		return Decision{}, err
	}
	if r.Edge > BottomEdge || r.End > RearEnd {
		return Decision{}, outOfRange("edge", number(float64(r.Edge)), "front, rear, top, bottom")
	}
	for _, readings := range []struct {
		span
		values []float64
	}{{gapSpan, r.Gaps}, {flushSpan, r.Flush}} {
		if len(readings.values) > maxReadings {
			return Decision{}, outOfRange(readings.field, number(float64(len(readings.values)))+" readings", number(maxReadings)+" at most")
		}
		for _, v := range readings.values {
			if err := readings.check(v); err != nil {
				return Decision{}, err
			}
		}
	}
	return Decision{Event: GapRecorded{r.Job, r.Panel, r.Side, r.End, r.Edge, slices.Clone(r.Gaps), slices.Clone(r.Flush)}}, nil
}

// NewTarget asks to set a target gap.
type NewTarget struct {
	Job, Panel        string
	Side              Side
	Edge              Edge
	Target, Tolerance *float64
	Source            string
}

// firstTolerance is taken when nobody ever set one. Common practice, no source.
const firstTolerance = 1.0

// DecideTarget decides the setting of a target gap.
func (s *State) DecideTarget(by string, r NewTarget) (Decision, error) {
	if err := s.may(by, taskSetGap); err != nil {
		return Decision{}, err
	}
	return s.decideTarget(r)
}

func (s *State) decideTarget(r NewTarget) (Decision, error) {
	if err := missing(need{"panel", r.Panel != ""}, need{"target_mm", r.Target != nil}); err != nil {
		return Decision{}, err
	}
	if r.Job != "" {
		if _, err := s.job(r.Job); err != nil {
			return Decision{}, err
		}
	}
	if err := place(r.Panel, r.Side, false); err != nil {
		return Decision{}, err
	}
	if r.Edge > BottomEdge {
		return Decision{}, outOfRange("edge", number(float64(r.Edge)), "front, rear, top, bottom")
	}
	if err := targetSpan.check(*r.Target); err != nil {
		return Decision{}, err
	}
	if err := toleranceSpan.checkIf(r.Tolerance); err != nil {
		return Decision{}, err
	}
	e := GapSet{Job: r.Job, Panel: r.Panel, Side: r.Side, Edge: r.Edge, Target: *r.Target, Tolerance: firstTolerance, Source: r.Source}
	d := Decision{}
	old := s.gapTarget(Where{Job: r.Job, Panel: r.Panel, Side: r.Side, Edge: r.Edge})
	switch {
	case r.Tolerance != nil:
		e.Tolerance = *r.Tolerance
	case old != nil:
		e.Tolerance = old.Tolerance
	default:
		d.Warnings = append(d.Warnings, "No tolerance was given: ±"+number(firstTolerance)+" mm is assumed.")
	}
	if old != nil {
		e.FlushTolerance = old.FlushTolerance
	}
	d.Event = e
	return d, nil
}
