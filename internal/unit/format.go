package unit

import (
	"math"
	"strconv"
	"strings"
)

// Format prints a value for people, in the unit with the given symbol:
// «120 mm», «2.8 L». A torque in one of the usual two units is followed by the
// other: «81 N·m (59.7 lbf·ft)». A symbol that is no unit's is printed as it is.
func Format(value float64, symbol string) string {
	u, err := Parse(symbol)
	if err != nil {
		return strings.TrimSpace(Number(value) + " " + clip(symbol))
	}
	out := Number(value) + " " + u.print
	var other string
	switch u.symbol {
	case NM:
		other = LbfFt
	case LbfFt, LbfIn, KgfM:
		other = NM
	default:
		return out
	}
	o, err := Convert(value, u.symbol, other)
	if err != nil {
		return out
	}
	t, err := Parse(other)
	if err != nil {
		return out
	}
	return out + " (" + Number(o) + " " + t.print + ")"
}

// Number prints a number for people: no decimals from 1000 up, one from 10, two
// from 1, three significant figures below; no trailing zeros, never «-0».
func Number(v float64) string {
	a := math.Abs(v)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "not a number"
	}
	if a >= 1e9 {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	decimals := 0
	switch {
	case a >= 1000:
	case a >= 10:
		decimals = 1
	case a >= 1:
		decimals = 2
	case a > 0:
		// Three significant figures; nothing in the bay is smaller than 1e-9.
		decimals = min(2-int(math.Floor(math.Log10(a))), 9)
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
