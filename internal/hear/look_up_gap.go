package hear

// lookUpGap hears the question what gap is wanted.
var lookUpGap = kind{
	name:     "LookUpGap",
	examples: []string{"what gap are we after at the back of the door", "bonnet gap?"},
	needs:    []string{"job", "panel"},
	score: func(r *reading, c Context) float64 {
		if _, edged := r.weakest(spanEdge); (!r.has("gap", "gaps", "shut line", "shut lines", "shutline", "shutlines") && !(r.asking() && (edged && r.has("target", "are we after", "we after") || r.has("aiming for", "aim for", "aiming at", "shoot for", "shooting for")))) || r.has("new target", "set the", "change the", "change") {
			return 0
		}
		if _, ok := r.first(spanPanel); !ok && !r.gapUnder() {
			if _, edged := r.weakest(spanEdge); edged && r.asking() && r.has("of it", "on it") && c.panelSpokenOf().hasPanel() && r.has("gap", "gaps") {
				return 1 // «the gap along the bottom of it»
			}
			return 0
		}
		if len(r.gapValues()) > 0 || r.has("plus or minus", "plus minus", "plusminus") || r.has("move", "shim", "hinges", "adjust") {
			return 0.2
		}
		if r.ahead() && !r.has("should", "supposed to", "want", "need") {
			return 0.2
		}
		if r.has("fence", "measured") || r.denied() {
			return 0.2
		}
		switch {
		case r.asking() || r.has("target", "spec", "supposed", "should", "aiming", "after"):
			return 1
		case c.Addressed || len(r.rest()) <= 2:
			return 0.85
		}
		return 0.3
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
		fillEdge(r, in)
		if spoken := c.panelSpokenOf(); !in.has("panel") && len(in.Missing) == 0 && spoken.hasPanel() && r.has("of it", "on it") {
			in.set("panel", spoken.Intent.text("panel"))
			in.set("side", spoken.Intent.text("side"))
		}
		if r.gapUnder() {
			for _, s := range r.spans {
				if s.kind == spanPanel && s.landmark && s.id != "" && !in.has("panel") {
					in.set("panel", s.id)
				}
			}
			if !in.has("edge") {
				in.set("edge", "bottom")
			}
		}
	},
}

// gapUnder reports «the gap under the door»: its bottom edge.
func (r *reading) gapUnder() bool {
	return r.has("gap under the", "gap underneath the", "meant to be under the", "be under the")
}

// fillEdge sets the edge, a weak one («at the rear») too.
func fillEdge(r *reading, in *Intent) {
	if s, ok := r.weakest(spanEdge); ok {
		in.set("edge", s.id)
	}
	for _, s := range r.spans {
		if s.kind == spanEdge && !s.weak {
			in.set("edge", s.id)
			break
		}
	}
}
