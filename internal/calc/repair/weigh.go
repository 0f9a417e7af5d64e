package repair

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Price is what a panel costs, and when it can be here.
type Price struct {
	Amount   float64
	From     string // where it comes from
	LeadDays int    // until it is here; 0 when it is here or not known
}

// Input is what is weighed.
type Input struct {
	Finds  []Find
	Panel  Panel
	Rates  *Rates // CommonPractice when nil
	Factor Factor

	LabourRate float64 // of an hour; 0 when not known: hours are compared
	PartPrice  *Price  // nil: it is made in the shop
	PanelPrice *Price  // nil: not known
	Runs       int     // DefaultRuns when 0
}

// DefaultRuns is how many cases are simulated.
const (
	DefaultRuns = 1000
	maxRuns     = 20_000
)

// Option is one way with what it takes. Of every spread, one case in five is below
// Low, half below Likely, four in five below High.
type Option struct {
	Way                                    Way
	Todo                                   string // the way in words: «dress it out, fill and block»
	CutMM, WeldMM, PlugWelds, SteelM2      Spread
	WireKG, GasL, FillerKG                 Spread
	MetalHours, BlockingHours, Hours, Cost Spread // hours of one person; cost of labour and panel
	MeanCost                               float64
	Price                                  *Price // nil when none is needed or known
	CostPartly                             bool   // the panel's price is not known and not in Cost
	RuledOut                               string // why it is not to be taken; empty when it may be
}

// Rate is a rate as used.
type Rate struct {
	Name   string
	Value  Spread
	Closed int // repairs of the shop's own that it was updated from
}

// Advice is what to do. With nothing to put right it has no options.
type Advice struct {
	Input      Input // as understood: sizes are filled in
	Options    []Option
	Advised    Way     // empty when there is nothing to do, or no way is left
	Confidence float64 // share of the cases in which it is the cheapest of those compared; 0 without
	Compared   []Way   // those not ruled out whose price is known
	BreakEven  float64 // price below which a whole panel would be cheaper; 0 when that is settled
	Why        string
	CheckFirst []string
	Rates      []Rate

	Steps       []string
	Assumptions []string
	Source      string
	Caution     string
}

// draw is one case.
type draw struct {
	r      [rates]float64
	gas    float64 // 0 to 1
	factor float64
}

// at is the quantile of the triangular distribution that a share u lies below.
func (s Spread) at(u float64) float64 {
	width := s.High - s.Low
	if width <= 0 {
		return s.Likely
	}
	if u*width < s.Likely-s.Low {
		return s.Low + math.Sqrt(u*width*(s.Likely-s.Low))
	}
	return s.High - math.Sqrt((1-u)*width*(s.High-s.Likely))
}

// Weigh weighs the ways. The same source of random numbers in the same state gives
// the same advice. It fails with *InputError.
func Weigh(in Input, random *rand.PCG) (Advice, error) {
	if err := in.check(); err != nil {
		return Advice{}, err
	}
	if in.Rates == nil {
		common := CommonPractice()
		in.Rates = &common
	}
	if err := in.Rates.check(); err != nil {
		return Advice{}, err
	}
	if in.Runs == 0 {
		in.Runs = DefaultRuns
	}
	ad := Advice{Input: in, Source: source}
	if len(in.Finds) == 0 {
		ad.Why = "nothing is open on it"
		return ad, nil
	}
	j, err := ad.job()
	if err != nil {
		return Advice{}, err
	}
	t := simulate(j, in, random)
	for i, w := range ways {
		ad.Options = append(ad.Options, ad.weighed(j, w, t.cases[i]))
	}
	ad.choose(t)
	ad.explain(j)
	return ad, nil
}

