package shop_test

import (
	"errors"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
)

// The naive model keeps every record and tells the story of a task or a part from
// its beginning each time it is asked.

func (m *naive) task(number int) (state, who string) {
	for _, r := range m.records {
		switch e := r.event.(type) {
		case shop.TaskAdded:
			if !r.undone && e.Number == number {
				state, who = e.State, e.Who
			}
		case shop.TaskStarted:
			if !r.undone && e.Number == number {
				state, who = shop.Doing, e.Who
			}
		case shop.TaskFinished:
			if !r.undone && e.Number == number {
				state = shop.Done
				if e.Who != "" {
					who = e.Who
				}
			}
		}
	}
	return state, who
}

func (m *naive) part(number int, today shop.Day) (state string, here int, due shop.Day) {
	var ordered *shop.PartOrdered
	for _, r := range m.records {
		if e, ok := r.event.(shop.PartOrdered); ok && !r.undone && e.Number == number {
			ordered = &e
		}
	}
	if ordered == nil {
		return "", 0, 0
	}
	state, due = ordered.State, ordered.Due
	if state == shop.Arrived {
		here = ordered.Quantity
	}
	for _, r := range m.records {
		if r.undone {
			continue
		}
		switch e := r.event.(type) {
		case shop.PartArrived:
			if e.Number != number {
				continue
			}
			if here += e.Quantity; here >= ordered.Quantity {
				state = shop.Arrived
			}
		case shop.PartFitted:
			if e.Number == number && !e.Trial && (here == 0 || here >= ordered.Quantity) {
				state = shop.Fitted
			}
		case shop.PartReturned:
			if e.Number != number {
				continue
			}
			if here < ordered.Quantity {
				here = 0
			} else {
				state = shop.Returned
			}
		case shop.PartDueChanged:
			if e.Number == number {
				due = e.Due
			}
		}
	}
	if state == shop.Ordered && due != 0 && due < today {
		state = shop.Late
	}
	return state, here, due
}

// stage is the one of the task begun last, or with none, done last, or with none
// of these, the one the job came in with.
func (m *naive) stage(job string, camein shop.Stage) shop.Stage {
	tasks, starts, ends := map[int]shop.Stage{}, 0, 0
	for _, r := range m.records {
		if e, ok := r.event.(shop.TaskAdded); ok && !r.undone && e.Job == job {
			tasks[e.Number] = e.Stage
		}
	}
	for _, r := range m.records {
		switch e := r.event.(type) {
		case shop.TaskStarted:
			if !r.undone && e.Job == job {
				starts = e.Number
			}
		case shop.TaskFinished:
			if !r.undone && e.Job == job {
				ends = e.Number
			}
		}
	}
	switch {
	case starts > 0:
		return tasks[starts]
	case ends > 0:
		return tasks[ends]
	}
	return camein
}

// numbers gives the numbers of the tasks and parts of a job that stand.
func (m *naive) numbers(job string) (tasks, parts []int) {
	for _, r := range m.records {
		switch e := r.event.(type) {
		case shop.TaskAdded:
			if !r.undone && e.Job == job {
				tasks = append(tasks, e.Number)
			}
		case shop.PartOrdered:
			if !r.undone && e.Job == job {
				parts = append(parts, e.Number)
			}
		}
	}
	slices.Sort(tasks)
	slices.Sort(parts)
	return tasks, parts
}

var aThing = rapid.Map(rapid.IntRange(1, 6), strconv.Itoa)

// progress draws one request about tasks and parts, and decides it.
func progress(t *rapid.T, st *shop.State, by string, now time.Time) (shop.Decision, error) {
	which := shop.WhichPart{Part: aThing.Draw(t, "part")}
	task := shop.Progress{Task: aThing.Draw(t, "task"), Who: rapid.SampledFrom([]string{"", "jonah", "mabel"}).Draw(t, "who")}
	entry := rapid.Uint64Range(begun, st.Seq()+1).Draw(t, "entry")
	if entry == begun {
		entry = 0 // their own last one
	}
	some := rapid.IntRange(1, 3).Draw(t, "some")
	switch rapid.SampledFrom([]string{
		"add", "start", "start", "end", "order", "arrive", "arrive", "surprise", "fit", "return", "hours", "delay",
		"amend who", "amend task", "amend part", "amend quantity", "amend job", "amend due", "undo", "undo", "undo",
	}).Draw(t, "what") {
	case "add":
		r := shop.NewTask{
			Job: aJob.Draw(t, "job"), Title: "work " + strconv.Itoa(int(st.Seq())), Hours: amount.Draw(t, "hours"),
			Stage: rapid.SampledFrom([]string{"", "paint", "trim"}).Draw(t, "stage"),
		}
		if n := rapid.IntRange(0, 4).Draw(t, "after"); n > 0 {
			r.After = []int{n}
		}
		return st.DecideTask(by, now, r)
	case "start":
		return st.DecideTaskStart(by, now, task)
	case "end":
		return st.DecideTaskEnd(by, now, task)
	case "order":
		return st.DecideOrder(by, now, shop.NewOrder{Job: aJob.Draw(t, "job"), Part: "seal", Quantity: &some, Due: "2026-03-1" + strconv.Itoa(some)})
	case "arrive":
		return st.DecideArrival(by, now, shop.NewArrival{WhichPart: which, Quantity: rapid.SampledFrom([]*int{nil, &some}).Draw(t, "quantity")})
	case "surprise":
		return st.DecideArrival(by, now, shop.NewArrival{WhichPart: shop.WhichPart{Job: aJob.Draw(t, "job"), Part: "badge"}})
	case "fit":
		return st.DecideFitting(by, now, shop.NewFitting{WhichPart: which, Trial: rapid.Bool().Draw(t, "trial")})
	case "return":
		return st.DecideReturn(by, now, shop.NewReturn{WhichPart: which})
	case "delay":
		return st.DecideDueChange(by, now, shop.NewDue{WhichPart: which, Due: "2026-03-2" + strconv.Itoa(some)})
	case "hours":
		return st.DecideHours(by, now, shop.NewHours{Job: aJob.Draw(t, "job"), Hours: amount.Draw(t, "hours"), Work: aThing.Draw(t, "work")})
	case "amend who":
		return st.DecideAmend(by, now, entry, shop.Changes{Who: "jonah"})
	case "amend task":
		return st.DecideAmend(by, now, entry, shop.Changes{Task: task.Task})
	case "amend part":
		return st.DecideAmend(by, now, entry, shop.Changes{Part: which.Part})
	case "amend quantity":
		return st.DecideAmend(by, now, entry, shop.Changes{Quantity: &some})
	case "amend job":
		return st.DecideAmend(by, now, entry, shop.Changes{Job: aJob.Draw(t, "job")})
	case "amend due":
		return st.DecideAmend(by, now, entry, shop.Changes{Due: "2026-03-15"})
	default:
		return st.DecideUndo(by, entry)
	}
}

