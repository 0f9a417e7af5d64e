package hear

import (
	"slices"
	"strings"
)

// addTask hears planned work.
var addTask = kind{
	name:     "AddTask",
	write:    true,
	examples: []string{"add a job to the tern: weld up the badge holes, 2 hours"},
	needs:    []string{"job", "title"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		from, to, headed := r.ownText("AddTask")
		if headed || !in.has("title") {
			title := to
			for i := from; i < to; i++ {
				if i > from && (r.toks[i-1].stop || r.toks[i-1].end) && (r.hoursAhead(i) || r.taskDetail(i)) || r.hoursAhead(i) && i > from {
					title = i
					break
				}
			}
			for title > from && (r.word(title-1) == "about" || r.word(title-1) == "and" || r.word(title-1) == "say" || r.word(title-1) == "call" || r.word(title-1) == "roughly" || r.word(title-1) == "is" || r.word(title-1) == "its") {
				title--
			}
			for from < title && (r.word(from) == "to" || r.word(from) == "for" || r.word(from) == "that") {
				from++
			}
			if title > from && len(r.part(from, title).rest("hours", "hour")) == 0 {
				title = from
			}
			if text := r.textFrom(from, title); text != "" && (headed || len(in.Missing) > 0 && in.Missing[0] == "title") {
				in.set("title", text)
			}
		}
		if h, ok := r.hoursSaid(); ok {
			in.set("hours", h)
		} else if b := r.bare(); headed && len(b) == 1 && b[0].to == to && b[0].from > from && r.toks[b[0].from-1].stop {
			in.set("hours", b[0].value) // «and another, headlining, 6»
			in.set("title", r.textFrom(from, b[0].from))
		} else if b := r.bare(); len(b) == 1 && !headed && len(in.Missing) == 0 {
			in.set("hours", b[0].value) // «make it 6»
		}
		if low, high, ok := r.hoursBetween(); ok {
			in.set("low_hours", low)
			in.set("high_hours", high)
			in.set("hours", tidy((low+high)/2))
		}
		before := r.fillAfter(from, to, in)
		if st := r.part(from, before); st.stage() != "" && (r.has("stage") || headed) {
			in.set("stage", st.stage())
		} else if st := trades[st.firstTradeWord()]; st != "" && headed {
			in.set("stage", st)
		}
		for i := from; i < to; i++ {
			if r.word(i) != "needs" || i == from || !r.toks[i-1].stop && r.word(i-1) != "and" {
				continue
			}
			if a, b := r.partName(i + 1); a < b {
				in.set("needs_part", r.textFrom(a, b))
			}
		}
		for _, s := range r.all(spanPerson) {
			if w := r.word(s.from - 1); w == "for" && s.from-1 >= from || w == "by" {
				in.set("who", s.id)
			}
		}
	},
}

// fillAfter sets what a task comes after: numbers of tasks, or their words. It
// returns where that is said; what stands there says nothing of the task itself.
func (r *reading) fillAfter(from, to int, in *Intent) int {
	for i := from; i < r.hi; i++ {
		if w := r.word(i); w != "after" && w != "once" {
			continue
		}
		if n := r.part(i, r.hi).numbersOf("task"); len(n) > 0 {
			in.set("after", n)
			return min(i, to)
		}
		end := i + 1
		for end < r.hi && !r.toks[end-1].stop && !r.toks[end-1].end && !r.taskDetail(end) && !r.hoursAhead(end) {
			end++
		}
		named := r.part(i+1, end)
		apart := i > from && (r.toks[i-1].stop || r.toks[i-1].end || r.hoursEnd(i)) || i >= to
		if len(named.things("task", in.text("job"))) == 0 && !apart {
			continue // «tidy up after paint» is its title
		}
		for end > i+1 && (r.word(end-1) == "is" || r.word(end-1) == "done" || r.word(end-1) == "are" || r.word(end-1) == "s") {
			end--
		}
		if text := strings.TrimSuffix(strings.TrimPrefix(r.textFrom(i+1, end), "the "), "'s"); text != "" {
			in.set("after_named", text)
			return min(i, to)
		}
	}
	return to
}

