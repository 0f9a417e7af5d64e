package shop_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

// refusal gives what a refusal says; it fails when there is none.
func refusal(t testing.TB, err error) *shop.Refusal {
	t.Helper()
	var r *shop.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	return r
}

// says folds what was decided, said by a person at Tuesday's moment, and gives its
// entry.
func says(t testing.TB, st *shop.State, by string, d shop.Decision, err error) uint64 {
	t.Helper()
	require.NoError(t, err)
	_, err = st.Apply(shop.Meta{Seq: st.Seq() + 1, Person: by, At: tuesday}, d.Event)
	require.NoError(t, err)
	return st.Seq()
}

func begin(t testing.TB, st *shop.State, by string, r shop.Progress) uint64 {
	t.Helper()
	d, err := st.DecideTaskStart(by, london(t), r)
	return says(t, st, by, d, err)
}

func end(t testing.TB, st *shop.State, by string, r shop.Progress) uint64 {
	t.Helper()
	d, err := st.DecideTaskEnd(by, london(t), r)
	return says(t, st, by, d, err)
}

func undo(t testing.TB, st *shop.State, by string, entry uint64) {
	t.Helper()
	d, err := st.DecideUndo(by, entry)
	says(t, st, by, d, err)
}

func task(t testing.TB, st *shop.State, n int) shop.Task {
	t.Helper()
	all, err := st.Tasks("")
	require.NoError(t, err)
	for _, one := range all {
		if one.Number == n {
			return one
		}
	}
	require.Fail(t, "no such task")
	return shop.Task{}
}

func hours(v float64) *float64 { return &v }

func newTask() shop.NewTask {
	return shop.NewTask{Job: "tern", Title: "weld up the badge holes", Hours: hours(2)}
}

func TestATaskIsAdded(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideTask("wren", london(t), newTask())
	require.NoError(t, err)
	assert.Equal(t, shop.TaskAdded{
		Number: 13, Job: "tern", Title: "weld up the badge holes", Stage: shop.Strip, Low: 1.5, Likely: 2, High: 3.2, State: shop.Waiting,
	}, d.Event, "in the job's stage, with the usual spread")
	r := shop.NewTask{Job: "heron", Title: "refit the loom", Stage: "Assembly", After: []int{5, 6, 5}, Who: "tomasz", NeedsPart: "door seal set"}
	d, err = st.DecideTask("idris", london(t), r)
	require.NoError(t, err)
	assert.Equal(t, shop.TaskAdded{
		Number: 13, Job: "heron", Title: "refit the loom", Stage: shop.Assembly, After: []int{5, 6}, State: shop.Waiting, Who: "tomasz", NeedsPart: "door seal set",
	}, d.Event, "an estimate can be missing")
	assert.Empty(t, d.Warnings, "its part is on order")
	r.NeedsPart = "grommet"
	d, err = st.DecideTask("idris", london(t), r)
	require.NoError(t, err)
	assert.Equal(t, []string{"Nothing on record is called grommet: it is not on order."}, d.Warnings)
}

