package hear

import "cmp"

// listNext hears the question what can be started now.
var listNext = kind{
	name:     "ListNext",
	examples: []string{"whats next on the heron", "what can i get on with", "whats next for tomasz"},
	needs:    []string{},
	score: func(r *reading, _ Context) float64 {
		if r.has("ask", "asked", "brief", "next door", "next week", "next month", "next year", "next delivery", "next doors", "radio", "telly", "brew", "kettle", "dog", "next coat", "next window", "next to") || len(r.all(spanMaterial)) > 0 {
			return 0
		}
		if r.aside() {
			return 0
		}
		switch {
		case r.word(r.lo) == "next" && r.hi-r.lo == 1 && r.lo == r.whole.lo && r.hi == r.whole.hi && r.asking():
			return 0.9
		case r.starts("next job", "next jobs", "next task", "next tasks", "whats next"):
			return 1.05
		case r.has("whats next", "what is next", "what comes next", "whats up next", "whats the next job", "what next", "next task", "next job", "what can i start", "what can we start", "what can i get on with", "what can we get on with", "what can i do next", "what can i crack on with", "what can we crack on with", "what do we crack on with", "what should i be on", "what should i be doing", "what am i on", "what am i doing", "what do i do next", "what do we do next", "what do i start", "what have i got next", "what shall i do", "what shall i start", "what shall i crack on with", "whats on my list", "what should i start", "whats to do", "what needs doing", "whats my next", "whats on today", "what is on today", "what have we got on", "whats on the board", "whats on for me", "whats on for us", "what have i got on", "whos doing what", "whos on what", "who is doing what", "who is on what", "what can be started", "whats ready to start", "what could i start", "what could i get on with", "what can i be getting on with", "what am i on next", "be getting on with", "what else is there for me", "what else have you got for me", "whats there for me", "what is there for me", "whats first", "whats after that", "whats after this", "what comes after that", "what comes after this", "what is after that", "anything i can start", "anything i can get on with", "anything i can be getting on with", "whats ready to go", "whats free to start", "what are we on next", "whats left on this", "whats left on here", "what do i do now", "what do we do now", "what tasks", "anything i can be cracking on with", "anything i can crack on with", "what can i be cracking on with", "anything to be getting on with", "anything to be cracking on with", "which tasks", "list tasks", "task list", "list the tasks", "open tasks", "tasks left", "whats left to do", "what is left to do", "what can he start", "what can she start", "what can he get on with", "what can she get on with", "whats the plan", "what jobs are left", "what do you want me on", "what do you want us on", "anything ready to start", "ready to start", "anything ready to go"):
			return 1.05
		case r.asking() && r.has("next") && r.has("start", "do", "on", "job", "task", "crack", "move"):
			return 0.9
		}
		asks := r.asking() || r.has("what am i", "what is there", "what do i", "what have i", "give me", "show me", "tell me", "what can")
		switch {
		case asks && r.has("meant to be doing", "supposed to be doing", "meant to do", "for me to do", "for us to do", "to be getting on with", "do i go onto", "do i go on to", "do i move onto", "go onto after", "running order", "order of work", "ready to go", "to be done", "left to do", "coming now", "comes now", "comes after", "first up", "up first", "be starting", "be starting on", "can be started", "lined up"):
			return 1
		case asks && r.has("task", "tasks", "jobs") && r.has("ready", "open", "left", "next", "free", "waiting", "to do"):
			return 1
		}
		if r.starts("whos on the", "who is on the", "whos doing the", "who is doing the", "whos got the") && len(r.things("task", "")) > 0 {
			return 1
		}
		if p, ok := r.first(spanPerson); ok && r.asking() && r.has("start", "get on with", "be on", "next", "do next", "crack on with", "working on") && p.id != "" {
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if s, ok := r.first(spanPerson); ok && !(r.has("i") && r.askedBehind(s.to)) {
			in.set("person", s.id)
		} else if r.has("i", "im", "me", "my", "am i") && c.Speaker != "" && (in.text("job") == "" && c.ChannelJob == "" || r.has("i", "my", "for me")) {
			in.set("person", c.Speaker)
		}
		if other := in.text("person") != "" && in.text("person") != c.Speaker; !in.has("job") && !other && (c.ChannelJob != "" || c.ThreadJob != "") {
			in.set("job", cmp.Or(c.ThreadJob, c.ChannelJob))
		}
		if !in.has("job") && (!in.has("person") || r.has("over there", "on it", "on that", "on there")) && c.RecentJob != "" {
			in.set("job", c.RecentJob)
		}
	},
}

// askedBehind reports that a mark parts the token from the question: «wren's out,
// what do i do next».
func (r *reading) askedBehind(i int) bool {
	for ; i < r.hi; i++ {
		if r.toks[i-1].stop || r.toks[i-1].end {
			return r.part(i, r.hi).asking()
		}
	}
	return false
}

// aside reports «whats next, a circus»: a mark behind the question, and then
// nothing of the shop's.
func (r *reading) aside() bool {
	for i := r.lo; i < r.hi && i+1 < r.whole.hi; i++ {
		if r.word(i) == "next" && (r.toks[i].stop || r.toks[i].end) {
			behind := r.whole.part(i+1, r.whole.hi)
			return len(behind.spans) == 0 && len(behind.rest()) > 1 && !behind.hasAny("i im ive we weve finished done need out job task can")
		}
	}
	return false
}
