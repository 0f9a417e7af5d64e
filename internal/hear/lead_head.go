package hear

// leadHeads are what a part told in somebody's own words begins with. The longest
// that fits counts.
var leadHeads = []struct {
	kind    string
	phrases []string
}{
	{"AddSnag", []string{"sang", "add a sang", "another sang", "new snag", "another snag", "add a snag", "add snag", "log a snag", "log snag", "put a snag on", "put a snag down", "put down a snag", "put a snag in", "stick a snag on", "got a snag", "theres a snag", "one more snag", "one snag", "snag list", "snag", "snags", "snagging", "add to the snag list", "add to snags", "for the snag list", "put on the snag list", "stick on the snag list", "one for the snags", "one for the snag list", "for the snags", "another one for the snag list", "another for the snag list", "another one for the snags", "another for the snags", "note as a snag", "log as a snag", "note as a snag that"}},
	{"AddTask", []string{"new task", "add task", "add a task", "add another task", "add the task", "another task", "put a task on", "put a task in", "put a task down", "stick a task on", "stick a task in", "create a task", "make a task", "add a job to", "add another job", "add a job", "put a job on", "put a job down", "stick a job on", "another job on", "add to the plan", "adding to the list", "add to the list", "put on the plan", "a job to add", "job to add", "a task to add", "task to add", "a job for the list", "task"}},
	{"ProposeExtra", []string{"price an extra", "price up an extra", "price me an extra", "price me up an extra", "price a new extra", "work up an extra", "work out an extra", "work an extra up", "put together an extra", "put an extra together", "put an extra in", "put an extra on", "put in an extra", "put up an extra", "put down an extra", "propose an extra", "propose extra", "cost up an extra", "cost an extra", "quote an extra", "quote up an extra", "draw up an extra", "do me an extra", "do an extra", "make an extra", "make up an extra", "raise an extra", "write up an extra", "write an extra", "knock up an extra", "knock out an extra", "add an extra", "log an extra", "need an extra", "need a price for an extra", "new extra", "another extra", "extra work", "extra"}},
	{"Remind", []string{"remind me", "remind us", "reminder", "set a reminder", "set me a reminder", "add a reminder", "put a reminder in", "put a reminder on", "put a reminder", "stick a reminder in", "stick a reminder on", "give me a reminder", "give us a reminder", "give me a nudge", "give us a nudge", "give me a shout", "give us a shout", "gis a shout", "gis a nudge", "give me a poke", "nudge me", "ping me", "shout me", "dont let me forget", "dont let us forget", "remember me"}},
	{"AddBrief", []string{"add to the brief", "add to brief", "add this to the brief", "put in the brief", "put this in the brief", "put on the brief", "for the brief", "new for the brief", "brief add", "brief addition", "addition to the brief", "brief", "add it to the brief", "put it in the brief", "put that in the brief", "put it on the brief", "put down in the brief", "add a line to the brief", "another for the brief", "another one for the brief", "one for the brief", "another line for the brief", "a line for the brief", "line for the brief", "make it part of the brief", "client request", "customer request", "customers request", "request from the customer", "one more for the brief", "one more line for the brief"}},
	{"MeetBrief", []string{"brief line", "brief item", "brief number", "brief point", "line"}},
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
		for _, t := range looseTargets {
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
