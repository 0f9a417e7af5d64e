package hear

import (
	"cmp"
	"slices"
)

// decideExtra hears what the customer decided about an extra.
var decideExtra = kind{
	name:     "DecideExtra",
	write:    true,
	examples: []string{"mrs adeyemi's fine with extra 2", "the customer said no to extra 2"},
	needs:    []string{"agreed"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.has("price", "proposed", "if", "once she", "once he", "waiting", "undecided", "still thinking", "thinking about", "not decided", "hasnt decided", "hasnt said", "havent heard", "not heard", "maybe", "might", "probably", "will decide", "will let", "hopefully", "should be", "hoping", "not agreed", "hasnt agreed", "not yet", "to decide", "ask", "asked", "reckon", "reckons", "sleep on it", "get back", "let us know", "tell", "only", "but", "provided", "nearly", "almost", "half", "as long as", "except", "without", "subject to", "on hold", "hold", "waits", "needs", "need", "time to think", "wants time", "needs time", "on the board", "on the list") || r.has("when she", "when he") && !r.has("when she rang", "when he rang", "when she dropped in", "when he dropped in", "when she came", "when he came", "when she called", "when he called", "when she was in", "when he was in", "when she popped in", "when he popped in") {
			return 0
		}
		if r.whole.uncertain() {
			return 0
		}
		if _, decided := r.decision(); !decided && !r.changedMind() || len(r.bare()) > 0 && r.yesTo() == 0 || len(r.prices()) > 0 {
			return 0 // another price than that on record is no plain yes
		}
		_, numbered := r.numberOf("extra")
		last := c.Last != nil && (c.Last.Intent.Kind == "ProposeExtra" || c.Last.Intent.Kind == "ListExtras" || c.Last.Intent.Kind == "DecideExtra")
		customer := false
		for _, s := range r.spans {
			customer = customer || s.kind == spanJob && s.weak
		}
		customer = customer || r.has("customer", "client", "mr", "mrs", "ms", "she", "he", "they", "shes", "hes", "theyre")
		switch {
		case numbered:
			return 1.2
		case r.has("now a no", "now a yes") && r.has("extra"), last && customer && r.yesTo() > 0:
			return 1.2
		case r.changedMind() && c.lastDecided() > 0:
			return 1.2
		case r.has("extra") && (customer || r.named("extra", c) || r.has("the extra")):
			return 1.2
		case c.lastExtraHere() > 0 && customer && r.has("that last one", "the last one", "last extra"):
			return 1.2
		case last && customer && r.has("that", "that one", "it", "both", "this one"):
			return 1.1
		case customer && r.named("extra", c) && r.decidedPlainly():
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if agreed, ok := r.decision(); ok {
			in.set("agreed", agreed)
		}
		if n, ok := r.numberOf("extra"); ok {
			in.set("extra", n)
			if job := cmp.Or(c.ThreadJob, c.ChannelJob, r.v.jobOf("extra", n)); job != "" && !in.has("job") {
				in.set("job", job)
			}
			return
		}
		if n := c.lastExtraHere(); n > 0 && r.has("last one", "last extra", "the last") {
			in.set("extra", n)
			return
		}
		if n := r.yesTo(); n > 0 {
			in.set("extra", n)
			return
		}
		if b := r.bare(); len(b) == 1 && slices.Contains(in.Missing, "extra") {
			in.set("extra", int(b[0].value))
			return
		}
		if t := r.things("extra", in.text("job")); slices.Contains(in.Missing, "extra") && len(t) == 1 {
			in.set("extra", t[0].number)
			return
		}
		if n := c.lastDecided(); n > 0 && r.changedMind() && !r.has("extra") {
			in.set("extra", n)
			return
		}
		if c.Last != nil && (c.Last.Intent.Kind == "ProposeExtra" || c.Last.Intent.Kind == "ListExtras") && c.Last.Number > 0 && r.has("that", "that one", "it", "this one") && !r.named("extra", Context{}) {
			in.set("extra", c.Last.Number)
			return
		}
		job := in.text("job")
		if job == "" {
			job = c.fallbackJob()
		}
		if t := r.things("extra", job); len(t) > 0 {
			in.set("text", r.textFrom(r.lo, r.hi))
			if len(t) == 1 {
				in.set("extra", t[0].number)
			}
		}
		if job != "" && !in.has("job") {
			in.set("job", job)
		}
	},
}

// uncertain reports words that make a customer's answer none yet: a condition, a
// doubt, somebody else's word, or two answers in one.
func (r *reading) uncertain() bool {
	if r.has("before she", "before he", "before they", "would have", "wants to see", "i think", "ill check", "ill ask", "then changed", "not if", "so long as", "as long as", "hasnt said", "havent said", "husband", "wife says", "or was it", "provided", "unless", "last month", "will say", "shell say", "hell say", "theyll say", "she will", "he will say", "if she", "if he", "if they", "if it", "depends") {
		return true
	}
	return r.has("yes to", "yes on", "a yes", "said yes", "says yes", "ok with", "fine with", "happy with") && r.has("no to", "no on", "a no") && len(r.numbersOf("extra")) < 2 && !r.changedMind()
}

// changedMind reports that the customer decided otherwise than before.
func (r *reading) changedMind() bool {
	return r.has("changed his mind", "changed her mind", "changed their mind", "changed their minds", "change of mind", "change of heart", "gone off it", "gone off the idea")
}

// lastDecided is the extra that was decided about last, or 0.
func (c Context) lastDecided() int {
	for _, d := range c.Records {
		if d.Intent.Kind == "DecideExtra" {
			return d.Number
		}
	}
	return 0
}

// yesTo reads the number of «she says yes to 3», or 0.
func (r *reading) yesTo() int {
	b := r.bare()
	if len(b) != 1 || b[0].value != float64(int(b[0].value)) || b[0].to != r.hi && !r.toks[b[0].to-1].stop && !r.toks[b[0].to-1].end {
		return 0
	}
	switch w, p := r.word(b[0].from-1), r.word(b[0].from-2); {
	case (w == "to" || w == "on" || w == "for") && (p == "yes" || p == "no"), (w == "to") && (p == "agreed" || p == "agrees" || p == "ok"), w == "number":
		return int(b[0].value)
	}
	return 0
}

// decision reads a yes or a no of the customer.
func (r *reading) decision() (agreed, ok bool) {
	if r.word(r.hi-1) == "it" && r.word(r.hi-2) == "leave" || r.has("no to", "said no", "says no", "is a no", "its a no", "now a no", "a no from", "declined", "declines", "turned down", "turned that down", "turned it down", "turned that one down", "turns down", "doesnt want", "dont want", "wont have", "wont pay", "not having", "rejected", "knocked back", "knocked it back", "not happy with", "not happy about", "not paying", "refused", "isnt happy", "wont go for", "didnt go for", "doesnt fancy", "said not to", "isnt going ahead", "not going ahead", "passed on", "decline", "not interested", "a no for", "no on", "cancelled", "rather not", "not go ahead") || r.starts("decline", "reject", "refuse") {
		return false, true
	}
	if r.denied() {
		return false, false
	}
	if r.starts("approve", "agree", "accept") {
		return true, true
	}
	if r.has("ok with", "okay with", "fine with", "happy with", "happy for", "happy to", "cool with", "good with", "agreed", "agrees", "agreed to", "yes to", "said yes", "says yes", "is a yes", "its a yes", "now a yes", "a goer", "a winner", "good to go", "a yes from", "a yes on", "approved", "approves", "go ahead", "gone ahead", "going ahead", "signed off", "accepted", "accepts", "given us the nod", "gave the nod", "gave us the nod", "the nod", "given the ok", "gave the ok", "ok for", "okd", "okayed", "okays", "oked", "thumbs up", "green light", "said ok", "said okay", "said fine", "up for", "wants it done", "shes having the", "hes having the", "theyre having the", "is having the", "are having the", "having it done", "is having it", "shes having it", "hes having it", "theyre having it", "gone for", "went for", "going for extra", "going for that", "going for it", "shes going for", "hes going for", "yes on", "yes for", "said go", "tick off", "all for", "is fine", "said crack on", "he will have", "she will have", "they will have", "says crack on", "says go", "content with", "the okay", "wants extra") || r.saysYes() {
		return true, true
	}
	return false, false
}

// decidedPlainly reports words that only a decision uses.
func (r *reading) decidedPlainly() bool {
	return r.has("extra", "agreed", "said yes", "said no", "declined", "approved", "go ahead", "happy for us to", "turned down", "happy with", "yes to", "no to", "the nod", "green light")
}

// saysYes reports a bare «yes», «ok» or «confirmed» that is said of the extra: it
// ends the message.
func (r *reading) saysYes() bool {
	switch r.word(r.hi - 1) {
	case "yes", "ok", "okay", "confirmed":
		return true
	}
	return false
}
