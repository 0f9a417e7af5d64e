package hear

// history hears the question what was done.
var history = kind{
	name:     "History",
	examples: []string{"what have we done on the ns sill", "history on the osmere floor"},
	needs:    []string{"job"},
	score: func(r *reading, _ Context) float64 {
		if r.stage() != "" && r.has("hours") || r.has("his history", "her history", "your history", "my history") {
			return 0
		}
		if len(r.all(spanPanel)) > 0 && r.asking() && r.has("had done to", "we had off", "had off and on", "do we have on the", "have we got on the", "done to that", "done to the", "had done on") && r.findKind() == "" && len(r.all(spanMaterial)) == 0 && !r.has("hours", "extra", "ordered") {
			return 1
		}
		switch {
		case r.has("history") && (r.asking() || r.starts("history") && !r.has("was", "is", "lesson", "teacher", "class", "will", "repeats", "repeating") || r.jobNamed() || len(r.all(spanPanel)) > 0):
			return 1.05
		case r.has("what have we done", "whats been done", "what have you done", "what was done", "what has been done", "been done on", "been done to", "what weve done", "what work", "whats happened with", "what happened with", "whats happened to", "what did we do", "everything thats been done", "what has happened", "everything weve done", "everything we have done", "everything we did", "all weve done", "all thats been done", "everything on", "work done on", "work weve done", "work weve had"):
			if _, ok := r.first(spanPanel); ok || r.jobNamed() || r.asking() && r.hasAny("this here it we") {
				return 1
			}
		}
		if _, ok := r.first(spanPanel); ok && r.findKind() == "" && len(r.all(spanMaterial)) == 0 {
			asks := r.asking() || r.has("give me", "walk me through", "talk me through", "take me through", "run through", "whos")
			if asks && (r.has("everything that has been", "everything recorded", "recorded against", "been recorded", "made already", "the story", "done what", "work on", "anyone done anything", "anything been done", "been done", "done so far", "already done", "been at", "happened")) && !r.has("enough", "extra", "hours", "coats", "how many", "how long") {
				return 0.98
			}
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
		c.preferSpoken(r, in)
		if !in.has("panel") && c.Last.hasPanel() && r.has("this panel", "that panel", "on it", "to it", "with it") && !r.jobNamed() {
			in.set("panel", c.Last.Intent.text("panel"))
			if side := c.Last.Intent.text("side"); side != "" && !in.has("side") {
				in.set("side", side)
			}
		}
		if spoken := c.panelSpokenOf(); !in.has("side") && spoken.hasPanel() && spoken.Intent.text("panel") == in.text("panel") && r.has("that", "same") && spoken.Intent.text("side") != "" {
			in.set("side", spoken.Intent.text("side")) // «on that door»
		}
	},
}
