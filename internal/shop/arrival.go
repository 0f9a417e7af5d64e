package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// WhichPart says which part is meant.
type WhichPart struct {
	Job  string // empty: only one in the shop may fit
	Part string // words of its name, its number, or empty for the one it can only be
	Side Side
}

// fits gives the parts that are meant among those of the right state, one of the
// very name before one of a longer one. A side that was said must be theirs.
func (w WhichPart) fits(all []Part) []Part {
	said, side := partWords(w.Part)
	side = or(w.Side, side)
	fit := slices.DeleteFunc(slices.Clone(all), func(p Part) bool {
		return side != 0 && p.on != 0 && side != p.on || len(said) > 0 && !namesPart(said, p.words)
	})
	fit = prefer(fit, func(p Part) bool { return same(p.words, said) })
	return prefer(fit, func(p Part) bool { return side != 0 && p.on == side })
}

// pick gives the one part that is meant among those that is tells of; nil when
// none is.
func (s *State) pick(w WhichPart, now time.Time, is func(Part) bool) (*Part, error) {
	jobs, err := s.jobsOf(w.Job)
	if err != nil {
		return nil, err
	}
	var all []Part
	for _, j := range jobs {
		all = append(all, slices.DeleteFunc(s.partsOf(j, now), func(p Part) bool { return !is(p) })...)
	}
	if n, ok := numberSaid(w.Part); ok {
		if at := slices.IndexFunc(all, func(p Part) bool { return p.Number == n }); at >= 0 {
			return &all[at], nil
		}
		return nil, nil //nolint:nilnil // none is no error here
	}
	switch fit := w.fits(all); len(fit) {
	case 0:
		return nil, nil //nolint:nilnil // none is no error here
	case 1:
		return &fit[0], nil
	default:
		var choices []candidate
		for _, p := range fit {
			label := fmt.Sprintf("part %d: %s", p.Number, p.Name())
			if w.Job == "" {
				label += " of the " + p.Job
			}
			choices = append(choices, candidate{number: p.Number, side: p.Side, label: label})
		}
		return nil, ambiguous("part", choices)
	}
}

// noted gives which part is meant when a side that was said may be of the note
// alone: «proud at the left corner» says nothing of which part it is. It counts when
// there is such a part.
func (s *State) noted(w WhichPart, note string, now time.Time, is func(Part) bool) WhichPart {
	if _, side := wordsOf(note); w.Side == 0 || side != w.Side {
		return w
	}
	if p, err := s.pick(w, now, is); p == nil && err == nil {
		w.Side = 0
	}
	return w
}

// NewArrival asks to record that a part came.
type NewArrival struct {
	WhichPart
	Quantity  *int // nil means all that are to come, or one
	Condition string
}

func toCome(p Part) bool { return p.open() > 0 }

// DecideArrival decides which order came, or that nobody had ordered what came.
// now is in the shop's time zone.
func (s *State) DecideArrival(by string, now time.Time, r NewArrival) (Decision, error) {
	if err := s.may(by, taskArrival); err != nil {
		return Decision{}, err
	}
	p, err := s.pick(s.noted(r.WhichPart, r.Condition, now, toCome), now, toCome)
	switch {
	case err != nil:
		return Decision{}, err
	case p != nil:
		return arrival(*p, r)
	}
	return s.surprise(now, r)
}

// arrival is the coming of an order, or of part of it.
func arrival(p Part, r NewArrival) (Decision, error) {
	n, err := quantity(r.Quantity, p.open())
	if err != nil {
		return Decision{}, err
	}
	d := Decision{Event: PartArrived{Number: p.Number, Job: p.Job, Quantity: n, Condition: r.Condition}}
	if more := p.ArrivedQuantity + n - p.Quantity; more > 0 {
		d.Warnings = append(d.Warnings, strconv.Itoa(more)+" more than were to come.")
	}
	return d, nil
}

