package repair

import (
	"math"

	"bayword/internal/calc/metal"
)

// Way is how a panel is put right.
type Way string

// The ways, in the order they are weighed.
const (
	Patch     Way = "patch"      // each find cut out and patched, or dressed where it is no hole
	PartPanel Way = "part panel" // a part panel let in
	Whole     Way = "panel"      // the whole panel replaced
)

var ways = []Way{Patch, PartPanel, Whole}

// Lengths are in mm, areas in m².
type quantity int

const (
	cutMM quantity = iota
	weldMM
	plugs
	steelM2
	wireKG
	gasL
	fillerKG
	metalHours
	blockHours
	hours
	cost
	quantities
)

// amounts is what a way takes in one case.
type amounts [quantities]float64

// job is an input with what is the same in every case.
type job struct {
	finds                    []Find
	panel                    Panel
	partPrice, panelPrice    *Price
	labour                   float64
	wirePerMM, wirePerPlug   float64 // kg
	gasLow, gasUsual, gasTop float64 // L a mm
}

// buttLegs is the leg of the fillet that takes as much wire as a butt weld, by the
// sheet's thickness: 2·t² is a gap of one thickness filled, with a bead on either
// side (common practice, no source).
const buttLegs = 2.0

// consumables asks calc/metal for wire and gas by the metre and the plug.
func (j *job) consumables(sheetMM float64) (assumed []string, err error) {
	run, err := metal.Weld(metal.Run{LengthM: 1, LegMM: buttLegs * sheetMM})
	if err != nil {
		return nil, err
	}
	flange, err := metal.PlugWelds(metal.Flange{FlangeMM: 1000, SheetMM: sheetMM, PitchMM: 40})
	if err != nil {
		return nil, err
	}
	j.wirePerMM, j.wirePerPlug = run.WireG/1e6, flange.WireG/float64(flange.Count)/1000
	j.gasLow, j.gasUsual, j.gasTop = run.GasLowL/1000, run.GasL/1000, run.GasHighL/1000
	return append(run.Assumptions, flange.Assumptions...), nil
}

// patch puts every find right by itself.
func (j *job) patch(v draw) amounts {
	var a amounts
	for _, f := range j.finds {
		j.mend(&a, v, f)
	}
	if a[weldMM] > 0 {
		a[metalHours] += v.r[SetUp]
	}
	return j.total(a, v, 0)
}

// mend adds one find put right by itself.
func (j *job) mend(a *amounts, v draw, f Find) {
	n := float64(f.Count)
	w, h := f.grown(v.r[Beyond], v.r[Margin])
	switch {
	case f.cut(j.panel):
		a[cutMM] += n * 2 * (w + h)
		a[weldMM] += n * 2 * (w + h)
		a[steelM2] += n * w * h / 1e6 * v.r[SheetTimes]
		a[metalHours] += n * (v.r[PerPatch] + w*h/1e6*v.r[FormPerM2])
		if j.panel.Structural { // one long side on a flange
			a[plugs] += n * math.Ceil(max(w, h)/v.r[PlugPitch])
		}
		j.block(a, v, n, w, h)
	case f.Kind == Crack:
		a[cutMM] += n * w
		a[weldMM] += n * w
		j.block(a, v, n, w, 0)
	default:
		a[metalHours] += n * j.dress(f, v)
		j.block(a, v, n, f.Width, f.Height)
	}
}

// dress is the hours of metal work on what is not cut out.
func (j *job) dress(f Find, v draw) float64 {
	area := f.Width * f.Height / 1e6
	dent := v.r[PerDent] + v.r[DentPerM2]*area*f.Depth/usualDepth
	switch f.Kind {
	case Dent:
		return dent
	case Filler: // what it hides is taken as a dent
		return dent + v.r[ScrapePerM2]*area
	case Pitting:
		return v.r[ScrapePerM2] * area
	}
	return 0
}

// block adds the filling and blocking of a place.
func (j *job) block(a *amounts, v draw, n, w, h float64) {
	if j.panel.Hidden {
		return
	}
	area := (w + 2*v.r[Feather]) * (h + 2*v.r[Feather]) / 1e6
	a[blockHours] += n * (v.r[PerBlock] + area*v.r[BlockPerM2])
	a[fillerKG] += n * area * v.r[FillerMM] * v.r[FillerKGPerL]
}

// cutArea is what the patches of all finds take together, in m².
func (j *job) cutArea(beyond, margin float64) float64 {
	sum := 0.0
	for _, f := range j.finds {
		if f.cut(j.panel) {
			w, h := f.grown(beyond, margin)
			sum += float64(f.Count) * w * h / 1e6
		}
	}
	return sum
}

// section is the area of a part panel in m², up to that of the panel.
func (j *job) section(beyond, margin, times float64) float64 {
	s := j.cutArea(beyond, margin) * times
	if whole := j.panel.area(); whole > 0 {
		s = min(s, whole)
	}
	return s
}

// part lets a part panel in around all that is cut out; what is not is put right by
// itself.
func (j *job) part(v draw) amounts {
	var a amounts
	for _, f := range j.finds {
		if !f.cut(j.panel) {
			j.mend(&a, v, f)
		}
	}
	area := j.section(v.r[Beyond], v.r[Margin], v.r[SectionTimes])
	long, short := rectangle(area)
	seam := long + 2*short
	a[cutMM] += long + seam
	a[weldMM] += seam
	a[plugs] = math.Ceil(long / v.r[PlugPitch])
	a[metalHours] += v.r[SetUp] + v.r[FitPart]
	if j.partPrice == nil {
		a[metalHours] += area * v.r[FormPerM2]
		a[steelM2] = area * v.r[SheetTimes]
	}
	j.block(&a, v, 1, seam, 0)
	return j.total(a, v, price(j.partPrice))
}

// whole replaces the panel.
func (j *job) whole(v draw) amounts {
	var a amounts
	if j.panel.Hung {
		a[metalHours] = v.r[FitHung]
		return j.total(a, v, price(j.panelPrice))
	}
	long, short := j.panel.sides()
	a[cutMM], a[weldMM] = short, short
	a[plugs] = math.Ceil((2*long + short) / v.r[PlugPitch])
	a[metalHours] = v.r[SetUp] + v.r[FitPanel]
	j.block(&a, v, 1, a[weldMM], 0)
	return j.total(a, v, price(j.panelPrice))
}

// total adds what follows from lengths and numbers, and the cost.
func (j *job) total(a amounts, v draw, price float64) amounts {
	a[wireKG] = a[weldMM]*j.wirePerMM + a[plugs]*j.wirePerPlug
	a[gasL] = a[weldMM]*(Spread{j.gasLow, j.gasUsual, j.gasTop}).at(v.gas) + a[plugs]*v.r[GasPerPlug]
	a[metalHours] += a[cutMM]/1000*v.r[CutPerM] + a[weldMM]/1000*v.r[ButtPerM] + a[plugs]*v.r[PerPlug]
	a[metalHours] *= v.factor
	a[blockHours] *= v.factor
	a[hours] = a[metalHours] + a[blockHours]
	a[cost] = a[hours]*j.labour + price
	return a
}

func price(p *Price) float64 {
	if p == nil {
		return 0
	}
	return p.Amount
}
