package shop

import (
	"slices"
	"time"
)

// Line is one line of a job's history.
type Line struct {
	Said
	Imported bool // then Entry means nothing to a person
	Undated  bool // imported without a date
	Text     string
}

// History gives part of what was done on a job, oldest first: at most n lines, and
// of these none but those before record next, which 0 means the end. more is the
// next to ask for, 0 when there is nothing older. With a panel it gives what
// names that panel.
func (s *State) History(w Where, next uint64, n int) (lines []Line, more uint64, err error) {
	j, err := s.job(w.Job)
	if err != nil {
		return nil, 0, err
	}
	if w.Panel != "" {
		if err := place(w.Panel, w.Side, false); err != nil {
			return nil, 0, err
		}
	}
	a, b := j.recs, j.bulk
	if w.Panel != "" || w.Side != 0 {
		b = nil // a use and hours have no panel
	}
	if next > 0 {
		i, _ := s.find(next)
		a, b = upTo(a, i), upTo(b, i)
	}
	for len(a)+len(b) > 0 {
		var i uint32
		if len(b) == 0 || len(a) > 0 && a[len(a)-1] > b[len(b)-1] {
			i, a = a[len(a)-1], a[:len(a)-1]
		} else {
			i, b = b[len(b)-1], b[:len(b)-1]
		}
		if !s.at(i, w) {
			continue
		}
		if len(lines) == n {
			more = lines[n-1].Entry
			break
		}
		lines = append(lines, s.historyLine(i))
	}
	slices.Reverse(lines)
	return lines, more, nil
}

func upTo(list []uint32, i uint32) []uint32 {
	at, _ := slices.BinarySearch(list, i)
	return list[:at]
}

// at tells whether a record of a job belongs to its history at a place.
func (s *State) at(i uint32, w Where) bool {
	panel, side := "", Side(0)
	switch e := s.details[i].(type) {
	case FindRecorded:
		panel, side = e.Panel, e.Side
	case FindClosed:
		f, ok := s.findAt[e.Number]
		if !ok {
			return false // the find was taken back
		}
		found := s.findOf(f)
		panel, side = found.Panel, found.Side
	case GapRecorded:
		panel, side = e.Panel, e.Side
	case GapSet:
		panel, side = e.Panel, e.Side
	case NoteAdded:
		panel, side = e.Panel, e.Side
	case TaskStarted, TaskFinished, PartOrdered, PartArrived, PartFitted, PartReturned, PartDueChanged:
		return s.concerns(e, w)
	case CoatRecorded:
		if w.Panel != "" {
			return slices.Contains(e.Panels, w.Panel) || slices.Contains(e.Panels, "whole body")
		}
	}
	if s.recs[i].by == 0 {
		switch s.details[i].(type) {
		case TorqueSet, GapSet:
			return false // imported references are no history
		}
	}
	return (w.Panel == "" || panel == w.Panel) && (w.Side == 0 || side == w.Side || side == 0 && panel != "" && panel == w.Panel)
}

func (s *State) historyLine(i uint32) Line {
	l := Line{Said: s.said(i), Text: s.line(i)}
	l.Imported = s.recs[i].by == 0
	l.Undated = l.Imported
	switch e := s.details[i].(type) {
	case CoatRecorded:
		l.At, l.Undated = e.At, e.At.IsZero()
	case PartOrdered:
		if l.Imported && e.Ordered != 0 {
			l.At, l.Undated = firstDay.AddDate(0, 0, int(e.Ordered)), false
		}
	}
	return l
}

// People, Channels, Suppliers and Fasteners are the names the shop uses, in the
// order they came.
func (s *State) People() []PersonAdded { return slices.Clone(s.people[1:]) }

// Channels lists the channels; see People.
func (s *State) Channels() []ChannelAdded { return slices.Clone(s.channels) }

// Suppliers lists the suppliers; see People.
func (s *State) Suppliers() []string { return slices.Clone(s.suppliers) }

// Fastener is a name with a book value on some jobs.
type Fastener struct {
	Name string
	Jobs []string
}

// Fasteners lists the fasteners with a book value, by name.
func (s *State) Fasteners() []Fastener {
	jobs := map[string][]string{}
	for k := range s.torques {
		jobs[k.fastener] = append(jobs[k.fastener], s.jobs[k.job].ID)
	}
	all := make([]Fastener, 0, len(jobs))
	for name, ids := range jobs {
		slices.Sort(ids)
		all = append(all, Fastener{name, ids})
	}
	slices.SortFunc(all, func(a, b Fastener) int {
		switch {
		case a.Name < b.Name:
			return -1
		case a.Name > b.Name:
			return 1
		}
		return 0
	})
	return all
}

// Role gives a person's role, 0 for someone the shop does not know.
func (s *State) Role(person string) Role {
	at, ok := s.personAt[person]
	if !ok {
		return 0
	}
	return s.people[at].Role
}

// Location is the shop's time zone; UTC when it is not known here.
func (s *State) Location() *time.Location {
	if loc, err := time.LoadLocation(or(s.shop.TimeZone, "Europe/London")); err == nil {
		return loc
	}
	return time.UTC
}
