// Package unit knows the quantities of the bay by their symbols: it parses a
// symbol, converts a value between two units of one dimension, and prints a
// value for people. It imports nothing of this module.
//
// Factors are exact: the international inch, pound and gallon and standard
// gravity, after NIST SP 811 (2008) Appendix B and the BIPM SI Brochure
// (9th edition, 2019). No factor here is a rounded one.
package unit

import (
	"fmt"
	"math"
	"strings"
)

// Dimension says what a unit measures; only units of one dimension convert.
type Dimension string

// The dimensions of the bay.
const (
	Torque      Dimension = "torque"
	Length      Dimension = "length"
	Area        Dimension = "area"
	Volume      Dimension = "volume"
	Mass        Dimension = "mass"
	Pressure    Dimension = "pressure"
	Temperature Dimension = "temperature"
	Speed       Dimension = "speed"
	Power       Dimension = "power"
)

// Symbols of the units, as requests carry them.
const (
	NM      = "nm"      // newton metre
	LbfFt   = "lbf_ft"  // pound-force foot
	LbfIn   = "lbf_in"  // pound-force inch
	KgfM    = "kgf_m"   // kilogram-force metre
	MM      = "mm"      // millimetre
	Inch    = "in"      // international inch
	Thou    = "thou"    // thousandth of an inch
	CM      = "cm"      // centimetre
	Metre   = "m"       // metre
	Foot    = "ft"      // international foot
	M2      = "m2"      // square metre
	Ft2     = "ft2"     // square foot
	Litre   = "l"       // litre
	ML      = "ml"      // millilitre
	PintUK  = "pint_uk" // imperial pint
	GalUK   = "gal_uk"  // imperial gallon
	Kg      = "kg"      // kilogram
	Pound   = "lb"      // avoirdupois pound
	Ounce   = "oz"      // avoirdupois ounce
	Gram    = "g"       // gram
	Bar     = "bar"     // bar
	PSI     = "psi"     // pound-force per square inch
	Celsius = "c"       // degree Celsius
	Fahr    = "f"       // degree Fahrenheit
	MPH     = "mph"     // mile per hour
	KPH     = "kph"     // kilometre per hour
	KW      = "kw"      // kilowatt
	BHP     = "bhp"     // mechanical horsepower, 550 ft·lbf/s
	PS      = "ps"      // metric horsepower, 75 kgf·m/s
)

// Exact constants of the inch-pound system, for packages that work in
// millimetres and newtons.
const (
	InchMM      = 25.4                                                   // mm in an inch, NIST SP 811 B.8
	PoundKG     = 0.45359237                                             // kg in a pound, NIST SP 811 B.8
	GravityMS2  = 9.80665                                                // standard gravity, m/s², NIST SP 811 B.8
	PoundForceN = PoundKG * GravityMS2                                   // N in a pound-force
	PSIMPa      = PoundForceN / (InchMM * InchMM)                        // MPa in a psi
	LbfFtNM     = PoundForceN * 12 * InchMM / 1000                       // N·m in a lbf·ft
	absoluteC   = -273.15                                                // absolute zero in °C, SI Brochure 2.3.1
	gallonL     = 4.54609                                                // L in an imperial gallon, NIST SP 811 B.8
	footMM      = 12 * InchMM                                            // mm in a foot
	mileM       = 5280 * footMM / 1000                                   // m in a mile
	bhpKW       = 550 * footMM / 1000 * PoundForceN / 1000               // kW in a mechanical horsepower
	psKW        = 75 * GravityMS2 / 1000                                 // kW in a metric horsepower
	psiBar      = PoundForceN / (InchMM * InchMM) * 1_000_000 / 100_000. // bar in a psi
)

// Unit is one unit of measure. The zero Unit is not a unit; get one by Parse.
type Unit struct {
	symbol    string
	dimension Dimension
	factor    float64 // base units in one of these
	offset    float64 // value of this unit at the base unit's zero
	print     string  // how people write it
}

// Symbol is the unit's symbol as requests carry it.
func (u Unit) Symbol() string { return u.symbol }

// Dimension says what the unit measures.
func (u Unit) Dimension() Dimension { return u.dimension }

// String is the unit as people write it: «N·m», «°C».
func (u Unit) String() string { return u.print }

