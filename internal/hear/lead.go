package hear

import "slices"

// lead is a part of a message that tells something in its own words: a head such
// as «snag:» or «remind me at 4 to», and the text after it; or the text, and
// after it «add that to the brief».
type lead struct {
	kind     string
	from, to int // tokens of the whole part
	text     int // token where the text begins
	textEnd  int
}

// leadHeads are what such parts begin with. The longest that fits counts.
var leadHeads = []struct {
	kind    string
	phrases []string
}{
	{"AddSnag", []string{"new snag", "another snag", "add a snag", "add snag", "log a snag", "log snag", "put a snag on", "put a snag down", "put down a snag", "put a snag in", "stick a snag on", "got a snag", "theres a snag", "one more snag", "one snag", "snag list", "snag", "snags", "snagging", "add to the snag list", "add to snags", "for the snag list", "put on the snag list", "stick on the snag list", "one for the snags", "one for the snag list", "for the snags", "another one for the snag list", "another for the snag list", "another one for the snags", "another for the snags", "note as a snag", "log as a snag", "note as a snag that"}},
	{"AddTask", []string{"new task", "add task", "add a task", "add another task", "add the task", "another task", "put a task on", "put a task in", "put a task down", "stick a task on", "stick a task in", "create a task", "make a task", "add a job to", "add another job", "add a job", "put a job on", "put a job down", "stick a job on", "another job on", "add to the plan", "put on the plan", "task"}},
	{"ProposeExtra", []string{"price an extra", "price up an extra", "price me an extra", "price me up an extra", "price a new extra", "work up an extra", "work out an extra", "work an extra up", "put together an extra", "put an extra together", "put an extra in", "put an extra on", "put in an extra", "put up an extra", "put down an extra", "propose an extra", "propose extra", "cost up an extra", "cost an extra", "quote an extra", "quote up an extra", "draw up an extra", "do me an extra", "do an extra", "make an extra", "make up an extra", "raise an extra", "write up an extra", "write an extra", "knock up an extra", "knock out an extra", "add an extra", "log an extra", "need an extra", "need a price for an extra", "new extra", "another extra", "extra work", "extra"}},
	{"Remind", []string{"remind me", "remind us", "reminder", "set a reminder", "set me a reminder", "add a reminder", "put a reminder in", "put a reminder on", "put a reminder", "stick a reminder in", "stick a reminder on", "give me a reminder", "give us a reminder", "give me a nudge", "give us a nudge", "give me a shout", "give us a shout", "gis a shout", "gis a nudge", "give me a poke", "nudge me", "ping me", "shout me", "dont let me forget", "dont let us forget", "remember me"}},
	{"AddBrief", []string{"add to the brief", "add to brief", "add this to the brief", "put in the brief", "put this in the brief", "put on the brief", "for the brief", "new for the brief", "brief add", "brief addition", "addition to the brief", "brief", "add it to the brief", "add a line to the brief", "another for the brief", "another one for the brief", "one for the brief", "another line for the brief", "a line for the brief", "line for the brief", "make it part of the brief", "client request", "customer request", "customers request", "request from the customer", "one more for the brief", "one more line for the brief"}},
	{"MeetBrief", []string{"brief line", "brief item", "brief number", "brief point", "line"}},
}

// targets are where a person wants a text put: «… on the snag list».
var targets = []struct{ kind, words string }{
	{"AddSnag", "snag list"}, {"AddSnag", "snags"}, {"AddSnag", "snagging list"}, {"AddSnag", "list of snags"},
	{"AddTask", "task list"}, {"AddTask", "tasks"}, {"AddTask", "job list"}, {"AddTask", "jobs list"}, {"AddTask", "to do list"}, {"AddTask", "todo list"}, {"AddTask", "todo"}, {"AddTask", "plan"}, {"AddTask", "list of jobs"}, {"AddTask", "jobs"},
	{"AddBrief", "brief"},
}

