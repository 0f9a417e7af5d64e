package gearing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseTyre(t *testing.T) {
	t.Parallel()
	for said, want := range map[string]string{
		"175/65R14":           "175/65R14",
		"175/65r14":           "175/65R14",
		" 175 / 65 R 14 ":     "175/65R14",
		"175/65/14":           "175/65R14",
		"175 65 14":           "175/65R14",
		"175/65 14":           "175/65R14",
		"185/70 HR 14":        "185/70R14",
		"185/70VR14":          "185/70R14",
		"P195/75R14":          "195/75R14",
		"195/65R15 91V":       "195/65R15",
		"205/55ZR16":          "205/55R16",
		"195/70-14":           "195/70-14",
		"185/75R14C 102/100R": "185/75R14",
		"155R13":              "155R13",
		"155 r 13":            "155R13",
		"165SR15":             "165R15",
		"165 HR 15":           "165R15",
		"165-15":              "165-15",
		"165x15":              "165R15",
		"195R16.5":            "195R16.5",
		"5.60-15":             "5.60-15",
		"5.60x15":             "5.60-15",
		"5.60 × 15":           "5.60-15",
		"560-15":              "5.60-15",
		"560 15":              "5.60-15",
		"6.00-16":             "6.00-16",
		"6.5-16":              "6.50-16",
		"5.60S13":             "5.60-13",
		"7.50R16":             "7.50R16",
		"10.00-15":            "10.00-15",
	} {
		tyre, err := ParseTyre(said)
		require.NoError(t, err, "%q", said)
		assert.Equal(t, want, tyre.String(), "%q", said)
	}
}

func TestParseTyreRefusesTheRest(t *testing.T) {
	t.Parallel()
	for said, accepted := range map[string]string{
		"":                             "175/65R14",
		"tyre":                         "175/65R14",
		"1756514":                      "175/65R14",
		"15513":                        "175/65R14",
		"-175/65R14":                   "175/65R14",
		"175/65R":                      "175/65R14",
		"175/00R14":                    "175/65R14",
		"NaN/65R14":                    "175/65R14",
		"99/65R14":                     "175/65R14",
		"0.00-16":                      "2 to 15 inches",
		"99.99-16":                     "2 to 15 inches",
		"100/80R14":                    "105 to 395 mm",
		"175/10R14":                    "25 to 100 %",
		"175/101R14":                   "25 to 100 %",
		"175/65R99":                    "8 to 24 inches",
		"175/65R1":                     "8 to 24 inches",
		"190/65R390":                   "175/65R14",
		"5.60-99":                      "8 to 24 inches",
		"175/65R14; DROP":              "175/65R14",
		strings.Repeat("1", 1_000_000): "175/65R14",
	} {
		tyre, err := ParseTyre(said)
		var input *InputError
		require.ErrorAs(t, err, &input, "%.40q", said)
		assert.Equal(t, "tyre", input.Field)
		assert.Contains(t, input.Accepted, accepted, "%.40q", said)
		assert.Less(t, len(err.Error()), 300)
		assert.Zero(t, tyre)
	}
}

// Every size that can be drawn prints a code that reads back as the same tyre, and
// its circumferences are in order.
func TestTyresReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		tyre := Tyre{radial: rapid.Bool().Draw(t, "radial"), rimIn: float64(rapid.IntRange(8, 24).Draw(t, "rim"))}
		if tyre.inch = rapid.Bool().Draw(t, "inch"); tyre.inch {
			tyre.width = float64(rapid.IntRange(200, 1500).Draw(t, "width")) / 100
		} else {
			tyre.width = float64(rapid.IntRange(105, 395).Draw(t, "width"))
			tyre.aspect = float64(rapid.SampledFrom([]int{0, 25, 45, 65, 80, 100}).Draw(t, "aspect"))
		}
		assert.Equal(t, tyre, mustTyre(t, tyre.String()))
		c := tyre.Circumference()
		assert.Less(t, c.LowMM, c.TypicalMM)
		assert.Less(t, c.TypicalMM, c.HighMM)
		assert.Greater(t, tyre.DiameterMM(), tyre.rimIn*25.4)
	})
}

func FuzzParseTyre(f *testing.F) {
	for _, s := range []string{"175/65r14", "155R13", "165SR15", "5.60-15", "560 15", "6.00x16", "195/65R15 91V", "P195/75R14", "×", "175/65R", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, code string) {
		tyre, err := ParseTyre(code)
		if err != nil {
			var input *InputError
			require.ErrorAs(t, err, &input)
			require.NotEmpty(t, input.Accepted)
			return
		}
		require.Equal(t, tyre, mustTyre(t, tyre.String()))
		d := tyre.DiameterMM()
		require.True(t, d > 200 && d < 2000, "%s has %g mm", tyre, d)
	})
}

func BenchmarkParseTyre(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseTyre("175/65r14"); err != nil {
			b.Fatal(err)
		}
		if _, err := ParseTyre("5.60-15"); err != nil {
			b.Fatal(err)
		}
	}
}
