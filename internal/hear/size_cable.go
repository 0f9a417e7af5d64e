package hear

// sizeCable hears the question which cable a load needs.
var sizeCable = kind{
	name:     "SizeCable",
	examples: []string{"cable for a 15 amp fuel pump, 4.5 metres"},
	needs:    []string{"amps", "length_m"},
	score: func(r *reading, _ Context) float64 {
		_, amps := r.quantity("amp")
		_, watts := r.quantity("w")
		cable := r.has("cable", "cables", "wire", "wiring", "gauge", "conductor")
		_, length := r.quantity("m", "ft", "cm", "mm")
		if len(r.all(spanPanel)) > 0 && !amps && !watts {
			return 0
		}
		switch {
		case amps && cable && (r.asking() || r.has("size", "need", "for a", "for the", "drop") || length && r.hi-r.lo <= 12):
			return 1.15
		case amps && length && r.asking():
			return 1
		case cable && length && r.asking() && r.has("for the", "for a", "for an") && r.has("what cable", "which cable", "what wire", "what gauge", "what size"):
			return 1
		case watts && cable:
			return 0.9
		case cable && r.has("what size", "size for", "how thick", "what gauge") && !r.has("mig"):
			return 0.85
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		if s, ok := r.quantity("amp"); ok {
			in.set("amps", s.value)
		}
		if s, ok := r.quantity("m", "ft", "cm", "in"); ok {
			in.set("length_m", tidy(millimetres(s.value, s.unit)/1000))
		}
		if s, ok := r.quantity("v"); ok {
			in.set("volts", s.value)
		}
		if s, ok := r.quantity("pct"); ok {
			in.set("drop_pct", s.value)
		}
	},
}
