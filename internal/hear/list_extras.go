package hear

import "slices"

// listExtras hears the question which extras there are.
var listExtras = kind{
	name:     "ListExtras",
	examples: []string{"what extras are waiting on the customer", "which extras has she agreed to so far"},
	needs:    []string{},
	score: func(r *reading, c Context) float64 {
		if r.starts("when", "once") && !r.has("did", "will", "does") || !r.has("extra", "extras") && !r.toDecide() && !r.moreWaiting(c) || len(r.leadsAtStart()) > 0 {
			return 0
		}
		if r.asking() || r.starts("extras", "list extras", "list the extras", "extras list", "outstanding extras", "open extras", "agreed extras", "show extras", "show me the extras", "remind me what extras", "remind me which extras") {
			return 1.1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		r.fillListJob(c, in)
		switch {
		case r.denied() && r.has("agreed", "decided", "answered", "approved", "signed off"):
			in.set("state", "proposed") // «which havent been agreed yet»
		case r.has("proposed", "waiting", "deciding", "sat on", "sitting on", "outstanding", "pending", "undecided", "to be decided", "still to decide", "not decided", "needs an answer", "need an answer", "need a yes", "not agreed", "yes or no", "to be agreed", "open", "unanswered", "yet to", "mind up", "still to", "thinking about", "not answered", "awaiting", "say so", "not heard back", "not come back on", "hasnt come back on", "havent come back on", "had an answer", "no answer", "to decide", "decide on", "hasnt answered", "havent answered", "hasnt said", "in front of her", "in front of him"):
			in.set("state", "proposed")
		case r.has("declined", "said no to", "turned down", "refused", "knocked back", "rejected"):
			in.set("state", "declined")
		case r.has("agreed", "say yes to", "said yes to", "says yes to", "agree to", "went through", "gone through", "passed", "said ok to", "approved", "accepted", "ok d", "signed off", "happy with"):
			in.set("state", "agreed")
		}
	},
}

// moreWaiting reports «anything else waiting on her», after an extra was spoken of.
func (r *reading) moreWaiting(c Context) bool {
	return c.spokenOf("DecideExtra", "ListExtras", "ProposeExtra") && r.asking() && r.has("waiting on her", "waiting on him", "waiting on them", "waiting for her", "waiting for him", "waiting for them", "waiting on the customer", "waiting on the client")
}

// toDecide reports a question what the customer has still to say yes or no to.
func (r *reading) toDecide() bool {
	customer := slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanJob && s.weak })
	if customer && r.asking() && r.has("waiting on", "waiting for") && len(r.things("part", "")) == 0 && !r.has("parts", "part", "holding") {
		return true // «whats waiting on mrs …»
	}
	return r.asking() && r.has("to decide on", "still to decide", "hasnt answered", "havent answered", "not answered", "to say yes or no to", "waiting on a yes", "needs her say", "needs his say", "to make her mind up on", "to make his mind up on")
}

// leadsAtStart tells an extra that is priced from a question about extras.
func (r *reading) leadsAtStart() []lead {
	if l, ok := r.leadAt(r.lo, nil); ok {
		return []lead{l}
	}
	return nil
}
