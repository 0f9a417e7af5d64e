package shop

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// What the customer decided about an extra.
const (
	Proposed = "proposed" // waits for the customer
	Agreed   = "agreed"
	Declined = "declined"
)

// Extra is work beyond the brief as it stands: its State is the last one, its
// Rate and Stage are filled in.
type Extra struct {
	ExtraProposed
	Said
	Price   float64 // in all
	History []ExtraStep
	Entries []uint64 // about it, oldest first
}

// ExtraStep is one step of an extra's history.
type ExtraStep struct {
	State string
	Said
}

// extraOf gives the extra of a record, standing or not.
func (s *State) extraOf(i uint32) Extra {
	e, _ := s.details[i].(ExtraProposed)
	return s.ExtraAs(Record{Said: s.said(i), Event: e, index: i})
}

// ExtraAs gives the extra that a record proposes, with what was decided about it.
func (s *State) ExtraAs(r Record) Extra {
	e, _ := r.Event.(ExtraProposed)
	t := thing{kind: recExtra, number: e.Number}
	x := Extra{ExtraProposed: e, Said: r.Said, Entries: s.entriesOf(t), History: []ExtraStep{{or(e.State, Proposed), r.Said}}}
	for _, k := range s.about[t] {
		if d, ok := s.details[k].(ExtraDecided); ok {
			x.History = append(x.History, ExtraStep{decided(d.Agreed), s.said(k)})
		}
	}
	x.State = x.History[len(x.History)-1].State
	x.Rate = or(e.Rate, s.shop.LabourRate)
	// One that came with the job stays where it was, at the latest where work begins.
	x.Stage = or(e.Stage, or(s.jobs[s.jobAt[e.Job]].Stage, Strip))
	x.Price = pence(x.labour() + x.goods())
	return x
}

func decided(agreed bool) string {
	if agreed {
		return Agreed
	}
	return Declined
}

// pence rounds an amount of money to a hundredth, so that what is shown adds up.
// It goes over millionths, so that half a penny is not lost to binary fractions.
func pence(v float64) float64 { return math.Round(math.Round(v*1e6)/1e4) / 100 }

// Coins writes an amount of money with its thousands set apart: «1,554», «356.5».
func Coins(v float64) string {
	whole, rest, _ := strings.Cut(number(v), ".")
	for i := len(whole) - 3; i > 0 && whole[i-1] != '-'; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		return whole + "." + rest
	}
	return whole
}

func (x Extra) labour() float64 { return pence(x.Hours * x.Rate) }

func (x Extra) goods() float64 { return pence(x.Parts + x.Materials) }

// ExtraFilter says which extras are meant; zero values mean any.
type ExtraFilter struct{ Job, State string }

// Extras gives the extras that fit, by number.
func (s *State) Extras(f ExtraFilter) ([]Extra, error) {
	if f.Job != "" {
		if _, err := s.job(f.Job); err != nil {
			return nil, err
		}
	}
	var found []Extra
	for t, i := range s.things {
		if t.kind != recExtra {
			continue
		}
		if x := s.extraOf(i); (f.Job == "" || x.Job == f.Job) && (f.State == "" || x.State == f.State) {
			found = append(found, x)
		}
	}
	slices.SortFunc(found, func(a, b Extra) int { return a.Number - b.Number })
	return found, nil
}

// Extra gives the standing extra of a number.
func (s *State) Extra(n int) (Extra, bool) {
	i, ok := s.things[thing{kind: recExtra, number: n}]
	if !ok {
		return Extra{}, false
	}
	return s.extraOf(i), true
}

// agreed gives the agreed extras of a job, as they came on record.
func (s *State) agreed(j *job) []Extra {
	var all []Extra
	for _, i := range j.extras {
		if x := s.extraOf(i); x.State == Agreed {
			all = append(all, x)
		}
	}
	return all
}

// AgreedExtras is the price of all agreed extras of a job.
func (s *State) AgreedExtras(job string) float64 {
	sum := 0.0
	for _, x := range s.agreed(s.jobs[s.jobAt[job]]) {
		sum += x.Price
	}
	return pence(sum)
}

// What an extra may be. Common practice, no source.
var (
	extraHoursSpan = span{"hours", 0, 2000, ""}
	partsCostSpan  = span{"parts_cost", 0, 1_000_000, ""}
	goodsCostSpan  = span{"materials_cost", 0, 1_000_000, ""}
)

const maxFinds = 20 // of one extra

// NewExtra asks to price work beyond the brief.
type NewExtra struct {
	Job, Text               string // an empty text takes the finds' own words
	Hours, Parts, Materials *float64
	Finds                   []int
	HoursFrom               string // how the hours came about; empty means said
}

