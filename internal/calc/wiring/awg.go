package wiring

import (
	"math"
	"strconv"
)

// AWG is an American wire gauge; 0, -1, -2 and -3 are 1/0, 2/0, 3/0 and 4/0.
type AWG int

// thickest and thinnest bound the gauges ASTM B258 tables.
const (
	thickest AWG = -3
	thinnest AWG = 40
)

// String is the gauge as people write it: "12 AWG", "2/0 AWG".
func (g AWG) String() string {
	if g <= 0 {
		return strconv.Itoa(1-int(g)) + "/0 AWG"
	}
	return strconv.Itoa(int(g)) + " AWG"
}

// AreaMM2 is the cross-section of the gauge in mm², ASTM B258:
// d = 0.127 mm · 92^((36 − n)/39). It fails with *InputError outside 4/0 to 40.
func (g AWG) AreaMM2() (float64, error) {
	if g < thickest || g > thinnest {
		return 0, refuse("awg", int(g), "use 40 to 1, or 0, -1, -2, -3 for 1/0, 2/0, 3/0, 4/0")
	}
	return g.area(), nil
}

func (g AWG) area() float64 {
	d := 0.127 * math.Pow(92, (36-float64(g))/39)
	return math.Pi / 4 * d * d
}

// SolidResistance is the resistance of a solid copper wire of the gauge at 20 °C
// in mΩ/m: annealed copper of 1/58 Ω·mm²/m, IEC 60028. A stranded one has a few
// per cent more. It fails with *InputError outside 4/0 to 40.
func (g AWG) SolidResistance() (float64, error) {
	a, err := g.AreaMM2()
	if err != nil {
		return 0, err
	}
	return 1000.0 / 58 / a, nil
}

// rated is the greatest continuous current of an insulated stranded copper
// conductor, in A.
type rated struct {
	gauge AWG
	at60  float64 // insulation for 60 °C
	at105 float64 // insulation for 105 °C
}

// ratings is 33 CFR 183.425 Table 5, read, for 30 °C around the wire; thinnest
// first. In an engine space at 50 °C its note 1 multiplies the column for 105 °C
// by 0.85, which leaves more than the column for 60 °C that is used here.
var ratings = []rated{
	{18, 10, 20}, {16, 15, 25}, {14, 20, 35}, {12, 25, 45}, {10, 40, 60}, {8, 55, 80}, {6, 80, 120}, {4, 105, 160},
	{3, 120, 180}, {2, 140, 210}, {1, 165, 245}, {0, 195, 285}, {-1, 225, 330}, {-2, 260, 385}, {-3, 300, 445},
}

const ratedC = 60 // °C, the insulation of the column used, hence the warmest conductor

// ratingOf is the continuous current a cross-section may carry, that of the
// thickest gauge of the table that is not thicker; 0 below the table.
func ratingOf(areaMM2 float64) float64 {
	var a float64
	for _, r := range ratings {
		if r.gauge.area() <= areaMM2 {
			a = r.at60
		}
	}
	return a
}

// notThinner is the thinnest gauge of the table that has at least the
// cross-section; ok is false beyond 4/0.
func notThinner(areaMM2 float64) (g AWG, ok bool) {
	for _, r := range ratings {
		if r.gauge.area() >= areaMM2 {
			return r.gauge, true
		}
	}
	return 0, false
}
