package fastener

import (
	"math"

	"bayword/internal/unit"
)

// bearing is the ring under the head or nut: outer diameter and hole, in mm.
type bearing struct {
	outerMM, holeMM float64
	source          string
}

// frictionDiameter is DKm of VDI 2230-1, the mean diameter of the ring in mm.
func (b bearing) frictionDiameter() float64 { return (b.outerMM + b.holeMM) / 2 }

// defaultBearing is the usual hexagon head of a thread over its usual hole.
func defaultBearing(t Thread) bearing {
	d := t.majorMM
	switch t.series {
	case MetricCoarse, MetricFine:
		for _, r := range metricHead {
			if r[0] == d {
				return bearing{r[1], r[2], "ISO 4014 hexagon head over an ISO 273 medium hole"}
			}
		}
	case UNC, UNF:
		if t.size[0] == '#' {
			return bearing{0.95 * numberFlats(d), 1.1 * d, "ASME B18.6.3 hexagon head, taken as 0.95 of its flats, over a hole 10 % larger"}
		}
		return bearing{0.95 * tabled(unifiedFlats, d), inchHole(d), "ASME B18.2.1 hexagon head, taken as 0.95 of its flats, over an ASME B18.2.8 normal hole"}
	case BSW, BSF:
		if dw := tabled(whitworthFace, d); dw > 0 {
			return bearing{dw, inchHole(d), "BS 1083 hexagon head over a hole 1/32 in larger (1/16 in from 1/2 in)"}
		}
		return bearing{1.6 * d, inchHole(d), "hexagon head taken as 1.6 diameters over a hole 1/32 in larger (1/16 in from 1/2 in)"}
	}
	return bearing{1.64 * d, 1.1 * d, "hexagon head taken as 1.64 diameters over a hole 10 % larger"}
}

// metricHead: diameter, washer-face diameter dw,min of ISO 4014 (grade A to M24,
// B above) and medium hole of ISO 273, in mm. M6 to M16 are in the rows of
// testdata/numbers; ISO 273 was read; the rest of dw is from memory, within 0.1 mm
// of a read table, but for M7 (not in ISO 4014), which is interpolated.
var metricHead = [][3]float64{
	{2, 3.07, 2.4}, {2.5, 4.07, 2.9}, {3, 4.57, 3.4}, {3.5, 5.07, 3.9}, {4, 5.88, 4.5}, {5, 6.88, 5.5}, {6, 8.88, 6.6}, {7, 9.63, 7.6},
	{8, 11.63, 9}, {10, 14.63, 11}, {12, 16.63, 13.5}, {14, 19.64, 15.5}, {16, 22.49, 17.5}, {18, 25.34, 20}, {20, 28.19, 22},
	{22, 31.71, 24}, {24, 33.61, 26}, {27, 38, 30}, {30, 42.75, 33}, {33, 46.55, 36}, {36, 51.11, 39},
}

// unifiedFlats: diameter and width across flats of ASME B18.2.1, in inches; read.
var unifiedFlats = [][2]float64{
	{1.0 / 4, 7.0 / 16}, {5.0 / 16, 1.0 / 2}, {3.0 / 8, 9.0 / 16}, {7.0 / 16, 5.0 / 8}, {1.0 / 2, 3.0 / 4}, {9.0 / 16, 13.0 / 16},
	{5.0 / 8, 15.0 / 16}, {3.0 / 4, 1.125}, {7.0 / 8, 1.3125}, {1, 1.5},
}

// whitworthFace: diameter and least washer-face diameter of BS 1083, in inches; read.
var whitworthFace = [][2]float64{
	{1.0 / 4, 0.418}, {5.0 / 16, 0.498}, {3.0 / 8, 0.572}, {7.0 / 16, 0.680}, {1.0 / 2, 0.790}, {9.0 / 16, 0.890},
	{5.0 / 8, 0.975}, {3.0 / 4, 1.165}, {7.0 / 8, 1.263}, {1, 1.443},
}

// numberFlats is the width across flats in mm of a number size of diameter d mm:
// ASME B18.6.3, regular head; read.
func numberFlats(d float64) float64 {
	switch in := d / unit.InchMM; {
	case in < 0.13: // #4, #5
		return 0.188 * unit.InchMM
	case in < 0.18: // #6, #8
		return 0.250 * unit.InchMM
	}
	return 0.312 * unit.InchMM // #10, #12
}

// tabled looks a diameter in mm up in a table in inches; 0 when it is not there.
func tabled(rows [][2]float64, d float64) float64 {
	for _, r := range rows {
		if math.Abs(r[0]*unit.InchMM-d) < 0.01 {
			return r[1] * unit.InchMM
		}
	}
	return 0
}

// inchHole is the normal clearance hole of ASME B18.2.8, from memory: 1/32 in
// larger than the bolt, from 1/2 in on 1/16 in. It is used for Whitworth too.
func inchHole(d float64) float64 {
	if d < unit.InchMM/2 {
		return d + unit.InchMM/32
	}
	return d + unit.InchMM/16
}

// bearingOf takes the ring of the input, or the usual one where it says nothing.
func bearingOf(in Input) (bearing, error) {
	d := in.Thread.majorMM
	b := defaultBearing(in.Thread)
	if in.ClearanceMM != 0 {
		if !(in.ClearanceMM >= d && in.ClearanceMM <= 1.5*d) {
			return b, refuse("clearance_mm", in.ClearanceMM, "for %s use a hole of %.4g to %.4g mm, or 0 for the usual one", in.Thread, d, 1.5*d)
		}
		b.holeMM, b.source = in.ClearanceMM, "head or hole as given"
	}
	if in.BearingMM != 0 {
		if !(in.BearingMM > b.holeMM && in.BearingMM <= 4*d) {
			return b, refuse("bearing_mm", in.BearingMM, "for %s use a face of more than %.4g up to %.4g mm, or 0 for the usual one", in.Thread, b.holeMM, 4*d)
		}
		b.outerMM, b.source = in.BearingMM, "head or hole as given"
	}
	if b.outerMM <= b.holeMM {
		return b, refuse("clearance_mm", in.ClearanceMM, "the hole must be smaller than the head's face of %.4g mm", b.outerMM)
	}
	return b, nil
}
