package hear

import (
	"math"
	"slices"
	"strings"
	"time"

	"bayword/internal/say"
)

// amendable are the fields that Amend may change.
var amendable = []string{"job", "panel", "side", "end", "edge", "kind", "width_mm", "height_mm", "diameter_mm", "depth_mm", "count", "fastener", "torque_nm", "source", "gap_mm", "flush_mm", "target_mm", "tolerance_mm", "material", "amount", "batch", "expires", "why", "people", "hours", "work", "day", "find", "panels", "coats", "at", "temperature_c",
	"title", "task", "who", "part", "quantity", "supplier", "due", "price", "condition", "provenance", "text", "parts_cost", "materials_cost", "finds", "extra", "agreed", "snag", "low_hours", "high_hours"}

// changes returns the fields of the record that the correction gives anew.
func (v *Vocabulary) changes(r *reading, c Context, target Done) (Fields, bool) {
	old := target.Intent
	k := kindNamed(old.Kind)
	in := Intent{Kind: old.Kind, Fields: Fields{}, Unit: old.Unit, Pack: old.Pack}
	// A bare number is in the unit that the record was said in.
	k.fill(r, Context{Now: c.Now, Speaker: c.Speaker, Last: c.Last}, &in)
	if in.has("material") && in.text("material") != old.text("material") && stockKinds[old.Kind] && (r.onlyFigures() || r.onlyNumber()) {
		delete(in.Fields, "material") // «1.2 litres» is no 1.2 mm sheet
	}
	if in.has("amount") {
		if _, ok := r.quantity("l", "ml", "mil", "pint_uk", "gal_uk", "kg", "g", "lb", "oz", "m2", "ft2", "pack"); !ok {
			in.Unit, in.Pack = old.Unit, old.Pack
		}
		if !in.has("material") {
			in.set("material", old.text("material"))
		}
		v.settleAmount(&in)
	}
	if ownWordsKind[old.Kind] || old.Kind == "AddNote" {
		for _, f := range []string{"text", "title"} {
			delete(in.Fields, f) // a correction does not replace the words by itself
		}
		for i := r.lo; i < r.hi; i++ {
			for _, p := range []string{"should say", "should read", "make it say", "meant to say"} {
				if end, ok := r.phraseEnds(i, p); ok && end < r.hi {
					in.set(map[bool]string{true: "title", false: "text"}[old.Kind == "AddTask"], r.textFrom(end, r.hi))
				}
			}
		}
	}
	if _, numbered := r.numberOf("task"); (old.Kind == "StartTask" || old.Kind == "FinishTask") && !numbered && len(r.things("task", "")) == 0 {
		delete(in.Fields, "task") // «it» is no other task
	}
	if field := map[bool]string{true: "title", false: "text"}[old.Kind == "AddTask"]; ownWordsKind[old.Kind] && !in.has(field) {
		if text, ok := r.swapped(old.text(field)); ok {
			in.set(field, text)
		}
	}
	if b := r.bare(); old.Kind == "RecordArrival" && len(b) == 1 && b[0].value == float64(int(b[0].value)) && b[0].value >= 1 {
		in.set("quantity", int(b[0].value))
		delete(in.Fields, "part")
		delete(in.Fields, "condition")
	}
	if old.Kind == "RecordOrder" && r.has("of them") {
		delete(in.Fields, "part")
	}
	if old.Kind == "RecordOrder" && len(r.prices()) == 0 && !in.has("due") {
		if b := r.bare(); len(b) == 1 && b[0].value > 50 {
			in.set("price", b[0].value)
			delete(in.Fields, "quantity")
		} else if len(b) == 1 && b[0].value == float64(int(b[0].value)) && b[0].value >= 1 {
			counted := partNouns[r.stem(b[0].to)] || partNouns[r.word(b[0].to)] || slices.Contains(r.v.rootsOf(old.text("part")), root(r.word(b[0].to)))
			if priced := r.has("carriage", "delivered", "delivery", "vat") || old.has("price") && !old.has("quantity") && b[0].value > 5; priced && !counted {
				in.set("price", b[0].value)
				delete(in.Fields, "quantity")
			} else {
				in.set("quantity", int(b[0].value)) // «no, two», «six boards»
			}
		}
	}
	if old.Kind == "RecordGap" {
		v.oneReading(r, &in, old)
	}
	if in.has("torque_nm") {
		if _, ok := r.quantity("nm", "lbf_ft", "lbf_in", "kgf_m"); !ok {
			if b := r.bare(); len(b) > 0 {
				in.set("torque_nm", tidy(newtonMetres(b[0].value, old.Unit)))
			}
		}
		if b := r.bare(); old.has("count") && r.has("miscounted") && len(b) == 1 && b[0].value == float64(int(b[0].value)) {
			delete(in.Fields, "torque_nm")
			in.set("count", int(b[0].value))
		} else if !old.has("count") && !r.has("of them") {
			delete(in.Fields, "count")
		}
	}
	if old.Kind == "RecordCoat" && !in.has("coats") {
		if b := r.bare(); len(b) == 1 && !in.has("at") && !in.has("temperature_c") && b[0].value == float64(int(b[0].value)) {
			in.set("coats", int(b[0].value)) // «make it four»
		}
	}
	if old.Kind == "RecordCoat" && r.starts("not") && in.has("panels") {
		if _, replaced := r.contrasted(); !replaced {
			return without(old, in)
		}
	}
	if old.Kind == "RecordFind" {
		v.oneMeasure(r, &in, old)
	}
	if old.Kind == "Remind" {
		r.anotherTime(c, &in, old.text("at"))
	}
	if s := in.text("side"); s == "passenger" || s == "driver" || s == "other" {
		in.set("job", old.text("job"))
		last := c
		last.Last = &target
		v.resolveSide(last, &in)
	}
	if in.text("side") == "both" {
		return nil, false
	}
	out := Fields{}
	for f, value := range in.Fields {
		if !slices.Contains(amendable, f) || !in.has(f) || same(value, old.Fields[f]) {
			continue
		}
		out[f] = value
	}
	if !r.about(old.Kind) {
		return nil, false // «the hole was 50» corrects no use of discs
	}
	// Words that explain nothing make it chatter.
	rest := r.rest("no", "nope", "make", "made", "was", "were", "should", "have", "been", "meant", "actually", "wrong", "tin", "misread", "not", "sorry", "oops", "correction", "mistake", "change", "be", "side", "edge", "batch", "hours", "wait", "bad", "they", "read", "number", "meaning", "still", "same", "door", "due", "job", "as", "well", "too", "all", "up", "them", "tell", "lie", "false", "alarm", "hang", "say", "said", "mean", "last", "first", "ones", "amount", "size", "torque", "gap", "way", "facing", "rule", "proper", "measured", "try", "rather", "upside", "temperature", "temp", "down", "had", "hand", "im", "now", "nearer", "more", "like", "closer", "mine", "each", "honest", "wants", "needs", "binned", "used", "put", "allow", "only", "better", "reckon", "task", "those", "my", "reminder", "readings", "order", "came", "to", "misheard", "miscounted", "dug", "ive", "would", "did", "she", "he", "her", "him")
	named := r.v.rootsOf(old.text("part") + " " + old.text("title") + " " + old.text("text") + " " + target.Said)
	rest = slices.DeleteFunc(rest, func(w string) bool { return slices.Contains(named, root(w)) })
	if len(rest) > 2 {
		return nil, false
	}
	return out, true
}