// surprise is the coming of what nobody ordered. What came today under the same
// name was said before.
func (s *State) surprise(now time.Time, r NewArrival) (Decision, error) {
	today, _ := dayOf(now)
	_, numbered := numberSaid(r.Part)
	said, _ := partWords(r.Part)
	// Several of that name are no question: one more has come.
	here, _ := s.pick(r.WhichPart, now, func(p Part) bool { return p.Here() && (numbered || p.Arrived == today && same(p.words, said)) })
	switch {
	case here != nil:
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("part %d, %s, is here", here.Number, here.Name()))
	case numbered:
		return Decision{}, s.noSuchPart(r.Part, r.WhichPart, now, toCome)
	}
	if err := missing(need{"job", r.Job != ""}, need{"part", hasWords(r.Part)}); err != nil {
		return Decision{}, err
	}
	n, err := quantity(r.Quantity, 1)
	if err != nil {
		return Decision{}, err
	}
	if r.Side >= Side(len(sideNames)) {
		return Decision{}, outOfRange("side", number(float64(r.Side)), "left, right, centre")
	}
	if _, on := wordsOf(r.Condition); on == r.Side && (n > 1 || slices.Contains(plainWords(r.Part), "pair")) {
		r.Side = 0 // the one that is dented, not the pair
	}
	d := Decision{Event: PartOrdered{
		Number: s.last[recPart] + 1, Job: r.Job, Part: strings.TrimSpace(r.Part), Side: r.Side, Quantity: n,
		State: Arrived, Arrived: today, Condition: r.Condition,
	}}
	for _, p := range s.partsOf(s.jobs[s.jobAt[r.Job]], now) {
		if toCome(p) && common(said, p.words) > 0 {
			d.Warnings = append(d.Warnings, fmt.Sprintf("Part %d is still on order: %s.", p.Number, p.awaited()))
		}
	}
	return d, nil
}

// noSuchPart refuses words that mean no part of the right state, and says which
// there are.
func (s *State) noSuchPart(value string, w WhichPart, now time.Time, is func(Part) bool) error {
	var names []string
	if parts, err := s.Parts(PartFilter{Job: w.Job}, now); err == nil {
		for _, p := range parts {
			if is(p) {
				names = append(names, strconv.Itoa(p.Number)+" "+p.Name())
			}
		}
	}
	return refuse(NotFound, "field", "part", "value", value, "accepted", joined(names))
}

// rearrive changes which order came, how many, or in what condition.
func (s *State) rearrive(e PartArrived, c Changes, now time.Time) (Decision, error) {
	was, _ := s.PartNumber(e.Number, now)
	r := NewArrival{WhichPart: WhichPart{Job: e.Job}, Quantity: c.Quantity, Condition: or(c.Condition, e.Condition)}
	p := &was
	if c.Part != "" || c.Side != 0 {
		r.Part, r.Side = or(c.Part, was.Part), c.Side
		var err error
		if p, err = s.pick(r.WhichPart, now, toCome); err != nil {
			return Decision{}, err
		}
		if p == nil {
			return Decision{}, s.noSuchPart(r.Part+comma(r.Side.String()), r.WhichPart, now, toCome)
		}
	}
	// All of one order becomes all of another.
	if r.Quantity == nil && (p.Number == e.Number || e.Quantity < was.open()) {
		r.Quantity = &e.Quantity
	}
	return arrival(*p, r)
}

// NewFitting asks to record that a part was fitted, or only tried.
type NewFitting struct {
	WhichPart
	Trial bool
	Note  string
}

// inHand tells whether any of a part is in the shop and not on the vehicle.
func inHand(p Part) bool { return p.State == Arrived || toCome(p) && p.ArrivedQuantity > 0 }