func TestWhatATaskMayBe(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for name, c := range map[string]struct {
		change          func(*shop.NewTask)
		reason          shop.Reason // 0: it is fine
		field, accepted string
	}{
		"all of it":             {func(*shop.NewTask) {}, 0, "", ""},
		"no job":                {func(r *shop.NewTask) { r.Job = "" }, shop.MissingField, "job", ""},
		"no title":              {func(r *shop.NewTask) { r.Title = " " }, shop.MissingField, "title", ""},
		"no such job":           {func(r *shop.NewTask) { r.Job = "linnet" }, shop.UnknownName, "job", "tern"},
		"no such stage":         {func(r *shop.NewTask) { r.Stage = "lunch" }, shop.UnknownName, "stage", "assembly"},
		"a stranger":            {func(r *shop.NewTask) { r.Who = "bo" }, shop.UnknownName, "who", "jonah"},
		"after one of the job":  {func(r *shop.NewTask) { r.After = []int{12} }, 0, "", ""},
		"after another job's":   {func(r *shop.NewTask) { r.After = []int{2} }, shop.UnknownName, "after", "12 strip the shell to bare metal"},
		"after itself":          {func(r *shop.NewTask) { r.After = []int{13} }, shop.UnknownName, "after", "12 strip"},
		"no hours":              {func(r *shop.NewTask) { r.Hours = nil }, 0, "", ""},
		"nought":                {func(r *shop.NewTask) { r.Hours = hours(0) }, shop.OutOfRange, "hours", "more than 0, less than 1000"},
		"less than nothing":     {func(r *shop.NewTask) { r.Hours = hours(-2) }, shop.OutOfRange, "hours", "more than 0"},
		"999 hours":             {func(r *shop.NewTask) { r.Hours = hours(999) }, 0, "", ""},
		"a slip of a digit":     {func(r *shop.NewTask) { r.Hours = hours(1000) }, shop.OutOfRange, "hours", "less than 1000"},
		"a spread of its own":   {func(r *shop.NewTask) { r.Low, r.High = hours(1), hours(2) }, 0, "", ""},
		"the least above":       {func(r *shop.NewTask) { r.Low = hours(2.5) }, shop.OutOfRange, "low_hours", "up to the likely 2"},
		"the most below":        {func(r *shop.NewTask) { r.High = hours(1.5) }, shop.OutOfRange, "high_hours", "2 or more"},
		"most beyond":           {func(r *shop.NewTask) { r.High = hours(1000) }, shop.OutOfRange, "high_hours", "less than 1000"},
		"a spread of nothing":   {func(r *shop.NewTask) { r.Hours, r.Low = nil, hours(1) }, shop.MissingField, "hours", ""},
		"open under that title": {func(r *shop.NewTask) { r.Title = "Strip shell to the bare metal" }, shop.AlreadyExists, "title", ""},
		"done under that title": {func(r *shop.NewTask) { r.Job, r.Title = "pilot", "make the gearbox crossmember" }, 0, "", ""},
		"the other side":        {func(r *shop.NewTask) { r.Job, r.Title = "heron", "let in the right rear wing" }, 0, "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newTask()
			c.change(&r)
			_, err := st.DecideTask("wren", london(t), r)
			if c.reason == 0 {
				require.NoError(t, err)
				return
			}
			got := refusal(t, err)
			assert.Equal(t, c.reason, got.Reason)
			assert.Equal(t, c.field, got.Metadata["field"])
			assert.Contains(t, got.Metadata["accepted"], c.accepted)
		})
	}
}

// What people call a task is seldom its title.
func TestWhichTaskIsMeant(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		by, job, words string
		ends           bool
		number         int // 0: refused
		reason         shop.Reason
		says           string // in the metadata
	}{
		"by number":                   {by: "idris", job: "heron", words: "3", number: 3},
		"by number alone":             {by: "idris", words: "task 3", number: 3},
		"a number with a hash":        {by: "idris", job: "heron", words: "#3", number: 3},
		"another job's number":        {by: "idris", job: "heron", words: "12", reason: shop.NotFound, says: "it is on tern"},
		"no such number":              {by: "idris", job: "heron", words: "99", reason: shop.NotFound, says: "3 replace the right sill"},
		"the title":                   {by: "idris", job: "heron", words: "replace the right sill", number: 3},
		"words of it":                 {by: "idris", job: "heron", words: "right sill", number: 3},
		"a side the shop says":        {by: "idris", job: "heron", words: "os sill", number: 3},
		"a side with strokes":         {by: "idris", job: "heron", words: "o/s sill", number: 3},
		"a side in full":              {by: "idris", job: "heron", words: "the offside sill", number: 3},
		"a side alone":                {by: "idris", job: "heron", words: "the right one", number: 3},
		"what waits, for a start":     {by: "idris", job: "heron", words: "the sill", number: 3},
		"what is in hand, for an end": {by: "idris", job: "heron", words: "the sill", ends: true, number: 2},
		"in hand by another":          {by: "jonah", job: "heron", words: "the nearside sill", number: 2},
		"a side is binding":           {by: "idris", job: "heron", words: "right rear wing", reason: shop.NotFound, says: "4 let in the left rear wing"},
		"another ending":              {by: "mabel", job: "osmere", words: "blocking", ends: true, number: 7},
		"a participle":                {by: "jonah", job: "tern", words: "stripped to bare metal", ends: true, number: 12},
		"one word":                    {by: "tomasz", job: "pilot", words: "loom", ends: true, number: 10},
		"the word and what was done":  {by: "tomasz", job: "pilot", words: "the loom's wired in", ends: true, number: 10},
		"none of the words":           {by: "tomasz", job: "pilot", words: "radiator", reason: shop.NotFound, says: "11 shorten the propshaft"},
		"too few of the words":        {by: "idris", job: "heron", words: "weld the new spring hanger on the right sill", reason: shop.Ambiguous, says: "3 replace the right sill"},
		"done before":                 {by: "tomasz", job: "pilot", words: "gearbox crossmember", ends: true, reason: shop.AlreadyDone, says: "9 make the gearbox crossmember"},
		"done, by number":             {by: "tomasz", job: "pilot", words: "9", reason: shop.AlreadyDone, says: "is done"},
		"in hand already":             {by: "idris", job: "heron", words: "left sill", reason: shop.AlreadyDone, says: "in hand by Idris"},
		"the one in hand":             {by: "mabel", job: "osmere", ends: true, number: 7},
		"the one that can begin":      {by: "idris", job: "heron", number: 3},
		"nothing can begin":           {by: "mabel", job: "osmere", reason: shop.Ambiguous, says: "8 colour and clear"},
		"one's own, on any job":       {by: "mabel", words: "blocking", ends: true, number: 7},
		"the one in one's own hands":  {by: "mabel", ends: true, number: 7},
		"nobody's, on any job":        {by: "jonah", words: "the sill", ends: true, reason: shop.NotFound, says: "12 strip"},
		"nothing of one's own":        {by: "priya", ends: true, reason: shop.MissingField, says: "job"},
		"no such job":                 {by: "priya", job: "linnet", reason: shop.UnknownName, says: "job"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			st, r := coats(t), shop.Progress{Job: c.job, Task: c.words}
			decide, number := st.DecideTaskStart, 0
			if c.ends {
				decide = st.DecideTaskEnd
			}
			d, err := decide(c.by, london(t), r)
			if c.number == 0 {
				got := refusal(t, err)
				assert.Equal(t, c.reason, got.Reason)
				assert.Contains(t, got.Error(), c.says)
				return
			}
			require.NoError(t, err)
			switch e := d.Event.(type) {
			case shop.TaskStarted:
				number = e.Number
			case shop.TaskFinished:
				number = e.Number
			}
			assert.Equal(t, c.number, number)
		})
	}
}

