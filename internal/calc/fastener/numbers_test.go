package fastener

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// row is one published value of testdata/numbers.
type row struct {
	quantity, unit, tolerance, source string
	in                                map[string]string
	want                              float64
}

// num reads an input as a number; a missing or unreadable one fails the test.
func (r row) num(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, r.in, key, "%s", r.quantity)
	v, err := strconv.ParseFloat(r.in[key], 64)
	require.NoError(t, err, "%s", r.quantity)
	return v
}

// holds compares a value with the row's, within its tolerance.
func (r row) holds(t *testing.T, got float64) {
	t.Helper()
	slack := 1e-9 * math.Abs(r.want) // of floating point, not of the formula
	within := 0.0
	switch kind, v, _ := strings.Cut(r.tolerance, ":"); kind {
	case "abs", "rel":
		f, err := strconv.ParseFloat(v, 64)
		require.NoError(t, err)
		within = f
		if kind == "rel" {
			within = f * math.Abs(r.want)
		}
	default:
		require.Equal(t, "exact", r.tolerance)
	}
	assert.InDelta(t, r.want, got, within+slack, "%s %v, %s", r.quantity, r.in, r.source)
}

// table reads a CSV; every row must parse, have a source and a provenance, and
// there must be as many as the table is known to hold.
func table(t *testing.T, name string, count int) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "numbers", name+".csv"))
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, lines[0])
	require.Len(t, lines, count+1, "rows of %s", name)
	var rows []row
	for _, l := range lines[1:] {
		require.NotEmpty(t, l[5], "source of %v", l)
		require.NotEmpty(t, l[6], "provenance of %v", l)
		r := row{quantity: l[0], unit: l[3], tolerance: l[4], source: l[5], in: map[string]string{}}
		for _, pair := range strings.Split(l[1], ";") {
			k, v, ok := strings.Cut(pair, "=")
			require.True(t, ok, "input %q of %v", pair, l)
			r.in[k] = v
		}
		r.want, err = strconv.ParseFloat(l[2], 64)
		require.NoError(t, err, "%v", l)
		rows = append(rows, r)
	}
	return rows
}

func mustThread(t *testing.T, name string) Thread {
	t.Helper()
	th, err := ParseThread(name)
	require.NoError(t, err)
	return th
}

func mustGrade(t *testing.T, name string) Grade {
	t.Helper()
	g, err := ParseGrade(name)
	require.NoError(t, err)
	return g
}