// DecideProposal decides the pricing of an extra. For finds with no hours it
// refuses for want of "hours": who can advise them may ask again with them.
func (s *State) DecideProposal(by string, r NewExtra) (Decision, error) {
	if err := s.may(by, taskPriceExtra); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"job", r.Job != ""}, need{"text", strings.TrimSpace(r.Text) != "" || len(r.Finds) > 0}); err != nil {
		return Decision{}, err
	}
	j, err := s.job(r.Job)
	if err != nil {
		return Decision{}, err
	}
	finds, err := s.openFinds(r.Job, r.Finds)
	if err != nil {
		return Decision{}, err
	}
	if strings.TrimSpace(r.Text) == "" {
		r.Text = findsText(finds)
	}
	priced := r.Hours != nil || len(r.Finds) == 0 && (r.Parts != nil || r.Materials != nil)
	if err := missing(need{"hours", priced}); err != nil {
		return Decision{}, err
	}
	d, err := s.decideProposal(r, ExtraProposed{
		Number: s.last[recExtra] + 1, State: Proposed, Rate: s.shop.LabourRate, Stage: s.stageNow(j), HoursFrom: r.HoursFrom,
	})
	if err == nil && s.shop.LabourRate == 0 && optional(r.Hours) > 0 {
		d.Warnings = append(d.Warnings, "The shop has no labour rate, so the hours cost nothing here.")
	}
	return d, err
}

// decideProposal fills in what of an extra is said anew.
func (s *State) decideProposal(r NewExtra, e ExtraProposed) (Decision, error) {
	for _, v := range []struct {
		v *float64
		span
	}{{r.Hours, extraHoursSpan}, {r.Parts, partsCostSpan}, {r.Materials, goodsCostSpan}} {
		if err := v.checkIf(v.v); err != nil {
			return Decision{}, err
		}
	}
	e.Job, e.Text, e.Finds = r.Job, strings.TrimSpace(r.Text), slices.Clone(r.Finds)
	e.Hours, e.Parts, e.Materials = optional(r.Hours), optional(r.Parts), optional(r.Materials)
	return Decision{Event: e, Warnings: s.pricedTwice(e)}, nil
}

// pricedTwice warns of what another extra that is not declined prices too, and of
// finds that a task which is not done is about: it names them, or their place.
func (s *State) pricedTwice(e ExtraProposed) []string {
	var warnings []string
	warn := func(format string, args ...any) { warnings = append(warnings, fmt.Sprintf(format, args...)) }
	others, _ := s.Extras(ExtraFilter{Job: e.Job}) // the job is known
	others = slices.DeleteFunc(others, func(x Extra) bool { return x.State == Declined || x.Number == e.Number })
	for _, x := range others {
		if len(e.Finds) == 0 && sameWords(e.Text, x.Text) {
			warn("Extra %d says the same and is %s.", x.Number, x.State)
		}
	}
	tasks, _ := s.Tasks(e.Job)
	for _, n := range e.Finds {
		f, _ := s.FindNumber(n)
		for _, x := range others {
			switch {
			case slices.Contains(x.Finds, n):
				warn("Find %d is in extra %d too, which is %s.", n, x.Number, x.State)
			case f.at(x.Text):
				warn("Find %d may be in extra %d, %s, which is %s.", n, x.Number, x.Text, x.State)
			}
		}
		for _, t := range tasks {
			if t.State != Done && f.at(t.Title) {
				warn("Find %d may be in task %s, which is not done.", n, t.Name())
			}
		}
	}
	return warnings
}

// at tells whether a text names the place of a find, and not another side of it.
func (e FindRecorded) at(text string) bool {
	panel, _ := wordsOf(e.Panel)
	words, side := wordsOf(text)
	return within(panel, words) && (side == 0 || e.Side == 0 || side == e.Side)
}

// openFinds gives the finds of the numbers, which must be open and on the job.
func (s *State) openFinds(job string, numbers []int) ([]Find, error) {
	if len(numbers) > maxFinds {
		return nil, outOfRange("finds", strconv.Itoa(len(numbers))+" finds", fmt.Sprintf("at most %d", maxFinds))
	}
	var finds []Find
	for k, n := range numbers {
		f, ok := s.FindNumber(n)
		switch {
		case !ok:
			return nil, refuse(NotFound, "field", "finds", "value", strconv.Itoa(n))
		case slices.Contains(numbers[:k], n):
			return nil, outOfRange("finds", strconv.Itoa(n)+" twice", "each find once")
		case f.Repaired:
			return nil, refuse(AlreadyDone, "what", fmt.Sprintf("find %d is repaired", n))
		}
		if err := s.onJob("finds", n, job, f.Job); err != nil {
			return nil, err
		}
		finds = append(finds, f)
	}
	return finds, nil
}

// findsText says finds in a line of their own words.
func findsText(finds []Find) string {
	texts := make([]string, len(finds))
	for i, f := range finds {
		texts[i] = f.Text()
	}
	return strings.Join(texts, "; ")
}

