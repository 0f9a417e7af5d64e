package shop

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// Reminder is a reminder and who asked for it.
type Reminder struct {
	ReminderSet
	Said
}

// For is whom it is for: somebody named, or else who asked.
func (r Reminder) For() string { return or(r.Who, r.By) }

// At is when it is due; when it was asked for is Said.At.
func (r Reminder) At() time.Time { return r.ReminderSet.At }

// Direct is the channel of what is written to a person alone.
const Direct = "dm"

// Reminders gives the standing reminders that were not sent, the next one first.
func (s *State) Reminders() []Reminder {
	var all []Reminder
	for _, i := range s.reminders {
		e, _ := s.details[i].(ReminderSet)
		if r := (Reminder{e, s.said(i)}); !s.Sent(s.reminderNotice(r)) {
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b Reminder) int { return cmp.Or(a.At().Compare(b.At()), cmp.Compare(a.Entry, b.Entry)) })
	return all
}

func (s *State) reminderNotice(r Reminder) string { return ReminderNotice(r.Entry, s.Local(r.At())) }

// NewReminder asks to be reminded.
type NewReminder struct {
	At           string // local, as 2026-03-10T14:00
	Text         string
	Job, Channel string // job may be empty; an empty channel is Direct
	Who          string // whom it is for; empty for who asks
}

// maxAhead is how many years ahead a reminder may lie. Common practice, no source:
// it catches a slip of the year.
const maxAhead = 2

// DecideReminder decides the keeping of a reminder. now is in the shop's time zone.
func (s *State) DecideReminder(by string, now time.Time, r NewReminder) (Decision, error) {
	if err := s.may(by, taskRemind); err != nil {
		return Decision{}, err
	}
	if err := s.known("who", r.Who); err != nil {
		return Decision{}, err
	}
	if r.Who == by {
		r.Who = ""
	}
	return s.decideReminder(now, r)
}

func (s *State) decideReminder(now time.Time, r NewReminder) (Decision, error) {
	text := strings.TrimSpace(r.Text)
	if err := missing(need{"at", r.At != ""}, need{"text", text != ""}); err != nil {
		return Decision{}, err
	}
	at, err := time.ParseInLocation(minuteLayout, r.At, now.Location())
	newest := now.AddDate(maxAhead, 0, 0)
	if err != nil || !at.After(now) || at.After(newest) {
		return Decision{}, outOfRange("at", r.At, "after "+now.Format(minuteLayout)+", up to "+newest.Format(minuteLayout))
	}
	return s.reminderOf(ReminderSet{At: at.UTC(), Text: text, Job: r.Job, Channel: or(r.Channel, Direct), Who: r.Who})
}

func (s *State) reminderOf(e ReminderSet) (Decision, error) {
	if e.Job != "" {
		if _, err := s.job(e.Job); err != nil {
			return Decision{}, err
		}
	}
	return Decision{Event: e}, nil
}

// reremind changes a reminder; a time that nobody changes is not judged again.
func (s *State) reremind(e ReminderSet, c Changes, now time.Time) (Decision, error) {
	e.Text, e.Job = or(c.Text, e.Text), or(c.Job, e.Job)
	if c.At == "" {
		return s.reminderOf(e)
	}
	return s.decideReminder(now, NewReminder{At: c.At, Text: e.Text, Job: e.Job, Channel: e.Channel, Who: e.Who})
}
