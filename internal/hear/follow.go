package hear

import "slices"

// follow reads a message that goes on from the last one: «and the top?»,
// «what about m12», «same on the offside», «and another 250».
func (v *Vocabulary) follow(r *reading, c Context) ([]Intent, bool) {
	if c.Last == nil {
		return nil, false
	}
	last := c.Last.Intent
	if q := lookups[last.Kind]; q != "" && r.asking() && r.has("what is it now", "whats it now", "what is that now", "whats that now", "what is it down as", "whats it down as", "what does it say", "what are they now") {
		in := last.clone()
		in.Kind = q
		return v.finish(in, c), true
	}
	if q := lookups[last.Kind]; q == "LookUpTorque" && r.asking() && r.has("the figure", "what was it again", "what is it again", "whats it again", "what were they again", "book figure", "book value", "book say", "book says", "book torque", "in the book") && r.hi-r.lo <= 8 && len(r.all(spanFastener)) == 0 {
		in := last.clone()
		in.Kind = q
		return v.finish(in, c), true
	}
	if gap := c.lastGap(); gap != nil && r.asking() && r.has("gap", "after", "target", "aiming for") && r.hi-r.lo <= 9 && len(r.all(spanPanel)) == 0 {
		if s, ok := r.weakest(spanEdge); ok {
			in := gap.Intent.clone()
			in.Kind = "LookUpGap"
			in.set("edge", s.id)
			return v.finish(in, c), true // «what gap are we after along the bottom»
		}
	}
	if q := lookups[last.Kind]; (q == "LookUpGap" || q == "LookUpTorque") && r.asking() && len(r.rest("what", "whats", "should", "supposed", "meant", "target", "spec", "they", "them")) == 0 && r.has("should", "supposed", "meant", "target", "spec") {
		in := last.clone()
		in.Kind = q
		if s, ok := r.first(spanEdge); ok && q == "LookUpGap" {
			in.set("edge", s.id)
		}
		return v.finish(in, c), true // «what should it be»
	}
	k := kindNamed(last.Kind)
	on := r.word(r.lo) == "and" || r.word(r.lo) == "plus" || r.starts("other side") && len(r.gapValues()) > 1 || r.starts("what about", "how about", "what if", "and if", "and what about", "same", "ditto", "is there one for", "have we got one", "have you got one", "and for") ||
		r.has("same", "too", "as well", "another", "the other side", "the other one", "likewise", "an all", "and all") || r.starts("just the", "only the") || r.sideOne() || r.asking() && r.hi-r.lo <= 5 && !k.write
	if !on && r.asking() && r.hi-r.lo <= 7 && (last.Kind == "ListFinds" || r.findKind() == "" && len(r.all(spanPanel)) == 0) && (last.Kind == "ListParts" || last.Kind == "ListExtras" || last.Kind == "ListSnags" || last.Kind == "ListFinds") {
		on = true // «which ones did she agree to»
	}
	if !on && last.Kind == "RecordGap" && len(r.gapValues()) > 1 {
		_, edge := r.first(spanEdge)
		on = edge && len(r.rest("edge", "top", "bottom", "gap")) == 0 // «rear edge 4.5 4.5 5»
	}
	if !on && (wholeMessage[last.Kind] || last.Kind == "ComputeTorque") && len(r.rest("humidity", "humiditys", "drops", "drop", "falls", "goes", "rises", "down", "up", "steel", "metal", "panel", "wrench", "sorry", "misread", "air", "long", "use", "if", "what", "one", "engaged", "thread", "engagement", "grade")) == 0 && !r.denied() {
		on = true // another figure for the sum just done: «steel is at 15»
	}
	if !on && c.Addressed && !k.write && r.jobNamed() && r.hi-r.lo <= 4 && len(r.rest("for")) == 0 && len(r.spans) == 1 {
		on = true // «the coupe», where no channel says which
	}
	if k.write && r.has("same but") || r.has("you got", "have you got one", "did you", "are you") {
		return nil, false // it asks a person
	}
	if !on && !r.otherFigure(c) && !r.clarifies(c) {
		return nil, false
	}
	if last.Kind == "Amend" || last.Kind == "Undo" || last.Kind == "AddNote" || last.Kind == "CreateJob" || last.Kind == "AddMaterial" || ownWordsKind[last.Kind] || last.Kind == "Help" || last.Kind == "ExplainAnswer" {
		return nil, false
	}
	if wholeMessage[last.Kind] && len(r.all(spanPanel))+len(r.all(spanEdge)) > 0 && last.Kind != "CheckClimate" {
		return nil, false // no sum is about a panel's edge
	}
	in := last.clone()
	said := Intent{Kind: last.Kind, Fields: Fields{}, Unit: last.Unit, Pack: last.Pack}
	k.fill(r, c, &said)
	if b := r.bare(); last.Kind == "CheckEnough" && last.has("coats") && len(b) == 1 && b[0].value >= 1 && b[0].value <= 8 && b[0].value == float64(int(b[0].value)) && !said.has("coats") {
		said.set("coats", int(b[0].value)) // «what about three»
	}
	if last.Kind == "PlanMix" && r.onlyFigures() {
		delete(said.Fields, "material") // «1.2 litres» is no 1.2 mm sheet
	}
	if _, ok := r.quantity("l", "ml", "mil", "pint_uk", "gal_uk", "kg", "g", "lb", "oz", "m2", "ft2", "pack"); !ok && said.has("amount") {
		said.Unit, said.Pack = last.Unit, last.Pack
	}
	if len(said.Fields) == 0 {
		return nil, false
	}
	if rest := r.rest("what", "about", "how", "same", "ditto", "another", "if", "too", "well", "there", "size", "other", "side", "hand", "do", "did", "put", "more", "is", "edge", "again", "all", "smaller", "bigger", "an", "overdrive", "top", "diff", "direct", "as", "with", "going", "went", "whats", "likewise", "just", "only", "allow", "use", "get", "turned", "out", "up", "foot", "air", "make", "it", "that", "no", "sorry", "actually", "call", "corrected", "hours", "each", "down", "torque", "gap", "which", "ones", "have", "has", "arrived", "ordered", "late", "fitted", "open", "agreed", "agree", "closed", "she", "he", "they", "declined", "overdue", "them", "those"); len(rest) > 1 {
		return nil, false
	}
	if _, job := r.first(spanJob); !k.write && !job && len(said.Fields) == 1 && said.has("job") {
		return nil, false // «still?»: it names nothing
	}
	if k.write && (r.asking() || !v.mayRepeat(r, last, said)) {
		return nil, false
	}
	for f, value := range said.Fields {
		if f == "panel_choice" || f == "material_choice" || f == "find" && said.has("side") {
			continue
		}
		in.set(f, value)
	}
	if ids, ok := said.Fields["material_choice"]; ok && !said.has("material") {
		delete(in.Fields, "material")
		in.set("material_choice", ids)
	}
	if stockKinds[in.Kind] {
		for _, f := range []string{"batch", "expires", "why"} {
			if !said.has(f) {
				delete(in.Fields, f)
			}
		}
	}
	if in.Kind == "RecordFind" && said.has("kind") && said.text("kind") != last.text("kind") {
		for _, f := range []string{"width_mm", "height_mm", "diameter_mm", "depth_mm", "count"} {
			if !said.has(f) {
				delete(in.Fields, f) // another find has a size of its own
			}
		}
	}
	if said.has("amount") {
		in.Amount, in.Unit, in.Pack = said.Amount, said.Unit, said.Pack
	}
	if said.has("panel") && !said.has("side") && said.text("panel") != last.text("panel") && !r.has("that side", "same side", "this side") {
		delete(in.Fields, "side")
	}
	if last.Kind == "LookUpTorque" && said.has("job") && !said.has("fastener") {
		in.set("fastener", last.text("fastener"))
	}
	return v.finish(in, c), true
}

