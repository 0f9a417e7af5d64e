package hear

// getBrief hears the question what the customer wants.
var getBrief = kind{
	name:     "GetBrief",
	examples: []string{"whats the brief on the heron", "what does the customer want doing on the estate"},
	needs:    []string{"job"},
	score: func(r *reading, c Context) float64 {
		if len(r.leadsAtStart()) > 0 || r.has("add") || r.has("extra", "extras", "date", "invoice") || r.has("when do", "when will", "when is") {
			return 0
		}
		customer := r.has("customer", "client", "owner")
		for _, s := range r.spans {
			customer = customer || s.kind == spanJob && s.weak
		}
		question := r.asking() || r.has("let me hear", "lets hear", "read us", "read me", "read out", "remind me what", "remind me of", "what was it", "show me", "whats in", "which things")
		switch {
		case r.has("brief") && !r.has("keep it brief", "be brief", "in brief") && (question || r.starts("read", "show") || r.starts("brief", "the brief") && len(r.rest("brief", "list", "again", "lines", "far")) == 0 || r.hi-r.lo <= 4 && r.jobNamed()):
			return 1.05
		case question && customer && r.has("want", "wants", "wanted", "ask for", "asked for", "after", "asking for", "agreed to do", "expecting", "expect", "ordered", "looking for", "wanting", "ask", "ask us", "wish list", "asks"):
			return 1.05
		case question && r.has("what are we doing to this", "what are we meant to be doing", "what are we supposed to be doing", "what did we agree", "what did we promise", "what have we promised", "what did we say wed do", "whats agreed", "what have we signed up to", "what did we sign up to", "wish list"):
			return 0.95
		}
		if question && c.ChannelJob != "" && (r.has("she asked for", "he asked for", "they asked for", "shes asked for", "hes asked for", "theyve asked for", "she wanted", "he wanted") && r.has("altogether", "so far", "in all", "all told") || r.has("they ask us for", "did they ask for", "did she ask for", "did he ask for", "she ask us for", "he ask us for", "they ask us to do", "she ask us to do", "he ask us to do")) {
			return 0.95
		}
		if r.has("is he having", "is she having", "are they having") && (r.asking() || r.has("remind me")) && len(r.all(spanFastener)) == 0 {
			return 0.95
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) { fillJob(r, in) },
}
