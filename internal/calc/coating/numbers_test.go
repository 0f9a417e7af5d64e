package coating

import (
	"strings"
	"testing"

	"bayword/internal/calc/published"
	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPublishedCoating(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "coating", 23) {
		var got float64
		var err error
		switch r.Quantity {
		case "coating: theoretical spreading rate":
			got, err = SpreadingRate(r.Num(t, "VS_pct"), r.Num(t, "DFT_um"))
		case "coating: theoretical coverage (US)":
			got, err = SpreadingRate(r.Num(t, "VS_pct"), r.Num(t, "DFT_mil")*unit.InchMM)
			const usGallonL = 231 * unit.InchMM * unit.InchMM * unit.InchMM / 1e6 // 231 in³, NIST SP 811 B.8
			ft2, cerr := unit.Convert(1, unit.M2, unit.Ft2)
			require.NoError(t, cerr)
			got *= ft2 * usGallonL
		case "coating: wet film thickness from spread rate":
			got, err = WetFilmAtRate(r.Num(t, "rate_m2_per_L"))
		case "coating: wet film thickness with thinner":
			got, err = WetFilm(r.Num(t, "DFT_um"), r.Num(t, "VS_pct"), r.Num(t, "thinner_vol_pct"))
		case "coating: paint needed (unthinned litres)":
			got, err = Litres(r.Num(t, "area_m2"), r.Num(t, "VS_pct"), r.Num(t, "DFT_um_per_coat"), int(r.Num(t, "coats")), r.Num(t, "loss_pct"))
		case "coating: mix volumes base:hardener:thinner":
			mix(t, r)
			continue
		case "VOC limit: max VOC ready for use":
			v, verr := CheckVOC(Category(r.In["category"]), Solvent{1, 1})
			got, err = v.LimitGPerL, verr
			assert.Contains(t, v.Source, r.Source)
		case "VOC limit: VOC of mixture ready for use (additive volumes, no water)":
			s, serr := MixVOC(portions(t, r))
			got, err = s.GPerL, serr
			assert.InDelta(t, s.GPerL, s.LessWaterGPerL, 1e-9)
		case "pot life: pot life at other temperature":
			got = r.Num(t, "pot_life_min") / Pace(r.Num(t, "T0_C"), r.Num(t, "T_C"))
		default:
			t.Errorf("no check for %q", r.Quantity)
			continue
		}
		require.NoError(t, err, "%v", r.In)
		r.Holds(t, got)
	}
}

// mix checks «800.0/200.0/200.0» mL.
func mix(t *testing.T, r published.Row) {
	t.Helper()
	ratio, err := ParseRatio(r.In["ratio"])
	require.NoError(t, err)
	total, err := VolumeOf(r.Num(t, "total_L"))
	require.NoError(t, err)
	m, err := PlanMix(ratio, total)
	require.NoError(t, err)
	want := strings.Split(r.Expected, "/")
	require.Len(t, m.Parts, len(want))
	for i, w := range want {
		r.Near(t, published.Number(t, w), m.Parts[i].Litres()*1000)
	}
}

// portions reads «4:380+1:550», litres and VOC in g/L.
func portions(t *testing.T, r published.Row) []Portion {
	t.Helper()
	var out []Portion
	for s := range strings.SplitSeq(r.In["L:g_per_L"], "+") {
		l, g, ok := strings.Cut(s, ":")
		require.True(t, ok, "%q", s)
		out = append(out, Portion{Litres: published.Number(t, l), VOCGPerL: published.Number(t, g)})
	}
	return out
}