// units holds every unit, in the order errors list them. The base of a
// dimension has factor 1; offset is used by temperatures alone.
var units = [...]Unit{
	{NM, Torque, 1, 0, "N·m"},
	{LbfFt, Torque, LbfFtNM, 0, "lbf·ft"},
	{LbfIn, Torque, LbfFtNM / 12, 0, "lbf·in"},
	{KgfM, Torque, GravityMS2, 0, "kgf·m"},
	{MM, Length, 1, 0, "mm"},
	{Inch, Length, InchMM, 0, "in"},
	{Thou, Length, InchMM / 1000, 0, "thou"},
	{CM, Length, 10, 0, "cm"},
	{Metre, Length, 1000, 0, "m"},
	{Foot, Length, footMM, 0, "ft"},
	{M2, Area, 1, 0, "m²"},
	{Ft2, Area, footMM * footMM / 1_000_000, 0, "ft²"},
	{Litre, Volume, 1, 0, "L"},
	{ML, Volume, 0.001, 0, "mL"},
	{PintUK, Volume, gallonL / 8, 0, "imperial pint"},
	{GalUK, Volume, gallonL, 0, "imperial gal"},
	{Kg, Mass, 1, 0, "kg"},
	{Pound, Mass, PoundKG, 0, "lb"},
	{Ounce, Mass, PoundKG / 16, 0, "oz"},
	{Gram, Mass, 0.001, 0, "g"},
	{Bar, Pressure, 1, 0, "bar"},
	{PSI, Pressure, psiBar, 0, "psi"},
	{Celsius, Temperature, 1, 0, "°C"},
	{Fahr, Temperature, 5.0 / 9, 32, "°F"},
	{MPH, Speed, mileM / 1000, 0, "mph"},
	{KPH, Speed, 1, 0, "km/h"},
	{KW, Power, 1, 0, "kW"},
	{BHP, Power, bhpKW, 0, "bhp"},
	{PS, Power, psKW, 0, "PS"},
}

// Symbols lists the symbols of all units.
func Symbols() []string {
	out := make([]string, len(units))
	for i, u := range units {
		out[i] = u.symbol
	}
	return out
}

// Parse finds the unit of a symbol; case and space around it do not count.
// An unknown symbol is an *UnknownError.
func Parse(symbol string) (Unit, error) {
	want := strings.TrimSpace(symbol)
	for _, u := range units {
		if strings.EqualFold(u.symbol, want) {
			return u, nil
		}
	}
	return Unit{}, &UnknownError{Symbol: symbol}
}

// Convert gives value, counted in the unit with symbol from, in the unit with
// symbol to. It fails with *UnknownError, *MismatchError or *ValueError.
func Convert(value float64, from, to string) (float64, error) {
	f, err := Parse(from)
	if err != nil {
		return 0, err
	}
	t, err := Parse(to)
	if err != nil {
		return 0, err
	}
	return f.To(value, t)
}

// To gives value, counted in u, in the unit t. It fails with *MismatchError
// when they measure different things, and with *ValueError when the value or
// the result is no finite number or lies below absolute zero.
func (u Unit) To(value float64, t Unit) (float64, error) {
	if u.dimension != t.dimension {
		return 0, &MismatchError{From: u, To: t}
	}
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return 0, &ValueError{Value: value, Accepted: "a finite number"}
	}
	// Judged before a conversion to itself, so that it is refused in both scales.
	if base := (value - u.offset) * u.factor; u.dimension == Temperature && base < absoluteC-1e-9 {
		return 0, &ValueError{Value: value, Accepted: "a temperature of at least -273.15 °C (-459.67 °F)"}
	}
	if u == t {
		return value, nil
	}
	out := (value-u.offset)*(u.factor/t.factor) + t.offset
	if math.IsInf(out, 0) {
		return 0, &ValueError{Value: value, Accepted: "a number small enough to convert"}
	}
	return out, nil
}

// UnknownError says that a symbol names no unit, and which do.
type UnknownError struct{ Symbol string }

func (e *UnknownError) Error() string {
	return fmt.Sprintf("unknown unit %q: use one of %s", clip(e.Symbol), strings.Join(Symbols(), ", "))
}

// MismatchError says that two units measure different things.
type MismatchError struct{ From, To Unit }

func (e *MismatchError) Error() string {
	return fmt.Sprintf("%s is a %s and %s a %s: only units of one kind convert",
		e.From.symbol, e.From.dimension, e.To.symbol, e.To.dimension)
}

// ValueError says that a value cannot be converted, and what could.
type ValueError struct {
	Value    float64
	Accepted string
}

func (e *ValueError) Error() string {
	return fmt.Sprintf("cannot convert %g: use %s", e.Value, e.Accepted)
}

// clip keeps a hostile symbol from filling an error message.
func clip(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
