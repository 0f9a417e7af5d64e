package hear

import "slices"

// group is a run of a message that makes one request, with the parts it was
// joined from.
type group struct {
	r     *reading
	parts []*reading
	kind  *kind // nil when it sounds like nothing
	score float64
	next  float64 // score of the runner-up
}

// evidence are the spans that make a part of a message count when it is asked
// whether the message denies something; by kind, because «wire wheel wont shift
// it» denies no find.
func evidence(kind string) []spanKind {
	switch kind {
	case "RecordUse", "RecordDelivery", "RecordCount", "RecordWaste":
		return []spanKind{spanMaterial, spanQuantity}
	case "RecordCoat":
		return []spanKind{spanMaterial, spanPanel, spanQuantity}
	case "RecordTorque":
		return nil // a sign-off is denied wherever the denial stands
	case "LogHours":
		return []spanKind{spanQuantity}
	case "RecordGap":
		return []spanKind{spanPanel, spanEdge, spanQuantity}
	}
	return []spanKind{spanPanel, spanFind, spanNumbered}
}

// denied reports that a part with something in it says that it is not so, or
// not yet, or still to come.
func (g *group) denied() bool {
	if g.r.story() || g.r.hedged(g.kind.name) {
		return true
	}
	if g.kind.name == "RecordFind" {
		return g.r.noFind() || g.r.has("gonna", "going to", "tomorrow", "thinking", "might", "lets", "remind", "thought", "turned out", "could have sworn", "only muck", "if that", "if the", "if its", "check for", "look for", "looking for", "if there")
	}
	kinds := evidence(g.kind.name)
	for _, p := range g.parts {
		counts := slices.ContainsFunc(p.spans, func(s span) bool { return slices.Contains(kinds, s.kind) && !s.landmark })
		if (counts || kinds == nil) && (p.denied() || p.ahead()) {
			return true
		}
	}
	return false
}

// story reports talk of another place or time, which reports nothing here.
func (r *reading) story() bool {
	return r.whole.has("on the radio", "other car", "other van", "last years", "my car", "my van", "his own car", "down the road", "in the paper", "on the news", "at mine", "last place", "at home", "back home", "i used to", "we used to", "years ago", "never again", "when i was", "at the weekend", "my mate", "my last", "back when", "down the pub", "last night", "in traffic", "good old days", "in my day", "the telly", "on telly")
}

