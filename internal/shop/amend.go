package shop

import (
	"fmt"
	"slices"
	"strconv"
	"time"
)

// Changes are the fields an amendment changes; zero values are not changed.
type Changes struct {
	Job, Panel                     string
	Side                           Side
	End                            End
	Edge                           Edge
	Kind                           FindKind
	Width, Height, Diameter, Depth *float64
	Count                          *int
	Note                           string
	Fastener                       string
	Torque                         *float64
	Source                         string
	Gaps, Flush                    []float64
	Target, Tolerance              *float64
	Material                       string
	Amount                         *float64
	Batch, Expires, Why            string
	People                         []string
	Hours                          *float64
	Work, Day, Text                string
	Find                           *int
	Panels                         []string
	Coats                          *int
	At                             string
	Temperature                    *float64
	Title, Task, Who               string
	Low, High                      *float64
	Part                           string
	Quantity                       *int
	Supplier, Due                  string
	Price                          *float64
	Condition, Provenance          string
	PartsCost, MaterialsCost       *float64
	Finds                          []int
	Extra, Snag                    *int
	Agreed                         *bool
}

// given names the fields that are changed.
func (c Changes) given() []string {
	var names []string
	for _, f := range []struct {
		name string
		set  bool
	}{
		{"job", c.Job != ""}, {"panel", c.Panel != ""}, {"side", c.Side != 0}, {"end", c.End != 0}, {"edge", c.Edge != 0},
		{"kind", c.Kind != 0}, {"width_mm", c.Width != nil}, {"height_mm", c.Height != nil}, {"diameter_mm", c.Diameter != nil},
		{"depth_mm", c.Depth != nil}, {"count", c.Count != nil}, {"note", c.Note != ""}, {"fastener", c.Fastener != ""},
		{"torque_nm", c.Torque != nil}, {"source", c.Source != ""}, {"gap_mm", len(c.Gaps) > 0}, {"flush_mm", len(c.Flush) > 0},
		{"target_mm", c.Target != nil}, {"tolerance_mm", c.Tolerance != nil}, {"material", c.Material != ""},
		{"amount", c.Amount != nil}, {"batch", c.Batch != ""}, {"expires", c.Expires != ""}, {"why", c.Why != ""},
		{"people", len(c.People) > 0}, {"hours", c.Hours != nil}, {"work", c.Work != ""}, {"day", c.Day != ""},
		{"text", c.Text != ""}, {"find", c.Find != nil}, {"panels", len(c.Panels) > 0}, {"coats", c.Coats != nil},
		{"at", c.At != ""}, {"temperature_c", c.Temperature != nil},
		{"title", c.Title != ""}, {"task", c.Task != ""}, {"who", c.Who != ""}, {"low_hours", c.Low != nil}, {"high_hours", c.High != nil},
		{"part", c.Part != ""}, {"quantity", c.Quantity != nil}, {"supplier", c.Supplier != ""}, {"due", c.Due != ""},
		{"price", c.Price != nil}, {"condition", c.Condition != ""}, {"provenance", c.Provenance != ""},
		{"parts_cost", c.PartsCost != nil}, {"materials_cost", c.MaterialsCost != nil}, {"finds", len(c.Finds) > 0},
		{"extra", c.Extra != nil}, {"snag", c.Snag != nil}, {"agreed", c.Agreed != nil},
	} {
		if f.set {
			names = append(names, f.name)
		}
	}
	return names
}

// amendable says which fields of a kind of record can be changed.
var amendable = map[recKind][]string{
	recUse:       {"material", "amount", "job"},
	recDelivery:  {"material", "amount", "batch", "expires"},
	recCount:     {"material", "amount"},
	recWaste:     {"material", "amount", "why"},
	recHours:     {"job", "people", "hours", "work", "day"},
	recFind:      {"job", "panel", "side", "end", "kind", "width_mm", "height_mm", "diameter_mm", "depth_mm", "count", "note"},
	recClosing:   {"job", "find", "panel", "side"},
	recTorque:    {"job", "fastener", "torque_nm", "count"},
	recTorqueSet: {"job", "fastener", "torque_nm", "source"},
	recGap:       {"job", "panel", "side", "end", "edge", "gap_mm", "flush_mm"},
	recGapSet:    {"job", "panel", "side", "edge", "target_mm", "tolerance_mm", "source"},
	recNote:      {"job", "text", "panel", "side"},
	recCoat:      {"job", "material", "panels", "coats", "at", "temperature_c"},
	recJob:       {},
	recMaterial:  {},

	recTask:        {"job", "title", "hours", "low_hours", "high_hours", "who"},
	recTaskStart:   {"task", "who"},
	recTaskEnd:     {"task", "who"},
	recPart:        {"job", "part", "side", "quantity", "supplier", "due", "price", "provenance", "condition"},
	recArrival:     {"part", "side", "quantity", "condition"},
	recFitting:     {"part", "side", "note"},
	recReturn:      {"part", "side", "why"},
	recDueChange:   {"part", "side", "due", "why"},
	recBrief:       {"text"},
	recBriefMet:    {"text"},
	recSnag:        {"job", "text"},
	recSnagClosing: {"snag"},
	recExtra:       {"job", "text", "hours", "parts_cost", "materials_cost", "finds"},
	recDecision:    {"extra", "agreed"},
	recReminder:    {"at", "text", "job"},
}

