package shop_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

// chains gives the holds of a job, one line each.
func chains(t testing.TB, st *shop.State, job string, now time.Time) []string {
	t.Helper()
	holds, err := st.Holds(job, now)
	require.NoError(t, err)
	var lines []string
	for _, h := range holds {
		require.Equal(t, h.Root, h.Chain[len(h.Chain)-1])
		lines = append(lines, strings.Join(h.Chain, " <- "))
	}
	return lines
}

const (
	panel   = "rear wing panel, left: due 2026-03-12, not here"
	consent = "extra 2 waits for the customer: let in the left rear wing"
	seals   = "door seal set: due 2026-03-06, 4 days late, not here"
)

func TestEveryHoldIsFollowedToItsRoots(t *testing.T) {
	t.Parallel()
	st := coats(t)
	assert.Equal(t, []string{
		"4 let in the left rear wing <- " + panel,
		"5 epoxy the shell <- 4 let in the left rear wing <- " + panel,
		"6 fill and block <- 5 epoxy the shell <- 4 let in the left rear wing <- " + panel,
		"4 let in the left rear wing <- " + consent,
		"5 epoxy the shell <- 4 let in the left rear wing <- " + consent,
		"6 fill and block <- 5 epoxy the shell <- 4 let in the left rear wing <- " + consent,
		"4 let in the left rear wing <- 2 replace the left sill: in hand, Idris",
		"5 epoxy the shell <- 2 replace the left sill: in hand, Idris",
		"6 fill and block <- 5 epoxy the shell <- 2 replace the left sill: in hand, Idris",
		"5 epoxy the shell <- 3 replace the right sill: not begun",
		"6 fill and block <- 5 epoxy the shell <- 3 replace the right sill: not begun",
		seals,
	}, chains(t, st, "heron", london(t)))
	holds, err := st.Holds("heron", london(t))
	require.NoError(t, err)
	assert.Equal(t, []shop.HoldKind{shop.HoldPart, shop.HoldConsent, shop.HoldTask}, []shop.HoldKind{holds[0].Kind, holds[3].Kind, holds[6].Kind})
	assert.Equal(t, 1, holds[0].Part.Number)
	assert.Equal(t, 2, holds[3].Extra)
	assert.Equal(t, 2, holds[6].RootTask.Number)
	assert.Nil(t, holds[11].Task, "a late part that no task waits for")
	assert.Equal(t, 2, holds[11].Part.Number)

	assert.Equal(t, []string{"11 shorten the propshaft <- propshaft: due 2026-03-19, not here"}, chains(t, st, "pilot", london(t)))
	assert.Equal(t, []string{"8 colour and clear <- 7 block the high build: in hand, Mabel"}, chains(t, st, "osmere", london(t)))
	assert.Empty(t, chains(t, st, "tern", london(t)))
	assert.Len(t, chains(t, st, "", london(t)), 14)
	_, err = st.Holds("linnet", london(t))
	assert.Equal(t, shop.UnknownName, refusal(t, err).Reason)
}

func TestAHoldGoesWithItsRoot(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: shop.WhichPart{Job: "heron", Part: "wing panel"}})
	came := says(t, st, "jonah", d, err)
	end(t, st, "idris", shop.Progress{Task: "2"})
	wing := func() string { return chains(t, st, "heron", london(t))[0] }
	assert.Equal(t, "4 let in the left rear wing <- "+consent, wing())
	put(t, st, shop.ExtraDecided{Number: 2, Job: "heron", Agreed: true})
	assert.Equal(t, "5 epoxy the shell <- 3 replace the right sill: not begun", wing())
	assert.Contains(t, chains(t, st, "heron", london(t)), "5 epoxy the shell <- 4 let in the left rear wing: not begun")

	undo(t, st, "jonah", came)
	assert.Equal(t, "4 let in the left rear wing <- "+panel, wing(), "it is not here after all")
	d, err = st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: shop.WhichPart{Job: "heron", Part: "wing panel"}})
	says(t, st, "jonah", d, err)
	back, err := st.DecideReturn("idris", london(t), shop.NewReturn{WhichPart: shop.WhichPart{Job: "heron", Part: "wing panel"}, Why: "creased"})
	says(t, st, "idris", back, err)
	assert.Equal(t, "4 let in the left rear wing <- rear wing panel: not on order", wing())
}

