package gearing

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"bayword/internal/unit"
)

// Tyre is the size of a tyre. Get one by ParseTyre; the zero Tyre is none.
type Tyre struct {
	width  float64 // as printed: mm, or inches when inch is true
	inch   bool
	aspect float64 // printed, per cent; 0 when the code has none
	radial bool
	rimIn  float64
}

// String is the canonical code: "175/65R14", "155R13", "5.60-15".
func (t Tyre) String() string {
	if t.rimIn == 0 {
		return "no tyre"
	}
	s := strconv.FormatFloat(t.width, 'f', 0, 64)
	if t.inch {
		s = strconv.FormatFloat(t.width, 'f', 2, 64)
	}
	if t.aspect > 0 {
		s += "/" + strconv.FormatFloat(t.aspect, 'f', 0, 64)
	}
	if t.radial {
		s += "R"
	} else {
		s += "-"
	}
	return s + strconv.FormatFloat(t.rimIn, 'f', -1, 64)
}

// Aspect is the height of the section by its width in per cent, and the range it
// may lie in; assumed says that the code does not print it.
func (t Tyre) Aspect() (typical, low, high float64, assumed bool) {
	switch {
	case t.aspect > 0:
		return t.aspect, t.aspect, t.aspect, false
	case t.inch:
		return 95, 88, 98, true
	}
	return 82, 80, 84, true
}

// DiameterMM is the design diameter in mm, unloaded.
func (t Tyre) DiameterMM() float64 {
	aspect, _, _, _ := t.Aspect()
	return t.diameter(aspect)
}

// diameter is D = rim + 2·width·aspect, ISO 4000-1.
func (t Tyre) diameter(aspectPct float64) float64 {
	width := t.width
	if t.inch {
		width *= unit.InchMM
	}
	return t.rimIn*unit.InchMM + 2*width*aspectPct/100
}

// Rolling circumference by diameter: see the package comment.
const (
	rolling     = 3.05
	rollingLow  = 3.0
	rollingHigh = math.Pi
)

// Circumference is how far the tyre rolls in a turn, in mm.
type Circumference struct {
	TypicalMM, LowMM, HighMM float64
}

// Circumference is the rolling circumference under load.
func (t Tyre) Circumference() Circumference {
	aspect, low, high, _ := t.Aspect()
	return Circumference{rolling * t.diameter(aspect), rollingLow * t.diameter(low), rollingHigh * t.diameter(high)}
}

const tyreForms = "write it as on the sidewall: 175/65R14, 155R13 or 5.60-15, with the rim in inches"

// The parts of a code. What follows the rim, a load index and a speed symbol or a
// C for commercial, does not change the size.
var (
	metricCode = regexp.MustCompile(`^P?(\d{3})(?:[ /](\d{2,3}))?([-/X ]?)([HSVZTQUW]?R|[BD])?[- ]?(\d{1,2}(?:\.5)?)` + afterRim)
	inchCode   = regexp.MustCompile(`^(\d{1,2}\.\d{1,2}|[4-9]\d0)([-/X ]?)([HSVZ]?R|S)?[- ]?(\d{1,2})` + afterRim)
)

const afterRim = `(?: ?(?:C|LT|XL|RF))?(?: ?\d{2,3}(?:/\d{2,3})? ?[A-Z])?$`

// ParseTyre reads a tyre code, metric with or without an aspect or in inches; case
// and spacing do not count, «560-15» is read as 5.60-15. It fails with *InputError.
func ParseTyre(code string) (Tyre, error) {
	const most = 40
	if len(code) > most {
		return Tyre{}, refuse("tyre", code, tyreForms)
	}
	said := strings.Join(strings.Fields(strings.ToUpper(code)), " ")
	for _, around := range []string{"/", "-", "×", "X"} {
		said = strings.ReplaceAll(strings.ReplaceAll(said, " "+around, around), around+" ", around)
	}
	said = strings.ReplaceAll(said, "×", "X")
	t, ok := parseMetric(said)
	if !ok {
		t, ok = parseInch(said)
	}
	if !ok {
		return Tyre{}, refuse("tyre", code, tyreForms)
	}
	if err := t.check(code); err != nil {
		return Tyre{}, err
	}
	return t, nil
}

// parseMetric reads «175/65R14», «155R13», «165-15», «175 65 14».
func parseMetric(said string) (Tyre, bool) {
	m := metricCode.FindStringSubmatch(strings.Replace(said, " R", "R", 1))
	if m == nil || (m[3] == "" && m[4] == "") {
		return Tyre{}, false
	}
	t := Tyre{width: number(m[1]), aspect: number(m[2]), rimIn: number(m[5])}
	if m[2] != "" && t.aspect == 0 {
		return Tyre{}, false
	}
	// Without a letter it is the hyphen that says cross-ply.
	t.radial = strings.HasSuffix(m[4], "R") || (m[4] == "" && m[3] != "-")
	return t, t.width <= widestMM
}

// parseInch reads «5.60-15», «6.00x16», «560 15», «5.60S13».
func parseInch(said string) (Tyre, bool) {
	m := inchCode.FindStringSubmatch(said)
	if m == nil || (m[2] == "" && m[3] == "") {
		return Tyre{}, false
	}
	t := Tyre{inch: true, width: number(m[1]), radial: strings.HasSuffix(m[3], "R"), rimIn: number(m[4])}
	if !strings.Contains(m[1], ".") {
		t.width /= 100
	}
	return t, true
}

// number reads digits that a pattern let through, 0 when there are none.
func number(digits string) float64 {
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0
	}
	return v
}

const widestMM = 395 // a three-digit width above is one in inches without its dot

// check refuses sizes no road tyre has.
func (t Tyre) check(code string) error {
	switch {
	case !t.inch && t.width < 105:
		return refuse("tyre", code, "the width is 105 to %d mm", widestMM)
	case t.inch && !(t.width >= 2 && t.width <= 15):
		return refuse("tyre", code, "the width is 2 to 15 inches")
	case t.aspect != 0 && !(t.aspect >= 25 && t.aspect <= 100):
		return refuse("tyre", code, "the aspect is 25 to 100 %%")
	case !(t.rimIn >= 8 && t.rimIn <= 24):
		return refuse("tyre", code, "the rim is 8 to 24 inches; for a rim in mm give the measured circumference")
	}
	return nil
}
