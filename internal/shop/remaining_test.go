package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
)

// worked is one line of hours on the strip of the test's job; task 0 is none.
type worked struct {
	task  int
	hours float64
}

func (w worked) event() shop.HoursLogged {
	return shop.HoursLogged{Job: "dunnock", People: []string{"jonah"}, Hours: shop.MicroOf(w.hours), Stage: shop.Strip, Task: w.task}
}

// What is to come of a stage, worked by hand: agreed − done − open tasks is in no
// task's name, and open tasks have what is left of their estimates.
func TestWhatIsToComeOfAStage(t *testing.T) {
	t.Parallel()
	task := func(n int, likely float64, state string) shop.TaskAdded {
		return shop.TaskAdded{Number: n, Job: "dunnock", Title: "t", Stage: shop.Strip, Low: likely, Likely: likely, High: likely, State: state}
	}
	for name, c := range map[string]struct {
		agreed          float64
		tasks           []shop.TaskAdded
		logged          []worked
		unnamed, toCome float64
		taken           map[int]float64
	}{
		"no task": {40, nil, []worked{{0, 10}}, 30, 30, nil},
		"a task nobody estimated is four hours of the stage, not beside it": {
			40, []shop.TaskAdded{task(21, 0, shop.Waiting)}, []worked{{0, 10}}, 26, 30, nil,
		},
		"hours on an open task leave the rest": {40, []shop.TaskAdded{task(21, 18, shop.Doing)}, []worked{{21, 10}}, 22, 30, nil},
		"an open task past its estimate":       {40, []shop.TaskAdded{task(21, 18, shop.Doing)}, []worked{{21, 25}}, 22, 22, nil},
		"a task that took less is done":        {40, []shop.TaskAdded{task(21, 20, shop.Done)}, []worked{{21, 5}}, 20, 20, nil},
		"a done task nobody estimated":         {40, []shop.TaskAdded{task(21, 0, shop.Done)}, []worked{{21, 6}}, 34, 34, nil},
		"a done task with no hours took some of those in no task's name": {
			190,
			[]shop.TaskAdded{task(21, 4, shop.Done), task(22, 18, shop.Doing), task(23, 18, shop.Waiting), task(24, 22, shop.Waiting)},
			[]worked{{0, 96.5}}, 35.5, 93.5, nil,
		},
		"no other room: work on what is in hand": {30, []shop.TaskAdded{task(21, 20, shop.Doing)}, []worked{{0, 19}}, 0, 11, map[int]float64{21: 9}},
		"an hour is of one task in hand": {
			30, []shop.TaskAdded{task(21, 20, shop.Doing), task(22, 20, shop.Doing)}, []worked{{0, 25}}, 0, 15, map[int]float64{21: 20, 22: 5},
		},
		"more tasks than agreed": {10, []shop.TaskAdded{task(21, 25, shop.Waiting)}, []worked{{0, 3}}, 0, 25, nil},
		"past what is agreed":    {10, nil, []worked{{0, 13}}, 0, 0, nil},
	} {
		d := newDesk(t)
		job := shop.JobCreated{ID: "dunnock", Stage: shop.Strip}
		job.Estimate[shop.Strip] = shop.MicroOf(c.agreed)
		put(t, d.State, job)
		for _, e := range c.tasks {
			put(t, d.State, e)
		}
		for _, w := range c.logged {
			put(t, d.State, w.event())
		}
		all, err := d.Remaining("dunnock")
		require.NoError(t, err)
		got := all[shop.Strip]
		assert.InDelta(t, c.unnamed, got.Unnamed.Float(), 0, name)
		assert.InDelta(t, c.toCome, got.ToCome.Float(), 0, name)
		assert.Len(t, got.Taken, len(c.taken), name)
		for n, h := range c.taken {
			assert.InDelta(t, h, got.Taken[n].Float(), 0, "%s: task %d", name, n)
		}
	}
}

// A job that goes on leaves behind what its estimate had too much, unless a task is
// open there; mechanical work goes on beside trim.
func TestWhatAJobHasLeftIsNotToCome(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	job := shop.JobCreated{ID: "dunnock", Stage: shop.Trim}
	for _, st := range []shop.Stage{shop.Strip, shop.Metal, shop.Mechanical, shop.Trim} {
		job.Estimate[st], job.Logged[st] = shop.MicroOf(30), shop.MicroOf(28)
	}
	put(t, d.State, job)
	put(t, d.State, shop.TaskAdded{Number: 21, Job: "dunnock", Title: "plug the drain", Stage: shop.Metal, Low: 1, Likely: 1, High: 1, State: shop.Waiting})
	all, err := d.Remaining("dunnock")
	require.NoError(t, err)
	for st, want := range map[shop.Stage]float64{shop.Strip: 0, shop.Metal: 2, shop.Paint: 0, shop.Mechanical: 2, shop.Trim: 2} {
		assert.InDelta(t, want, all[st].ToCome.Float(), 0, "%s", st)
	}
	assert.True(t, all[shop.Strip].Left)
	_, err = d.Remaining("linnet")
	refusedAs(t, want{shop.UnknownName, "job", "heron"}, err)
}

// Whatever is proposed, decided and logged: status, list, hours and money tell the
// same agreed hours, which are the estimate and the agreed extras, and the money to
// come is that of the hours to come.
func TestAgreedHoursAreTheSameWhoeverTells(t *testing.T) {
	t.Parallel()
	const rate = 52
	rapid.Check(t, func(t *rapid.T) {
		st := small(t)
		told(t, st, tuesday, shop.ShopOpened{Name: "Millrace Coachworks", Currency: "GBP", LabourRate: rate})
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			if d, err := haggle(t, st, "wren"); err == nil {
				_, err := st.Apply(shop.Meta{Seq: st.Seq() + 1, Person: "wren", At: tuesday}, d.Event)
				require.NoError(t, err)
			}
		}
		for _, j := range st.Jobs() {
			var agreed shop.Micro
			for _, h := range j.Estimate {
				agreed += h
			}
			extras, err := st.Extras(shop.ExtraFilter{Job: j.ID, State: shop.Agreed})
			require.NoError(t, err)
			for _, x := range extras {
				agreed += shop.MicroOf(x.Hours)
			}
			require.Equal(t, agreed, j.AgreedAll)
			r, err := st.ReportHours(j.ID, "", "")
			require.NoError(t, err)
			require.Equal(t, agreed, r.Agreed)
			status, err := st.Status(j.ID, tuesday)
			require.NoError(t, err)
			require.Equal(t, r.Stages, status.Hours)
			left, err := st.Remaining(j.ID)
			require.NoError(t, err)
			m, err := st.Money(j.ID)
			require.NoError(t, err)
			require.Len(t, m.Stages, len(r.Stages))
			for k, h := range r.Stages {
				require.Equal(t, h, m.Stages[k].StageHours)
				require.Equal(t, h, left[h.Stage].StageHours)
				require.InDelta(t, left[h.Stage].ToCome.Float()*rate, m.Stages[k].ToCome, 0.005)
			}
		}
	})
}
