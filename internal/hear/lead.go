package hear

// lead is a part of a message that tells something in its own words: a head such
// as «snag:» or «remind me at 4 to», and the text after it; or the text, and
// after it «add that to the brief».
type lead struct {
	kind     string
	from, to int // tokens of the whole part
	text     int // token where the text begins
	textEnd  int
}

// leads finds the parts of a reading that tell something in their own words.
// other reports that a sentence is clearly of another kind and ends such a part;
// nil when the reading is one part already.
func (r *reading) leads(other func(*reading) bool) []lead {
	var out []lead
	note, noted := r.noteText()
	for i := r.lo; i < r.hi; i++ {
		if noted && i >= r.noteStart(note) && !r.has("as a snag", "as a task") {
			if !(i > note && r.toks[i-1].end && r.toks[i].stop) { // but «note: …. snag: …»
				continue // a note may say what a customer wants
			}
		}
		if n := len(out); n > 0 && i < out[n-1].to {
			continue
		}
		l, ok := r.leadAt(i, out)
		if !ok && other == nil && i == r.lo {
			l, ok = r.leadAt(i, []lead{{kind: "AddSnag"}}) // the second of two
		}
		if !ok {
			continue
		}
		out = append(out, l)
		last := &out[len(out)-1]
		last.to = r.leadEnds(*last, other)
		last.textEnd = r.tailAt(last.kind, last.text, last.to)
		i = max(l.text, last.to) - 1
	}
	if noted && len(out) == 0 {
		return nil
	}
	if len(out) == 0 || len(out) == 1 && out[0].text >= r.hi {
		if l, ok := r.tail(); ok {
			out = []lead{l} // «…, add it to the brief» has its text before
		} else if len(out) > 0 {
			return out
		} else if l, ok := r.between(); ok {
			out = append(out, l)
		} else if len(r.numbersOf("find")) > 0 && r.starts("find", "finds") && r.has("price as an extra", "price as extra", "as an extra", "price it as an extra", "price up") && !r.asking() && !r.deniedWork() {
			out = append(out, lead{kind: "ProposeExtra", from: r.lo, to: r.hi, text: r.lo, textEnd: r.hi})
		} else if r.has("as an extra") && (len(r.numbersOf("find")) > 0 || r.has("both of", "those", "them both", "these", "that", "it") && r.starts("work", "price", "quote", "cost", "propose", "put")) && !r.asking() && !r.deniedWork() && r.starts("put", "price", "quote", "cost", "propose", "add", "stick", "log", "work") {
			out = append(out, lead{kind: "ProposeExtra", from: r.lo, to: r.hi, text: r.lo, textEnd: r.hi})
		}
	}
	return out
}

