package metal

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var hostile = []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300}

func refused(t *testing.T, err error, field, accepted string) {
	t.Helper()
	var input *InputError
	require.ErrorAs(t, err, &input)
	assert.Equal(t, field, input.Field)
	assert.Contains(t, input.Accepted, accepted)
	assert.Less(t, len(err.Error()), 300)
}

func TestMassScales(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := Sheet{
			Metal:       rapid.SampledFrom([]Metal{Steel, Aluminium, Stainless}).Draw(t, "metal"),
			ThicknessMM: rapid.Float64Range(0.2, 12).Draw(t, "thickness"),
			AreaM2:      rapid.Float64Range(0.0001, 50).Draw(t, "area"),
		}
		r, err := Mass(in)
		require.NoError(t, err)
		assert.Less(t, r.LowKG, r.MassKG)
		assert.Less(t, r.MassKG, r.HighKG)
		thick, wide := in, in
		thick.ThicknessMM, wide.AreaM2 = 2*in.ThicknessMM, 2*in.AreaM2
		for _, double := range []Sheet{thick, wide} {
			d, err := Mass(double)
			require.NoError(t, err)
			assert.InEpsilon(t, 2*r.MassKG, d.MassKG, 1e-9)
		}
		assert.Contains(t, r.Source, "kg/m³")
		assert.NotEmpty(t, r.Assumptions)
	})
}

func TestMassRefusesTheImpossible(t *testing.T) {
	t.Parallel()
	for _, v := range append(hostile, 0) {
		_, err := Mass(Sheet{ThicknessMM: v, AreaM2: 1})
		refused(t, err, "thickness_mm", "25 mm")
		_, err = Mass(Sheet{ThicknessMM: 1, AreaM2: v})
		refused(t, err, "area_m2", "100 m²")
	}
	_, err := Mass(Sheet{Metal: "cheese", ThicknessMM: 1, AreaM2: 1})
	refused(t, err, "metal", "aluminium or stainless")
}

// The gauge is made so that each step sheds about a fifth of the weight of wire, so
// a tenth of the thickness; no step of the sheet gauges sheds less than 5 or more
// than 20 %. Every gauge is the nearest to itself.
func TestGaugesStepDown(t *testing.T) {
	t.Parallel()
	for g := thickestGauge; g <= thinnestGauge; g++ {
		mm, err := GaugeMM(g)
		require.NoError(t, err)
		swg, same, err := NearestGauge(mm)
		require.NoError(t, err)
		assert.Equal(t, g, swg)
		assert.Equal(t, mm, same)
		if g < thinnestGauge {
			next, err := GaugeMM(g + 1)
			require.NoError(t, err)
			assert.Greater(t, next/mm, 0.80, "gauge %d", g)
			assert.Less(t, next/mm, 0.95, "gauge %d", g)
		}
	}
	swg, _, err := NearestGauge(0.9)
	require.NoError(t, err)
	assert.Equal(t, 20, swg)
	for _, g := range []int{-7, 31, math.MaxInt, math.MinInt} {
		_, err := GaugeMM(g)
		refused(t, err, "gauge", "7/0")
	}
	for _, v := range append(hostile, 0, 0.2, 14) {
		_, _, err := NearestGauge(v)
		refused(t, err, "thickness_mm", "0.3 to 12.7 mm")
	}
}

func TestNearestGaugeIsNearest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.3, 13).Draw(t, "mm")
		_, mm, err := NearestGauge(v)
		require.NoError(t, err)
		other, err := GaugeMM(rapid.IntRange(thickestGauge, thinnestGauge).Draw(t, "other"))
		require.NoError(t, err)
		assert.LessOrEqual(t, math.Abs(mm-v), math.Abs(other-v)+1e-12)
	})
}

func TestWeldGrowsWithTheRun(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := Run{
			Metal:       rapid.SampledFrom([]Metal{Steel, Aluminium, Stainless}).Draw(t, "metal"),
			LengthM:     rapid.Float64Range(0.01, 50).Draw(t, "length"),
			LegMM:       rapid.Float64Range(0.5, 6).Draw(t, "leg"),
			WireMM:      rapid.SampledFrom([]float64{0, 0.6, 0.8, 1}).Draw(t, "wire"),
			Efficiency:  rapid.SampledFrom([]float64{0, 0.9, 1}).Draw(t, "efficiency"),
			FlowLMin:    rapid.SampledFrom([]float64{0, 8, 15}).Draw(t, "flow"),
			TravelMMMin: rapid.SampledFrom([]float64{0, 250, 500}).Draw(t, "travel"),
		}
		r, err := Weld(in)
		require.NoError(t, err)
		assert.LessOrEqual(t, r.WeldMetalG, r.WireLowG)
		assert.LessOrEqual(t, r.WireLowG, r.WireG)
		assert.LessOrEqual(t, r.GasLowL, r.GasL)
		assert.LessOrEqual(t, r.GasL, r.GasHighL)
		assert.LessOrEqual(t, r.ArcLowMin, r.ArcMin)
		assert.LessOrEqual(t, r.ArcMin, r.ArcHighMin)
		assert.Equal(t, in.FlowLMin == 0 || in.TravelMMMin == 0, r.GasLowL < r.GasHighL)

		long := in
		long.LengthM *= 2
		l, err := Weld(long)
		require.NoError(t, err)
		assert.InEpsilon(t, 2*r.WireG, l.WireG, 1e-9)
		assert.InEpsilon(t, 2*r.WireM, l.WireM, 1e-9)
		assert.InEpsilon(t, 2*r.GasL, l.GasL, 1e-9)
		thick := in
		thick.LegMM *= 2
		k, err := Weld(thick)
		require.NoError(t, err)
		assert.InEpsilon(t, 4*r.WeldMetalG, k.WeldMetalG, 1e-9)
	})
}

