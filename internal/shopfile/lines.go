package shopfile

import (
	"strconv"
	"time"

	"bayword/internal/shop"
)

// one says one of two words.
func one(second bool, words ...string) string {
	if second {
		return words[1]
	}
	return words[0]
}

func (l line) place(job, panel string, side shop.Side) {
	l.text("job", job)
	l.text("panel", panel)
	l.text("side", side.String())
}

// record writes what people record, and what a shop begins with.
func (l line) record(k shop.Kept, zone *time.Location) string {
	switch e := k.Event.(type) {
	case shop.GapSet:
		l.place(e.Job, e.Panel, e.Side)
		l.text("edge", e.Edge.String())
		l.figure("target_mm", e.Target)
		l.figure("tolerance_mm", e.Tolerance)
		l.number("flush_tolerance_mm", e.FlushTolerance)
		l.text("source", e.Source)
		return "gap_references"
	case shop.TorqueSet:
		l.text("job", e.Job)
		l.text("fastener", e.Fastener)
		l.text("thread", e.Thread)
		l.figure("torque_nm", e.Torque)
		l.figure("stages", e.Stages...)
		l.text("source", e.Source)
		l.truth("safety_critical", e.Critical)
		return "torque_references"
	case shop.CoatRecorded:
		l.text("job", e.Job)
		l.text("material", e.Material)
		l.texts("panels", e.Panels)
		l.whole("coats", e.Coats)
		l.moment("at", e.At, zone)
		l.number("temperature_c", e.Temperature)
		l.texts("sent", k.Sent)
		return "coats"
	case shop.StockMoved:
		l.text("kind", e.Kind.String())
		l.text("material", e.Material)
		l.figure("amount", e.Amount.Float())
		l.text("job", e.Job)
		l.text("batch", e.Batch)
		l.text("expires", e.Expires.String())
		l.text("why", e.Why)
		return "stock_moves"
	case shop.HoursLogged:
		l.text("job", e.Job)
		l.texts("people", e.People)
		l.figure("hours", e.Hours.Float())
		l.text("work", one(e.Task > 0, e.Stage.String(), strconv.Itoa(e.Task)))
		l.text("day", e.Day.String())
		return "hours"
	case shop.TorqueRecorded:
		l.text("job", e.Job)
		l.text("fastener", e.Fastener)
		l.figure("torque_nm", e.Torque)
		l.whole("count", e.Count)
		return "torque_signoffs"
	case shop.GapRecorded:
		l.place(e.Job, e.Panel, e.Side)
		l.text("end", e.End.String())
		l.text("edge", e.Edge.String())
		l.figure("gap_mm", e.Gaps...)
		l.figure("flush_mm", e.Flush...)
		return "gap_readings"
	case shop.NoteAdded:
		l.place(e.Job, e.Panel, e.Side)
		l.text("text", e.Text)
		return "notes"
	case shop.ReminderSet:
		l.moment("at", e.At, zone)
		l.text("text", e.Text)
		l.text("job", e.Job)
		l.text("channel", e.Channel)
		l.text("who", e.Who)
		l.truth("sent", len(k.Sent) > 0)
		return "reminders"
	case shop.NoticeSent:
		part, person, day, _ := e.Of()
		l.whole("part", part)
		l.text("person", person)
		l.text("day", day.String())
		return "notices_sent"
	}
	return l.thing(k.Event)
}

// thing writes what goes by a number.
func (l line) thing(e shop.Event) string {
	switch e := e.(type) {
	case shop.TaskAdded:
		l.whole("id", e.Number)
		l.text("job", e.Job)
		l.text("title", e.Title)
		l.text("stage", e.Stage.String())
		if e.High > 0 {
			l.figure("hours", e.Low, e.Likely, e.High)
		}
		l.wholes("after", e.After)
		l.text("state", e.State)
		l.text("who", e.Who)
		l.text("needs_part", e.NeedsPart)
		return "tasks"
	case shop.FindRecorded:
		l.whole("id", e.Number)
		l.place(e.Job, e.Panel, e.Side)
		l.text("end", e.End.String())
		l.text("kind", e.Kind.String())
		l.number("width_mm", e.Width)
		l.number("height_mm", e.Height)
		l.number("diameter_mm", e.Diameter)
		l.number("depth_mm", e.Depth)
		l.whole("count", e.Count)
		l.text("note", e.Note)
		l.text("state", one(e.Repaired, "open", "repaired"))
		return "finds"
	case shop.PartOrdered:
		l.whole("id", e.Number)
		l.text("job", e.Job)
		l.text("part", e.Part)
		l.text("side", e.Side.String())
		l.whole("quantity", e.Quantity)
		l.text("supplier", e.Supplier)
		l.text("origin", e.Origin)
		l.number("price", e.Price)
		l.text("ordered", e.Ordered.String())
		l.text("due", e.Due.String())
		l.text("state", e.State)
		l.text("condition", e.Condition)
		l.text("arrived", e.Arrived.String())
		l.truth("trial_fitted", e.TrialFitted)
		return "parts"
	case shop.ExtraProposed:
		l.whole("id", e.Number)
		l.text("job", e.Job)
		l.text("text", e.Text)
		l.number("hours", e.Hours)
		l.number("parts", e.Parts)
		l.text("state", one(e.State == "", e.State, shop.Proposed))
		l.number("materials_cost", e.Materials)
		l.number("rate", e.Rate)
		l.wholes("finds", e.Finds)
		l.text("stage", e.Stage.String())
		l.text("hours_from", e.HoursFrom)
		return "extras"
	case shop.SnagAdded:
		l.whole("id", e.Number)
		l.text("job", e.Job)
		l.text("text", e.Text)
		l.text("state", one(e.Closed, "open", "closed"))
		return "snags"
	}
	return ""
}

// progress writes what becomes of things.
func (l line) progress(e shop.Event) string {
	about := func(what string, number int, job string) {
		l.whole(what, number)
		l.text("job", job)
	}
	switch e := e.(type) {
	case shop.BriefAdded:
		about("line", e.Number, e.Job)
		l.text("text", e.Text)
		return "brief_lines"
	case shop.BriefMet:
		about("line", e.Number, e.Job)
		l.text("text", e.How)
		return "brief_met"
	case shop.TaskStarted:
		about("task", e.Number, e.Job)
		l.text("who", e.Who)
		return "task_starts"
	case shop.TaskFinished:
		about("task", e.Number, e.Job)
		l.text("who", e.Who)
		return "task_ends"
	case shop.PartDueChanged:
		about("part", e.Number, e.Job)
		l.text("due", e.Due.String())
		l.text("why", e.Why)
		return "due_changes"
	case shop.PartArrived:
		about("part", e.Number, e.Job)
		l.whole("quantity", e.Quantity)
		l.text("condition", e.Condition)
		return "part_arrivals"
	case shop.PartFitted:
		about("part", e.Number, e.Job)
		l.truth("trial", e.Trial)
		l.text("note", e.Note)
		return "part_fittings"
	case shop.PartReturned:
		about("part", e.Number, e.Job)
		l.text("why", e.Why)
		return "part_returns"
	case shop.FindClosed:
		about("find", e.Number, e.Job)
		return "find_closings"
	case shop.SnagClosed:
		about("snag", e.Number, e.Job)
		return "snag_closings"
	case shop.ExtraDecided:
		about("extra", e.Number, e.Job)
		l["agreed"] = cell{[]string{strconv.FormatBool(e.Agreed)}, true}
		return "extra_decisions"
	}
	return ""
}
