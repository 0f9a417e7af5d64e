package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func simulate(t require.TestingT, in Input) Result {
	r, err := Simulate(in, rand.NewPCG(7, 11))
	require.NoError(t, err)
	return r
}

const many = 20_000

// One hour a working day makes a day of each hour. The triangle from 2 by 4 to 10
// has F(4) = 1/4, so that its quantiles are 10 − √((1−p)·8·6); the sampled ones must
// lie within four standard errors √(p(1−p)/n)/f.
func TestOneTaskIsItsDistribution(t *testing.T) {
	t.Parallel()
	r := simulate(t, Input{Tasks: []Task{{ID: "a", Low: 2, Likely: 4, High: 10}}, HoursPerDay: 1, Runs: many})
	for p, got := range map[float64]float64{0.5: r.Finish.P50, 0.8: r.Finish.P80} {
		want := 10 - math.Sqrt((1-p)*48)
		f := 2 * (10 - want) / 48
		assert.InDelta(t, want, got, 4*math.Sqrt(p*(1-p)/many)/f, "p %g", p)
	}
	assert.Equal(t, r.Finish, r.Hours)
}

// Six of 2 to 10 hours are done: what is left is what lies above 6, where
// 1 − F(x) = (10 − x)²/48. Half of these cases end by 10 − √(48·½·⅓).
func TestWhatIsLeftOfATaskInHand(t *testing.T) {
	t.Parallel()
	task := Task{ID: "a", Low: 2, Likely: 4, High: 10, Done: 6, InHand: true}
	r := simulate(t, Input{Tasks: []Task{task}, HoursPerDay: 1, Runs: many})
	want := 10 - math.Sqrt(48*0.5*(16.0/48)) - 6
	assert.InDelta(t, want, r.Hours.P50, 0.03)
	task.Done = 12
	r = simulate(t, Input{Tasks: []Task{task}, Runs: 10})
	assert.InDelta(t, 0.05*4, r.Hours.P50, 1e-12, "beyond its high estimate a small rest")
}

// Twelve of 2 by 3 to 7 hours: mean 4 and variance (4+9+49−6−14−21)/18 = 7/6 each,
// so 48 and 14 in all. The normal limit is off by its skewness, a tenth of an hour.
func TestAChainComesNearTheNormal(t *testing.T) {
	t.Parallel()
	var tasks []Task
	for i := range 12 {
		task := Task{ID: fmt.Sprint(i), Low: 2, Likely: 3, High: 7}
		if i > 0 {
			task.After = []string{fmt.Sprint(i - 1)}
		}
		tasks = append(tasks, task)
	}
	assert.InDelta(t, 4, tasks[0].Expected(), 1e-12)
	r := simulate(t, Input{Tasks: tasks, HoursPerDay: 1, Runs: many})
	assert.InDelta(t, 48, r.Finish.P50, 0.2)
	assert.InDelta(t, 48+0.8416*math.Sqrt(14), r.Finish.P80, 0.2)
	assert.InDelta(t, r.Finish.P80, r.Hours.P80, 1e-9)
}

// From 0 to 10, most likely 10, F(x) = (x/10)²: the later of two has (x/10)⁴.
func TestTheLaterOfTwo(t *testing.T) {
	t.Parallel()
	r := simulate(t, Input{Tasks: []Task{{ID: "a", Likely: 10, High: 10}, {ID: "b", Likely: 10, High: 10}}, HoursPerDay: 1, Runs: many})
	assert.InDelta(t, 10*math.Pow(0.5, 0.25), r.Finish.P50, 0.06)
	assert.InDelta(t, 10*math.Pow(0.8, 0.25), r.Finish.P80, 0.06)
	assert.InDelta(t, 0.5, r.Tasks[0].Critical, 0.02)
	assert.InDelta(t, 1, r.Tasks[0].Critical+r.Tasks[1].Critical, 1e-12)
}

