package climate

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func check(t require.TestingT, in Input) Result {
	r, err := Check(in)
	require.NoError(t, err, "%+v", in)
	return r
}

func at(c float64) *float64 { return &c }

func TestVerdicts(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		in   Input
		want Verdict
	}{
		"dry air, warm metal":             {Input{AirC: 21, HumidityPct: 55, SurfaceC: at(20)}, OK},
		"cold metal":                      {Input{AirC: 14, HumidityPct: 78, SurfaceC: at(11)}, No},
		"metal below the dew point":       {Input{AirC: 20, HumidityPct: 80, SurfaceC: at(10)}, No},
		"warm metal in humid air":         {Input{AirC: 12, HumidityPct: 88, SurfaceC: at(20)}, Wait},
		"cold metal in humid air":         {Input{AirC: 12, HumidityPct: 88, SurfaceC: at(11)}, No},
		"at the limit of humidity":        {Input{AirC: 16, HumidityPct: 85, SurfaceC: at(18)}, OK},
		"the product's limit is lower":    {Input{AirC: 19, HumidityPct: 60, SurfaceC: at(18), LimitPct: 55}, Wait},
		"nobody measured, dry enough":     {Input{AirC: 18, HumidityPct: 60}, OK},
		"nobody measured, and humid":      {Input{AirC: 16, HumidityPct: 85}, No},
		"panel fresh from the oven":       {Input{AirC: 18, HumidityPct: 60, SurfaceC: at(60)}, OK},
		"frost":                           {Input{AirC: -2, HumidityPct: 70, SurfaceC: at(-4)}, No},
		"saturated air, metal well above": {Input{AirC: 10, HumidityPct: 100, SurfaceC: at(30)}, Wait},
	} {
		assert.Equal(t, c.want, check(t, c.in).Verdict, name)
	}
}

func TestHowFarOff(t *testing.T) {
	t.Parallel()
	r := check(t, Input{AirC: 14, HumidityPct: 78, SurfaceC: at(11)})
	assert.InDelta(t, 10.22, r.DewPointC, 0.01)
	assert.InDelta(t, 0.78, r.MarginC, 0.01)
	assert.InDelta(t, 13.22, r.SurfaceNeededC, 0.01)
	assert.InDelta(t, 2.22, r.SurfaceShortC, 0.01)
	assert.Zero(t, r.HumidityOverPct)
	assert.InDelta(t, 14, r.AirForHumidityC, 1e-9)

	r = check(t, Input{AirC: 12, HumidityPct: 88, SurfaceC: at(20)})
	assert.InDelta(t, 3, r.HumidityOverPct, 1e-9)
	assert.Zero(t, r.SurfaceShortC)
	assert.Greater(t, r.AirForHumidityC, 12.0)
}

func TestWhatWasTakenForGrantedIsSaid(t *testing.T) {
	t.Parallel()
	r := check(t, Input{AirC: 16, HumidityPct: 60})
	assert.True(t, r.SurfaceIsAssumed)
	assert.InDelta(t, 16, r.SurfaceC, 0)
	said := strings.Join(r.Assumptions, "; ")
	assert.Contains(t, said, "nobody measured the metal: it is taken to be as warm as the air, 16 °C; it must be at least 11.3 °C")
	assert.Contains(t, said, "highest humidity 85 %: common practice")
	assert.NotEmpty(t, r.Source)
	assert.NotEmpty(t, r.Caution)

	r = check(t, Input{AirC: 16, HumidityPct: 60, SurfaceC: at(15), LimitPct: 75})
	assert.False(t, r.SurfaceIsAssumed)
	said = strings.Join(r.Assumptions, "; ")
	assert.NotContains(t, said, "nobody measured")
	assert.NotContains(t, said, "highest humidity")
}

func TestNearALimitTheMeterMayErr(t *testing.T) {
	t.Parallel()
	assert.True(t, check(t, Input{AirC: 16, HumidityPct: 84, SurfaceC: at(20)}).WithinMeterError)
	assert.True(t, check(t, Input{AirC: 16, HumidityPct: 60, SurfaceC: at(11.4)}).WithinMeterError)
	assert.False(t, check(t, Input{AirC: 16, HumidityPct: 60, SurfaceC: at(16)}).WithinMeterError)
}

