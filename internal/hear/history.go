package hear

// history hears the question what was done.
var history = kind{
	name:     "History",
	examples: []string{"what have we done on the ns sill", "history on the osmere floor"},
	needs:    []string{"job"},
	score: func(r *reading, _ Context) float64 {
		if r.stage() != "" && r.has("hours") {
			return 0
		}
		switch {
		case r.has("history"):
			return 1.05
		case r.has("what have we done", "whats been done", "what have you done", "what was done", "what has been done", "been done on", "been done to", "what weve done", "what work", "whats happened with", "what happened with", "whats happened to", "what did we do", "everything thats been done", "what has happened"):
			if _, ok := r.first(spanPanel); ok || r.asking() || r.jobNamed() {
				return 1
			}
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
	},
}