func TestWeldSaysItsGrounds(t *testing.T) {
	t.Parallel()
	r, err := Weld(Run{LengthM: 1.2, LegMM: 1})
	require.NoError(t, err)
	said := strings.Join(r.Assumptions, "; ")
	for _, want := range []string{"0.6 mm wire (common practice, no source)", "0.93 of the wire", "8 to 12 L/min indoors (common practice, no source)", "200 to 400 mm/min (common practice, no source)"} {
		assert.Contains(t, said, want)
	}
	for _, want := range []string{"battery", "zinc", "phosgene"} {
		assert.Contains(t, r.Caution, want)
	}
	assert.Contains(t, r.Source, "ESAB")

	r, err = Weld(Run{LengthM: 1.2, LegMM: 3, WireMM: 0.8, Efficiency: 0.95, FlowLMin: 10, TravelMMMin: 300})
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(r.Assumptions, "; "), "common practice")
	assert.Equal(t, r.WireG, r.WireLowG)
}

func TestWeldRefusesTheImpossible(t *testing.T) {
	t.Parallel()
	for _, v := range hostile {
		for _, c := range []struct {
			in              Run
			field, accepted string
		}{
			{Run{LengthM: v, LegMM: 1}, "length_m", "100 m"},
			{Run{LengthM: 1, LegMM: v}, "leg_mm", "sheet's thickness"},
			{Run{LengthM: 1, LegMM: 1, WireMM: v}, "wire_mm", "1.6 mm"},
			{Run{LengthM: 1, LegMM: 1, Efficiency: v}, "efficiency", "0.5 to 1"},
			{Run{LengthM: 1, LegMM: 1, FlowLMin: v}, "flow_l_min", "30 L/min"},
			{Run{LengthM: 1, LegMM: 1, TravelMMMin: v}, "travel_mm_min", "2000 mm/min"},
		} {
			r, err := Weld(c.in)
			refused(t, err, c.field, c.accepted)
			assert.Zero(t, r)
		}
		_, err := DepositionKGH(Steel, v, 5, 0.9)
		refused(t, err, "wire_mm", "1.6 mm")
		_, err = DepositionKGH(Steel, 0.8, v, 0.9)
		refused(t, err, "feed_m_min", "30 m/min")
		_, err = DepositionKGH(Steel, 0.8, 5, v)
		refused(t, err, "efficiency", "0.5 to 1")
	}
	_, err := Weld(Run{})
	refused(t, err, "length_m", "100 m")
	_, err = Weld(Run{LengthM: 1, LegMM: 1, Metal: "tin"})
	refused(t, err, "metal", "mild steel")
	_, err = DepositionKGH("tin", 0.8, 5, 0.9)
	refused(t, err, "metal", "mild steel")
}

func TestPlugWeldsByTheTrade(t *testing.T) {
	t.Parallel()
	r, err := PlugWelds(Flange{FlangeMM: 1000, SheetMM: 1})
	require.NoError(t, err)
	assert.Equal(t, 25, r.CountLow)
	assert.Equal(t, 40, r.CountHigh)
	assert.Equal(t, 40, r.Count)
	assert.Equal(t, 8.0, r.Input.HoleMM)
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "25 to 40 mm apart, the close end taken (common practice, no source)")
	assert.Contains(t, r.Caution, "maker's method")
	assert.Contains(t, r.Caution, "phosgene")

	r, err = PlugWelds(Flange{FlangeMM: 1000, SheetMM: 0.8, OriginalSpots: 20})
	require.NoError(t, err)
	assert.Equal(t, []int{22, 26, 26}, []int{r.CountLow, r.CountHigh, r.Count})
	assert.Equal(t, 6.0, r.Input.HoleMM)

	for sheet, holes := range map[float64][2]float64{0.7: {5, 6}, 0.8: {5, 6}, 0.9: {6, 8}, 1.2: {6, 8}, 1.5: {8, 10}, 2: {8, 10}} {
		r, err = PlugWelds(Flange{FlangeMM: 500, SheetMM: sheet, PitchMM: 30})
		require.NoError(t, err)
		assert.Equal(t, holes, [2]float64{r.HoleLowMM, r.HoleHighMM}, "%g mm sheet", sheet)
		assert.Equal(t, 17, r.Count)
	}
}