func (in Input) check() error {
	if len(in.Finds) > maxFinds {
		return refuse("finds", len(in.Finds), "give at most %d", maxFinds)
	}
	for _, f := range in.Finds {
		if err := f.check(); err != nil {
			return err
		}
	}
	if err := in.Panel.check(); err != nil {
		return err
	}
	for _, p := range []*Price{in.PartPrice, in.PanelPrice} {
		if p != nil {
			if err := within("price", p.Amount, 0, 1e6, "a price"); err != nil {
				return err
			}
		}
	}
	if err := within("labour_rate", in.LabourRate, 0, 10_000, "a price of an hour"); err != nil {
		return err
	}
	if err := within("factor", in.Factor.LogMean, -3, 3, "the logarithm of a factor"); err != nil {
		return err
	}
	if err := within("factor", in.Factor.LogSD, 0, 2, "the spread of the logarithm of a factor"); err != nil {
		return err
	}
	return within("runs", float64(in.Runs), 0, maxRuns, "a number of runs")
}

// job makes an advice's input ready, and says what was assumed.
func (ad *Advice) job() (*job, error) {
	in := &ad.Input
	j := &job{panel: in.Panel, partPrice: in.PartPrice, panelPrice: in.PanelPrice, labour: in.LabourRate}
	for _, f := range in.Finds {
		sized, assumed := f.size()
		j.finds = append(j.finds, sized)
		ad.assume(assumed)
	}
	in.Finds = j.finds
	sheet, assumed := in.Panel.sheet()
	j.panel.SheetMM, in.Panel.SheetMM = sheet, sheet
	ad.assume(assumed)
	used, err := j.consumables(sheet)
	for _, a := range used {
		ad.assume(a)
	}
	return j, err
}

func (ad *Advice) assume(what string) {
	if what != "" && !slices.Contains(ad.Assumptions, what) {
		ad.Assumptions = append(ad.Assumptions, what)
	}
}

// trial is the simulated cases of each way.
type trial struct {
	cases [][]amounts
}

func simulate(j *job, in Input, random *rand.PCG) trial {
	t := trial{make([][]amounts, len(ways))}
	r := rand.New(random)
	for range in.Runs {
		v := draw{gas: r.Float64(), factor: math.Exp(in.Factor.LogMean + in.Factor.LogSD*r.NormFloat64())}
		for id, s := range in.Rates {
			v.r[id] = s.at(r.Float64())
		}
		for i, a := range []amounts{j.patch(v), j.part(v), j.whole(v)} {
			t.cases[i] = append(t.cases[i], a)
		}
	}
	return t
}

// weighed sums the cases of a way up.
func (ad *Advice) weighed(j *job, w Way, cases []amounts) Option {
	o := Option{Way: w, Todo: j.todo(w), RuledOut: j.ruledOut(w, ad.Input.Rates)}
	for q, to := range map[quantity]*Spread{
		cutMM: &o.CutMM, weldMM: &o.WeldMM, plugs: &o.PlugWelds, steelM2: &o.SteelM2, wireKG: &o.WireKG, gasL: &o.GasL,
		fillerKG: &o.FillerKG, metalHours: &o.MetalHours, blockHours: &o.BlockingHours, hours: &o.Hours, cost: &o.Cost,
	} {
		values := make([]float64, len(cases))
		for i, c := range cases {
			values[i] = c[q]
		}
		*to = spreadOf(values)
	}
	for _, c := range cases {
		o.MeanCost += c[cost] / float64(len(cases))
	}
	switch w {
	case PartPanel:
		o.Price = ad.Input.PartPrice
	case Whole:
		o.Price, o.CostPartly = ad.Input.PanelPrice, ad.Input.PanelPrice == nil
	}
	return o
}

// spreadOf gives what a fifth, half and four fifths of the values are at or below.
func spreadOf(values []float64) Spread {
	slices.Sort(values)
	at := func(p float64) float64 { return values[max(int(math.Ceil(p*float64(len(values))-1e-9))-1, 0)] }
	return Spread{at(0.2), at(0.5), at(0.8)}
}

const source = "cut, weld and patch by geometry; rates common practice, no source; " +
	"wire and gas ESAB handbooks; factor from closed repairs by the update of a normal mean, Gelman and others, Bayesian Data Analysis, section 2.5"
