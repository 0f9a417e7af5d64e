package fastener

import (
	"math"
	"strconv"
	"strings"
)

// Series is a family of threads with one form and one way of being written.
type Series string

// The series this package knows.
const (
	MetricCoarse Series = "ISO metric coarse" // ISO 68-1, ISO 261
	MetricFine   Series = "ISO metric fine"   // ISO 68-1, ISO 261
	UNC          Series = "UNC"               // ASME B1.1
	UNF          Series = "UNF"               // ASME B1.1
	BSW          Series = "BSW"               // BS 84
	BSF          Series = "BSF"               // BS 84
	BA           Series = "BA"                // BS 93
)

// Thread is one standard thread. Get one by ParseThread or Standard; the zero
// Thread is none.
type Thread struct {
	series  Series
	size    string  // "M10", "7/16", "#10", "2BA"
	majorMM float64 // nominal (basic major) diameter
	pitchMM float64
	tpi     int // threads per inch; 0 for metric and BA
}

// Series says to which family the thread belongs.
func (t Thread) Series() Series { return t.series }

// MajorMM is the nominal diameter in mm.
func (t Thread) MajorMM() float64 { return t.majorMM }

// PitchMM is the pitch in mm.
func (t Thread) PitchMM() float64 { return t.pitchMM }

// String is the canonical name: "M10x1.5", "M6x1.0", "7/16-20 UNF", "2BA".
func (t Thread) String() string {
	switch t.series {
	case "":
		return "no thread"
	case MetricCoarse, MetricFine:
		p := strconv.FormatFloat(t.pitchMM, 'f', -1, 64)
		if !strings.Contains(p, ".") {
			p += ".0"
		}
		return t.size + "x" + p
	case BA:
		return t.size
	}
	return t.size + "-" + strconv.Itoa(t.tpi) + " " + string(t.series)
}

// Geometry is what strength and friction need of a thread, in mm and mm².
type Geometry struct {
	PitchDiameterMM  float64 // d2, effective diameter
	MinorInternalMM  float64 // D1, minor diameter of the nut or hole
	MinorExternalMM  float64 // d3, root (core) diameter of the bolt
	StressDiameterMM float64 // ds, diameter of the circle of area StressAreaMM2
	StressAreaMM2    float64 // As
	FlankDeg         float64 // α, half the thread angle
	Source           string
}

// Geometry computes the basic profile of the thread.
func (t Thread) Geometry() Geometry {
	d, p := t.majorMM, t.pitchMM
	var g Geometry
	switch t.series {
	case MetricCoarse, MetricFine, UNC, UNF:
		// ISO 724 and ASME B1.1: d2 = d − 3/4 H, D1 = d − 5/4 H; ISO 68-1: root
		// at d − 17/12 H. ISO 898-1: As = π/4·((d2 + d3)/2)².
		h := math.Sqrt(3) / 2 * p
		g = Geometry{
			PitchDiameterMM: d - 0.75*h, MinorInternalMM: d - 1.25*h, MinorExternalMM: d - 17.0/12*h,
			FlankDeg: 30, Source: "ISO 68-1, ISO 724; stress area ISO 898-1",
		}
		g.StressDiameterMM = (g.PitchDiameterMM + g.MinorExternalMM) / 2
		if t.series == UNC || t.series == UNF {
			// ASME B1.1: As = π/4·(d − 0.9743/n)².
			g.StressDiameterMM, g.Source = d-0.9743*p, "ASME B1.1"
		}
	case BSW, BSF:
		// BS 84: 55° form, depth 0.640327 p. The standard gives no stress area;
		// the mean of effective and core diameter is used, as ISO 898-1 does.
		g = Geometry{
			PitchDiameterMM: d - 0.640327*p, MinorInternalMM: d - 1.280654*p, MinorExternalMM: d - 1.280654*p,
			FlankDeg: 27.5, Source: "BS 84; stress area on the mean of effective and core diameter",
		}
		g.StressDiameterMM = (g.PitchDiameterMM + g.MinorExternalMM) / 2
	case BA:
		// BS 93: 47.5° form, depth 0.6 p. Stress area as for Whitworth.
		g = Geometry{
			PitchDiameterMM: d - 0.6*p, MinorInternalMM: d - 1.2*p, MinorExternalMM: d - 1.2*p,
			FlankDeg: 23.75, Source: "BS 93; stress area on the mean of effective and core diameter",
		}
		g.StressDiameterMM = (g.PitchDiameterMM + g.MinorExternalMM) / 2
	}
	g.StressAreaMM2 = math.Pi / 4 * g.StressDiameterMM * g.StressDiameterMM
	return g
}
