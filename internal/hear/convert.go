package hear

import (
	"slices"

	"bayword/internal/unit"
)

// convert hears the question what a value is in another unit.
var convert = kind{
	name:     "Convert",
	examples: []string{"45 foot pounds in newton metres", "60 thou in mm?"},
	needs:    []string{"value", "from", "to"},
	score: func(r *reading, c Context) float64 {
		to, at := r.wantedUnit()
		if to == "" {
			return 0
		}
		ignore := []string{"what", "whats", "convert", "turn", "into", "much", "how", "many", "equals", "equal", "as", "does", "make", "come", "torque", "that", "figure", "setting"}
		for i := at; i < r.hi && i < at+2; i++ {
			ignore = append(ignore, r.word(i))
		}
		if len(r.all(spanFastener)) > 0 || r.materialNamed() || r.has("used", "took", "delivered") {
			return 0.2
		}
		_, from := r.fromUnit(to)
		rest := len(r.rest(ignore...))
		switch {
		case from && rest == 0:
			return 1.1
		case from && (r.asking() || r.has("is what", "thats what", "that is what", "give me", "whats that", "convert")) && rest <= 6:
			return 0.95
		case !from && rest == 0 && c.Last != nil && c.Last.Unit != "" && len(r.bare()) == 0:
			return 1 // «in foot pounds?» after a torque
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		to, _ := r.wantedUnit()
		if s, ok := r.fromUnit(to); ok {
			in.set("value", s.value)
			in.set("from", symbolOf(s.unit, to))
		} else if b := r.bare(); len(b) > 0 {
			in.set("value", b[0].value) // «and 55»
		} else if to != "" && !in.has("value") && c.Last != nil && c.Last.Unit != "" {
			in.set("value", c.Last.Value)
			in.set("from", c.Last.Unit)
		}
		if to != "" {
			in.set("to", to)
		}
	},
}

// materialNamed reports a material by more than the noun of several: «sheet» may be one
// of paper.
func (r *reading) materialNamed() bool {
	return slices.ContainsFunc(r.all(spanMaterial), func(s span) bool { return s.id != "" })
}

// wantedUnit returns the unit asked for: the one behind «in», «to» or «as»
// that no number goes before.
func (r *reading) wantedUnit() (symbol string, at int) {
	for i := r.hi - 1; i >= r.lo; i-- {
		switch r.word(i - 1) {
		case "in", "to", "into", "as", "many", "me":
		default:
			continue
		}
		if r.used[i] && !r.weakAt(i) {
			continue
		}
		if u, n, ok := r.unitAt(i); ok && n > i {
			if s := symbolOf(u, ""); s != "" {
				return s, i
			}
		}
		if s := runOn[r.word(i)]; s != "" && i+1 == r.hi && s != "in" {
			if sym := symbolOf(s, ""); sym != "" {
				return sym, i
			}
		}
		switch r.word(i) {
		case "newton", "newtons":
			if _, ok := r.quantity("lbf_ft", "lbf_in", "kgf_m"); ok {
				return "nm", i
			}
		case "celsius", "centigrade":
			return "c", i
		case "fahrenheit":
			return "f", i
		case "in":
			return "in", i
		case "kw", "bhp", "ps", "kilowatts":
			return map[string]string{"kw": "kw", "kilowatts": "kw", "bhp": "bhp", "ps": "ps"}[r.word(i)], i
		}
	}
	return "", 0
}

func (r *reading) weakAt(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.from <= i && i < s.to && s.kind != spanQuantity })
}

// fromUnit returns the quantity to convert into the unit wanted.
func (r *reading) fromUnit(to string) (span, bool) {
	for _, s := range r.spans {
		if s.kind == spanQuantity && s.unit != "" && symbolOf(s.unit, to) != "" {
			return s, true
		}
	}
	return span{}, false
}

// symbolOf returns the contract's symbol of a unit heard; «mil» is what the
// other unit makes of it.
func symbolOf(heard, other string) string {
	if heard == "mil" {
		if o, err := unit.Parse(other); err == nil && o.Dimension() == unit.Volume {
			return "ml"
		}
		return "mm"
	}
	if _, err := unit.Parse(heard); err != nil {
		return ""
	}
	return heard
}
