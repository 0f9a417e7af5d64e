package hear

import (
	"slices"
	"strings"
	"time"
)

// spanKind says what a span of words names.
type spanKind string

// The kinds of span.
const (
	spanJob       spanKind = "job"
	spanMaterial  spanKind = "material"
	spanPerson    spanKind = "person"
	spanSupplier  spanKind = "supplier"
	spanFastener  spanKind = "fastener"
	spanPanel     spanKind = "panel"
	spanSide      spanKind = "side"
	spanEnd       spanKind = "end"
	spanEdge      spanKind = "edge"
	spanFind      spanKind = "find"
	spanStage     spanKind = "stage"
	spanQuantity  spanKind = "quantity"
	spanSize      spanKind = "size"
	spanNumbered  spanKind = "numbered" // find 3, task 10: id is the noun
	spanThread    spanKind = "thread"
	spanGrade     spanKind = "grade"
	spanLubricant spanKind = "lubrication"
	spanInto      spanKind = "into"
	spanDay       spanKind = "day"
	spanBatch     spanKind = "batch"
)

// span is a run of tokens that names one thing.
type span struct {
	kind     spanKind
	from, to int      // tokens [from, to)
	id       string   // canonical value, or "" when ids holds several
	ids      []string // what an ambiguous word may mean, in the order to offer
	value    float64  // of a quantity, first measure of a size
	second   float64  // second measure of a size
	unit     string   // of a quantity or size; "" for a bare number
	also     string   // what the unit may mean besides (mil: ml)
	weak     bool     // only good when something else asks for it
	landmark bool     // a place named to say where the real one is: «by the rear arch»
	plural   bool
}

// reading is a message, or a part of one, with its spans.
type reading struct {
	v       *Vocabulary
	source  string  // the cleaned message
	toks    []token // all tokens of the message
	stems   []string
	lo, hi  int    // the tokens this reading is about
	spans   []span // of these tokens, in order
	text    string // the tokens with a space before and after each
	now     time.Time
	matched []bool   // tokens whose names were looked up,
	matches [][]span // and what they were
	used    []bool   // tokens that a span took
	whole   *reading // the whole message
}

// word returns the text of token i, or "" outside the reading.
func (r *reading) word(i int) string {
	if i < r.lo || i >= r.hi {
		return ""
	}
	return r.toks[i].text
}

func (r *reading) stem(i int) string {
	if i < r.lo || i >= r.hi {
		return ""
	}
	return r.stems[i]
}

// part returns a reading of the tokens [lo, hi).
func (r *reading) part(lo, hi int) *reading {
	p := *r
	p.lo, p.hi = lo, hi
	p.spans = nil
	for _, s := range r.whole.spans {
		if s.from >= lo && s.to <= hi {
			p.spans = append(p.spans, s)
		}
	}
	p.text = joinTokens(r.toks[lo:hi])
	return &p
}

// part0 is part on the message that the reading itself is a part of.
func (r *reading) part0(lo, hi int) *reading { return r.whole.part(lo, hi) }

// without returns the reading with the words of one kind of span blotted out,
// so that a material called «argon mix» is not heard as mixing.
func (r *reading) without(kind spanKind) *reading {
	p := *r
	toks := slices.Clone(r.toks)
	for _, s := range r.spans {
		if s.kind == kind && !s.weak {
			for i := s.from; i < s.to; i++ {
				toks[i].text = "•"
			}
		}
	}
	p.text = joinTokens(toks[r.lo:r.hi])
	return &p
}

func joinTokens(toks []token) string {
	var b strings.Builder
	b.WriteByte(' ')
	for _, t := range toks {
		b.WriteString(t.text)
		b.WriteByte(' ')
	}
	return b.String()
}

// has reports whether any of the phrases stands in the reading, whole words.
func (r *reading) has(phrases ...string) bool {
	for _, p := range phrases {
		if i := strings.Index(r.text, p); i > 0 {
			for i > 0 {
				end := i + len(p)
				if r.text[i-1] == ' ' && r.text[end] == ' ' {
					return true
				}
				j := strings.Index(r.text[i+1:], p)
				if j < 0 {
					break
				}
				i += 1 + j
			}
		}
	}
	return false
}

