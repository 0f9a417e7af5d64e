package metal

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"bayword/internal/unit"

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
	f, err := os.Open("../../../testdata/numbers/metal.csv")
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
	// density reads a row's density and, for a metal, that ours is the same.
	density := func(r row, m Metal) float64 {
		rho, _, err := m.density()
		require.NoError(t, err)
		assert.Equal(t, r.num(t, "rho"), rho)
		return rho
	}
	const inchMM, footM, poundKG = unit.InchMM, 12 * unit.InchMM / 1000, unit.PoundKG
	for _, r := range table(t, 28) {
		switch r.quantity {
		case "SWG thickness":
			got, err := GaugeMM(int(r.num(t, "SWG")))
			require.NoError(t, err)
			r.holds(t, got)
			swg, mm, err := NearestGauge(r.want)
			require.NoError(t, err)
			assert.Equal(t, int(r.num(t, "SWG")), swg)
			assert.Equal(t, got, mm)
		case "steel panel mass":
			density(r, Steel)
			got, err := Mass(Sheet{ThicknessMM: r.num(t, "t_mm"), AreaM2: r.num(t, "area_m2")})
			require.NoError(t, err)
			r.holds(t, got.MassKG)
		case "wire length per kg":
			m, ok := map[string]Metal{"mild steel": Steel, "aluminium": Aluminium}[r.in["material"]]
			require.True(t, ok)
			r.holds(t, wireMPerKG(r.num(t, "d_mm"), density(r, m)))
		case "fillet weld metal per foot":
			rho := r.num(t, "rho_lb_in3") * poundKG * 1e9 / (inchMM * inchMM * inchMM)
			r.holds(t, filletKG(r.num(t, "leg_in")*inchMM, footM, rho)/poundKG)
		case "deposition rate":
			in, feed, eff := r.num(t, "d_in"), r.num(t, "wfs_in_min"), r.num(t, "eff")
			r.holds(t, HandbookDeposition(in, feed, eff))
			kgH, err := DepositionKGH(Steel, in*inchMM, feed*inchMM/1000, eff)
			require.NoError(t, err)
			assert.InEpsilon(t, r.want, kgH/poundKG, 0.025, "the unrounded form")
		case "wire mass for fillet":
			density(r, Steel)
			got, err := Weld(Run{LegMM: r.num(t, "leg_mm"), LengthM: r.num(t, "length_m"), Efficiency: r.num(t, "efficiency")})
			require.NoError(t, err)
			r.holds(t, got.WireG)
		case "shielding gas for a seam":
			got, err := Weld(Run{LegMM: 1, LengthM: r.num(t, "length_m"), FlowLMin: r.num(t, "flow_L_min"), TravelMMMin: r.num(t, "travel_mm_min")})
			require.NoError(t, err)
			r.holds(t, got.GasL)
		case "weld metal volume for plug welds":
			count := r.num(t, "count")
			assert.Equal(t, overfill, r.num(t, "overfill"))
			got, err := PlugWelds(Flange{FlangeMM: 25 * count, PitchMM: 25, SheetMM: r.num(t, "sheet_mm"), HoleMM: r.num(t, "hole_mm")})
			require.NoError(t, err)
			assert.Equal(t, int(count), got.Count)
			r.holds(t, got.MetalCM3)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}
