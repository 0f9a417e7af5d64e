package gearing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func drawTyre(t *rapid.T, label string) Tyre {
	return mustTyre(t, rapid.SampledFrom([]string{"135/80R13", "155R13", "165R15", "175/65R14", "195/60R15", "5.20-10", "5.60-15", "6.00-16", "7.50R16"}).Draw(t, label))
}

func drawInput(t *rapid.T) Input {
	return Input{
		Tyre:       drawTyre(t, "tyre"),
		FinalDrive: rapid.Float64Range(1, 20).Draw(t, "final drive"),
		GearRatio:  rapid.Float64Range(0.3, 20).Draw(t, "gear"),
		RPM:        rapid.Float64Range(100, 20000).Draw(t, "rpm"),
	}
}

// The speed of some revs, asked back, is those revs; the ends of one range are the
// ends of the other.
func TestThereAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		there, err := Road(in)
		require.NoError(t, err)
		if there.SpeedKPH < 1 || there.SpeedKPH > 500 {
			return
		}
		in.RPM, in.SpeedKPH = 0, there.SpeedKPH
		back, err := Road(in)
		require.NoError(t, err)
		assert.InEpsilon(t, there.RPM, back.RPM, 1e-9)
		assert.InEpsilon(t, there.RPM/there.SpeedHighKPH*there.SpeedKPH, back.RPMLow, 1e-9)
		assert.InEpsilon(t, there.RPM/there.SpeedLowKPH*there.SpeedKPH, back.RPMHigh, 1e-9)
		assert.InEpsilon(t, there.SpeedPer1000KPH, back.SpeedPer1000KPH, 1e-9)
	})
}

// Speed scales with revs and falls with either ratio.
func TestSpeedFollowsRevsAndRatios(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		r, err := Road(in)
		require.NoError(t, err)
		assert.Less(t, r.SpeedLowKPH, r.SpeedKPH)
		assert.Less(t, r.SpeedKPH, r.SpeedHighKPH)
		assert.InEpsilon(t, r.SpeedKPH, r.SpeedPer1000KPH*in.RPM/1000, 1e-9)
		// Swapping the two ratios changes nothing.
		if in.GearRatio >= 1 {
			swapped := in
			swapped.GearRatio, swapped.FinalDrive = in.FinalDrive, in.GearRatio
			s, err := Road(swapped)
			require.NoError(t, err)
			assert.InEpsilon(t, r.SpeedKPH, s.SpeedKPH, 1e-9)
		}
		taller := in
		taller.FinalDrive = rapid.Float64Range(1, in.FinalDrive).Draw(t, "taller")
		s, err := Road(taller)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, s.SpeedKPH, r.SpeedKPH)
	})
}

func TestRoadSaysItsGrounds(t *testing.T) {
	t.Parallel()
	r, err := Road(Input{Tyre: mustTyre(t, "5.60-15"), FinalDrive: 4.1, SpeedKPH: 80})
	require.NoError(t, err)
	said := strings.Join(r.Assumptions, "; ")
	for _, want := range []string{"3.05 diameters", "95 % taken, 88 to 98 % (common practice, no source)", "data book comes first", "gear ratio 1, direct top", "no slip"} {
		assert.Contains(t, said, want)
	}
	assert.Contains(t, r.Source, "ISO 4000-1")
	assert.NotEmpty(t, r.Caution)
	assert.Equal(t, 1.0, r.Input.GearRatio)

	r, err = Road(Input{Tyre: mustTyre(t, "5.60-15"), CircumferenceMM: 2050, FinalDrive: 4.1, GearRatio: 0.8, RPM: 3000})
	require.NoError(t, err)
	said = strings.Join(r.Assumptions, "; ")
	assert.Contains(t, said, "circumference as measured")
	assert.NotContains(t, said, "95 %")
	assert.NotContains(t, said, "direct top")
	assert.Equal(t, r.SpeedLowKPH, r.SpeedHighKPH)
}