func TestTwoThatFitAreAskedAbout(t *testing.T) {
	t.Parallel()
	st := coats(t)
	begin(t, st, "idris", shop.Progress{Job: "heron", Task: "right sill"})
	_, err := st.DecideTaskEnd("jonah", london(t), shop.Progress{Job: "heron", Task: "sill"})
	r := refusal(t, err)
	assert.Equal(t, shop.Ambiguous, r.Reason)
	assert.Equal(t, map[string]string{
		"field": "task", "options": "2,3", "option.2": "2 replace the left sill", "option.3": "3 replace the right sill",
	}, r.Metadata, "left before right")
	_, err = st.DecideTaskEnd("idris", london(t), shop.Progress{Job: "heron"})
	assert.Equal(t, "2,3", refusal(t, err).Metadata["options"])
	begin(t, st, "jonah", shop.Progress{Task: "3"})
	d, err := st.DecideTaskEnd("jonah", london(t), shop.Progress{Job: "heron", Task: "sill"})
	require.NoError(t, err)
	assert.Equal(t, shop.TaskFinished{Number: 3, Job: "heron"}, d.Event, "one's own before another's")
}

func TestATaskGoesThroughItsStates(t *testing.T) {
	t.Parallel()
	st := coats(t)
	was := task(t, st, 3)
	assert.Equal(t, shop.Waiting, was.State)
	assert.Zero(t, was.Started)

	started := begin(t, st, "idris", shop.Progress{Job: "heron", Task: "right sill"})
	now := task(t, st, 3)
	assert.Equal(t, shop.Doing, now.State)
	assert.Equal(t, "idris", now.Who)
	assert.Equal(t, shop.Said{Entry: started, By: "idris", At: tuesday}, now.Started)

	d, err := st.DecideTaskStart("wren", london(t), shop.Progress{Task: "3", Who: "jonah"})
	require.NoError(t, err)
	assert.Equal(t, []string{"Idris had it in hand."}, d.Warnings)
	taken := says(t, st, "wren", d, nil)
	assert.Equal(t, "jonah", task(t, st, 3).Who)
	assert.Equal(t, started, task(t, st, 3).Started.Entry, "it was begun before")

	logged, err := st.DecideHours("jonah", london(t), shop.NewHours{Job: "heron", Hours: hours(2.5), People: []string{"jonah", "idris"}, Work: "3"})
	says(t, st, "jonah", logged, err)
	ended := end(t, st, "wren", shop.Progress{Job: "heron", Task: "right sill"})
	now = task(t, st, 3)
	assert.Equal(t, shop.Done, now.State)
	assert.Equal(t, "jonah", now.Who, "whose it was")
	assert.Equal(t, ended, now.Finished.Entry)
	assert.Equal(t, shop.MicroOf(5), now.Logged)
	assert.Equal(t, []uint64{was.Entry, started, taken, ended}, now.Entries)

	undo(t, st, "wren", ended)
	undo(t, st, "wren", taken)
	undo(t, st, "idris", started)
	back := task(t, st, 3)
	back.Logged = 0
	assert.Equal(t, was, back, "each undoing gives the former state back")
}

