package repair

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/calc/metal"
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

func weigh(t require.TestingT, in Input) Advice {
	ad, err := Weigh(in, rand.NewPCG(3, 5))
	require.NoError(t, err)
	return ad
}

// likely are the likely rates alone, so that every case is the same but for gas.
func likely() *Rates {
	r := CommonPractice()
	for id, s := range r {
		r[id] = Sure(s.Likely)
	}
	return &r
}

var wing = Panel{Name: "rear wing", AreaM2: 0.9}

func hole(w, h float64) Find { return Find{Name: "find 1", Kind: Hole, Width: w, Height: h} }

// A hole of 180 by 60 mm, cut back 25 mm, in 0.9 mm sheet.
//
//	patch  230 × 110 mm = 0.0253 m², 2·(230 + 110) = 680 mm to cut and weld
//	       set up 0.5, patch 0.75, form 0.0253·8, cut 0.68·0.5, weld 0.68·2.5: 3.4924 h
//	       block (230 + 150)·(110 + 150) mm = 0.0988 m²: 0.5 + 0.0988·8 = 1.2904 h
//	       filler 0.0988 m² · 0.7 mm · 1.2 kg/L, steel 0.0253·1.4
//	       wire ½·(2·0.9)²·0.68 m·7850 kg/m³/0.93
//	part   0.0253·1.5 = 0.03795 m²: 137.75 × 275.5 mm; weld 551.0, cut 826.5 mm, 10 plugs
//	       0.5 + 4 + 0.3036 + 0.41325 + 1.3775 + 0.8, block 0.5 + 0.10515·8: 8.7355 h
//	panel  0.9 m²: 670.8 × 1341.6 mm; 3354.1/30 = 112 plugs, 670.8 mm to cut and weld
//	       0.5 + 8 + 0.67082·3 + 8.96, block 0.5 + 0.82082·0.15·8: 20.957 h
func TestOneHoleByHand(t *testing.T) {
	t.Parallel()
	ad := weigh(t, Input{Finds: []Find{hole(180, 60)}, Panel: wing, Rates: likely(), LabourRate: 52, PanelPrice: &Price{Amount: 410, From: "part 1", LeadDays: 2}})
	require.Len(t, ad.Options, 3)
	p := ad.Options[0]
	for want, got := range map[float64]Spread{
		680: p.CutMM, 0: p.PlugWelds, 0.0253 * 1.4: p.SteelM2, 0.0988 * 0.7 * 1.2: p.FillerKG,
		3.4924: p.MetalHours, 1.2904: p.BlockingHours, 4.7828: p.Hours, 4.7828 * 52: p.Cost,
		1.62e-6 * 0.68 * 7850 / 0.93: p.WireKG,
	} {
		assert.InDelta(t, want, got.Low, 1e-9)
		assert.InDelta(t, want, got.Likely, 1e-9)
		assert.InDelta(t, want, got.High, 1e-9)
	}
	assert.Equal(t, p.CutMM, p.WeldMM)
	assert.Greater(t, p.GasL.Low, 680*8.0/400, "8 L/min at 400 mm/min")
	assert.Less(t, p.GasL.High, 680*12.0/200)
	assert.Nil(t, p.Price)

	part := ad.Options[1]
	assert.InDelta(t, 551.0, part.WeldMM.Likely, 0.05)
	assert.InDelta(t, 826.5, part.CutMM.Likely, 0.05)
	assert.InDelta(t, 10, part.PlugWelds.Likely, 0)
	assert.InDelta(t, 8.7355, part.Hours.Likely, 1e-3)
	assert.InDelta(t, 0.03795*1.4, part.SteelM2.Likely, 1e-9)

	whole := ad.Options[2]
	assert.InDelta(t, 670.82, whole.WeldMM.Likely, 0.01)
	assert.InDelta(t, 112, whole.PlugWelds.Likely, 0)
	assert.InDelta(t, 20.957, whole.Hours.Likely, 1e-3)
	assert.InDelta(t, 20.957*52+410, whole.Cost.Likely, 0.1)
	assert.Equal(t, 2, whole.Price.LeadDays)

	assert.Equal(t, Patch, ad.Advised)
	assert.InDelta(t, 1, ad.Confidence, 0, "nothing varies")
	assert.Equal(t, []Way{Patch, PartPanel, Whole}, ad.Compared)
	assert.Equal(t, "patch costs less than part panel and panel", ad.Why)
	assert.Equal(t, "find 1: hole 180 × 60 mm, cut back 25 mm: patch of 230 × 110 mm, 680 mm to cut and weld", ad.Steps[0])
	assert.Equal(t, "patch it", p.Todo)
	assert.Contains(t, ad.Caution, "Before welding: battery off")
	assert.NotContains(t, ad.Caution, "structural")
}