// own finds the record that a person may change: the one an entry made, or for
// entry 0 their own last one that still stands.
func (s *State) own(person string, entry uint64) (uint32, error) {
	if err := s.may(person, taskChangeRecord); err != nil {
		return 0, err
	}
	who := s.personAt[person]
	if entry == 0 {
		for i, r := range slices.Backward(s.recs) {
			if r.by == who && r.flags&undone == 0 {
				return uint32(i), nil
			}
		}
		return 0, refuse(NothingToChange, "what", "nothing of yours stands on record")
	}
	i, ok := s.find(entry)
	if !ok && entry <= s.seq {
		return 0, refuse(NothingToChange, "what", "that set a name, a channel or a size, which cannot be taken back: say it anew as it should be")
	}
	if !ok {
		return 0, refuse(NotFound, "field", "entry", "value", strconv.FormatUint(entry, 10))
	}
	r := s.recs[i]
	if _, ok := amendable[r.kind]; !ok {
		return 0, refuse(NotFound, "field", "entry", "value", strconv.FormatUint(entry, 10))
	}
	if role := s.people[who].Role; r.by != who && role != Lead {
		what := "change what " + s.people[r.by].Name + " recorded"
		if r.by == 0 {
			what = string(taskImported)
		}
		return 0, refuse(NotAllowed, "person", person, "role", role.String(), "needs", Lead.String(), "what", what)
	}
	return i, s.may(person, s.making(i))
}

// DecideUndo decides the taking back of a record. The entry of its Event is the
// record's own.
func (s *State) DecideUndo(by string, entry uint64) (Decision, error) {
	i, err := s.own(by, entry)
	if err != nil {
		return Decision{}, err
	}
	r := s.recs[i]
	if r.flags&undone != 0 {
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("record %d was taken back", r.seq))
	}
	if err := s.unused(i); err != nil {
		return Decision{}, err
	}
	d := Decision{Event: Undone{uint64(r.seq)}}
	s.set(i, func() {
		d.Warnings = s.negative(r)
	})
	return d, nil
}

// set runs fn with a record taken out, then puts it back as it was.
func (s *State) set(i uint32, fn func()) {
	names, r, detail := s.names, s.recs[i], s.details[i]
	s.unlink(i)
	fn()
	s.put(i, r, detail)
	s.link(i)
	s.names = names
}

// negative warns when a material's shelf works out at less than nothing.
func (s *State) negative(r rec) []string {
	if !r.kind.isMove() {
		return nil
	}
	if m := s.materials[r.ref]; m.shelf.Now() < 0 {
		return []string{fmt.Sprintf("The shelf of %s now works out at %s %s: count it.", m.Name, m.shelf.Now(), m.Unit)}
	}
	return nil
}

// unused refuses when something hangs on a job or a material.
func (s *State) unused(i uint32) error {
	if t, makes, ok := thingOf(s.recs[i], s.details[i]); ok && makes && len(s.about[t]) > 0 {
		return refuse(InUse, "what", s.line(i), "records", strconv.Itoa(len(s.about[t])))
	}
	var what string
	n := 0
	switch r := s.recs[i]; r.kind {
	case recJob:
		j := s.jobs[r.job]
		what, n = "job "+j.ID, len(j.recs)+len(j.bulk)
		for _, c := range s.channels {
			if c.Job == j.ID {
				n++
			}
		}
	case recMaterial:
		m := s.materials[r.ref]
		what, n = "material "+m.ID, len(m.moves)
		for _, other := range s.materials[1:] {
			if !other.gone && other.Paint != nil && slices.Contains(other.Paint.With, m.ID) {
				n++
			}
		}
		for k, other := range s.details {
			if e, ok := other.(CoatRecorded); ok && e.Material == m.ID && s.recs[k].flags&undone == 0 {
				n++
			}
		}
	case recTask:
		e, _ := s.details[i].(TaskAdded)
		what, n = "task "+e.Name(), s.hanging(e)
	}
	if n == 0 {
		return nil
	}
	return refuse(InUse, "what", what, "records", strconv.Itoa(n))
}

