package hear

// setGap hears a target gap to keep.
var setGap = kind{
	name:     "SetGap",
	write:    true,
	examples: []string{"bonnet gap target 5 plus or minus half"},
	needs:    []string{"job", "panel", "target_mm"},
	score: func(r *reading, _ Context) float64 {
		if _, ok := r.first(spanPanel); !ok {
			return 0
		}
		if len(r.gapValues()) == 0 && !r.asking() && (r.has("new target", "set the gap", "change the gap") || r.has("target") && r.has("set", "change")) {
			return 1.15
		}
		if len(r.gapValues()) == 0 || (r.asking() && !r.has("plus or minus", "plus minus", "plusminus")) {
			return 0
		}
		if r.starts("i want the", "we want the", "want the", "id like the") && r.has("give or take", "plus or minus") {
			return 1.15
		}
		if r.starts("set") && r.has("gap", "gaps") && r.has("either way") {
			return 1.2
		}
		if !r.has("gap", "gaps", "target", "tolerance", "shut line") {
			return 0
		}
		switch {
		case r.has("plus or minus", "plus minus", "plusminus", "tolerance", "give or take"):
			return 1.2
		case r.starts("set the", "set all the", "set my") && r.has("to") && len(r.gapValues()) == 1:
			return 1.2
		case r.has("target", "to be", "set the", "change the", "aim for"):
			return 1.15
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
		fillEdge(r, in)
		cut := r.hi
		for i := r.lo; i < r.hi; i++ {
			if s, ok := r.spanOf(i, spanQuantity); ok && s.from == i && r.word(s.to) == "either" && r.word(s.to+1) == "way" {
				cut = i - 1
				break
			}
			if w := r.word(i); w == "plus" || w == "plusminus" || w == "tolerance" || w == "give" {
				cut = i
				break
			}
		}
		for _, s := range r.spans {
			if s.kind != spanQuantity || !lengthUnit(s.unit) {
				continue
			}
			v := tidy(millimetres(s.value, s.unit))
			if s.from < cut && !in.has("target_mm") {
				in.set("target_mm", v)
			} else if s.from > cut && !in.has("tolerance_mm") {
				in.set("tolerance_mm", v)
			}
		}
	},
}
