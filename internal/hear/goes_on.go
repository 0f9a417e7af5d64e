package hear

import "slices"

// completes reports that next only tells the rest of what cur began: «dropped
// the tin, a litre of it gone».
func (v *Vocabulary) completes(cur group, next *reading, c Context) bool {
	one := v.build(cur, c, nil, Intent{Fields: Fields{}})
	if len(one) != 1 || complete(one[0]) {
		return false
	}
	parts := append(slices.Clone(cur.parts), next)
	joint := v.compete(cur.r.part0(parts[0].lo, next.hi), parts, c)
	if joint.kind != cur.kind {
		return false
	}
	both := v.build(joint, c, nil, Intent{Fields: Fields{}})
	return len(both) == 1 && len(both[0].Missing) < len(one[0].Missing)
}

// goesOn reports whether next says the same kind of thing again with its verb
// left out: «used a litre of base and two of thinner».
func (v *Vocabulary) goesOn(cur group, next *reading) bool {
	switch cur.kind.name {
	case "RecordUse", "RecordDelivery", "RecordCount", "RecordWaste":
		return next.materialCounted()
	case "RecordGap":
		s, ok := next.weakest(spanEdge)
		return ok && !s.weak && len(next.gapValues()) > 0
	case "RecordOrder":
		_, supplier := next.first(spanSupplier)
		from, to := next.partName(next.lo)
		_, had := cur.r.first(spanSupplier)
		if own := next.word(next.lo) == "a" || next.word(next.lo) == "an" || next.word(next.lo) == "some" || next.quantityStarts(next.lo); !own && !had && len(cur.r.prices()) == 0 {
			return false // «a set of pads and hoses from …» is one thing
		}
		return from < to && next.isPart(from, to) && (supplier || len(next.prices()) > 0 || len(cur.r.prices()) > 0 && (next.word(next.lo) == "a" || next.word(next.lo) == "an" || next.word(next.lo) == "some"))
	case "LogHours":
		if next.has("i did") && len(next.bare()) > 0 {
			return true
		}
		_, job := next.first(spanJob)
		_, person := next.first(spanPerson)
		_, day := next.first(spanDay)
		if _, panel := next.first(spanPanel); panel && len(next.bare()) == 1 && next.has("on") {
			return true // «3 hours on the sill and 1 on the a post»
		}
		return (next.hasHours() || len(next.bare()) > 0) && (job || person || day || next.stage() != "")
	case "RecordTorque":
		_, named := next.weakest(spanFastener)
		_, valued := next.torqueValue()
		return named && valued && !next.hedged("RecordTorque")
	case "RecordFind":
		_, panel := next.first(spanPanel)
		_, size := next.first(spanSize)
		_, sized := cur.r.first(spanSize)
		// «a hole at the front end 90 by 40 and another hole at the back end 30 by 30»
		another := sized && next.findKind() != "" && (next.starts("another", "one", "a second", "a third", "and another") || next.has("another"))
		return (panel || another) && size
	case "GetStock":
		id, _, _ := next.material(false, nil)
		return id != ""
	case "LookUpTorque":
		_, named := next.first(spanFastener)
		return named
	}
	return false
}

// materialCounted reports a material with some amount of it: «two of thinner».
func (r *reading) materialCounted() bool {
	id, choose, _ := r.material(true, nil)
	return (id != "" || len(choose) > 0) && (r.hasAmountUnit() || len(r.bare()) > 0 || r.has("some", "a bit", "a load", "a drop") || r.oneContainer())
}

// oneContainer reports «a gas bottle»: a material whose name ends with its container.
func (r *reading) oneContainer() bool {
	m, ok := r.first(spanMaterial)
	return ok && (r.word(m.from-1) == "a" || r.word(m.from-1) == "another") && containers[stem(r.word(m.to-1))]
}

// sentenceOver reports that a sentence ends with the reading, or that only the word
// that opens the next one is behind it: «…. Anyway, …».
func (r *reading) sentenceOver() bool {
	last := r.hi - 1
	if last > r.lo && openers[r.word(last)] {
		last--
	}
	return r.toks[last].end
}

var openers = wordSet("anyway anyhow so right now well ok")

// onlyOrderDetail reports a clause that only adds a price, a day or a supplier.
func (r *reading) onlyOrderDetail() bool {
	_, due := r.dueDay()
	_, supplier := r.first(spanSupplier)
	if !due && !supplier && len(r.prices()) == 0 {
		return false
	}
	return len(r.rest("due", "quid", "pounds", "each", "from", "off", "here", "coming", "in", "week", "next", "plus", "vat", "inc", "all", "the", "lot", "pair", "delivered", "delivery")) == 0
}

// several reports that a message tells more than the kind it sounds like most: a
// clause of its own that is clearly of another kind.
func (v *Vocabulary) several(g group) bool {
	r := g.r
	if r.asking() {
		return v.asksTwo(g)
	}
	from := r.lo
	for i := r.lo; i < r.hi; i++ {
		if !(r.toks[i].stop || r.toks[i].end || r.word(i) == "and") || i+1 >= r.hi {
			continue
		}
		for _, clause := range []*reading{r.part(from, i+1), r.part(i+1, r.hi)} {
			if other := v.compete(clause, []*reading{clause}, Context{}); other.kind != nil && other.kind != g.kind && other.kind.write && other.score >= 1.1 && !(other.kind.name == "RecordFind" && (clause.hi-clause.lo < 3 || clause.repaired())) {
				return true
			}
		}
		from = i + 1
	}
	return false
}

// asksTwo reports a question with a second one behind a mark that is clearly of
// another kind.
func (v *Vocabulary) asksTwo(g group) bool {
	r := g.r
	for i := r.lo; i+1 < r.hi; i++ {
		if !r.toks[i].end && !(r.toks[i].stop && r.word(i+1) == "and") {
			continue
		}
		first, second := r.part(r.lo, i+1), r.part(i+1, r.hi)
		a, b := v.compete(first, []*reading{first}, Context{}), v.compete(second, []*reading{second}, Context{})
		if a.kind != nil && b.kind != nil && a.kind != b.kind && a.score >= 1 && b.score >= 1 {
			return true
		}
	}
	return false
}