// DecideAmend decides a change of a record, by the rules that made it. The entry
// of its Event is the record's own. now is in the shop's time zone.
func (s *State) DecideAmend(by string, now time.Time, entry uint64, c Changes) (Decision, error) {
	i, err := s.own(by, entry)
	if err != nil {
		return Decision{}, err
	}
	r := s.recs[i]
	if r.flags&undone != 0 {
		return Decision{}, refuse(NothingToChange, "what", fmt.Sprintf("record %d was taken back", r.seq))
	}
	given := c.given()
	if len(given) == 0 {
		return Decision{}, refuse(NothingToChange, "what", "no field was given; this record has "+joined(amendable[r.kind]))
	}
	for _, f := range given {
		if !slices.Contains(amendable[r.kind], f) {
			return Decision{}, refuse(CannotAmend, "field", f, "what", string(kindTasks[r.kind]))
		}
	}
	before := s.event(i)
	var d Decision
	s.set(i, func() {
		if d, err = s.redecide(before, c, now, i); err != nil {
			return
		}
		next, detail, cerr := s.compact(d.Event)
		if cerr != nil {
			err = cerr
			return
		}
		next.seq, next.by, next.at = r.seq, r.by, r.at
		s.put(i, next, detail)
		s.link(i)
		d.Warnings = append(d.Warnings, s.negative(next)...)
		s.unlink(i)
		if next.ref != r.ref {
			s.put(i, r, nil)
			d.Warnings = append(d.Warnings, s.negative(r)...)
		}
	})
	if err != nil {
		return Decision{}, err
	}
	d.Changes = s.diff(before, d.Event)
	if len(d.Changes) == 0 {
		return Decision{}, refuse(AlreadyDone, "what", "it says so already")
	}
	d.Event = Amended{uint64(r.seq), d.Event}
	return d, nil
}

func or[T comparable](changed, was T) T {
	var zero T
	if changed != zero {
		return changed
	}
	return was
}

func orList[T any](changed, was []T) []T {
	if len(changed) > 0 {
		return changed
	}
	return was
}

// orSize keeps a size; zero on record is not said.
func orSize(changed *float64, was float64) *float64 {
	if changed == nil && was != 0 {
		return &was
	}
	return changed
}

func orCount(changed *int, was int) *int {
	if changed == nil && was != 0 {
		return &was
	}
	return changed
}

func orValue(changed *float64, was float64) *float64 {
	if changed == nil {
		return &was
	}
	return changed
}

// sideAfter drops a side that a new panel does not have.
func sideAfter(c Changes, was Side) Side {
	if c.Side == 0 && c.Panel != "" && !Sided(c.Panel) {
		return 0
	}
	return or(c.Side, was)
}

