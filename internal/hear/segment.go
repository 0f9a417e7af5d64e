package hear

import (
	"slices"
	"strings"
)

// group is a run of a message that makes one request, with the parts it was
// joined from.
type group struct {
	r     *reading
	parts []*reading
	kind  *kind // nil when it sounds like nothing
	score float64
	next  float64 // score of the runner-up
}

func (r *reading) quantityEnds(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanQuantity && s.to == i })
}

func (r *reading) quantityStarts(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanQuantity && s.from == i })
}

// split cuts a message at its commas, stops and «and»s, and joins the parts
// again into the requests they make.
func (v *Vocabulary) split(r *reading, c Context) []group {
	if groups := v.splitTold(r, c); groups != nil {
		return groups
	}
	whole := v.compete(r, []*reading{r}, c)
	if whole.kind != nil && whole.score >= 1.2 && !v.several(whole) && (whole.kind.name == "CreateJob" || whole.kind.name == "AddMaterial" || whole.kind.name == "Undo" || whole.kind.name == "SetTorque" || whole.kind.name == "SetGap" || wholeSentence[whole.kind.name]) && !(whole.kind.name == "DecideExtra" && len(r.numbersOf("extra")) > 1 && r.has("a no", "a yes", "but")) {
		return []group{whole}
	}
	if whole.kind != nil && whole.score >= 1.1 && wholeMessage[whole.kind.name] && !v.asksTwo(whole) {
		return []group{whole}
	}
	note, noted := r.noteText()
	var cuts []*reading
	from := r.lo
	push := func(to, next int) {
		if to > from {
			cuts = append(cuts, r.part(from, to))
		}
		from = next
	}
	for i := r.lo; i < r.hi; i++ {
		if noted && i >= r.noteStart(note) {
			break
		}
		inside := slices.ContainsFunc(r.spans, func(s span) bool { return s.from <= i && i < s.to-1 })
		switch w := r.word(i); {
		case inside:
		case w == "and" && !(r.word(i-2) == "for" && r.word(i+1) == "i") && (r.word(i-1) == "me" || r.word(i-1) == "myself" || r.person(i-1) != "") && (r.person(i+1) != "" || r.word(i+1) == "me" || r.word(i+1) == "i" || r.word(i+1) == "myself"):
		case (w == "and" || w == "also" || w == "plus" || w == "then" || w == "an" && isDigitWord(r.word(i+1))) && !insideSpan(r, i):
			push(i, i+1)
		case w == "but" && (r.part(from, i).allIsWell() || r.part(i, r.hi).denied() && !r.part(from, i).denied() && !r.has("arrived", "here", "turned up", "come")):
			push(i, i+1)
		case i > from && (r.newClause(i) || r.nextOfAList(from, i)):
			push(i, i)
		case r.toks[i].stop || r.toks[i].end:
			push(i+1, i+1)
		}
	}
	if noted {
		start := r.noteStart(note)
		push(start, start)
	}
	push(r.hi, r.hi)
	cuts = withAmounts(r, cuts)
	if len(cuts) == 0 {
		return nil
	}
	if len(cuts) == 1 {
		return []group{whole}
	}
	if whole.kind != nil && whole.kind.name == "RecordTorque" && r.allOfThem() {
		return []group{whole} // «bolts done, all four, 47»
	}
	var groups []group
	cur := v.compete(cuts[0], cuts[:1:1], c)
	for _, next := range cuts[1:] {
		// «took 3 tubes, what does that leave»: a part goes on from the one before.
		after := c
		if cur.kind != nil {
			if b := v.build(cur, c, nil, Intent{Fields: Fields{}}); len(b) > 0 {
				after.Last = &Done{Intent: b[0]}
			}
		}
		n := v.compete(next, []*reading{next}, after)
		switch {
		case cur.kind != nil && (n.kind == cur.kind || n.kind == nil && cur.kind.name == "RecordTorque") && v.completes(cur, next, c):
			parts := append(slices.Clone(cur.parts), next)
			cur = v.compete(r.part(parts[0].lo, next.hi), parts, c)
		case cur.kind != nil && n.kind != nil && !(n.kind == cur.kind && !n.kind.write && len(next.spans) == 0):
			groups = append(groups, cur)
			cur = n
		case cur.kind == nil && n.kind != nil && n.kind.write && cur.r.allIsWell():
			groups = append(groups, cur) // «no rust in the os sill but …»
			cur = n
		case cur.kind == nil && n.kind != nil && stockKinds[n.kind.name] && len(cur.parts) == 1 && v.goesOn(n, cur.r) && !cur.r.has("mixed", "mixing", "made up", "poured", "got"):
			// The verb comes last: «half a litre of clear and a quarter of hardener used».
			cur.kind, cur.score = n.kind, n.score
			groups = append(groups, cur)
			cur = n
		case cur.kind != nil && cur.kind.name == "RecordOrder" && n.kind == nil && next.onlyOrderDetail():
			cur.parts = append(slices.Clone(cur.parts), next)
			cur.r = r.part(cur.parts[0].lo, next.hi)
		case cur.kind != nil && cur.kind.name == "LogHours" && n.kind == nil && next.materialCounted() && !next.asking() && !next.denied():
			groups = append(groups, cur) // «7 hours today and half a reel of wire»
			cur = n
			cur.kind, cur.score = kindNamed("RecordUse"), 1
		case cur.kind != nil && cur.kind.name == "RecordArrival" && n.kind == nil && next.materialCounted():
			groups = append(groups, cur) // «two hoses in for the tern, and a box of discs»
			cur = n
			cur.kind, cur.score = kindNamed("RecordDelivery"), 1
		case cur.kind != nil && n.kind == nil && v.goesOn(cur, next):
			n.kind, n.score = cur.kind, cur.score
			groups = append(groups, cur)
			cur = n
		case cur.kind == nil && n.kind != nil && n.kind.name == "RecordFind" && cur.r.toks[cur.r.hi-1].end && next.besideIt() && len(cur.r.whole.part(cur.r.whole.lo, next.lo).all(spanPanel)) > 0:
			groups = append(groups, cur) // «is it the crossmember? theres a crack in it»
			cur = n
		case cur.kind != nil && cur.kind.name == "FinishTask" && n.kind == nil && next.hasHours():
			groups = append(groups, cur) // «left sill done, 3 hours»
			cur = n
			if !next.has("all in", "in all", "in total", "all told", "altogether") {
				cur.kind, cur.score = kindNamed("LogHours"), 1
			}
		default:
			parts := append(slices.Clone(cur.parts), next)
			joint := v.compete(r.part(parts[0].lo, next.hi), parts, c)
			if cur.kind == nil && n.kind != nil && joint.kind == nil && n.score >= 1 && cur.r.sentenceOver() && !cur.r.denied() && !cur.r.ahead() && !cur.r.asking() {
				joint = n // what goes before says nothing of it
			}
			if cur.kind == nil && n.kind != nil && joint.kind == nil && n.kind.write && n.score >= 1.2 && len(next.all(spanNumbered)) > 0 && !cur.r.asking() {
				joint = n // «not a scrap of paint on it, task 12 finished»
			}
			if cur.kind != nil && joint.kind == nil {
				// What follows says nothing clear; it must not spoil what was clear.
				groups = append(groups, cur)
				joint = n
			}
			cur = joint
		}
	}
	return append(groups, cur)
}

