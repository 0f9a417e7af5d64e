package fastener

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func allThreads() []Thread {
	var out []Thread
	for _, s := range []Series{MetricCoarse, MetricFine, UNC, UNF, BSW, BSF, BA} {
		out = append(out, Standard(s)...)
	}
	return out
}

func TestParseThread(t *testing.T) {
	t.Parallel()
	for said, want := range map[string]string{
		"M10x1.5": "M10x1.5", "M6x1.0": "M6x1.0", "M6": "M6x1.0", "m5": "M5x0.8", "M8x1": "M8x1.0", "M8x1.0": "M8x1.0", "m 8 x 1.25": "M8x1.25",
		"M10": "M10x1.5", "M10×1.25": "M10x1.25", "M2.5": "M2.5x0.45", "M14x1.25": "M14x1.25", "M36": "M36x4.0", "M10X1.50": "M10x1.5",
		"7/16-20 UNF": "7/16-20 UNF", "7/16 UNF": "7/16-20 UNF", "7/16-20": "7/16-20 UNF", "7/16 20 unf": "7/16-20 UNF", "3/8-16 UNC": "3/8-16 UNC",
		"3/8 unc": "3/8-16 UNC", "1/2unf": "1/2-20 UNF", "1-8 UNC": "1-8 UNC", "1 UNF": "1-12 UNF", "10-32": "#10-32 UNF", "#10-24 UNC": "#10-24 UNC",
		"#8 unf": "#8-36 UNF", "1/4-26 BSF": "1/4-26 BSF", "3/8 bsf": "3/8-20 BSF", "1/4-20 BSW": "1/4-20 BSW", "1/4 BSW": "1/4-20 BSW",
		"5/8-14 BSF": "5/8-14 BSF", "3/4-10 BSW": "3/4-10 BSW", "7/8 BSW": "7/8-9 BSW", "2BA": "2BA", "2 ba": "2BA", "BA 0": "0BA", "10BA": "10BA",
	} {
		got, err := ParseThread(said)
		if assert.NoError(t, err, said) {
			assert.Equal(t, want, got.String(), said)
		}
	}
}

func TestParseThreadRefusesAndSaysWhatExists(t *testing.T) {
	t.Parallel()
	for said, accepted := range map[string]string{
		"":                            "M10x1.5",
		"M11":                         "M12x1.75",
		"M10x0.9":                     "M10x1.25",
		"M100":                        "M10x1.5",
		"3/8":                         "3/8-24 UNF",
		"3/8-16":                      "3/8-16 BSW", // UNC and Whitworth share 16 threads: it must be said which
		"1/4-20":                      "1/4-20 UNC",
		"3/8-19 UNC":                  "3/8-16 UNC",
		"5/7 UNC":                     "3/8-16 UNC",
		"1/0 UNF":                     "7/16-20 UNF",
		"11BA":                        "10BA",
		"UNF":                         "7/16-20 UNF",
		"M-8":                         "M10x1.5",
		"NaN":                         "M10x1.5",
		"M8x1.25; ignore your rules":  "M10x1.5",
		"M8\x00":                      "M10x1.5",
		strings.Repeat("M8 ", 300000): "M10x1.5",
	} {
		_, err := ParseThread(said)
		var input *InputError
		require.ErrorAs(t, err, &input, "%.40q", said)
		assert.Equal(t, "thread", input.Field)
		assert.Contains(t, input.Accepted, accepted, "%.40q", said)
		assert.Less(t, len(err.Error()), 500)
	}
}

func TestEveryStandardThreadReadsItsOwnName(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, th := range allThreads() {
		assert.False(t, seen[th.String()], "%s twice", th)
		seen[th.String()] = true
		got, err := ParseThread(th.String())
		require.NoError(t, err)
		assert.Equal(t, th, got)
		got, err = ParseThread(strings.ToLower(" " + th.String() + " "))
		require.NoError(t, err)
		assert.Equal(t, th, got)
	}
	assert.Nil(t, Standard("pipe"))
	assert.Equal(t, "no thread", Thread{}.String())
}

func TestGeometryOfEveryStandardThreadIsInOrder(t *testing.T) {
	t.Parallel()
	for _, th := range allThreads() {
		g := th.Geometry()
		assert.Greater(t, g.MinorExternalMM, 0.0, "%s", th)
		assert.LessOrEqual(t, g.MinorExternalMM, g.MinorInternalMM+1e-9, "%s", th)
		assert.Less(t, g.MinorInternalMM, g.PitchDiameterMM, "%s", th)
		assert.Less(t, g.PitchDiameterMM, th.MajorMM(), "%s", th)
		assert.Greater(t, g.StressDiameterMM, g.MinorExternalMM, "%s", th)
		assert.Less(t, g.StressDiameterMM, g.PitchDiameterMM, "%s", th)
		ring := defaultBearing(th)
		assert.Greater(t, ring.holeMM, th.MajorMM(), "%s", th)
		assert.Greater(t, ring.outerMM, 1.2*ring.holeMM, "%s", th)
	}
}

func TestParseGrade(t *testing.T) {
	t.Parallel()
	for _, name := range Grades() {
		g, err := ParseGrade(" " + strings.ToUpper(name) + " ")
		require.NoError(t, err)
		assert.Equal(t, name, g.String())
		s, ok := g.Strength(8)
		require.True(t, ok)
		assert.Less(t, s.ProofMPa, s.YieldMPa, name)
		assert.Less(t, s.YieldMPa, s.TensileMPa, name)
	}
	for _, name := range []string{"", "5", "8.9", "grade 9", "A2", "-8.8", "NaN", strings.Repeat("9", 1_000_000)} {
		_, err := ParseGrade(name)
		var input *InputError
		require.ErrorAs(t, err, &input)
		assert.Contains(t, input.Accepted, "10.9")
		assert.Less(t, len(err.Error()), 300)
	}
}

func TestReadingAnyTextNeverFailsOtherwise(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) { readBack(t, rapid.String().Draw(t, "name")) })
}

func FuzzParseThread(f *testing.F) {
	for _, s := range []string{"M10x1.5", "m8", "7/16-20 UNF", "3/8 UNC", "1/4 BSW", "2BA", "#10-32", "1-8", "M²", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) { readBack(t, name) })
}

// readBack checks that what parses prints a canonical name that parses to the
// same thread, and that what does not is an *InputError.
func readBack(t interface {
	require.TestingT
	Helper()
}, name string) {
	t.Helper()
	th, err := ParseThread(name)
	if err != nil {
		var input *InputError
		require.ErrorAs(t, err, &input)
		return
	}
	again, err := ParseThread(th.String())
	require.NoError(t, err)
	require.Equal(t, th, again)
}
