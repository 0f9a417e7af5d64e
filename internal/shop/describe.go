package shop

import (
	"fmt"
	"strconv"
	"strings"
)

type fieldText struct{ name, text string }

// fieldsOf gives the fields of a record that can be amended, as text; empty for
// what was not said.
func (s *State) fieldsOf(e Event) []fieldText {
	switch e := e.(type) {
	case StockMoved:
		return []fieldText{{"material", e.Material}, {"amount", e.Amount.String()}, {"job", e.Job}, {"batch", e.Batch}, {"expires", e.Expires.String()}, {"why", e.Why}}
	case HoursLogged:
		work := e.Stage.String()
		if e.Task > 0 {
			work = strconv.Itoa(e.Task)
		}
		return []fieldText{{"job", e.Job}, {"people", joined(e.People)}, {"hours", e.Hours.String()}, {"work", work}, {"day", e.Day.String()}}
	case FindRecorded:
		return []fieldText{
			{"job", e.Job}, {"panel", e.Panel}, {"side", e.Side.String()}, {"end", e.End.String()}, {"kind", e.Kind.String()},
			{"width_mm", size(e.Width)}, {"height_mm", size(e.Height)}, {"diameter_mm", size(e.Diameter)}, {"depth_mm", size(e.Depth)},
			{"count", size(float64(e.Count))}, {"note", e.Note},
		}
	case FindClosed:
		return []fieldText{{"find", strconv.Itoa(e.Number)}}
	case TorqueRecorded:
		return []fieldText{{"job", e.Job}, {"fastener", e.Fastener}, {"torque_nm", number(e.Torque)}, {"count", size(float64(e.Count))}}
	case TorqueSet:
		return []fieldText{{"job", e.Job}, {"fastener", e.Fastener}, {"torque_nm", number(e.Torque)}, {"source", e.Source}}
	case GapRecorded:
		return []fieldText{
			{"job", e.Job}, {"panel", e.Panel}, {"side", e.Side.String()}, {"end", e.End.String()}, {"edge", e.Edge.String()},
			{"gap_mm", numbers(e.Gaps)}, {"flush_mm", numbers(e.Flush)},
		}
	case GapSet:
		return []fieldText{
			{"job", e.Job}, {"panel", e.Panel}, {"side", e.Side.String()}, {"edge", e.Edge.String()},
			{"target_mm", number(e.Target)}, {"tolerance_mm", number(e.Tolerance)}, {"source", e.Source},
		}
	case NoteAdded:
		return []fieldText{{"job", e.Job}, {"text", e.Text}, {"panel", e.Panel}, {"side", e.Side.String()}}
	case CoatRecorded:
		return []fieldText{
			{"job", e.Job}, {"material", e.Material}, {"panels", joined(e.Panels)}, {"coats", size(float64(e.Coats))},
			{"at", s.Local(e.At)}, {"temperature_c", size(e.Temperature)},
		}
	}
	return nil
}

func size(v float64) string {
	if v == 0 {
		return ""
	}
	return number(v)
}

func numbers(vs []float64) string {
	texts := make([]string, len(vs))
	for i, v := range vs {
		texts[i] = number(v)
	}
	return strings.Join(texts, " ")
}

// diff says what changed, one line a field: "amount 1 -> 3".
func (s *State) diff(was, now Event) []string {
	before, after := s.fieldsOf(was), s.fieldsOf(now)
	var lines []string
	for i := range min(len(before), len(after)) {
		if b, a := before[i].text, after[i].text; b != a {
			lines = append(lines, fmt.Sprintf("%s %s -> %s", before[i].name, or(b, "-"), or(a, "-")))
		}
	}
	return lines
}

// line says a record in one line, for the history.
func (s *State) line(i uint32) string {
	switch e := s.event(i).(type) {
	case StockMoved:
		m := s.materials[s.recs[i].ref]
		return fmt.Sprintf("%s %s of %s used", e.Amount, m.Unit, m.Name)
	case HoursLogged:
		work := e.Stage.String()
		if e.Task > 0 {
			work = s.TaskName(e.Job, e.Task)
		}
		names := make([]string, len(e.People))
		for k, p := range e.People {
			names[k] = s.nameOf(p)
		}
		return fmt.Sprintf("%s hours each, %s, %s, on %s", e.Hours, work, joined(names), e.Day)
	case FindRecorded:
		return fmt.Sprintf("find %d: %s", e.Number, e.Text())
	case FindClosed:
		if f, ok := s.findAt[e.Number]; ok {
			e := s.findOf(f)
			return fmt.Sprintf("find %d repaired: %s", e.Number, e.Text())
		}
		return fmt.Sprintf("find %d repaired", e.Number)
	case TorqueRecorded:
		count := ""
		if e.Count > 0 {
			count = strconv.Itoa(e.Count) + " × "
		}
		return fmt.Sprintf("%s%s tightened to %s N·m", count, e.Fastener, number(e.Torque))
	case TorqueSet:
		return strings.TrimSuffix(fmt.Sprintf("book torque of %s set to %s N·m, %s", e.Fastener, number(e.Torque), e.Source), ", ")
	case GapRecorded:
		text := fmt.Sprintf("%s, %s edge:", placeName(e.Panel, e.Side, e.End), e.Edge)
		if e.Edge == 0 { // the side is the edge
			text = fmt.Sprintf("%s, %s edge:", e.Panel, e.Side)
		}
		if len(e.Gaps) > 0 {
			text += " gap " + numbers(e.Gaps) + " mm"
		}
		if len(e.Flush) > 0 {
			text += " flush " + numbers(e.Flush) + " mm"
		}
		return text
	case GapSet:
		edge := ""
		if e.Edge != 0 {
			edge = ", " + e.Edge.String() + " edge"
		}
		return fmt.Sprintf("target gap of %s%s set to %s ±%s mm", placeName(e.Panel, e.Side, 0), edge, number(e.Target), number(e.Tolerance))
	case NoteAdded:
		return "note: " + e.Text
	case TaskAdded:
		return fmt.Sprintf("task %d %s: %s", e.Number, e.State, e.Title)
	case PartOrdered:
		return strings.TrimSuffix(fmt.Sprintf("%s %s, %d, %s", e.State, placeName(e.Part, e.Side, 0), e.Quantity, e.Supplier), ", ")
	case CoatRecorded:
		return s.coatText(e)
	case ExtraProposed:
		return fmt.Sprintf("extra %d %s: %s", e.Number, e.State, e.Text)
	case SnagAdded:
		return fmt.Sprintf("snag %d: %s", e.Number, e.Text)
	}
	return ""
}
