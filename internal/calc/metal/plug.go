package metal

import (
	"fmt"
	"math"
)

// Flange is a lapped flange to be plug welded. FlangeMM and SheetMM are needed; the
// zero value of the rest means not said.
type Flange struct {
	FlangeMM      float64 // length of the flange
	SheetMM       float64 // thickness of the sheet with the holes
	PitchMM       float64 // greatest spacing, middle to middle; 25 to 40 when 0
	OriginalSpots int     // spot welds the maker had; sets the count when given
	HoleMM        float64 // diameter; by SheetMM when 0
}

// Plugs is how many plug welds, and what they take.
type Plugs struct {
	Input Flange // as understood: HoleMM is filled in

	Count               int     // the greater end of the range: this is structure
	CountLow, CountHigh int     // equal when a pitch was given
	PitchMM             float64 // of Count welds, half of it free at either end
	HoleLowMM           float64 // usual range of holes for the sheet
	HoleHighMM          float64
	MetalCM3            float64
	WireG               float64 // steel wire, at 0.93

	Assumptions []string
	Source      string
	Caution     string
}

// What the trade does (common practice, no source).
const (
	pitchClose, pitchWide = 25.0, 40.0
	spotsLow, spotsHigh   = 1.1, 1.3
	overfill              = 1.3 // plug proud of the sheet, to be ground flat
)

// PlugWelds counts the plug welds of a flange. It fails with *InputError.
func PlugWelds(in Flange) (Plugs, error) {
	if !(in.FlangeMM >= 20 && in.FlangeMM <= 10000) {
		return Plugs{}, refuse("flange_mm", in.FlangeMM, "give 20 to 10000 mm")
	}
	low, high, ok := holeFor(in.SheetMM)
	if !ok {
		return Plugs{}, refuse("sheet_mm", in.SheetMM, "give 0.5 to 2 mm; thicker sheet is welded to a procedure, not by a rule of thumb")
	}
	p := Plugs{Input: in, HoleLowMM: low, HoleHighMM: high}
	if in.HoleMM == 0 {
		p.Input.HoleMM = high
		p.assume(fmt.Sprintf("%g mm holes, of %g to %g for this sheet (common practice, no source)", high, low, high))
	} else if !(in.HoleMM >= 4 && in.HoleMM <= 12) {
		return Plugs{}, refuse("hole_mm", in.HoleMM, "give 4 to 12 mm, or leave it out")
	}
	if err := p.count(); err != nil {
		return Plugs{}, err
	}
	p.PitchMM = in.FlangeMM / float64(p.Count)
	if err := p.fits(); err != nil {
		return Plugs{}, err
	}
	p.MetalCM3 = plugCM3(p.Count, p.Input.HoleMM, in.SheetMM)
	rho, source, err := Steel.density()
	if err != nil {
		return Plugs{}, err
	}
	p.WireG = p.MetalCM3 * rho / 1000 / efficiency
	p.assume(fmt.Sprintf("welds stand %g times the sheet high before grinding (common practice, no source); %s", overfill, source))
	p.Source = "V = n·π/4·d²·t·overfill; number, spacing and holes common practice, no source; wire ESAB filler metal handbook"
	p.Caution = "Sills, seat and belt mountings, suspension pick-ups: the maker's method, number and place come first, and the welder must be competent for structure; test a plug on scrap and tear it. Grind weld-through primer off under each plug. " + weldCaution
	return p, nil
}

// closest is the least spacing of plugs by their diameter (common practice, no
// source).
const closest = 1.5

// fits refuses holes that would leave no sheet between them.
func (p *Plugs) fits() error {
	in, least := p.Input, closest*p.Input.HoleMM
	if p.PitchMM >= least*(1-1e-9) {
		return nil
	}
	if in.OriginalSpots > 0 {
		return refuse("original_spots", in.OriginalSpots, "%d welds of %g mm do not fit %g mm: give fewer, smaller holes, or the whole length of the flange", p.Count, in.HoleMM, in.FlangeMM)
	}
	return refuse("pitch_mm", in.PitchMM, "holes of %g mm need at least %g mm between middles: give a wider pitch, smaller holes or a longer flange", in.HoleMM, least)
}

// count sets how many, by the maker's spot welds or by the spacing.
func (p *Plugs) count() error {
	in := p.Input
	if in.PitchMM != 0 && !(in.PitchMM >= 15 && in.PitchMM <= 100) {
		return refuse("pitch_mm", in.PitchMM, "give 15 to 100 mm, or leave it out")
	}
	switch {
	case in.OriginalSpots < 0 || in.OriginalSpots > 1000:
		return refuse("original_spots", in.OriginalSpots, "give 1 to 1000, or leave it out")
	case in.OriginalSpots > 0 && in.PitchMM != 0:
		return refuse("pitch_mm", in.PitchMM, "give either a pitch or the number of original spot welds")
	case in.OriginalSpots > 0:
		n := float64(in.OriginalSpots)
		p.CountLow, p.CountHigh = int(math.Ceil(n*spotsLow-1e-9)), int(math.Ceil(n*spotsHigh-1e-9))
		p.assume(fmt.Sprintf("10 to 30 %% more than the maker's %d spot welds (common practice, no source)", in.OriginalSpots))
	case in.PitchMM != 0:
		p.CountLow = atPitch(in.FlangeMM, in.PitchMM)
		p.CountHigh = p.CountLow
	default:
		p.CountLow, p.CountHigh = atPitch(in.FlangeMM, pitchWide), atPitch(in.FlangeMM, pitchClose)
		p.assume(fmt.Sprintf("%g to %g mm apart, the close end taken (common practice, no source); count the maker's spot welds if you can", pitchClose, pitchWide))
	}
	p.Count = p.CountHigh
	return nil
}

// atPitch is the least number of welds no further apart than the pitch, with half a
// spacing free at either end.
func atPitch(flangeMM, pitchMM float64) int { return int(math.Ceil(flangeMM/pitchMM - 1e-9)) }

// holeFor is the usual range of holes for a sheet (common practice, no source; the
// gaps between its classes of sheet are given to the thicker).
func holeFor(sheetMM float64) (low, high float64, ok bool) {
	switch {
	case !(sheetMM >= 0.5 && sheetMM <= 2):
		return 0, 0, false
	case sheetMM <= 0.8:
		return 5, 6, true
	case sheetMM <= 1.2:
		return 6, 8, true
	}
	return 8, 10, true
}

// plugCM3 is the weld metal of n plugs in cm³, overfill included.
func plugCM3(n int, holeMM, sheetMM float64) float64 {
	return float64(n) * math.Pi / 4 * holeMM * holeMM * sheetMM * overfill / 1000
}

func (p *Plugs) assume(what string) { p.Assumptions = append(p.Assumptions, what) }
