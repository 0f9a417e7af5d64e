package reorder

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var now = time.Date(2026, time.March, 10, 10, 15, 0, 0, time.UTC)

func daysAgo(n float64) time.Time { return now.Add(-time.Duration(n * float64(day))) }

func refused(t *testing.T, field string, err error) {
	t.Helper()
	e, ok := errors.AsType[*InputError](err)
	require.True(t, ok, "%v", err)
	assert.Equal(t, field, e.Field)
	assert.NotEmpty(t, e.Accepted)
}

// weekly makes one use in the middle of each week, the oldest first; 0 is none.
func weekly(amounts ...float64) (uses []Use, since time.Time) {
	for i, a := range amounts {
		if a > 0 {
			uses = append(uses, Use{daysAgo(7*float64(len(amounts)-i) - 3.5), a})
		}
	}
	return uses, daysAgo(7 * float64(len(amounts)))
}

func predict(t require.TestingT, amounts ...float64) Forecast {
	uses, since := weekly(amounts...)
	f, err := Predict(uses, since, now)
	require.NoError(t, err)
	return f
}

func advise(t require.TestingT, in Input) Result {
	r, err := Advise(in)
	require.NoError(t, err)
	return r
}

func TestSteadyUse(t *testing.T) {
	t.Parallel()
	f := predict(t, 6, 8, 7, 7, 6, 8, 7, 7, 6, 8, 7, 7)
	assert.Equal(t, Smooth, f.Pattern)
	assert.Equal(t, Fair, f.Sure)
	assert.Equal(t, 12, f.Weeks)
	assert.InDelta(t, 1, f.PerDay, 1e-9)
	assert.InDelta(t, 84, f.Total, 1e-9)
	assert.InDelta(t, 8, f.Largest, 0)
	// s² = 6/11 a week; t(0.9; 11) = 1.363.
	assert.InDelta(t, math.Sqrt(6.0/11/7), f.SDPerDay, 1e-9)
	assert.InDelta(t, 1.363*math.Sqrt(6.0/11/12)/7, f.HighPerDay-f.PerDay, 2e-4)

	r := advise(t, Input{Forecast: f, Lead: LeadTime{Days: 7}, OnHand: 20})
	assert.InDelta(t, 20, r.DaysLeft, 1e-9)
	assert.Less(t, r.DaysLow, 20.0)
	assert.Greater(t, r.DaysHigh, 20.0)
	assert.InDelta(t, 7+1.644854*math.Sqrt(6.0/11), r.Point, 1e-5)
	assert.Equal(t, r.Level, r.Point)
	assert.False(t, r.OrderNow)
}

func TestFewDataSaySo(t *testing.T) {
	t.Parallel()
	for _, amounts := range [][]float64{{2}, {2, 0, 0, 3}, {1, 1, 1}, {1, 2, 0, 1}} {
		f := predict(t, amounts...)
		assert.Equal(t, Guess, f.Sure)
		assert.Contains(t, strings.Join(f.Assumptions, "; "), "a guess")
		assert.Zero(t, f.SDPerDay)
		r := advise(t, Input{Forecast: f, Lead: LeadTime{Days: 5}, OnHand: 1, SetAt: 2})
		assert.Zero(t, r.Point, "no level from so few")
		assert.InDelta(t, 2, r.Level, 0, "the level that was set stands")
		assert.True(t, r.OrderNow)
		assert.False(t, r.SetTooLow)
		assert.Contains(t, strings.Join(r.Assumptions, "; "), "the level that was set stands")
	}
	assert.Equal(t, Rough, predict(t, 1, 2, 1, 2).Sure)
}

func TestNoUse(t *testing.T) {
	t.Parallel()
	f := predict(t, 0, 0, 0, 0, 0)
	assert.Equal(t, None, f.Pattern)
	assert.Equal(t, Guess, f.Sure)
	r := advise(t, Input{Forecast: f, Lead: LeadTime{Days: 5}, OnHand: 3})
	assert.True(t, math.IsInf(r.DaysLeft, 1))
	assert.False(t, r.OrderNow)
	assert.Zero(t, advise(t, Input{Forecast: f}).DaysLeft)
}

func TestPatterns(t *testing.T) {
	t.Parallel()
	for want, amounts := range map[Pattern][]float64{
		Smooth:       {5, 5, 6, 5},
		Erratic:      {1, 1, 1, 20},
		Intermittent: {0, 5, 0, 0, 5, 0, 6},
		Lumpy:        {0, 1, 0, 0, 1, 0, 20},
	} {
		assert.Equal(t, want, predict(t, amounts...).Pattern, "%v", amounts)
	}
}

