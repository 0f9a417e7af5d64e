package coating

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

func TestPublishedCoating(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "coating", 23) {
		var got float64
		var err error
		switch r.quantity {
		case "coating: theoretical spreading rate":
			got, err = SpreadingRate(r.num(t, "VS_pct"), r.num(t, "DFT_um"))
		case "coating: theoretical coverage (US)":
			got, err = SpreadingRate(r.num(t, "VS_pct"), r.num(t, "DFT_mil")*unit.InchMM)
			const usGallonL = 231 * unit.InchMM * unit.InchMM * unit.InchMM / 1e6 // 231 in³, NIST SP 811 B.8
			ft2, cerr := unit.Convert(1, unit.M2, unit.Ft2)
			require.NoError(t, cerr)
			got *= ft2 * usGallonL
		case "coating: wet film thickness from spread rate":
			got, err = WetFilmAtRate(r.num(t, "rate_m2_per_L"))
		case "coating: wet film thickness with thinner":
			got, err = WetFilm(r.num(t, "DFT_um"), r.num(t, "VS_pct"), r.num(t, "thinner_vol_pct"))
		case "coating: paint needed (unthinned litres)":
			got, err = Litres(r.num(t, "area_m2"), r.num(t, "VS_pct"), r.num(t, "DFT_um_per_coat"), int(r.num(t, "coats")), r.num(t, "loss_pct"))
		case "coating: mix volumes base:hardener:thinner":
			r.mix(t)
			continue
		case "VOC limit: max VOC ready for use":
			v, verr := CheckVOC(Category(r.in["category"]), Solvent{1, 1})
			got, err = v.LimitGPerL, verr
			assert.Contains(t, v.Source, r.source)
		case "VOC limit: VOC of mixture ready for use (additive volumes, no water)":
			s, serr := MixVOC(r.portions(t))
			got, err = s.GPerL, serr
			assert.InDelta(t, s.GPerL, s.LessWaterGPerL, 1e-9)
		case "pot life: pot life at other temperature":
			got = r.num(t, "pot_life_min") / Pace(r.num(t, "T0_C"), r.num(t, "T_C"))
		default:
			t.Errorf("no check for %q", r.quantity)
			continue
		}
		require.NoError(t, err, "%v", r.in)
		r.holds(t, got)
	}
}

// mix checks «800.0/200.0/200.0» mL.
func (r row) mix(t *testing.T) {
	t.Helper()
	ratio, err := ParseRatio(r.in["ratio"])
	require.NoError(t, err)
	total, err := VolumeOf(r.num(t, "total_L"))
	require.NoError(t, err)
	m, err := PlanMix(ratio, total)
	require.NoError(t, err)
	want := strings.Split(r.expected, "/")
	require.Len(t, m.Parts, len(want))
	for i, w := range want {
		r.near(t, number(t, w), m.Parts[i].Litres()*1000)
	}
}

// portions reads «4:380+1:550», litres and VOC in g/L.
func (r row) portions(t *testing.T) []Portion {
	t.Helper()
	var out []Portion
	for s := range strings.SplitSeq(r.in["L:g_per_L"], "+") {
		l, g, ok := strings.Cut(s, ":")
		require.True(t, ok, "%q", s)
		out = append(out, Portion{Litres: number(t, l), VOCGPerL: number(t, g)})
	}
	return out
}