// hedged reports that what is said holds only in part, nearly, or as one of
// two: then nothing is recorded.
func (r *reading) hedged(kind string) bool {
	if r.has("bar one", "bar two", "bar the", "except", "apart from", "all but", "nearly", "almost", "half done", "half the", "to be done", "to be welded", "still to do", "still to go", "yet to do", "wasnt fixed properly", "fixed badly", "redo", "imagine", "pretend", "expected", "dont record", "dont log", "dont write", "was there", "the last lot", "between", "or so they", "ought to", "allow", "plan", "supposedly", "apparently") || r.hearsay(kind) ||
		r.whole.has("dont record", "dont log", "dont write that", "dont put") {
		return true
	}
	for i := r.lo + 1; i+1 < r.hi; i++ {
		if r.word(i) == "or" && r.quantityEnds(i) && r.quantityStarts(i+1) {
			return true // «45 or 47»
		}
	}
	switch kind {
	case "RecordTorque":
		if r.asking() {
			return true // «engine mounts done 47?»
		}
		if len(r.all(spanFastener)) > 1 && len(r.bare()) > 1 {
			return true // whose figure is which, nobody can tell for sure
		}
		if r.whole.has("stage", "stages", "first stage", "still to do", "still to go", "rears", "fronts", "ns only", "os only", "left only", "right only", "one side only", "by feel") || r.whole.has("did them") && !r.whole.has("i did them") {
			return true // a sign-off is of the whole, at its last figure
		}
		for _, s := range r.all(spanPerson) {
			switch r.word(s.to) {
			case "torqued", "tightened", "did", "done", "has":
				return true // another's work is another's to sign off
			}
		}
		if r.has("on three wheels", "on two wheels", "on one wheel", "finger tight", "hand tight") {
			return true
		}
		for i := r.lo; i+2 < r.hi; i++ {
			if r.word(i+1) == "of" && r.quantityEnds(i+1) && r.quantityStarts(i+2) {
				return true // «5 of 6»
			}
		}
	case "RecordUse":
		return r.has("put") && r.has("back") || r.has("back in the tin")
	case "RecordCoat":
		return r.whole.has("tomorrow", "plan", "going on", "half a coat")
	case "RecordFind":
		return r.whole.has("workshop", "tearoom", "shop floor", "shop roof", "shop door", "my left", "my right", "isnt welded") || r.has("treated", "tacked", "pulled", "need to check", "check for", "looks like there could", "reckons", "probably", "apparently", "supposedly", "might be", "could be", "maybe", "i bet", "ill bet") || r.starts("scrap", "undo", "delete", "remove", "cancel", "forget") || r.has("drilled", "cut a hole", "check the", "not any more", "no more", "had a hole but", "same as the")
	case "CloseFind":
		return r.has("on the outside", "inner still", "to do", "half")
	case "RecordGap":
		return r.has("too tight", "too wide", "opened", "wants", "was", "needs", "now")
	case "LogHours":
		if len(r.all(spanPerson)) > 1 && len(r.bare()) > 0 && r.hasHours() && !r.has("each", "task") {
			return true // «idris 4, jonah 3 hours»: two figures for two people
		}
		return r.strangerDid() || r.has("worth", "in 5 minutes", "in ten minutes", "estimate", "estimated", "budget", "left in", "left on", "to go", "curing", "in the oven", "took", "to get here", "next")
	}
	return false
}

// strangerDid reports «steve did 2 hours»: somebody whom the shop does not know.
func (r *reading) strangerDid() bool {
	for i := r.lo + 1; i < r.hi; i++ {
		if w := r.word(i); w != "did" && w != "worked" && w != "done" {
			continue
		}
		if i-1 > r.lo && r.word(i-2) != "and" && !r.toks[i-2].stop && !r.toks[i-2].end {
			continue
		}
		switch r.word(i - 1) {
		case "i", "we", "ive", "weve", "just", "all", "both", "they", "he", "she", "us", "me", "also", "only", "have", "that", "and", "so", "right", "ok", "then", "still", "got", "actually", "already", "now", "today", "yesterday", "who", "you", "myself", "mostly", "what", "hours", "hour", "im":
			return false
		}
		return !r.used[i-1] && !isDigitWord(r.word(i-1)) && !r.spanAt(i-1, spanStage) && !r.spanAt(i-1, spanQuantity)
	}
	return false
}

// hearsay reports what somebody else is said to have said; only what one saw or did
// oneself is recorded.
func (r *reading) hearsay(kind string) bool {
	if kind == "AddBrief" || kind == "AddNote" || kind == "DecideExtra" || kind == "ProposeExtra" || kind == "Remind" || kind == "ChangeDue" || kind == "SetTorque" {
		return false
	}
	for i := r.whole.lo; i+1 < r.whole.hi; i++ {
		if w := r.whole.word(i + 1); r.whole.person(i) != "" && (w == "says" || w == "reckons" || w == "thinks") {
			return true
		}
	}
	return false
}

func (r *reading) quantityEnds(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanQuantity && s.to == i })
}

func (r *reading) quantityStarts(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanQuantity && s.from == i })
}

