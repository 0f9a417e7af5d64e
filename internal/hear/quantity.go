package hear

import (
	"math"

	"bayword/internal/unit"
)

// unitWords maps a written or spoken unit to its symbol. Units of two words
// are in unitPairs.
var unitWords = map[string]string{
	"mm": "mm", "mil": "mil", "mils": "mil", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
	"cm": "cm", "centimetre": "cm", "centimetres": "cm", "inch": "in", "inches": "in", "\"": "in", "thou": "thou", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"foot": "ft", "feet": "ft", "nm": "nm", "ftlb": "lbf_ft", "ftlbs": "lbf_ft", "lbft": "lbf_ft", "kgm": "kgf_m",
	"l": "l", "litre": "l", "litres": "l", "liter": "l", "liters": "l", "lt": "l", "ml": "ml", "millilitre": "ml", "millilitres": "ml", "cc": "ml", "pint": "pint_uk", "pints": "pint_uk", "gallon": "gal_uk", "gallons": "gal_uk",
	"kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "gram": "g", "grams": "g", "gm": "g", "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "oz": "oz", "ounce": "oz", "ounces": "oz",
	"sqm": "m2", "m2": "m2", "ft2": "ft2", "sqft": "ft2", "bar": "bar", "psi": "psi", "percent": "pct", "%": "pct", "prcent": "pct",
	"degrees": "c", "degree": "c", "°": "c", "°c": "c", "°f": "f", "degc": "c", "degf": "f", "fahrenheit": "f", "celsius": "c", "centigrade": "c", "hours": "h", "hour": "h", "hrs": "h", "hr": "h", "h": "h", "minutes": "min", "minute": "min", "mins": "min", "min": "min",
	"coats": "coats", "coat": "coats", "quid": "money", "horse": "bhp", "kw": "kw", "bhp": "bhp", "ps": "ps", "watt": "w", "watts": "w", "mph": "mph", "kph": "kph", "rpm": "rpm", "amp": "amp", "amps": "amp", "volt": "v", "volts": "v", "day": "days", "days": "days",
}

// runOn are units that count only right behind a number: «120m», «21 c», «2in».
var runOn = map[string]string{"m": "m", "in": "in", "c": "c", "f": "f", "h": "h", "a": "amp", "v": "v", "g": "g", "ft": "ft", "'": "ft", "k": "kg"}

// unitPairs are units of two words.
var unitPairs = map[[2]string]string{
	{"newton", "metres"}: "nm", {"newton", "metre"}: "nm", {"newton", "meters"}: "nm", {"newtons", "metres"}: "nm", {"n", "m"}: "nm",
	{"foot", "pounds"}: "lbf_ft", {"foot", "pound"}: "lbf_ft", {"ft", "lb"}: "lbf_ft", {"ft", "lbs"}: "lbf_ft", {"lb", "ft"}: "lbf_ft", {"lbs", "ft"}: "lbf_ft", {"pounds", "feet"}: "lbf_ft", {"pound", "feet"}: "lbf_ft", {"pound", "foot"}: "lbf_ft", {"foot", "lbs"}: "lbf_ft", {"foot", "lb"}: "lbf_ft",
	{"inch", "pounds"}: "lbf_in", {"in", "lb"}: "lbf_in", {"in", "lbs"}: "lbf_in", {"kg", "m"}: "kgf_m", {"kilogram", "metres"}: "kgf_m",
	{"square", "metres"}: "m2", {"square", "metre"}: "m2", {"square", "meters"}: "m2", {"metre", "squared"}: "m2", {"metres", "squared"}: "m2", {"sq", "m"}: "m2", {"sq", "metre"}: "m2", {"sq", "metres"}: "m2", {"sq", "meter"}: "m2", {"sq", "meters"}: "m2", {"square", "feet"}: "ft2", {"square", "foot"}: "ft2", {"sq", "ft"}: "ft2",
	{"degrees", "c"}: "c", {"degrees", "f"}: "f", {"per", "cent"}: "pct",
}

// unitAt reads a unit at token i, which follows a number.
func (r *reading) unitAt(i int) (symbol string, next int, ok bool) {
	a, b := r.word(i), r.word(i+1)
	if a == "" {
		return "", i, false
	}
	if u, ok := unitPairs[[2]string{a, b}]; ok {
		return u, i + 2, true
	}
	if u, ok := unitWords[a]; ok {
		return u, i + 1, true
	}
	if u, ok := runOn[a]; ok {
		adjacent := i > r.lo && r.toks[i-1].to == r.toks[i].from
		switch {
		case adjacent:
			return u, i + 1, true
		case a == "in":
			// «2 in» is inches only before another measure.
			if b == "x" || b == "by" || b == "diameter" || b == "long" || b == "deep" || b == "wide" || b == "hole" {
				return u, i + 1, true
			}
		case a == "a" || a == "h" || a == "k":
		default:
			return u, i + 1, true
		}
	}
	return "", i, false
}