// without takes the panels that are said not to be so off a coat: «not the roof».
func without(old, said Intent) (Fields, bool) {
	wrong, _ := said.Fields["panels"].([]string)
	panels, _ := old.Fields["panels"].([]string)
	left := slices.DeleteFunc(slices.Clone(panels), func(p string) bool { return slices.Contains(wrong, p) })
	if len(left) == 0 || len(left) == len(panels) {
		return nil, false
	}
	return Fields{"panels": left}, true
}

// anotherTime moves a reminder to another time of its day: «make it 4», «no, 10
// o'clock».
func (r *reading) anotherTime(c Context, in *Intent, was string) {
	if _, day := r.first(spanDay); day {
		return
	}
	if _, soon := r.within(); soon {
		return
	}
	if m := map[string]int{"half": 30, "quarter": 15}[r.word(r.hi-2)]; m > 0 && r.word(r.hi-1) == "past" {
		if old, err := time.ParseInLocation(isoMinute, was, c.Now.Location()); err == nil && old.Minute() == 0 {
			in.set("at", old.Add(time.Duration(m)*time.Minute).Format(isoMinute)) // «make that half past»
			return
		}
	}
	hour, pm, am, ok := r.clockSaid()
	if b := r.bare(); !ok && len(b) == 1 && b[0].value >= 1 && b[0].value < 24 {
		hour, ok = b[0].value, true
	}
	old, err := time.ParseInLocation(isoMinute, was, c.Now.Location())
	if !ok || err != nil {
		return
	}
	if hour < 12 && (pm || !am && hour < 7) {
		hour += 12
	}
	t := time.Date(old.Year(), old.Month(), old.Day(), 0, 0, 0, 0, old.Location()).Add(time.Duration(math.Round(hour*60)) * time.Minute)
	if !t.After(c.Now) && hour < 8 && !am {
		t = t.Add(12 * time.Hour)
	}
	if t.After(c.Now) {
		in.set("at", t.Format(isoMinute))
	}
}

