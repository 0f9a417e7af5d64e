package coating

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func mustRatio(t require.TestingT, s string) Ratio {
	r, err := ParseRatio(s)
	require.NoError(t, err)
	return r
}

// refused says that err is an InputError about a field, and that it says what to do.
func refused(t *testing.T, field string, err error) {
	t.Helper()
	e, ok := errors.AsType[*InputError](err)
	require.True(t, ok, "%v", err)
	assert.Equal(t, field, e.Field)
	assert.NotEmpty(t, e.Accepted)
	assert.LessOrEqual(t, len([]rune(e.Value)), 41)
}

func drawRatio(t *rapid.T) Ratio {
	var r Ratio
	r.n = rapid.IntRange(1, maxParts).Draw(t, "parts")
	for i := range r.n {
		r.parts[i] = rapid.Int64Range(1, 1000*ratioScale).Draw(t, "part")
	}
	return r
}

func TestRatiosAreReadAndPrinted(t *testing.T) {
	t.Parallel()
	for said, want := range map[string]string{
		"2:1": "2:1", "4:1:0.5": "4:1:0.5", "1": "1", "100:12.5": "100:12.5",
		"1000:0.001": "1000:0.001", "1:1:1:1:1:1": "1:1:1:1:1:1", "0004:1": "4:1",
	} {
		assert.Equal(t, want, mustRatio(t, said).String(), said)
	}
}

func TestWhatIsNoRatioIsRefused(t *testing.T) {
	t.Parallel()
	for _, s := range []string{
		"", ":", "2:", ":1", "2::1", "0:1", "2:0", "-2:1", "+2:1", "2:1:", "a:b", "2/1", "2,5:1", "1e3:1", "NaN:1", "Inf:1", "2:.5", "2:1.",
		"1001:1", "1:0.0001", "1:1:1:1:1:1:1", "٢:١", "2:1\x00", "0x2:1", "2 1:1", "99999999999999999999:1", strings.Repeat("1:", 50_000) + "1",
	} {
		_, err := ParseRatio(s)
		refused(t, "mix", err)
	}
}

// The shop's high build, 4:1:0.5, 1.1 litres: 800, 200 and 100 mL.
func TestPartsOfTheMix(t *testing.T) {
	t.Parallel()
	m, err := PlanMix(mustRatio(t, "4:1:0.5"), 1_100_000)
	require.NoError(t, err)
	assert.Equal(t, []Volume{800_000, 200_000, 100_000}, m.Parts)
	assert.Contains(t, m.Caution, "air-fed mask")
	assert.Contains(t, m.Source, "4:1:0.5")

	// A third cannot be poured; the sum stays right.
	parts, err := mustRatio(t, "1:1:1").Split(Litre)
	require.NoError(t, err)
	assert.Equal(t, []Volume{333_334, 333_333, 333_333}, parts)
}

func TestAmountsThatCannotBeMixed(t *testing.T) {
	t.Parallel()
	for _, l := range []float64{0, -1, 1e-9, 10_001, math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := VolumeOf(l)
		refused(t, "amount_l", err)
	}
	for _, v := range []Volume{0, -1, 999, MaxVolume + 1, math.MaxInt64, math.MinInt64} {
		_, err := PlanMix(mustRatio(t, "2:1"), v)
		refused(t, "amount_l", err)
	}
	_, err := PlanMix(Ratio{}, Litre)
	refused(t, "mix", err)
	_, _, err = Ratio{}.Makes(nil)
	refused(t, "mix", err)
	_, _, err = mustRatio(t, "2:1").Makes([]Volume{1})
	refused(t, "with", err)
	_, _, err = mustRatio(t, "2:1").Makes([]Volume{1, math.MaxInt64})
	refused(t, "on_hand", err)
}

func TestPartsSumToTheTotal(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRatio(t)
		total := Volume(rapid.Int64Range(1000, int64(MaxVolume)).Draw(t, "total"))
		parts, err := r.Split(total)
		require.NoError(t, err)
		var sum Volume
		for i, p := range parts {
			sum += p
			share := float64(total) * float64(r.parts[i]) / float64(r.sum())
			assert.InDelta(t, share, float64(p), 1.001+1e-15*float64(total), "part %d", i)
		}
		assert.Equal(t, total, sum)

		// The stock of one mix makes that mix again, to within the rounding of its
		// smallest part.
		makes, limit, err := r.Makes(parts)
		require.NoError(t, err)
		assert.Less(t, limit, r.n)
		assert.InDelta(t, float64(total), float64(makes), 2+float64(r.sum())/float64(r.parts[limit]))
	})
}

func TestMoreStockNeverMakesLess(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRatio(t)
		stock, more := make([]Volume, r.n), make([]Volume, r.n)
		for i := range stock {
			stock[i] = Volume(rapid.Int64Range(0, int64(MaxVolume)/2).Draw(t, "stock"))
			more[i] = stock[i] + Volume(rapid.Int64Range(0, int64(MaxVolume)/2).Draw(t, "more"))
		}
		a, _, err := r.Makes(stock)
		require.NoError(t, err)
		b, _, err := r.Makes(more)
		require.NoError(t, err)
		assert.LessOrEqual(t, a, b)
	})
}

func TestRatiosRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRatio(t)
		assert.Equal(t, r, mustRatio(t, r.String()))
	})
}

func FuzzParseRatio(f *testing.F) {
	for _, s := range []string{"2:1", "4:1:0.5", "1:1", " 3 : 1", "", "0:1", "2:1.", "1e9:1", "٢:١", "999.999:0.001"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := ParseRatio(s)
		if err != nil {
			refused(t, "mix", err)
			return
		}
		again, err := ParseRatio(r.String())
		require.NoError(t, err)
		require.Equal(t, r, again)
		parts, err := r.Split(Litre)
		require.NoError(t, err)
		var sum Volume
		for _, p := range parts {
			require.GreaterOrEqual(t, p, Volume(0))
			sum += p
		}
		require.Equal(t, Litre, sum)
	})
}

func BenchmarkParseRatio(b *testing.B) {
	for b.Loop() {
		if _, err := ParseRatio("4:1:0.5"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlanMix(b *testing.B) {
	r := mustRatio(b, "4:1:0.5")
	for b.Loop() {
		if _, err := PlanMix(r, 1_100_000); err != nil {
			b.Fatal(err)
		}
	}
}
