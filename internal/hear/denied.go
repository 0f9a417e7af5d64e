package hear

import (
	"slices"
	"strings"
)

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
		return g.r.noFind() || g.r.whole.asksBehind() || g.r.starts("mind", "bet", "dont tell me", "watch", "i bet", "watch that", "mind that") || g.r.whole.has("last time", "the last one", "last one we", "dads", "got rid of", "the other one we", "tractor") || g.r.has("dent out", "dents out", "dint out", "dug the", "dug out", "got rid of", "ground the", "cut the rust out", "patched up the") || g.r.has("gonna", "going to", "tomorrow", "thinking", "might", "lets", "remind", "thought", "turned out", "could have sworn", "only muck", "if that", "if the", "if its", "check for", "look for", "looking for", "if there")
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

// ownLife reports talk of what people do and have outside the shop, for no kind of
// question or record. Common words, no source.
func (r *reading) ownLife() bool {
	return r.whole.hasAny("doctor dentist vet hospital casualty parking milk wife missus cousin prayer") ||
		r.whole.has("my knee", "my knees", "my back", "my hip", "my mum", "my nan", "my dad", "my brother", "my brothers", "my sister", "my sisters", "my uncle", "my uncles", "my neighbour", "my neighbours", "my kitchen", "my shed", "my garden", "my dog", "our kid", "the kids", "on hold to", "on hold with", "pay rise", "place down the", "shop down the", "firm down the", "garage down the", "lot down the road")
}

// asksPerson reports a question that one person asks another by name: «mabel did you
// want …».
func (r *reading) asksPerson(c Context) bool {
	who := r.person(r.lo)
	if who == "" || who == c.Speaker || r.toks[r.lo].end {
		return false
	}
	rest := r.part(r.lo+1, r.hi)
	return rest.starts("did you", "do you", "have you", "are you", "were you", "will you", "would you", "you want", "youre", "youve", "dya")
}

// yearsAgo reports a story of one that was in another year.
func (r *reading) yearsAgo() bool {
	if !r.whole.has("we had one in", "had one in", "had one once", "must be", "back in") {
		return false
	}
	for i := r.whole.lo; i < r.whole.hi; i++ {
		if v, _, ok := r.whole.numberAt(i); ok && v >= 1950 && v <= float64(r.now.Year()) && len(r.whole.word(i)) == 4 {
			return true
		}
	}
	return r.whole.has("we had one in once", "had one in once", "we had one in years")
}

