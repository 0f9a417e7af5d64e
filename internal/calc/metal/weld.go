package metal

import (
	"fmt"
	"math"
)

// Run is a run of MIG fillet weld. LengthM and LegMM are needed; the zero value of
// the rest means not said.
type Run struct {
	Metal       Metal
	LengthM     float64 // of weld
	LegMM       float64 // of the fillet; on a lap in thin sheet, the sheet's thickness
	WireMM      float64 // diameter; 0.6 for a leg to 1 mm, else 0.8, when 0
	Efficiency  float64 // weld metal by wire, 0.5 to 1; 0.93 when 0
	FlowLMin    float64 // gas; 8 to 12 when 0
	TravelMMMin float64 // along the seam while the arc burns; 200 to 400 when 0
}

// Consumed is what a run takes.
type Consumed struct {
	Input Run // as understood: WireMM, Efficiency, FlowLMin and TravelMMMin are filled in

	WeldMetalG                    float64
	WireG, WireM                  float64
	WireLowG                      float64 // at the best efficiency; WireG when one was given
	GasL, GasLowL, GasHighL       float64
	ArcMin, ArcLowMin, ArcHighMin float64 // minutes of arc

	Assumptions []string
	Source      string
	Caution     string
}

// What is assumed of a run (common practice, no source), but the efficiency: ESAB
// handbooks have 0.93 to 0.98 for solid wire, from CO₂ to argon (from memory).
const (
	efficiency, bestEfficiency       = 0.93, 0.98
	flowLow, flow, flowHigh          = 8.0, 10.0, 12.0
	travelSlow, travel, travelFast   = 200.0, 300.0, 400.0
	thinWireMM, usualWireMM, thinLeg = 0.6, 0.8, 1.0
)

// Weld computes wire and gas for a run. It fails with *InputError.
func Weld(in Run) (Consumed, error) {
	rho, source, err := in.Metal.density()
	if err != nil {
		return Consumed{}, err
	}
	if !(in.LengthM >= 0.01 && in.LengthM <= 100) {
		return Consumed{}, refuse("length_m", in.LengthM, "give 0.01 to 100 m of weld")
	}
	if !(in.LegMM >= 0.5 && in.LegMM <= 12) {
		return Consumed{}, refuse("leg_mm", in.LegMM, "give the leg of the fillet, 0.5 to 12 mm; on a lap in sheet, the sheet's thickness")
	}
	c := Consumed{Input: in}
	best, err := c.understand()
	if err != nil {
		return Consumed{}, err
	}
	if err := c.gas(); err != nil {
		return Consumed{}, err
	}
	in = c.Input
	c.WeldMetalG = filletKG(in.LegMM, in.LengthM, rho) * 1000
	c.WireG, c.WireLowG = c.WeldMetalG/in.Efficiency, c.WeldMetalG/best
	c.WireM = c.WireG / 1000 * wireMPerKG(in.WireMM, rho)
	c.Assumptions = append(c.Assumptions, source, "equal legs, flat face, nothing lost to tacks, burn-through or grinding back; gas is counted while the arc burns, purging and stitch starts come on top")
	c.Source = "½·a²·L·ρ and wire by efficiency: ESAB filler metal handbook; wire length ESAB MIG handbook; gas V = Q·L/v"
	c.Caution = weldCaution
	return c, nil
}

// understand checks wire and efficiency, fills in what was left out, and gives the
// best efficiency to count with.
func (c *Consumed) understand() (best float64, err error) {
	in := &c.Input
	if in.WireMM == 0 {
		in.WireMM = usualWireMM
		if in.LegMM <= thinLeg {
			in.WireMM = thinWireMM
		}
		c.assume(fmt.Sprintf("%g mm wire (common practice, no source)", in.WireMM))
	} else if !(in.WireMM >= 0.5 && in.WireMM <= 1.6) {
		return 0, refuse("wire_mm", in.WireMM, "give 0.5 to 1.6 mm, or leave it out")
	}
	if in.Efficiency == 0 {
		in.Efficiency = efficiency
		c.assume(fmt.Sprintf("%g of the wire becomes weld, up to %g (ESAB handbook, from memory)", efficiency, bestEfficiency))
		return bestEfficiency, nil
	}
	if !(in.Efficiency >= 0.5 && in.Efficiency <= 1) {
		return 0, refuse("efficiency", in.Efficiency, "give 0.5 to 1, or leave it out")
	}
	return in.Efficiency, nil
}