// spanQuantities finds numbers with and without units, and sizes («120 by 40»).
func (r *reading) spanQuantities() {
	for i := r.lo; i < r.hi; {
		if r.used[i] {
			i++
			continue
		}
		s, ok := r.quantityAt(i)
		if !ok {
			i++
			continue
		}
		// A second measure makes a size: «120 by 40», «3 inch by 2», «60 x 40».
		j := s.to
		if t, ok := r.timesAt(j); ok && s.unit == "" && (t.unit == "l" || t.unit == "ml" || t.unit == "kg" || t.unit == "pack") {
			t.from, t.value = s.from, s.value*t.value // «2 x 4 litre»
			r.take(t)
			i = t.to
			continue
		}
		if w := r.word(j); (w == "x" || w == "by" || w == "na") && lengthUnit(s.unit) {
			if t, ok := r.quantityAt(j + 1); ok && lengthUnit(t.unit) {
				size := span{kind: spanSize, from: s.from, to: t.to, value: s.value, second: t.value, unit: t.unit, id: t.unit}
				first := s.unit
				if first == "" {
					first = t.unit
				}
				second := t.unit
				if second == "" {
					second = s.unit
				}
				size.value, size.second = millimetres(s.value, first), millimetres(t.value, second)
				size.unit = "mm"
				r.take(size)
				i = size.to
				continue
			}
		}
		if s.unit == "h" {
			s = r.withMinutes(s)
		}
		r.take(s)
		i = s.to
	}
}

// withMinutes adds the minutes said behind whole hours: «3 hours 15 on it», «an hour
// and twenty».
func (r *reading) withMinutes(s span) span {
	k := s.to
	if r.toks[k-1].stop || r.toks[k-1].end || s.value != math.Trunc(s.value) {
		return s
	}
	if r.word(k) == "and" {
		k++
	}
	v, n, ok := r.numberAt(k)
	if !ok || v < 10 || v > 55 || math.Mod(v, 5) != 0 {
		return s
	}
	switch w := r.word(n); {
	case w == "min" || w == "mins" || w == "minute" || w == "minutes":
		n++
	case n >= r.hi || r.toks[n-1].stop || r.toks[n-1].end || w == "on" || w == "at" || w == "in" || w == "today" || w == "yesterday":
	default:
		return s
	}
	s.value, s.to = tidy(s.value+v/60), n
	return s
}

// shareSaid reports that what stands at token i is said to be a share of it, in a word
// that was not understood: the tin of «a thrd of a tin».
func (r *reading) shareSaid(i int) bool {
	return r.word(i-1) == "of" && r.unknown(i-2)
}

// timesAt reads «x 4 litre» at token i.
func (r *reading) timesAt(i int) (span, bool) {
	if r.word(i) != "x" || i+1 >= r.hi {
		return span{}, false
	}
	return r.quantityAt(i + 1)
}

