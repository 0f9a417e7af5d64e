package gearing

import (
	"math"
	"testing"

	"bayword/internal/calc/published"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func mustTyre(t require.TestingT, code string) Tyre {
	tyre, err := ParseTyre(code)
	require.NoError(t, err, "%q", code)
	return tyre
}

func TestPublishedTables(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "gearing", 20) {
		printed := func() Tyre {
			return mustTyre(t, r.In["width_mm"]+"/"+r.In["aspect_pct"]+"R"+r.In["rim_in"])
		}
		const mphKPH = 1.609344 // NIST SP 811 B.8, exact
		switch r.Quantity {
		case "overall diameter":
			r.Holds(t, printed().DiameterMM())
		case "overall diameter, radial without printed aspect", "overall diameter, inch cross-ply":
			tyre := mustTyre(t, r.In["code"])
			aspect, _, _, assumed := tyre.Aspect()
			assert.True(t, assumed)
			assert.Equal(t, r.Num(t, "assumed_aspect_pct"), aspect)
			r.Holds(t, tyre.DiameterMM())
		case "geometric circumference":
			r.Holds(t, math.Pi*printed().DiameterMM())
			assert.InEpsilon(t, 0.97, printed().Circumference().TypicalMM/r.Want(t), 0.002, "the source has the rolling one about 3 %% less")
		case "wheel revolutions per mile, loaded":
			got, err := Road(Input{Tyre: mustTyre(t, r.In["tyre"]), FinalDrive: 4, RPM: 3000})
			require.NoError(t, err)
			r.Holds(t, got.RevsPerMile)
			assert.Greater(t, r.Want(t), mileMM/got.Circumference.HighMM)
			assert.Less(t, r.Want(t), mileMM/got.Circumference.LowMM)
		case "road speed", "road speed, mph":
			got, err := Road(Input{CircumferenceMM: 1000 * r.Num(t, "circumference_m"), GearRatio: r.Num(t, "gear"), FinalDrive: r.Num(t, "final"), RPM: r.Num(t, "rpm")})
			require.NoError(t, err)
			if r.Quantity == "road speed, mph" {
				got.SpeedKPH /= mphKPH
			}
			r.Holds(t, got.SpeedKPH)
		case "road speed per 1000 rpm":
			// The source counts the unloaded circumference.
			c := math.Pi * mustTyre(t, r.In["tyre"]).DiameterMM()
			got, err := Road(Input{CircumferenceMM: c, GearRatio: r.Num(t, "gear"), FinalDrive: r.Num(t, "final"), RPM: 1000})
			require.NoError(t, err)
			r.Holds(t, got.SpeedPer1000KPH/mphKPH)
		case "road speed per 1000 rpm (no slip, geometric D)":
			got, err := Road(Input{CircumferenceMM: math.Pi * r.Num(t, "D_mm"), GearRatio: r.Num(t, "gear"), FinalDrive: r.Num(t, "final"), RPM: 3000})
			require.NoError(t, err)
			r.Holds(t, got.SpeedPer1000KPH)
		case "true speed at indicated 100 km/h after tyre change":
			got, err := Speedometer(Change{From: mustTyre(t, r.In["old"]), To: mustTyre(t, r.In["new"])})
			require.NoError(t, err)
			r.Holds(t, got.TrueKPH)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}