// withAmounts joins a material and its amount that a mark parts: «the wax, 2 litres left».
func withAmounts(r *reading, cuts []*reading) []*reading {
	var out []*reading
	for _, next := range cuts {
		if n := len(out); n > 0 && n < len(cuts)-1 {
			last := out[n-1]
			_, named := last.first(spanMaterial)
			if named && len(last.all(spanQuantity)) == 0 && len(next.all(spanQuantity)) == 1 && len(next.all(spanMaterial)) == 0 && len(next.rest("left", "there", "hand")) == 0 {
				out[n-1] = r.part(last.lo, next.hi)
				continue
			}
		}
		out = append(out, next)
	}
	return out
}

// splitTold cuts out what a person tells in their own words; what stands before
// and behind is split as usual. nil when there is nothing of that kind.
func (v *Vocabulary) splitTold(r *reading, c Context) []group {
	var groups []group
	from := r.lo
	plain := func(to int) {
		for to > from && (r.word(to-1) == "and" || r.word(to-1) == "also" || r.word(to-1) == "plus" || r.word(to-1) == "then" || r.word(to-1) == "please") {
			to--
		}
		if to > from {
			groups = append(groups, v.split(r.part(from, to), c)...)
		}
	}
	clear := func(rest *reading) bool {
		g := v.compete(rest, []*reading{rest}, c)
		return g.kind != nil && g.score >= 1.05
	}
	leads := r.leads(clear)
	if last := c.Last; len(leads) == 0 && last != nil && (last.Intent.Kind == "AddTask" || last.Intent.Kind == "AddSnag") && r.lo == r.whole.lo && !r.asking() {
		if l, ok := r.leadAt(r.lo, []lead{{kind: last.Intent.Kind}}); ok && l.kind == last.Intent.Kind {
			l.to, l.textEnd = r.hi, r.hi // «and another, …»
			leads = []lead{l}
		}
	}
	for _, l := range leads {
		if !v.kinds[l.kind] {
			continue
		}
		plain(l.from)
		part := r.part(l.from, l.to)
		groups = append(groups, group{r: part, parts: []*reading{part}, kind: kindNamed(l.kind), score: 1.4})
		from = l.to
	}
	if end, ok := r.pronounWants(); ok && len(groups) == 0 && c.Last != nil && (c.Last.Intent.Kind == "AddBrief" || c.Last.Intent.Kind == "GetBrief") && v.kinds["AddBrief"] {
		// «he also wants it back in harbour blue», right after a line of the brief
		part := r.part(end, r.hi)
		return []group{{r: part, parts: []*reading{part}, kind: kindNamed("AddBrief"), score: 1.2}}
	}
	if from > r.lo && len(groups) > 0 {
		plain(r.hi)
		return groups
	}
	return nil
}