// redecide decides what a record says with its changes. The record itself is
// taken out of the state; it stands at i.
func (s *State) redecide(was Event, c Changes, now time.Time, i uint32) (Decision, error) {
	switch e := was.(type) {
	case StockMoved:
		m := Move{
			Kind: e.Kind, Material: or(c.Material, e.Material), Amount: orValue(c.Amount, e.Amount.Float()), Job: or(c.Job, e.Job),
			Batch: or(c.Batch, e.Batch), Expires: or(c.Expires, e.Expires.String()), Why: or(c.Why, e.Why),
		}
		return s.decideMove(now, m, i)
	case HoursLogged:
		work := e.Stage.String()
		if e.Task > 0 {
			work = strconv.Itoa(e.Task)
		}
		return s.decideHours(now, NewHours{
			Job: or(c.Job, e.Job), People: orList(c.People, e.People), Hours: orValue(c.Hours, e.Hours.Float()),
			Work: or(c.Work, work), Day: or(c.Day, e.Day.String()),
		})
	case FindRecorded:
		return s.refind(e, c)
	case FindClosed:
		return s.reclose(e, c)
	case TorqueRecorded:
		return s.decideSignOff(NewTorque{
			Job: or(c.Job, e.Job), Fastener: or(c.Fastener, e.Fastener),
			Torque: orValue(c.Torque, e.Torque), Count: orCount(c.Count, e.Count),
		})
	case TorqueSet:
		d, err := s.decideTorqueSet(NewTorque{
			Job: or(c.Job, e.Job), Fastener: or(c.Fastener, e.Fastener),
			Torque: orValue(c.Torque, e.Torque), Source: or(c.Source, e.Source),
		})
		if now, ok := d.Event.(TorqueSet); ok && normalFastener(now.Fastener) == normalFastener(e.Fastener) {
			now.Fastener, now.Thread, now.Critical = e.Fastener, or(now.Thread, e.Thread), now.Critical || e.Critical
			if now.Torque == e.Torque {
				now.Stages = e.Stages
			}
			d.Event = now
		}
		return d, err
	case GapRecorded:
		return s.decideGap(NewGap{
			Where{or(c.Job, e.Job), or(c.Panel, e.Panel), sideAfter(c, e.Side), or(c.End, e.End), or(c.Edge, e.Edge)},
			orList(c.Gaps, e.Gaps), orList(c.Flush, e.Flush),
		})
	case GapSet:
		d, err := s.decideTarget(NewTarget{
			Job: or(c.Job, e.Job), Panel: or(c.Panel, e.Panel), Side: sideAfter(c, e.Side), Edge: or(c.Edge, e.Edge),
			Target: orValue(c.Target, e.Target), Tolerance: orValue(c.Tolerance, e.Tolerance), Source: or(c.Source, e.Source),
		})
		if now, ok := d.Event.(GapSet); ok {
			now.FlushTolerance = e.FlushTolerance
			d.Event = now
		}
		return d, err
	case NoteAdded:
		return s.decideNote(NewNote{or(c.Job, e.Job), or(c.Text, e.Text), or(c.Panel, e.Panel), sideAfter(c, e.Side)})
	case CoatRecorded:
		return s.recoat(e, c, now)
	case TaskAdded:
		return s.retask(e, c)
	case TaskStarted:
		return s.restart(e, c, now)
	case TaskFinished:
		return s.refinish(e, c, now)
	case PartOrdered:
		return s.reorder(e, c, now)
	case PartArrived:
		return s.rearrive(e, c, now)
	case PartFitted:
		return s.refit(e, c, now)
	case PartReturned:
		return s.rereturn(e, c, now)
	case PartDueChanged:
		return s.redue(e, c, now)
	case BriefAdded:
		return s.rebrief(e, c)
	case BriefMet:
		return s.remeet(e, c)
	case SnagAdded:
		return s.resnag(e, c)
	case SnagClosed:
		return s.remend(e, c)
	case ExtraProposed:
		return s.reprice(e, c)
	case ExtraDecided:
		return s.rejudge(e, c)
	case ReminderSet:
		return s.reremind(e, c, now)
	}
	return Decision{}, refuse(CannotAmend, "field", c.given()[0], "what", fmt.Sprintf("%T", was))
}

// refind changes a find. A diameter replaces width and height, and they it: one
// place has one size.
func (s *State) refind(e FindRecorded, c Changes) (Decision, error) {
	if c.Diameter != nil && c.Width == nil && c.Height == nil {
		e.Width, e.Height = 0, 0
	}
	if c.Diameter == nil && (c.Width != nil || c.Height != nil) {
		e.Diameter = 0
	}
	d, err := s.decideFind(NewFind{
		Job: or(c.Job, e.Job), Panel: or(c.Panel, e.Panel), Side: sideAfter(c, e.Side), End: or(c.End, e.End), Kind: or(c.Kind, e.Kind),
		Width: orSize(c.Width, e.Width), Height: orSize(c.Height, e.Height),
		Diameter: orSize(c.Diameter, e.Diameter), Depth: orSize(c.Depth, e.Depth),
		Count: orCount(c.Count, e.Count), Note: or(c.Note, e.Note),
	}, e.Number)
	if now, ok := d.Event.(FindRecorded); ok {
		now.Repaired = e.Repaired
		d.Event = now
	}
	return d, err
}

// reclose changes which find a closing was about: by number, or by what of its
// place was wrong.
func (s *State) reclose(e FindClosed, c Changes) (Decision, error) {
	if c.Find != nil {
		return s.decideClosing(Closing{Job: c.Job, Number: c.Find})
	}
	r := Closing{Job: or(c.Job, e.Job), Panel: c.Panel, Side: c.Side}
	if i, ok := s.findAt[e.Number]; ok {
		f := s.findOf(i)
		r.Panel, r.Side = or(c.Panel, f.Panel), sideAfter(c, f.Side)
	}
	return s.decideClosing(r)
}
