package wiring

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSizesOfTheUsualCircuits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what    string
		in      Input
		areaMM2 float64
		awg     string
		fuseA   float64
		limited Limit
	}{
		{"fuel pump", Input{Amps: 15, LengthM: 4.5}, 4, "10 AWG", 20, ByDrop},
		{"fuel pump with a return wire", Input{Amps: 15, LengthM: 4.5, TwoWire: true}, 10, "6 AWG", 20, ByDrop},
		{"headlamp feed", Input{Amps: 10, LengthM: 5, Volts: 12, DropPct: 3}, 4, "10 AWG", 15, ByDrop},
		{"the same on 6 V", Input{Amps: 10, LengthM: 5, Volts: 6}, 6, "8 AWG", 15, ByDrop},
		{"fan, short", Input{Amps: 20, LengthM: 0.5}, 4, "10 AWG", 25, ByFuse},
		{"heated screen, short", Input{Amps: 28, LengthM: 0.5}, 6, "8 AWG", 40, ByRating},
		{"one bulb", Input{Amps: 0.5, LengthM: 1}, 1, "16 AWG", 3, BySmallest},
		{"dynamo", Input{Amps: 22, LengthM: 2, Circuit: Charging}, 6, "8 AWG", 30, ByFuse},
		{"starter", Input{Amps: 200, LengthM: 1.5, Circuit: Starter}, 16, "4 AWG", 0, ByDrop},
		{"thin-wall cable", Input{Amps: 8, LengthM: 4, Cable: RoadVehicle}, 2, "14 AWG", 10, ByDrop},
	} {
		r, err := Size(c.in)
		require.NoError(t, err, c.what)
		assert.Equal(t, c.areaMM2, r.AreaMM2, c.what)
		assert.Equal(t, c.awg, r.AWG.String(), c.what)
		assert.Equal(t, c.fuseA, r.FuseA, c.what)
		assert.Equal(t, c.limited, r.LimitedBy, c.what)
	}
}

func drawInput(t *rapid.T) Input {
	return Input{
		Amps:       rapid.Float64Range(0.1, 240).Draw(t, "amps"),
		LengthM:    rapid.Float64Range(0.05, 50).Draw(t, "length"),
		Volts:      rapid.SampledFrom([]float64{0, 6, 12, 24}).Draw(t, "volts"),
		DropPct:    rapid.SampledFrom([]float64{0, 1, 3, 5, 10}).Draw(t, "drop"),
		Circuit:    rapid.SampledFrom([]Circuit{Unsaid, Lighting, Charging, Starter}).Draw(t, "circuit"),
		TwoWire:    rapid.Bool().Draw(t, "two wire"),
		Cable:      rapid.SampledFrom([]Cable{Class5, RoadVehicle}).Draw(t, "cable"),
		ConductorC: rapid.SampledFrom([]float64{0, -20, 20, 60, 90}).Draw(t, "conductor"),
	}
}

// The promise: the size keeps every limit, and the size below breaks one.
func TestSmallestThatServes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		r, err := Size(in)
		if err != nil {
			var input *InputError
			require.ErrorAs(t, err, &input)
			return
		}
		serves := func(areaMM2 float64) bool {
			drop, err := VoltageDrop(in, areaMM2)
			require.NoError(t, err)
			if in.Circuit == Starter {
				return drop <= r.LimitV*(1+1e-9)
			}
			return drop <= r.LimitV*(1+1e-9) && in.Amps <= ratingOf(areaMM2) && r.FuseA <= ratingOf(areaMM2)
		}
		assert.True(t, serves(r.AreaMM2))
		sizes, _, err := in.Cable.sizes()
		require.NoError(t, err)
		for _, s := range sizes {
			if s.areaMM2 >= smallestMM2 && s.areaMM2 < r.AreaMM2 {
				assert.False(t, serves(s.areaMM2), "%g mm² would do", s.areaMM2)
			}
		}
		assert.GreaterOrEqual(t, r.DropHotV, r.DropV)
		if r.NextMM2 != 0 {
			assert.Greater(t, r.NextMM2, r.AreaMM2)
			assert.Less(t, r.NextDropV, r.DropV)
		}
		if in.Circuit != Starter {
			assert.LessOrEqual(t, in.Amps, 0.8*r.FuseA*(1+1e-9))
			assert.LessOrEqual(t, r.FuseA, r.RatingA)
		}
		assert.NotEmpty(t, r.Source)
		assert.Contains(t, r.Caution, "Disconnect the battery")
	})
}

