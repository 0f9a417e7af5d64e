package gearing

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// row is one published value of testdata/numbers.
type row struct {
	quantity, tolerance, source string
	in                          map[string]string
	want                        float64
}

// num reads an input as a number; a missing or unreadable one fails the test.
func (r row) num(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, r.in, key, "%s", r.quantity)
	v, err := strconv.ParseFloat(r.in[key], 64)
	require.NoError(t, err, "%s", r.quantity)
	return v
}

// holds compares a value with the row's, within its tolerance.
func (r row) holds(t *testing.T, got float64) {
	t.Helper()
	within := 1e-9 * math.Abs(r.want) // of floating point, not of the formula
	switch kind, v, _ := strings.Cut(r.tolerance, ":"); kind {
	case "abs", "rel":
		f, err := strconv.ParseFloat(v, 64)
		require.NoError(t, err)
		if kind == "rel" {
			f *= math.Abs(r.want)
		}
		within += f
	default:
		require.Equal(t, "exact", r.tolerance)
	}
	assert.InDelta(t, r.want, got, within, "%s %v, %s", r.quantity, r.in, r.source)
}

// table reads the CSV; every row must parse and have a source and a provenance.
func table(t *testing.T, count int) []row {
	t.Helper()
	f, err := os.Open("../../../testdata/numbers/gearing.csv")
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, lines[0])
	require.Len(t, lines, count+1)
	var rows []row
	for _, l := range lines[1:] {
		require.NotEmpty(t, l[5], "source of %v", l)
		require.NotEmpty(t, l[6], "provenance of %v", l)
		r := row{quantity: l[0], tolerance: l[4], source: l[5], in: map[string]string{}}
		for pair := range strings.SplitSeq(l[1], ";") {
			k, v, ok := strings.Cut(pair, "=")
			require.True(t, ok, "input %q of %v", pair, l)
			r.in[k] = v
		}
		r.want, err = strconv.ParseFloat(l[2], 64)
		require.NoError(t, err, "%v", l)
		rows = append(rows, r)
	}
	return rows
}

func mustTyre(t require.TestingT, code string) Tyre {
	tyre, err := ParseTyre(code)
	require.NoError(t, err, "%q", code)
	return tyre
}

func TestPublishedTables(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, 20) {
		printed := func() Tyre {
			return mustTyre(t, r.in["width_mm"]+"/"+r.in["aspect_pct"]+"R"+r.in["rim_in"])
		}
		const mphKPH = 1.609344 // NIST SP 811 B.8, exact
		switch r.quantity {
		case "overall diameter":
			r.holds(t, printed().DiameterMM())
		case "overall diameter, radial without printed aspect", "overall diameter, inch cross-ply":
			tyre := mustTyre(t, r.in["code"])
			aspect, _, _, assumed := tyre.Aspect()
			assert.True(t, assumed)
			assert.Equal(t, r.num(t, "assumed_aspect_pct"), aspect)
			r.holds(t, tyre.DiameterMM())
		case "geometric circumference":
			r.holds(t, math.Pi*printed().DiameterMM())
			assert.InEpsilon(t, 0.97, printed().Circumference().TypicalMM/r.want, 0.002, "the source has the rolling one about 3 %% less")
		case "wheel revolutions per mile, loaded":
			got, err := Road(Input{Tyre: mustTyre(t, r.in["tyre"]), FinalDrive: 4, RPM: 3000})
			require.NoError(t, err)
			r.holds(t, got.RevsPerMile)
			assert.Greater(t, r.want, mileMM/got.Circumference.HighMM)
			assert.Less(t, r.want, mileMM/got.Circumference.LowMM)
		case "road speed", "road speed, mph":
			got, err := Road(Input{CircumferenceMM: 1000 * r.num(t, "circumference_m"), GearRatio: r.num(t, "gear"), FinalDrive: r.num(t, "final"), RPM: r.num(t, "rpm")})
			require.NoError(t, err)
			if r.quantity == "road speed, mph" {
				got.SpeedKPH /= mphKPH
			}
			r.holds(t, got.SpeedKPH)
		case "road speed per 1000 rpm":
			// The source counts the unloaded circumference.
			c := math.Pi * mustTyre(t, r.in["tyre"]).DiameterMM()
			got, err := Road(Input{CircumferenceMM: c, GearRatio: r.num(t, "gear"), FinalDrive: r.num(t, "final"), RPM: 1000})
			require.NoError(t, err)
			r.holds(t, got.SpeedPer1000KPH/mphKPH)
		case "road speed per 1000 rpm (no slip, geometric D)":
			got, err := Road(Input{CircumferenceMM: math.Pi * r.num(t, "D_mm"), GearRatio: r.num(t, "gear"), FinalDrive: r.num(t, "final"), RPM: 3000})
			require.NoError(t, err)
			r.holds(t, got.SpeedPer1000KPH)
		case "true speed at indicated 100 km/h after tyre change":
			got, err := Speedometer(Change{From: mustTyre(t, r.in["old"]), To: mustTyre(t, r.in["new"])})
			require.NoError(t, err)
			r.holds(t, got.TrueKPH)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}
