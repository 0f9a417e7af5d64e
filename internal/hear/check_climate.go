package hear

import "bayword/internal/unit"

// checkClimate hears the question whether to paint in this air.
var checkClimate = kind{
	name:     "CheckClimate",
	examples: []string{"14 degrees 78 percent metals 11, ok to spray?"},
	needs:    []string{"air_c", "humidity_pct"},
	score: func(r *reading, _ Context) float64 {
		_, humidity := r.humidity()
		_, temperature := r.quantity("c", "f")
		cue := r.has("okay to paint", "okay to spray", "can i shoot", "can i paint", "going to sweat", "gonna sweat", "hygrometer", "ok to spray", "ok to paint", "can i spray", "can we spray", "alright to spray", "all right to spray", "ok for", "can i put", "fit to spray", "safe to spray", "dew point", "too damp", "too humid", "good to spray", "paint in this", "spray in this")
		switch {
		case humidity && temperature:
			return 1.15
		case humidity && (cue || r.has("air", "metal", "metals", "panel", "surface", "steel")):
			return 1.1
		case cue && temperature:
			return 0.9
		case cue && r.asking() && len(r.bare()) == 1 && r.has("in here", "in the booth", "degrees") && len(r.all(spanMaterial)) == 0 && len(r.all(spanPanel)) == 0:
			return 0.9 // how damp it is, is to be asked
		case cue && r.asking() && r.hi-r.lo <= 6 && r.starts("is it ok", "is it okay", "are we ok", "am i ok", "is it alright", "is it all right", "can i spray", "can we spray", "ok to spray", "is it fit", "is it safe") && len(r.all(spanMaterial)) == 0 && len(r.all(spanPanel)) == 0:
			return 0.9 // of the air is to be asked
		case cue && r.has("dew point", "too damp", "too humid"):
			return 0.8
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		h, ok := r.humidity()
		if ok {
			in.set("humidity_pct", h.value)
		}
		for _, s := range r.spans {
			if s.kind != spanQuantity || s.landmark || (ok && s.from == h.from) || (s.unit != "c" && s.unit != "f" && s.unit != "") {
				continue
			}
			c := s.value
			if s.unit == "f" {
				if v, err := unit.Convert(c, unit.Fahr, unit.Celsius); err == nil {
					c = tidy(v)
				}
			}
			switch {
			case r.ofTheMetal(s):
				in.set("surface_c", c)
			case !in.has("air_c"):
				in.set("air_c", c)
			case !in.has("surface_c") && r.has("metal", "panel", "steel", "surface"):
				in.set("surface_c", c)
			}
		}
	},
}

// humidity returns the number that is the humidity: with a percent sign, or
// next to the word.
func (r *reading) humidity() (span, bool) {
	for _, s := range r.spans {
		if s.kind == spanQuantity && s.unit == "pct" {
			return s, true
		}
	}
	for _, s := range r.spans {
		if s.kind != spanQuantity || s.unit != "" {
			continue
		}
		for j := s.from - 1; j >= s.from-3 && j >= r.lo && !r.toks[j].stop; j-- {
			if w := r.word(j); w == "humidity" || w == "rh" || w == "hygrometer" {
				return s, true
			}
		}
	}
	for _, s := range r.bare() {
		if w := r.word(s.to); w == "humidity" || w == "rh" || w == "on" && r.word(s.to+2) == "hygrometer" {
			return s, true
		}
	}
	return span{}, false
}

// ofTheMetal reports that a temperature is the metal's: «metals 11», «panel's at 18».
func (r *reading) ofTheMetal(s span) bool {
	// «11 on the bonnet», «eight and a half on the shell»
	if r.word(s.to) == "on" && (r.panelAt(s.to+2) || r.word(s.to+2) == "shell" || r.word(s.to+2) == "metal" || r.word(s.to+2) == "panel") {
		return true
	}
	for j := s.from - 1; j >= s.from-4 && j >= r.lo && !r.toks[j].stop && !r.toks[j].end; j-- {
		switch r.word(j) {
		case "metal", "metals", "panel", "panels", "steel", "surface", "shell", "shells", "body", "job":
			return true
		}
		if r.panelAt(j) {
			return true
		}
	}
	return false
}