// reprice changes an extra. Its rate is the one of its day; finds that nobody
// changes are not judged again, for they may be repaired by now.
func (s *State) reprice(e ExtraProposed, c Changes) (Decision, error) {
	was := s.ExtraAs(Record{Event: e})
	r := NewExtra{
		Job: or(c.Job, e.Job), Text: or(c.Text, e.Text), Hours: orValue(c.Hours, e.Hours),
		Parts: orValue(c.PartsCost, e.Parts), Materials: orValue(c.MaterialsCost, e.Materials), Finds: orList(c.Finds, e.Finds),
	}
	j, err := s.job(r.Job)
	if err != nil {
		return Decision{}, err
	}
	now := e
	if r.Job != e.Job {
		now.Stage = s.stageNow(j)
	}
	if c.Hours != nil {
		now.HoursFrom = ""
	}
	if r.Job != e.Job || len(c.Finds) > 0 {
		finds, err := s.openFinds(r.Job, r.Finds)
		if err != nil {
			return Decision{}, err
		}
		if c.Text == "" && e.Text == s.textOf(e.Finds) {
			r.Text = findsText(finds)
		}
	}
	d, err := s.decideProposal(r, now)
	if err != nil {
		return Decision{}, err
	}
	if price := s.ExtraAs(Record{Event: d.Event}).Price; was.State != Proposed && price != was.Price {
		d.Warnings = append(d.Warnings, fmt.Sprintf("Extra %d was %s at %s %s: tell the customer that it is %s now.",
			e.Number, was.State, Coins(was.Price), s.shop.Currency, Coins(price)))
	}
	return d, nil
}

// textOf says the finds of some numbers; empty when there are none.
func (s *State) textOf(numbers []int) string {
	var finds []Find
	for _, n := range numbers {
		if f, ok := s.FindNumber(n); ok {
			finds = append(finds, f)
		}
	}
	return findsText(finds)
}

// NewDecision asks to keep what the customer decided: about an extra by number, by
// its words, or the one that waits on the job.
type NewDecision struct {
	Job, Text string
	Number    *int
	Agreed    *bool
}

// DecideDecision decides which extra is meant and whether that is new.
func (s *State) DecideDecision(by string, r NewDecision) (Decision, error) {
	if err := s.may(by, taskDecideExtra); err != nil {
		return Decision{}, err
	}
	if r.Number != nil {
		return s.judge(r.Job, *r.Number, r.Agreed)
	}
	if err := missing(need{"job", r.Job != ""}); err != nil {
		return Decision{}, err
	}
	n, err := s.extraMeant(r.Job, r.Text)
	if err != nil {
		return Decision{}, err
	}
	return s.judge(r.Job, n, r.Agreed)
}

// extraMeant gives the number of the waiting extra of a job that words mean. One
// that was decided is judged anew by its number alone.
func (s *State) extraMeant(job, words string) (int, error) {
	all, err := s.Extras(ExtraFilter{Job: job})
	if err != nil {
		return 0, err
	}
	var waiting, done []candidate
	for _, x := range all {
		c := candidate{number: x.Number, words: x.Text, label: fmt.Sprintf("extra %d: %s", x.Number, x.Text)}
		if x.State == Proposed {
			waiting = append(waiting, c)
		} else {
			done = append(done, c)
		}
	}
	switch {
	case strings.TrimSpace(words) != "":
		n, err := meantFirst("extra", words, waiting, done)
		if err != nil {
			return 0, err
		}
		if slices.ContainsFunc(done, func(c candidate) bool { return c.number == n }) {
			x, _ := s.Extra(n)
			return 0, refuse(AlreadyDone, "what", fmt.Sprintf("extra %d is %s; say its number to change that", n, x.State))
		}
		return n, nil
	case len(waiting) == 1:
		return waiting[0].number, nil
	case len(waiting) > 1:
		return 0, ambiguous("extra", waiting)
	case len(done) > 0:
		return 0, refuse(AlreadyDone, "what", "no extra of "+job+" waits for the customer")
	}
	return 0, refuse(NotFound, "field", "extra", "value", job)
}

func (s *State) judge(job string, n int, agreed *bool) (Decision, error) {
	x, ok := s.Extra(n)
	if !ok {
		return Decision{}, refuse(NotFound, "field", "extra", "value", strconv.Itoa(n))
	}
	if err := s.onJob("extra", n, job, x.Job); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"agreed", agreed != nil}); err != nil {
		return Decision{}, err
	}
	d := Decision{Event: ExtraDecided{n, x.Job, *agreed}}
	switch next := decided(*agreed); x.State {
	case next:
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("extra %d is %s", n, next))
	case Agreed, Declined:
		last := x.History[len(x.History)-1]
		when := ""
		if last.By != "" {
			when = " on " + last.At.In(s.Location()).Format(dayLayout)
		}
		d.Warnings = append(d.Warnings, fmt.Sprintf("Extra %d was %s%s; it is %s now.", n, x.State, when, next))
	}
	return d, nil
}

// rejudge changes a decision: which extra it was about, or what was decided. What
// was decided about the same extra before and after it stays as it is.
func (s *State) rejudge(e ExtraDecided, c Changes) (Decision, error) {
	if n := deref(c.Extra); n != 0 && n != e.Number {
		agreed := e.Agreed
		if c.Agreed != nil {
			agreed = *c.Agreed
		}
		return s.judge("", n, &agreed)
	}
	if c.Agreed != nil {
		e.Agreed = *c.Agreed
	}
	return Decision{Event: e}, nil
}
