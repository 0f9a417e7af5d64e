package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

// What people call a part is seldom what it was ordered as.
func TestWhichPartCame(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		job, words string
		side       shop.Side
		number     int // 0: nobody ordered it; less: refused
		reason     shop.Reason
		says       string
	}{
		"its name":                    {job: "heron", words: "rear wing panel", number: 1},
		"its name with its side":      {job: "heron", words: "left rear wing panel", number: 1},
		"its side beside it":          {job: "heron", words: "wing panel", side: shop.Left, number: 1},
		"the other side":              {job: "heron", words: "rear wing panel", side: shop.Right},
		"the other side in the words": {job: "heron", words: "os rear wing panel"},
		"words of it":                 {job: "heron", words: "seals", number: 2},
		"a side it has not":           {job: "heron", words: "door seal set", side: shop.Left, number: 2},
		"a word before it":            {job: "pilot", words: "the new propshaft", number: 3},
		"a word after it":             {job: "pilot", words: "propshaft centre bearing"},
		"some words of it, not all":   {job: "heron", words: "door handles"},
		"by number":                   {job: "heron", words: "part 2", number: 2},
		"by number alone":             {words: "3", number: 3},
		"one here, by number":         {job: "osmere", words: "4", number: -1, reason: shop.AlreadyDone, says: "part 4, tailgate seal, is here"},
		"no such number":              {job: "heron", words: "44", number: -1, reason: shop.NotFound, says: "1 rear wing panel, left, 2 door seal set"},
		"the one on order":            {job: "pilot", number: 3},
		"one of two":                  {job: "heron", number: -1, reason: shop.Ambiguous, says: "part 1: rear wing panel, left"},
		"nothing on order":            {job: "tern", number: -1, reason: shop.MissingField, says: "part"},
		"on any job":                  {words: "propshaft", number: 3},
		"on no job":                   {words: "heater matrix", number: -1, reason: shop.MissingField, says: "job"},
		"anything, on any job":        {number: -1, reason: shop.Ambiguous, says: "part 3: propshaft of the pilot"},
		"no such job":                 {job: "linnet", words: "propshaft", number: -1, reason: shop.UnknownName, says: "job"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			st := coats(t)
			d, err := st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: shop.WhichPart{Job: c.job, Part: c.words, Side: c.side}})
			if c.number < 0 {
				got := refusal(t, err)
				assert.Equal(t, c.reason, got.Reason)
				assert.Contains(t, got.Error(), c.says)
				return
			}
			require.NoError(t, err)
			if c.number == 0 {
				assert.IsType(t, shop.PartOrdered{}, d.Event)
				return
			}
			assert.Equal(t, shop.PartArrived{Number: c.number, Job: part(t, st, c.number).Job, Quantity: 1}, d.Event)
		})
	}
}

func TestTwoOrdersThatFitAreAskedAbout(t *testing.T) {
	t.Parallel()
	st := coats(t)
	order(t, st, "wren", shop.NewOrder{Job: "heron", Part: "rear wing panel", Side: shop.Right})
	order(t, st, "wren", shop.NewOrder{Job: "heron", Part: "front wing panel"})
	_, err := st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: called("heron", "rear wing panel")})
	assert.Equal(t, map[string]string{
		"field": "part", "options": "1,5", "option.1": "part 1: rear wing panel, left", "option.5": "part 5: rear wing panel, right",
	}, refusal(t, err).Metadata, "left before right; the very name before a longer one")
	_, err = st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: called("heron", "wing panel")})
	assert.Equal(t, "6,1,5", refusal(t, err).Metadata["options"])
	d, err := st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: shop.WhichPart{Job: "heron", Part: "wing", Side: shop.Right}})
	require.NoError(t, err)
	assert.Equal(t, shop.PartArrived{Number: 5, Job: "heron", Quantity: 1}, d.Event, "one on that side before one on no side")
}

