package say

import (
	"strings"
)

// field is how a request's field is spoken of.
type field struct {
	id   string
	name string // «amount»
	ask  string // the question for it
}

// fields is in the order in which things are said and asked.
var fields = [...]field{
	{"kind", "kind", "what is it: hole, rust, pitting, dent, filler, old repair, crack, missing or paint"},
	{"fastener", "fastener", "which fastener"},
	{"thread", "thread", "which thread, such as M10 or 7/16 UNF"},
	{"grade", "grade", "which grade, such as 8.8 or the marks on the head"},
	{"lubrication", "lubrication", "dry, oiled or greased"},
	{"into", "into", "into steel, aluminium or cast iron"},
	{"engaged_mm", "thread engaged", "how much thread is engaged, in mm"},
	{"torque_nm", "torque", "how tight, in N·m or lbf·ft"},
	{"amount", "amount", "how much"},
	{"material", "material", "which material"},
	{"side", "side", "which side, nearside/left or offside/right"},
	{"panel", "panel", "which panel"},
	{"panels", "panels", "which panels"},
	{"end", "end", "which end, front or rear"},
	{"edge", "edge", "which edge: front, rear, top or bottom"},
	{"gap_mm", "gap", "what gap, in mm"},
	{"flush_mm", "flush", "how far proud or low, in mm"},
	{"target_mm", "target", "what gap do you want, in mm"},
	{"tolerance_mm", "tolerance", "plus or minus how much"},
	{"width_mm", "width", "how wide, in mm"},
	{"height_mm", "height", "how high, in mm"},
	{"diameter_mm", "diameter", "how big across, in mm"},
	{"depth_mm", "depth", "how deep, in mm"},
	{"count", "count", "how many"},
	{"coats", "coats", "how many coats"},
	{"wrench_mm", "wrench", "how long is the wrench, from the middle of its drive to the middle of the grip, in mm"},
	{"extension_mm", "extension", "how far does the extension reach, from drive to fastener, in mm"},
	{"angle_deg", "angle", "at what angle to the wrench, in degrees"},
	{"air_c", "air", "how warm is the air, in °C"},
	{"humidity_pct", "humidity", "what is the humidity, in %"},
	{"surface_c", "metal", "how warm is the metal, in °C"},
	{"amps", "load", "how many amps does it draw"},
	{"length_m", "run", "how long is the run one way, in m"},
	{"volts", "volts", "how many volts"},
	{"drop_pct", "drop", "how much drop is allowed, in %"},
	{"rpm", "revs", "at what revs, or at what speed"},
	{"speed_mph", "speed", "at what speed, in mph"},
	{"speed_kph", "speed", "at what speed, in km/h"},
	{"tyre", "tyre", "which tyres, such as 175/65r14"},
	{"final_drive", "axle ratio", "what axle ratio, such as 4.1"},
	{"gear_ratio", "gear ratio", "what gear ratio, such as 0.8; top is often 1"},
	{"value", "value", "how much"},
	{"from", "unit", "from which unit"},
	{"to", "unit", "into which unit"},
	{"amount_l", "mix", "how much mixed, in litres, or how many coats of which panels"},
	{"at", "time", "when was the last coat finished"},
	{"temperature_c", "temperature", "how warm was it, in °C"},
	{"hours", "hours", "how many hours"},
	{"work", "work", "on what: strip, metal, paint, mechanical, trim, assembly or a task"},
	{"people", "person", "who"},
	{"person", "person", "who"},
	{"day", "day", "which day"},
	{"find", "find", "which find, by its number"},
	{"finds", "finds", "which finds, by their numbers"},
	{"title", "task", "what is to be done"},
	{"task", "task", "which task, by its number or in words"},
	{"stage", "stage", "at which stage: strip, metal, paint, mechanical, trim or assembly"},
	{"low_hours", "least hours", "how many hours at least"},
	{"high_hours", "most hours", "how many hours at most"},
	{"after", "tasks before it", "after which tasks, by their numbers"},
	{"needs_part", "part it needs", "which part does it need"},
	{"who", "person", "who"},
	{"part", "part", "which part"},
	{"quantity", "quantity", "how many"},
	{"supplier", "supplier", "from which supplier"},
	{"price", "price", "at what price in all"},
	{"provenance", "provenance", "new old stock, reproduction, used or made for it"},
	{"condition", "condition", "what is it like"},
	{"due", "due day", "when is it due"},
	{"due_by", "due day", "due by which day"},
	{"snag", "snag", "which snag, by its number"},
	{"line", "line", "which line of the brief, by its number"},
	{"extra", "extra", "which extra, by its number"},
	{"agreed", "decision", "agreed or declined"},
	{"parts_cost", "parts", "how much are the parts"},
	{"materials_cost", "materials", "how much are the materials"},
	{"channel", "channel", "which channel"},
	{"role", "role", "which role: lead, tradesperson or apprentice"},
	{"trade", "trade", "which trade, such as metal or paint"},
	{"chat_user", "chat name", "what is their id on the chat"},
	{"area_m2", "area", "how big is it outside, in m²"},
	{"length_mm", "length", "how long, in mm"},
	{"hinge_spacing_mm", "hinges", "how far apart are the hinges, in mm"},
	{"hinge_edge", "hinge edge", "which edge are the hinges on, front, rear, top or bottom"},
	{"job", "vehicle", "which vehicle"},
	{"source", "book", "which book and page"},
	{"batch", "batch", "which batch"},
	{"expires", "expiry", "when does it expire"},
	{"why", "reason", "why"},
	{"note", "note", "what is to be noted"},
	{"text", "text", "what is to be noted"},
	{"id", "short name", "what short name shall it have"},
	{"name", "name", "what is it called"},
	{"unit", "unit", "counted in what: litres, kilograms, square metres or each"},
	{"pack", "pack", "how much is in a pack"},
	{"on_hand", "on the shelf", "how much is on the shelf"},
	{"reorder_at", "reorder level", "reorder at how much"},
	{"also_called", "other names", "what else is it called"},
	{"year", "year", "which year"},
	{"make", "make", "which make"},
	{"model", "model", "which model"},
	{"body", "body", "what body"},
	{"drive", "drive", "left- or right-hand drive"},
	{"customer", "customer", "who is the customer"},
	{"state", "state", "open or repaired"},
	{"topic", "topic", "help with what"},
	{"entry", "record", "which record"},
	{"question", "question", "which answer"},
}