// A dent of 90 by 90 mm, 20 mm deep: 0.6 + 20·0.0081·20/10 = 0.924 h, and 240 × 240 mm
// to block: 0.5 + 8·0.0576 = 0.9608 h. A crack of 100 mm is welded over 150 mm: 0.5 to
// set up, 0.075 + 0.375. Filler hides a dent: 0.6 + 20·0.0225 + 7·0.0225. Pits are
// scraped: 7·0.0225. Paint is blocked alone. What is not welded has no caution for
// welding.
func TestWhatIsNotCutOut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		find        Find
		metal       float64
		blocked     float64 // m²
		part, whole string
		todo        string
	}{
		{Find{Kind: Dent, Width: 90, Height: 90, Depth: 20}, 0.924, 0.24 * 0.24, "nothing is to be cut out", "", "dress it out, fill and block"},
		{Find{Kind: Crack, Width: 100}, 0.95, 0.3 * 0.15, "nothing is to be cut out", "", "grind it out and weld it up"},
		{Find{Kind: Filler, Width: 150, Height: 150}, 1.2075, 0.09, "nothing is to be cut out", "", "take the filler out, dress what is under it, fill and block"},
		{Find{Kind: Pitting, Width: 150, Height: 150}, 0.1575, 0.09, "nothing is to be cut out", "only the surface", "take it back to bright metal, fill and block"},
		{Find{Kind: Paint}, 0, 0.09, "nothing is to be cut out", "only the surface", "flat it and refinish it"},
	} {
		ad := weigh(t, Input{Finds: []Find{c.find}, Panel: wing, Rates: likely(), LabourRate: 50, PanelPrice: &Price{}})
		p := ad.Options[0]
		assert.InDelta(t, c.metal, p.MetalHours.Likely, 1e-9, "%v", c.find)
		assert.InDelta(t, 0.5+8*c.blocked, p.BlockingHours.Likely, 1e-9, "%v", c.find)
		assert.Contains(t, ad.Options[1].RuledOut, c.part)
		assert.Contains(t, ad.Options[2].RuledOut, c.whole)
		assert.Equal(t, c.whole == "", ad.Options[2].RuledOut == "")
		assert.Equal(t, Patch, ad.Advised)
		assert.Equal(t, c.todo, p.Todo)
		welded := c.find.Kind == Crack
		assert.Equal(t, welded, strings.Contains(ad.Caution, "welding"), ad.Caution)
		assert.Equal(t, !welded, strings.Contains(ad.Caution, "when you sand"), ad.Caution)
	}
}

// Structure is cut where pits and filler would be dressed elsewhere, has one long
// side on a flange, and is neither filled nor patched over: 200 × 200 mm in the
// floor, cut back 25 mm, is 250/30 = 9 plugs.
func TestStructure(t *testing.T) {
	t.Parallel()
	floor := Panel{Name: "floor", AreaM2: 2.2, Structural: true, Hidden: true}
	for _, k := range []Kind{Rust, Pitting, Filler, Hole} {
		ad := weigh(t, Input{Finds: []Find{{Name: "find 4", Kind: k, Width: 200, Height: 200}}, Panel: floor, Rates: likely()})
		p := ad.Options[0]
		assert.InDelta(t, 1000, p.WeldMM.Likely, 1e-9, k)
		assert.InDelta(t, 9, p.PlugWelds.Likely, 0, k)
		assert.Zero(t, p.FillerKG.High, k)
		assert.Zero(t, p.BlockingHours.High, k)
		for _, want := range []string{"The floor is structural", "licensed", "local roadworthiness rules", "sound metal", "Never patch over rust", "battery", "tank", "extinguisher"} {
			assert.Contains(t, ad.Caution, want)
		}
		assert.Contains(t, ad.CheckFirst[0], "support the shell")
		assert.Contains(t, ad.Assumptions, "1.2 mm sheet (common practice, no source): measure it beside the hole")
		assert.Contains(t, ad.Assumptions, "no labour rate on record: hours are compared, not money")
		assert.Contains(t, ad.Why, "hours")
	}
}

