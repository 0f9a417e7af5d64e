package metal

import (
	"fmt"

	"bayword/internal/unit"
)

// Metal is what a sheet or a wire is made of; the zero value is mild steel.
type Metal string

// The metals of a request.
const (
	Steel     Metal = ""
	Aluminium Metal = "aluminium"
	Stainless Metal = "stainless"
)

const metals = "use aluminium or stainless, or leave it out for mild steel"

// density in kg/m³ and its source.
func (m Metal) density() (kgM3 float64, source string, err error) {
	switch m {
	case Steel:
		return 7850, "steel 7850 kg/m³ (EN 1993-1-2 3.2.2, from memory)", nil
	case Aluminium:
		return 2700, "aluminium 2700 kg/m³ (EN 1999-1-1 3.2.5, from memory)", nil
	case Stainless:
		return 7900, "stainless steel 1.4301 7900 kg/m³ (EN 10088-1, from memory)", nil
	}
	return 0, "", refuse("metal", string(m), metals)
}

// Sheet is a flat piece; a pressed panel has the area it had flat.
type Sheet struct {
	Metal       Metal
	ThicknessMM float64
	AreaM2      float64
}

// SheetMass is what a sheet weighs.
type SheetMass struct {
	Input         Sheet
	MassKG        float64
	LowKG, HighKG float64 // with the thickness 10 % off

	Assumptions []string
	Source      string
}

// Mass computes m = ρ·A·t. It fails with *InputError.
func Mass(in Sheet) (SheetMass, error) {
	rho, source, err := in.Metal.density()
	if err != nil {
		return SheetMass{}, err
	}
	if !(in.ThicknessMM >= 0.2 && in.ThicknessMM <= 25) {
		return SheetMass{}, refuse("thickness_mm", in.ThicknessMM, "give 0.2 to 25 mm")
	}
	if !(in.AreaM2 >= 0.0001 && in.AreaM2 <= 100) {
		return SheetMass{}, refuse("area_m2", in.AreaM2, "give 0.0001 to 100 m²")
	}
	m := rho * in.AreaM2 * in.ThicknessMM / 1000
	const off = 0.1
	return SheetMass{
		Input: in, MassKG: m, LowKG: m * (1 - off), HighKG: m * (1 + off),
		Assumptions: []string{source, fmt.Sprintf("thickness within %g %% (common practice, no source); no coating", off*100)},
		Source:      "m = ρ·A·t; density of " + source,
	}, nil
}

// gaugeInch is the British Standard Wire Gauge from 7/0 to 30 in inches, BS
// 3737:1964, read in a reproduction of the table; its entry i is gauge i − 6, where
// 0 is 1/0, -1 is 2/0, and so on.
var gaugeInch = []float64{
	0.500, 0.464, 0.432, 0.400, 0.372, 0.348, 0.324,
	0.300, 0.276, 0.252, 0.232, 0.212, 0.192, 0.176, 0.160, 0.144, 0.128,
	0.116, 0.104, 0.092, 0.080, 0.072, 0.064, 0.056, 0.048, 0.040, 0.036,
	0.032, 0.028, 0.024, 0.022, 0.020, 0.018, 0.0164, 0.0148, 0.0136, 0.0124,
}

const (
	thickestGauge = -6 // 7/0
	thinnestGauge = 30
)

// GaugeMM is the thickness of a British Standard Wire Gauge in mm, by which old
// British sheet was sold; 0 is 1/0, -1 is 2/0, to -6 for 7/0. American sheet gauges
// are others. It fails with *InputError.
func GaugeMM(swg int) (float64, error) {
	if swg < thickestGauge || swg > thinnestGauge {
		return 0, refuse("gauge", swg, "use 30 to 1, or 0 to -6 for 1/0 to 7/0")
	}
	return gaugeInch[swg-thickestGauge] * unit.InchMM, nil
}

// NearestGauge is the gauge nearest in thickness to a sheet in mm, and how thick it
// is; of two as near, the thicker. It fails with *InputError outside the table.
func NearestGauge(thicknessMM float64) (swg int, gaugeMM float64, err error) {
	thick, thin := gaugeInch[0]*unit.InchMM, gaugeInch[len(gaugeInch)-1]*unit.InchMM
	if !(thicknessMM >= thin-0.02 && thicknessMM <= thick+0.5) {
		return 0, 0, refuse("thickness_mm", thicknessMM, "give %.1f to %.1f mm", thin, thick)
	}
	best := 0
	for i, g := range gaugeInch {
		if abs(g*unit.InchMM-thicknessMM) < abs(gaugeInch[best]*unit.InchMM-thicknessMM) {
			best = i
		}
	}
	return best + thickestGauge, gaugeInch[best] * unit.InchMM, nil
}

func abs(v float64) float64 { return max(v, -v) }