func fieldOf(id string) (field, bool) {
	for _, f := range fields {
		if f.id == id {
			return f, true
		}
	}
	return field{}, false
}

// fieldName is how people call a field: «amount», «torque».
func fieldName(id string) string {
	if f, ok := fieldOf(id); ok {
		return f.name
	}
	return strings.ReplaceAll(plain(id), "_", " ")
}

// asks are the questions of kinds that mean something of their own by a field.
var asks = map[string]map[string]string{
	"RecordCount":    {"amount": "how much did you count"},
	"RecordDelivery": {"amount": "how much came"},
	"RecordWaste":    {"amount": "how much was binned"},
	"RecordUse":      {"amount": "how much was used"},
	"AddTask":        {"hours": "how many hours will it take", "who": "who is to do it"},
	"StartTask":      {"task": "which task is begun, by its number or in words"},
	"FinishTask":     {"task": "which task is done, by its number or in words"},
	"RecordOrder":    {"part": "which part was ordered"},
	"RecordArrival":  {"part": "which part came", "quantity": "how many came"},
	"FitPart":        {"part": "which part was fitted", "note": "how does it fit"},
	"ReturnPart":     {"part": "which part went back", "why": "why did it go back"},
	"ChangeDue":      {"part": "which part has another due day", "due": "when is it due now"},
	"AddBrief":       {"text": "what does the customer want"},
	"MeetBrief":      {"text": "how was it met"},
	"AddSnag":        {"text": "what is wrong"},
	"CloseSnag":      {"text": "which snag, by its number or in words"},
	"ProposeExtra":   {"text": "what work is it, or which finds is it for", "hours": "how many hours will it take"},
	"DecideExtra":    {"text": "which extra, by its number or in words", "agreed": "did the customer agree or decline"},
	"Remind":         {"text": "remind you of what", "at": "remind you when"},
	"AddPerson":      {"name": "what is their name"},
	"AddSupplier":    {"name": "which supplier"},
	"SetPanelSize":   {"height_mm": "how high is it, in mm"},
	"Amend":          {"size": "which size is that"},
	"Undo":           {"what": "shall I take that back"},
	"ListParts":      {"state": "ordered, late, here or fitted"},
	"ListExtras":     {"state": "waiting, agreed or declined"},
	"ListSnags":      {"state": "open or put right"},
}

// question asks for a field, without its question mark. Some kinds mean
// something else by the same field.
func question(kind, id string) string {
	switch {
	case asks[kind][id] != "":
		return asks[kind][id]
	case id == "kind" && kind != "RecordFind" && kind != "Amend":
		return "which kind"
	case id == "topic" && kind != "Help":
		return "about what"
	}
	if f, ok := fieldOf(id); ok {
		return f.ask
	}
	return "what " + fieldName(id)
}

