package repair

// Spread is a figure with its spread.
type Spread struct{ Low, Likely, High float64 }

// Sure is a figure that does not vary.
func Sure(v float64) Spread { return Spread{v, v, v} }

// RateID names a rate.
type RateID int

// The rates. Hours are of one person.
const (
	SetUp        RateID = iota // hours to make a car safe to weld on
	CutPerM                    // hours a metre cut and cleaned
	ButtPerM                   // hours a metre of butt weld, dressed
	PerPlug                    // hours a plug weld: drill, clean, weld, grind
	PerPatch                   // hours a patch: template, trial, trim
	FormPerM2                  // hours a m² of sheet formed
	FitPart                    // hours to fit a part panel
	FitPanel                   // hours to take off and fit a welded panel
	FitHung                    // hours to take off and hang a panel
	PerDent                    // hours a dent
	DentPerM2                  // hours a m² of dent, 10 mm deep
	ScrapePerM2                // hours a m² of filler or pits taken back to metal
	PerBlock                   // hours a place filled and blocked
	BlockPerM2                 // hours a m² filled and blocked
	Beyond                     // sides of what is to be cut by what is seen of it
	Margin                     // mm cut back beyond what is seen
	Feather                    // mm filled and blocked beyond it
	PlugPitch                  // mm between plug welds
	SectionTimes               // part panel by the patches it takes in, in area
	SheetTimes                 // sheet used by sheet let in
	FillerMM                   // mm of filler put on, on average
	FillerKGPerL               // density of filler
	GasPerPlug                 // L of gas a plug weld
	rates
)

// Rates are what the weighing counts with.
type Rates [rates]Spread

// lastHours is the last of the rates that are hours.
const lastHours = BlockPerM2

var rateNames = [rates]string{
	SetUp: "hours to make safe and set up", CutPerM: "hours a metre cut and cleaned", ButtPerM: "hours a metre of butt weld, dressed",
	PerPlug: "hours a plug weld", PerPatch: "hours a patch, made and tried", FormPerM2: "hours a m² of sheet formed",
	FitPart: "hours to fit a part panel", FitPanel: "hours to take off and fit a welded panel", FitHung: "hours to take off and hang a panel",
	PerDent: "hours a dent", DentPerM2: "hours a m² of dent 10 mm deep", ScrapePerM2: "hours a m² taken back to metal",
	PerBlock: "hours a place filled and blocked", BlockPerM2: "hours a m² filled and blocked",
	Beyond: "sides of the damage by what is seen of it", Margin: "mm cut back beyond that", Feather: "mm filled beyond the seam", PlugPitch: "mm between plug welds",
	SectionTimes: "part panel by the patches in it", SheetTimes: "sheet used by sheet let in",
	FillerMM: "mm of filler put on", FillerKGPerL: "kg a litre of filler", GasPerPlug: "litres of gas a plug weld",
}

// Name says what a rate is.
func (r RateID) Name() string { return rateNames[r] }

// CommonPractice gives the rates of the trade: common practice, no source, but for
// the spacing of plug welds and the greatest thickness of filler, which are the
// trade's rules of thumb too.
func CommonPractice() Rates {
	return Rates{
		SetUp: {0.3, 0.5, 1}, CutPerM: {0.3, 0.5, 1}, ButtPerM: {1.5, 2.5, 4.5}, PerPlug: {0.05, 0.08, 0.14},
		PerPatch: {0.4, 0.75, 1.5}, FormPerM2: {4, 8, 20}, FitPart: {2, 4, 8}, FitPanel: {4, 8, 16}, FitHung: {2, 4, 8},
		PerDent: {0.3, 0.6, 1.2}, DentPerM2: {10, 20, 40}, ScrapePerM2: {4, 7, 14}, PerBlock: {0.3, 0.5, 1}, BlockPerM2: {4, 8, 15},
		Beyond: {1, 1, 1.6}, Margin: {15, 25, 45}, Feather: {50, 75, 120}, PlugPitch: {25, 30, 40}, SectionTimes: {1.2, 1.5, 2.5}, SheetTimes: {1.2, 1.4, 2},
		FillerMM: {0.3, 0.7, 1.5}, FillerKGPerL: {1.1, 1.2, 1.4}, GasPerPlug: {0.3, 0.5, 1},
	}
}

func (r Rates) check() error {
	for id, s := range r {
		for _, v := range []float64{s.Low, s.Likely, s.High} {
			if err := within(RateID(id).Name(), v, 0, 1000, "a rate"); err != nil {
				return err
			}
		}
		if s.Low > s.Likely || s.Likely > s.High {
			return refuse(RateID(id).Name(), s.Likely, "give a rate from %g to %g, the low one first", s.Low, s.High)
		}
	}
	return within(PlugPitch.Name(), r[PlugPitch].Low, 15, 100, "mm")
}