// leadAt reads a head at token i.
func (r *reading) leadAt(i int, before []lead) (lead, bool) {
	if from, ok := r.timeBefore(i); ok {
		return lead{kind: "Remind", from: from, text: i + 2}, r.leadHolds(lead{kind: "Remind", from: i, text: i + 2}, i+2)
	}
	if !r.clauseStart(i) && !r.putInBrief(i) {
		return lead{}, false
	}
	if n := len(before); n > 0 && (before[n-1].kind == "AddSnag" || before[n-1].kind == "AddTask") {
		for _, p := range []string{"and another one", "and another", "another one", "add another one", "add another", "second one", "third one", "another", "next one", "other one", "also", "second", "2nd one"} {
			if end, ok := r.phraseEnds(i, p); ok && r.toks[end-1].stop {
				return lead{kind: before[n-1].kind, from: i, text: end}, true
			}
		}
	}
	if from, ok := r.countedSnags(i, before); ok {
		return lead{kind: "AddSnag", from: i, text: from}, from < r.hi
	}
	best, kind := 0, ""
	for _, h := range leadHeads {
		for _, p := range h.phrases {
			if end, ok := r.phraseEnds(i, p); ok && end > best {
				best, kind = end, h.kind
			}
		}
	}
	if _, _, numbered := r.numberAt(i + 1); r.word(i) == "brief" && numbered && !r.toks[i].stop {
		best, kind = i+1, "MeetBrief"
	}
	if end, k := r.verbHead(i); end > best {
		best, kind = end, k
	}
	if k, end, ok := r.tailEnds(i); ok && i == r.lo && kind == "" && end < r.hi && end > i+2 {
		best, kind = end, k // «stick it down as a snag the reversing light …»
	}
	if end, ok := r.thatAsExtra(i); ok && end > best {
		best, kind = end, "ProposeExtra"
	}
	if end, ok := r.pricedWork(i); kind == "" && ok {
		best, kind = end, "ProposeExtra"
	}
	if end, ok := r.looseExtra(i); kind == "" && ok {
		best, kind = end, "ProposeExtra"
	}
	if end, k := r.looseHead(i); kind == "" && end > 0 {
		best, kind = end, k
	}
	if kind == "Remind" && best == i+1 && r.word(i) != "reminder" || kind == "" {
		kind = ""
		if _, _, clock := r.numberAt(i + 1); r.word(i) == "remind" && clock {
			best, kind = i+1, "Remind"
		}
		if r.word(i) == "remind" && r.person(i+1) != "" {
			best, kind = i+2, "Remind"
		}
		if end, ok := r.wants(i); ok {
			best, kind = end, "AddBrief"
		}
		if end, ok := r.briefOf(i); ok {
			best, kind = end, "AddBrief"
		}
	}
	if kind == "" || kind == "AddBrief" && r.toks[best-1].end {
		return lead{}, false // «…, add to the brief. and …» has its text before
	}
	if _, that := r.thatAsExtra(i); that && kind == "ProposeExtra" {
		return lead{kind: kind, from: i, text: r.hi, textEnd: r.hi}, !r.asking()
	}
	if text := r.pastTarget(best); (text >= r.hi || kind != "Remind" && (kind != "ProposeExtra" || r.plainExtra()) && !r.toks[text-1].stop && len(r.part(text, r.hi).rest("put", "down", "log", "add", "report", "raise", "in", "please", "list", "something", "thing", "line", "item")) == 0) && !(kind == "ProposeExtra" && len(r.numbersOf("find")) > 0) {
		// «add a task to the tern»: what, is to be asked.
		loose := r.word(i) == "got" || r.word(i) == "want" || r.word(i) == "need" || r.word(i) == "get"
		return lead{kind: kind, from: i, text: r.hi}, best-i > 1 && (headVerbs[r.word(i)] || kind == "Remind") && !(loose && kind == "ProposeExtra") && !r.part(i, r.hi).asking() && kind != "MeetBrief"
	}
	l := lead{kind: kind, from: i, text: r.pastTarget(best)}
	if kind == "AddSnag" {
		// «snags from the test drive: …»
		for j := best; j < r.hi && j < best+6; j++ {
			if at := r.toks[j].to; r.toks[j].stop && at < len(r.source) && r.source[at] == ':' {
				l.text = j + 1
				return l, l.text < r.hi
			}
			if r.toks[j].stop || r.toks[j].end {
				break
			}
		}
	}
	return l, r.leadHolds(l, best)
}

// countedSnags reads «two snags. …», «two snags for the list: …» at the beginning, and
// then each sentence as one of them. It returns where the text of this one begins.
func (r *reading) countedSnags(i int, before []lead) (int, bool) {
	n, at, ok := r.numberAt(r.lo)
	if !ok || n < 2 || n > 9 || r.word(at) != "snags" {
		return 0, false
	}
	for ; at+1 < r.hi && !r.toks[at].end && !r.toks[at].stop; at++ {
		if w := r.word(at + 1); w != "for" && w != "on" && w != "the" && w != "this" && w != "list" && w != "one" && !r.spanAt(at+1, spanJob) {
			return 0, false
		}
	}
	if at+1 >= r.hi || len(before) >= int(n) {
		return 0, false
	}
	if i == r.lo {
		return at + 1, true
	}
	if i <= at+1 || len(before) == 0 {
		return 0, false
	}
	if r.word(i) == "and" {
		return i + 1, r.toks[i-1].end || r.toks[i-1].stop
	}
	return i, r.toks[i-1].end
}