// The times are those of the demo sheets: the high build may be sanded 4 hours
// after it was finished.
func TestAWetCoatHoldsWhatSands(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for _, n := range []string{"2", "3", "4", "5"} {
		end(t, st, "wren", shop.Progress{Task: n})
	}
	put(t, st, shop.CoatRecorded{Job: "heron", Material: "high-build", Panels: []string{"whole body"}, Coats: 1, At: tuesday})
	assert.Equal(t, []string{
		"6 fill and block <- high-build primer on whole body: not to be sanded before 2026-03-10T14:15", seals,
	}, chains(t, st, "heron", london(t)))
	holds, err := st.Holds("heron", london(t))
	require.NoError(t, err)
	assert.Equal(t, tuesday.Add(4*time.Hour), holds[0].Until)
	assert.Equal(t, []string{seals}, chains(t, st, "heron", london(t).Add(4*time.Hour)))
}

// A plan with a circle cannot be said, but it can be imported.
func TestACircleIsAHoldToo(t *testing.T) {
	t.Parallel()
	st := coats(t)
	put(t, st, shop.TaskAdded{Number: 13, Job: "tern", Title: "hang the doors", Stage: shop.Metal, After: []int{14}, State: shop.Waiting})
	put(t, st, shop.TaskAdded{Number: 14, Job: "tern", Title: "gap the doors", Stage: shop.Metal, After: []int{13}, State: shop.Waiting})
	assert.Equal(t, []string{
		"14 gap the doors <- 13 hang the doors: it waits for itself", "13 hang the doors <- 14 gap the doors: it waits for itself",
	}, chains(t, st, "tern", london(t)))
}

func TestWhatComesNext(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		job, person string
		next        []string
		held, toDo  int
	}{
		"on a job":             {"heron", "", []string{"2: in hand, Idris", "3: nothing is in its way"}, 3, 5},
		"what waits":           {"pilot", "", []string{"10: in hand, Tomasz"}, 1, 2},
		"in the shop":          {"", "", []string{"2: in hand, Idris", "7: in hand, Mabel", "10: in hand, Tomasz", "12: in hand, Jonah", "3: nothing is in its way"}, 5, 10},
		"a metal man's":        {"", "idris", []string{"2: in hand, Idris", "3: nothing is in its way"}, 5, 10},
		"no metal for a paint": {"", "mabel", []string{"7: in hand, Mabel"}, 5, 10},
		"an apprentice's":      {"", "jonah", []string{"12: in hand, Jonah", "3: nothing is in its way"}, 5, 10},
		"the lead's":           {"heron", "wren", []string{"3: nothing is in its way"}, 3, 5},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			next, err := coats(t).Next(c.job, c.person, london(t))
			require.NoError(t, err)
			var lines []string
			for _, n := range next.Tasks {
				number, _, _ := strings.Cut(n.Name(), " ")
				lines = append(lines, number+": "+n.Why)
			}
			assert.Equal(t, c.next, lines)
			assert.Equal(t, []int{c.held, c.toDo}, []int{next.Held, next.ToDo})
		})
	}
}

func TestWhoseWorkATaskIs(t *testing.T) {
	t.Parallel()
	st := coats(t)
	add := func(n int, stage shop.Stage, who string) {
		put(t, st, shop.TaskAdded{Number: n, Job: "tern", Title: "work", Stage: stage, State: shop.Waiting, Who: who})
	}
	add(13, shop.Strip, "")
	add(14, shop.Assembly, "")
	add(15, shop.Metal, "wren")
	add(16, shop.Metal, "priya")
	for person, want := range map[string][]int{"idris": {13, 14}, "priya": {14, 16}, "jonah": {12, 13, 14}, "wren": {13, 14, 15}} {
		next, err := st.Next("tern", person, london(t))
		require.NoError(t, err)
		var got []int
		for _, n := range next.Tasks {
			got = append(got, n.Number)
		}
		assert.Equal(t, want, got, person)
	}
	_, err := st.Next("tern", "bo", london(t))
	assert.Equal(t, "person", refusal(t, err).Metadata["field"])
	_, err = st.Next("linnet", "", london(t))
	assert.Equal(t, "job", refusal(t, err).Metadata["field"])
}

