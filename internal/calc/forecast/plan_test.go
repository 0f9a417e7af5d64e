package forecast

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var hostile = []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300}

func refused(t *testing.T, err error, field, accepted string) {
	t.Helper()
	var input *InputError
	require.ErrorAs(t, err, &input)
	assert.Equal(t, field, input.Field)
	assert.Contains(t, input.Accepted, accepted)
	assert.Less(t, len(err.Error()), 300)
}

// sure is a task that takes exactly so long.
func sure(id string, hours float64, after ...string) Task {
	return Task{ID: id, Low: hours, Likely: hours, High: hours, After: after}
}

// a 3 → c 4 → d 2, b 5 → d: the way over a and c takes 9 hours, that over b 7 with
// 2 hours to spare. The part of e is here after a day of 8 hours, so that e ends at
// 8 + 0.5.
func TestEarlyAndLateTimes(t *testing.T) {
	t.Parallel()
	e := sure("e", 0.5)
	e.Part = &Arrival{Due: 1}
	p, err := CriticalPath([]Task{sure("a", 3), sure("b", 5), sure("c", 4, "a"), sure("d", 2, "c", "b"), e}, 8)
	require.NoError(t, err)
	assert.InDelta(t, 9, p.Duration, 1e-12)
	assert.Equal(t, []string{"a", "c", "d"}, p.Path)
	for i, want := range []Node{
		{ID: "a", Mean: 3, EarlyEnd: 3, LateEnd: 3},
		{ID: "b", Mean: 5, EarlyEnd: 5, LateStart: 2, LateEnd: 7, Float: 2},
		{ID: "c", Mean: 4, EarlyStart: 3, EarlyEnd: 7, LateStart: 3, LateEnd: 7},
		{ID: "d", Mean: 2, EarlyStart: 7, EarlyEnd: 9, LateStart: 7, LateEnd: 9},
		{ID: "e", Mean: 0.5, EarlyStart: 8, EarlyEnd: 8.5, LateStart: 8.5, LateEnd: 9, Float: 0.5},
	} {
		assert.Equal(t, want, p.Nodes[i])
	}
	assert.InDelta(t, 1, p.Chance(9), 0, "nothing varies")
	assert.InDelta(t, 0, p.Chance(8.9), 0)

	begun := sure("a", 3)
	begun.Done = 1
	over := sure("b", 1, "a")
	over.Done = 2
	p, err = CriticalPath([]Task{begun, over}, 8)
	require.NoError(t, err)
	assert.InDelta(t, 2, p.Duration, 1e-12, "what is done is not to come")

	none, err := CriticalPath(nil, 8)
	require.NoError(t, err)
	assert.Zero(t, none.Duration)
}

func TestNetworksThatCannotBe(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		in   []Task
		want []string
	}{
		{"itself", []Task{sure("a", 1, "a")}, []string{"a"}},
		{"three", []Task{sure("x", 1, "a"), sure("a", 1, "b"), sure("b", 1, "c"), sure("c", 1, "a")}, []string{"a", "b", "c"}},
	} {
		_, err := CriticalPath(c.in, 8)
		var cycle *CycleError
		require.ErrorAs(t, err, &cycle, c.name)
		assert.Equal(t, c.want, cycle.Tasks, c.name)
		_, err = Simulate(Input{Tasks: c.in}, rand.NewPCG(1, 2))
		require.ErrorAs(t, err, &cycle, c.name)
	}
	_, err := CriticalPath([]Task{sure("a", 1, "b")}, 8)
	var unknown *UnknownError
	require.ErrorAs(t, err, &unknown)
	assert.Equal(t, UnknownError{Task: "a", After: "b"}, *unknown)
}

func TestHostileTasks(t *testing.T) {
	t.Parallel()
	plan := func(t Task) error {
		_, err := CriticalPath([]Task{t}, 8)
		return err
	}
	for _, v := range hostile {
		refused(t, plan(Task{ID: "a", Low: v, Likely: 1, High: 2}), "low_hours", "0 to 100000")
		refused(t, plan(Task{ID: "a", Low: 0, Likely: v, High: 2}), "likely_hours", "0 to 100000")
		refused(t, plan(Task{ID: "a", Low: 0, Likely: 1, High: v}), "high_hours", "0 to 100000")
		refused(t, plan(Task{ID: "a", High: 1, Done: v}), "done_hours", "0 to 100000")
		refused(t, plan(Task{ID: "a", Part: &Arrival{Due: v}}), "due_days", "0 to 3650")
		refused(t, plan(Task{ID: "a", Part: &Arrival{SlipHigh: v}}), "slip_days", "0 to 3650")
		_, err := CriticalPath(nil, v)
		refused(t, err, "hours_a_day", "24")
	}
	refused(t, plan(Task{}), "id", "an id")
	refused(t, plan(Task{ID: "a", Low: 2, Likely: 1, High: 3}), "low_hours", "likely 1")
	refused(t, plan(Task{ID: "a", Likely: 2, High: 1}), "high_hours", "likely 2")
	refused(t, plan(Task{ID: "a", Part: &Arrival{SlipLow: 2, SlipLikely: 1, SlipHigh: 3}}), "slip_days", "low one first")
	_, err := CriticalPath([]Task{sure("a", 1), sure("a", 2)}, 8)
	refused(t, err, "id", "of its own")
	_, err = CriticalPath(make([]Task, maxTasks+1), 8)
	refused(t, err, "tasks", "500")
}

