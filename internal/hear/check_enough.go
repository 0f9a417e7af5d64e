package hear

// checkEnough hears the question whether the shelf is enough.
var checkEnough = kind{
	name:     "CheckEnough",
	examples: []string{"enough epoxy for two coats on the whole body?"},
	needs:    []string{"material", "panels", "coats"},
	score: func(r *reading, _ Context) float64 {
		id, choose, _ := r.material(true, nil)
		if id == "" && len(choose) == 0 {
			return 0
		}
		_, coats := r.quantity("coats")
		_, panel := r.first(spanPanel)
		cue := r.has("enough", "enuff", "sufficient", "stretch to", "stretch", "will we have", "will there be", "run to", "cover", "last for", "see me through") || r.starts("have we the", "have we got the", "do we have the") && (coats || panel) && r.has("to do", "to put", "to give", "for") || r.has("have i got", "have we got", "got the") && (coats || panel) && r.has("to do", "to put", "for")
		if r.asking() && r.starts("will the", "will that", "will this", "will my", "will our", "would the") && coats && r.has("do", "stretch", "cover", "manage") {
			return 1.15
		}
		switch {
		case cue && (coats || panel || r.has("twice", "one coat")):
			return 1.15
		case r.has("enough", "sufficient") && r.asking():
			return 0.9
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillMaterial(r, c, in)
		fillPanels(r, in)
		fillCoats(r, in)
		fillJob(r, in)
	},
}
