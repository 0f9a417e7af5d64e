package fastener

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"bayword/internal/calc/published"
	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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
	for _, r := range append(published.Table(t, "thread-iso-metric", 17), published.Table(t, "thread-iso-metric-fine", 4)...) {
		g := mustThread(t, "M"+r.In["d_mm"]+"x"+r.In["P_mm"]).Geometry()
		switch r.Quantity {
		case "pitch diameter d2":
			r.Holds(t, g.PitchDiameterMM)
		case "minor diameter D1 (internal)":
			r.Holds(t, g.MinorInternalMM)
		case "minor diameter d3 (external, root)":
			r.Holds(t, g.MinorExternalMM)
		case "tensile stress area As":
			r.Holds(t, g.StressAreaMM2)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

// findInch gives the standard thread of a diameter in inches.
func findInch(t *testing.T, r published.Row, among ...Series) Thread {
	t.Helper()
	for _, s := range among {
		for _, th := range Standard(s) {
			if math.Abs(th.MajorMM()/unit.InchMM-r.Num(t, "d_in")) < 1e-9 && float64(th.tpi) == r.Num(t, "tpi") {
				return th
			}
		}
	}
	require.Fail(t, "no standard thread", "%v", r.In)
	return Thread{}
}

func TestInchThreads(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		file  string
		count int
		among []Series
	}{{"thread-unc-unf", 9, []Series{UNC, UNF}}, {"thread-bsw", 8, []Series{BSW}}, {"thread-bsf", 6, []Series{BSF}}} {
		for _, r := range published.Table(t, c.file, c.count) {
			g := findInch(t, r, c.among...).Geometry()
			switch r.Quantity {
			case "tensile stress area":
				r.Holds(t, g.StressAreaMM2/(unit.InchMM*unit.InchMM))
			case "pitch diameter", "effective diameter":
				r.Holds(t, g.PitchDiameterMM/unit.InchMM)
			case "core (minor) diameter":
				r.Holds(t, g.MinorExternalMM/unit.InchMM)
			default:
				t.Errorf("no check for %q", r.Quantity)
			}
		}
	}
}

func TestBAThreads(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "thread-ba", 12) {
		switch r.Quantity {
		case "pitch":
			r.Holds(t, mustThread(t, r.In["BA"]+"BA").PitchMM())
		case "major diameter":
			r.Holds(t, mustThread(t, r.In["BA"]+"BA").MajorMM())
		case "effective diameter":
			th := Thread{series: BA, size: "row", majorMM: r.Num(t, "d_mm"), pitchMM: r.Num(t, "p_mm")}
			r.Holds(t, th.Geometry().PitchDiameterMM)
		default:
			t.Errorf("no check for %q", r.Quantity)
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
	for _, r := range published.Table(t, "bolt-strength-iso-898-1", 15) {
		g := mustGrade(t, r.In["class"])
		switch r.Quantity {
		case "proof load", "minimum ultimate tensile load":
			th := mustThread(t, r.In["thread"])
			s, ok := g.Strength(th.MajorMM())
			require.True(t, ok)
			stress := s.ProofMPa
			if r.Quantity != "proof load" {
				stress = s.TensileMPa
			}
			// The standard's loads are made with its tabled area, three figures long.
			area, err := strconv.ParseFloat(strconv.FormatFloat(th.Geometry().StressAreaMM2, 'g', 3, 64), 64)
			require.NoError(t, err)
			r.Holds(t, stress*area)
		case "minimum yield (ReL / Rp0.2)":
			s, ok := g.Strength(r.Num(t, "d_mm"))
			require.True(t, ok)
			r.Holds(t, s.YieldMPa)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

func TestSAEStrength(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "bolt-strength-sae-j429", 8) {
		g := mustGrade(t, "grade "+r.In["grade"])
		switch r.Quantity {
		case "proof load":
			th := mustThread(t, r.In["thread"])
			s, ok := g.Strength(th.MajorMM())
			require.True(t, ok)
			r.Holds(t, s.ProofMPa*th.Geometry().StressAreaMM2/unit.PoundForceN)
		case "proof strength", "minimum tensile strength":
			s, ok := g.Strength(r.Num(t, "d_in") * unit.InchMM)
			require.True(t, ok)
			got := s.ProofMPa
			if r.Quantity != "proof strength" {
				got = s.TensileMPa
			}
			r.Holds(t, got/unit.PSIMPa)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

func TestStainlessStrength(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "bolt-strength-iso-3506-1", 2) {
		s, ok := mustGrade(t, r.In["class"]).Strength(8)
		require.True(t, ok)
		switch r.Quantity {
		case "Rp0.2 min":
			r.Holds(t, s.YieldMPa)
		case "Rm min":
			r.Holds(t, s.TensileMPa)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

// The core against assembly tables of VDI 2230, at one friction. Rows that name
// no head are checked with the usual one, which also checks that table.
func TestVDI2230Tables(t *testing.T) {
	t.Parallel()
	for _, r := range append(published.Table(t, "tightening-vdi-2230", 28), published.Table(t, "tightening-stainless", 6)...) {
		if strings.HasPrefix(r.Quantity, "minimum preload after scatter") {
			r.Holds(t, MinPreload(r.Num(t, "FMmax_kN"), r.Num(t, "alphaA")))
			continue
		}
		th := mustThread(t, r.In["thread"])
		require.InDelta(t, utilisation, r.Num(t, "utilisation"), 1e-12)
		ring := defaultBearing(th)
		if _, given := r.In["dw_mm"]; given {
			assert.InDelta(t, r.Num(t, "dw_mm"), ring.outerMM, 1e-9, "%s", th)
			assert.InDelta(t, r.Num(t, "dh_mm"), ring.holeMM, 1e-9, "%s", th)
		}
		s, ok := mustGrade(t, r.In["class"]).Strength(th.MajorMM())
		require.True(t, ok)
		j := newJoint(th, ring.frictionDiameter())
		preload := j.preload(s.YieldMPa, r.Num(t, "mu_thread"))
		switch r.Quantity {
		case "assembly preload FM":
			require.Equal(t, "kN", r.Unit)
			r.Holds(t, preload/1000)
		case "assembly torque MA":
			require.Equal(t, "N·m", r.Unit)
			r.Holds(t, preload*j.lever(r.Num(t, "mu_thread"), r.Num(t, "mu_head"))/1000)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

func TestNutFactorTables(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "nut-factor", 9) {
		_, ofProof := r.In["fraction_of_proof"]
		_, ofYield := r.In["fraction_of_yield"]
		switch {
		case r.Quantity == "clamp force" && ofProof:
			th := mustThread(t, r.In["thread"]+" UNC")
			s, ok := mustGrade(t, strings.Replace(r.In["grade"], "SAE", "grade", 1)).Strength(th.MajorMM())
			require.True(t, ok)
			r.Holds(t, r.Num(t, "fraction_of_proof")*s.ProofMPa*th.Geometry().StressAreaMM2/unit.PoundForceN)
		case r.Quantity == "torque" && ofYield:
			th := mustThread(t, r.In["thread"]+" UNC")
			s, ok := mustGrade(t, strings.Replace(r.In["grade"], "SAE", "grade", 1)).Strength(th.MajorMM())
			require.True(t, ok)
			assert.InDelta(t, r.Num(t, "yield_psi"), s.YieldMPa/unit.PSIMPa, 1e-6)
			preload := r.Num(t, "fraction_of_yield") * s.YieldMPa * th.Geometry().StressAreaMM2
			r.Holds(t, ShortForm(r.Num(t, "K"), th.MajorMM(), preload)/unit.LbfFtNM)
		case r.Quantity == "torque":
			r.Holds(t, ShortForm(r.Num(t, "K"), r.Num(t, "D_in")*unit.InchMM, r.Num(t, "F_lbf")*unit.PoundForceN)/unit.LbfFtNM)
		default:
			t.Errorf("no check for %q %v", r.Quantity, r.In)
		}
	}
}

func TestStrippingTable(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "thread-stripping", 6) {
		if r.Quantity == "minimum engagement rule of thumb" {
			h, ok := holeIn(Material(r.In["hole"]))
			require.True(t, ok)
			r.Holds(t, h.thumbD)
			continue
		}
		th := mustThread(t, "M"+r.In["d_mm"]+"x"+r.In["P_mm"])
		switch r.Quantity {
		case "internal thread shear area (basic profile)":
			internal, _ := ShearAreas(th, r.Num(t, "Le_mm"))
			r.Holds(t, internal)
		case "external thread shear area (basic profile)":
			_, external := ShearAreas(th, r.Num(t, "Le_mm"))
			r.Holds(t, external)
		case "engagement so that bolt breaks before hole strips":
			r.Holds(t, EngagementToBreak(th, r.Num(t, "bolt_Rm_MPa"), r.Num(t, "hole_shear_MPa")))
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}