// otherFigure reports «make it 2» after a sum: it asks for the sum again, and
// corrects no record made before it.
func (r *reading) otherFigure(c Context) bool {
	if c.Last == nil || !wholeMessage[c.Last.Intent.Kind] && c.Last.Intent.Kind != "PlanMix" && c.Last.Intent.Kind != "CheckEnough" && c.Last.Intent.Kind != "ComputeTorque" {
		return false
	}
	if len(c.Records) > 0 && !c.Last.At.After(c.Records[0].At) {
		return false
	}
	return r.starts("make it", "make that", "no", "sorry", "actually", "call it") && len(r.bare())+len(r.all(spanQuantity)) > 0 && (r.bareCorrection() || r.onlyFigures())
}

// clarifies reports «the os door i mean», «no the tern», right after an answer: the
// question is asked again of that, and no record made before it is corrected.
func (r *reading) clarifies(c Context) bool {
	if c.Last == nil || isWrite(c.Last.Intent.Kind) || r.hi-r.lo > 7 || r.asking() || len(r.all(spanQuantity)) > 0 || len(r.spans) == 0 {
		return false
	}
	meant := r.has("i mean", "i meant", "meant the", "mean the")
	if len(c.Records) > 0 && (!meant || !c.Last.At.After(c.Records[0].At)) {
		return false
	}
	return (meant || r.starts("no", "sorry", "actually")) && len(r.rest("i", "mean", "meant", "no", "sorry", "actually", "wait", "other", "side", "hand")) == 0
}