// Syntetos, Boylan and Croston (2005): the cuts lie at an interval of 1.32 (four
// weeks for three uses are above, five for four below) and at CV² = 0.49 (1 and k in
// turn, k = 5.67).
func TestWherePatternsAreCut(t *testing.T) {
	t.Parallel()
	assert.Equal(t, Intermittent, predict(t, 5, 0, 5, 6).Pattern)
	assert.Equal(t, Smooth, predict(t, 5, 0, 5, 6, 5).Pattern)
	assert.Equal(t, Smooth, predict(t, 1, 5.6, 1, 5.6).Pattern)
	assert.Equal(t, Erratic, predict(t, 1, 5.8, 1, 5.8).Pattern)
}

// Four litres every fourth week: nothing near a normal distribution. When it is
// wanted again, it is wanted by four.
func TestUseInLumpsKeepsOneLump(t *testing.T) {
	t.Parallel()
	f := predict(t, 0, 0, 0, 4, 0, 0, 0, 4, 0, 0, 0, 4, 0, 0, 0, 4)
	assert.Equal(t, Intermittent, f.Pattern)
	assert.InDelta(t, 0.95/7, f.PerDay, 1e-9)
	r := advise(t, Input{Forecast: f, Lead: LeadTime{Days: 2}, OnHand: 5})
	assert.True(t, r.FloorIsUse)
	assert.InDelta(t, 4, r.Point, 0)
	assert.False(t, r.OrderNow)
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "largest single use")
}

func TestALevelSetTooLowIsSaidAndStands(t *testing.T) {
	t.Parallel()
	f := predict(t, 6, 8, 7, 7, 6, 8, 7, 7, 6, 8, 7, 7)
	r := advise(t, Input{Forecast: f, Lead: LeadTime{Days: 14}, OnHand: 10, SetAt: 2})
	assert.True(t, r.SetTooLow)
	assert.InDelta(t, 2, r.Level, 0)
	assert.False(t, r.OrderNow)
	assert.True(t, advise(t, Input{Forecast: f, Lead: LeadTime{Days: 14}, OnHand: 1, OnOrder: 1, SetAt: 2}).OrderNow)
	assert.False(t, advise(t, Input{Forecast: f, Lead: LeadTime{Days: 14}, OnHand: 1, OnOrder: 5, SetAt: 2}).OrderNow)
}

func TestOldAndBrokenWeeksAreNotCounted(t *testing.T) {
	t.Parallel()
	f, err := Predict([]Use{{daysAgo(16), 100}, {daysAgo(10), 2}, {daysAgo(0), 3}}, daysAgo(17), now)
	require.NoError(t, err)
	assert.Equal(t, 2, f.Weeks)
	assert.InDelta(t, 5, f.Total, 0)
	f, err = Predict([]Use{{daysAgo(7 * 200), 100}, {daysAgo(1), 3}}, daysAgo(7*300), now)
	require.NoError(t, err)
	assert.Equal(t, maxWeeks, f.Weeks)
	assert.InDelta(t, 3, f.Total, 0)
	f, err = Predict([]Use{{daysAgo(1), 3}}, daysAgo(2), now)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(f.Assumptions, "; "), "less than a week")
}

func TestHostileUse(t *testing.T) {
	t.Parallel()
	for _, a := range []float64{0, -1, math.NaN(), math.Inf(1), 1e7} {
		_, err := Predict([]Use{{now, a}}, daysAgo(30), now)
		refused(t, "amount", err)
	}
	for _, at := range []time.Time{{}, daysAgo(31), now.Add(time.Second)} {
		_, err := Predict([]Use{{at, 1}}, daysAgo(30), now)
		refused(t, "at", err)
	}
	for _, since := range []time.Time{{}, now, now.Add(day)} {
		_, err := Predict(nil, since, now)
		refused(t, "since", err)
	}
	_, err := Predict(nil, daysAgo(1), time.Time{})
	refused(t, "since", err)
}

func TestHostileAdvice(t *testing.T) {
	t.Parallel()
	good := Input{Forecast: predict(t, 6, 8, 7, 7, 6), Lead: LeadTime{Days: 5}, OnHand: 3}
	for field, set := range map[string]func(*Input, float64){
		"service":      func(in *Input, v float64) { in.Service = v },
		"lead_days":    func(in *Input, v float64) { in.Lead.Days = v },
		"lead_sd_days": func(in *Input, v float64) { in.Lead.SDDays = v },
		"on_hand":      func(in *Input, v float64) { in.OnHand = v },
		"on_order":     func(in *Input, v float64) { in.OnOrder = v },
		"reorder_at":   func(in *Input, v float64) { in.SetAt = v },
		"per_day":      func(in *Input, v float64) { in.Forecast.PerDay = v },
		"sd_per_day":   func(in *Input, v float64) { in.Forecast.SDPerDay = v },
		"largest":      func(in *Input, v float64) { in.Forecast.Largest = v },
	} {
		for _, v := range []float64{-1, math.NaN(), math.Inf(1), 1e300} {
			in := good
			set(&in, v)
			_, err := Advise(in)
			refused(t, field, err)
		}
	}
	in := good
	in.Service = 1
	_, err := Advise(in)
	refused(t, "service", err)
	_, err = Advise(Input{})
	refused(t, "forecast", err)
	for _, p := range []float64{0, 1, -1, math.NaN()} {
		_, err = Quantile(p)
		refused(t, "service", err)
	}
}

