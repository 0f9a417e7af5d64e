package fastener

import (
	"strconv"
	"strings"

	"bayword/internal/unit"
)

// Standard lists the threads of a series, smallest first; nil for no series.
// Sizes and pitches: ISO 261 (with the fine pitches in common use, spark plugs'
// M14x1.25 and M18x1.5 among them), ASME B1.1, BS 84, BS 93; from memory, checked
// by the tests where a published row names the size.
func Standard(s Series) []Thread {
	switch s {
	case MetricCoarse:
		return metric(s, metricCoarse)
	case MetricFine:
		return metric(s, metricFine)
	case UNC:
		return inch(s, unc)
	case UNF:
		return inch(s, unf)
	case BSW:
		return inch(s, bsw)
	case BSF:
		return inch(s, bsf)
	case BA:
		out := make([]Thread, len(ba))
		for i, b := range ba {
			out[i] = Thread{series: BA, size: strconv.Itoa(i) + "BA", majorMM: b[0], pitchMM: b[1]}
		}
		return out
	}
	return nil
}

func metric(s Series, rows [][2]float64) []Thread {
	out := make([]Thread, len(rows))
	for i, r := range rows {
		out[i] = Thread{series: s, size: "M" + strconv.FormatFloat(r[0], 'f', -1, 64), majorMM: r[0], pitchMM: r[1]}
	}
	return out
}

func inch(s Series, rows []inchRow) []Thread {
	out := make([]Thread, len(rows))
	for i, r := range rows {
		out[i] = Thread{
			series: s, size: r.size(), tpi: r.tpi,
			majorMM: r.inches() * unit.InchMM, pitchMM: unit.InchMM / float64(r.tpi),
		}
	}
	return out
}

// inchRow is a diameter of num/den inches, or the number size num when den is 0,
// and its threads per inch.
type inchRow struct{ num, den, tpi int }

func (r inchRow) size() string {
	switch r.den {
	case 0:
		return "#" + strconv.Itoa(r.num)
	case 1:
		return strconv.Itoa(r.num)
	}
	return strconv.Itoa(r.num) + "/" + strconv.Itoa(r.den)
}

func (r inchRow) inches() float64 {
	if r.den == 0 {
		return 0.060 + 0.013*float64(r.num) // ASME B1.1 number sizes
	}
	return float64(r.num) / float64(r.den)
}

// names joins the canonical names of threads for an error.
func names(threads []Thread) string {
	out := make([]string, len(threads))
	for i, t := range threads {
		out[i] = t.String()
	}
	return strings.Join(out, ", ")
}

// Diameter and pitch in mm, ISO 261.
var metricCoarse = [][2]float64{
	{2, 0.4}, {2.5, 0.45}, {3, 0.5}, {3.5, 0.6}, {4, 0.7}, {5, 0.8}, {6, 1}, {7, 1}, {8, 1.25}, {10, 1.5}, {12, 1.75},
	{14, 2}, {16, 2}, {18, 2.5}, {20, 2.5}, {22, 2.5}, {24, 3}, {27, 3}, {30, 3.5}, {33, 3.5}, {36, 4},
}

var metricFine = [][2]float64{
	{4, 0.5}, {5, 0.5}, {6, 0.75}, {8, 1}, {8, 0.75}, {10, 1.25}, {10, 1}, {12, 1.5}, {12, 1.25}, {12, 1},
	{14, 1.5}, {14, 1.25}, {14, 1}, {16, 1.5}, {16, 1}, {18, 2}, {18, 1.5}, {20, 2}, {20, 1.5}, {22, 2}, {22, 1.5},
	{24, 2}, {24, 1.5}, {27, 2}, {30, 2}, {33, 2}, {36, 3},
}

var unc = []inchRow{
	{4, 0, 40}, {5, 0, 40}, {6, 0, 32}, {8, 0, 32}, {10, 0, 24}, {12, 0, 24}, {1, 4, 20}, {5, 16, 18}, {3, 8, 16}, {7, 16, 14},
	{1, 2, 13}, {9, 16, 12}, {5, 8, 11}, {3, 4, 10}, {7, 8, 9}, {1, 1, 8},
}

var unf = []inchRow{
	{4, 0, 48}, {5, 0, 44}, {6, 0, 40}, {8, 0, 36}, {10, 0, 32}, {12, 0, 28}, {1, 4, 28}, {5, 16, 24}, {3, 8, 24}, {7, 16, 20},
	{1, 2, 20}, {9, 16, 18}, {5, 8, 18}, {3, 4, 16}, {7, 8, 14}, {1, 1, 12},
}

var bsw = []inchRow{
	{3, 16, 24}, {1, 4, 20}, {5, 16, 18}, {3, 8, 16}, {7, 16, 14}, {1, 2, 12}, {9, 16, 12}, {5, 8, 11}, {3, 4, 10}, {7, 8, 9}, {1, 1, 8},
}

var bsf = []inchRow{
	{3, 16, 32}, {7, 32, 28}, {1, 4, 26}, {9, 32, 26}, {5, 16, 22}, {3, 8, 20}, {7, 16, 18}, {1, 2, 16}, {9, 16, 16},
	{5, 8, 14}, {11, 16, 14}, {3, 4, 12}, {7, 8, 11}, {1, 1, 10},
}

// Diameter and pitch in mm of 0BA to 10BA, BS 93.
var ba = [][2]float64{
	{6.0, 1.0}, {5.3, 0.9}, {4.7, 0.81}, {4.1, 0.73}, {3.6, 0.66}, {3.2, 0.59}, {2.8, 0.53}, {2.5, 0.48}, {2.2, 0.43}, {1.9, 0.39}, {1.7, 0.35},
}