// putInBrief reports «… put it in the brief he wants …», where no mark parts what
// goes before.
func (r *reading) putInBrief(i int) bool {
	if w := r.word(i); w != "put" && w != "add" && w != "stick" {
		return false
	}
	for _, p := range []string{"it in the brief", "that in the brief", "it on the brief", "it to the brief", "this in the brief"} {
		if end, ok := r.phraseEnds(i+1, p); ok {
			return end+1 < r.hi
		}
	}
	return false
}

// leadHolds tells a head from the same words in a question or in another record:
// «snag 4 fixed», «snag list for the tern», «extra 2 agreed», «remind me what».
func (r *reading) leadHolds(l lead, head int) bool {
	marked := r.toks[head-1].stop || l.text > l.from && r.toks[l.text-1].stop
	rest := r.part(l.from, r.hi)
	_, _, number := r.numberAt(head)
	if _, ok := r.spanOf(l.from, spanNumbered); ok {
		number = true // «snag 4 fixed», «extra 2 agreed»
	}
	long := head-l.from > 1
	switch l.kind {
	case "AddSnag":
		if l.text >= r.hi || rest.has("in my", "on my") || number || !marked && r.word(head-1) == "list" && r.word(l.from) == "snag" || rest.asking() && !marked {
			return false
		}
		switch r.word(head) {
		case "off", "gone", "out":
			return marked
		case "list", "lists", "is", "was", "has", "fixed", "sorted", "done", "closed", "got", "on":
			place := r.word(head) == "on" && r.spanAt(l.text-1, spanJob) && r.hi-l.text > 1 && !r.part(l.text, r.hi).putRight()
			return marked || place || l.text > head && r.toks[l.text-1].stop
		}
		return marked || long && r.word(l.from) != "snag" || r.word(l.from) == "snag" && r.hi-head >= 2 && !r.has("sorted", "fixed", "close", "closed", "done")
	case "AddTask":
		if r.word(l.from) == "task" && !marked || number && !long {
			return false
		}
		return l.text < r.hi && !rest.asking()
	case "ProposeExtra":
		if number && !marked || (r.word(l.from) == "got" || r.word(l.from) == "need" || r.word(l.from) == "want") && !marked && !r.hasAny("pricing price priced quote quoting cost costing") {
			return false
		}
		if r.word(l.from) == "extra" && head == l.from+1 && !marked && r.word(head) != "for" && r.word(head) != "on" {
			if _, timed := rest.hoursSaid(); timed && !rest.asking() && l.from == r.whole.lo && stem(r.word(head)) != "hour" && !rest.has("needed", "hands", "minutes", "people") {
				return true // «extra new carpets 12 hours 340 quid»
			}
			return false
		}
		return !rest.asking()
	case "Remind":
		if w := r.word(l.from); (w == "ping" || w == "shout" || w == "nudge" || w == "give") && !r.has("at", "in", "tomorrow", "when") && len(r.all(spanDay)) == 0 {
			return false
		}
		switch r.word(head) {
		case "what", "who", "how", "where", "which", "why", "whats", "hows", "wheres", "whos", "never", "not", "of":
			return false
		}
		return !r.has("remind me never", "remind me not")
	case "AddBrief":
		if r.word(l.from) == "brief" && !marked {
			return false
		}
		return l.text < r.hi && !r.part(l.text, r.hi).asking()
	case "MeetBrief":
		if r.word(l.from) == "line" && !r.has("brief") {
			return false
		}
		return number && rest.has("met", "done", "finished", "sorted", "fitted", "complete")
	}
	return false
}