func TestWhatNobodyOrdered(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: called("heron", "door handles"), Quantity: count(2), Condition: "pitted"})
	require.NoError(t, err)
	assert.Equal(t, shop.PartOrdered{
		Number: 5, Job: "heron", Part: "door handles", Quantity: 2, State: shop.Arrived, Arrived: day(t, "2026-03-10"), Condition: "pitted",
	}, d.Event)
	assert.Equal(t, []string{"Part 2 is still on order: " + seals + "."}, d.Warnings)
	came := says(t, st, "jonah", d, nil)
	p := part(t, st, 5)
	assert.Equal(t, []any{shop.Arrived, 2, true}, []any{p.State, p.ArrivedQuantity, p.Unordered()})

	_, err = st.DecideArrival("wren", london(t), shop.NewArrival{WhichPart: called("heron", "the door handle")})
	assert.Equal(t, shop.AlreadyDone, refusal(t, err).Reason, "said before")
	_, err = st.DecideArrival("wren", london(t).AddDate(0, 0, 1), shop.NewArrival{WhichPart: called("heron", "door handles")})
	require.NoError(t, err, "another day, another delivery")
	_, err = st.DecideArrival("wren", london(t), shop.NewArrival{WhichPart: called("heron", "door")})
	require.NoError(t, err, "a door is no handle")

	amended, err := st.DecideAmend("jonah", london(t), came, shop.Changes{Quantity: count(3), Condition: "rusty"})
	says(t, st, "jonah", amended, err)
	assert.Equal(t, []string{"quantity 2 -> 3", "condition pitted -> rusty"}, amended.Changes, "an apprentice may report arrivals, and mend what they reported")
	assert.Equal(t, 3, part(t, st, 5).ArrivedQuantity)
	_, err = st.DecideAmend("jonah", london(t), came, shop.Changes{Due: "2026-03-12"})
	assert.Equal(t, shop.CannotAmend, refusal(t, err).Reason)
	undo(t, st, "jonah", came)
	_, ok := st.PartNumber(5, london(t))
	assert.False(t, ok)

	for field, r := range map[string]shop.NewArrival{
		"quantity": {WhichPart: called("heron", "badge"), Quantity: count(0)},
		"side":     {WhichPart: shop.WhichPart{Job: "heron", Part: "badge", Side: 9}},
	} {
		_, err := st.DecideArrival("jonah", london(t), r)
		assert.Equal(t, field, refusal(t, err).Metadata["field"])
	}
}

func TestAnOrderComesInParts(t *testing.T) {
	t.Parallel()
	st := coats(t)
	order(t, st, "wren", newOrder())
	first := arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("tern", "wheel cylinders"), Quantity: count(3), Condition: "boxed"})
	p := part(t, st, 5)
	assert.Equal(t, []any{shop.Ordered, 3, "boxed", "2026-03-10"}, []any{p.State, p.ArrivedQuantity, p.Condition, p.Arrived.String()})
	assert.False(t, p.Here(), "one is still to come")
	rest := arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("tern", "")})
	p = part(t, st, 5)
	assert.Equal(t, []any{shop.Arrived, 4}, []any{p.State, p.ArrivedQuantity}, "the rest, when no number was said")

	d, err := st.DecideAmend("jonah", london(t), rest, shop.Changes{Quantity: count(2)})
	assert.Equal(t, []string{"1 more than were to come."}, d.Warnings)
	says(t, st, "jonah", d, err)
	assert.Equal(t, 5, part(t, st, 5).ArrivedQuantity)
	undo(t, st, "jonah", first)
	p = part(t, st, 5)
	assert.Equal(t, []any{shop.Ordered, 2}, []any{p.State, p.ArrivedQuantity})

	// Part of it goes back while the rest is to come: all of it is.
	back, err := st.DecideReturn("wren", london(t), shop.NewReturn{WhichPart: called("tern", "cylinders"), Why: "wrong bore"})
	assert.Equal(t, []string{"All 4 are to come again."}, back.Warnings)
	says(t, st, "wren", back, err)
	p = part(t, st, 5)
	assert.Equal(t, []any{shop.Ordered, 0}, []any{p.State, p.ArrivedQuantity})
}

