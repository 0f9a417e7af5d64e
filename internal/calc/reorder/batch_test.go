package reorder

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func inDays(n float64) time.Time { return now.Add(time.Duration(n * float64(day))) }

func TestFirstExpiryGoesFirst(t *testing.T) {
	t.Parallel()
	late, soon, undated, gone := Batch{"late", One, inDays(90)}, Batch{"soon", One, inDays(10)}, Batch{"undated", One, time.Time{}}, Batch{"gone", One, now}
	empty := Batch{"empty", 0, inDays(5)}
	p, err := FirstOut([]Batch{undated, late, gone, empty, soon}, 2*One+One/2, now)
	require.NoError(t, err)
	assert.Equal(t, []Pick{{soon, One}, {late, One}, {undated, One / 2}}, p.Picks)
	assert.Zero(t, p.Missing)
	assert.Equal(t, []Batch{gone}, p.Expired)

	p, err = FirstOut([]Batch{gone, soon}, 3*One, now)
	require.NoError(t, err)
	assert.Equal(t, []Pick{{soon, One}}, p.Picks)
	assert.Equal(t, 2*One, p.Missing)
}

func TestWhatWillGoOutOfDate(t *testing.T) {
	t.Parallel()
	// A tenth of a litre a day: ten days reach for one litre, then five more for the
	// half of the next before it is out of date.
	batches := []Batch{{"b", One, inDays(15)}, {"a", One, inDays(10)}, {"c", One, inDays(40)}, {"undated", One, time.Time{}}}
	s, err := Spoils(batches, 0.1, now)
	require.NoError(t, err)
	require.Len(t, s, 1)
	assert.Equal(t, "b", s[0].Batch.ID)
	assert.InDelta(t, 0.5e6, float64(s[0].Left), 2)

	s, err = Spoils(append(batches, Batch{"gone", One, daysAgo(1)}), 0, now)
	require.NoError(t, err)
	assert.Len(t, s, 4, "what nobody uses goes out of date, but for what has no date")
}

func TestHostileBatches(t *testing.T) {
	t.Parallel()
	good := []Batch{{"a", One, inDays(1)}}
	for _, a := range []Amount{0, -1, math.MaxInt64, math.MinInt64} {
		_, err := FirstOut(good, a, now)
		refused(t, "amount", err)
	}
	for _, left := range []Amount{-1, math.MaxInt64} {
		_, err := FirstOut([]Batch{{"a", left, inDays(1)}}, One, now)
		refused(t, "left", err)
		_, err = Spoils([]Batch{{"a", left, inDays(1)}}, 1, now)
		refused(t, "left", err)
	}
	for _, v := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err := Spoils(good, v, now)
		refused(t, "per_day", err)
	}
	_, err := FirstOut(good, One, time.Time{})
	refused(t, "now", err)
}

func drawBatches(t *rapid.T) []Batch {
	batches := make([]Batch, rapid.IntRange(0, 8).Draw(t, "batches"))
	for i := range batches {
		batches[i] = Batch{ID: fmt.Sprint(i), Left: Amount(rapid.Int64Range(0, int64(20*One)).Draw(t, "left"))}
		if rapid.Bool().Draw(t, "dated") {
			batches[i].Expires = inDays(rapid.Float64Range(-20, 200).Draw(t, "expires"))
		}
	}
	return batches
}

func TestPicksSumToTheAmount(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		batches, amount := drawBatches(t), Amount(rapid.Int64Range(1, int64(100*One)).Draw(t, "amount"))
		p, err := FirstOut(batches, amount, now)
		require.NoError(t, err)
		sum := p.Missing
		var last time.Time
		undated := false
		for _, k := range p.Picks {
			sum += k.Take
			assert.Positive(t, k.Take)
			assert.LessOrEqual(t, k.Take, k.Batch.Left)
			if k.Batch.Expires.IsZero() {
				undated = true
				continue
			}
			assert.False(t, undated, "no date goes last")
			assert.True(t, now.Before(k.Batch.Expires))
			assert.False(t, k.Batch.Expires.Before(last))
			last = k.Batch.Expires
		}
		assert.Equal(t, amount, sum)
	})
}

func TestUsingFasterSpoilsLess(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		batches := drawBatches(t)
		slow := rapid.Float64Range(0, 1).Draw(t, "slow")
		total := func(perDay float64) (sum Amount) {
			s, err := Spoils(batches, perDay, now)
			require.NoError(t, err)
			for _, x := range s {
				assert.Positive(t, x.Left)
				assert.LessOrEqual(t, x.Left, x.Batch.Left)
				sum += x.Left
			}
			return sum
		}
		faster := slow + rapid.Float64Range(0, 5).Draw(t, "by")
		assert.LessOrEqual(t, total(faster), total(slow)+Amount(len(batches)))
	})
}

func BenchmarkFirstOut(b *testing.B) {
	batches := []Batch{{"b", One, inDays(15)}, {"a", One, inDays(10)}, {"c", One, inDays(40)}, {"undated", One, time.Time{}}}
	for b.Loop() {
		if _, err := FirstOut(batches, 2*One, now); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSpoils(b *testing.B) {
	batches := []Batch{{"b", One, inDays(15)}, {"a", One, inDays(10)}, {"c", One, inDays(40)}, {"undated", One, time.Time{}}}
	for b.Loop() {
		if _, err := Spoils(batches, 0.1, now); err != nil {
			b.Fatal(err)
		}
	}
}