// pastTarget steps over «to the tern,», «for the heron:», «on this».
func (r *reading) pastTarget(i int) int {
	j := i
	for n := 0; n < 8 && j < r.hi; n++ {
		switch w := r.word(j); {
		case (w == "list" || w == "plan" || w == "board" || w == "this") && r.toks[j].stop && (j > i || r.word(j-1) == "the" || r.word(j-1) == "on"):
			j++
			i = j
			continue
		case w == "for" || w == "to" || w == "on" || w == "against" || w == "the" || w == "this" || w == "that" || w == "is" || w == "a" && r.word(j+1) == "list" || w == "list" || w == "plan" || w == "down":
			j++
			continue
		case w == "here" && r.word(j-1) == "on":
			j++
			i = j
			continue
		case (w == "one" || w == "job") && (r.word(j-1) == "that" || r.word(j-1) == "this"):
			if j++; r.toks[j-1].stop {
				i = j
			}
			continue
		case w == "please":
			if j++; r.toks[j-1].stop {
				i = j
			}
			continue
		case r.spanAt(j, spanJob):
			for r.spanAt(j, spanJob) {
				j++
			}
			i = j
			if j > 0 && (r.toks[j-1].stop || r.toks[j-1].end) {
				return j
			}
			continue
		}
		break
	}
	if r.word(i) == "add" && i > r.lo && r.toks[i].stop {
		i++ // «brief heron add: …»
	}
	if w := r.word(i); (w == "that" || w == "is") && i+1 < r.hi {
		i++
	}
	return i
}

// leadEnds returns where the text of a head ends: at the next head, or where a
// sentence begins that is clearly a record of another kind.
func (r *reading) leadEnds(l lead, other func(*reading) bool) int {
	for i := l.text; i < r.hi; i++ {
		if i > l.text && r.clauseStart(i) && (r.toks[i-1].end || r.toks[i-1].stop) {
			if next, ok := r.leadAt(i, []lead{l}); ok && next.text < r.hi {
				return i
			}
		}
		if w := r.word(i + 1); i > l.text && r.word(i) == "and" && (w == "used" || w == "binned") && r.quantityStarts(i+2) {
			return i // «snag: horn sticks and used 2 discs»
		}
		if i > l.text && r.word(i) == "and" && r.word(i+1) == "remind" && (r.word(i+2) == "me" || r.word(i+2) == "us") && l.kind != "Remind" {
			return i
		}
		if w := r.word(i + 1); i > l.text && r.word(i) == "and" && (w == "whats" || w == "what" || w == "how") && r.part(i+1, r.hi).asking() {
			return i
		}
		if i > l.text && r.toks[i-1].end && other != nil {
			next := i + 1
			for next < r.hi && !r.toks[next-1].end {
				next++
			}
			if other(r.part(i, next)) {
				return i
			}
		}
	}
	return r.hi
}

// ownWordsKind are the kinds that are told in a person's own words.
var ownWordsKind = wordSet("AddSnag AddTask AddBrief MeetBrief ProposeExtra Remind")

// ownWords is the score of a kind that is told in a person's own words: it does
// not compete, its head decides (see split).
func ownWords(*reading, Context) float64 { return 0 }

// ownText returns the tokens of the text that a part tells in its own words; all
// of the reading when it has no head, for it then answers a question.
func (r *reading) ownText(kind string) (from, to int, headed bool) {
	for _, l := range r.leads(nil) {
		if l.kind == kind {
			return l.text, l.textEnd, true
		}
	}
	if l, ok := r.leadAt(r.lo, []lead{{kind: kind}}); ok && l.kind == kind {
		return l.text, r.hi, true // «and another, …»
	}
	return r.lo, r.hi, false
}
