package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func delay(t testing.TB, st *shop.State, by string, r shop.NewDue) uint64 {
	t.Helper()
	d, err := st.DecideDueChange(by, london(t), r)
	return says(t, st, by, d, err)
}

func TestWhatADueDayMayBe(t *testing.T) {
	t.Parallel()
	propshaft := called("pilot", "propshaft")
	for name, c := range map[string]struct {
		by     string
		r      shop.NewDue
		reason shop.Reason // 0: it is fine
		says   string
	}{
		"another day":            {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2026-03-20", Why: "casting"}, 0, ""},
		"an earlier one":         {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2026-03-11"}, 0, ""},
		"today":                  {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2026-03-10"}, 0, ""},
		"yesterday":              {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2026-03-09"}, 0, ""},
		"the day before that":    {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2026-03-08"}, shop.OutOfRange, `accepted="2026-03-09 to`},
		"the day it is due":      {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2026-03-19"}, shop.AlreadyDone, "part 3, propshaft, is due 2026-03-19"},
		"no day":                 {"tomasz", shop.NewDue{WhichPart: propshaft}, shop.MissingField, `field="due"`},
		"no date":                {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "friday"}, shop.OutOfRange, `field="due"`},
		"by number":              {"tomasz", shop.NewDue{WhichPart: called("", "3"), Due: "2026-03-20"}, 0, ""},
		"the only one on order":  {"tomasz", shop.NewDue{WhichPart: called("pilot", ""), Due: "2026-03-20"}, 0, ""},
		"one of two":             {"tomasz", shop.NewDue{WhichPart: called("heron", ""), Due: "2026-03-20"}, shop.Ambiguous, "door seal set"},
		"one that is here":       {"priya", shop.NewDue{WhichPart: called("osmere", "tailgate seal"), Due: "2026-03-20"}, shop.AlreadyDone, "part 4, tailgate seal, is here"},
		"never heard of":         {"tomasz", shop.NewDue{WhichPart: called("pilot", "radiator"), Due: "2026-03-20"}, shop.NotFound, `accepted="3 propshaft"`},
		"nothing on order":       {"tomasz", shop.NewDue{WhichPart: called("tern", ""), Due: "2026-03-20"}, shop.MissingField, `field="part"`},
		"an apprentice's word":   {"jonah", shop.NewDue{WhichPart: propshaft, Due: "2026-03-20"}, shop.NotAllowed, "change when a part is due"},
		"a job there is not":     {"tomasz", shop.NewDue{WhichPart: called("linnet", "propshaft"), Due: "2026-03-20"}, shop.UnknownName, "linnet"},
		"late, and later still":  {"tomasz", shop.NewDue{WhichPart: called("heron", "seals"), Due: "2026-03-16"}, 0, ""},
		"a side it has not":      {"tomasz", shop.NewDue{WhichPart: called("heron", "right rear wing panel"), Due: "2026-03-16"}, shop.NotFound, "right rear wing panel"},
		"the side it has":        {"tomasz", shop.NewDue{WhichPart: called("heron", "left rear wing panel"), Due: "2026-03-16"}, 0, ""},
		"in more than five year": {"tomasz", shop.NewDue{WhichPart: propshaft, Due: "2031-03-10"}, shop.OutOfRange, `field="due"`},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d, err := coats(t).DecideDueChange(c.by, london(t), c.r)
			if c.reason == 0 {
				require.NoError(t, err)
				e, _ := d.Event.(shop.PartDueChanged)
				assert.Equal(t, []any{day(t, c.r.Due), c.r.Why}, []any{e.Due, e.Why})
				return
			}
			got := refusal(t, err)
			assert.Equal(t, c.reason, got.Reason)
			assert.Contains(t, got.Error(), c.says)
		})
	}
}

func TestTheNewestDueDayCounts(t *testing.T) {
	t.Parallel()
	st := coats(t)
	was := part(t, st, 2)
	assert.Equal(t, shop.Late, was.State)
	first := delay(t, st, "priya", shop.NewDue{WhichPart: called("heron", "door seals"), Due: "2026-03-13", Why: "out of stock"})
	second := delay(t, st, "wren", shop.NewDue{WhichPart: called("heron", "door seals"), Due: "2026-03-20"})
	now := part(t, st, 2)
	assert.Equal(t, []any{shop.Ordered, 0, day(t, "2026-03-20")}, []any{now.State, now.DaysLate, now.Due})
	assert.Equal(t, []uint64{was.Entry, first, second}, now.Entries)
	for entry, before := range map[uint64]string{first: "2026-03-06", second: "2026-03-13"} {
		r, ok := st.Record(entry)
		require.True(t, ok)
		assert.Equal(t, before, st.DueBefore(r).String())
	}
	assert.Subset(t, history(t, st, shop.Where{Job: "heron"}), []string{
		"door seal set due on 2026-03-13 now, out of stock", "door seal set due on 2026-03-20 now",
	})
	late, err := st.Parts(shop.PartFilter{State: shop.Late}, london(t))
	require.NoError(t, err)
	assert.Empty(t, late)

	undo(t, st, "wren", second)
	assert.Equal(t, day(t, "2026-03-13"), part(t, st, 2).Due)
	undo(t, st, "priya", first)
	assert.Equal(t, was, part(t, st, 2), "each undoing gives the former state back")
}

func TestADueDayIsAmended(t *testing.T) {
	t.Parallel()
	st := coats(t)
	amend := func(entry uint64, c shop.Changes) []string {
		d, err := st.DecideAmend("tomasz", london(t), entry, c)
		says(t, st, "tomasz", d, err)
		return d.Changes
	}
	entry := delay(t, st, "tomasz", shop.NewDue{WhichPart: called("pilot", "propshaft"), Due: "2026-03-13"})
	assert.Equal(t, []string{"due 2026-03-13 -> 2026-03-16", "why - -> casting"}, amend(entry, shop.Changes{Due: "2026-03-16", Why: "casting"}))
	assert.Equal(t, []string{"due 2026-03-16 -> 2026-03-19"}, amend(entry, shop.Changes{Due: "2026-03-19"}), "the day it was due at first")
	_, err := st.DecideAmend("tomasz", london(t), entry, shop.Changes{Due: "2026-03-01"})
	assert.Equal(t, shop.OutOfRange, refusal(t, err).Reason)
	_, err = st.DecideAmend("tomasz", london(t), entry, shop.Changes{Price: hours(3)})
	assert.Equal(t, shop.CannotAmend, refusal(t, err).Reason)
	another := order(t, st, "tomasz", shop.NewOrder{Job: "pilot", Part: "centre bearing", Due: "2026-03-12"})
	assert.Equal(t, []string{"part propshaft -> centre bearing"}, amend(entry, shop.Changes{Part: "centre bearing"}))
	assert.Equal(t, []string{"2026-03-19", "2026-03-19"}, []string{part(t, st, 3).Due.String(), part(t, st, 5).Due.String()})
	assert.Equal(t, []uint64{entry, another}, part(t, st, 5).Entries)
	_, err = st.DecideUndo("tomasz", another)
	assert.Equal(t, shop.InUse, refusal(t, err).Reason)

	arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("pilot", "centre bearing")})
	assert.Equal(t, []string{"due 2026-03-19 -> 2026-03-11"}, amend(entry, shop.Changes{Due: "2026-03-11"}), "though it is here by now")
	_, err = st.DecideAmend("tomasz", london(t), entry, shop.Changes{Part: "tailgate seal"})
	assert.Equal(t, shop.NotFound, refusal(t, err).Reason)
	d, err := st.DecideAmend("tomasz", london(t), another, shop.Changes{Due: "2026-03-18"})
	require.NoError(t, err)
	assert.Equal(t, []string{"A later word has it due on 2026-03-11."}, d.Warnings)
}