// hasAny reports whether any of the words, parted by spaces, stands in the reading.
func (r *reading) hasAny(words string) bool {
	for w := range strings.FieldsSeq(words) {
		if r.has(w) {
			return true
		}
	}
	return false
}

// starts reports whether the reading begins with one of the phrases, after
// words that carry nothing («right», «ok», «so»).
func (r *reading) starts(phrases ...string) bool {
	t := r.text
	for {
		cut := false
		for _, f := range []string{" right ", " ok ", " okay ", " alright ", " anyway ", " cheers ", " ta ", " so ", " and ", " well ", " hey ", " please ", " also ", " now ", " oh ", " hi ", " erm ", " um ", " then "} {
			if strings.HasPrefix(t, f) && len(t) > len(f) {
				t = t[len(f)-1:]
				cut = true
			}
		}
		if !cut {
			break
		}
	}
	for _, p := range phrases {
		if strings.HasPrefix(t, " "+p+" ") {
			return true
		}
	}
	return false
}

// first returns the first span of a kind that stands on its own.
func (r *reading) first(kind spanKind) (span, bool) {
	for _, s := range r.spans {
		if s.kind == kind && !s.landmark && !s.weak {
			return s, true
		}
	}
	return span{}, false
}

// all returns the spans of a kind that stand on their own.
func (r *reading) all(kind spanKind) []span {
	var out []span
	for _, s := range r.spans {
		if s.kind == kind && !s.landmark && !s.weak {
			out = append(out, s)
		}
	}
	return out
}

// weakest returns the first span of a kind, a weak one too.
func (r *reading) weakest(kind spanKind) (span, bool) {
	if s, ok := r.first(kind); ok {
		return s, true
	}
	for _, s := range r.spans {
		if s.kind == kind && !s.landmark {
			return s, true
		}
	}
	return span{}, false
}

// quantity returns the first quantity in one of the units.
func (r *reading) quantity(units ...string) (span, bool) {
	for _, s := range r.spans {
		if s.kind == spanQuantity && s.unit != "" && !s.landmark && (slices.Contains(units, s.unit) || slices.Contains(units, s.also)) {
			return s, true
		}
	}
	return span{}, false
}

// bare returns the quantities without a unit.
func (r *reading) bare() []span {
	var out []span
	for _, s := range r.spans {
		if s.kind == spanQuantity && s.unit == "" && !s.landmark {
			out = append(out, s)
		}
	}
	return out
}

var questionWords = wordSet("what whats how hows which where wheres when whens who")

// asking reports a question: by its mark, or by how it begins.
func (r *reading) asking() bool {
	if r.hi > r.lo {
		last := r.toks[r.hi-1]
		if last.to < len(r.source) {
			for _, c := range r.source[last.to:] {
				if c == '?' {
					return true
				}
				if c != ' ' && c != '!' && c != '"' && c != '\'' && c != ')' {
					break
				}
			}
		}
	}
	for i := r.lo; i+1 < r.hi; i++ {
		if (r.toks[i].stop || r.toks[i].end) && questionWords[r.word(i+1)] && r.word(i+2) != "a" && r.word(i+2) != "an" {
			return true
		}
	}
	if r.asksWhether() || r.tagged() || r.asksBehind() {
		return true
	}
	if r.person(r.lo) != "" && r.hi-r.lo > 2 {
		if w := r.word(r.lo + 1); w == "what" || w == "whats" || w == "how" || w == "hows" || w == "which" || w == "where" || w == "wheres" || w == "when" || w == "whens" {
			return true // «wren what was the ns»
		}
	}
	return r.starts("what", "whats", "how", "hows", "which", "where", "wheres", "when", "whens", "who", "whos", "are any", "is any", "is there", "is it", "is the", "are there", "are we", "are you",
		"have we", "have i", "have you", "has anyone", "has anybody", "any", "got any", "do we", "do i", "does", "did we", "did you", "did i", "did he", "did she", "did anyone", "did anybody", "can i", "can you", "can we", "could you", "will the", "would you", "tell me", "show me", "list", "give me", "give us the", "show us", "tell us", "read us", "is", "anyone", "anything", "has the", "have the", "let me have", "remind me what", "remind us what", "remind us which", "remind me which", "remind me how", "remind me who", "remind me where", "remind me when", "read out", "read me", "run me through", "can i have", "could i have", "has that", "have those", "has my", "y is", "y are", "should i", "should we", "why") ||
		r.has("what torque", "whats the", "is it still", "what have we", "what has", "have you", "did you", "shall i", "be what", "which one", "what do", "what does", "what is", "how much", "how many", "how tight", "what do i", "what do we", "do you know", "any idea", "do i need", "what should", "is there")
}