func TestAnEndWithoutAStart(t *testing.T) {
	t.Parallel()
	st := coats(t)
	end(t, st, "jonah", shop.Progress{Job: "heron", Task: "right sill"})
	now := task(t, st, 3)
	assert.Equal(t, shop.Done, now.State)
	assert.Equal(t, "jonah", now.Who, "nobody had it: who said so did it")
	assert.Zero(t, now.Started)
	_, err := st.DecideTaskStart("idris", london(t), shop.Progress{Job: "heron", Task: "3"})
	assert.Equal(t, shop.AlreadyDone, refusal(t, err).Reason)
	_, err = st.DecideTaskEnd("idris", london(t), shop.Progress{Job: "heron", Task: "3"})
	assert.Equal(t, shop.AlreadyDone, refusal(t, err).Reason)
	_, err = st.DecideTaskEnd("idris", london(t), shop.Progress{Job: "heron", Task: "2", Who: "bo"})
	assert.Equal(t, "who", refusal(t, err).Metadata["field"])
}

// A start that the plan is against is recorded: they did begin. What is not done
// first stands beside it, once; all else warns.
func TestAStartAgainstThePlanWarns(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideTaskStart("idris", london(t), shop.Progress{Job: "heron", Task: "rear wing"})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"Rear wing panel, left: due 2026-03-12, not here.",
		"Extra 2 waits for the customer: let in the left rear wing.",
	}, d.Warnings)
	says(t, st, "idris", d, nil)
	assert.Equal(t, []string{"2 replace the left sill"}, st.NotDoneFirst(4, london(t)))
}

func TestAnEndFreesTasks(t *testing.T) {
	t.Parallel()
	st := coats(t)
	end(t, st, "mabel", shop.Progress{Job: "osmere", Task: "blocking"})
	freed := st.FreedBy(7, london(t))
	require.Len(t, freed, 1)
	assert.Equal(t, "8 colour and clear", freed[0].Name())
	end(t, st, "idris", shop.Progress{Task: "2"})
	assert.Empty(t, st.FreedBy(2, london(t)), "the wing waits for its panel too")
	assert.Empty(t, st.FreedBy(3, london(t)), "not done")
	assert.Empty(t, st.FreedBy(99, london(t)))
}

func TestATaskIsAmended(t *testing.T) {
	t.Parallel()
	st := coats(t)
	amend := func(by string, entry uint64, c shop.Changes) []string {
		d, err := st.DecideAmend(by, london(t), entry, c)
		says(t, st, by, d, err)
		return d.Changes
	}
	d, err := st.DecideTask("wren", london(t), newTask())
	added := says(t, st, "wren", d, err)
	assert.Equal(t, []string{"hours 2 -> 4", "low_hours 1.5 -> 3", "high_hours 3.2 -> 6.4"}, amend("wren", added, shop.Changes{Hours: hours(4)}), "the spread goes with it")
	assert.Equal(t, []string{"high_hours 6.4 -> 9"}, amend("wren", added, shop.Changes{High: hours(9)}))
	assert.Equal(t, []string{"title weld up the badge holes -> weld the badge holes", "who - -> idris"},
		amend("wren", added, shop.Changes{Title: "weld the badge holes", Who: "idris"}))
	assert.Equal(t, []string{"job tern -> pilot"}, amend("wren", added, shop.Changes{Job: "pilot"}))
	assert.Equal(t, shop.Strip, task(t, st, 13).Stage)

	started := begin(t, st, "idris", shop.Progress{Task: "13"})
	_, err = st.DecideAmend("wren", london(t), added, shop.Changes{Job: "tern"})
	assert.Equal(t, shop.InUse, refusal(t, err).Reason, "it was begun on that job")
	_, err = st.DecideUndo("wren", added)
	assert.Equal(t, shop.InUse, refusal(t, err).Reason)
	assert.Equal(t, []string{"who idris -> jonah"}, amend("idris", started, shop.Changes{Who: "jonah"}))
	assert.Equal(t, "jonah", task(t, st, 13).Who)
	assert.Equal(t, []string{"task 13 weld the badge holes -> 11 shorten the propshaft"}, amend("idris", started, shop.Changes{Task: "propshaft"}))
	assert.Equal(t, shop.Waiting, task(t, st, 13).State)
	assert.Equal(t, shop.Doing, task(t, st, 11).State)
	_, err = st.DecideAmend("idris", london(t), started, shop.Changes{Task: "9"})
	assert.Equal(t, shop.AlreadyDone, refusal(t, err).Reason)

	ended := end(t, st, "idris", shop.Progress{Task: "11"})
	assert.Equal(t, []string{"who jonah -> idris"}, amend("idris", started, shop.Changes{Who: "idris"}), "a start can be mended when the task is done")
	assert.Equal(t, []string{"task 11 shorten the propshaft -> 10 wire the injection loom"}, amend("idris", ended, shop.Changes{Task: "loom"}))
	assert.Equal(t, shop.Doing, task(t, st, 11).State)
	assert.Equal(t, shop.Done, task(t, st, 10).State)
	assert.Equal(t, []string{"who - -> tomasz"}, amend("idris", ended, shop.Changes{Who: "tomasz"}))
}