// The factor alone, log-normal about 1.2: quantiles 1.2·exp(z·0.3).
func TestOverrunMultiplies(t *testing.T) {
	t.Parallel()
	r := simulate(t, Input{Tasks: []Task{sure("a", 10), sure("b", 5)}, Overrun: Overrun{LogMean: math.Log(1.2), LogSD: 0.3}, Runs: many})
	assert.InDelta(t, 18, r.Hours.P50, 0.2)
	assert.InDelta(t, 18*math.Exp(0.8416*0.3), r.Hours.P80, 0.3)
}

// 40 hours of stripping at a find in ten hours bring a Poisson number of mean 4: 4
// or fewer in 63 %, 3 or fewer in 43 %; 6 in 89 %, 5 in 79 %. Each costs two hours.
func TestWhatIsNotFoundYet(t *testing.T) {
	t.Parallel()
	strip, metal := sure("strip", 40), sure("more", 0, "strip")
	strip.Stage, metal.Stage = "strip", "metal"
	in := Input{Tasks: []Task{strip, metal}, Unfound: &Unfound{While: []string{"strip"}, Into: "more", PerHour: 0.1, Low: 2, Likely: 2, High: 2}}
	r := simulate(t, in)
	assert.Equal(t, []StageHours{{"strip", Share{40, 40}}, {"metal", Share{8, 12}}}, r.Stages)
	assert.Equal(t, Share{48, 52}, r.Hours)
	for u, want := range map[float64]int{0: 0, 0.43: 3, 0.44: 4, 0.62: 4, 0.63: 5, 0.78: 5, 0.79: 6} {
		assert.Equal(t, want, poisson(4, u), "u %g", u)
	}
	assert.Zero(t, poisson(0, 0.999999))
	assert.Positive(t, poisson(1e9, 1))

	in.Unfound.Into = "gone"
	_, err := Simulate(in, rand.NewPCG(1, 2))
	var unknown *UnknownError
	require.ErrorAs(t, err, &unknown)
}

// With nothing to vary and a person for each task it is the critical path.
func TestSureTasksAreTheCriticalPath(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		tasks := drawTasks(t, true)
		p, err := CriticalPath(tasks, DefaultHours)
		require.NoError(t, err)
		r := simulate(t, Input{Tasks: tasks, Runs: 3})
		assert.InDelta(t, p.Duration, r.Finish.P50*DefaultHours, 1e-9)
		assert.Equal(t, r.Finish.P50, r.Finish.P80)
		for i, n := range p.Nodes {
			assert.InDelta(t, n.EarlyStart, r.Tasks[i].Start50*DefaultHours, 1e-9)
			assert.InDelta(t, n.EarlyEnd, r.Tasks[i].End80*DefaultHours, 1e-9)
		}
	})
}

// One metal worker of 8 hours a day, one painter of 4. The first of the metal
// tasks to be begun is b, for paint waits for it; it ends after day 1, a after day
// 2. Paint takes 8 hours: two days of 4, days 1 to 3. The last one has its part on
// the morning of day 4 and a metal day: it ends after 5, whatever the others do.
func TestPeopleAreBound(t *testing.T) {
	t.Parallel()
	a, b, c, d := sure("a", 8), sure("b", 8), sure("c", 8, "b"), sure("d", 8)
	a.Trade, b.Trade, c.Trade, d.Trade = "metal", "metal", "paint", "metal"
	people := []Person{{"m", []string{"metal"}, 8, nil}, {"p", []string{"paint"}, 4, nil}}
	r := simulate(t, Input{Tasks: []Task{a, b, c}, People: people, Runs: 5})
	assert.Equal(t, []Times{{"a", 1, 2, 2, 0}, {"b", 0, 1, 1, 1}, {"c", 1, 3, 3, 1}}, r.Tasks)
	assert.Equal(t, Share{3, 3}, r.Finish)
	assert.Equal(t, Share{24, 24}, r.Hours)

	d.Part = &Arrival{Due: 3, SlipLow: 1, SlipLikely: 1, SlipHigh: 1}
	r = simulate(t, Input{Tasks: []Task{d, a, b, c}, People: people, Runs: 5})
	assert.Equal(t, Times{"d", 4, 5, 5, 1}, r.Tasks[0])
	assert.Zero(t, r.Tasks[3].Critical)

	a.InHand, a.Person = true, "p"
	r = simulate(t, Input{Tasks: []Task{a, b, c}, People: people, Runs: 5})
	assert.Equal(t, []Times{{"a", 0, 2, 2, 1}, {"b", 0, 1, 1, 0}, {"c", 2, 4, 4, 1}}, r.Tasks, "the painter has one in hand")
}