func TestRuledOut(t *testing.T) {
	t.Parallel()
	old := Find{Name: "find 2", Kind: OldRepair, Width: 420, Height: 200}
	under := hole(50, 50)
	under.OnOldRepair = true
	holes := hole(80, 80)
	holes.Count = 30
	for _, c := range []struct {
		name  string
		finds []Find
		panel Panel
		want  [3]string // in part, empty for not ruled out
	}{
		{"an old repair", []Find{old}, wing, [3]string{"find 2 is at an old repair", "", ""}},
		{"a hole behind one", []Find{under}, wing, [3]string{"find 1 is at an old repair", "", ""}},
		// (80 + 50)² mm · 30 = 0.507 m² of 0.9
		{"rust all over", []Find{holes}, wing, [3]string{"56 % of the panel", "nearly the whole", ""}},
		// 500 · 1000 mm · 1.5 is more than 0.7 m² of 0.9
		{"a big one", []Find{hole(950, 450)}, wing, [3]string{"56 %", "nearly the whole", ""}},
		{"the whole body", []Find{hole(50, 50)}, Panel{NoPanel: true}, [3]string{"", "no one panel", "no one panel"}},
		{"no size on record", []Find{hole(50, 50)}, Panel{Name: "a-post"}, [3]string{"", "", "not on record"}},
		{"a bonnet of no size", []Find{hole(50, 50)}, Panel{Name: "bonnet", Hung: true}, [3]string{"", "", ""}},
	} {
		ad := weigh(t, Input{Finds: c.finds, Panel: c.panel, LabourRate: 52, PanelPrice: &Price{Amount: 100}})
		for i, want := range c.want {
			got := ad.Options[i].RuledOut
			assert.Equal(t, want == "", got == "", "%s %s: %s", c.name, ways[i], got)
			assert.Contains(t, got, want, c.name)
			if got != "" {
				assert.NotEqual(t, ways[i], ad.Advised, c.name)
				assert.NotContains(t, ad.Compared, ways[i])
				assert.Contains(t, ad.Why, got)
			}
		}
		assert.NotEmpty(t, ad.Advised, c.name)
	}
	ad := weigh(t, Input{Finds: []Find{{Name: "x", Kind: OldRepair}}, Panel: Panel{NoPanel: true}})
	assert.Empty(t, ad.Advised)
	assert.Equal(t, "no way is left that could be advised", ad.Why)
}

// Without a price a whole panel is not compared, but for how cheap it would have to
// be; when nothing else is left it is advised all the same.
func TestNoPriceIsNotFree(t *testing.T) {
	t.Parallel()
	finds := []Find{{Name: "find 1", Kind: Rust, Width: 300, Height: 150, Count: 4}}
	in := Input{Finds: finds, Panel: wing, Rates: likely(), LabourRate: 52}
	ad := weigh(t, in)
	whole := ad.Options[2]
	assert.True(t, whole.CostPartly)
	assert.Equal(t, []Way{Patch, PartPanel}, ad.Compared)
	assert.Equal(t, PartPanel, ad.Advised)
	assert.InDelta(t, max(ad.Options[1].MeanCost-whole.MeanCost, 0), ad.BreakEven, 1e-9)
	assert.Contains(t, ad.Why, "panel of unknown price")
	assert.Contains(t, ad.Assumptions, "no price of the panel on record: the cost of replacing it is the labour alone")

	in.Finds = []Find{{Name: "find 1", Kind: Rust, Width: 500, Height: 300, Count: 3}}
	ad = weigh(t, in)
	assert.NotEmpty(t, ad.Options[0].RuledOut)
	assert.NotEmpty(t, ad.Options[1].RuledOut)
	assert.Equal(t, Whole, ad.Advised)
	assert.Empty(t, ad.Compared)
	assert.Zero(t, ad.Confidence, "it is the cheapest of nothing")
	assert.Contains(t, ad.Why, "panel is the only way left; panel of unknown price")
	assert.Zero(t, ad.BreakEven)

	in.Finds, in.PartPrice = finds, &Price{Amount: 60}
	part := weigh(t, in).Options[1]
	assert.Zero(t, part.SteelM2.Likely, "it is bought, not made")
	assert.InDelta(t, part.Hours.Likely*52+60, part.Cost.Likely, 1e-9)
}

