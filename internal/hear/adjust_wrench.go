package hear

// adjustWrench hears the question what to set a torque wrench to.
var adjustWrench = kind{
	name:     "AdjustWrench",
	examples: []string{"40 nm with a 75 crowfoot on a 400 wrench"},
	needs:    []string{"torque_nm", "extension_mm", "wrench_mm"},
	score: func(r *reading, _ Context) float64 {
		if !r.has("crowfoot", "crows foot", "crow foot", "extension", "offset adapter") {
			return 0
		}
		_, torque := r.quantity("nm", "lbf_ft", "kgf_m", "lbf_in")
		switch {
		case torque && r.has("wrench", "crowfoot", "crow foot"):
			return 1.2
		case torque:
			return 0.9
		case r.asking() && r.has("wrench") && len(r.bare()) > 0 && r.has("dial", "set", "click", "read", "wind it to"):
			return 1.05
		case r.has("what do i set", "setting") && r.asking():
			return 0.9
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		if s, ok := r.quantity("nm", "lbf_ft", "kgf_m", "lbf_in"); ok {
			in.Unit = s.unit
			in.set("torque_nm", tidy(newtonMetres(s.value, s.unit)))
		}
		for _, s := range r.bare() {
			if w := r.word(s.from - 1); !in.has("torque_nm") && (w == "want" || w == "wants" || w == "to" || w == "need" || w == "needs") && r.toolNear(s) == "" {
				in.Unit = "nm"
				in.set("torque_nm", s.value) // «they want 77»
			}
		}
		for _, s := range r.spans {
			if s.kind != spanQuantity {
				continue
			}
			if s.unit == "c" || s.unit == "" && (r.word(s.from-1) == "at" || (s.value == 45 || s.value == 90) && r.toolNear(s) == "") {
				in.set("angle_deg", s.value) // «at 45 degrees», «at 90»
				continue
			}
			if !lengthUnit(s.unit) {
				continue
			}
			mm := tidy(millimetres(s.value, s.unit))
			switch r.toolNear(s) {
			case "wrench":
				in.set("wrench_mm", mm)
			case "extension":
				in.set("extension_mm", mm)
			default:
				if c.Last != nil && c.Last.Intent.Kind == "AdjustWrench" && (r.word(s.from-1) == "a" || r.word(s.from-2) == "with") && r.has("with") && len(r.bare()) == 1 {
					in.set("extension_mm", mm) // «and with a 100»
				} else if len(in.Missing) == 1 && lengthUnit(s.unit) && (in.Missing[0] == "wrench_mm" || in.Missing[0] == "extension_mm") {
					in.set(in.Missing[0], mm)
				}
			}
		}
		if s, ok := r.first(spanSize); ok && r.has("wrench") { // «400 by 75»
			in.set("wrench_mm", s.value)
			in.set("extension_mm", s.second)
		}
	},
}

// toolNear returns which tool a length belongs to: the word behind it, or the
// one in front.
func (r *reading) toolNear(s span) string {
	tools := map[string]string{"wrench": "wrench", "bar": "wrench", "crowfoot": "extension", "foot": "extension", "long": "wrench", "one": "wrench", "crow": "extension", "crows": "extension", "extension": "extension", "adapter": "extension"}
	for j := s.to; j < s.to+2; j++ {
		if t := tools[r.word(j)]; t != "" {
			return t
		}
	}
	for j := s.from - 1; j >= s.from-3; j-- {
		if t := tools[r.word(j)]; t != "" {
			return t
		}
		if j >= r.lo && (r.toks[j].stop || r.toks[j].end) {
			break
		}
	}
	return ""
}
