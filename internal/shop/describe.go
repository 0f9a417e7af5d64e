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
	case TaskAdded:
		return []fieldText{
			{"job", e.Job}, {"title", e.Title}, {"hours", size(e.Likely)}, {"low_hours", size(e.Low)}, {"high_hours", size(e.High)}, {"who", e.Who},
		}
	case TaskStarted:
		return []fieldText{{"task", s.taskName(e.Number)}, {"who", e.Who}}
	case TaskFinished:
		return []fieldText{{"task", s.taskName(e.Number)}, {"who", e.Who}}
	case PartOrdered:
		return []fieldText{
			{"job", e.Job}, {"part", e.Part}, {"side", e.Side.String()}, {"quantity", size(float64(e.Quantity))}, {"supplier", e.Supplier},
			{"due", e.Due.String()}, {"price", size(e.Price)}, {"provenance", e.Origin}, {"condition", e.Condition},
		}
	case PartArrived:
		return []fieldText{{"part", s.partName(e.Number)}, {"quantity", size(float64(e.Quantity))}, {"condition", e.Condition}}
	case PartFitted:
		return []fieldText{{"part", s.partName(e.Number)}, {"note", e.Note}}
	case PartReturned:
		return []fieldText{{"part", s.partName(e.Number)}, {"why", e.Why}}
	case PartDueChanged:
		return []fieldText{{"part", s.partName(e.Number)}, {"due", e.Due.String()}, {"why", e.Why}}
	case BriefAdded:
		return []fieldText{{"text", e.Text}}
	case BriefMet:
		return []fieldText{{"text", e.How}}
	case SnagAdded:
		return []fieldText{{"job", e.Job}, {"text", e.Text}}
	case SnagClosed:
		return []fieldText{{"snag", strconv.Itoa(e.Number)}}
	case ExtraProposed:
		return []fieldText{
			{"job", e.Job}, {"text", e.Text}, {"hours", number(e.Hours)}, {"parts_cost", number(e.Parts)},
			{"materials_cost", number(e.Materials)}, {"finds", counted(e.Finds)},
		}
	case ExtraDecided:
		return []fieldText{{"extra", strconv.Itoa(e.Number)}, {"agreed", strconv.FormatBool(e.Agreed)}}
	case ReminderSet:
		return []fieldText{{"at", s.Local(e.At)}, {"text", e.Text}, {"job", e.Job}}
	case PersonAdded:
		return []fieldText{{"name", e.Name}, {"role", e.Role.String()}, {"trade", e.Trade}, {"chat_user", e.Chat}}
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

// counted writes whole numbers with commas between them.
func counted(vs []int) string {
	texts := make([]string, len(vs))
	for i, v := range vs {
		texts[i] = strconv.Itoa(v)
	}
	return joined(texts)
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
		state := e.State
		if s.recs[i].by != 0 {
			state = "added"
		}
		return fmt.Sprintf("task %d %s: %s", e.Number, state, e.Title)
	case TaskStarted:
		return "task " + s.taskName(e.Number) + " begun" + comma(s.nameOf(e.Who))
	case TaskFinished:
		return "task " + s.taskName(e.Number) + " done" + comma(s.nameOf(e.Who))
	case PartOrdered:
		return fmt.Sprintf("%s %s, %d%s%s", e.State, placeName(e.Part, e.Side, 0), e.Quantity, comma(e.Supplier), comma(e.Condition))
	case PartArrived:
		return fmt.Sprintf("arrived %s, %d%s", s.partName(e.Number), e.Quantity, comma(e.Condition))
	case PartFitted:
		if e.Trial {
			return "tried " + s.partName(e.Number) + comma(e.Note)
		}
		return "fitted " + s.partName(e.Number) + comma(e.Note)
	case PartReturned:
		return "sent back " + s.partName(e.Number) + comma(e.Why)
	case PartDueChanged:
		return fmt.Sprintf("%s due on %s now%s", s.partName(e.Number), e.Due, comma(e.Why))
	case CoatRecorded:
		return s.coatText(e)
	case ExtraProposed:
		return fmt.Sprintf("extra %d %s: %s", e.Number, e.State, e.Text)
	case ExtraDecided:
		return fmt.Sprintf("extra %d %s%s", e.Number, decided(e.Agreed), s.textAbout(thing{kind: recExtra, number: e.Number}))
	case SnagAdded:
		return fmt.Sprintf("snag %d: %s", e.Number, e.Text)
	case SnagClosed:
		return fmt.Sprintf("snag %d put right%s", e.Number, s.textAbout(thing{kind: recSnag, number: e.Number}))
	case BriefAdded:
		return fmt.Sprintf("brief, line %d: %s", e.Number, e.Text)
	case BriefMet:
		return fmt.Sprintf("brief, line %d met: %s", e.Number, e.How)
	case ReminderSet:
		return fmt.Sprintf("reminder for %s: %s", s.Local(e.At), e.Text)
	}
	return ""
}

// textAbout gives the words of the snag or extra that a record is about, with a
// colon before them; empty when it was taken back.
func (s *State) textAbout(t thing) string {
	i, ok := s.things[t]
	if !ok {
		return ""
	}
	switch e := s.details[i].(type) {
	case SnagAdded:
		return ": " + e.Text
	case ExtraProposed:
		return ": " + e.Text
	}
	return ""
}