// With no labour rate the least hours are taken: a part panel for four holes, though
// it has a price and patches have none.
func TestWithoutALabourRateHoursDecide(t *testing.T) {
	t.Parallel()
	in := Input{Finds: []Find{{Kind: Rust, Width: 300, Height: 150, Count: 4}}, Panel: wing, Rates: likely(), PartPrice: &Price{Amount: 60}}
	ad := weigh(t, in)
	assert.Less(t, ad.Options[1].Hours.Likely, ad.Options[0].Hours.Likely)
	assert.Equal(t, PartPanel, ad.Advised)
	assert.Zero(t, ad.BreakEven)
}

// A part panel is no greater than the panel: a hole of 1050 by 750 mm with its margin,
// half as much again, would be 1.18 m² of 0.9.
func TestAPartPanelIsNoGreaterThanThePanel(t *testing.T) {
	t.Parallel()
	ad := weigh(t, Input{Finds: []Find{hole(1000, 700)}, Panel: wing, Rates: likely()})
	assert.InDelta(t, 2*1341.64, ad.Options[1].WeldMM.Likely, 0.01)
	assert.InDelta(t, 0.9*1.4, ad.Options[1].SteelM2.Likely, 1e-9)
}

// What is seen may be half of it: 180 × 60 mm grown by half and cut back 25 mm is
// 320 × 140 mm, 920 mm to cut. Of what is missing all is seen.
func TestRustIsMoreThanIsSeen(t *testing.T) {
	t.Parallel()
	rates := likely()
	rates[Beyond] = Sure(1.5)
	for kind, want := range map[Kind]float64{Hole: 920, Rust: 920, Missing: 680} {
		ad := weigh(t, Input{Finds: []Find{{Kind: kind, Width: 180, Height: 60}}, Panel: wing, Rates: rates})
		assert.InDelta(t, want, ad.Options[0].CutMM.Likely, 1e-9, kind)
	}
}

// A panel to hang takes 2 to 8 hours, most likely 4: by the triangle a fifth of the
// cases are below 2 + √(0.2·6·2), half below 8 − √(0.5·6·4), four fifths below
// 8 − √(0.2·6·4). A case lies within four standard errors of 1000 cases.
func TestSpreadIsFourInFive(t *testing.T) {
	t.Parallel()
	rates := likely()
	rates[FitHung] = Spread{2, 4, 8}
	h := weigh(t, Input{Finds: []Find{hole(50, 50)}, Panel: Panel{Name: "bonnet", Hung: true}, Rates: rates}).Options[2].Hours
	assert.InDelta(t, 3.549, h.Low, 0.2)
	assert.InDelta(t, 4.536, h.Likely, 0.3)
	assert.InDelta(t, 5.809, h.High, 0.3)
}

func TestNothingToRepair(t *testing.T) {
	t.Parallel()
	ad := weigh(t, Input{Panel: wing})
	assert.Empty(t, ad.Options)
	assert.Empty(t, ad.Advised)
	assert.Empty(t, ad.CheckFirst)
	assert.Equal(t, "nothing is open on it", ad.Why)
}

func TestSizesNobodySaid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in   Find
		w, h float64
		says string
	}{
		{Find{Kind: Hole, Diameter: 40}, 40, 40, ""},
		{Find{Kind: Hole, Width: 70}, 70, 70, "one size"},
		{Find{Kind: Rust}, 100, 100, "measure it"},
		{Find{Kind: Crack, Width: 70}, 70, 0, ""},
		{Find{Kind: Crack}, 60, 0, "measure it"},
	} {
		got, says := c.in.size()
		assert.InDelta(t, c.w, got.Width, 0)
		assert.InDelta(t, c.h, got.Height, 0)
		assert.Contains(t, says, c.says)
		assert.Equal(t, c.says == "", says == "")
		assert.Equal(t, 1, got.Count)
	}
}

// Plug welds and gas follow calc/metal.
func TestConsumablesAreThoseOfMetal(t *testing.T) {
	t.Parallel()
	in := Input{Finds: []Find{hole(180, 60)}, Panel: wing, Rates: likely()}
	in.Rates[GasPerPlug] = Sure(0)
	whole := weigh(t, in).Options[2]
	flange, err := metal.PlugWelds(metal.Flange{FlangeMM: 3 * 670.82 * 5 / 3, SheetMM: 0.9, PitchMM: 30})
	require.NoError(t, err)
	assert.InDelta(t, flange.Count, whole.PlugWelds.Likely, 0)
	run, err := metal.Weld(metal.Run{LengthM: 0.67082, LegMM: 1.8})
	require.NoError(t, err)
	assert.InDelta(t, (flange.WireG+run.WireG)/1000, whole.WireKG.Likely, 1e-6)
	assert.GreaterOrEqual(t, whole.GasL.Low, run.GasLowL)
	assert.LessOrEqual(t, whole.GasL.High, run.GasHighL)
}

