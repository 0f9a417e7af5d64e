package shop

import (
	"slices"
	"time"
)

// NoticeKind says what a notice is about.
type NoticeKind uint8

// Kinds of notice.
const (
	NoticeReminder     NoticeKind = iota + 1 // somebody asked for it
	NoticePotLife                            // a mix is about to go off
	NoticeRecoatCloses                       // a window to recoat is about to close
	NoticeSand                               // a coat may be sanded
	NoticePartDue                            // a part is due today
	NoticeMorning                            // what is late, due and waiting, for a lead
)

// Notice is something the shop tells by itself, once.
type Notice struct {
	ID        string // the same for ever
	Kind      NoticeKind
	At        time.Time // it is due
	Until     time.Time // it is told no later; zero for no end
	Channel   string    // or Direct
	Person    string    // it is for; empty for all who read the channel
	Job, Text string
	Coat      *Coat   // of a mix and a window
	Parts     []Part  // the one due, or those that are late
	Due       []Part  // today, in the morning's note
	Waiting   []Extra // in the morning's note
}

// morningHour is when the day begins, local. Common practice, no source.
const morningHour = 8

// Planned gives the notices that are known of, sent or not: reminders, parts due
// and the morning's notes of yesterday to the next day of work. Those of coats are
// not among them. now is in the shop's time zone.
func (s *State) Planned(now time.Time) []Notice {
	var all []Notice
	for _, i := range s.reminders {
		e, _ := s.details[i].(ReminderSet)
		r := Reminder{e, s.said(i)}
		all = append(all, Notice{
			ID: s.reminderNotice(r), Kind: NoticeReminder, At: r.At(), Channel: r.Channel, Person: r.For(), Job: r.Job, Text: r.Text,
		})
	}
	parts, _ := s.Parts(PartFilter{}, now) // of all jobs there are
	awaited := slices.DeleteFunc(parts, func(p Part) bool { return p.open() == 0 || p.Due == 0 })
	waiting, _ := s.Extras(ExtraFilter{State: Proposed})
	for _, p := range awaited {
		at := morning(firstDay.AddDate(0, 0, int(p.Due)), now.Location())
		n := Notice{
			ID: PartNotice(p.Number, p.Due), Kind: NoticePartDue, At: at, Until: nextDay(at), Job: p.Job, Parts: []Part{p},
		}
		if n.Channel, n.Person = s.Place(p.Job); n.Channel != Direct || n.Person != "" {
			all = append(all, n)
		}
	}
	const daysAhead = 3 // from Friday to Monday
	for k := -1; k <= daysAhead; k++ {
		all = append(all, s.mornings(morning(now.AddDate(0, 0, k), now.Location()), awaited, waiting)...)
	}
	return all
}

// morning is when a day begins in the shop.
func morning(day time.Time, zone *time.Location) time.Time {
	y, m, d := day.Date()
	return time.Date(y, m, d, morningHour, 0, 0, 0, zone)
}

func nextDay(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d+1, 0, 0, 0, 0, t.Location())
}

// mornings gives the note of a morning to each lead; none at the weekend.
func (s *State) mornings(at time.Time, awaited []Part, waiting []Extra) []Notice {
	today, ok := dayOf(at)
	if !ok || at.Weekday() == time.Saturday || at.Weekday() == time.Sunday {
		return nil
	}
	n := Notice{Kind: NoticeMorning, At: at, Until: nextDay(at), Channel: Direct, Waiting: waiting}
	for _, p := range awaited {
		switch {
		case p.Due < today:
			n.Parts = append(n.Parts, p)
		case p.Due == today:
			n.Due = append(n.Due, p)
		}
	}
	var all []Notice
	for _, p := range s.people[1:] {
		if p.Role == Lead {
			n.ID, n.Person = MorningNotice(today, p.ID), p.ID
			all = append(all, n)
		}
	}
	return all
}

// Place says where what is about a job is told: the channel that stands for it, or
// else a lead. With no lead there is nobody to tell.
func (s *State) Place(job string) (channel, person string) {
	for _, c := range s.channels {
		if c.Job == job {
			return c.ID, ""
		}
	}
	for _, p := range s.people[1:] {
		if p.Role == Lead {
			return Direct, p.ID
		}
	}
	return Direct, ""
}

// empty tells whether a morning's note has nothing to say.
func (n Notice) empty() bool {
	return n.Kind == NoticeMorning && len(n.Parts)+len(n.Due)+len(n.Waiting) == 0
}

// Due gives those of the notices that are due and were not sent, oldest first, and
// when the next one will be; zero when none is planned.
func (s *State) Due(planned []Notice, now time.Time) (due []Notice, next time.Time) {
	for _, n := range planned {
		switch {
		case n.empty() || s.Sent(n.ID):
		case n.At.After(now):
			if next.IsZero() || n.At.Before(next) {
				next = n.At
			}
		case n.Until.IsZero() || now.Before(n.Until):
			due = append(due, n)
		}
	}
	slices.SortStableFunc(due, func(a, b Notice) int { return a.At.Compare(b.At) })
	return due, next
}

// DecideSent decides the keeping of a notice as sent: one of those planned whose
// time has come. It is no person who says so.
func (s *State) DecideSent(id string, planned []Notice, now time.Time) (Decision, error) {
	if err := missing(need{"id", id != ""}); err != nil {
		return Decision{}, err
	}
	if s.Sent(id) {
		return Decision{}, refuse(AlreadyDone, "what", "notice "+id+" was sent")
	}
	if !slices.ContainsFunc(planned, func(n Notice) bool { return n.ID == id && !n.At.After(now) }) {
		return Decision{}, refuse(NotFound, "field", "id", "value", id)
	}
	return Decision{Event: NoticeSent{id}}, nil
}