// beforeCourtesy takes «will you» off the end of an order.
func (r *reading) beforeCourtesy() *reading {
	switch r.word(r.hi-2) + " " + r.word(r.hi-1) {
	case "will you", "would you", "can you", "could you":
		if r.hi-r.lo > 4 && !questionWords[r.word(r.lo)] {
			return r.part(r.lo, r.hi-2)
		}
	}
	return r
}

// tagged reports «the prop isnt here yet is it», «find 1 sorted is it», «so it came,
// right».
func (r *reading) tagged() bool {
	if r.hi-r.lo < 4 || r.toks[r.hi-3].end {
		return false
	}
	switch verb, who := r.word(r.hi-2), r.word(r.hi-1); who {
	case "it", "they", "he", "she", "we":
		switch verb {
		case "is", "are", "has", "have", "did", "was", "were":
			return r.word(r.hi-3) != "what" && r.word(r.hi-3) != "how" && r.word(r.hi-3) != "that" && !r.toks[r.hi-2].stop
		}
	case "right":
		return r.toks[r.hi-2].stop && r.starts("so", "so weve", "weve", "we", "you", "and")
	}
	return false
}

// asksBehind reports a question behind a mark: «and the dent, did you get that out».
func (r *reading) asksBehind() bool {
	for i := r.lo; i+2 < r.hi; i++ {
		if !r.toks[i].stop && !r.toks[i].end {
			continue
		}
		switch r.word(i + 1) {
		case "did", "was", "is", "are", "were", "do", "does":
			switch r.word(i + 2) {
			case "you", "that", "it", "they", "he", "she", "we", "those":
				return true
			}
		}
	}
	return false
}

// asksWhether reports «has mrs adeyemi agreed …», «did she say …»: a verb before
// who it is about.
func (r *reading) asksWhether() bool {
	i := r.lo
	for i < r.hi && (r.word(i) == "so" || r.word(i) == "and" || r.word(i) == "ok" || r.word(i) == "right" || r.word(i) == "hey") {
		i++
	}
	switch r.word(i) {
	case "has":
		return r.word(i+1) != "been"
	case "did", "does", "have", "was", "were", "will", "would":
		if r.word(i+1) == "the" && r.has("ever", "yet", "come", "arrive", "turn up", "get here", "land") {
			return true // «did the seal ever come»
		}
		switch r.word(i + 1) {
		case "she", "he", "they", "you", "mr", "mrs", "ms", "anyone", "anybody", "customer", "it", "we":
			return true
		}
		return r.person(i+1) != "" || r.spanAt(i+1, spanJob)
	}
	return false
}

// toOther reports that one person tells or asks another: «jonah go and count the
// p80s».
func (r *reading) toOther(c Context) bool {
	who := r.person(r.lo)
	if who == "" || who == c.Speaker || c.Addressed {
		return false
	}
	switch r.word(r.lo + 1) {
	case "go", "can", "could", "please", "pls", "count", "get", "fetch", "pass", "bring", "give", "when", "have", "did", "are", "do", "dont", "come", "start", "stop", "hurry", "check", "make", "you", "your", "mate", "lad", "will", "would", "need", "remember", "finish", "help":
		return true
	}
	return false
}

