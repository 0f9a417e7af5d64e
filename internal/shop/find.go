package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Find is a find as it stands.
type Find struct {
	FindRecorded
	Said
}

// findOf gives the find of a record, standing or not.
func (s *State) findOf(i uint32) Find {
	e, _ := s.details[i].(FindRecorded)
	e.Repaired = e.Repaired || len(s.closings[e.Number]) > 0
	return Find{e, s.said(i)}
}

// FindFilter says which finds are meant; zero values mean any.
type FindFilter struct {
	Job, Panel     string
	Side           Side
	End            End  // finds that say no end are kept
	Open, Repaired bool // only those
}

// Finds gives the finds that fit, by number.
func (s *State) Finds(f FindFilter) ([]Find, error) {
	if f.Job != "" {
		if _, err := s.job(f.Job); err != nil {
			return nil, err
		}
	}
	if f.Panel != "" {
		if err := place(f.Panel, f.Side, false); err != nil {
			return nil, err
		}
	}
	var found []Find
	for _, i := range s.finds {
		e := s.findOf(i)
		if (f.Job == "" || e.Job == f.Job) && (f.Panel == "" || e.Panel == f.Panel) && sameSide(f.Side, e.Side) && (f.End == 0 || e.End == 0 || e.End == f.End) &&
			!(f.Open && e.FindRecorded.Repaired) && !(f.Repaired && !e.FindRecorded.Repaired) {
			found = append(found, e)
		}
	}
	slices.SortStableFunc(found, func(a, b Find) int { return a.Number - b.Number })
	return found, nil
}

// NewFind asks to record a find.
type NewFind struct {
	Job, Panel                     string
	Side                           Side
	End                            End
	Kind                           FindKind
	Width, Height, Diameter, Depth *float64
	Count                          *int
	Note                           string
}

// DecideFind decides the recording of a find.
func (s *State) DecideFind(by string, r NewFind) (Decision, error) {
	if err := s.may(by, taskRecordFind); err != nil {
		return Decision{}, err
	}
	return s.decideFind(r, s.last[recFind]+1)
}

func (s *State) decideFind(r NewFind, number int) (Decision, error) {
	err := missing(need{"job", r.Job != ""}, need{"panel", r.Panel != ""},
		need{"side", r.Side != 0 || !Sided(r.Panel)}, need{"kind", r.Kind != 0})
	if err != nil {
		return Decision{}, err
	}
	if _, err := s.job(r.Job); err != nil {
		return Decision{}, err
	}
	if err := place(r.Panel, r.Side, true); err != nil {
		return Decision{}, err
	}
	if r.Kind > PaintFault || r.End > RearEnd {
		return Decision{}, outOfRange("kind", strconv.Itoa(int(r.Kind)), joined(FindKinds()))
	}
	for _, size := range []struct {
		v *float64
		span
	}{{r.Width, widthSpan}, {r.Height, heightSpan}, {r.Diameter, diameterSpan}, {r.Depth, depthSpan}} {
		if err := size.checkIf(size.v); err != nil {
			return Decision{}, err
		}
	}
	e := FindRecorded{
		Number: number, Job: r.Job, Panel: r.Panel, Side: r.Side, End: r.End, Kind: r.Kind,
		Width: optional(r.Width), Height: optional(r.Height), Diameter: optional(r.Diameter), Depth: optional(r.Depth),
		Note: r.Note,
	}
	if r.Count != nil {
		if err := countSpan.check(float64(*r.Count)); err != nil {
			return Decision{}, err
		}
		e.Count = *r.Count
	}
	return Decision{Event: e}, nil
}

// Closing asks to mark a find as repaired: by number, or the one open at a place.
type Closing struct {
	Job    string
	Number *int
	Panel  string
	Side   Side
}

// DecideClosing decides which find is meant and whether it can be closed.
func (s *State) DecideClosing(by string, r Closing) (Decision, error) {
	if err := s.may(by, taskCloseFind); err != nil {
		return Decision{}, err
	}
	return s.decideClosing(r)
}