// One of a name that went back does not stand in the way of the one that is here,
// or on order.
func TestThePartThatIsThereIsMeant(t *testing.T) {
	t.Parallel()
	st := coats(t)
	back, err := st.DecideReturn("priya", london(t), shop.NewReturn{WhichPart: called("osmere", "tailgate seal")})
	says(t, st, "priya", back, err)
	order(t, st, "priya", shop.NewOrder{Job: "osmere", Part: "tailgate seal", Due: "2026-03-13"})
	d, err := st.DecideArrival("jonah", london(t), shop.NewArrival{WhichPart: called("osmere", "tailgate seal")})
	require.NoError(t, err)
	assert.Equal(t, shop.PartArrived{Number: 5, Job: "osmere", Quantity: 1}, d.Event)
	says(t, st, "jonah", d, err)
	fitting, err := st.DecideFitting("priya", london(t), shop.NewFitting{WhichPart: called("osmere", "tailgate seal")})
	require.NoError(t, err)
	assert.Equal(t, shop.PartFitted{Number: 5, Job: "osmere"}, fitting.Event)
	returning, err := st.DecideReturn("priya", london(t), shop.NewReturn{WhichPart: called("osmere", "tailgate seal")})
	require.NoError(t, err)
	assert.Equal(t, shop.PartReturned{Number: 5, Job: "osmere"}, returning.Event)
	says(t, st, "priya", fitting, err)
	returning, err = st.DecideReturn("priya", london(t), shop.NewReturn{WhichPart: called("osmere", "tailgate seal")})
	require.NoError(t, err)
	assert.Equal(t, shop.PartReturned{Number: 5, Job: "osmere"}, returning.Event, "off the vehicle again")
}

// What is said of how a part fits names a side of the fit, not always of the part.
func TestASideInANoteIsNotThePartsOwn(t *testing.T) {
	t.Parallel()
	st := coats(t)
	which := func(job, words string, side shop.Side) shop.WhichPart {
		return shop.WhichPart{Job: job, Part: words, Side: side}
	}
	d, err := st.DecideArrival("jonah", london(t), shop.NewArrival{
		WhichPart: which("heron", "rear wing panel", shop.Right), Condition: "creased at the right corner",
	})
	require.NoError(t, err)
	assert.Equal(t, shop.PartArrived{Number: 1, Job: "heron", Quantity: 1, Condition: "creased at the right corner"}, d.Event, "the left one")
	says(t, st, "jonah", d, err)
	d, err = st.DecideFitting("idris", london(t), shop.NewFitting{WhichPart: which("heron", "rear wing panel", shop.Right), Note: "low on the right"})
	require.NoError(t, err)
	assert.IsType(t, shop.PartFitted{}, d.Event)
	_, err = st.DecideFitting("idris", london(t), shop.NewFitting{WhichPart: which("heron", "rear wing panel", shop.Right), Note: "low at the back"})
	assert.Equal(t, shop.NotFound, refusal(t, err).Reason, "there is no right one")
	d, err = st.DecideReturn("idris", london(t), shop.NewReturn{WhichPart: which("heron", "rear wing panel", shop.Right), Why: "bent on the right"})
	require.NoError(t, err)
	assert.IsType(t, shop.PartReturned{}, d.Event)

	pair := shop.NewArrival{WhichPart: which("heron", "headlamp bowl", shop.Left), Quantity: count(2), Condition: "left one dented"}
	d, err = st.DecideArrival("jonah", london(t), pair)
	require.NoError(t, err)
	e, _ := d.Event.(shop.PartOrdered)
	assert.Equal(t, []any{2, shop.Side(0)}, []any{e.Quantity, e.Side}, "a pair has no side")
	pair.Condition = "dented"
	d, err = st.DecideArrival("jonah", london(t), pair)
	require.NoError(t, err)
	e, _ = d.Event.(shop.PartOrdered)
	assert.Equal(t, shop.Left, e.Side, "two for the left")
}

func TestAFittingDoesNotRepeatTheTrialsNote(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for _, c := range []struct {
		trial     bool
		note      string
		wantState string
	}{{true, "proud at the lock", shop.Arrived}, {true, "", shop.Arrived}, {true, "tight", shop.Arrived}, {false, "", shop.Fitted}} {
		d, err := st.DecideFitting("priya", london(t), shop.NewFitting{WhichPart: called("osmere", "tailgate seal"), Trial: c.trial, Note: c.note})
		says(t, st, "priya", d, err)
		p := part(t, st, 4)
		assert.Equal(t, []any{c.wantState, c.note, true}, []any{p.State, p.FitNote, p.TrialFitted})
	}
	undo(t, st, "priya", 0)
	assert.Equal(t, "tight", part(t, st, 4).FitNote)
}