// tailEnds reads «add that to the brief», «put it on the snag list», «one for the
// snags» at token i.
func (r *reading) tailEnds(i int) (kind string, end int, ok bool) {
	j := i
	switch w := r.word(j); {
	case w == "one" && r.word(j+1) == "for":
		j += 2
	case w == "add" || w == "put" && !r.has("extra") || w == "stick" || w == "pop" || w == "get" || w == "chuck" || w == "bung" || w == "note" || w == "write" || w == "log":
		j++
		if p := r.word(j); p == "that" || p == "it" || p == "this" || p == "them" {
			j++
		}
		for p := r.word(j); p == "down" || p == "in" || p == "on" || p == "onto" || p == "to" || p == "into" || p == "under" || p == "as"; p = r.word(j) {
			j++
		}
	case (w == "price" || w == "quote" || w == "cost" || w == "propose" || w == "put") && (r.word(j+1) == "that" || r.word(j+1) == "it" || r.word(j+1) == "this" || r.word(j+1) == "up"):
		for j++; j < i+6; j++ {
			if r.word(j) == "extra" && !r.spanAt(j, spanNumbered) {
				return "ProposeExtra", j + 1, r.word(j-1) == "an" || r.word(j-1) == "as"
			}
		}
		j = i + 1
		if w != "put" {
			return "", 0, false
		}
		for p := r.word(j); p == "that" || p == "it" || p == "this" || p == "up" || p == "down" || p == "in" || p == "on" || p == "onto" || p == "to" || p == "into" || p == "under" || p == "as"; p = r.word(j) {
			j++
		}
	case (w == "that" || w == "it" || w == "this") && (r.word(j+1) == "go" || r.word(j+1) == "needs" || r.word(j+1) == "wants"):
		for r.word(j) != "on" && r.word(j) != "in" && r.word(j) != "to" && j < i+6 {
			j++
		}
		j++
	case (w == "call" || w == "thats" || w == "snag") && (r.word(j+1) == "that" || r.word(j+1) == "it" || r.word(j+1) == "a"):
		if w == "snag" {
			return "AddSnag", j + 2, true
		}
		j++
		if p := r.word(j); p == "that" || p == "it" {
			j++
		}
	default:
		return "", 0, false
	}
	for r.word(j) == "the" || r.word(j) == "a" || r.word(j) == "his" || r.word(j) == "her" || r.word(j) == "their" || r.spanAt(j, spanJob) {
		j++
	}
	if r.word(j) == "snag" || r.word(j) == "task" {
		end := j + 1
		kind := headNouns[r.word(j)]
		if r.word(end) == "list" {
			end++
		}
		return kind, end, r.word(j-1) == "a" || r.word(j-1) == "the" || r.word(j+1) == "list" || r.word(j-1) == "as"
	}
	for _, t := range targets {
		if end, fits := r.phraseEnds(j, t.words); fits {
			return t.kind, end, true
		}
	}
	return "", 0, false
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
		i = l.text - 1
		if n := len(out); n > 0 {
			out[n-1].to = r.leadEnds(out[n-1], other)
			out[n-1].textEnd = r.tailAt(out[n-1].kind, out[n-1].text, out[n-1].to)
			i = max(i, out[n-1].to-1)
		}
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
		} else if r.has("as an extra") && len(r.numbersOf("find")) > 0 && !r.asking() && !r.denied() && r.starts("put", "price", "quote", "cost", "propose", "add", "stick", "log", "work") {
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
	if !r.clauseStart(i) {
		return lead{}, false
	}
	if n := len(before); n > 0 && before[n-1].kind == "AddSnag" {
		for _, p := range []string{"and another one", "and another", "another one", "second one", "third one", "another", "next one", "other one", "also", "second", "2nd one"} {
			if end, ok := r.phraseEnds(i, p); ok && r.toks[end-1].stop {
				return lead{kind: "AddSnag", from: i, text: end}, true
			}
		}
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
	if kind == "" {
		return lead{}, false
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

// looseHead reads what a message begins with when it says where its text goes and
// then has a mark: «pilot to-do: …», «theres a task missing on the heron so add it, …»,
// or when the place is named at once: «add to osmere jobs …».
func (r *reading) looseHead(i int) (end int, kind string) {
	if i != r.lo {
		return 0, ""
	}
	adds := false
	for j := i; j < r.hi && j < i+12; j++ {
		switch r.word(j) {
		case "add", "put", "stick", "pop", "raising", "adding", "logging", "raise", "log":
			adds = true
		}
		for _, t := range append(targets, struct{ kind, words string }{"AddTask", "to do"}, struct{ kind, words string }{"AddTask", "task"}, struct{ kind, words string }{"AddSnag", "snag"}) {
			k, fits := r.phraseEnds(j, t.words)
			if !fits || r.spanAt(j, spanNumbered) {
				continue
			}
			for m := k - 1; m < r.hi && m < k+8; m++ {
				adds = adds || r.word(m) == "add" || r.word(m) == "put" || r.word(m) == "raising" || r.word(m) == "adding"
				at := r.toks[m].to
				colon := r.toks[m].stop && at < len(r.source) && r.source[at] == ':'
				if colon && (adds || m == k-1 && j <= i+3) || r.toks[m].stop && adds {
					return m + 1, t.kind
				}
				if r.toks[m].end || r.toks[m].stop && !adds {
					break
				}
			}
			if r.word(i) == "add" && (r.word(i+1) == "to" || r.word(i+1) == "task") && t.words != "brief" {
				return k, t.kind
			}
		}
		if r.toks[j].end || r.toks[j].stop {
			break
		}
	}
	return 0, ""
}

// looseExtra reads «want an extra pricing up for find 3», «quote mr lindqvist an extra
// for …», «heron extra new carpet set».
func (r *reading) looseExtra(i int) (end int, ok bool) {
	if i != r.lo || r.asking() || r.denied() {
		return 0, false
	}
	for k := i; k < r.hi && k < i+12; k++ {
		if r.word(k) != "extra" || r.spanAt(k, spanNumbered) && len(r.numbersOf("find")) == 0 || stem(r.word(k+1)) == "hour" {
			continue
		}
		if k > i && r.spanAt(k-1, spanJob) && (r.spanAt(i, spanJob) || r.spanAt(i+1, spanJob)) {
			return k + 1, k+1 < r.hi
		}
		if !r.hasAny("price pricing priced quote quoting quoted cost costing offer offering write propose proposing") {
			return 0, false
		}
		for m := k + 1; m < r.hi && m < k+7; m++ {
			if r.toks[m-1].stop && m > k || r.word(m-1) == "for" {
				return m, true
			}
			if r.spanAt(m, spanNumbered) {
				return m, true
			}
		}
		return r.hi, len(r.numbersOf("find")) > 0
	}
	return 0, false
}

var headVerbs = wordSet("add put stick pop chuck bung log make create whack book raise write draw cost price work quote propose do knock note get new another one got want need")

var headNouns = map[string]string{"task": "AddTask", "job": "AddTask", "snag": "AddSnag", "extra": "ProposeExtra", "reminder": "Remind"}

// verbHead reads «pop a task on», «add another snag to», «add to the job list».
func (r *reading) verbHead(i int) (end int, kind string) {
	if !headVerbs[r.word(i)] {
		return 0, ""
	}
	for j := i + 1; j < r.hi && j < i+5; j++ {
		switch r.word(j) {
		case "a", "an", "another", "me", "us", "up", "down", "new", "one", "more", "to", "the", "this", "on", "in", "out", "quick", "together":
			continue
		}
		if v, _, year := r.numberAt(j + 1); year && v > 1880 && v < 2100 {
			return 0, "" // a vehicle is taken in
		}
		k, ok := headNouns[r.word(j)]
		if !ok || r.spanAt(j, spanNumbered) || r.word(j-1) == "the" && r.word(j+1) != "list" || r.word(j) == "job" && (r.word(i) == "new" || r.word(i) == "get" || r.word(i) == "do" || r.word(i) == "create" || r.word(i) == "make" || r.word(i) == "one" || r.word(j+1) == "id") {
			return 0, ""
		}
		j++
		if r.word(j) == "list" {
			j++
		}
		for r.word(j) == "on" || r.word(j) == "in" || r.word(j) == "down" || r.word(j) == "up" || r.word(j) == "together" {
			j++
		}
		return j, k
	}
	return 0, ""
}

// timeBefore reads «in an hour and a half remind me to …» at the «remind» of token i.
func (r *reading) timeBefore(i int) (from int, ok bool) {
	if r.word(i) != "remind" || r.word(i+1) != "me" && r.word(i+1) != "us" || i == r.lo {
		return 0, false
	}
	from = i
	for from > r.lo && (r.timeWord(from-1) || filler[r.word(from-1)]) && !r.toks[from-1].end {
		from--
	}
	return from, from < i && (from == r.lo || r.toks[from-1].end || r.toks[from-1].stop) && i+2 < r.hi
}

// leadHolds tells a head from the same words in a question or in another record:
// «snag 2 fixed», «snag list for the tern», «extra 2 agreed», «remind me what».
func (r *reading) leadHolds(l lead, head int) bool {
	marked := r.toks[head-1].stop || l.text > l.from && r.toks[l.text-1].stop
	rest := r.part(l.from, r.hi)
	_, _, number := r.numberAt(head)
	if _, ok := r.spanOf(l.from, spanNumbered); ok {
		number = true // «snag 2 fixed», «extra 2 agreed»
	}
	long := head-l.from > 1
	switch l.kind {
	case "AddSnag":
		if l.text >= r.hi || number || !marked && r.word(head-1) == "list" && r.word(l.from) == "snag" || rest.asking() && !marked {
			return false
		}
		switch r.word(head) {
		case "list", "lists", "is", "was", "has", "fixed", "sorted", "done", "closed", "got", "on":
			return marked || l.text > head && r.toks[l.text-1].stop
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
		if w := r.word(l.from); (w == "ping" || w == "shout" || w == "nudge" || w == "give") && !r.has("at", "in", "tomorrow", "when") {
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

// plainExtra reports an extra of which nothing is told yet: no find, hours or price.
func (r *reading) plainExtra() bool {
	_, timed := r.hoursSaid()
	return !timed && len(r.numbersOf("find")) == 0 && len(r.prices()) == 0
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

// pastTarget steps over «to the tern,», «for the heron:», «on this».
func (r *reading) pastTarget(i int) int {
	j := i
	for n := 0; n < 8 && j < r.hi; n++ {
		switch w := r.word(j); {
		case w == "for" || w == "to" || w == "on" || w == "against" || w == "the" || w == "this" || w == "that" || w == "is" || w == "a" && r.word(j+1) == "list" || w == "list" || w == "plan" || w == "down":
			j++
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
	if w := r.word(i); (w == "that" || w == "is") && i+1 < r.hi {
		i++
	}
	return i
}

// wants reads what the customer wants: «mrs adeyemi would also like», «customer
// wants … as well». Only what is plainly about the vehicle counts.
func (r *reading) wants(i int) (int, bool) {
	j := i
	switch {
	case r.word(i) == "customer" || r.word(i) == "customers" || r.word(i) == "client" || r.word(i) == "owner":
		j++
	case r.word(i) == "the" && (r.word(i+1) == "customer" || r.word(i+1) == "client" || r.word(i+1) == "owner"):
		j += 2
	default:
		if r.word(j) == "the" {
			j++
		}
		if w := r.word(j); w == "mr" || w == "mrs" || w == "ms" || w == "miss" {
			j++
		}
		named := false
		for _, s := range r.spans {
			if s.kind == spanJob && s.weak && s.from == j {
				j, named = s.to, true
			}
		}
		if !named {
			return 0, false
		}
	}
	if r.word(j) == "s" {
		j++
	}
	if (r.word(j) == "on" || r.word(j) == "for") && (r.spanAt(j+1, spanJob) || r.spanAt(j+2, spanJob)) {
		for j++; r.word(j) == "the" || r.spanAt(j, spanJob); j++ {
		}
	}
	if r.word(j) == "says" || r.word(j) == "said" {
		j++
		if p := r.word(j); p == "he" || p == "she" || p == "they" {
			j++
		}
	}
	for _, p := range []string{"would also like", "would like", "also wants", "also asked for", "has asked for", "has also asked for", "asked for", "asked if we could", "asked if we can", "wants", "want", "wants us to", "would like us to", "want us to", "asks for", "would want", "d like", "d also like", "fancies", "also fancies", "is after", "also after", "now wants", "also want", "wish", "wishes", "wish also", "would also want", "has decided they want", "has decided she wants", "has decided he wants"} {
		end, ok := r.phraseEnds(j, p)
		if !ok {
			continue
		}
		for _, longer := range []string{"wants us to", "want us to", "would like us to", "would also like", "has also asked for"} {
			if e, more := r.phraseEnds(j, longer); more && e > end {
				end = e
			}
		}
		switch r.word(end) {
		case "to", "it", "that", "this", "him", "her", "his", "extra":
			return 0, false
		}
		if r.part(end, r.hi).has("date", "update", "word", "price", "quote", "invoice", "call", "ring", "know", "copy", "record", "document", "paperwork", "folder", "it back", "car back", "van back", "her back", "his back", "them back", "visit", "photo", "photos", "picture", "pictures", "chat", "extra", "refund", "discount", "answer", "progress", "tea", "coffee", "brew", "ringing", "lift", "keys", "seat belt fitted before", "speak", "meeting", "look", "see", "sooner", "friday", "done by", "finished", "ready", "yesterday", "blood", "moon") {
			return 0, false
		}
		return end, !r.asking()
	}
	return 0, false
}

// briefOf reads «add to the tern brief:», «tern brief: …».
func (r *reading) briefOf(i int) (int, bool) {
	for j := i; j < r.hi && j < i+7; j++ {
		if r.word(j) == "brief" && (r.toks[j].stop || r.word(j+1) == "that" || r.word(j+1) == "add") && (r.word(i) == "add" || r.word(i) == "put" || r.word(i) == "stick" || r.spanAt(i, spanJob) || r.spanAt(i+1, spanJob)) {
			return j + 1, true
		}
	}
	return 0, false
}

// tailAt returns where a tail of a kind begins in [from, to), or to.
func (r *reading) tailAt(kind string, from, to int) int {
	for i := from + 1; i < to; i++ {
		if !r.clauseStart(i) {
			continue
		}
		if k, _, ok := r.tailEnds(i); ok && k == kind {
			for r.word(i-1) == "please" || r.word(i-1) == "and" || r.word(i-1) == "so" || r.word(i-1) == "can" || r.word(i-1) == "you" {
				i--
			}
			return i
		}
	}
	return to
}

// tail finds «…, add that to the brief» and takes the clause before it as text; an
// estimate may stand behind it.
func (r *reading) tail() (lead, bool) {
	for i := r.lo + 1; i < r.hi; i++ {
		if !r.clauseStart(i) && r.word(i) != "one" {
			continue
		}
		kind, end, ok := r.tailEnds(i)
		if !ok {
			continue
		}
		rest := r.part(end, r.hi)
		_, timed := rest.hoursSaid()
		if end < r.hi && !timed && len(rest.prices()) == 0 && len(rest.rest("please", "for", "this", "one", "will", "you", "on", "job", "them", "now", "too", "well")) > 0 {
			continue
		}
		from := r.lo
		for j := i - 2; j > r.lo; j-- {
			if r.toks[j].end {
				from = j + 1
				break
			}
		}
		stop := i
		for stop > from && (r.word(stop-1) == "please" || r.word(stop-1) == "can" || r.word(stop-1) == "you" || r.word(stop-1) == "and" || r.word(stop-1) == "so") {
			stop--
		}
		text := from
		if kind == "AddBrief" {
			text = r.pastWanting(from, stop)
		}
		if text < stop {
			return lead{kind: kind, from: from, to: r.hi, text: text, textEnd: stop}, true
		}
	}
	return lead{}, false
}

// between reads «put new brake hoses on the task list», with an estimate behind it.
func (r *reading) between() (lead, bool) {
	i := r.lo
	for w := r.word(i); w == "can" || w == "you" || w == "we" || w == "i" || w == "could" || w == "please" || w == "right" || w == "ok"; w = r.word(i) {
		i++
	}
	switch r.word(i) {
	case "add", "put", "get", "stick", "pop", "chuck", "bung":
	default:
		return lead{}, false
	}
	for j := i + 2; j < r.hi; j++ {
		if w := r.word(j); w != "on" && w != "onto" && w != "to" && w != "in" {
			continue
		}
		k := j + 1
		for r.word(k) == "the" || r.spanAt(k, spanJob) {
			k++
		}
		for _, t := range targets {
			end, fits := r.phraseEnds(k, t.words)
			if !fits {
				continue
			}
			rest := r.part(end, r.hi)
			if _, timed := rest.hoursSaid(); end < r.hi && !timed && len(rest.rest("please", "for", "this", "one", "will", "you", "on", "job")) > 0 {
				if !r.toks[end-1].stop {
					continue
				}
				j = r.hi // what is wrong with it stands behind
			}
			if len(r.part(i+1, j).rest("something", "thing", "line", "item", "another")) == 0 {
				return lead{kind: t.kind, from: r.lo, to: r.hi, text: r.hi, textEnd: r.hi}, true
			}
			return lead{kind: t.kind, from: r.lo, to: r.hi, text: i + 1, textEnd: j}, !r.part(i, r.hi).asking()
		}
	}
	return lead{}, false
}

// pastWanting steps over «upshot is he'd also like».
func (r *reading) pastWanting(from, stop int) int {
	for j := from; j < stop-1; j++ {
		switch r.word(j) {
		case "like", "wants", "want", "after", "fancies":
			return j + 1
		case "for":
			if r.word(j-1) == "asked" {
				return j + 1
			}
		}
	}
	return from
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
	return r.lo, r.hi, false
}
