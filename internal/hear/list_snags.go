package hear

// listSnags hears the question which snags there are.
var listSnags = kind{
	name:     "ListSnags",
	examples: []string{"show me the snag list", "any snags on the pilot"},
	needs:    []string{},
	score: func(r *reading, _ Context) float64 {
		if r.has("snag with") || !r.has("snag", "snags", "snagging", "snagged") || len(r.leadsAtStart()) > 0 {
			return 0
		}
		if r.asking() || r.starts("read us back", "read me back", "read back", "read us", "run us through", "run through") || r.hi-r.lo <= 4 && r.jobNamed() && len(r.rest("snag", "snags", "list")) == 0 || r.starts("snags", "snag list", "list snags", "open snags", "show snags", "show me the snags", "the snag list", "snagging list") {
			return 1.1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		r.fillListJob(c, in)
		switch {
		case r.has("open", "left", "outstanding", "still", "to do", "remaining"):
			in.set("state", "open")
		case r.has("closed", "fixed", "sorted", "done"):
			in.set("state", "closed")
		}
	},
}
