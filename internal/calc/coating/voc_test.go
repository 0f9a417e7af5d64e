package coating

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestThinnerCanBreakTheLimit(t *testing.T) {
	t.Parallel()
	clear := []Portion{{2, 400, 0}, {1, 430, 0}}
	s, err := MixVOC(clear)
	require.NoError(t, err)
	v, err := CheckVOC(Topcoat, s)
	require.NoError(t, err)
	assert.True(t, v.Keeps)
	assert.InDelta(t, 410, v.GPerL, 1e-9)
	assert.Contains(t, v.Source, "B(d): 420 g/L")
	assert.Contains(t, strings.Join(v.Assumptions, "; "), "historic interest")
	assert.Contains(t, strings.Join(v.Assumptions, "; "), "check locally")

	s, err = MixVOC(append(clear, Portion{0.3, 870, 0}))
	require.NoError(t, err)
	v, err = CheckVOC(Topcoat, s)
	require.NoError(t, err)
	assert.False(t, v.Keeps)
	assert.InDelta(t, 1491/3.3-420, v.OverGPerL, 1e-9)
}

// A limit is kept at its own figure.
func TestAtTheLimit(t *testing.T) {
	t.Parallel()
	v, err := CheckVOC(Primer, Solvent{540, 540})
	require.NoError(t, err)
	assert.True(t, v.Keeps)
	assert.Zero(t, v.OverGPerL)
}

// Annex II B note (1): but for B(a), water in the product is discounted.
func TestWaterIsLeftOutButForCleaners(t *testing.T) {
	t.Parallel()
	s, err := MixVOC([]Portion{{1, 210, 50}})
	require.NoError(t, err)
	assert.InDelta(t, 210, s.GPerL, 1e-9)
	assert.InDelta(t, 420, s.LessWaterGPerL, 1e-9)
	for _, c := range Categories() {
		v, err := CheckVOC(c, s)
		require.NoError(t, err)
		want := s.LessWaterGPerL
		if c == Preparatory || c == PreCleaner {
			want = s.GPerL
		}
		assert.InDelta(t, want, v.GPerL, 1e-9, "%s", c)
	}
}

func TestHostileSolvents(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for _, c := range []struct {
		field string
		p     []Portion
	}{
		{"with", nil}, {"with", make([]Portion, 7)},
		{"amount_l", []Portion{{0, 400, 0}}}, {"amount_l", []Portion{{nan, 400, 0}}}, {"amount_l", []Portion{{1e300, 400, 0}}},
		{"voc_g_per_l", []Portion{{1, -1, 0}}}, {"voc_g_per_l", []Portion{{1, nan, 0}}}, {"voc_g_per_l", []Portion{{1, 5000, 0}}},
		{"water_pct", []Portion{{1, 400, 100}}}, {"water_pct", []Portion{{1, 400, nan}}},
	} {
		_, err := MixVOC(c.p)
		refused(t, c.field, err)
	}
	_, err := CheckVOC("B(d)", Solvent{1, 1})
	refused(t, "category", err)
	_, err = CheckVOC(Topcoat, Solvent{nan, nan})
	refused(t, "voc_g_per_l", err)
	_, err = CheckVOC(Topcoat, Solvent{400, 300})
	refused(t, "voc_g_per_l", err)
}

func TestAMixLiesBetweenItsParts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var p []Portion
		low, high := math.Inf(1), 0.0
		for range rapid.IntRange(1, maxParts).Draw(t, "components") {
			v := rapid.Float64Range(0, 900).Draw(t, "voc")
			p = append(p, Portion{rapid.Float64Range(0.01, 10).Draw(t, "litres"), v, rapid.Float64Range(0, 90).Draw(t, "water")})
			low, high = min(low, v), max(high, v)
		}
		s, err := MixVOC(p)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, s.GPerL, low*(1-1e-12))
		assert.LessOrEqual(t, s.GPerL, high*(1+1e-12))
		assert.GreaterOrEqual(t, s.LessWaterGPerL, s.GPerL)
		_, err = CheckVOC(Topcoat, s)
		require.NoError(t, err)
	})
}

func BenchmarkCheckVOC(b *testing.B) {
	for b.Loop() {
		s, err := MixVOC([]Portion{{4, 380, 0}, {1, 550, 0}, {1, 870, 0}})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := CheckVOC(Topcoat, s); err != nil {
			b.Fatal(err)
		}
	}
}
