package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// BriefLine is one thing the customer wants, and how it was met.
type BriefLine struct {
	Number  int // on its job
	Text    string
	Met     bool
	How     string   // it was met
	Said             // who wrote it down; At is zero when it came with the job
	MetBy   Said     // zero until it is met
	Entries []uint64 // about it, oldest first; the job's own for a line that came with it
}

// Brief gives what the customer wants, by number.
func (s *State) Brief(jobID string) ([]BriefLine, error) {
	j, err := s.job(jobID)
	if err != nil {
		return nil, err
	}
	return s.brief(j), nil
}

// Customer is whose vehicle a job is; empty when nobody said.
func (s *State) Customer(job string) string { return s.jobs[s.jobAt[job]].Customer }

func (s *State) brief(j *job) []BriefLine {
	at := s.recs[j.rec].job
	came := s.said(j.rec)
	lines := make([]BriefLine, 0, len(j.Brief))
	for k, text := range j.Brief {
		line := s.metBy(BriefLine{Number: k + 1, Text: text, Said: Said{Entry: came.Entry, By: came.By}}, at)
		line.Entries = slices.Insert(line.Entries, 0, came.Entry)
		lines = append(lines, line)
	}
	for _, i := range j.recs {
		if e, ok := s.details[i].(BriefAdded); ok {
			lines = append(lines, s.metBy(BriefLine{Number: e.Number, Text: e.Text, Said: s.said(i)}, at))
		}
	}
	slices.SortStableFunc(lines, func(a, b BriefLine) int { return cmp.Compare(a.Number, b.Number) })
	return lines
}

// metBy fills in what is on record about a line of the job at an index.
func (s *State) metBy(l BriefLine, at uint16) BriefLine {
	t := thing{recBrief, l.Number, at}
	for _, i := range s.about[t] {
		if e, ok := s.details[i].(BriefMet); ok {
			l.Met, l.How, l.MetBy = true, e.How, s.said(i)
		}
	}
	l.Entries = s.entriesOf(t)
	return l
}

// NewBrief asks to keep one thing that the customer wants.
type NewBrief struct{ Job, Text string }

// DecideBrief decides the keeping of a line of a brief.
func (s *State) DecideBrief(by string, r NewBrief) (Decision, error) {
	if err := s.may(by, taskAddBrief); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"job", r.Job != ""}); err != nil {
		return Decision{}, err
	}
	lines, err := s.Brief(r.Job)
	if err != nil {
		return Decision{}, err
	}
	number := 1
	if len(lines) > 0 {
		number = lines[len(lines)-1].Number + 1
	}
	return s.decideBrief(r, number)
}

func (s *State) decideBrief(r NewBrief, number int) (Decision, error) {
	text := strings.TrimSpace(r.Text)
	if err := missing(need{"job", r.Job != ""}, need{"text", text != ""}); err != nil {
		return Decision{}, err
	}
	lines, err := s.Brief(r.Job)
	if err != nil {
		return Decision{}, err
	}
	for _, l := range lines {
		if sameText(l.Text, text) {
			return Decision{}, refuse(AlreadyExists, "field", "text", "value", fmt.Sprintf("%s (line %d)", text, l.Number))
		}
	}
	return Decision{Event: BriefAdded{number, r.Job, text}}, nil
}

// sameText tells whether two texts differ in capitals, spaces and a full stop at
// most.
func sameText(a, b string) bool {
	plain := func(t string) string { return strings.TrimSuffix(strings.Join(strings.Fields(t), " "), ".") }
	return strings.EqualFold(plain(a), plain(b))
}

// rebrief changes the words of a line; it keeps its number.
func (s *State) rebrief(e BriefAdded, c Changes) (Decision, error) {
	return s.decideBrief(NewBrief{e.Job, or(c.Text, e.Text)}, e.Number)
}

// NewBriefMet asks to keep how a line was met: by its number, or the one that the
// text shares most words with.
type NewBriefMet struct {
	Job  string
	Line *int
	Text string // how it was met
}

// DecideBriefMet decides which line is meant and whether it is still to be met.
func (s *State) DecideBriefMet(by string, r NewBriefMet) (Decision, error) {
	if err := s.may(by, taskMeetBrief); err != nil {
		return Decision{}, err
	}
	return s.decideBriefMet(r)
}

func (s *State) decideBriefMet(r NewBriefMet) (Decision, error) {
	how := strings.TrimSpace(r.Text)
	if err := missing(need{"job", r.Job != ""}, need{"text", how != ""}); err != nil {
		return Decision{}, err
	}
	lines, err := s.Brief(r.Job)
	if err != nil {
		return Decision{}, err
	}
	number := 0
	if r.Line != nil {
		number = *r.Line
	} else {
		var open, met []candidate
		for _, l := range lines {
			c := candidate{number: l.Number, words: l.Text, label: fmt.Sprintf("line %d: %s", l.Number, l.Text)}
			if l.Met {
				met = append(met, c)
			} else {
				open = append(open, c)
			}
		}
		if number, err = meantFirst("line", how, open, met); err != nil {
			return Decision{}, err
		}
	}
	at := slices.IndexFunc(lines, func(l BriefLine) bool { return l.Number == number })
	switch {
	case at < 0:
		return Decision{}, refuse(NotFound, "field", "line", "value", strconv.Itoa(number))
	case lines[at].Met:
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("line %d of the brief was met: %s", number, lines[at].How))
	}
	return Decision{Event: BriefMet{number, r.Job, how}}, nil
}

// remeet changes how a line was met.
func (s *State) remeet(e BriefMet, c Changes) (Decision, error) {
	return s.decideBriefMet(NewBriefMet{e.Job, &e.Number, or(c.Text, e.How)})
}

// meantFirst gives what words mean among all of two lists; where several fit as
// well, those of the first list come first. What fits best is looked for in both,
// so that words of something that is done do not fall on its neighbour.
func meantFirst(field, words string, first, second []candidate) (int, error) {
	n, err := meant(field, words, slices.Concat(first, second))
	var refusal *Refusal
	if !errors.As(err, &refusal) || refusal.Reason != Ambiguous {
		return n, err
	}
	options := strings.Split(refusal.Metadata["options"], ",")
	var left []candidate
	for _, c := range first {
		if slices.Contains(options, strconv.Itoa(c.number)) {
			left = append(left, c)
		}
	}
	switch len(left) {
	case 0:
		return 0, err
	case 1:
		return left[0].number, nil
	}
	return 0, ambiguous(field, left)
}