// Of two who are free the one of the longer day takes it: 8 hours in one day, not in
// two. What is in hand goes before what is more urgent. What turns out to be no work
// waits for nobody: the lone worker is busy until day 2.
func TestWhoTakesWhatFirst(t *testing.T) {
	t.Parallel()
	r := simulate(t, Input{Tasks: []Task{sure("a", 8)}, People: []Person{{"half", nil, 4, nil}, {"full", nil, 8, nil}}, Runs: 1})
	assert.Equal(t, Share{1, 1}, r.Finish)

	short, long, last := sure("short", 8), sure("long", 8), sure("last", 8, "long")
	one := []Person{{"one", nil, 8, nil}}
	r = simulate(t, Input{Tasks: []Task{short, long, last}, People: one, Runs: 1})
	assert.InDelta(t, 0, r.Tasks[1].Start50, 0, "the last one waits for it")
	short.InHand = true
	r = simulate(t, Input{Tasks: []Task{short, long, last}, People: one, Runs: 1})
	assert.InDelta(t, 0, r.Tasks[0].Start50, 0)

	r = simulate(t, Input{Tasks: []Task{sure("a", 16), sure("none", 0)}, People: one, Runs: 1})
	assert.Equal(t, Times{ID: "none"}, r.Tasks[1])
}

// Another seed is other luck, and no more than that.
func TestTheSeedIsLuck(t *testing.T) {
	t.Parallel()
	in := Input{Tasks: []Task{{ID: "a", Low: 2, Likely: 4, High: 10}}}
	one, err := Simulate(in, rand.NewPCG(1, 2))
	require.NoError(t, err)
	other, err := Simulate(in, rand.NewPCG(3, 4))
	require.NoError(t, err)
	assert.NotEqual(t, one.Hours, other.Hours)
	assert.InEpsilon(t, one.Hours.P80, other.Hours.P80, 0.05)
}

func TestWhatCannotBeSimulated(t *testing.T) {
	t.Parallel()
	run := func(in Input) error {
		_, err := Simulate(in, rand.NewPCG(1, 2))
		return err
	}
	metal := Task{ID: "a", Trade: "metal"}
	who := []Person{{"m", []string{"paint"}, 8, nil}}
	refused(t, run(Input{Tasks: []Task{metal}, People: who}), "trade", "task a")
	refused(t, run(Input{Tasks: []Task{{ID: "a", Person: "x"}}, People: who}), "person", "task a")
	refused(t, run(Input{Runs: -1}), "runs", "100000")
	refused(t, run(Input{Runs: maxRuns + 1}), "runs", "100000")
	refused(t, run(Input{People: make([]Person, maxPeople+1)}), "people", "100")
	for _, v := range hostile {
		refused(t, run(Input{HoursPerDay: v}), "hours_a_day", "24")
		refused(t, run(Input{People: []Person{{"m", nil, v, nil}}}), "hours_a_day", "24")
		refused(t, run(Input{Overrun: Overrun{LogSD: v}}), "overrun", "0 to 2")
		refused(t, run(Input{Tasks: []Task{metal}, Unfound: &Unfound{Into: "a", PerHour: v}}), "per_hour", "0 to 10")
		refused(t, run(Input{Tasks: []Task{metal}, Unfound: &Unfound{Into: "a", High: v}}), "high_hours", "0 to")
	}
	refused(t, run(Input{Overrun: Overrun{LogMean: math.NaN()}}), "overrun", "-3 to 3")
	r := simulate(t, Input{})
	assert.Zero(t, r.Finish, "nothing to do is done")
}

