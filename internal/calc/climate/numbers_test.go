package climate

import (
	"testing"

	"bayword/internal/calc/published"
	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPublishedClimate(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "climate", 22) {
		switch r.Quantity {
		case "dew point: saturation pressure":
			r.Holds(t, SaturationHPa(r.Num(t, "T_C")))
		case "dew point: dew point":
			r.Holds(t, dewPoint(t, r))
		case "dew point: dew point from wet bulb":
			pct, err := HumidityFromWetBulb(r.Num(t, "Tdry_C"), r.Num(t, "Twet_C"), r.Num(t, "p_kPa")*10)
			require.NoError(t, err)
			dew, err := DewPoint(r.Num(t, "Tdry_C"), pct)
			require.NoError(t, err)
			r.Holds(t, dew)
		case "coating climate: may coat?":
			require.Equal(t, "exact", r.Tolerance)
			assert.Equal(t, Verdict(r.Expected), checkRow(t, r).Verdict, "%v", r.In)
		case "coating climate: surface above dew point":
			r.Holds(t, checkRow(t, r).MarginC)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

// dewPoint is that of a row in its own unit.
func dewPoint(t *testing.T, r published.Row) float64 {
	t.Helper()
	air, fahrenheit := 0.0, false
	if _, fahrenheit = r.In["T_F"]; fahrenheit {
		c, err := unit.Convert(r.Num(t, "T_F"), unit.Fahr, unit.Celsius)
		require.NoError(t, err)
		air = c
	} else {
		air = r.Num(t, "T_C")
	}
	dew, err := DewPoint(air, r.Num(t, "RH_pct"))
	require.NoError(t, err)
	if fahrenheit {
		dew, err = unit.Convert(dew, unit.Celsius, unit.Fahr)
		require.NoError(t, err)
	}
	return dew
}

func checkRow(t *testing.T, r published.Row) Result {
	t.Helper()
	steel := r.Num(t, "steel_C")
	in := Input{SurfaceC: &steel}
	if _, wet := r.In["Twet_C"]; wet {
		in.AirC = r.Num(t, "Tdry_C")
		pct, err := HumidityFromWetBulb(in.AirC, r.Num(t, "Twet_C"), 1013.25)
		require.NoError(t, err)
		in.HumidityPct = pct
	} else {
		in.AirC, in.HumidityPct = r.Num(t, "T_C"), r.Num(t, "RH_pct")
	}
	res, err := Check(in)
	require.NoError(t, err)
	return res
}
