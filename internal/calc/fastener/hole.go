package fastener

import "math"

// Material is what the bolt is screwed into.
type Material string

// The materials of a request; Nut is the zero value.
const (
	Nut       Material = ""
	Steel     Material = "steel"
	Aluminium Material = "aluminium"
	CastIron  Material = "cast_iron"
)

const materials = "use steel, aluminium or cast_iron, or leave it out for a nut of matching grade"

// hole is what is assumed of a tapped hole whose material alone is known.
type hole struct {
	shearMPa float64 // shear strength of the thread
	what     string  // what metal that is
	assumedD float64 // engagement in diameters when none is given: a shallow hole
	thumbD   float64 // usual least engagement in diameters, a rule of thumb
}

// holeIn gives the assumptions for a material.
//
// Shear strengths are low values for plain metal of the kind, from memory, not
// from a standard's minimum for the part at hand: mild steel of 360 MPa tensile
// strength × 0.6; grey iron of 200 MPa × 0.8; sand-cast aluminium, not heat
// treated, of 150 MPa × 0.67. The rule of thumb, two diameters in aluminium and
// 1.25 in steel and cast iron, is in testdata/numbers/thread-stripping.csv. The
// engagement assumed when none is given lies below it on purpose.
func holeIn(m Material) (hole, bool) {
	switch m {
	case Steel:
		return hole{215, "mild steel", 1, 1.25}, true
	case Aluminium:
		return hole{100, "cast aluminium, not heat treated", 1.5, 2}, true
	case CastIron:
		return hole{160, "grey cast iron", 1, 1.25}, true
	}
	return hole{}, false
}

// ShearAreas gives the areas in mm² that must shear before the thread of the
// hole (internal) or of the bolt (external) strips over an engagement in mm:
// FED-STD-H28/2B on basic dimensions,
//
//	internal = π·n·Le·d·(1/(2n) + tan α·(d − d2))
//	external = π·n·Le·D1·(1/(2n) + tan α·(d2 − D1))
func ShearAreas(t Thread, engagementMM float64) (internal, external float64) {
	g := t.Geometry()
	tan := math.Tan(g.FlankDeg * math.Pi / 180)
	turns := math.Pi * engagementMM / t.pitchMM
	internal = turns * t.majorMM * (t.pitchMM/2 + tan*(t.majorMM-g.PitchDiameterMM))
	external = turns * g.MinorInternalMM * (t.pitchMM/2 + tan*(g.PitchDiameterMM-g.MinorInternalMM))
	return internal, external
}

// EngagementToBreak gives the engagement in mm at which a bolt of tensile
// strength tensileMPa breaks just when a hole of shear strength shearMPa strips:
// Le = As·Rm/(π·n·d·(1/(2n) + tan α·(d − d2))·τ). It counts full threads only.
func EngagementToBreak(t Thread, tensileMPa, shearMPa float64) float64 {
	internal, _ := ShearAreas(t, 1)
	return t.Geometry().StressAreaMM2 * tensileMPa / (internal * shearMPa)
}

// boltShear is the shear strength of a bolt's thread as a part of its tensile
// strength, VDI 2230-1, from memory: about 0.6 for all grades.
const boltShear = 0.6

// lostPitches is the engagement not counted, in pitches, see the package comment.
const lostPitches = 0.8

// fullThreads is the engagement of full threads, in mm, at which the bolt breaks
// before either thread strips.
func fullThreads(t Thread, tensileMPa, shearMPa float64) float64 {
	_, external := ShearAreas(t, 1)
	own := t.Geometry().StressAreaMM2 / (external * boltShear)
	return max(EngagementToBreak(t, tensileMPa, shearMPa), own)
}
