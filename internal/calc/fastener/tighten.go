package fastener

import (
	"fmt"
	"math"
	"strings"
)

// utilisation is ν of VDI 2230-1: the part of the yield strength used.
const utilisation = 0.9

// Input is what is known of a joint. Thread and Grade are needed; the zero
// value of the rest means not said.
type Input struct {
	Thread      Thread
	Grade       Grade
	Lubrication Lubrication
	Into        Material
	EngagedMM   float64 // thread engaged in a tapped hole, mm; 0 is unknown
	BearingMM   float64 // outer diameter of the face under the head, mm; 0 is the usual hexagon
	ClearanceMM float64 // hole under the head, mm; 0 is the usual one
}

// Result is how tight, with everything needed to judge it.
type Result struct {
	Input            Input // as understood; EngagedMM and the bearing are filled in
	EngagedIsAssumed bool  // no engagement was given, EngagedMM is assumed
	Friction         Friction

	TorqueNM        float64 // to set: safe at any friction of the range; equals TorqueLowNM
	TorqueLowNM     float64 // uses the joint fully at the lowest friction
	TorqueTypicalNM float64 // the same at typical friction, to compare with published tables
	TorqueHighNM    float64 // the same at the highest friction; too much if friction is lower
	PreloadHighKN   float64 // clamp when TorqueNM meets the lowest friction
	PreloadLowKN    float64 // clamp when TorqueNM meets the highest friction
	NutFactor       float64 // K of T = K·D·F at typical friction

	LimitedByHole      bool    // the hole, not the bolt, sets the torque
	BoltTorqueNM       float64 // TorqueNM if the hole were deep enough
	EngagementNeededMM float64 // engagement for BoltTorqueNM; 0 for a nut

	Assumptions []string
	Source      string
	Caution     string
}

// Tighten computes the assembly torque of a joint after VDI 2230-1; see the
// package comment for the model. It fails with *InputError.
//
// It knows nothing of what the fastener holds: ask Critical first.
func Tighten(in Input) (Result, error) {
	if in.Thread.series == "" {
		return Result{}, refuse("thread", "", threadForms)
	}
	if in.Grade.name == "" {
		return Result{}, refuse("grade", "", "use one of %s", strings.Join(Grades(), ", "))
	}
	strength, ok := in.Grade.Strength(in.Thread.majorMM)
	if !ok {
		return Result{}, refuse("grade", in.Grade, "%s does not cover this grade at %s; use another grade or a smaller thread", in.Grade.source, in.Thread)
	}
	mu, ok := frictionOf(in.Lubrication, in.Grade.Stainless())
	if !ok {
		return Result{}, refuse("lubrication", in.Lubrication, lubrications)
	}
	ring, err := bearingOf(in)
	if err != nil {
		return Result{}, err
	}
	in.BearingMM, in.ClearanceMM = ring.outerMM, ring.holeMM
	r := Result{Input: in, Friction: mu}

	j := newJoint(in.Thread, ring.frictionDiameter())
	boltMax := j.preload(strength.YieldMPa, mu.Min)
	holeMax, err := r.limitByHole(strength, boltMax)
	if err != nil {
		return Result{}, err
	}
	torque := func(mu float64) float64 {
		return min(j.preload(strength.YieldMPa, mu), holeMax) * j.lever(mu, mu) / 1000
	}
	r.TorqueLowNM, r.TorqueTypicalNM, r.TorqueHighNM = torque(mu.Min), torque(mu.Typical), torque(mu.Max)
	r.TorqueNM = r.TorqueLowNM
	r.BoltTorqueNM = boltMax * j.lever(mu.Min, mu.Min) / 1000
	r.PreloadHighKN = min(boltMax, holeMax) / 1000
	r.PreloadLowKN = MinPreload(r.PreloadHighKN, j.lever(mu.Max, mu.Max)/j.lever(mu.Min, mu.Min))
	r.NutFactor = j.lever(mu.Typical, mu.Typical) / in.Thread.majorMM

	r.Assumptions = r.assumptions(ring)
	r.Source = fmt.Sprintf("VDI 2230-1 (2003 and later, full plastic torsion), 90 %% of yield at the lowest friction; thread %s; strength %s",
		in.Thread.Geometry().Source, in.Grade.source)
	r.Caution = caution(in)
	return r, nil
}

// limitByHole fills in what concerns the hole and gives the greatest preload in
// N that it may carry; boltMax is the bolt's.
func (r *Result) limitByHole(s Strength, boltMax float64) (float64, error) {
	in := &r.Input
	d := in.Thread.majorMM
	if in.Into == Nut {
		if in.EngagedMM != 0 {
			return 0, refuse("into", "", "with an engagement, say what the hole is in: steel, aluminium or cast_iron")
		}
		return math.Inf(1), nil
	}
	h, ok := holeIn(in.Into)
	if !ok {
		return 0, refuse("into", in.Into, materials)
	}
	if in.EngagedMM == 0 {
		in.EngagedMM, r.EngagedIsAssumed = h.assumedD*d, true
	} else if !(in.EngagedMM >= d/2 && in.EngagedMM <= 10*d) {
		return 0, refuse("engaged_mm", in.EngagedMM, "for %s give %.3g to %.4g mm (half a diameter to ten), or leave it out", in.Thread, d/2, 10*d)
	}
	lost := lostPitches * in.Thread.pitchMM
	full := fullThreads(in.Thread, s.TensileMPa, h.shearMPa)
	r.EngagementNeededMM = full + lost
	if in.EngagedMM >= r.EngagementNeededMM {
		return math.Inf(1), nil
	}
	r.LimitedByHole = true
	return boltMax * (in.EngagedMM - lost) / full, nil
}