// More current, a longer run or a warmer wire never takes a thinner cable, and the
// drop grows with each.
func TestMoreAskedTakesNoThinnerCable(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.ConductorC = rapid.Float64Range(1, 100).Draw(t, "from")
		r, err := Size(in)
		if err != nil {
			return
		}
		more := in
		switch rapid.IntRange(0, 2).Draw(t, "what") {
		case 0:
			more.Amps = rapid.Float64Range(in.Amps, 240).Draw(t, "more amps")
		case 1:
			more.LengthM = rapid.Float64Range(in.LengthM, 50).Draw(t, "longer")
		case 2:
			more.ConductorC = rapid.Float64Range(in.ConductorC, 150).Draw(t, "warmer")
		}
		before, err := VoltageDrop(in, r.AreaMM2)
		require.NoError(t, err)
		after, err := VoltageDrop(more, r.AreaMM2)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, after, before)
		if m, err := Size(more); err == nil {
			assert.GreaterOrEqual(t, m.AreaMM2, r.AreaMM2)
		}
	})
}

func TestAWGSteps(t *testing.T) {
	t.Parallel()
	// ASTM B258 defines 4/0 as 0.46 in and 36 as 0.005 in; six steps about halve the diameter.
	for g, inch := range map[AWG]float64{-3: 0.46, 36: 0.005} {
		a, err := g.AreaMM2()
		require.NoError(t, err)
		assert.InEpsilon(t, inch*25.4, 2*math.Sqrt(a/math.Pi), 1e-9)
	}
	for g := thickest; g+6 <= thinnest; g++ {
		assert.InEpsilon(t, 4, g.area()/(g+6).area(), 0.03)
	}
	for g, name := range map[AWG]string{-3: "4/0 AWG", 0: "1/0 AWG", 1: "1 AWG", 18: "18 AWG"} {
		assert.Equal(t, name, g.String())
	}
	for _, g := range []AWG{-4, 41, math.MaxInt, math.MinInt} {
		_, err := g.AreaMM2()
		var input *InputError
		require.ErrorAs(t, err, &input)
		_, err = g.SolidResistance()
		require.ErrorAs(t, err, &input)
		assert.Contains(t, input.Accepted, "4/0")
	}
}

func TestSaysWhatWasAssumed(t *testing.T) {
	t.Parallel()
	r, err := Size(Input{Amps: 15, LengthM: 4.5})
	require.NoError(t, err)
	said := strings.Join(r.Assumptions, "; ")
	for _, want := range []string{"12 V system (common practice, no source)", "3 %, as for lighting (common practice, no source)", "20 °C", "body is the return", "80 % of the fuse"} {
		assert.Contains(t, said, want)
	}
	assert.Contains(t, said, "at 60 °C the drop is 0.387 V, over the 0.36 V allowed; the next size up is 6 mm²")
	assert.Contains(t, r.Source, "IEC 60228")
	assert.Contains(t, r.Source, "33 CFR 183.425")
	assert.Contains(t, r.Caution, "fuse at the source")

	r, err = Size(Input{Amps: 5, LengthM: 2, Volts: 12, DropPct: 3, TwoWire: true, ConductorC: 60})
	require.NoError(t, err)
	said = strings.Join(r.Assumptions, "; ")
	for _, not := range []string{"12 V system", "as for lighting", "20 °C", "body"} {
		assert.NotContains(t, said, not)
	}

	r, err = Size(Input{Amps: 200, LengthM: 1.5, Circuit: Starter})
	require.NoError(t, err)
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "0.5 V in the cable, as for starter (common practice, no source)")
	assert.Zero(t, r.RatingA)
	assert.NotContains(t, r.Source, "33 CFR")
	assert.Contains(t, r.Caution, "chafe")
}

