package hear

import "strings"

// aroundThat are the words that put what was said before on a list, and none of its
// own: «thats a snag as well», «add that to the brief».
var aroundThat = []string{
	"snag", "snags", "snagging", "list", "that", "it", "this", "thats", "its", "put", "add", "on", "to", "the", "a", "as", "well", "too", "stick", "down", "another", "one", "call", "log", "for",
	"me", "please", "brief", "task", "tasks", "job", "jobs", "plan", "also", "mark", "note", "get", "needs", "go", "going", "chuck", "bung", "write", "make", "can", "you", "up", "then", "so", "adding",
}

// thatToo hears that what the speaker said right before, which nobody took up, is to
// be kept: «fuel pipe weeps at the union», «thats a snag».
func (v *Vocabulary) thatToo(r *reading, c Context) (Intent, bool) {
	if len(strings.Fields(c.Before)) < 3 || r.hi-r.lo > 9 || r.asking() || r.denied() || !r.has("that", "it", "this", "thats", "its") || len(r.all(spanNumbered)) > 0 || len(r.rest(aroundThat...)) > 0 {
		return Intent{}, false
	}
	if before := v.read(clean(c.Before), c.Now); before.hi == 0 || before.asking() {
		return Intent{}, false
	}
	kind, field := "", "text"
	switch {
	case r.has("snag", "snags", "snagging"):
		kind = "AddSnag"
	case r.has("brief"):
		kind = "AddBrief"
	case r.has("task list", "job list", "jobs list", "to do list", "plan") || r.has("task", "job") && r.has("a", "as"):
		kind, field = "AddTask", "title"
	}
	if kind == "" || !v.kinds[kind] {
		return Intent{}, false
	}
	in := Intent{Kind: kind, Fields: Fields{}, Score: 1.2}
	in.set(field, strings.TrimRight(clean(c.Before), " .!,;"))
	fillJob(r, &in)
	return v.finish(in, c)[0], true
}

// conditionOf reads what is said of the part that just came as its condition: «bottom
// lip is bent».
func (r *reading) conditionOf(c Context) (Intent, bool) {
	if len(c.Records) == 0 || c.Last == nil || c.Last.Entry != c.Records[0].Entry || c.Last.Intent.Kind != "RecordArrival" || c.Last.Intent.has("condition") {
		return Intent{}, false
	}
	if r.asking() || r.ahead() || r.hi-r.lo > 9 || r.has("sent", "fitted", "tried", "back", "going") || len(r.all(spanMaterial)) > 0 || len(r.all(spanSide)) > 0 || len(r.all(spanJob)) > 0 ||
		!r.hasAny("bent creased dented cracked split scratched damaged scuffed chipped twisted mint perfect rusty warped buckled") {
		return Intent{}, false
	}
	if _, panel := r.first(spanPanel); panel {
		return Intent{}, false // it may be a find on the vehicle
	}
	in := Intent{Kind: "Amend", Fields: Fields{}, Entry: c.Records[0].Entry, Score: 1}
	in.set("condition", r.textFrom(r.lo, r.hi))
	return in, true
}