// pronounWants reads «he also wants», «and she wants» and returns what comes after.
func (r *reading) pronounWants() (end int, ok bool) {
	if r.asking() || r.denied() {
		return 0, false
	}
	i := r.lo
	if r.word(i) == "and" {
		i++
	}
	if w := r.word(i); w != "he" && w != "she" && w != "they" {
		return 0, false
	}
	for _, p := range []string{"also wants", "also want", "wants", "want", "would also like", "also asked for", "d also like"} {
		if end, ok := r.phraseEnds(i+1, p); ok && end < r.hi {
			return end, r.has("also") || r.word(r.lo) == "and"
		}
	}
	return 0, false
}

func isDigitWord(w string) bool { return w != "" && isDigit(w[0]) }

// newClause reports that a new statement begins at token i though no mark says
// so: «… on the sill used a tube of sealer», «… seam sealer os door rear edge …».
func (r *reading) newClause(i int) bool {
	switch r.word(i) {
	case "used", "took", "binned", "spilt", "counted", "found", "theres", "logged":
		switch r.word(i - 1) {
		case "i", "we", "ive", "have", "has", "just", "not", "havent", "didnt", "never", "been", "was", "were", "be", "and", "he", "she", "they", "already", "only", "what", "that", "being", "get", "got":
			return false
		}
		if w := r.word(i); (w == "used" || w == "took" || w == "binned" || w == "spilt" || w == "counted") && !r.objectAt(i+1) {
			return false
		}
		return r.person(i-1) == ""
	}
	if r.word(i) == "thats" && (r.word(i-1) == "finished" || r.word(i-1) == "done") && r.quantityStarts(i+1) {
		return true // «task 10 finished thats 4 hours»
	}
	if r.word(i) == "i" && r.word(i+1) == "did" && r.hasHours() {
		return true // «jonah did 2h i did 4»
	}
	prev := func(kind spanKind) bool {
		return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == kind && s.to == i })
	}
	return r.sideAt(i) && prev(spanMaterial) && slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanSide && s.from == i })
}

// allIsWell reports a clause that only says that nothing is wrong somewhere.
func (r *reading) allIsWell() bool {
	_, panel := r.first(spanPanel)
	_, side := r.first(spanSide)
	return (panel || side) && (r.denied() || r.has("is fine", "is ok", "is good", "is solid", "is sound", "looks ok", "looks good", "are fine", "are ok", "all good", "is clean"))
}

// nextOfAList reports that the next of several amounts or hours begins at token i
// though no mark says so: «1 tin clear 1 tin clear hardener», «3h loom 1h propshaft».
func (r *reading) nextOfAList(from, i int) bool {
	if !r.quantityStarts(i) || r.toks[i-1].stop {
		return false
	}
	unit := func(lo, hi int, units ...string) bool {
		return slices.ContainsFunc(r.spans, func(s span) bool {
			return s.kind == spanQuantity && s.from >= lo && s.to <= hi && slices.Contains(units, s.unit)
		})
	}
	at, _ := r.spanOf(i, spanQuantity)
	switch at.unit {
	case "h":
		return unit(from, i, "h") && r.word(i-1) != "and" && r.word(i-1) != "or" && r.word(i-1) != "to"
	case "pack", "l", "ml", "kg":
		return unit(from, i, "pack", "l", "ml", "kg", "") && slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanMaterial && s.to == i })
	}
	return false
}

