package fastener

import (
	"strings"

	"bayword/internal/unit"
)

// Grade is a strength grade of a bolt or screw. Get one by ParseGrade; the zero
// Grade is none.
type Grade struct {
	name   string
	source string
	rows   []strengthRow
}

// strengthRow holds up to and including a diameter.
type strengthRow struct {
	uptoMM float64
	Strength
}

// Strength is the minimum strength of a bolt, in MPa.
type Strength struct {
	TensileMPa float64 // Rm
	YieldMPa   float64 // ReL, Rpf or Rp0.2, as the grade has it
	ProofMPa   float64 // Sp; 0 where the standard gives none
}

// String is the canonical name: "8.8", "A2-70", "grade 5".
func (g Grade) String() string {
	if g.name == "" {
		return "no grade"
	}
	return g.name
}

// Stainless says whether the grade is an austenitic stainless steel.
func (g Grade) Stainless() bool { return strings.HasPrefix(g.name, "A") }

// Source is the standard that gives the grade its figures.
func (g Grade) Source() string { return g.source }

// Strength gives the minimum strengths for a nominal diameter in mm; ok is
// false when the grade does not exist at that diameter.
func (g Grade) Strength(diameterMM float64) (s Strength, ok bool) {
	for _, r := range g.rows {
		if diameterMM <= r.uptoMM {
			return r.Strength, true
		}
	}
	return Strength{}, false
}

const (
	iso898  = "ISO 898-1:2013 Table 3"
	iso3506 = "ISO 3506-1, austenitic steels"
	j429    = "SAE J429"
)

// ksi is a strength given in thousands of psi, in MPa.
func ksi(tensile, yield, proof float64) Strength {
	const mpa = 1000 * unit.PSIMPa
	return Strength{TensileMPa: tensile * mpa, YieldMPa: yield * mpa, ProofMPa: proof * mpa}
}

// grades holds all grades, in rising order within a standard.
//
// ISO 898-1:2013 Table 3 covers M1.6 to M39: Rm, then ReL (4.6, 5.6), Rpf (4.8,
// 5.8, 6.8) or Rp0.2, then Sp; 9.8 exists up to M16. ISO 3506-1: Rm and Rp0.2;
// above M24 classes 70 and 80 are a matter for maker and buyer, so they end
// there. SAE J429 covers 1/4 in to 1 1/2 in; below, its figures for 1/4 in are
// used and the Result says so. ISO values are from memory, checked wherever a row
// of testdata/numbers has them; SAE J429 was read in Shigley & Mischke, Mechanical
// Engineering Design, 5th ed., p. 341.
var grades = []Grade{
	{"4.6", iso898, []strengthRow{{39, Strength{400, 240, 225}}}},
	{"4.8", iso898, []strengthRow{{39, Strength{420, 340, 310}}}},
	{"5.6", iso898, []strengthRow{{39, Strength{500, 300, 280}}}},
	{"5.8", iso898, []strengthRow{{39, Strength{520, 420, 380}}}},
	{"6.8", iso898, []strengthRow{{39, Strength{600, 480, 440}}}},
	{"8.8", iso898, []strengthRow{{16, Strength{800, 640, 580}}, {39, Strength{830, 660, 600}}}},
	{"9.8", iso898, []strengthRow{{16, Strength{900, 720, 650}}}},
	{"10.9", iso898, []strengthRow{{39, Strength{1040, 940, 830}}}},
	{"12.9", iso898, []strengthRow{{39, Strength{1220, 1100, 970}}}},
	{"A2-50", iso3506, []strengthRow{{39, Strength{500, 210, 0}}}},
	{"A2-70", iso3506, []strengthRow{{24, Strength{700, 450, 0}}}},
	{"A2-80", iso3506, []strengthRow{{24, Strength{800, 600, 0}}}},
	{"A4-50", iso3506, []strengthRow{{39, Strength{500, 210, 0}}}},
	{"A4-70", iso3506, []strengthRow{{24, Strength{700, 450, 0}}}},
	{"A4-80", iso3506, []strengthRow{{24, Strength{800, 600, 0}}}},
	{"grade 2", j429, []strengthRow{{0.75 * unit.InchMM, ksi(74, 57, 55)}, {1.5 * unit.InchMM, ksi(60, 36, 33)}}},
	{"grade 5", j429, []strengthRow{{1 * unit.InchMM, ksi(120, 92, 85)}, {1.5 * unit.InchMM, ksi(105, 81, 74)}}},
	{"grade 8", j429, []strengthRow{{1.5 * unit.InchMM, ksi(150, 130, 120)}}},
}

// Grades lists the canonical names of all grades.
func Grades() []string {
	out := make([]string, len(grades))
	for i, g := range grades {
		out[i] = g.name
	}
	return out
}

// ParseGrade reads a grade by its canonical name; case and spacing do not count.
// It fails with *InputError.
func ParseGrade(name string) (Grade, error) {
	if len(name) <= 64 {
		want := strings.Join(strings.Fields(name), " ")
		for _, g := range grades {
			if strings.EqualFold(g.name, want) {
				return g, nil
			}
		}
	}
	return Grade{}, refuse("grade", name, "use one of %s", strings.Join(Grades(), ", "))
}