// No two welds are further apart than the pitch, and one weld fewer would be.
func TestPitchIsKept(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := Flange{
			FlangeMM: rapid.Float64Range(100, 10000).Draw(t, "flange"),
			SheetMM:  rapid.Float64Range(0.5, 2).Draw(t, "sheet"),
			PitchMM:  rapid.Float64Range(20, 100).Draw(t, "pitch"),
		}
		r, err := PlugWelds(in)
		require.NoError(t, err)
		assert.LessOrEqual(t, r.PitchMM, in.PitchMM*(1+1e-9))
		assert.Greater(t, in.FlangeMM/(float64(r.Count)-1), in.PitchMM*(1-1e-9))
		assert.Greater(t, r.WireG, 7.85*r.MetalCM3)
	})
}

func TestPlugWeldsRefuseTheImpossible(t *testing.T) {
	t.Parallel()
	good := Flange{FlangeMM: 500, SheetMM: 1}
	with := func(change func(*Flange)) Flange {
		in := good
		change(&in)
		return in
	}
	type refusal struct {
		in              Flange
		field, accepted string
	}
	cases := []refusal{
		{Flange{}, "flange_mm", "10000 mm"},
		{with(func(in *Flange) { in.SheetMM = 3 }), "sheet_mm", "procedure"},
		{with(func(in *Flange) { in.OriginalSpots = -1 }), "original_spots", "1000"},
		{with(func(in *Flange) { in.OriginalSpots = math.MaxInt }), "original_spots", "1000"},
		{with(func(in *Flange) { in.OriginalSpots = 100 }), "original_spots", "do not fit"},
		{with(func(in *Flange) { in.OriginalSpots, in.PitchMM = 10, 30 }), "pitch_mm", "either"},
		// Close pitch, large hole: the holes would run into each other.
		{with(func(in *Flange) { in.PitchMM, in.HoleMM = 15, 12 }), "pitch_mm", "at least 18 mm"},
	}
	for _, v := range hostile {
		cases = append(cases,
			refusal{with(func(in *Flange) { in.FlangeMM = v }), "flange_mm", "10000 mm"},
			refusal{with(func(in *Flange) { in.SheetMM = v }), "sheet_mm", "0.5 to 2 mm"},
			refusal{with(func(in *Flange) { in.PitchMM = v }), "pitch_mm", "15 to 100 mm"},
			refusal{with(func(in *Flange) { in.HoleMM = v }), "hole_mm", "4 to 12 mm"})
	}
	for _, c := range cases {
		r, err := PlugWelds(c.in)
		refused(t, err, c.field, c.accepted)
		assert.Zero(t, r)
	}
}

func FuzzWeld(f *testing.F) {
	f.Add("", 1.2, 1.0, 0.8, 0.93, 10.0, 300.0)
	f.Add("aluminium", math.Inf(1), -1.0, math.NaN(), 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, metal string, length, leg, wire, eff, flow, travel float64) {
		r, err := Weld(Run{Metal: Metal(metal), LengthM: length, LegMM: leg, WireMM: wire, Efficiency: eff, FlowLMin: flow, TravelMMMin: travel})
		if err != nil {
			var input *InputError
			require.ErrorAs(t, err, &input)
			return
		}
		require.True(t, r.WireG > 0 && r.WireM > 0 && r.GasL > 0 && !math.IsInf(r.WireM+r.GasHighL, 0), "%+v", r)
	})
}

func BenchmarkMass(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Mass(Sheet{ThicknessMM: 0.9, AreaM2: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWeld(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Weld(Run{LengthM: 1.2, LegMM: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlugWelds(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PlugWelds(Flange{FlangeMM: 1000, SheetMM: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

// A square metre of 0.9 mm steel: 7850 · 0.0009 = 7.065 kg.
func ExampleMass() {
	r, err := Mass(Sheet{ThicknessMM: 0.9, AreaM2: 1})
	fmt.Printf("%.3f kg %v\n", r.MassKG, err)
	// Output: 7.065 kg <nil>
}

// BS 3737: 18 SWG is 0.048 in.
func ExampleGaugeMM() {
	mm, err := GaugeMM(18)
	fmt.Printf("%.4f mm %v\n", mm, err)
	// Output: 1.2192 mm <nil>
}

// The ESAB filler metal handbook's formula: 2 m of 3 mm fillet at 0.93 takes 76 g of
// wire.
func ExampleWeld() {
	r, err := Weld(Run{LengthM: 2, LegMM: 3, Efficiency: 0.93})
	fmt.Printf("%.0f g %v\n", r.WireG, err)
	// Output: 76 g <nil>
}

func ExamplePlugWelds() {
	r, err := PlugWelds(Flange{FlangeMM: 1000, SheetMM: 1, PitchMM: 25, HoleMM: 8})
	fmt.Printf("%d plugs, %.2f cm³ %v\n", r.Count, r.MetalCM3, err)
	// Output: 40 plugs, 2.61 cm³ <nil>
}