// A task's part is the one of the very name, and what is here of it comes before
// what is on order, whatever else is called something like it.
func TestWhichPartATaskNeeds(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		others []shop.PartOrdered // beside the propshaft that is on order
		hold   string             // empty: none
	}{
		"on order":                {nil, "propshaft: due 2026-03-19, not here"},
		"a longer name":           {[]shop.PartOrdered{{Part: "propshaft centre bearing", State: shop.Arrived}}, "propshaft: due 2026-03-19, not here"},
		"more before it":          {[]shop.PartOrdered{{Part: "second-hand propshaft", State: shop.Arrived}}, "propshaft: due 2026-03-19, not here"},
		"another one":             {[]shop.PartOrdered{{Part: "propshafts", State: shop.Arrived}}, ""},
		"another one, fitted":     {[]shop.PartOrdered{{Part: "Propshaft", State: shop.Fitted}}, ""},
		"another one, sent back":  {[]shop.PartOrdered{{Part: "propshaft", State: shop.Returned}}, "propshaft: due 2026-03-19, not here"},
		"another job's":           {[]shop.PartOrdered{{Job: "tern", Part: "propshaft", State: shop.Arrived}}, "propshaft: due 2026-03-19, not here"},
		"another one, later":      {[]shop.PartOrdered{{Part: "propshaft", State: shop.Ordered}}, "propshaft: due 2026-03-19, not here"},
		"a set that comes to one": {[]shop.PartOrdered{{Part: "propshaft kit", State: shop.Arrived}}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			st := coats(t)
			for i, e := range c.others {
				e.Number, e.Quantity = 5+i, 1
				if e.Job == "" {
					e.Job = "pilot"
				}
				put(t, st, e)
			}
			if c.hold == "" {
				assert.Empty(t, chains(t, st, "pilot", london(t)))
				assert.Equal(t, []string{"11 shorten the propshaft"}, st.FreedByPart(5, london(t)))
				return
			}
			assert.Equal(t, []string{"11 shorten the propshaft <- " + c.hold}, chains(t, st, "pilot", london(t)))
		})
	}
	st := coats(t)
	put(t, st, shop.TaskAdded{Number: 13, Job: "tern", Title: "hang the right door", Stage: shop.Metal, State: shop.Waiting, NeedsPart: "door skin"})
	put(t, st, shop.PartOrdered{Number: 5, Job: "tern", Part: "door skin", Side: shop.Left, Quantity: 1, State: shop.Arrived})
	assert.Equal(t, []string{"13 hang the right door <- door skin: not on order"}, chains(t, st, "tern", london(t)), "a side is binding")
	put(t, st, shop.PartOrdered{Number: 6, Job: "tern", Part: "steel door skin", Side: shop.Right, Quantity: 2, State: shop.Ordered, Due: day(t, "2026-03-09")})
	assert.Equal(t, []string{"13 hang the right door <- steel door skin, right: due 2026-03-09, 1 day late, not here"}, chains(t, st, "tern", london(t)))
	assert.Equal(t, []string{"13 hang the right door"}, part(t, st, 6).NeededBy)
}

// A chain of 12 tasks is told by the first four and the last four before its root.
func TestALongChainIsToldWithoutItsMiddle(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for n := 21; n <= 33; n++ {
		e := shop.TaskAdded{Number: n, Job: "tern", Title: "polish", Stage: shop.Paint, State: shop.Waiting}
		if n > 21 {
			e.After = []int{n - 1}
		}
		put(t, st, e)
	}
	all := chains(t, st, "tern", london(t))
	require.Len(t, all, 12)
	assert.Equal(t, "33 polish <- 32 polish <- 31 polish <- 30 polish <- 4 tasks between <- "+
		"25 polish <- 24 polish <- 23 polish <- 22 polish <- 21 polish: not begun", all[11])
	assert.NotContains(t, all[7], "between")
}
