package climate

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// row is one published value of testdata/numbers.
type row struct {
	quantity, expected, tolerance, source string
	in                                    map[string]string
}

// num reads an input as a number; a missing or unreadable one fails the test.
func (r row) num(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, r.in, key, "%s", r.quantity)
	return number(t, r.in[key])
}

// holds compares a value with the row's, within its tolerance.
func (r row) holds(t *testing.T, got float64) {
	t.Helper()
	r.near(t, number(t, r.expected), got)
}

func (r row) near(t *testing.T, want, got float64) {
	t.Helper()
	within := 1e-9 * math.Abs(want) // of floating point, not of the formula
	kind, v, _ := strings.Cut(r.tolerance, ":")
	switch kind {
	case "abs":
		within += number(t, v)
	case "rel":
		within += number(t, v) * math.Abs(want)
	default:
		require.Equal(t, "exact", kind)
	}
	assert.InDelta(t, want, got, within, "%s %v, %s", r.quantity, r.in, r.source)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// table reads a CSV; every row must parse, have a source and a provenance, and
// there must be as many as the table is known to hold.
func table(t *testing.T, name string, count int) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "numbers", name+".csv"))
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"topic", "quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, lines[0])
	require.Len(t, lines, count+1, "rows of %s", name)
	var rows []row
	for _, l := range lines[1:] {
		require.NotEmpty(t, l[6], "source of %v", l)
		require.NotEmpty(t, l[7], "provenance of %v", l)
		r := row{quantity: l[0] + ": " + l[1], expected: l[3], tolerance: l[5], source: l[6], in: map[string]string{}}
		for pair := range strings.SplitSeq(l[2], ";") {
			k, v, ok := strings.Cut(pair, "=")
			require.True(t, ok, "input %q of %v", pair, l)
			r.in[k] = v
		}
		rows = append(rows, r)
	}
	return rows
}

func TestPublishedClimate(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "climate", 22) {
		switch r.quantity {
		case "dew point: saturation pressure":
			r.holds(t, SaturationHPa(r.num(t, "T_C")))
		case "dew point: dew point":
			r.holds(t, r.dewPoint(t))
		case "dew point: dew point from wet bulb":
			pct, err := HumidityFromWetBulb(r.num(t, "Tdry_C"), r.num(t, "Twet_C"), r.num(t, "p_kPa")*10)
			require.NoError(t, err)
			dew, err := DewPoint(r.num(t, "Tdry_C"), pct)
			require.NoError(t, err)
			r.holds(t, dew)
		case "coating climate: may coat?":
			require.Equal(t, "exact", r.tolerance)
			assert.Equal(t, Verdict(r.expected), r.check(t).Verdict, "%v", r.in)
		case "coating climate: surface above dew point":
			r.holds(t, r.check(t).MarginC)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

// dewPoint is that of a row in its own unit.
func (r row) dewPoint(t *testing.T) float64 {
	t.Helper()
	air, fahrenheit := 0.0, false
	if _, fahrenheit = r.in["T_F"]; fahrenheit {
		c, err := unit.Convert(r.num(t, "T_F"), unit.Fahr, unit.Celsius)
		require.NoError(t, err)
		air = c
	} else {
		air = r.num(t, "T_C")
	}
	dew, err := DewPoint(air, r.num(t, "RH_pct"))
	require.NoError(t, err)
	if fahrenheit {
		dew, err = unit.Convert(dew, unit.Celsius, unit.Fahr)
		require.NoError(t, err)
	}
	return dew
}

func (r row) check(t *testing.T) Result {
	t.Helper()
	steel := r.num(t, "steel_C")
	in := Input{SurfaceC: &steel}
	if _, wet := r.in["Twet_C"]; wet {
		in.AirC = r.num(t, "Tdry_C")
		pct, err := HumidityFromWetBulb(in.AirC, r.num(t, "Twet_C"), 1013.25)
		require.NoError(t, err)
		in.HumidityPct = pct
	} else {
		in.AirC, in.HumidityPct = r.num(t, "T_C"), r.num(t, "RH_pct")
	}
	res, err := Check(in)
	require.NoError(t, err)
	return res
}
