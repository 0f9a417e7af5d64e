package hear

import "slices"

// recordTorque hears fasteners signed off as tightened.
var recordTorque = kind{
	name:     "RecordTorque",
	write:    true,
	examples: []string{"caliper bolts torqued to 77", "wheel nuts torqued to 60 foot pounds, all 16"},
	needs:    []string{"job", "fastener", "torque_nm"},
	score: func(r *reading, c Context) float64 {
		if r.has("my wrists", "my wrist", "my arms", "my back", "my shoulders", "my neck") {
			return 0
		}
		if !r.reportsTorque() || r.has("book says", "manual says") {
			return 0
		}
		_, named := r.weakest(spanFastener)
		_, valued := r.torqueValue()
		if _, ok := r.first(spanThread); ok && !named {
			return 0
		}
		strong := r.has("torqued", "tightened", "redone", "retorqued", "nipped up", "sign them off", "sign it off", "down as done")
		switch {
		case named && valued && (strong || !r.hasHours()):
			return 1.1
		case named && r.has("by hand", "hand tight", "finger tight"):
			return 0
		case named && r.starts("sign off the", "sign off") && r.hi-r.lo <= 6 && !r.asking():
			return 1
		case named && strong:
			return 1
		case named && r.word(r.hi-1) == "up" && r.has("done up") && r.hi-r.lo <= 6 && !r.asking() && !r.ahead():
			return 1 // to what, is to be asked
		case named && r.word(r.hi-1) == "done" && !r.asking() && !r.ahead() && !r.denied() && len(r.all(spanNumbered)) == 0 && len(r.rest("done", "all", "now", "are", "both", "sides")) == 0,
			named && r.has("done on this", "done on here", "done on the") && !r.asking() && !r.ahead() && !r.denied() && len(r.bare()) == 0 && !r.hasHours() && len(r.rest("done", "all", "are")) == 0:
			return 1
		case strong && valued:
			return 0.95
		case r.torquedTo() && c.Last != nil && c.Last.Intent.Kind == "LookUpTorque",
			r.has("done that", "did that", "thats done", "done those", "done them", "done em") && len(r.bare()) == 1 && c.Last != nil && c.Last.Intent.Kind == "LookUpTorque":
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if s, ok := r.weakest(spanFastener); ok {
			in.set("fastener", s.id)
		} else if !in.has("fastener") && c.Last != nil && c.Last.Intent.Kind == "LookUpTorque" && (r.torquedTo() || r.has("that", "those", "them", "em")) {
			in.set("fastener", c.Last.Intent.text("fastener"))
			if !in.has("job") {
				in.set("job", c.Last.Intent.text("job"))
			}
		}
		if s, ok := r.torqueValue(); ok {
			in.Unit = s.unit
			in.set("torque_nm", tidy(newtonMetres(s.value, s.unit)))
		}
		for i := r.lo; i < r.hi; i++ {
			if w := r.word(i); w == "all" || w == "x" {
				if v, _, ok := r.numberAt(i + 1); ok && v >= 1 && v == float64(int(v)) {
					in.set("count", int(v))
				}
			}
		}
		if r.countsEach() {
			delete(in.Fields, "count")
			return // so many of each are not so many in all
		}
		torque, _ := r.torqueValue()
		for _, s := range r.bare() {
			if s.from != torque.from && s.value == float64(int(s.value)) && s.value >= 1 && s.value <= 64 && (in.has("torque_nm") || r.has("of them")) && (r.word(s.to) == "of" || r.word(s.to) == "done" || r.word(s.to) == "at" && torque.from == s.to+1 || r.word(s.to) == "off" || heads[r.stem(s.to)] && r.word(s.from-1) != "to" || r.fastenerAt(s.to)) {
				in.set("count", int(s.value))
			}
		}
	},
}

// torqueValue returns the torque said: one with a unit, else a bare number
// that is not a count.
func (r *reading) torqueValue() (span, bool) {
	if s, ok := r.quantity("nm", "lbf_ft", "lbf_in", "kgf_m"); ok {
		return s, true
	}
	var plain []span
	for _, s := range r.bare() {
		if p := r.word(s.from - 1); p == "sheet" || p == "page" || p == "section" || p == "every" || p == "each" {
			continue
		}
		if r.word(s.from-1) == "all" || r.word(s.to) == "of" || r.fastenerAt(s.to) || heads[r.stem(s.to)] || r.word(s.to) == "off" && r.word(s.to+1) != "the" {
			continue
		}
		plain = append(plain, s)
	}
	for _, s := range plain {
		if w := r.word(s.from - 1); len(plain) > 1 && (w == "at" || w == "to") {
			return s, true // «8 at 22»
		}
	}
	if len(plain) != 1 {
		return span{}, false // which of them it is, is to be asked
	}
	return plain[0], true
}

func (r *reading) hasHours() bool { _, ok := r.quantity("h"); return ok }

// countsEach reports «two bolts a side», «on all four wheels»: no number of all of them.
func (r *reading) countsEach() bool {
	return r.has("a side", "bolts each", "nuts each", "each side", "per side", "a wheel", "per wheel", "on each", "wheels", "corners")
}

// allOfThem reports how many are done, between marks: «…, all four, 47».
func (r *reading) allOfThem() bool {
	for i := r.lo + 1; i < r.hi; i++ {
		if _, next, ok := r.numberAt(i + 1); ok && r.word(i) == "all" && (r.toks[i-1].stop || r.toks[i-1].end) && next < r.hi && r.toks[next-1].stop {
			return len(r.all(spanFastener)) == 1 && len(r.bare()) == 2
		}
	}
	return false
}

// fastenerAt reports that a fastener's name begins at token i.
func (r *reading) fastenerAt(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanFastener && s.from == i })
}

// torquedTo reports «done, 77»: the answer to what was just looked up, used.
func (r *reading) torquedTo() bool {
	_, valued := r.torqueValue()
	return valued && (r.starts("done", "all done", "torqued") || r.word(r.lo) == "all" && r.has("done")) && len(r.rest("done", "all", "torqued")) == 0
}
