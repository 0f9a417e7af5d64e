package service

import (
	"time"

	"bayword/internal/shop"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
)

// storeProgress stores what becomes of tasks, parts, briefs, snags and extras.
func storeProgress(e shop.Event) (string, *ledgerv1.Event) {
	switch e := e.(type) {
	case shop.TaskStarted:
		return "task_started", &ledgerv1.Event{Event: &ledgerv1.Event_TaskStarted{TaskStarted: &ledgerv1.TaskStarted{Number: int32(e.Number), Job: e.Job, Who: e.Who}}}
	case shop.TaskFinished:
		return "task_finished", &ledgerv1.Event{Event: &ledgerv1.Event_TaskFinished{TaskFinished: &ledgerv1.TaskFinished{Number: int32(e.Number), Job: e.Job, Who: e.Who}}}
	case shop.PartArrived:
		return "part_arrived", &ledgerv1.Event{Event: &ledgerv1.Event_PartArrived{PartArrived: &ledgerv1.PartArrived{
			Number: int32(e.Number), Job: e.Job, Quantity: int32(e.Quantity), Condition: e.Condition,
		}}}
	case shop.PartFitted:
		return "part_fitted", &ledgerv1.Event{Event: &ledgerv1.Event_PartFitted{PartFitted: &ledgerv1.PartFitted{
			Number: int32(e.Number), Job: e.Job, Trial: e.Trial, Note: e.Note,
		}}}
	case shop.PartReturned:
		return "part_returned", &ledgerv1.Event{Event: &ledgerv1.Event_PartReturned{PartReturned: &ledgerv1.PartReturned{Number: int32(e.Number), Job: e.Job, Why: e.Why}}}
	case shop.PartDueChanged:
		return "part_due_changed", &ledgerv1.Event{Event: &ledgerv1.Event_PartDueChanged{PartDueChanged: &ledgerv1.PartDueChanged{
			Number: int32(e.Number), Job: e.Job, DueDay: uint32(e.Due), Why: e.Why,
		}}}
	case shop.BriefAdded:
		return "brief_added", &ledgerv1.Event{Event: &ledgerv1.Event_BriefAdded{BriefAdded: &ledgerv1.BriefAdded{Number: int32(e.Number), Job: e.Job, Text: e.Text}}}
	case shop.BriefMet:
		return "brief_met", &ledgerv1.Event{Event: &ledgerv1.Event_BriefMet{BriefMet: &ledgerv1.BriefMet{Number: int32(e.Number), Job: e.Job, How: e.How}}}
	case shop.SnagClosed:
		return "snag_closed", &ledgerv1.Event{Event: &ledgerv1.Event_SnagClosed{SnagClosed: &ledgerv1.SnagClosed{Number: int32(e.Number), Job: e.Job}}}
	case shop.ExtraDecided:
		return "extra_decided", &ledgerv1.Event{Event: &ledgerv1.Event_ExtraDecided{ExtraDecided: &ledgerv1.ExtraDecided{Number: int32(e.Number), Job: e.Job, Agreed: e.Agreed}}}
	case shop.ReminderSet:
		return "reminder_set", &ledgerv1.Event{Event: &ledgerv1.Event_ReminderSet{ReminderSet: &ledgerv1.ReminderSet{
			AtMs: e.At.UnixMilli(), Text: e.Text, Job: e.Job, Channel: e.Channel, Who: e.Who,
		}}}
	case shop.NoticeSent:
		return "notice_sent", &ledgerv1.Event{Event: &ledgerv1.Event_NoticeSent{NoticeSent: &ledgerv1.NoticeSent{Id: e.ID}}}
	}
	return "", nil
}

func loadProgress(stored *ledgerv1.Event) shop.Event {
	switch e := stored.GetEvent().(type) {
	case *ledgerv1.Event_TaskStarted:
		t := e.TaskStarted
		return shop.TaskStarted{Number: int(t.Number), Job: t.Job, Who: t.Who}
	case *ledgerv1.Event_TaskFinished:
		t := e.TaskFinished
		return shop.TaskFinished{Number: int(t.Number), Job: t.Job, Who: t.Who}
	case *ledgerv1.Event_PartArrived:
		p := e.PartArrived
		return shop.PartArrived{Number: int(p.Number), Job: p.Job, Quantity: int(p.Quantity), Condition: p.Condition}
	case *ledgerv1.Event_PartFitted:
		p := e.PartFitted
		return shop.PartFitted{Number: int(p.Number), Job: p.Job, Trial: p.Trial, Note: p.Note}
	case *ledgerv1.Event_PartReturned:
		p := e.PartReturned
		return shop.PartReturned{Number: int(p.Number), Job: p.Job, Why: p.Why}
	case *ledgerv1.Event_PartDueChanged:
		p := e.PartDueChanged
		return shop.PartDueChanged{Number: int(p.Number), Job: p.Job, Due: shop.Day(p.DueDay), Why: p.Why}
	case *ledgerv1.Event_BriefAdded:
		b := e.BriefAdded
		return shop.BriefAdded{Number: int(b.Number), Job: b.Job, Text: b.Text}
	case *ledgerv1.Event_BriefMet:
		b := e.BriefMet
		return shop.BriefMet{Number: int(b.Number), Job: b.Job, How: b.How}
	case *ledgerv1.Event_SnagClosed:
		return shop.SnagClosed{Number: int(e.SnagClosed.Number), Job: e.SnagClosed.Job}
	case *ledgerv1.Event_ExtraDecided:
		x := e.ExtraDecided
		return shop.ExtraDecided{Number: int(x.Number), Job: x.Job, Agreed: x.Agreed}
	case *ledgerv1.Event_ReminderSet:
		r := e.ReminderSet
		return shop.ReminderSet{At: time.UnixMilli(r.AtMs).UTC(), Text: r.Text, Job: r.Job, Channel: r.Channel, Who: r.Who}
	case *ledgerv1.Event_NoticeSent:
		return shop.NoticeSent{ID: e.NoticeSent.Id}
	}
	return nil
}

func int32s(numbers []int) []int32 {
	var out []int32
	for _, n := range numbers {
		out = append(out, int32(n))
	}
	return out
}

func ints(numbers []int32) []int {
	var out []int
	for _, n := range numbers {
		out = append(out, int(n))
	}
	return out
}

func storedDays(days []shop.Day) []uint32 {
	var out []uint32
	for _, d := range days {
		out = append(out, uint32(d))
	}
	return out
}

func loadedDays(days []uint32) []shop.Day {
	var out []shop.Day
	for _, d := range days {
		out = append(out, shop.Day(d))
	}
	return out
}
