package wiring

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
	f, err := os.Open("../../../testdata/numbers/wiring.csv")
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

func TestPublishedTables(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, 66) {
		switch r.quantity {
		case "max DC resistance 20 °C, class 5 plain Cu", "max DC resistance 20 °C, road-vehicle copper cable":
			cable := Class5
			if strings.HasSuffix(r.quantity, "road-vehicle copper cable") {
				cable = RoadVehicle
			}
			got, err := Resistance(cable, r.num(t, "area_mm2"), 20)
			require.NoError(t, err)
			r.holds(t, got)
		case "AWG cross-section":
			got, err := AWG(r.num(t, "AWG")).AreaMM2()
			require.NoError(t, err)
			r.holds(t, got)
		case "AWG solid-copper resistance 20 °C":
			got, err := AWG(r.num(t, "AWG")).SolidResistance()
			require.NoError(t, err)
			r.holds(t, got)
		case "voltage drop, single conductor, body return":
			got, err := VoltageDrop(Input{Amps: r.num(t, "I_A"), LengthM: r.num(t, "length_m")}, r.num(t, "area_mm2"))
			require.NoError(t, err)
			r.holds(t, got)
		case "voltage drop, two-wire run":
			got, err := VoltageDrop(Input{Amps: r.num(t, "I_A"), LengthM: r.num(t, "one_way_m"), TwoWire: true}, r.num(t, "area_mm2"))
			require.NoError(t, err)
			r.holds(t, got)
		case "temperature factor kt (R20=Rt*kt)":
			cold, err := Resistance(Class5, 2.5, 20)
			require.NoError(t, err)
			warm, err := Resistance(Class5, 2.5, r.num(t, "T_C"))
			require.NoError(t, err)
			r.holds(t, cold/warm)
		case "next standard blade fuse with continuous load <= 80 %":
			var blades []string
			for _, f := range fuses {
				if f <= 30 {
					blades = append(blades, strconv.FormatFloat(f, 'f', -1, 64))
				}
			}
			assert.Equal(t, r.in["series"], strings.Join(blades, ","))
			got, err := Fuse(r.num(t, "load_A"))
			require.NoError(t, err)
			r.holds(t, got)
		case "allowable continuous current":
			found := false
			for _, g := range ratings {
				if g.gauge == AWG(r.num(t, "AWG")) {
					found = true
					r.holds(t, map[string]float64{"60": g.at60, "105": g.at105}[r.in["insulation_C"]])
				}
			}
			assert.True(t, found, "%v", r.in)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

// An independent look at both resistance tables: annealed copper has 17.24 mΩ·mm²/m
// (IEC 60028); what a standard allows for stranding, tolerance and a true area that
// is not the nominal one stays within 17 % of it.
func TestTablesAreOfCopper(t *testing.T) {
	t.Parallel()
	for _, c := range []Cable{Class5, RoadVehicle} {
		sizes, _, err := c.sizes()
		require.NoError(t, err)
		for i, s := range sizes {
			specific := s.areaMM2 * s.mohmM
			assert.Greater(t, specific, 17.24, "%v", s)
			assert.Less(t, specific, 17.24*1.17, "%v", s)
			if i > 0 {
				assert.Greater(t, s.areaMM2, sizes[i-1].areaMM2)
				assert.Less(t, s.mohmM, sizes[i-1].mohmM)
			}
		}
	}
}

// The column for 60 °C is also what cable for 105 °C may carry in an engine space:
// 33 CFR 183.425 Table 5 note 1 has 0.85 for it.
func TestRatingHoldsInAnEngineBay(t *testing.T) {
	t.Parallel()
	for i, r := range ratings {
		assert.LessOrEqual(t, r.at60, 0.85*r.at105, "%s", r.gauge)
		if i > 0 {
			assert.Greater(t, r.at60, ratings[i-1].at60)
			assert.Greater(t, r.gauge.area(), ratings[i-1].gauge.area())
		}
	}
}
