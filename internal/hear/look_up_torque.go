package hear

// lookUpTorque hears the question how tight a fastener goes by the book.
var lookUpTorque = kind{
	name:     "LookUpTorque",
	examples: []string{"wheel nut torque on the heron?", "what do the caliper bolts go up to"},
	needs:    []string{"job", "fastener"},
	score: func(r *reading, c Context) float64 {
		if r.has("set it", "sign them off", "sign it off", "book torque") && len(r.bare()) > 0 || r.has("book says", "reference torque", "set the book", "manual says", "manual gives", "book gives", "set the", "put that on", "torque list", "torque wrench") || r.has("crowfoot", "extension") {
			return 0
		}
		if !c.Addressed && r.has("did you torque", "have you torqued", "did you do", "did you tighten", "have you tightened", "have you done", "did you check", "have you checked") {
			return 0 // one person asks another
		}
		if _, ok := r.first(spanThread); ok {
			return 0.2
		}
		if r.has("ill", "will", "gonna", "going to") && !r.asking() {
			return 0
		}
		cue := r.has("torque", "torques", "figure", "how tight", "hows tight", "go up to", "nip it up", "nip them up", "nm", "newton metres", "foot pounds", "lb ft", "ft lb", "ftlb", "setting", "spec", "do up to", "tighten to", "tighten them", "pull up to", "pulled up to", "get pulled up", "talk setting", "wound up to", "done up to", "go to", "talk", "torqued to", "whats the number", "what number", "figures", "want", "wants", "take")
		if _, strong := r.first(spanFastener); !strong {
			if _, weak := r.weakest(spanFastener); !weak {
				if _, thread := r.whole.first(spanThread); cue && r.asking() && r.has("torque") && !r.ahead() && !thread && r.hi-r.lo <= 7 {
					return 0.76 // which fastener is asked for
				}
				return 0
			}
			if !cue && !(c.spokenOf("LookUpTorque", "Convert") && r.has("ones")) {
				return 0
			}
		}
		if _, valued := r.torqueValue(); r.reportsTorque() || valued && !r.asking() {
			return 0.1
		}
		switch {
		case r.has("missing", "lost", "gone", "seen", "nicked", "borrowed", "order", "ordered", "arrived") && !r.has("torque"):
			return 0
		case cue && (r.asking() || r.has("torque", "torques") || r.has("please")):
			if r.denied() {
				return 0.2
			}
			return 1.05
		case c.spokenOf("LookUpTorque", "Convert") && r.has("ones") && r.hi-r.lo <= 5 && len(r.rest("and", "ones", "what", "about")) == 0:
			return 0.95 // «and the bellhousing ones»
		case r.asking() && len(r.rest(lookWords...)) == 0:
			return 0.95
		case c.Addressed && len(r.rest(lookWords...)) == 0:
			return 0.9
		case cue && len(r.rest(lookWords...)) == 0:
			return 0.85
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		fillJob(r, in)
		if s, ok := r.weakest(spanFastener); ok {
			in.set("fastener", s.id)
		}
	},
}

var lookWords = []string{"whats", "what", "please", "need", "get", "there", "any", "torque", "figure", "setting", "again", "do", "go", "up", "how", "tight", "foot", "pounds", "newton", "metres", "nm", "values", "value", "spec", "all", "both", "tell", "give", "got", "have", "final", "last", "stages", "stage", "number", "and"}

// reportsTorque reports that something was tightened to a value.
func (r *reading) reportsTorque() bool {
	if _, valued := r.torqueValue(); r.asking() && (!valued || !r.has("done", "torqued", "clicked")) {
		return false
	}
	if r.has("did the", "did them") {
		return true
	}
	return r.has("done", "clicked", "torqued", "tightened", "redone", "retorqued", "nipped up at", "nipped up to", "all up to", "are up to", "signed off", "sign that off", "back on at", "pulled up to", "set at", "bolts are in", "nuts are in", "plugs are in", "they are in", "pulled up", "done up", "wound up", "sign them off", "sign it off", "sign off", "down as done", "done at", "tightened to", "wound up to")
}