// Without a record the factor is 1. Two repairs of double the hours move it by
// (2·ln 2/0.16)/(1/0.09 + 2/0.16) = 0.36697. With many it becomes what they say.
func TestRatesAreUpdated(t *testing.T) {
	t.Parallel()
	f, err := Learn(nil)
	require.NoError(t, err)
	assert.InDelta(t, 1, f.Median(), 0)
	assert.InDelta(t, 0.3, f.LogSD, 1e-12)
	assert.Contains(t, f.Assumption, "common practice alone")

	f, err = Learn([]Closed{{4, 8}, {3, 6}})
	require.NoError(t, err)
	assert.InDelta(t, 0.36697, f.LogMean, 1e-5)
	assert.Contains(t, f.Assumption, "2 closed repairs")
	ad := weigh(t, Input{Finds: []Find{hole(180, 60)}, Panel: wing, Rates: likely(), Factor: Factor{LogMean: math.Log(2), Closed: 2}})
	assert.InDelta(t, 2*4.7828, ad.Options[0].Hours.Likely, 1e-9)
	assert.Equal(t, Rate{"hours a metre of butt weld, dressed", Sure(5), 2}, ad.Rates[ButtPerM])
	assert.Equal(t, Rate{"mm cut back beyond that", Sure(25), 0}, ad.Rates[Margin])

	last := math.Inf(1)
	for n := 1; n <= 1000; n *= 10 {
		closed := make([]Closed, n)
		for i := range closed {
			closed[i] = Closed{10, 15}
		}
		f, err = Learn(closed)
		require.NoError(t, err)
		off := math.Abs(f.Median() - 1.5)
		assert.Less(t, off, last)
		last = off
	}
	assert.Less(t, last, 0.002)
	for _, v := range append(hostile, 0) {
		_, err = Learn([]Closed{{v, 1}})
		refused(t, err, "predicted_hours", "hours")
		_, err = Learn([]Closed{{1, v}})
		refused(t, err, "actual_hours", "hours")
	}
}

func TestHostileRepairs(t *testing.T) {
	t.Parallel()
	bad := func(in Input, field, accepted string) {
		t.Helper()
		_, err := Weigh(in, rand.NewPCG(1, 2))
		refused(t, err, field, accepted)
	}
	one := func(f Find) Input { f.Kind = Hole; return Input{Finds: []Find{f}, Panel: wing} }
	good := []Find{hole(50, 50)}
	for _, v := range hostile {
		bad(one(Find{Width: v}), "width_mm", "0 to 6000")
		bad(one(Find{Height: v}), "height_mm", "0 to 6000")
		bad(one(Find{Diameter: v}), "diameter_mm", "0 to 6000")
		bad(one(Find{Depth: v}), "depth_mm", "0 to 500")
		bad(Input{Finds: good, Panel: Panel{AreaM2: v}}, "area_m2", "0 to 30")
		bad(Input{Finds: good, Panel: Panel{Length: v}}, "length_mm", "0 to 6000")
		bad(Input{Finds: good, Panel: Panel{SheetMM: v}}, "sheet_mm", "0.5 to 2")
		bad(Input{Finds: good, PanelPrice: &Price{Amount: v}}, "price", "0 to")
		bad(Input{Finds: good, LabourRate: v}, "labour_rate", "0 to 10000")
		bad(Input{Finds: good, Factor: Factor{LogSD: v}}, "factor", "0 to 2")
		rates := CommonPractice()
		rates[CutPerM].Likely = v
		bad(Input{Finds: good, Rates: &rates}, "hours a metre cut and cleaned", "")
	}
	bad(one(Find{Count: -1}), "count", "0 to 1000")
	bad(Input{Finds: []Find{{Kind: "cheese"}}}, "kind", "hole, rust")
	bad(Input{Finds: make([]Find, maxFinds+1)}, "finds", "200")
	bad(Input{Finds: good, Runs: -1}, "runs", "20000")
	bad(Input{Finds: good, Rates: &Rates{}}, "mm between plug welds", "15 to 100")
}