// denied reports that the message says something is not so, or not yet.
func (r *reading) denied() bool {
	for i := r.lo; i < r.hi; i++ {
		switch r.word(i) {
		case "no":
			// «no, 150» corrects; «no rust» denies. Only a noun right behind counts.
			if r.quantityStarts(i+1) && i > r.lo && r.quantityEnds(i) {
				continue // «40 no 42»
			}
			if r.spanAt(i, spanNumbered) {
				continue // «find no 2»
			}
			if !r.toks[i].stop && !r.toks[i].end && i+1 < r.hi {
				return true
			}
		case "not", "never", "wont", "cant", "couldnt", "wouldnt", "didnt", "doesnt", "dont", "hasnt", "havent", "hadnt", "isnt", "arent", "wasnt", "werent", "aint", "without", "nothing", "none", "nowhere", "unable", "neither":
			if w := r.word(i + 1); r.word(i) == "never" && (w == "booked" || w == "logged" || w == "put") {
				continue // «2 hours that i never booked»
			}
			if r.word(i) == "dont" && r.word(i+1) == "tell" {
				continue // «dont tell wren»
			}
			// «the tern and not this one», «3 not 2» contrast two things.
			if r.word(i) == "not" && r.contrast(i) {
				continue
			}
			return true
		case "yet":
			return true
		}
	}
	return false
}

// contrast reports whether «not» at token i sets one value against another.
func (r *reading) contrast(i int) bool {
	j := i + 1
	for r.word(j) == "the" || r.word(j) == "for" || r.word(j) == "on" {
		j++
	}
	if w := r.word(j); w == "this" || w == "that" || w == "here" {
		return true
	}
	for _, s := range r.spans {
		if s.from == j {
			switch s.kind {
			case spanJob, spanSide, spanQuantity, spanMaterial, spanEdge, spanEnd, spanPerson, spanPanel, spanFind, spanDay, spanStage, spanFastener:
				return i > r.lo || r.has("meant", "its", "it was", "should be")
			}
		}
	}
	return false
}

// ahead reports something that is still to come, wished or thought of.
func (r *reading) ahead() bool {
	return r.has("gonna", "going to", "will", "ill", "tomorrow", "need to", "needs to", "want to", "wants to", "about to", "might", "thinking", "should", "would", "could", "plan to", "planning", "hoping", "if", "unless",
		"later", "next week", "needs", "need", "i fancy", "must", "got to", "have to", "maybe", "probably", "let me", "lets", "when i", "when we", "once we", "once i", "remind", "wish", "supposed to", "being delivered", "on its way", "on order", "they say", "arriving", "thought", "turned out", "could have sworn")
}

// rest is the share of the reading's words that no span took and that carry
// meaning, and their number.
func (r *reading) rest(ignore ...string) (words []string) {
	weak := func(i int) bool {
		return slices.ContainsFunc(r.spans, func(s span) bool { return s.from <= i && i < s.to })
	}
	for i := r.lo; i < r.hi; i++ {
		w := r.toks[i].text
		if r.used[i] || weak(i) || filler[w] || slices.Contains(ignore, w) {
			continue
		}
		words = append(words, w)
	}
	return words
}

// filler are words that change nothing in a short answer.
var filler = wordSet("a an the of on in at for to it its thats that this these those is was are be i me my we our us you your and or then so ok okay right oh ah er erm um yes yeah yep ya aye please mate cheers ta thanks sorry about roughly thereabouts or so bout like say call around approx approximately just only one ones with from by")

func wordSet(words string) map[string]bool {
	set := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		set[w] = true
	}
	return set
}

// after returns the message's own text from token i on, trimmed.
func (r *reading) after(i int) string {
	if i >= r.hi {
		return ""
	}
	return strings.TrimSpace(r.source[r.toks[i].from:r.toks[r.hi-1].to])
}

// spanOf returns the span of a kind that token i is in.
func (r *reading) spanOf(i int, kind spanKind) (span, bool) {
	for _, s := range r.spans {
		if s.kind == kind && s.from <= i && i < s.to {
			return s, true
		}
	}
	return span{}, false
}

func (r *reading) spanAt(i int, kind spanKind) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == kind && s.from <= i && i < s.to })
}
