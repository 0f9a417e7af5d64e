package hear

// reportHours hears the question how many hours went in.
var reportHours = kind{
	name:     "ReportHours",
	examples: []string{"hours so far on the osmere paint", "how many hours has priya done on the pilot"},
	needs:    []string{"job"},
	score: func(r *reading, c Context) float64 {
		if _, ok := r.quantity("h"); ok {
			return 0
		}
		if r.has("when can", "recoat", "can i ask", "help", "price", "extra") {
			return 0
		}
		if c.Last != nil && (c.Last.Intent.Kind == "LogHours" || c.Last.Intent.Kind == "ReportHours") && r.asking() && r.has("total") {
			return 0.95
		}
		total := r.has("gone into", "put into", "so far", "total", "how many", "what have we", "spent", "logged", "against", "how much time", "booked", "what are we at", "have we got in", "up to", "to date", "clocked", "quoted")
		switch {
		case r.asking() && r.has("bring", "take", "make") && (r.stage() != "" || r.jobNamed()) && c.Last != nil && (c.Last.Intent.Kind == "LogHours" || c.Last.Intent.Kind == "ReportHours") && r.has("what does that", "whats that", "what does it"):
			return 1 // «what does that bring the paint to»
		case r.has("against what we allowed", "against the estimate", "against what we quoted", "against the quote", "against what was allowed") && (r.has("hours") || r.stage() != ""):
			return 1
		case r.stage() != "" && r.asking() && r.has("meant to be what", "where are we on that", "where are we on it", "supposed to be what", "how much was allowed"):
			return 1
		case r.stage() != "" && r.asking() && r.has("clocked", "clocked up"):
			return 1
		case c.Last != nil && c.Last.Intent.Kind == "LogHours" && r.has("how many thats made", "how many that makes", "what that makes", "what thats made"):
			return 1
		case r.starts("hows it doing", "how is it doing", "how are we doing", "hows it looking") && r.has("for hours", "on hours"):
			return 1
		case r.stage() != "" && r.asking() && r.has("how far over", "how far under", "are we over on", "are we under on"):
			return 1
		case r.starts("hours") && len(r.all(spanPerson)) > 0 && len(r.bare()) == 0 && r.has("has", "on this", "on it", "so far", "on here"):
			return 1
		case len(r.all(spanPerson)) > 0 && r.has("how long has", "how longs", "how long have") && r.has("on it", "on this", "on here", "on that", "had on", "spent", "put in"):
			return 1
		case r.has("hours", "hour", "total time", "time gone into", "time spent", "how much time", "how much labour", "how long have we") && total && (r.asking() || r.has("so far", "total", "to date")):
			return 1
		case r.starts("hours booked", "hours logged", "hours spent", "total hours", "hours to date", "hours so far") && (r.jobNamed() || r.stage() != "" || c.ChannelJob != ""):
			return 1
		case r.has("have i got down", "have i put down", "have i logged", "have i booked") && r.asking():
			return 0.95
		case r.stage() != "" && r.has("total", "so far") && r.asking():
			return 0.95
		case r.starts("hours on") && r.stage() != "" && r.jobNamed() && len(r.bare()) == 0 && len(r.rest("hours")) == 0:
			return 1
		case r.has("hours") && (r.asking() || r.has("hows")) && (r.jobNamed() || r.stage() != ""):
			return 0.9
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if st := r.stage(); st != "" {
			in.set("work", st)
		}
		for _, s := range r.all(spanNumbered) {
			if s.id == "task" {
				in.set("work", trimNumber(s.value))
			}
		}
		if r.has("left") {
			return // what is left is everybody's
		}
		if r.has("have i", "i got", "ive got", "my hours", "i put", "i have", "did i", "ive put") && c.Speaker != "" {
			in.set("person", c.Speaker)
		}
		if s, ok := r.first(spanPerson); ok {
			in.set("person", s.id)
		}
	},
}