func TestHostileInputSaysWhatIsAccepted(t *testing.T) {
	t.Parallel()
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		field string
		in    Input
	}{
		{"air_c", Input{AirC: nan, HumidityPct: 50}},
		{"air_c", Input{AirC: 61, HumidityPct: 50}},
		{"air_c", Input{AirC: -273.15, HumidityPct: 50}},
		{"air_c", Input{AirC: inf, HumidityPct: 50}},
		{"humidity_pct", Input{AirC: 20}},
		{"humidity_pct", Input{AirC: 20, HumidityPct: 0.65}},
		{"humidity_pct", Input{AirC: 20, HumidityPct: -5}},
		{"humidity_pct", Input{AirC: 20, HumidityPct: 101}},
		{"humidity_pct", Input{AirC: 20, HumidityPct: nan}},
		{"surface_c", Input{AirC: 20, HumidityPct: 50, SurfaceC: &nan}},
		{"surface_c", Input{AirC: 20, HumidityPct: 50, SurfaceC: at(1e300)}},
		{"humidity_limit_pct", Input{AirC: 20, HumidityPct: 50, LimitPct: -1}},
		{"humidity_limit_pct", Input{AirC: 20, HumidityPct: 50, LimitPct: 0.85}},
		{"humidity_limit_pct", Input{AirC: 20, HumidityPct: 50, LimitPct: nan}},
	} {
		_, err := Check(c.in)
		refused, ok := errors.AsType[*InputError](err)
		require.True(t, ok, "%+v: %v", c.in, err)
		assert.Equal(t, c.field, refused.Field)
		assert.Contains(t, refused.Error(), "from ")
	}
	for _, c := range [][3]float64{{nan, 10, 1013}, {20, 21, 1013}, {20, nan, 1013}, {20, 15, 0}, {-1, -2, 1013}, {40, 5, 1013}} {
		_, err := HumidityFromWetBulb(c[0], c[1], c[2])
		_, ok := errors.AsType[*InputError](err)
		assert.True(t, ok, "%v: %v", c, err)
	}
}

func TestPhysics(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		air := rapid.Float64Range(-10, 50).Draw(t, "air")
		dry := rapid.Float64Range(1, 100).Draw(t, "drier")
		wet := rapid.Float64Range(dry, 100).Draw(t, "wetter")
		surface := rapid.Float64Range(-20, 80).Draw(t, "surface")

		a := check(t, Input{AirC: air, HumidityPct: dry, SurfaceC: &surface})
		b := check(t, Input{AirC: air, HumidityPct: wet, SurfaceC: &surface})
		assert.LessOrEqual(t, a.DewPointC, air+1e-9, "air holds no more than it can")
		assert.LessOrEqual(t, a.DewPointC, b.DewPointC, "more water, higher dew point")
		assert.LessOrEqual(t, rank(a.Verdict), rank(b.Verdict), "more water is never better")
		warmer := surface + rapid.Float64Range(0, 40).Draw(t, "warmer by")
		assert.LessOrEqual(t, rank(check(t, Input{AirC: air, HumidityPct: dry, SurfaceC: &warmer}).Verdict), rank(a.Verdict), "warmer metal is never worse")

		assert.InDelta(t, dry, 100*SaturationHPa(a.DewPointC)/SaturationHPa(air), 1e-9*dry, "dew point and humidity turn round")
		assert.LessOrEqual(t, a.DewLowC, a.DewPointC+1e-9)
		assert.GreaterOrEqual(t, a.DewHighC+1e-9, a.DewPointC)
		assert.Equal(t, a.Verdict == No, a.SurfaceShortC > 0)

		// What is said to help, helps.
		needed := a.SurfaceC + a.SurfaceShortC + 1e-9
		assert.NotEqual(t, No, check(t, Input{AirC: air, HumidityPct: dry, SurfaceC: &needed}).Verdict)
		if b.HumidityOverPct > 0 {
			pct := 100 * SaturationHPa(b.DewPointC) / SaturationHPa(b.AirForHumidityC)
			assert.InDelta(t, DefaultLimitPct, pct, 1e-6)
		}
	})
}

func rank(v Verdict) int { return map[Verdict]int{OK: 0, Wait: 1, No: 2}[v] }

// A wet bulb as warm as the dry one is saturated air.
func TestWetBulbAtItsEnd(t *testing.T) {
	t.Parallel()
	pct, err := HumidityFromWetBulb(15, 15, 1013.25)
	require.NoError(t, err)
	assert.InDelta(t, 100, pct, 1e-9)
}

func FuzzCheck(f *testing.F) {
	f.Add(14.0, 78.0, 11.0, 85.0)
	f.Add(math.NaN(), 0.0, math.Inf(-1), -1.0)
	f.Fuzz(func(t *testing.T, air, humidity, surface, limit float64) {
		r, err := Check(Input{AirC: air, HumidityPct: humidity, SurfaceC: &surface, LimitPct: limit})
		if err != nil {
			_, ok := errors.AsType[*InputError](err)
			require.True(t, ok, "%v", err)
			return
		}
		for _, v := range []float64{r.DewPointC, r.DewLowC, r.DewHighC, r.MarginC, r.SurfaceNeededC, r.AirForHumidityC} {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%+v", r)
		}
	})
}

func BenchmarkCheck(b *testing.B) {
	surface := 11.0
	for b.Loop() {
		if _, err := Check(Input{AirC: 14, HumidityPct: 88, SurfaceC: &surface}); err != nil {
			b.Fatal(err)
		}
	}
}