// drawTasks draws a network without a circle; sure ones do not vary.
func drawTasks(t *rapid.T, certain bool) []Task {
	tasks := make([]Task, rapid.IntRange(1, 10).Draw(t, "tasks"))
	for i := range tasks {
		low := rapid.Float64Range(0.1, 20).Draw(t, "low")
		task := sure(fmt.Sprint(i), low)
		if !certain {
			task.Likely += rapid.Float64Range(0, 10).Draw(t, "likely")
			task.High = task.Likely + rapid.Float64Range(0, 30).Draw(t, "high")
		}
		for k := range i {
			if rapid.IntRange(0, 3).Draw(t, "after") == 0 {
				task.After = append(task.After, fmt.Sprint(k))
			}
		}
		task.Trade = rapid.SampledFrom([]string{"metal", "paint", ""}).Draw(t, "trade")
		tasks[i] = task
	}
	return tasks
}

func drawInput(t *rapid.T) Input {
	return Input{Tasks: drawTasks(t, false), Overrun: Overrun{LogMean: 0.1, LogSD: 0.2}, Runs: 40}
}

var two = []Person{{"m", []string{"metal"}, 8, nil}, {"p", []string{"paint"}, 6, nil}}

func TestForecastsHold(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		free := simulate(t, in)
		if rapid.Bool().Draw(t, "bound") {
			in.People = two
		}
		r := simulate(t, in)
		assert.Equal(t, r, simulate(t, in), "the same seed, the same answer")
		assert.GreaterOrEqual(t, r.Finish.P80, r.Finish.P50)
		assert.GreaterOrEqual(t, r.Hours.P80, r.Hours.P50)
		assert.Equal(t, free.Hours, r.Hours, "who works changes no hours")
		sum := 0.0
		for i, task := range r.Tasks {
			assert.GreaterOrEqual(t, task.End80, task.End50)
			assert.LessOrEqual(t, task.Start50, task.End50)
			assert.LessOrEqual(t, task.End80, r.Finish.P80)
			for _, k := range in.Tasks[i].After {
				before := r.Tasks[int(k[0]-'0')]
				assert.LessOrEqual(t, before.End50, task.Start50+1e-9)
			}
			sum += task.Critical
		}
		assert.GreaterOrEqual(t, sum, 1-1e-9, "the finish always hangs on something")
		if len(in.People) > 0 {
			hours := 8.0 + 6
			assert.GreaterOrEqual(t, r.Finish.P50, r.Hours.P50/hours-1e-9, "no faster than all at work")
		}
	})
}

// With people enough, more work and more waiting never end earlier. With few
// people they may.
func TestMoreNeverEndsEarlier(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		was := simulate(t, in)
		later := func(what string) {
			now := simulate(t, in)
			assert.GreaterOrEqual(t, now.Finish.P50, was.Finish.P50-1e-9, what)
			assert.GreaterOrEqual(t, now.Finish.P80, was.Finish.P80-1e-9, what)
			was = now
		}
		k := rapid.IntRange(0, len(in.Tasks)-1).Draw(t, "which")
		in.Tasks[k].High += rapid.Float64Range(0, 20).Draw(t, "by")
		later("a higher high")
		in.Tasks[k].Low, in.Tasks[k].Likely, in.Tasks[k].High = in.Tasks[k].Low+1, in.Tasks[k].Likely+1, in.Tasks[k].High+1
		later("an hour more")
		if k > 0 {
			in.Tasks[k].After = append(in.Tasks[k].After, fmt.Sprint(k-1))
			later("one more to wait for")
		}
		in.Overrun.LogMean += 0.1
		later("a greater overrun")
	})
}

