package metal

import (
	"testing"

	"bayword/internal/calc/published"
	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPublishedTables(t *testing.T) {
	t.Parallel()
	// density reads a row's density and, for a metal, that ours is the same.
	density := func(r published.Row, m Metal) float64 {
		rho, _, err := m.density()
		require.NoError(t, err)
		assert.Equal(t, r.Num(t, "rho"), rho)
		return rho
	}
	const inchMM, footM, poundKG = unit.InchMM, 12 * unit.InchMM / 1000, unit.PoundKG
	for _, r := range published.Table(t, "metal", 28) {
		switch r.Quantity {
		case "SWG thickness":
			got, err := GaugeMM(int(r.Num(t, "SWG")))
			require.NoError(t, err)
			r.Holds(t, got)
			swg, mm, err := NearestGauge(r.Want(t))
			require.NoError(t, err)
			assert.Equal(t, int(r.Num(t, "SWG")), swg)
			assert.Equal(t, got, mm)
		case "steel panel mass":
			density(r, Steel)
			got, err := Mass(Sheet{ThicknessMM: r.Num(t, "t_mm"), AreaM2: r.Num(t, "area_m2")})
			require.NoError(t, err)
			r.Holds(t, got.MassKG)
		case "wire length per kg":
			m, ok := map[string]Metal{"mild steel": Steel, "aluminium": Aluminium}[r.In["material"]]
			require.True(t, ok)
			r.Holds(t, wireMPerKG(r.Num(t, "d_mm"), density(r, m)))
		case "fillet weld metal per foot":
			rho := r.Num(t, "rho_lb_in3") * poundKG * 1e9 / (inchMM * inchMM * inchMM)
			r.Holds(t, filletKG(r.Num(t, "leg_in")*inchMM, footM, rho)/poundKG)
		case "deposition rate":
			in, feed, eff := r.Num(t, "d_in"), r.Num(t, "wfs_in_min"), r.Num(t, "eff")
			r.Holds(t, HandbookDeposition(in, feed, eff))
			kgH, err := DepositionKGH(Steel, in*inchMM, feed*inchMM/1000, eff)
			require.NoError(t, err)
			assert.InEpsilon(t, r.Want(t), kgH/poundKG, 0.025, "the unrounded form")
		case "wire mass for fillet":
			density(r, Steel)
			got, err := Weld(Run{LegMM: r.Num(t, "leg_mm"), LengthM: r.Num(t, "length_m"), Efficiency: r.Num(t, "efficiency")})
			require.NoError(t, err)
			r.Holds(t, got.WireG)
		case "shielding gas for a seam":
			got, err := Weld(Run{LegMM: 1, LengthM: r.Num(t, "length_m"), FlowLMin: r.Num(t, "flow_L_min"), TravelMMMin: r.Num(t, "travel_mm_min")})
			require.NoError(t, err)
			r.Holds(t, got.GasL)
		case "weld metal volume for plug welds":
			count := r.Num(t, "count")
			assert.Equal(t, overfill, r.Num(t, "overfill"))
			got, err := PlugWelds(Flange{FlangeMM: 25 * count, PitchMM: 25, SheetMM: r.Num(t, "sheet_mm"), HoleMM: r.Num(t, "hole_mm")})
			require.NoError(t, err)
			assert.Equal(t, int(count), got.Count)
			r.Holds(t, got.MetalCM3)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}