// hoursEnd reports that hours are said right before token i.
func (r *reading) hoursEnd(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanQuantity && (s.unit == "h" || s.unit == "min") && s.to == i })
}

// trades are words of a task's title that say whose work it is. Common practice, no
// source.
var trades = map[string]string{
	"weld": "metal", "let": "metal", "patch": "metal", "panel": "metal", "sill": "metal", "fabricate": "metal", "bracket": "metal", "dress": "metal", "cut": "metal",
	"epoxy": "paint", "prime": "paint", "primer": "paint", "block": "paint", "colour": "paint", "clear": "paint", "flat": "paint", "spray": "paint", "polish": "paint", "mask": "paint", "respray": "paint",
	"brake": "mechanical", "brakes": "mechanical", "engine": "mechanical", "clutch": "mechanical", "gearbox": "mechanical", "wire": "mechanical", "loom": "mechanical", "axle": "mechanical", "exhaust": "mechanical", "bleed": "mechanical", "fuel": "mechanical", "radiator": "mechanical",
	"retrim": "trim", "carpet": "trim", "carpets": "trim", "headlining": "trim", "seat": "trim", "seats": "trim", "hide": "trim", "upholster": "trim",
	"refit": "assembly", "fit": "assembly", "hang": "assembly", "assemble": "assembly", "rehang": "assembly",
	"strip": "strip", "remove": "strip", "dismantle": "strip",
}

func (r *reading) firstTradeWord() string {
	for i := r.lo; i < r.hi; i++ {
		if trades[r.word(i)] != "" {
			return r.word(i)
		}
	}
	return ""
}

// taskDetail reports that what a task is after, who does it or what it needs
// begins at token i.
func (r *reading) taskDetail(i int) bool {
	switch r.word(i) {
	case "after", "once", "needs", "stage":
		return true
	case "for":
		return r.person(i+1) != ""
	}
	return false
}

// hoursAhead reports that token i begins an estimate: «2 hours», «about 3 hours»,
// «call it six hours».
func (r *reading) hoursAhead(i int) bool {
	for n := 0; n < 4; n++ {
		for _, s := range r.spans {
			if s.kind == spanQuantity && s.from == i && (s.unit == "h" || s.unit == "min") {
				return true
			}
		}
		if v, n, ok := r.numberAt(i); ok && v > 0 && (r.word(n) == "to" || r.word(n) == "or") {
			if _, k, ok := r.numberAt(n + 1); ok && stem(r.word(k)) == "hour" {
				return true
			}
		}
		switch r.word(i) {
		case "about", "call", "it", "say", "roughly", "allow", "maybe", "around", "its", "should", "take", "reckon", "i", "be", "another", "an", "estimate", "estimated", "at":
			i++
		case "half":
			return r.word(i+1) == "a" && r.word(i+2) == "day" || r.word(i+1) == "an" && stem(r.word(i+2)) == "hour"
		default:
			return false
		}
	}
	return false
}

// hoursSaid returns the hours that the reading names.
func (r *reading) hoursSaid() (float64, bool) {
	if s, ok := r.quantity("h"); ok {
		return s.value, true
	}
	if s, ok := r.quantity("min"); ok {
		return tidy(s.value / 60), true
	}
	return 0, false
}

// hoursBetween reads «3 to 5 hours».
func (r *reading) hoursBetween() (low, high float64, ok bool) {
	for i := r.lo; i < r.hi; i++ {
		low, n, ok := r.numberAt(i)
		if !ok || r.word(n) != "to" && r.word(n) != "or" {
			continue
		}
		high, k, ok := r.numberAt(n + 1)
		if ok && stem(r.word(k)) == "hour" && low > 0 && high > low {
			return low, high, true
		}
	}
	return 0, 0, false
}
