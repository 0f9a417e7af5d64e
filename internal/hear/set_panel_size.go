package hear

// setPanelSize hears the size of a panel.
var setPanelSize = kind{
	name:     "SetPanelSize",
	write:    true,
	examples: []string{"heron bonnet is 1.3 square metres", "heron ns door is 620 high, 1080 long, hinges 380 apart"},
	needs:    []string{"panel"},
	score: func(r *reading, _ Context) float64 {
		if r.asking() || r.denied() || len(r.all(spanMaterial)) > 0 || r.findKind() != "" {
			return 0
		}
		if _, ok := r.first(spanPanel); !ok {
			return 0
		}
		_, area := r.quantity("m2", "ft2")
		switch {
		case area && r.has("is", "area", "size"):
			return 1.1
		case r.has("hinges", "hinge") && r.has("high", "height", "tall") && r.has("long", "length", "wide"):
			return 1.2
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if !in.has("job") && c.ChannelJob != "" && !r.has("every job", "all jobs", "all the jobs") {
			in.set("job", c.ChannelJob)
		}
		fillPlace(r, in)
		if s, ok := r.quantity("m2", "ft2"); ok {
			v := s.value
			if s.unit == "ft2" {
				v = tidy(v * 0.09290304) // exact, from 0.3048 m
			}
			in.set("area_m2", v)
			return
		}
		for i := r.lo; i < r.hi; i++ {
			v, n, ok := r.numberAt(i)
			if !ok || v < 50 {
				continue
			}
			if r.word(n) == "mm" {
				n++
			}
			switch w := r.word(n); {
			case w == "high" || w == "tall" || r.word(i-1) == "height":
				in.set("height_mm", v)
			case w == "long" || w == "wide" || r.word(i-1) == "length":
				in.set("length_mm", v)
			case r.stem(i-1) == "hinge" || w == "apart":
				in.set("hinge_spacing_mm", v)
			}
		}
		if r.has("hinged at the rear", "rear hinged", "hinges at the rear") {
			in.set("hinge_edge", "rear")
		}
	},
}