func (s *State) decideClosing(r Closing) (Decision, error) {
	if r.Number != nil {
		return s.closeNumber(r, *r.Number)
	}
	if err := missing(need{"job", r.Job != ""}); err != nil {
		return Decision{}, err
	}
	if r.Panel == "" {
		return s.closeOneOf(r.Job)
	}
	found, err := s.Finds(FindFilter{Job: r.Job, Panel: r.Panel, Side: r.Side})
	if err != nil {
		return Decision{}, err
	}
	open := slices.DeleteFunc(slices.Clone(found), func(f Find) bool { return f.Repaired })
	where := placeName(r.Panel, r.Side, 0)
	switch {
	case len(open) == 1:
		return Decision{Event: FindClosed{open[0].Number, r.Job}}, nil
	case len(open) > 1:
		return Decision{}, ambiguousFind(open)
	case len(found) > 0:
		return Decision{}, refuse(AlreadyDone, "what", "nothing is open at the "+where+" of "+r.Job)
	}
	return Decision{}, refuse(NotFound, "field", "panel", "value", where)
}

// closeOneOf closes the one open find of a job, or asks which.
func (s *State) closeOneOf(job string) (Decision, error) {
	open, err := s.Finds(FindFilter{Job: job, Open: true})
	switch {
	case err != nil:
		return Decision{}, err
	case len(open) == 0:
		return Decision{}, refuse(AlreadyDone, "what", "no find of "+job+" is open")
	case len(open) == 1:
		return Decision{Event: FindClosed{open[0].Number, job}}, nil
	}
	return Decision{}, ambiguousFind(open)
}

func (s *State) closeNumber(r Closing, n int) (Decision, error) {
	i, ok := s.findAt[n]
	if !ok {
		return Decision{}, refuse(NotFound, "field", "find", "value", strconv.Itoa(n))
	}
	f := s.findOf(i)
	if r.Job != "" && r.Job != f.Job {
		if _, err := s.job(r.Job); err != nil {
			return Decision{}, err
		}
		return Decision{}, refuse(NotFound, "field", "find", "value", fmt.Sprintf("%d on %s (it is on %s)", n, r.Job, f.Job))
	}
	if f.Repaired {
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("find %d is repaired", n))
	}
	return Decision{Event: FindClosed{n, f.Job}}, nil
}

// DecideFindReopened takes back that a find was repaired, whoever said it.
func (s *State) DecideFindReopened(by string, n int) (Decision, error) {
	if err := s.may(by, taskCloseFind); err != nil {
		return Decision{}, err
	}
	i, ok := s.findAt[n]
	if !ok {
		return Decision{}, refuse(NotFound, "field", "find", "value", strconv.Itoa(n))
	}
	return s.reopened(fmt.Sprintf("find %d", n), s.findOf(i).Repaired, s.closings[n])
}

// ambiguousFind offers the finds, left before right, then by number.
func ambiguousFind(open []Find) error {
	slices.SortStableFunc(open, func(a, b Find) int {
		if a.Side != b.Side {
			return int(a.Side) - int(b.Side)
		}
		return a.Number - b.Number
	})
	r := refuse(Ambiguous, "field", "find")
	var options []string
	for _, f := range open {
		n := strconv.Itoa(f.Number)
		options = append(options, n)
		r.Metadata["option."+n] = "find " + n + ": " + f.Text()
	}
	r.Metadata["options"] = strings.Join(options, ",")
	return r
}

// Text says the find in one line.
func (e FindRecorded) Text() string {
	parts := []string{strings.ReplaceAll(e.Kind.String(), "_", " "), "in the", placeName(e.Panel, e.Side, e.End)}
	if e.Kind == PaintFault {
		parts[0] = "paint fault"
	}
	if e.Kind == Missing {
		parts = []string{placeName(e.Panel, e.Side, e.End), "missing"}
	}
	if e.Count > 0 {
		parts = append([]string{strconv.Itoa(e.Count) + " ×"}, parts...)
	}
	text := strings.Join(parts, " ")
	switch {
	case e.Width > 0 && e.Height > 0:
		text += ", " + number(e.Width) + " × " + number(e.Height) + " mm"
	case e.Width > 0:
		text += ", " + number(e.Width) + " mm"
	case e.Height > 0:
		text += ", " + number(e.Height) + " mm high"
	}
	if e.Diameter > 0 {
		text += ", " + number(e.Diameter) + " mm across"
	}
	if e.Depth > 0 {
		text += ", " + number(e.Depth) + " mm deep"
	}
	if e.Note != "" {
		text += ", " + e.Note
	}
	return text
}

func placeName(panel string, side Side, end End) string {
	name := panel
	if end != 0 {
		name = end.String() + " " + name
	}
	if side != 0 {
		name = side.String() + " " + name
	}
	return name
}

// OpenFinds counts the finds of a job that are not repaired.
func (s *State) OpenFinds(job string) int {
	n := 0
	for _, i := range s.finds {
		if f := s.findOf(i); f.Job == job && !f.Repaired {
			n++
		}
	}
	return n
}