// lastGap is the speaker's last gap record, when the last question or record was of
// gaps; else nil.
func (c Context) lastGap() *Done {
	if c.Last == nil {
		return nil
	}
	switch c.Last.Intent.Kind {
	case "RecordGap":
		return c.Last
	case "LookUpGap", "SolveFit":
		for i := range c.Records {
			if c.Records[i].Intent.Kind == "RecordGap" {
				return &c.Records[i]
			}
		}
	}
	return nil
}

// lastEdge returns the clause behind a mark that begins with an edge, or nil.
func (r *reading) lastEdge() *reading {
	for _, s := range r.all(spanEdge) {
		if s.from > r.lo && (r.toks[s.from-1].stop || r.toks[s.from-1].end) {
			return r.part(s.from, r.hi)
		}
	}
	return nil
}

// lookups gives the question that reads back what a record changed.
var lookups = map[string]string{
	"RecordTorque": "LookUpTorque", "SetTorque": "LookUpTorque", "RecordGap": "LookUpGap", "SetGap": "LookUpGap",
	"RecordUse": "GetStock", "RecordDelivery": "GetStock", "RecordCount": "GetStock", "RecordWaste": "GetStock",
	"LogHours": "ReportHours", "RecordFind": "ListFinds", "CloseFind": "ListFinds", "RecordCoat": "ListWindows",
	"AddTask": "ListNext", "StartTask": "ListNext", "FinishTask": "ListNext",
	"RecordOrder": "ListParts", "RecordArrival": "ListParts", "FitPart": "ListParts", "ReturnPart": "ListParts",
	"AddBrief": "GetBrief", "MeetBrief": "GetBrief", "AddSnag": "ListSnags", "CloseSnag": "ListSnags",
	"ProposeExtra": "ListExtras", "DecideExtra": "ListExtras", "Remind": "ListReminders",
}

// Lookup returns the question whose answer a record of that kind rests on, or "".
func Lookup(kind string) string { return lookups[kind] }

// sideOne reports «the os one is 4 4 5».
func (r *reading) sideOne() bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanSide && (r.word(s.to) == "one" || r.word(s.to) == "ones") })
}

// mayRepeat reports whether a record may be made again from the last one with
// what is said now: another side, edge, person or amount, and nothing vague.
func (v *Vocabulary) mayRepeat(r *reading, last, said Intent) bool {
	switch last.Kind {
	case "RecordUse", "RecordDelivery", "RecordWaste", "RecordCount":
		return said.has("amount") && (said.has("material") || r.has("another", "more") || said.has("material_choice"))
	case "LogHours":
		return said.has("people") || said.has("job") || said.has("hours") && said.has("work")
	case "RecordFind", "RecordGap", "CloseFind", "SetGap":
		if said.has("side") && said.text("side") != last.text("side") || last.Kind == "RecordFind" && said.has("end") && said.text("end") != last.text("end") || last.Kind == "SetGap" && said.has("panel") && said.has("target_mm") {
			return true
		}
		return last.Kind == "RecordGap" && said.has("edge") && said.has("gap_mm")
	case "RecordTorque":
		return said.has("fastener") && said.has("torque_nm")
	case "RecordCoat":
		return said.has("panels")
	case "RecordOrder", "SetPanelSize":
		return said.has("side") && said.text("side") != last.text("side")
	}
	return slices.Contains([]string{"SetTorque"}, last.Kind) && said.has("fastener") && said.has("torque_nm")
}
