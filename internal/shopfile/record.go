package shopfile

import (
	"fmt"
	"slices"

	"bayword/internal/shop"
)

// task reads a task; it may come after another further down.
func (f *file) task(o object) {
	stage, _ := shop.ParseStage(o.oneOf("stage", true, shop.Stages()...))
	e := shop.TaskAdded{
		Job: o.of("job", true, f.jobs), Title: o.text("title", true), Stage: stage,
		State: o.oneOf("state", true, shop.Waiting, shop.Doing, shop.Done), Who: o.of("who", false, f.people), NeedsPart: o.text("needs_part", false),
	}
	e.Number = o.numbered(f.tasks, e.Job)
	if h := o.figures("hours", 0, 10_000); len(h) == 3 && h[0] <= h[1] && h[1] <= h[2] {
		e.Low, e.Likely, e.High = h[0], h[1], h[2]
	} else if at := o.at["hours"]; at != nil {
		o.wrong(at, "tasks hours", fmt.Sprint(h), "must be low, likely and high, each no less than the one before")
	}
	for _, n := range o.list("after") {
		after := o.wholeAt(n, "after", 1, maxNumber)
		e.After = append(e.After, after)
		f.check(func() {
			if _, ok := f.tasks[after]; !ok && after > 0 {
				o.wrong(n, "tasks after", value(n), "must be the id of a task")
			}
		})
	}
	f.stageOf[taskKey(e.Number)] = stage
	f.add(o, e)
}

func (f *file) find(o object) {
	kind, _ := shop.ParseFindKind(o.oneOf("kind", true, shop.FindKinds()...))
	e := shop.FindRecorded{
		Job: o.of("job", true, f.jobs), Panel: o.panel(), Side: o.side(), End: o.end(), Kind: kind,
		Width: o.number("width_mm", false, 0.5, 6000), Height: o.number("height_mm", false, 0.5, 6000),
		Diameter: o.number("diameter_mm", false, 0.5, 6000), Depth: o.number("depth_mm", false, 0.05, 200),
		Count: o.whole("count", false, 1, 500), Note: o.text("note", false),
		Repaired: o.oneOf("state", true, "open", "repaired") == "repaired",
	}
	e.Number = o.numbered(f.finds, e.Job)
	if e.Side == 0 && shop.Sided(e.Panel) {
		o.need("side")
	}
	f.add(o, e)
}

// part reads a part on order. Who ordered one may have named any supplier, and so
// may who changed one that came with an import, which an export tells by its now.
func (f *file) part(o object) {
	e := shop.PartOrdered{
		Job: o.of("job", true, f.jobs), Part: o.text("part", true), Side: o.side(),
		Quantity: 1, Origin: o.text("origin", false), Price: o.number("price", false, 0, 10_000_000),
		Ordered: o.day("ordered"), Due: o.day("due"), State: o.oneOf("state", true, shop.Ordered, shop.Arrived, shop.Fitted, shop.Returned),
		Condition: o.text("condition", false), Arrived: o.day("arrived"), TrialFitted: o.truth("trial_fitted"),
	}
	e.Number = o.numbered(f.parts, e.Job)
	if said(o) || o.at["now"] != nil {
		e.Supplier = o.text("supplier", false)
	} else {
		e.Supplier = o.of("supplier", false, f.suppliers)
	}
	if _, ok := o.at["quantity"]; ok {
		e.Quantity = o.whole("quantity", true, 1, 10_000)
	}
	f.add(o, e)
}

func (f *file) coat(o object) {
	e := shop.CoatRecorded{
		Job: o.of("job", true, f.jobs), Material: o.of("material", true, f.materials), Panels: o.texts("panels"),
		Coats: o.whole("coats", true, 1, 50), At: o.moment("at", true, f.zone), Temperature: o.number("temperature_c", false, -30, 60),
	}
	for _, n := range o.list("panels") {
		if !slices.Contains(shop.Panels(), n.Value) {
			o.wrong(n, "coats panels", value(n), "must be a panel")
		}
	}
	for _, n := range o.list("sent") {
		if !shop.IsCoatTold(n.Value) {
			o.wrong(n, "coats sent", value(n), "must be such as sand-2026-03-10T19:30, or begin with pot or closes")
		}
	}
	f.add(o, e)
}