// objectAt reports that something counted or named begins at token i.
func (r *reading) objectAt(i int) bool {
	switch r.word(i) {
	case "a", "an", "some", "up", "the", "about", "half":
		return true
	}
	return slices.ContainsFunc(r.spans, func(s span) bool {
		return s.from == i && (s.kind == spanQuantity || s.kind == spanMaterial)
	})
}

// person returns the person that token i names, or "".
func (r *reading) person(i int) string {
	for _, s := range r.spans {
		if s.kind == spanPerson && s.from <= i && i < s.to {
			return s.id
		}
	}
	return ""
}

func insideSpan(r *reading, i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.from <= i && i < s.to })
}

// noteStart returns the token where the part that introduces a note begins.
func (r *reading) noteStart(text int) int {
	i := text - 1
	for i > r.lo && !r.toks[i-1].stop && !r.toks[i-1].end && r.word(i-1) != "and" {
		i--
	}
	return i
}

// wholeMessage are the sums whose figures stand all over a message.
var wholeMessage = wordSet("AdjustWrench CheckClimate SizeCable RoadSpeed Convert")

// wholeSentence are the kinds that a comma or an «and» does not cut in two when
// they are heard for sure.
var wholeSentence = wordSet("ChangeDue CloseFind ReturnPart StartTask FinishTask CloseSnag DecideExtra AddPerson LinkChannel AddSupplier SetPanelSize AdviseRepair")

// wholeAsked are the records that no part of a question makes: «enough blue for 3 coats
// on the bonnet and tailgate?».
var wholeAsked = wordSet("RecordCoat RecordUse RecordDelivery RecordCount RecordWaste RecordTorque RecordGap RecordFind")

// sentenceAsks reports that the sentence that the reading is in ends with a question mark.
func (r *reading) sentenceAsks() bool {
	for i := r.hi - 1; i < r.whole.hi; i++ {
		if !r.toks[i].end && i+1 < r.whole.hi {
			continue
		}
		from := r.hi
		if r.whole.word(from) == "and" {
			from++
		}
		if questionWords[r.whole.word(from)] {
			return false // «used a litre of base, and whats left?»: the question is the rest
		}
		return strings.HasPrefix(strings.TrimLeft(r.source[r.toks[i].to:], " "), "?")
	}
	return false
}

var stockKinds = wordSet("RecordUse RecordDelivery RecordCount RecordWaste")

// compete lets every kind weigh a reading and keeps the best.
func (v *Vocabulary) compete(r *reading, parts []*reading, c Context) group {
	g := group{r: r, parts: parts}
	if !c.Addressed && (r.ownLife() || r.yearsAgo() || r.whole.asksPerson(c)) {
		return g
	}
	for i := range kinds {
		k := &kinds[i]
		score := k.score(r, c)
		if score > g.score {
			g.next = g.score
			g.score, g.kind = score, k
		} else if score > g.next {
			g.next = score
		}
	}
	if g.kind == nil {
		return g
	}
	level := readLevel
	if g.kind.write {
		level = writeLevel
	}
	if g.kind.write && wholeAsked[g.kind.name] && r.sentenceAsks() {
		g.kind = nil
		return g
	}
	if g.kind.write && g.r.whole.toOther(c) {
		g.kind = nil
		return g
	}
	if g.score < level || (g.kind.write && g.score-g.next < margin/3) {
		g.kind = nil
		return g
	}
	switch g.kind.name {
	case "AddNote", "SetTorque", "SetGap", "CreateJob", "AddMaterial", "Undo", "ReturnPart", "DecideExtra", "CloseSnag", "RecordArrival", "RecordOrder", "ChangeDue", "FinishTask":
		// These look at what is denied themselves, or it is part of their text.
		if r.hedgedOwn(g.kind.name) {
			g.kind = nil
		}
	default:
		if g.kind.write && g.denied() {
			g.kind = nil
		}
	}
	return g
}