// assumptions says in plain words what was taken for granted.
func (r *Result) assumptions(ring bearing) []string {
	in := r.Input
	as := make([]string, 0, 8)
	as = append(as, fmt.Sprintf("friction %.2f to %.2f, typically %.2f, in the thread and under the head (%s)", r.Friction.Min, r.Friction.Max, r.Friction.Typical, r.Friction.Source))
	if in.Lubrication == Unsaid {
		as = append(as, "lubrication was not said: the range spans greased to dry")
	}
	as = append(as, fmt.Sprintf("%s: face %.2f mm, hole %.2f mm", ring.source, ring.outerMM, ring.holeMM))
	if h, ok := holeIn(in.Into); ok {
		as = append(as, fmt.Sprintf("hole in %s, shear strength %g MPa", h.what, h.shearMPa))
		if r.EngagedIsAssumed {
			as = append(as, fmt.Sprintf("engagement was not said: %.3g mm (%.3g diameters) taken; the rule of thumb is at least %.3g mm", in.EngagedMM, h.assumedD, h.thumbD*in.Thread.majorMM))
		}
		if r.LimitedByHole {
			as = append(as, fmt.Sprintf("the hole sets the torque: with %.3g mm engaged the bolt could take %.3g N·m", math.Ceil(r.EngagementNeededMM*2)/2, r.BoltTorqueNM))
		}
	} else {
		as = append(as, "a full-height nut of matching grade; for a tapped hole say what it is in")
	}
	inchThread := in.Thread.tpi > 0
	switch {
	case in.Grade.source == iso898 && (inchThread || in.Thread.series == BA):
		as = append(as, fmt.Sprintf("%s is a metric class: its strength is taken as the equivalent for %s", in.Grade, in.Thread))
	case in.Grade.source == j429 && (!inchThread || in.Thread.size[0] == '#'):
		as = append(as, fmt.Sprintf("SAE %s starts at 1/4 in inch threads: its strength is taken as the equivalent for %s", in.Grade, in.Thread))
	}
	return append(as, "clean, undamaged threads, rigid parts, no prevailing torque; the wrench's own error (about 4 %) is not in the range")
}

// caution says where the value can hurt.
func caution(in Input) string {
	c := "A general value: the maker's figure comes first. Never for wheels, brakes, steering, suspension, drive shafts, seats or seat belts: look those up in the maker's manual."
	if in.Grade.Stainless() {
		c += " Stainless threads seize: use a paste, turn slowly."
		if in.Into == Aluminium {
			c += " Stainless in aluminium corrodes the aluminium where it is wet."
		}
	}
	if in.Lubrication == Moly {
		c += " For moly paste, not for sliding lacquer, PTFE or wax: those need less."
	}
	if in.Lubrication == Zinc && (in.Grade.name == "10.9" || in.Grade.name == "12.9" || in.Grade.name == "grade 8") {
		c += " A bolt this strong that was zinc plated without baking can crack days later: use only ones sold plated."
	}
	return c
}

// joint is the geometry that turns torque into preload, in mm and mm².
type joint struct {
	pitch, d2, ds, area float64
	cos                 float64 // of the flank angle
	dkm                 float64 // friction diameter under the head
}

func newJoint(t Thread, frictionDiameterMM float64) joint {
	g := t.Geometry()
	return joint{t.pitchMM, g.PitchDiameterMM, g.StressDiameterMM, g.StressAreaMM2, math.Cos(g.FlankDeg * math.Pi / 180), frictionDiameterMM}
}

// preload is FM in N at which a bolt of the given yield strength is used to ν,
// VDI 2230-1 step R7 and Table A1: tension and full plastic torsion together.
func (j joint) preload(yieldMPa, muThread float64) float64 {
	return utilisation * yieldMPa * j.area / j.combined(muThread)
}

// combined is the ratio of combined to tensile stress while tightening.
func (j joint) combined(muThread float64) float64 {
	shear := 1.5 * j.d2 / j.ds * (j.pitch/(math.Pi*j.d2) + muThread/j.cos)
	return math.Sqrt(1 + 3*shear*shear)
}

// lever is torque by preload in mm (N·mm a newton), VDI 2230-1 step R13: pitch, thread
// friction, head friction.
func (j joint) lever(muThread, muHead float64) float64 {
	return j.pitch/(2*math.Pi) + j.d2*muThread/(2*j.cos) + j.dkm/2*muHead
}

// MinPreload is the preload left when scatter is worst, VDI 2230-1:
// FMmin = FMmax/αA, where αA is the tightening factor, at least 1.
func MinPreload(maxPreload, alphaA float64) float64 { return maxPreload / alphaA }

// ShortForm is the torque in N·m by the short-form equation T = K·D·F of
// handbooks (Shigley, section 8-8), with D in mm and F in N. It is here to compare
// with tables that are made with it; Tighten does not use it.
func ShortForm(nutFactor, diameterMM, preloadN float64) float64 {
	return nutFactor * diameterMM * preloadN / 1000
}