func TestRoadRefusesTheImpossible(t *testing.T) {
	t.Parallel()
	good := Input{Tyre: mustTyre(t, "175/65R14"), FinalDrive: 4.1, GearRatio: 0.8, RPM: 3000}
	with := func(change func(*Input)) Input {
		in := good
		change(&in)
		return in
	}
	type refusal struct {
		in              Input
		field, accepted string
	}
	cases := []refusal{
		{with(func(in *Input) { in.Tyre = Tyre{} }), "tyre", "175/65R14"},
		{with(func(in *Input) { in.SpeedKPH = 80 }), "rpm", "not both"},
		{with(func(in *Input) { in.RPM = 0 }), "rpm", "or a speed"},
		{with(func(in *Input) { in.FinalDrive = 0 }), "final_drive", "1 to 20"},
	}
	for _, v := range []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		cases = append(cases,
			refusal{with(func(in *Input) { in.RPM = v }), "rpm", "20000"},
			refusal{with(func(in *Input) { in.RPM, in.SpeedKPH = 0, v }), "speed_kph", "500 km/h"},
			refusal{with(func(in *Input) { in.FinalDrive = v }), "final_drive", "1 to 20"},
			refusal{with(func(in *Input) { in.GearRatio = v }), "gear_ratio", "direct top"},
			refusal{with(func(in *Input) { in.CircumferenceMM = v }), "circumference_mm", "5000 mm"})
	}
	for _, c := range cases {
		r, err := Road(c.in)
		var input *InputError
		require.ErrorAs(t, err, &input, "%+v", c.in)
		assert.Equal(t, c.field, input.Field, "%+v", c.in)
		assert.Contains(t, input.Accepted, c.accepted)
		assert.Zero(t, r)
	}
}

func TestSpeedometer(t *testing.T) {
	t.Parallel()
	small, big := mustTyre(t, "135/80R13"), mustTyre(t, "155/60R15")
	r, err := Speedometer(Change{From: small, To: big, IndicatedKPH: 50})
	require.NoError(t, err)
	assert.True(t, r.ReadsLow)
	assert.Less(t, r.ErrorPct, 0.0)
	assert.Contains(t, r.Caution, "reads low")
	assert.Contains(t, r.Source, "UN Regulation No. 39")
	assert.Equal(t, r.TrueKPH, r.TrueLowKPH)

	r, err = Speedometer(Change{From: big, To: small})
	require.NoError(t, err)
	assert.False(t, r.ReadsLow)
	assert.Equal(t, 100.0, r.Change.IndicatedKPH)
	assert.NotContains(t, r.Caution, "reads low")

	r, err = Speedometer(Change{From: mustTyre(t, "5.60-15"), To: mustTyre(t, "165R15")})
	require.NoError(t, err)
	assert.Less(t, r.TrueLowKPH, r.TrueKPH)
	assert.Less(t, r.TrueKPH, r.TrueHighKPH)
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "82 % taken")

	var input *InputError
	for _, c := range []Change{{}, {From: small}, {To: small}, {From: small, To: big, IndicatedKPH: math.NaN()}, {From: small, To: big, IndicatedKPH: -1}, {From: small, To: big, IndicatedKPH: 501}} {
		r, err = Speedometer(c)
		require.ErrorAs(t, err, &input, "%+v", c)
		assert.Zero(t, r)
	}
}

// A change and its reverse cancel; no change is no error.
func TestSpeedometerCancels(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from, to := drawTyre(t, "from"), drawTyre(t, "to")
		there, err := Speedometer(Change{From: from, To: to})
		require.NoError(t, err)
		back, err := Speedometer(Change{From: to, To: from})
		require.NoError(t, err)
		assert.InEpsilon(t, 100*100, there.TrueKPH*back.TrueKPH, 1e-9)
		assert.Equal(t, to.DiameterMM() > from.DiameterMM(), there.ReadsLow)
		same, err := Speedometer(Change{From: from, To: from})
		require.NoError(t, err)
		assert.InDelta(t, 0, same.ErrorPct, 1e-9)
		assert.False(t, same.ReadsLow)
	})
}

func BenchmarkRoad(b *testing.B) {
	in := Input{Tyre: mustTyre(b, "5.60-15"), FinalDrive: 4.1, GearRatio: 0.8, SpeedKPH: 96.6}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Road(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSpeedometer(b *testing.B) {
	c := Change{From: mustTyre(b, "5.60-15"), To: mustTyre(b, "165R15")}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Speedometer(c); err != nil {
			b.Fatal(err)
		}
	}
}

// A published example: 2200 revs, gear 0.76, axle 4.10, a wheel that rolls 2.288 m:
// 96.9 km/h.
func ExampleRoad() {
	r, err := Road(Input{CircumferenceMM: 2288, GearRatio: 0.76, FinalDrive: 4.10, RPM: 2200})
	fmt.Printf("%.1f km/h %v\n", r.SpeedKPH, err)
	// Output: 96.9 km/h <nil>
}

// A published example: 135/80R13 replaced by 155/60R15, at an indicated 100 km/h.
func ExampleSpeedometer() {
	from, err := ParseTyre("135/80R13")
	if err != nil {
		fmt.Println(err)
		return
	}
	to, err := ParseTyre("155/60R15")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := Speedometer(Change{From: from, To: to, IndicatedKPH: 100})
	fmt.Printf("%.1f km/h, reads low: %t %v\n", r.TrueKPH, r.ReadsLow, err)
	// Output: 103.8 km/h, reads low: true <nil>
}