// The closed forms of one budget: 4000 planned, 2500 of it done for 2800, when 3000
// should have been.
func TestEarnedValue(t *testing.T) {
	t.Parallel()
	e, err := EarnedValue(Budget{BAC: 4000, PV: 3000, EV: 2500, AC: 2800})
	require.NoError(t, err)
	assert.InDelta(t, 4480, e.EAC, 1e-9)
	assert.InDelta(t, 4480-2800, e.ETC, 1e-9)
	assert.InDelta(t, 4000-4480, e.VAC, 1e-9)
	e, err = EarnedValue(Budget{BAC: 100, EV: 50, AC: 50})
	require.NoError(t, err)
	assert.Zero(t, e.SPI, "no plan of when")
	for _, v := range append(hostile, 0) {
		_, err = EarnedValue(Budget{BAC: v, EV: 1, AC: 1})
		refused(t, err, "bac", "a budget")
		_, err = EarnedValue(Budget{BAC: 10, EV: v, AC: 1})
		refused(t, err, "ev", "nothing done")
		_, err = EarnedValue(Budget{BAC: 10, EV: 1, AC: v})
		refused(t, err, "ac", "spent")
	}
	_, err = EarnedValue(Budget{BAC: 10, PV: 11, EV: 1, AC: 1})
	refused(t, err, "pv", "0 to 10")
}

// Without a record it is common practice. One record of twice the hours moves it by
// its share of the weights: (25·ln 1.15 + 8.163·ln 2)/33.163 = 0.27597. With many
// it becomes what they say.
func TestOverrunIsShrunk(t *testing.T) {
	t.Parallel()
	o, err := LearnOverrun(nil)
	require.NoError(t, err)
	assert.InDelta(t, 1.15, o.Factor(), 1e-12)
	assert.InDelta(t, 0.2, o.LogSD, 1e-12)

	o, err = LearnOverrun([]Record{{10, 20}})
	require.NoError(t, err)
	assert.InDelta(t, 0.27597, o.LogMean, 1e-5)
	assert.InDelta(t, 1/math.Sqrt(33.1633), o.LogSD, 1e-5)
	assert.Contains(t, o.Assumptions[0], "from 1 records")

	last := math.Inf(1)
	for n := 1; n <= 1000; n *= 10 {
		var records []Record
		for range n {
			records = append(records, Record{10, 8})
		}
		o, err = LearnOverrun(records)
		require.NoError(t, err)
		off := math.Abs(o.Factor() - 0.8)
		assert.Less(t, off, last)
		last = off
	}
	assert.Less(t, last, 0.002)

	wild, err := LearnOverrun([]Record{{1, 1000}})
	require.NoError(t, err)
	four, err := LearnOverrun([]Record{{1, 4}})
	require.NoError(t, err)
	assert.InDelta(t, four.LogMean, wild.LogMean, 0, "one odd record does not carry it away")
	for _, v := range append(hostile, 0) {
		_, err = LearnOverrun([]Record{{v, 1}})
		refused(t, err, "expected_hours", "hours")
		_, err = LearnOverrun([]Record{{1, v}})
		refused(t, err, "actual_hours", "hours")
	}
}

// Two believed in 20 hours and four seen in 180 are six in 200.
func TestRateIsUpdated(t *testing.T) {
	t.Parallel()
	assert.InDelta(t, 6.0/200, Rate{2, 20}.Seen(4, 180).PerHour(), 1e-12)
	assert.Equal(t, Rate{2, 20}, Rate{2, 20}.Seen(-1, -5))
	assert.Zero(t, Rate{}.PerHour())
}

// 2026-03-10 is a Tuesday: working day 0; Friday is 3, the next Monday 4.
func TestCalendar(t *testing.T) {
	t.Parallel()
	day := func(d int) time.Time { return time.Date(2026, 3, d, 0, 0, 0, 0, time.UTC) }
	c := From(day(10).Add(10 * time.Hour))
	for _, w := range []struct {
		days       float64
		start, end int
	}{
		{0, 10, 10}, {0.2, 10, 10}, {1, 11, 10}, {1.5, 11, 11}, {3.9, 13, 13}, {4, 16, 13}, {4.1, 16, 16}, {9, 23, 20}, {9.5, 23, 23},
	} {
		assert.Equal(t, day(w.start), c.Start(w.days), "start %g", w.days)
		assert.Equal(t, day(w.end), c.End(w.days), "end %g", w.days)
	}
	assert.Equal(t, day(16), From(day(14)).Start(0), "a Saturday begins on Monday")
	for d, want := range map[int]float64{9: 0, 10: 1, 12: 3, 13: 4, 14: 4, 15: 4, 16: 5} {
		assert.InDelta(t, want, c.MorningAfter(day(d)), 0, "came on the %dth", d)
	}
	assert.Equal(t, day(16), c.Start(c.MorningAfter(day(13))), "what comes on Friday is worked with on Monday")

	// With Tuesday and Thursday off, Wednesday is 0, Friday 1, Monday 2.
	c = From(day(10), day(12), day(10).Add(9*time.Hour), day(14))
	for n, want := range map[float64]int{0: 11, 1: 13, 2: 16} {
		assert.Equal(t, day(want), c.Start(n), "start %g", n)
	}
	assert.InDelta(t, 2, c.MorningAfter(day(13)), 0)
	for d, want := range map[int]int{9: -1, 10: -1, 11: 0, 12: -1, 13: 1, 14: -1, 16: 2} {
		n, ok := c.Number(day(d))
		assert.Equal(t, want >= 0, ok, "the %dth", d)
		assert.Equal(t, max(want, 0), n, "the %dth", d)
	}
}