// Ask asks for what an understood message lacks, in one question that says what
// was understood. Kind is the RPC name, missing the fields that are needed, got
// the values understood by field, as they are to be shown. Choices are offered
// in the order given, at most five; a side that alone is missing is offered
// left before right when there are none.
func Ask(kind string, missing []string, got map[string]string, choices []Choice) Reply {
	sideOnly := len(missing) == 1 && missing[0] == "side"
	if len(choices) == 0 && sideOnly {
		choices = []Choice{{Label: "left (nearside)", Say: "left"}, {Label: "right (offside)", Say: "right"}}
	}
	questions := make([]string, 0, len(missing))
	for _, id := range missing[:min(3, len(missing))] {
		questions = append(questions, question(kind, id))
	}
	if len(questions) == 0 {
		questions = []string{"which one"}
	}
	ask := strings.Join(questions, "; and ")
	// The question for a side names both already, and a yes needs no list.
	if len(missing) < 2 && !sideOnly && kind != "Undo" {
		ask += among(choices)
	}
	known := understood(got)
	if kind == "Undo" {
		known = strings.TrimSuffix(short(got["what"]), ".")
	}
	if known != "" {
		ask = upper(known) + ": " + ask
	}
	r := text(upper(ask) + "?")
	r.Choices = offered(choices)
	return r
}

// understood is «hole, sill, 120 × 40 mm, the heron».
func understood(got map[string]string) string {
	var parts []string
	for _, f := range fields {
		v := short(got[f.id])
		if v == "" {
			continue
		}
		parts = append(parts, shown(f.id, v, got))
	}
	return comma(parts...)
}

// shown puts a value with its unit or its name, so that a bare number is never
// left to be guessed at. What already carries letters is shown as it is.
func shown(id, v string, got map[string]string) string {
	bare := strings.Trim(v, "0123456789.,+- ") == ""
	switch id {
	case "width_mm":
		if h := short(got["height_mm"]); h != "" && bare {
			return v + " × " + h + " mm"
		}
	case "height_mm":
		if got["width_mm"] != "" {
			return ""
		}
	case "side":
		if p := short(got["panel"]); p != "" {
			return v + " " + p
		}
	case "panel":
		if got["side"] != "" {
			return ""
		}
	case "kind":
		return strings.ReplaceAll(v, "_", " ")
	case "edge", "end":
		return v + " " + id
	case "coats":
		if v == "1" {
			return "1 coat"
		}
		if bare {
			return v + " coats"
		}
	case "due":
		return "due " + day(v, false)
	case "day", "at", "expires", "due_by":
		return Names{}.days(v)
	case "agreed":
		return map[string]string{"true": "agreed", "false": "declined"}[v]
	case "parts_cost", "materials_cost":
		return v + " for " + fieldName(id)
	case "job":
		if !strings.Contains(v, " ") {
			return "the " + v
		}
	}
	if !bare {
		return v
	}
	if u := suffixes[id]; u != "" {
		return fieldName(id) + " " + v + u
	}
	switch {
	case id == "torque_nm":
		return v + " N·m"
	case id == "hours":
		return v + " h"
	case strings.HasSuffix(id, "_mm"):
		return fieldName(id) + " " + v + " mm"
	}
	return fieldName(id) + " " + v
}

// suffixes are the units of bare values.
var suffixes = map[string]string{
	"air_c": " °C", "surface_c": " °C", "temperature_c": " °C", "humidity_pct": " %", "drop_pct": " %",
	"amps": " A", "volts": " V", "length_m": " m", "angle_deg": "°", "rpm": " rpm", "speed_mph": " mph", "speed_kph": " km/h", "amount_l": " L",
}

// among is «: left sill hole, left rear wing old repair or another one», the
// choices as part of a question; empty without any.
func among(choices []Choice) string {
	if len(choices) == 0 {
		return ""
	}
	var labels []string
	for _, c := range offered(choices) {
		labels = append(labels, c.Label)
	}
	if len(choices) > maxChoice {
		labels = append(labels, "another one")
	}
	return ": " + or(labels)
}

// offered keeps at most five choices with labels that fit a button.
func offered(choices []Choice) []Choice {
	var out []Choice
	for _, c := range choices[:min(maxChoice, len(choices))] {
		out = append(out, Choice{Label: cut(clean(c.Label, false), maxLabel), Say: plain(c.Say)})
	}
	return out
}