// quantityAt reads a number and its unit at token i.
func (r *reading) quantityAt(i int) (span, bool) {
	value, next, ok := r.numberAt(i)
	if r.word(i) == "quarter" || r.word(i) == "half" {
		// «quarter inch», «half inch» need no article.
		if u, n, isUnit := r.unitAt(i + 1); isUnit && lengthUnit(u) && u != "" {
			return span{kind: spanQuantity, from: i, to: n, value: map[string]float64{"quarter": 0.25, "half": 0.5}[r.word(i)], unit: u, also: alsoUnit(u)}, true
		}
	}
	if !ok {
		// «pint of thinners used», «tin of epoxy in», «hour and a quarter».
		opens := i == r.lo || r.toks[i-1].stop || r.toks[i-1].end || r.word(i-1) == "and" || r.word(i-1) == "me" || r.word(i-1) == "used" || r.word(i-1) == "opened" || r.word(i-1) == "fetched"
		if opens {
			if u, n, isUnit := r.unitAt(i); isUnit && r.word(n) == "of" && u != "c" && len(r.word(i)) > 2 && r.stem(i) == r.word(i) {
				return span{kind: spanQuantity, from: i, to: n, value: 1, unit: u, also: alsoUnit(u)}, true
			}
			if (r.word(i) == "new" || r.word(i) == "fresh" || r.word(i) == "another") && containers[r.word(i+1)] && r.word(i+2) == "of" {
				return span{kind: spanQuantity, from: i, to: i + 2, value: 1, unit: "pack", id: r.stem(i + 1)}, true
			}
			if containers[r.word(i)] && r.word(i+1) == "of" {
				return span{kind: spanQuantity, from: i, to: i + 1, value: 1, unit: "pack", id: r.stem(i)}, true
			}
		}
		if _, _, counted := r.numberAt(i - 1); !counted && r.word(i-1) != "a" && r.word(i-1) != "an" && (r.stem(i) == r.word(i) && len(r.word(i)) > 2) {
			if u, n, isUnit := r.unitAt(i); isUnit && (u == "h" || u == "in") {
				if add, m, ok := r.fractionTail(n); ok {
					return span{kind: spanQuantity, from: i, to: m, value: 1 + add, unit: u}, true
				}
			}
		}
		// «a tube», «an inch», «a pint»: the article counts one.
		if w := r.word(i); (w == "a" || w == "an") && !r.shareSaid(i) {
			j := i + 1
			for r.word(j) == "extra" || r.word(j) == "full" || r.word(j) == "whole" || r.word(j) == "new" || r.word(j) == "good" {
				j++
			}
			if u, n, ok := r.unitAt(j); ok && r.word(j) != "c" && r.word(j) != "f" && r.word(j) != "m" && u != "amp" && u != "coats" {
				v := 1.0
				if add, m, ok := r.fractionTail(n); ok { // «an inch and a half»
					v, n = v+add, m
				}
				return span{kind: spanQuantity, from: i, to: n, value: v, unit: u, also: alsoUnit(u)}, true
			}
			if containers[r.stem(j)] {
				return span{kind: spanQuantity, from: i, to: j + 1, value: 1, unit: "pack", id: r.stem(j)}, true
			}
		}
		return span{}, false
	}
	if r.unknown(next) && r.word(next+1) == "of" && !r.toks[next-1].stop {
		return span{}, false // «2 bxes of …»: of how much each?
	}
	s := span{kind: spanQuantity, from: i, to: next, value: value}
	if r.word(i) == "£" {
		s.unit = "money"
		return s, true
	}
	j := next
	if r.word(j) == "of" && (r.word(j+1) == "a" || r.word(j+1) == "an") {
		j += 2
	}
	if u, n, ok := r.unitAt(j); ok {
		s.unit, s.to = u, n
		s.also = alsoUnit(u)
		if add, m, ok := r.fractionTail(n); ok && value == float64(int(value)) { // «two inches and a half»
			s.value, s.to = value+add, m
		}
		// «a five litre tin» holds five litres.
		if containers[r.stem(s.to)] && (u == "l" || u == "ml" || u == "kg") {
			s.to++
		}
		return s, true
	}
	for r.word(j) == "full" || r.word(j) == "whole" || r.word(j) == "new" || r.word(j) == "more" || r.word(j) == "big" {
		j++
	}
	if r.toks[next-1].stop || r.toks[next-1].end {
		return s, true // «panel 14, can i …»
	}
	// «four one litre tins»: so many of such a size.
	if v, n, ok := r.numberAt(j); ok && v > 0 {
		if u, m, isUnit := r.unitAt(n); isUnit && containers[r.stem(m)] {
			s.value, s.unit, s.to = value*v, u, m+1
			return s, true
		}
	}
	if r.word(j) == "can" && filler[r.word(j+1)] {
		return s, true // «metal 15 can i spray»
	}
	if containers[r.stem(j)] {
		s.unit, s.id, s.to = "pack", r.stem(j), j+1
	}
	return s, true
}

func alsoUnit(u string) string {
	if u == "mil" {
		return "ml"
	}
	return ""
}

func lengthUnit(u string) bool {
	switch u {
	case "", "mm", "cm", "in", "thou", "m", "ft", "mil":
		return true
	}
	return false
}

// millimetres converts a length; no unit and «mil» are millimetres.
func millimetres(v float64, u string) float64 {
	switch u {
	case "", "mm", "mil":
		return v
	}
	mm, err := unit.Convert(v, u, "mm")
	if err != nil {
		return v
	}
	return mm
}

// newtonMetres converts a torque; no unit is N·m.
func newtonMetres(v float64, u string) float64 {
	if u == "" || u == "nm" {
		return v
	}
	nm, err := unit.Convert(v, u, "nm")
	if err != nil {
		return v
	}
	return nm
}

// millilitres is from where on a bare number of a liquid can be no litres: nobody in
// this shop pours fifty. Common practice, no source.
const millilitres = 50

// amount converts a quantity into a material's own unit; ok is false when the
// quantity cannot be one of that material.
func (v *Vocabulary) amount(material string, value float64, u, container string) (float64, bool) {
	m := v.mats[material]
	if m == nil {
		return value, false
	}
	own := map[string]string{"L": "l", "kg": "kg", "m2": "m2"}[m.GetUnit()]
	switch {
	case u == "" && own == "l" && value >= millilitres:
		return value, false // «used 600 clear»: what of, is to be asked
	case u == "":
		return value, true
	case u == "pack":
		if m.GetUnit() == "each" {
			switch container {
			case "pack", "box", "packet", "carton", "bag":
				return value * m.GetPack(), true
			}
			return value, true
		}
		return value * m.GetPack(), true
	case own == "":
		return value, false
	}
	if u == "mil" {
		u = "ml"
	}
	if u == "cc" {
		u = "ml"
	}
	got, err := unit.Convert(value, u, own)
	if err != nil {
		return value, false
	}
	return got, true
}