func TestMetricThreads(t *testing.T) {
	t.Parallel()
	for _, r := range append(table(t, "thread-iso-metric", 17), table(t, "thread-iso-metric-fine", 4)...) {
		g := mustThread(t, "M"+r.in["d_mm"]+"x"+r.in["P_mm"]).Geometry()
		switch r.quantity {
		case "pitch diameter d2":
			r.holds(t, g.PitchDiameterMM)
		case "minor diameter D1 (internal)":
			r.holds(t, g.MinorInternalMM)
		case "minor diameter d3 (external, root)":
			r.holds(t, g.MinorExternalMM)
		case "tensile stress area As":
			r.holds(t, g.StressAreaMM2)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

// findInch gives the standard thread of a diameter in inches.
func findInch(t *testing.T, r row, among ...Series) Thread {
	t.Helper()
	for _, s := range among {
		for _, th := range Standard(s) {
			if math.Abs(th.MajorMM()/unit.InchMM-r.num(t, "d_in")) < 1e-9 && float64(th.tpi) == r.num(t, "tpi") {
				return th
			}
		}
	}
	require.Fail(t, "no standard thread", "%v", r.in)
	return Thread{}
}

func TestInchThreads(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		file  string
		count int
		among []Series
	}{{"thread-unc-unf", 9, []Series{UNC, UNF}}, {"thread-bsw", 8, []Series{BSW}}, {"thread-bsf", 6, []Series{BSF}}} {
		for _, r := range table(t, c.file, c.count) {
			g := findInch(t, r, c.among...).Geometry()
			switch r.quantity {
			case "tensile stress area":
				r.holds(t, g.StressAreaMM2/(unit.InchMM*unit.InchMM))
			case "pitch diameter", "effective diameter":
				r.holds(t, g.PitchDiameterMM/unit.InchMM)
			case "core (minor) diameter":
				r.holds(t, g.MinorExternalMM/unit.InchMM)
			default:
				t.Errorf("no check for %q", r.quantity)
			}
		}
	}
}

func TestBAThreads(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "thread-ba", 12) {
		switch r.quantity {
		case "pitch":
			r.holds(t, mustThread(t, r.in["BA"]+"BA").PitchMM())
		case "major diameter":
			r.holds(t, mustThread(t, r.in["BA"]+"BA").MajorMM())
		case "effective diameter":
			th := Thread{series: BA, size: "row", majorMM: r.num(t, "d_mm"), pitchMM: r.num(t, "p_mm")}
			r.holds(t, th.Geometry().PitchDiameterMM)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

// BS 93: p = 0.9^n mm rounded to 0.01, d = 6·p^1.2 rounded to 0.1.
func TestBASeriesFollowsItsLaw(t *testing.T) {
	t.Parallel()
	for n, th := range Standard(BA) {
		p := math.Pow(0.9, float64(n))
		assert.InDelta(t, p, th.PitchMM(), 0.0051, "%s", th)
		assert.InDelta(t, 6*math.Pow(p, 1.2), th.MajorMM(), 0.051, "%s", th)
	}
}

func TestISO898Strength(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "bolt-strength-iso-898-1", 15) {
		g := mustGrade(t, r.in["class"])
		switch r.quantity {
		case "proof load", "minimum ultimate tensile load":
			th := mustThread(t, r.in["thread"])
			s, ok := g.Strength(th.MajorMM())
			require.True(t, ok)
			stress := s.ProofMPa
			if r.quantity != "proof load" {
				stress = s.TensileMPa
			}
			// The standard's loads are made with its tabled area, three figures long.
			area, err := strconv.ParseFloat(strconv.FormatFloat(th.Geometry().StressAreaMM2, 'g', 3, 64), 64)
			require.NoError(t, err)
			r.holds(t, stress*area)
		case "minimum yield (ReL / Rp0.2)":
			s, ok := g.Strength(r.num(t, "d_mm"))
			require.True(t, ok)
			r.holds(t, s.YieldMPa)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

func TestSAEStrength(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "bolt-strength-sae-j429", 8) {
		g := mustGrade(t, "grade "+r.in["grade"])
		switch r.quantity {
		case "proof load":
			th := mustThread(t, r.in["thread"])
			s, ok := g.Strength(th.MajorMM())
			require.True(t, ok)
			r.holds(t, s.ProofMPa*th.Geometry().StressAreaMM2/unit.PoundForceN)
		case "proof strength", "minimum tensile strength":
			s, ok := g.Strength(r.num(t, "d_in") * unit.InchMM)
			require.True(t, ok)
			got := s.ProofMPa
			if r.quantity != "proof strength" {
				got = s.TensileMPa
			}
			r.holds(t, got/unit.PSIMPa)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

func TestStainlessStrength(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "bolt-strength-iso-3506-1", 2) {
		s, ok := mustGrade(t, r.in["class"]).Strength(8)
		require.True(t, ok)
		switch r.quantity {
		case "Rp0.2 min":
			r.holds(t, s.YieldMPa)
		case "Rm min":
			r.holds(t, s.TensileMPa)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

// The core against assembly tables of VDI 2230, at one friction. Rows that name
// no head are checked with the usual one, which also checks that table.
func TestVDI2230Tables(t *testing.T) {
	t.Parallel()
	for _, r := range append(table(t, "tightening-vdi-2230", 28), table(t, "tightening-stainless", 6)...) {
		if strings.HasPrefix(r.quantity, "minimum preload after scatter") {
			r.holds(t, MinPreload(r.num(t, "FMmax_kN"), r.num(t, "alphaA")))
			continue
		}
		th := mustThread(t, r.in["thread"])
		require.InDelta(t, utilisation, r.num(t, "utilisation"), 1e-12)
		ring := defaultBearing(th)
		if _, given := r.in["dw_mm"]; given {
			assert.InDelta(t, r.num(t, "dw_mm"), ring.outerMM, 1e-9, "%s", th)
			assert.InDelta(t, r.num(t, "dh_mm"), ring.holeMM, 1e-9, "%s", th)
		}
		s, ok := mustGrade(t, r.in["class"]).Strength(th.MajorMM())
		require.True(t, ok)
		j := newJoint(th, ring.frictionDiameter())
		preload := j.preload(s.YieldMPa, r.num(t, "mu_thread"))
		switch r.quantity {
		case "assembly preload FM":
			require.Equal(t, "kN", r.unit)
			r.holds(t, preload/1000)
		case "assembly torque MA":
			require.Equal(t, "N·m", r.unit)
			r.holds(t, preload*j.lever(r.num(t, "mu_thread"), r.num(t, "mu_head"))/1000)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}

func TestNutFactorTables(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "nut-factor", 9) {
		_, ofProof := r.in["fraction_of_proof"]
		_, ofYield := r.in["fraction_of_yield"]
		switch {
		case r.quantity == "clamp force" && ofProof:
			th := mustThread(t, r.in["thread"]+" UNC")
			s, ok := mustGrade(t, strings.Replace(r.in["grade"], "SAE", "grade", 1)).Strength(th.MajorMM())
			require.True(t, ok)
			r.holds(t, r.num(t, "fraction_of_proof")*s.ProofMPa*th.Geometry().StressAreaMM2/unit.PoundForceN)
		case r.quantity == "torque" && ofYield:
			th := mustThread(t, r.in["thread"]+" UNC")
			s, ok := mustGrade(t, strings.Replace(r.in["grade"], "SAE", "grade", 1)).Strength(th.MajorMM())
			require.True(t, ok)
			assert.InDelta(t, r.num(t, "yield_psi"), s.YieldMPa/unit.PSIMPa, 1e-6)
			preload := r.num(t, "fraction_of_yield") * s.YieldMPa * th.Geometry().StressAreaMM2
			r.holds(t, ShortForm(r.num(t, "K"), th.MajorMM(), preload)/unit.LbfFtNM)
		case r.quantity == "torque":
			r.holds(t, ShortForm(r.num(t, "K"), r.num(t, "D_in")*unit.InchMM, r.num(t, "F_lbf")*unit.PoundForceN)/unit.LbfFtNM)
		default:
			t.Errorf("no check for %q %v", r.quantity, r.in)
		}
	}
}

func TestStrippingTable(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "thread-stripping", 6) {
		if r.quantity == "minimum engagement rule of thumb" {
			h, ok := holeIn(Material(r.in["hole"]))
			require.True(t, ok)
			r.holds(t, h.thumbD)
			continue
		}
		th := mustThread(t, "M"+r.in["d_mm"]+"x"+r.in["P_mm"])
		switch r.quantity {
		case "internal thread shear area (basic profile)":
			internal, _ := ShearAreas(th, r.num(t, "Le_mm"))
			r.holds(t, internal)
		case "external thread shear area (basic profile)":
			_, external := ShearAreas(th, r.num(t, "Le_mm"))
			r.holds(t, external)
		case "engagement so that bolt breaks before hole strips":
			r.holds(t, EngagementToBreak(th, r.num(t, "bolt_Rm_MPa"), r.num(t, "hole_shear_MPa")))
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}
