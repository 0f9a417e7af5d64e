package shop

import (
	"cmp"
	"slices"
	"time"
)

// Upcoming is a task that is not done, and what keeps it from beginning but other
// tasks.
type Upcoming struct {
	Task
	Causes []Hold
}

// Upcoming gives the tasks of a job that are not done, by number. now is in the
// shop's time zone.
func (s *State) Upcoming(jobID string, now time.Time) ([]Upcoming, error) {
	j, err := s.job(jobID)
	if err != nil {
		return nil, err
	}
	p := s.planOf(j, now)
	var all []Upcoming
	for _, t := range p.order {
		if t.State == Done {
			continue
		}
		u := Upcoming{Task: t}
		if t.State == Waiting {
			u.Causes = p.causes(t)
		}
		all = append(all, u)
	}
	return all, nil
}

// Does tells whether work of a stage is a person's when an end is foreseen:
// tradespeople work at their trade, metal people strip too, apprentices strip, and
// all of these assemble; one of no trade does everything. The lead runs the shop.
func (p PersonAdded) Does(st Stage) bool {
	trade, ok := ParseStage(p.Trade)
	switch {
	case p.Role == Lead:
		return false
	case st == Assembly:
		return true
	case p.Role == Apprentice:
		return st == Strip || ok && st == trade
	}
	return !ok || st == trade || trade == Metal && st == Strip
}

// Stripping gives what came to light while the shop stripped: how many finds people
// recorded on days on which hours of stripping were logged on the same job, and all
// those hours. What came with an import says no day and counts for neither.
func (s *State) Stripping() (finds int, hours Micro) {
	type jobDay struct {
		job uint16
		day Day
	}
	stripped := map[jobDay]bool{}
	for at, j := range s.jobs {
		if j.gone {
			continue
		}
		hours += j.logged[Strip]
		for _, i := range j.bulk {
			if r := s.recs[i]; r.kind == recHours && s.stageOf(r) == Strip {
				stripped[jobDay{uint16(at), r.day}] = true
			}
		}
	}
	zone := s.Location()
	for _, i := range s.finds {
		r := s.recs[i]
		day, _ := dayOf(time.UnixMilli(r.at).In(zone))
		if r.by != 0 && stripped[jobDay{r.job, day}] {
			finds++
		}
	}
	return finds, hours
}

// PanelPart is a part on record that is a panel, or a section of it.
type PanelPart struct {
	Part
	Section bool // only part of the panel
	Ours    bool // of the job and the side asked for
}

// Words of a part's name beside the panel's own. Common practice, no source.
var (
	panelWords   = wordList("panel", "pressing", "new", "complete", "whole", "full", "replacement", "repro", "steel")
	sectionWords = wordList("part", "section", "repair", "half", "lower", "piece")
)

// PanelParts gives the parts on record, of all jobs, whose name is that of a panel
// and that were not sent back: those of the job and side first, then the job's, then
// the newest. now is in the shop's time zone.
func (s *State) PanelParts(jobID, panel string, side Side, now time.Time) ([]PanelPart, error) {
	if _, err := s.job(jobID); err != nil {
		return nil, err
	}
	parts, err := s.Parts(PartFilter{}, now)
	if err != nil {
		return nil, err
	}
	named, _ := wordsOf(panel)
	var found []PanelPart
	for _, p := range parts {
		words, on := wordsOf(p.Part)
		more := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return slices.Contains(named, w) })
		section := common(sectionWords, more) > 0
		more = slices.DeleteFunc(more, func(w string) bool { return slices.Contains(panelWords, w) || slices.Contains(sectionWords, w) })
		if p.State == Returned || !within(named, words) || len(more) > 0 {
			continue
		}
		on = or(p.Side, on)
		found = append(found, PanelPart{p, section, p.Job == jobID && (side == 0 || on == 0 || on == side)})
	}
	rank := func(p PanelPart) int {
		switch {
		case p.Ours:
			return 0
		case p.Job == jobID:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(found, func(a, b PanelPart) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(b.Number, a.Number))
	})
	return found, nil
}