// DecideFitting decides which part was fitted, or tried. now is in the shop's time
// zone.
func (s *State) DecideFitting(by string, now time.Time, r NewFitting) (Decision, error) {
	if err := s.may(by, taskFitPart); err != nil {
		return Decision{}, err
	}
	p, err := s.present(s.noted(r.WhichPart, r.Note, now, inHand), now, inHand, Fitted, "fitted")
	if err != nil {
		return Decision{}, err
	}
	return Decision{Event: PartFitted{Number: p.Number, Job: p.Job, Trial: r.Trial, Note: r.Note}}, nil
}

// NewReturn asks to record that a part went back.
type NewReturn struct {
	WhichPart
	Why string
}

// DecideReturn decides which part went back. now is in the shop's time zone.
func (s *State) DecideReturn(by string, now time.Time, r NewReturn) (Decision, error) {
	if err := s.may(by, taskReturnPart); err != nil {
		return Decision{}, err
	}
	r.WhichPart = s.noted(r.WhichPart, r.Why, now, func(p Part) bool { return inHand(p) || p.State == Fitted })
	return s.sendBack(now, r)
}

func (s *State) sendBack(now time.Time, r NewReturn) (Decision, error) {
	p, err := s.pick(r.WhichPart, now, inHand)
	if err == nil && p == nil { // off the vehicle again
		p, err = s.present(r.WhichPart, now, func(p Part) bool { return inHand(p) || p.State == Fitted }, Returned, "sent back")
	}
	if err != nil {
		return Decision{}, err
	}
	d := Decision{Event: PartReturned{Number: p.Number, Job: p.Job, Why: r.Why}}
	switch n := p.open(); {
	case p.State == Fitted:
		d.Warnings = append(d.Warnings, "It was on record as fitted.")
	case n > 0:
		d.Warnings = append(d.Warnings, fmt.Sprintf("All %d are to come again.", p.Quantity))
	}
	return d, nil
}

// present gives the part that is meant among those that is tells of. What is past
// that is done already, and what is not here yet says so.
func (s *State) present(w WhichPart, now time.Time, is func(Part) bool, past, done string) (*Part, error) {
	p, err := s.pick(w, now, is)
	if p != nil || err != nil {
		return p, err
	}
	if !hasWords(w.Part) {
		if err := missing(need{"job", w.Job != ""}, need{"part", false}); err != nil {
			return nil, err
		}
	}
	if was, _ := s.pick(w, now, func(p Part) bool { return p.State == past }); was != nil {
		return nil, refuse(AlreadyDone, "what", fmt.Sprintf("part %d, %s, is %s", was.Number, was.Name(), done))
	}
	if coming, _ := s.pick(w, now, toCome); coming != nil {
		return nil, refuse(NotFound, "field", "part", "value", coming.Name(), "due", coming.Due.String())
	}
	return nil, s.noSuchPart(w.Part, w, now, is)
}

// refit changes which part was fitted, or what was said of it.
func (s *State) refit(e PartFitted, c Changes, now time.Time) (Decision, error) {
	e.Note = or(c.Note, e.Note)
	if c.Part == "" && c.Side == 0 {
		return Decision{Event: e}, nil
	}
	p, err := s.present(s.other(e.Number, e.Job, c, now), now, inHand, Fitted, "fitted")
	if err != nil {
		return Decision{}, err
	}
	e.Number = p.Number
	return Decision{Event: e}, nil
}

// rereturn changes which part went back, or why.
func (s *State) rereturn(e PartReturned, c Changes, now time.Time) (Decision, error) {
	e.Why = or(c.Why, e.Why)
	if c.Part == "" && c.Side == 0 {
		return Decision{Event: e}, nil
	}
	return s.sendBack(now, NewReturn{s.other(e.Number, e.Job, c, now), e.Why})
}

// other says which part is meant instead of one: what was not changed is that
// one's.
func (s *State) other(n int, job string, c Changes, now time.Time) WhichPart {
	was, _ := s.PartNumber(n, now)
	return WhichPart{Job: job, Part: or(c.Part, was.Part), Side: c.Side}
}