// noFind reports that every find named is said not to be there: «no rust in the sill».
func (r *reading) noFind() bool {
	denies := wordSet("no not isnt arent aint wasnt werent without never hasnt havent doesnt didnt cant couldnt nothing neither")
	named, denied := 0, 0
	for _, s := range r.spans {
		if s.kind != spanFind || s.landmark {
			continue
		}
		named++
		for j := s.from - 1; j >= r.lo && j >= s.from-4 && !r.toks[j].stop && !r.toks[j].end; j-- {
			if denies[r.word(j)] {
				denied++
				break
			}
		}
	}
	return named > 0 && named == denied || r.has("not yet", "yet to")
}

// split cuts a message at its commas, stops and «and»s, and joins the parts
// again into the requests they make.
func (v *Vocabulary) split(r *reading, c Context) []group {
	if groups := v.splitTold(r, c); groups != nil {
		return groups
	}
	whole := v.compete(r, []*reading{r}, c)
	if whole.kind != nil && whole.score >= 1.2 && !v.several(whole) && (whole.kind.name == "CreateJob" || whole.kind.name == "AddMaterial" || whole.kind.name == "Undo" || whole.kind.name == "SetTorque" || whole.kind.name == "SetGap" || wholeSentence[whole.kind.name]) {
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
		case w == "and" && (r.word(i-1) == "me" || r.word(i-1) == "myself" || r.person(i-1) != "") && (r.person(i+1) != "" || r.word(i+1) == "me" || r.word(i+1) == "i" || r.word(i+1) == "myself"):
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
	if len(cuts) == 0 {
		return nil
	}
	if len(cuts) == 1 {
		return []group{whole}
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
		case cur.kind != nil && n.kind == cur.kind && v.completes(cur, next, c):
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
		case cur.kind != nil && n.kind == nil && v.goesOn(cur, next):
			n.kind, n.score = cur.kind, cur.score
			groups = append(groups, cur)
			cur = n
		default:
			parts := append(slices.Clone(cur.parts), next)
			joint := v.compete(r.part(parts[0].lo, next.hi), parts, c)
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

// onlyOrderDetail reports a clause that only adds a price, a day or a supplier.
func (r *reading) onlyOrderDetail() bool {
	_, due := r.dueDay()
	_, supplier := r.first(spanSupplier)
	if !due && !supplier && len(r.prices()) == 0 {
		return false
	}
	return len(r.rest("due", "quid", "pounds", "each", "from", "off", "here", "coming", "in", "week", "next", "plus", "vat", "inc", "all", "the", "lot", "pair", "delivered", "delivery")) == 0
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
	for _, l := range r.leads(clear) {
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

var stockKinds = wordSet("RecordUse RecordDelivery RecordCount RecordWaste")

// goesOn reports whether next says the same kind of thing again with its verb
// left out: «used a litre of base and two of thinner».
func (v *Vocabulary) goesOn(cur group, next *reading) bool {
	switch cur.kind.name {
	case "RecordUse", "RecordDelivery", "RecordCount", "RecordWaste":
		id, choose, _ := next.material(true, nil)
		return (id != "" || len(choose) > 0) && (next.hasAmountUnit() || len(next.bare()) > 0 || next.has("some", "a bit", "a load", "a drop") || next.oneContainer())
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
		return named && valued
	case "RecordFind":
		_, panel := next.first(spanPanel)
		_, size := next.first(spanSize)
		return panel && size
	case "GetStock":
		id, _, _ := next.material(false, nil)
		return id != ""
	case "LookUpTorque":
		_, named := next.first(spanFastener)
		return named
	}
	return false
}

// oneContainer reports «a gas bottle»: a material whose name ends with its container.
func (r *reading) oneContainer() bool {
	m, ok := r.first(spanMaterial)
	return ok && (r.word(m.from-1) == "a" || r.word(m.from-1) == "another") && containers[stem(r.word(m.to-1))]
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

// compete lets every kind weigh a reading and keeps the best.
func (v *Vocabulary) compete(r *reading, parts []*reading, c Context) group {
	g := group{r: r, parts: parts}
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
	default:
		if g.kind.write && g.denied() {
			g.kind = nil
		}
	}
	return g
}
