package shop

import (
	"fmt"
	"time"
)

// NewDue asks to record that an ordered part is due on another day.
type NewDue struct {
	WhichPart
	Due, Why string
}

// DecideDueChange decides which order is due on another day. now is in the shop's
// time zone.
func (s *State) DecideDueChange(by string, now time.Time, r NewDue) (Decision, error) {
	if err := s.may(by, taskChangeDue); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"due", r.Due != ""}); err != nil {
		return Decision{}, err
	}
	p, err := s.coming(r.WhichPart, now)
	if err != nil {
		return Decision{}, err
	}
	due, err := newDueDay(r.Due, now)
	switch {
	case err != nil:
		return Decision{}, err
	case due == p.Due:
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("part %d, %s, is due %s", p.Number, p.Name(), due))
	}
	return Decision{Event: PartDueChanged{Number: p.Number, Job: p.Job, Due: due, Why: r.Why}}, nil
}

// newDueDay reads the day an order is due now. Who heard of it yesterday may say so
// today.
func newDueDay(text string, now time.Time) (Day, error) {
	today, _ := dayOf(now)
	return dueDay(text, max(today, 1)-1)
}

// coming gives the part that is meant among those on order. What is here or past
// that says so.
func (s *State) coming(w WhichPart, now time.Time) (*Part, error) {
	p, err := s.pick(w, now, toCome)
	if p != nil || err != nil {
		return p, err
	}
	if !hasWords(w.Part) {
		if err := missing(need{"job", w.Job != ""}, need{"part", false}); err != nil {
			return nil, err
		}
	}
	if here, _ := s.pick(w, now, Part.Here); here != nil {
		return nil, refuse(AlreadyDone, "what", fmt.Sprintf("part %d, %s, is here", here.Number, here.Name()))
	}
	return nil, s.noSuchPart(w.Part, w, now, toCome)
}

// redue changes which order is due on another day, or which day that is. A day
// that nobody changes is not judged again.
func (s *State) redue(e PartDueChanged, c Changes, now time.Time) (Decision, error) {
	e.Why = or(c.Why, e.Why)
	if c.Due != "" {
		due, err := newDueDay(c.Due, now)
		if err != nil {
			return Decision{}, err
		}
		e.Due = due
	}
	if c.Part != "" || c.Side != 0 {
		p, err := s.coming(s.other(e.Number, e.Job, c, now), now)
		if err != nil {
			return Decision{}, err
		}
		e.Number = p.Number
	}
	return Decision{Event: e}, nil
}

// DueBefore is the day that a part was due before a record changed it; 0 when no
// day had been named.
func (s *State) DueBefore(r Record) Day {
	e, _ := r.Event.(PartDueChanged)
	of := thing{kind: recPart, number: e.Number}
	i, ok := s.things[of]
	if !ok {
		return 0
	}
	ordered, _ := s.details[i].(PartOrdered)
	due := ordered.Due
	for _, k := range s.about[of] {
		if was, ok := s.details[k].(PartDueChanged); ok && k < r.index {
			due = was.Due
		}
	}
	return due
}

// laterDue is the due day that was said last after a part was ordered; 0 when none
// was.
func (s *State) laterDue(n int) (due Day) {
	for _, k := range s.about[thing{kind: recPart, number: n}] {
		if e, ok := s.details[k].(PartDueChanged); ok {
			due = e.Due
		}
	}
	return due
}
