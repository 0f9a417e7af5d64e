package unit

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Factors printed in NIST SP 811 (2008), Appendix B.8, to the seven figures
// given there; those it prints in bold are exact. The SI value of one unit.
func TestFactorsOfNIST(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to string
		want     float64
		source   string
	}{
		{LbfFt, NM, 1.355818, "SP 811 B.8 pound-force foot"},
		{LbfIn, NM, 0.1129848, "SP 811 B.8 pound-force inch"},
		{KgfM, NM, 9.80665, "SP 811 B.8 kilogram-force meter, exact"},
		{Inch, MM, 25.4, "SP 811 B.8 inch, exact"},
		{Thou, MM, 0.0254, "SP 811 B.8 mil, exact"},
		{Foot, Metre, 0.3048, "SP 811 B.8 foot, exact"},
		{Ft2, M2, 0.09290304, "SP 811 B.8 square foot, exact"},
		{GalUK, Litre, 4.54609, "SP 811 B.8 gallon (Imperial), exact"},
		{PintUK, Litre, 0.56826125, "an eighth of the imperial gallon, exact"},
		{Pound, Kg, 0.45359237, "SP 811 B.8 pound avoirdupois, exact"},
		{Ounce, Gram, 28.34952, "SP 811 B.8 ounce avoirdupois"},
		{PSI, Bar, 0.06894757, "SP 811 B.8 psi, 6.894757e3 Pa"},
		{MPH, KPH, 1.609344, "SP 811 B.8 mile per hour, exact"},
		{BHP, KW, 0.7456999, "SP 811 B.8 horsepower (550 ft·lbf/s)"},
		{PS, KW, 0.7354988, "SP 811 B.8 horsepower (metric)"},
	} {
		got, err := Convert(1, c.from, c.to)
		require.NoError(t, err)
		within := 5e-7 // half a unit in the seventh figure
		if strings.HasSuffix(c.source, "exact") {
			within = 1e-14
		}
		assert.InEpsilon(t, c.want, got, within, "%s: %s to %s", c.source, c.from, c.to)
	}
}

// Fixed points of the Fahrenheit scale, NIST SP 811 B.8: t/°C = (t/°F − 32)/1.8.
func TestTemperatures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ f, c float64 }{{32, 0}, {212, 100}, {-40, -40}, {68, 20}, {-459.67, -273.15}} {
		got, err := Convert(c.f, Fahr, Celsius)
		require.NoError(t, err)
		assert.InDelta(t, c.c, got, 1e-9)
		got, err = Convert(c.c, Celsius, Fahr)
		require.NoError(t, err)
		assert.InDelta(t, c.f, got, 1e-9)
	}
}

// Every row of the torque conversion table must be read and must hold.
func TestTorqueConversionTable(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../testdata/numbers/torque-unit-conversion.csv")
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, rows[0])
	require.Len(t, rows, 7)
	symbols := map[string]string{"N·m": NM, "lbf·ft": LbfFt, "lbf·in": LbfIn, "kgf·m": KgfM}
	for _, r := range rows[1:] {
		value, from, ok := strings.Cut(strings.TrimPrefix(r[1], "value="), " ")
		require.True(t, ok, "inputs %q", r[1])
		v, err := strconv.ParseFloat(value, 64)
		require.NoError(t, err)
		want, err := strconv.ParseFloat(r[2], 64)
		require.NoError(t, err)
		rel, err := strconv.ParseFloat(strings.TrimPrefix(r[4], "rel:"), 64)
		require.NoError(t, err)
		require.Equal(t, "convert to "+r[3], r[0])
		require.Contains(t, symbols, from)
		require.Contains(t, symbols, r[3])
		got, err := Convert(v, symbols[from], symbols[r[3]])
		require.NoError(t, err)
		assert.InEpsilon(t, want, got, rel, "%v", r)
	}
}

func TestEverySymbolParses(t *testing.T) {
	t.Parallel()
	want := strings.Fields("nm lbf_ft lbf_in kgf_m mm in thou cm m ft m2 ft2 l ml pint_uk gal_uk kg lb oz g bar psi c f mph kph kw bhp ps")
	assert.ElementsMatch(t, want, Symbols())
	for _, s := range want {
		u, err := Parse(" " + strings.ToUpper(s) + " ")
		require.NoError(t, err)
		assert.Equal(t, s, u.Symbol())
		assert.NotEmpty(t, u.String())
	}
}

func TestErrorsSayWhatWouldWork(t *testing.T) {
	t.Parallel()
	_, err := Convert(1, "furlong", MM)
	var unknown *UnknownError
	require.ErrorAs(t, err, &unknown)
	assert.ErrorContains(t, err, "lbf_ft")
	_, err = Convert(1, MM, strings.Repeat("x", 1_000_000))
	require.ErrorAs(t, err, &unknown)
	assert.Less(t, len(err.Error()), 400)

	_, err = Convert(1, MM, NM)
	var mismatch *MismatchError
	require.ErrorAs(t, err, &mismatch)
	assert.Equal(t, Length, mismatch.From.Dimension())
	assert.Equal(t, Torque, mismatch.To.Dimension())

	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err = Convert(v, MM, Inch)
		var value *ValueError
		require.ErrorAs(t, err, &value)
	}
	var value *ValueError
	_, err = Convert(math.MaxFloat64, Metre, MM)
	require.ErrorAs(t, err, &value)
	_, err = Convert(-300, Celsius, Celsius)
	require.ErrorAs(t, err, &value)
	_, err = Convert(-500, Fahr, Celsius)
	require.ErrorAs(t, err, &value)
}

func TestConvertGoesThereAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom(units[:]).Draw(t, "from")
		to := rapid.SampledFrom(units[:]).Draw(t, "to")
		v := rapid.Float64Range(-200, 1e6).Draw(t, "value")
		there, err := from.To(v, to)
		if from.dimension != to.dimension {
			var mismatch *MismatchError
			if !errors.As(err, &mismatch) {
				t.Fatalf("%s to %s: %v", from, to, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		back, err := to.To(there, from)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-v) > 1e-12*math.Max(1000, math.Abs(v)) {
			t.Fatalf("%g %s came back as %g", v, from, back)
		}
	})
}

func TestConvertKeepsOrderAndScale(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom(units[:]).Draw(t, "from")
		to := rapid.SampledFrom(units[:]).Filter(func(u Unit) bool { return u.dimension == from.dimension }).Draw(t, "to")
		a := rapid.Float64Range(0, 1e6).Draw(t, "a")
		b := rapid.Float64Range(0, 1e6).Draw(t, "b")
		x, err := from.To(a, to)
		if err != nil {
			t.Fatal(err)
		}
		y, err := from.To(b, to)
		if err != nil {
			t.Fatal(err)
		}
		if a < b && x > y {
			t.Fatalf("%g < %g %s but %g > %g %s", a, b, from, x, y, to)
		}
	})
}

func TestFormat(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		value  float64
		symbol string
		want   string
	}{
		{81, NM, "81 N·m (59.7 lbf·ft)"},
		{67.5, NM, "67.5 N·m (49.8 lbf·ft)"},
		{112.5, NM, "112.5 N·m (83 lbf·ft)"},
		{60, LbfFt, "60 lbf·ft (81.3 N·m)"},
		{100, LbfIn, "100 lbf·in (11.3 N·m)"},
		{120, MM, "120 mm"},
		{3.55, MM, "3.55 mm"},
		{2.8, Litre, "2.8 L"},
		{2.80000001, Litre, "2.8 L"},
		{0.25, Litre, "0.25 L"},
		{0.0254, MM, "0.0254 mm"},
		{-0.0000000001, MM, "0 mm"},
		{math.Copysign(0, -1), MM, "0 mm"},
		{-4.5, Celsius, "-4.5 °C"},
		{0, Celsius, "0 °C"},
		{1500, Gram, "1500 g"},
		{12345.6, MM, "12346 mm"},
		{1e300, MM, "1e+300 mm"},
		{math.NaN(), MM, "not a number mm"},
		{3, "tin", "3 tin"},
		{3, "", "3"},
	} {
		assert.Equal(t, c.want, Format(c.value, c.symbol))
	}
}

func TestNumbersReadBackClose(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e8, 1e8).Draw(t, "v")
		s := Number(v)
		got, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-v) > 0.006*math.Abs(v)+1e-9 {
			t.Fatalf("%g printed as %s", v, s)
		}
		if s == "-0" || (strings.Contains(s, ".") && strings.HasSuffix(s, "0")) {
			t.Fatalf("%g printed as %s", v, s)
		}
	})
}

func FuzzConvert(f *testing.F) {
	f.Add(81.0, "nm", "lbf_ft")
	f.Add(-40.0, "c", "f")
	f.Add(math.Inf(1), "mm", "furlong")
	f.Fuzz(func(t *testing.T, v float64, from, to string) {
		got, err := Convert(v, from, to)
		if err == nil && (math.IsNaN(got) || math.IsInf(got, 0)) {
			t.Fatalf("Convert(%g, %q, %q) = %g", v, from, to, got)
		}
		assert.NotEmpty(t, Format(v, from))
	})
}

func BenchmarkConvert(b *testing.B) {
	for b.Loop() {
		if _, err := Convert(81, NM, PS); err == nil {
			b.Fatal("a torque is no power")
		}
		if _, err := Convert(81, NM, LbfFt); err != nil {
			b.Fatal(err)
		}
	}
}

// A pressure of 28 psi in bar: 28 × 6894.757 Pa, NIST SP 811 B.8.
func ExampleConvert() {
	bar, err := Convert(28, PSI, Bar)
	fmt.Printf("%.3f %v\n", bar, err)
	// Output: 1.931 <nil>
}

func ExampleFormat() {
	fmt.Println(Format(81, NM))
	fmt.Println(Format(120, MM))
	// Output:
	// 81 N·m (59.7 lbf·ft)
	// 120 mm
}