func (f *file) extra(o object) {
	stage, _ := shop.ParseStage(o.oneOf("stage", false, shop.Stages()...))
	e := shop.ExtraProposed{
		Job: o.of("job", true, f.jobs), Text: o.text("text", true), Hours: o.number("hours", false, 0, 10_000),
		Parts: o.number("parts", false, 0, 10_000_000), State: o.oneOf("state", true, shop.Proposed, shop.Agreed, shop.Declined),
		Materials: o.number("materials_cost", false, 0, 10_000_000), Rate: o.number("rate", false, 0, 10_000), Stage: stage,
		HoursFrom: o.text("hours_from", false),
	}
	e.Number = o.numbered(f.extras, e.Job)
	for _, n := range o.list("finds") {
		number := o.wholeAt(n, "finds", 1, maxNumber)
		e.Finds = append(e.Finds, number)
		if _, ok := f.finds[number]; !ok && number > 0 {
			o.wrong(n, "extras finds", value(n), "must be the id of a find")
		}
	}
	f.add(o, e)
}

func (f *file) snag(o object) {
	e := shop.SnagAdded{
		Job: o.of("job", true, f.jobs), Text: o.text("text", true), Closed: o.oneOf("state", true, "open", "closed") == "closed",
	}
	e.Number = o.numbered(f.snags, e.Job)
	f.add(o, e)
}

// hours reads hours of work. With no work they count to the stage the job is at.
func (f *file) hours(o object) {
	e := shop.HoursLogged{
		Job: o.of("job", true, f.jobs), People: o.texts("people"), Hours: shop.MicroOf(o.number("hours", true, 0.000001, 1000)), Day: o.day("day"),
	}
	for i, n := range o.list("people") {
		if !f.people.has(n.Value) {
			o.wrong(n, "hours people", value(n), "accepted are "+fmt.Sprint(f.people.names()))
		} else if slices.Contains(e.People[:min(i, len(e.People))], n.Value) {
			o.wrong(n, "hours people", value(n), "must come once")
		}
	}
	if len(e.People) == 0 {
		o.need("people")
	}
	if o.at["day"] == nil {
		o.need("day")
	}
	e.Stage, e.Task = f.work(o, e.Job)
	f.add(o, e)
}

func (f *file) move(o object) {
	kinds := []string{shop.Use.String(), shop.Delivery.String(), shop.Count.String(), shop.Waste.String()}
	f.add(o, shop.StockMoved{
		Kind:     shop.MoveKind(slices.Index(kinds, o.oneOf("kind", true, kinds...)) + 1),
		Material: o.of("material", true, f.materials), Amount: o.micro("amount", true), Job: o.of("job", false, f.jobs),
		Batch: o.text("batch", false), Expires: o.day("expires"), Why: o.text("why", false),
	})
}

func (f *file) signOff(o object) {
	f.add(o, shop.TorqueRecorded{
		Job: o.of("job", true, f.jobs), Fastener: o.text("fastener", true), Torque: o.number("torque_nm", true, 0.5, 1500), Count: o.whole("count", false, 1, 500),
	})
}

func (f *file) reading(o object) {
	e := shop.GapRecorded{
		Job: o.of("job", true, f.jobs), Panel: o.panel(), Side: o.side(), End: o.end(), Edge: o.edge("edge"),
		Gaps: o.figures("gap_mm", 0, 40), Flush: o.figures("flush_mm", -20, 20),
	}
	if e.Side == 0 && shop.Sided(e.Panel) {
		o.need("side")
	}
	if len(e.Gaps)+len(e.Flush) == 0 {
		o.need("gap_mm")
	}
	f.add(o, e)
}

func (f *file) note(o object) {
	f.add(o, shop.NoteAdded{Job: o.of("job", false, f.jobs), Text: o.text("text", true), Panel: o.oneOf("panel", false, shop.Panels()...), Side: o.side()})
}

// reminder reads a reminder. One that is told to a person alone must be somebody's.
func (f *file) reminder(o object) {
	e := shop.ReminderSet{
		At: o.moment("at", true, f.zone), Text: o.text("text", true), Job: o.of("job", false, f.jobs), Channel: o.text("channel", !said(o)),
		Who: o.of("who", false, f.people),
	}
	if e.Channel == shop.Direct && !said(o) {
		o.need("by")
	}
	f.add(o, e)
}

// noticeSent reads a notice that was sent, of a part or to a lead in the morning.
func (f *file) noticeSent(o object) {
	if o.at["day"] == nil {
		o.need("day")
	}
	e, day := shop.NoticeSent{}, o.day("day")
	if n := o.at["person"]; n != nil && o.at["part"] != nil {
		o.wrong(n, "notices_sent person", value(n), "must not stand beside part")
	} else if n != nil {
		e.ID = shop.MorningNotice(day, o.of("person", true, f.people))
	} else {
		e.ID = shop.PartNotice(o.about("part", f.parts), day)
	}
	f.add(o, e)
}