func TestReorderPointIsMonotonic(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := Input{
			Forecast: Forecast{
				PerDay: rapid.Float64Range(0, 100).Draw(t, "use"), SDPerDay: rapid.Float64Range(0, 50).Draw(t, "spread"),
				Pattern: rapid.SampledFrom([]Pattern{Smooth, Erratic, Intermittent, Lumpy}).Draw(t, "pattern"), Sure: Fair,
				Largest: rapid.Float64Range(0, 200).Draw(t, "largest"),
			},
			Lead:    LeadTime{rapid.Float64Range(0, 60).Draw(t, "lead"), rapid.Float64Range(0, 20).Draw(t, "lead spread")},
			Service: rapid.Float64Range(0.5, 0.99).Draw(t, "service"),
			OnHand:  rapid.Float64Range(0, 1000).Draw(t, "on hand"),
		}
		r := advise(t, in)
		by := rapid.Float64Range(0, 5).Draw(t, "by")
		for name, change := range map[string]func(*Input){
			"use":         func(in *Input) { in.Forecast.PerDay += by },
			"spread":      func(in *Input) { in.Forecast.SDPerDay += by },
			"lead":        func(in *Input) { in.Lead.Days += by },
			"lead spread": func(in *Input) { in.Lead.SDDays += by },
			"service":     func(in *Input) { in.Service = min(in.Service+by/1000, 0.999) },
		} {
			more := in
			change(&more)
			assert.GreaterOrEqual(t, advise(t, more).Point, r.Point, "more %s", name)
		}
		assert.GreaterOrEqual(t, r.Safety, 0.0)
		assert.GreaterOrEqual(t, r.Point, r.LeadUse)
		assert.Equal(t, r.Level > 0 && in.OnHand <= r.Level, r.OrderNow)
	})
}

func TestForecastsAreSound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		amounts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) float64 {
			if rapid.Bool().Draw(t, "none") {
				return 0
			}
			return rapid.Float64Range(0.01, 50).Draw(t, "amount")
		}), 1, 60).Draw(t, "weeks")
		f := predict(t, amounts...)
		var total, largest float64
		for _, a := range amounts {
			total, largest = total+a, max(largest, a)
		}
		assert.InDelta(t, total, f.Total, 1e-9*total)
		assert.Equal(t, total == 0, f.PerDay == 0)
		assert.LessOrEqual(t, f.PerDay*7, largest*(1+1e-9), "no more than the largest week, every week")
		if f.Sure != Guess {
			assert.LessOrEqual(t, f.LowPerDay, f.PerDay)
			assert.GreaterOrEqual(t, f.HighPerDay, f.PerDay)
			assert.GreaterOrEqual(t, len(amounts), fewUses)
		}
		// Amounts have no scale: a workshop that counts in millilitres gets the same.
		big := make([]float64, len(amounts))
		for i, a := range amounts {
			big[i] = a * 1000
		}
		g := predict(t, big...)
		assert.InDelta(t, f.PerDay*1000, g.PerDay, 1e-6*(1+g.PerDay))
		assert.Equal(t, f.Sure, g.Sure)
	})
}

func TestQuantileIsOdd(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(0.001, 0.5).Draw(t, "p")
		a, err := Quantile(p)
		require.NoError(t, err)
		b, err := Quantile(1 - p)
		require.NoError(t, err)
		assert.InDelta(t, -a, b, 1e-9)
		assert.InDelta(t, p, 0.5*math.Erfc(-a/math.Sqrt2), 1e-12, "and turns round")
	})
}

func BenchmarkPredict(b *testing.B) {
	uses, since := weekly(1, 0, 2, 0, 0, 3, 1, 0, 2, 4, 0, 0, 1, 2, 0, 1, 1, 0, 0, 2, 1, 0, 3, 0, 1, 2)
	for b.Loop() {
		if _, err := Predict(uses, since, now); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAdvise(b *testing.B) {
	in := Input{Forecast: predict(b, 6, 8, 7, 7, 6, 8, 7, 7), Lead: LeadTime{5, 1}, OnHand: 10, SetAt: 5}
	for b.Loop() {
		if _, err := Advise(in); err != nil {
			b.Fatal(err)
		}
	}
}