func TestATaskWithHoursOnItStays(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideTask("wren", london(t), newTask())
	added := says(t, st, "wren", d, err)
	logged, err := st.DecideHours("jonah", london(t), shop.NewHours{Job: "tern", Hours: hours(1), Work: "13"})
	entry := says(t, st, "jonah", logged, err)
	_, err = st.DecideUndo("wren", added)
	r := refusal(t, err)
	assert.Equal(t, shop.InUse, r.Reason)
	assert.Equal(t, "task 13 weld up the badge holes", r.Metadata["what"])
	undo(t, st, "jonah", entry)
	undo(t, st, "wren", added)
	all, err := st.Tasks("tern")
	require.NoError(t, err)
	assert.Len(t, all, 1)
	d, err = st.DecideTask("wren", london(t), newTask())
	require.NoError(t, err)
	e, _ := d.Event.(shop.TaskAdded)
	assert.Equal(t, 14, e.Number, "no number is given twice")
}

func TestWhoMayPlan(t *testing.T) {
	t.Parallel()
	st := coats(t)
	_, err := st.DecideTask("jonah", london(t), newTask())
	r := refusal(t, err)
	assert.Equal(t, shop.NotAllowed, r.Reason)
	assert.Equal(t, "add a task", r.Metadata["what"])
	_, err = st.DecideTask("jonah", london(t), shop.NewTask{})
	assert.Equal(t, shop.NotAllowed, refusal(t, err).Reason, "permission comes first")
	for _, decide := range []func(string, time.Time, shop.Progress) (shop.Decision, error){st.DecideTaskStart, st.DecideTaskEnd} {
		_, err = decide("bo", london(t), shop.Progress{})
		assert.Equal(t, shop.UnknownPerson, refusal(t, err).Reason)
	}
	begin(t, st, "jonah", shop.Progress{Job: "heron", Task: "os sill"})
	_, err = st.DecideUndo("idris", st.Seq())
	assert.Equal(t, shop.NotAllowed, refusal(t, err).Reason, "another's")
	undo(t, st, "jonah", 0)
}

func TestTheStateOfAJobIsThatOfNow(t *testing.T) {
	t.Parallel()
	st := coats(t)
	begin(t, st, "jonah", shop.Progress{Task: "3"})
	end(t, st, "idris", shop.Progress{Task: "2"})
	d, err := st.DecideTask("wren", london(t), shop.NewTask{Job: "heron", Title: "hang the left door"})
	says(t, st, "wren", d, err)
	status, err := st.Status("heron", london(t))
	require.NoError(t, err)
	assert.Equal(t, []string{"replace the right sill, Jonah"}, status.Doing)
	assert.Equal(t, 2, status.Counts.TasksDone)
	texts := history(t, st, shop.Where{Job: "heron", Panel: "sill", Side: shop.Left})
	assert.Equal(t, "task 2 replace the left sill done", texts[len(texts)-1])
	assert.NotContains(t, texts, "task 3 replace the right sill begun, Jonah")
	texts = history(t, st, shop.Where{Job: "heron"})
	assert.Subset(t, texts, []string{"task 3 waiting: replace the right sill", "task 3 replace the right sill begun, Jonah", "task 13 added: hang the left door"})
}

// history gives the lines of a history.
func history(t testing.TB, st *shop.State, w shop.Where) (texts []string) {
	t.Helper()
	lines, _, err := st.History(w, 0, 50)
	require.NoError(t, err)
	for _, l := range lines {
		texts = append(texts, l.Text)
	}
	return texts
}