// gas checks flow and travel, fills in what was left out, and computes arc time
// and gas.
func (c *Consumed) gas() error {
	in := &c.Input
	lowQ, highQ := in.FlowLMin, in.FlowLMin
	if in.FlowLMin == 0 {
		in.FlowLMin, lowQ, highQ = flow, flowLow, flowHigh
		c.assume(fmt.Sprintf("gas at %g to %g L/min indoors (common practice, no source)", flowLow, flowHigh))
	} else if !(in.FlowLMin >= 3 && in.FlowLMin <= 30) {
		return refuse("flow_l_min", in.FlowLMin, "give 3 to 30 L/min, or leave it out")
	}
	slow, fast := in.TravelMMMin, in.TravelMMMin
	if in.TravelMMMin == 0 {
		in.TravelMMMin, slow, fast = travel, travelSlow, travelFast
		c.assume(fmt.Sprintf("travel of %g to %g mm/min (common practice, no source): time your own seam", travelSlow, travelFast))
	} else if !(in.TravelMMMin >= 50 && in.TravelMMMin <= 2000) {
		return refuse("travel_mm_min", in.TravelMMMin, "give 50 to 2000 mm/min, or leave it out")
	}
	mm := in.LengthM * 1000
	c.ArcMin, c.ArcLowMin, c.ArcHighMin = mm/in.TravelMMMin, mm/fast, mm/slow
	c.GasL, c.GasLowL, c.GasHighL = in.FlowLMin*c.ArcMin, lowQ*c.ArcLowMin, highQ*c.ArcHighMin
	return nil
}

func (c *Consumed) assume(what string) { c.Assumptions = append(c.Assumptions, what) }

const weldCaution = "Disconnect the battery. Nothing that burns near or behind the seam: fuel, trim, underseal, wax. " +
	"Strip zinc back 25 to 50 mm and draw off the fume. Never weld metal wetted with chlorinated cleaner: phosgene. " +
	"Extraction, mask and eye protection; a fire watch afterwards."

// filletKG is the mass of a fillet of equal legs in mm over a length in m, at a
// density in kg/m³: ½·a²·L·ρ, ESAB filler metal handbook.
func filletKG(legMM, lengthM, kgM3 float64) float64 {
	return legMM * legMM / 2 / 1e6 * lengthM * kgM3
}

// wireMPerKG is how many metres of wire are a kilogram: 1/(π/4·d²·ρ), which is how
// the ESAB MIG handbook's table of lengths is made.
func wireMPerKG(wireMM, kgM3 float64) float64 {
	return 1 / (math.Pi / 4 * wireMM * wireMM / 1e6 * kgM3)
}

// DepositionKGH is the rate at which wire becomes weld, in kg/h, from the wire's
// diameter in mm, its feed in m/min and the efficiency: π/4·d²·feed·ρ·efficiency.
// Handbooks in pounds and inches print it as 13.1·D²·WFS·EE lb/h for steel, whose
// constant is rounded 2 % low. It fails with *InputError.
func DepositionKGH(m Metal, wireMM, feedMMin, eff float64) (float64, error) {
	rho, _, err := m.density()
	if err != nil {
		return 0, err
	}
	if !(wireMM >= 0.5 && wireMM <= 1.6) {
		return 0, refuse("wire_mm", wireMM, "give 0.5 to 1.6 mm")
	}
	if !(feedMMin >= 0.5 && feedMMin <= 30) {
		return 0, refuse("feed_m_min", feedMMin, "give 0.5 to 30 m/min")
	}
	if !(eff >= 0.5 && eff <= 1) {
		return 0, refuse("efficiency", eff, "give 0.5 to 1")
	}
	return feedMMin * 60 / wireMPerKG(wireMM, rho) * eff, nil
}

// HandbookDeposition is the printed form, 13.1·D²·WFS·EE: lb/h from inches and
// inches a minute. It is here to compare with tables that are made with it.
func HandbookDeposition(wireIn, feedInMin, eff float64) float64 {
	return 13.1 * wireIn * wireIn * feedInMin * eff
}