// oneReading puts a new reading in the place of the one it corrects: «last
// one's 5.5 not 6».
func (v *Vocabulary) oneReading(r *reading, in *Intent, old Intent) {
	list, _ := old.Fields["gap_mm"].([]float64)
	fresh, _ := in.Fields["gap_mm"].([]float64)
	if len(fresh) >= 2 && fresh[0] == 1 && r.whichOne() != "" {
		fresh = fresh[1:] // the «one» of «top one»
		in.set("gap_mm", fresh)
	}
	if n := len(list); len(fresh) == n+1 && r.has("so") {
		in.set("gap_mm", fresh[1:]) // «last one was 5.5 not 6, so 4.5 5 5.5»
		return
	}
	if len(fresh) != 1 || len(list) < 2 {
		return
	}
	at := -1
	if s, ok := r.contrasted(); ok && s.kind == spanQuantity {
		at = slices.Index(list, s.value)
	}
	switch {
	case r.whichOne() == "last":
		at = len(list) - 1
	case r.whichOne() == "first":
		at = 0
	}
	if at < 0 {
		return
	}
	all := slices.Clone(list)
	all[at] = fresh[0]
	in.set("gap_mm", all)
}

// onlyNumber reports «sorry, 1.2»: a bare number, though a sheet goes by it.
func (r *reading) onlyNumber() bool {
	b := r.bare()
	return len(b) == 1 && r.word(b[0].from-1) != "the" && !slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanMaterial && !s.weak })
}

// onlyFigures reports that nothing but figures and their units is named.
func (r *reading) onlyFigures() bool {
	_, unit := r.quantity("l", "ml", "mil", "kg", "g", "pint_uk", "m2")
	for _, s := range r.spans {
		if s.kind == spanMaterial && !s.weak {
			return false
		}
	}
	return unit
}

// swapped puts a word in the place of another in a text: «silver not black».
func (r *reading) swapped(text string) (string, bool) {
	for i := r.lo + 1; i+1 < r.hi; i++ {
		if r.word(i) != "not" || r.toks[i].end {
			continue
		}
		now, was := r.word(i-1), r.word(i+1)
		if at := strings.Index(" "+strings.ToLower(text)+" ", " "+was+" "); at >= 0 && now != "" {
			return text[:at] + now + text[at+len(was):], true
		}
	}
	return "", false
}

