package hear

// explainAnswer hears the question where an answer comes from.
var explainAnswer = kind{
	name:     "ExplainAnswer",
	examples: []string{"where's that from", "how d'you work that out"},
	score: func(r *reading, c Context) float64 {
		if r.has("to get that", "to get it") {
			return 0 // «how do i move it to get that right»
		}
		if r.whole.has("never", "ive", "mate") && r.whole.hi-r.whole.lo > 8 {
			return 0
		}
		if r.has("wheres that from", "where is that from", "where does that come from", "where do you get that", "where did you get that", "where would you get that", "who says so", "says who", "how do you work that out", "how do you work it out", "how did you work that out", "how did you get that",
			"how do you get that", "how do you know", "work that out", "whats that based on", "whats that from", "what is that from", "whats it from", "whats the source", "where that from", "where did that come from", "show your working", "how come", "whose figure is that", "what page is that", "what page", "which page", "which sheet", "what sheet", "which book", "who decided that", "who set that", "who said that", "who says that", "how do you arrive at that", "how did you arrive at that", "how do you make that", "hows that worked out", "how is that worked out", "how was that worked out", "how did you come to that", "how have you got that", "how do you figure that") ||
			r.starts("how") && !r.starts("how much", "how many") && r.has("get", "got", "arrive", "work", "come") && r.has("that", "that number", "that figure", "this number") && len(r.spans) == 0 && r.hi-r.lo <= 9 ||
			r.has("where", "wheres") && r.has("from", "get", "got") && r.has("that", "this", "figure", "number", "it") && r.hi-r.lo <= 8 {
			if c.Last != nil || c.Addressed {
				return 1.1
			}
		}
		if r.whole.hi-r.whole.lo <= 3 && (r.starts("why", "how come", "whys that", "why that", "why is that")) && len(r.rest("why", "whys", "how", "come", "that", "is", "so", "not")) == 0 && c.Last != nil && lookups[c.Last.Intent.Kind] == "" {
			return 1.1
		}
		return 0
	},
	fill: func(*reading, Context, *Intent) {},
}