// Whatever is begun, ended, ordered, fitted, mended and taken back in whatever
// order, tasks and parts are where their records say; a refusal and a dry run
// change nothing; and a snapshot is the state.
func TestTasksAndPartsAreWhereTheirRecordsSay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		st, model := small(t), &naive{}
		for range rapid.IntRange(1, 50).Draw(t, "steps") {
			by, now := someone.Draw(t, "by"), tuesday.AddDate(0, 0, len(model.records)/8)
			before, err := st.Snapshot()
			require.NoError(t, err)
			d, err := progress(t, st, by, now)
			after, serr := st.Snapshot()
			require.NoError(t, serr)
			require.Equal(t, before, after, "deciding changes nothing")
			var refused *shop.Refusal
			if errors.As(err, &refused) {
				continue
			}
			require.NoError(t, err)
			meta := shop.Meta{Seq: st.Seq() + 1, Person: by, At: now}
			change, err := st.Apply(meta, d.Event)
			require.NoError(t, err)
			st.Revert(change)
			after, err = st.Snapshot()
			require.NoError(t, err)
			require.Equal(t, before, after, "a dry run changes nothing")
			_, err = st.Apply(meta, d.Event)
			require.NoError(t, err)
			model.apply(meta.Seq, by, d.Event)
			whereTheyAre(t, st, model, now)
		}
		data, err := st.Snapshot()
		require.NoError(t, err)
		back, err := shop.Restore(data)
		require.NoError(t, err)
		same, how := shop.Equal(st, back)
		require.True(t, same, how)
		whereTheyAre(t, back, model, tuesday.AddDate(0, 0, 30))
	})
}

func whereTheyAre(t *rapid.T, st *shop.State, model *naive, now time.Time) {
	today, _ := shop.ParseDay(now.Format("2006-01-02"))
	for _, line := range st.Jobs() {
		camein := map[string]shop.Stage{"heron": shop.Metal, "tern": shop.Strip}[line.ID]
		require.Equal(t, model.stage(line.ID, camein), line.Stage, "stage of %s", line.ID)
	}
	for _, job := range []string{"heron", "tern"} {
		wantTasks, wantParts := model.numbers(job)
		tasks, err := st.Tasks(job)
		require.NoError(t, err)
		var got []int
		open := 0
		for _, one := range tasks {
			got = append(got, one.Number)
			state, who := model.task(one.Number)
			require.Equal(t, []string{state, who}, []string{one.State, one.Who}, "task %d", one.Number)
			require.Equal(t, state == shop.Done, one.Finished != shop.Said{}, "task %d", one.Number)
			if state != shop.Done {
				open++
			}
		}
		require.Equal(t, wantTasks, got)
		parts, err := st.Parts(shop.PartFilter{Job: job}, now)
		require.NoError(t, err)
		got = nil
		for _, p := range parts {
			got = append(got, p.Number)
			state, here, due := model.part(p.Number, today)
			require.Equal(t, []any{state, here, due}, []any{p.State, p.ArrivedQuantity, p.Due}, "part %d", p.Number)
		}
		require.Equal(t, wantParts, got)

		// What is to do is in hand, can begin, or is held by something.
		next, err := st.Next(job, "", now)
		require.NoError(t, err)
		holds, err := st.Holds(job, now)
		require.NoError(t, err)
		held := map[int]bool{}
		for _, h := range holds {
			if h.Task != nil {
				held[h.Task.Number] = true
			}
		}
		require.Equal(t, []int{open, next.Held}, []int{next.ToDo, len(held)})
		require.Equal(t, open, len(next.Tasks)+len(held))
	}
}
