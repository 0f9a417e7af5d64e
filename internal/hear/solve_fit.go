package hear

// solveFit hears the question how to move a panel.
var solveFit = kind{
	name:     "SolveFit",
	examples: []string{"how do i move the ns door"},
	needs:    []string{"job", "panel"},
	score: func(r *reading, c Context) float64 {
		cue := r.has("how do i move", "how do we move", "how should i move", "how do i shift", "how do i adjust", "how do i get", "how do i set", "how do i hang", "which way does", "which way do i", "what shims", "what shim", "how much shim", "how many shims", "what adjustment", "how far do i move", "to go on its hinges", "adjust the", "shift the", "move it", "how do i fit", "what do i move", "which way do i", "how to move", "how to shift", "how to adjust", "do with the hinges", "how do i sort", "how do i correct", "how do i cure", "what does it want doing", "what does it need doing", "what wants doing", "to get it to fit", "get it to fit")
		if !cue || len(r.gapValues()) > 0 || r.has("wrench", "crowfoot") {
			return 0
		}
		_, panel := r.first(spanPanel)
		switch {
		case panel && (r.asking() || r.has("tell me")) && (r.has("move", "shift", "adjust", "adjustment", "shim", "shims", "hinges", "hinge", "hang", "sort", "correct", "even") || r.has("get it right", "line up", "to line up", "fit", "to sit", "sit right", "sit flush", "hang right")):
			return 1.1
		case !panel && c.Last != nil && c.Last.Intent.has("panel") && (c.Last.Intent.Kind == "RecordGap" || c.Last.Intent.Kind == "LookUpGap" || c.Last.Intent.Kind == "SolveFit") && r.has("it", "that"):
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
		if r.has("passenger one", "drivers one", "driver one", "passengers one") && !in.has("side") {
			in.set("side", map[bool]string{true: "passenger", false: "driver"}[r.has("passenger one", "passengers one")])
		}
		if last := c.Last; in.has("panel") && !in.has("side") && last != nil && last.Intent.text("panel") == in.text("panel") && r.has("the door", "that door", "the panel", "that", "the") && last.Intent.has("side") {
			in.set("side", last.Intent.Fields["side"]) // the one just measured
			if last.Intent.has("end") && !in.has("end") {
				in.set("end", last.Intent.Fields["end"])
			}
		}
		if !in.has("panel") && c.Last != nil && r.has("it", "that") {
			for _, f := range []string{"panel", "side", "end"} {
				if c.Last.Intent.has(f) {
					in.set(f, c.Last.Intent.Fields[f])
				}
			}
		}
	},
	check: func(in *Intent) {
		if p := in.text("panel"); p != "" && sided[p] && !in.has("side") {
			in.Missing = append(in.Missing, "side")
		}
	},
}