// whichOne tells which of several readings is meant: the first or the last, or "".
func (r *reading) whichOne() string {
	switch {
	case r.has("last one", "last ones", "the last", "bottom one", "bottom ones", "rear one", "back one"):
		return "last"
	case r.has("first one", "first ones", "the first", "top one", "top ones", "front one"):
		return "first"
	}
	return ""
}

// whichMeasure asks which of a find's two measures a lone number corrects: «no, 180».
func (r *reading) whichMeasure(target Done) (Intent, bool) {
	b := r.bare()
	w, wide := number(target.Intent.Fields["width_mm"])
	h, high := number(target.Intent.Fields["height_mm"])
	if target.Intent.Kind != "RecordFind" || !wide || !high || len(b) != 1 || len(r.spans) != 1 || len(r.rest("no", "sorry", "actually", "make", "that", "it", "its", "was", "should", "be", "meant")) > 0 {
		return Intent{}, false
	}
	in := Intent{Kind: "Amend", Fields: Fields{}, Entry: target.Entry, Score: 1, Missing: []string{"size"}}
	for _, size := range [][2]float64{{b[0].value, h}, {w, b[0].value}} {
		said := trimNumber(size[0]) + " by " + trimNumber(size[1])
		in.Choices = append(in.Choices, say.Choice{Label: said, Say: said})
	}
	in.set("of", b[0].value)
	return in, true
}

// answerSize reads which measure was meant: «180 by 40», «the width».
func (r *reading) answerSize(in Intent) (Intent, bool) {
	s, sized := r.first(spanSize)
	switch {
	case sized:
		in.set("width_mm", tidy(s.value))
		in.set("height_mm", tidy(s.second))
	case r.has("width", "wide", "long", "length", "first", "across"):
		in.set("width_mm", in.Fields["of"])
	case r.has("height", "high", "tall", "second", "up"):
		in.set("height_mm", in.Fields["of"])
	default:
		return Intent{}, false
	}
	in.Missing = nil
	return in, !r.asking()
}

// otherMeasure gives the one measure that is said not to be so: «30 not 35».
func (r *reading) otherMeasure(wrong float64, in *Intent, old Intent) {
	fresh, ok := r.first(spanQuantity)
	if !ok || fresh.value == wrong {
		return
	}
	mm := map[bool]string{true: fresh.unit, false: r.lengthSaid()}[fresh.unit != ""]
	var fields []string
	for _, f := range []string{"width_mm", "height_mm", "diameter_mm", "depth_mm", "count"} {
		delete(in.Fields, f)
		if v, ok := number(old.Fields[f]); ok && (v == wrong || f != "count" && v == tidy(millimetres(wrong, mm))) {
			fields = append(fields, f)
		}
	}
	if len(fields) != 1 {
		return
	}
	if fields[0] == "count" {
		in.set("count", int(fresh.value))
		return
	}
	in.set(fields[0], tidy(millimetres(fresh.value, mm)))
}

// oneMeasure gives a bare number to the only measure that a find has.
func (v *Vocabulary) oneMeasure(r *reading, in *Intent, old Intent) {
	b := r.bare()
	if s, ok := r.contrasted(); ok && s.kind == spanQuantity {
		r.otherMeasure(s.value, in, old)
		return
	}
	if len(b) != 1 || in.has("width_mm") && in.has("height_mm") {
		return
	}
	var fields []string
	for _, f := range []string{"width_mm", "height_mm", "diameter_mm", "depth_mm", "count"} {
		if old.has(f) {
			fields = append(fields, f)
		}
	}
	if len(fields) == 2 && fields[1] == "count" && b[0].value > 12 {
		fields = fields[:1] // no count
	}
	if len(fields) == 1 {
		for _, f := range []string{"width_mm", "height_mm", "diameter_mm", "depth_mm"} {
			delete(in.Fields, f)
		}
		if fields[0] == "count" {
			in.set("count", int(b[0].value))
		} else {
			in.set(fields[0], b[0].value)
		}
	}
}