func TestQuantileIsThatOfTheSorted(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(0, 5), 1, 50).Draw(t, "values")
		p := rapid.Float64Range(0.01, 1).Draw(t, "p")
		q := quantile(values, p)
		atMost, below := 0.0, 0.0
		for _, v := range values {
			if v <= q {
				atMost++
			}
			if v < q {
				below++
			}
		}
		n := float64(len(values))
		assert.GreaterOrEqual(t, atMost/n, p-1e-9)
		assert.Less(t, below/n, p+1e-9)
	})
	assert.Zero(t, quantile(nil, 0.5))
}

func TestTriangleUndoesItself(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(0, 10).Draw(t, "low")
		likely := low + rapid.Float64Range(0, 10).Draw(t, "likely")
		tri := triangle{low, likely, likely + rapid.Float64Range(0.1, 10).Draw(t, "high")}
		u := rapid.Float64Range(0.001, 0.999).Draw(t, "u")
		assert.InDelta(t, u, tri.below(tri.quantile(u)), 1e-6)
	})
}

func benchInput() Input {
	var tasks []Task
	for i := range 40 {
		task := Task{ID: fmt.Sprint(i), Stage: fmt.Sprint("stage", i/8), Low: 4, Likely: 6, High: 14, Trade: []string{"metal", "paint", "trim"}[i%3]}
		if i >= 3 {
			task.After = []string{fmt.Sprint(i - 3), fmt.Sprint(i - 2)}
		}
		if i%10 == 0 {
			task.Part = &Arrival{Due: 3, SlipHigh: 5}
		}
		tasks = append(tasks, task)
	}
	return Input{
		Tasks: tasks, Overrun: Overrun{LogMean: 0.1, LogSD: 0.2},
		People:  []Person{{"a", []string{"metal"}, 7.5, nil}, {"b", []string{"metal", "paint"}, 7.5, nil}, {"c", []string{"paint"}, 7.5, nil}, {"d", []string{"trim"}, 7.5, nil}},
		Unfound: &Unfound{While: []string{"0", "1"}, Into: "39", PerHour: 0.1, Low: 1, Likely: 3, High: 8},
	}
}

func BenchmarkSimulate(b *testing.B) {
	in := benchInput()
	for b.Loop() {
		if _, err := Simulate(in, rand.NewPCG(1, 2)); err != nil {
			b.Fatal(err)
		}
	}
}

// A task of 20 hours by one person of 8 a day is two days and a half, and a day more
// for each day off on the way; one who is there begins before one who is not.
func TestDaysOff(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		off        []int
		start, end float64
	}{
		"none":                       {nil, 0, 2.5},
		"before it begins":           {[]int{0}, 1, 3.5},
		"two on the way, said twice": {[]int{2, 1, 2}, 0, 4.5},
		"one that only comes so":     {[]int{1, 3}, 0, 4.5},
		"after it ends":              {[]int{3}, 0, 2.5},
		"all of a week":              {[]int{0, 1, 2, 3, 4}, 5, 7.5},
	} {
		r := simulate(t, Input{Tasks: []Task{sure("a", 20)}, People: []Person{{"m", nil, 8, c.off}}, Runs: 1})
		assert.InDelta(t, c.start, r.Tasks[0].Start50, 1e-9, name)
		assert.InDelta(t, c.end, r.Tasks[0].End50, 1e-9, name)
	}
	whole := simulate(t, Input{Tasks: []Task{sure("a", 16)}, People: []Person{{"m", nil, 8, []int{2}}}, Runs: 1})
	assert.InDelta(t, 2, whole.Finish.P50, 1e-9, "what fills a day does not need the next")
	r := simulate(t, Input{Tasks: []Task{sure("a", 8)}, People: []Person{{"away", nil, 8, []int{0}}, {"slow", nil, 4, nil}}, Runs: 1})
	assert.InDelta(t, 2, r.Finish.P50, 1e-9)
	_, err := Simulate(Input{People: []Person{{"m", nil, 8, []int{-1}}}}, rand.NewPCG(1, 2))
	refused(t, err, "days_off", "0")
}
