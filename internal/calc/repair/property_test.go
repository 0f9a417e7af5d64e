package repair

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func drawFinds(t *rapid.T) []Find {
	finds := make([]Find, rapid.IntRange(1, 5).Draw(t, "finds"))
	for i := range finds {
		finds[i] = Find{
			Kind:  rapid.SampledFrom([]Kind{Hole, Rust, Pitting, Dent, Filler, OldRepair, Crack, Missing, Paint}).Draw(t, "kind"),
			Width: rapid.Float64Range(5, 400).Draw(t, "width"), Height: rapid.Float64Range(5, 300).Draw(t, "height"),
			Depth: rapid.Float64Range(1, 30).Draw(t, "depth"), Count: rapid.IntRange(1, 4).Draw(t, "count"),
		}
	}
	return finds
}

func TestBiggerIsNeverCheaperToPatch(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := Input{
			Finds: drawFinds(t), LabourRate: 52, Runs: 30,
			Panel: Panel{AreaM2: rapid.Float64Range(0, 2).Draw(t, "area"), Structural: rapid.Bool().Draw(t, "structural"), Hidden: rapid.Bool().Draw(t, "hidden")},
		}
		small := weigh(t, in)
		assert.Equal(t, small, weigh(t, in), "the same seed, the same advice")
		in.Finds = append([]Find{}, in.Finds...)
		f := &in.Finds[rapid.IntRange(0, len(in.Finds)-1).Draw(t, "which")]
		f.Width += rapid.Float64Range(0, 300).Draw(t, "wider")
		f.Height += rapid.Float64Range(0, 300).Draw(t, "higher")
		f.Depth += rapid.Float64Range(0, 30).Draw(t, "deeper")
		f.Count += rapid.IntRange(0, 2).Draw(t, "more")
		big := weigh(t, in)
		for i := range 2 { // a whole panel is the same panel
			a, b := small.Options[i], big.Options[i]
			for _, s := range [][2]Spread{{a.CutMM, b.CutMM}, {a.WeldMM, b.WeldMM}, {a.SteelM2, b.SteelM2}, {a.WireKG, b.WireKG}, {a.Hours, b.Hours}, {a.Cost, b.Cost}} {
				assert.LessOrEqual(t, s[0].Low, s[1].Low+1e-9)
				assert.LessOrEqual(t, s[0].Likely, s[1].Likely+1e-9)
				assert.LessOrEqual(t, s[0].High, s[1].High+1e-9)
			}
			assert.LessOrEqual(t, a.MeanCost, b.MeanCost+1e-9)
		}
		assert.InDelta(t, small.Options[2].MeanCost, big.Options[2].MeanCost, 1e-9)
	})
}

func TestAdviceHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := Input{Finds: drawFinds(t), Panel: wing, LabourRate: 52, Runs: 50}
		if rapid.Bool().Draw(t, "priced") {
			in.PanelPrice = &Price{Amount: rapid.Float64Range(0, 900).Draw(t, "price")}
		}
		ad := weigh(t, in)
		for _, o := range ad.Options {
			for _, s := range []Spread{o.CutMM, o.WeldMM, o.PlugWelds, o.SteelM2, o.WireKG, o.GasL, o.FillerKG, o.MetalHours, o.BlockingHours, o.Hours, o.Cost} {
				assert.GreaterOrEqual(t, s.Low, 0.0)
				assert.LessOrEqual(t, s.Low, s.Likely)
				assert.LessOrEqual(t, s.Likely, s.High)
			}
			if o.Way == ad.Advised {
				assert.Empty(t, o.RuledOut)
				for _, other := range ad.Options {
					if other.RuledOut == "" && !other.CostPartly {
						assert.LessOrEqual(t, o.MeanCost, other.MeanCost)
					}
				}
			}
		}
		assert.GreaterOrEqual(t, ad.Confidence, 0.0)
		assert.LessOrEqual(t, ad.Confidence, 1.0)
		assert.NotEmpty(t, ad.CheckFirst)
		assert.Len(t, ad.Rates, int(rates))
		for _, r := range ad.Rates {
			assert.NotEmpty(t, r.Name)
		}
	})
}

func BenchmarkWeigh(b *testing.B) {
	in := Input{Finds: []Find{hole(180, 60), hole(50, 40), {Name: "find 3", Kind: Dent}}, Panel: wing, LabourRate: 52, PanelPrice: &Price{Amount: 410}}
	for b.Loop() {
		if _, err := Weigh(in, rand.NewPCG(1, 2)); err != nil {
			b.Fatal(err)
		}
	}
}