// hedged reports that what is said holds only in part, nearly, or as one of
// two: then nothing is recorded.
func (r *reading) hedged(kind string) bool {
	if r.has("bar one", "bar two", "bar the", "except", "apart from", "all but", "nearly", "almost", "half done", "half the", "to be done", "to be welded", "still to do", "still to go", "yet to do", "wasnt fixed properly", "fixed badly", "redo", "imagine", "pretend", "expected", "dont record", "dont log", "dont write", "was there", "the last lot", "or so they", "ought to", "allow", "plan", "supposedly", "apparently") || r.hearsay(kind) ||
		r.whole.has("dont record", "dont log", "dont write that", "dont put") {
		return true
	}
	for i := r.lo + 1; i+1 < r.hi; i++ {
		if r.word(i) == "between" && (r.quantityStarts(i+1) || r.quantityEnds(i)) {
			return true // «between 3 and 4»
		}
		if r.word(i) == "or" && r.quantityEnds(i) && r.quantityStarts(i+1) {
			return true // «45 or 47»
		}
	}
	switch kind {
	case "RecordTorque":
		if r.asking() || r.starts("are", "is the", "were the", "once", "when", "get the", "get those", "get them", "undid") {
			return true // «engine mounts done 47?», «get the wheel nuts done 81»
		}
		if r.whole.has("undo them", "undid", "undone", "had to undo", "backed them off", "backed it off", "backed off", "loose", "loosened", "took them off", "took it off", "to be torqued", "to be tightened", "getting done", "i hope", "hopefully", "according to", "plus a bit", "first pass", "second pass", "used to be", "waiting") || r.rangeSaid() || r.barePlug() {
			return true // undone again, not done yet, not at that, or nobody knows at what
		}
		if s, ok := r.first(spanDay); ok && s.id != s.ids[1] || ok && s.id > r.now.Format(isoDay) {
			return true // «76 on friday»
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
		if r.whole.has("i was told", "or so", "by whoever", "on the other one", "all bar", "bar two", "bar one", "to go", "last pass", "no wait", "so they say", "apparently", "was done by", "were done by", "when it was built") {
			return true
		}
		for i := r.whole.lo; i+1 < r.whole.hi; i++ {
			if who := r.whole.person(i + 1); r.whole.word(i) == "by" && who != "" {
				return true // another's work
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
	case "RecordDelivery":
		return r.whole.has("sent one back", "sent it back", "sent them back", "going back", "sent back")
	case "RecordUse":
		if r.whole.has("should have", "id have", "would have", "could have", "last time", "most of it", "some of it") {
			return true
		}
		return r.has("put") && r.has("back") || r.has("back in the tin")
	case "RecordCoat":
		if p := r.whole.person(r.whole.lo); p != "" {
			return true // «mabel 2 coats of clear on the roof»
		}
		if r.whole.has("everything but", "everything bar", "everything except") {
			return true
		}
		return r.whole.has("tomorrow", "plan", "going on", "half a coat", "please", "when it", "wants", "will be", "needs") || r.whole.starts("give", "stick", "whack", "get")
	case "RecordFind":
		return r.word(r.hi-1) == "out" || r.starts("check", "made a", "cut out a", "cut a") || r.whole.has("not a hole", "not a dent", "not rust", "not a crack", "before i cut", "less than", "last owner", "customer thinks", "thinks theres", "thinks there", "told us", "told me", "more hole than", "more rust than", "more filler than", "more holes than", "workshop", "tearoom", "shop floor", "shop roof", "shop door", "my left", "my right", "isnt welded") || r.has("treated", "tacked", "pulled", "need to check", "check for", "looks like there could", "reckons", "probably", "apparently", "supposedly", "might be", "could be", "maybe", "i bet", "ill bet") || r.starts("scrap", "undo", "delete", "remove", "cancel", "forget") || r.has("drilled", "cut a hole", "check the", "not any more", "no more", "had a hole but", "same as the")
	case "CloseFind":
		return r.whole.has("by mistake", "everything but", "everything bar", "mostly", "tacked", "well nearly", "sort of", "kind of") || r.has("on the outside", "inner still", "to do", "half")
	case "RecordGap":
		return r.has("closed up by", "opened by", "closed by", "down from", "up from", "same but", "scrap that", "scrub that") || r.has("before") && (!r.starts("before") || r.has("after")) || r.overOrUnder() || r.gapRange() || r.frontAndRear() || r.has("too tight", "too wide", "opened", "wants", "was", "needs") || r.has("now") && len(r.gapValues()) < 2
	case "LogHours":
		if len(r.all(spanPerson)) > 1 && len(r.bare()) > 0 && r.hasHours() && !r.has("each", "task") {
			return true // «idris 4, jonah 3 hours»: two figures for two people
		}
		together := r.whole.has("between us") || r.whole.has("total", "combined") && len(r.all(spanPerson)) > 0
		if together && len(r.whole.all(spanPerson)) > 0 && r.has("and i", "me and", "and me", "us") && !r.has("each") && !r.asking() {
			return true // whose they are in all, is to be asked
		}
		return r.strangerDid() || r.has("on each", "per side", "each side", "hours short", "did nothing", "none", "this week", "worth", "in 5 minutes", "in ten minutes", "estimate", "estimated", "budget", "left in", "left on", "to go", "curing", "in the oven", "took", "to get here", "next")
	}
	return false
}

// hedgedOwn is hedged for the kinds that look themselves at what is denied.
func (r *reading) hedgedOwn(kind string) bool {
	switch kind {
	case "RecordOrder":
		return r.whole.has("shouldve ordered", "should have ordered", "would have ordered", "cancelled", "canceled")
	case "DecideExtra":
		return r.whole.has("but not the", "agreed but")
	case "SetTorque":
		return r.whole.has("used to say", "used to be", "thinks the", "thinks it", "reckons the") || r.rangeSaid()
	case "FinishTask":
		return r.has("one side", "only", "first half", "first side") && !r.has("only just")
	}
	return false
}

// rangeSaid reports «60 to 65», «80/85»: from which to which, and no one figure.
func (r *reading) rangeSaid() bool {
	for _, s := range r.all(spanQuantity) {
		if r.word(s.to) == "to" && r.quantityStarts(s.to+1) && s.unit == "" || r.word(s.from-1) == "to" && r.quantityEnds(s.from-1) {
			return true
		}
		if strings.Contains(r.toks[s.from].text, "/") && s.value < 2 && s.to == s.from+1 {
			return true
		}
	}
	return false
}

// gapRange reports «4-5», or a place in a row of readings that was not read: «4, -, 5».
func (r *reading) gapRange() bool {
	for i := r.lo; i+1 < r.hi; i++ {
		if r.quantityEnds(i+1) && r.quantityStarts(i+1) {
			if between := r.source[r.toks[i].to:r.toks[i+1].from]; between == "-" || strings.Contains(between, "-,") || strings.Contains(between, " - ") {
				return true
			}
		}
	}
	return false
}

// overOrUnder reports «1.5 over»: how far it is from what it should be.
func (r *reading) overOrUnder() bool {
	for _, s := range r.all(spanQuantity) {
		if w := r.word(s.to); w == "over" || w == "under" {
			return true
		}
	}
	return false
}

// frontAndRear reports two edges named by where they are alone: «4 at the front, 5 rear».
func (r *reading) frontAndRear() bool {
	_, strong := r.first(spanEdge)
	return !strong && r.hasAny("front") && r.hasAny("rear back") && len(r.all(spanEnd)) == 0
}

// barePlug reports a plug of which nobody can tell whether it sparks or drains.
func (r *reading) barePlug() bool {
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i - 1); r.word(i) == "plug" && w != "spark" && w != "sump" && w != "drain" && w != "oil" && r.spanOver(i) == spanFastener {
			return true
		}
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
		if w := r.whole.word(i + 1); r.whole.person(i) != "" && (w == "says" || w == "reckons" || w == "thinks" || w == "said" && kind == "RecordTorque" && !r.whole.has("put down", "sign", "log")) {
			return true
		}
	}
	return false
}

// notSoBad reports «not so bad», which denies nothing.
func (r *reading) notSoBad(i int) bool {
	w := r.word(i + 1)
	return r.word(i) == "not" && (w == "so" || w == "too" || w == "as") && r.word(i+2) == "bad"
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
			if denies[r.word(j)] && !r.notSoBad(j) {
				denied++
				break
			}
		}
	}
	return named > 0 && named == denied || r.has("not yet", "yet to")
}