func TestSizeRefusesTheImpossible(t *testing.T) {
	t.Parallel()
	good := Input{Amps: 10, LengthM: 5}
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
		{with(func(in *Input) { in.Amps, in.LengthM = 200, 50 }), "length_m", "shorten the run"},
		{with(func(in *Input) { in.Amps = 241 }), "amps", "240 A"},
		{with(func(in *Input) { in.Amps, in.Circuit = 1001, Starter }), "amps", "1000 A"},
		{with(func(in *Input) { in.Circuit = "toaster" }), "circuit", "lighting, charging or starter"},
		{with(func(in *Input) { in.Cable = "string" }), "cable", "iso_6722"},
	}
	for _, v := range []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		cases = append(cases,
			refusal{with(func(in *Input) { in.Amps = v }), "amps", "0.1 to 240 A"},
			refusal{with(func(in *Input) { in.LengthM = v }), "length_m", "0.05 to 50 m"},
			refusal{with(func(in *Input) { in.Volts = v }), "volts", "6 to 48 V"},
			refusal{with(func(in *Input) { in.DropPct = v }), "drop_pct", "0.5 to 10 %"})
	}
	for _, v := range []float64{-41, 151, math.NaN(), math.Inf(1)} {
		cases = append(cases, refusal{with(func(in *Input) { in.ConductorC = v }), "conductor_c", "150 °C"})
	}
	cases = append(cases, refusal{with(func(in *Input) { in.Amps = 0 }), "amps", "0.1"}, refusal{with(func(in *Input) { in.LengthM = 0 }), "length_m", "0.05"})
	for _, c := range cases {
		r, err := Size(c.in)
		var input *InputError
		require.ErrorAs(t, err, &input, "%+v", c.in)
		assert.Equal(t, c.field, input.Field, "%+v", c.in)
		assert.Contains(t, input.Accepted, c.accepted)
		assert.Less(t, len(err.Error()), 300)
		assert.Zero(t, r)
	}
	var input *InputError
	_, err := VoltageDrop(good, 3)
	require.ErrorAs(t, err, &input)
	assert.Contains(t, input.Accepted, "2.5, 4, 6")
	_, err = VoltageDrop(Input{}, 4)
	require.ErrorAs(t, err, &input)
	_, err = Resistance("x", 4, 20)
	require.ErrorAs(t, err, &input)
	_, err = Resistance(Class5, math.NaN(), 20)
	require.ErrorAs(t, err, &input)
	for _, v := range []float64{0, -3, math.NaN(), math.Inf(1), 240.1} {
		_, err = Fuse(v)
		require.ErrorAs(t, err, &input)
		assert.Contains(t, input.Accepted, "240 A")
	}
}

func FuzzSize(f *testing.F) {
	f.Add(15.0, 4.5, 12.0, 3.0, 20.0, "", "", false)
	f.Add(200.0, 1.5, 6.0, 0.0, 0.0, "starter", "iso_6722", true)
	f.Fuzz(func(t *testing.T, amps, length, volts, drop, warm float64, circuit, cable string, twoWire bool) {
		r, err := Size(Input{Amps: amps, LengthM: length, Volts: volts, DropPct: drop, ConductorC: warm, Circuit: Circuit(circuit), Cable: Cable(cable), TwoWire: twoWire})
		if err != nil {
			var input *InputError
			require.ErrorAs(t, err, &input)
			return
		}
		require.True(t, r.DropV > 0 && r.DropV <= r.LimitV*(1+1e-9), "%+v", r)
	})
}

func BenchmarkSize(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(Input{Amps: 15, LengthM: 4.5}); err != nil {
			b.Fatal(err)
		}
	}
}

// A 15 A pump, 4.5 m from the battery, body return: 4 mm² of class 5 has 4.95 mΩ/m
// (IEC 60228), so 15 · 4.5 · 0.00495 = 0.334 V.
func ExampleSize() {
	r, err := Size(Input{Amps: 15, LengthM: 4.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%g mm² (%s), drop %.3f V of %.2f V, fuse %g A\n", r.AreaMM2, r.AWG, r.DropV, r.LimitV, r.FuseA)
	// Output: 4 mm² (10 AWG), drop 0.334 V of 0.36 V, fuse 20 A
}

// 10 A over 5 m of 2.5 mm² class 5, 7.98 mΩ/m (IEC 60228 Table 3), body return.
func ExampleVoltageDrop() {
	v, err := VoltageDrop(Input{Amps: 10, LengthM: 5}, 2.5)
	fmt.Printf("%.3f V %v\n", v, err)
	// Output: 0.399 V <nil>
}
