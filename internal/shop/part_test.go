package shop_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func day(t testing.TB, text string) shop.Day {
	t.Helper()
	d, ok := shop.ParseDay(text)
	require.True(t, ok)
	return d
}

func part(t testing.TB, st *shop.State, n int) shop.Part {
	t.Helper()
	p, ok := st.PartNumber(n, london(t))
	require.True(t, ok, "part %d", n)
	return p
}

func order(t testing.TB, st *shop.State, by string, r shop.NewOrder) uint64 {
	t.Helper()
	d, err := st.DecideOrder(by, london(t), r)
	return says(t, st, by, d, err)
}

func arrive(t testing.TB, st *shop.State, by string, r shop.NewArrival) uint64 {
	t.Helper()
	d, err := st.DecideArrival(by, london(t), r)
	return says(t, st, by, d, err)
}

// called says which part is meant.
func called(job, words string) shop.WhichPart { return shop.WhichPart{Job: job, Part: words} }

func newOrder() shop.NewOrder {
	return shop.NewOrder{Job: "tern", Part: "wheel cylinder", Quantity: count(4), Supplier: "fenwright", Due: "2026-03-24", Price: hours(62), Provenance: "used"}
}

func TestAPartIsOrdered(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideOrder("wren", london(t), newOrder())
	require.NoError(t, err)
	assert.Empty(t, d.Warnings)
	e := shop.PartOrdered{
		Number: 5, Job: "tern", Part: "wheel cylinder", Quantity: 4, Supplier: "Fenwright Fasteners", Origin: "used", Price: 62,
		Ordered: day(t, "2026-03-10"), Due: day(t, "2026-03-24"), State: shop.Ordered,
	}
	assert.Equal(t, e, d.Event)
	d, err = st.DecideOrder("idris", london(t), shop.NewOrder{Job: "tern", Part: "propshaft"})
	require.NoError(t, err)
	assert.Equal(t, shop.PartOrdered{Number: 5, Job: "tern", Part: "propshaft", Quantity: 1, Ordered: e.Ordered, State: shop.Ordered}, d.Event, "one, unless said")
}

func TestWhatAnOrderMayBe(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for name, c := range map[string]struct {
		change          func(*shop.NewOrder)
		reason          shop.Reason // 0: it is fine
		field, accepted string
	}{
		"all of it":             {func(*shop.NewOrder) {}, 0, "", ""},
		"no job":                {func(r *shop.NewOrder) { r.Job = "" }, shop.MissingField, "job", ""},
		"no part":               {func(r *shop.NewOrder) { r.Part = "" }, shop.MissingField, "part", ""},
		"a part of no name":     {func(r *shop.NewOrder) { r.Part = "the part" }, shop.MissingField, "part", ""},
		"no such job":           {func(r *shop.NewOrder) { r.Job = "linnet" }, shop.UnknownName, "job", "tern"},
		"none":                  {func(r *shop.NewOrder) { r.Quantity = count(0) }, shop.OutOfRange, "quantity", "1 to 1000"},
		"a thousand":            {func(r *shop.NewOrder) { r.Quantity = count(1000) }, 0, "", ""},
		"too many":              {func(r *shop.NewOrder) { r.Quantity = count(1001) }, shop.OutOfRange, "quantity", "1 to 1000"},
		"for nothing":           {func(r *shop.NewOrder) { r.Price = hours(0) }, 0, "", ""},
		"less than nothing":     {func(r *shop.NewOrder) { r.Price = hours(-1) }, shop.OutOfRange, "price", "0 or more"},
		"a million":             {func(r *shop.NewOrder) { r.Price = hours(1e6) }, shop.OutOfRange, "price", "less than 1000000"},
		"due today":             {func(r *shop.NewOrder) { r.Due = "2026-03-10" }, 0, "", ""},
		"due before it was":     {func(r *shop.NewOrder) { r.Due = "2026-03-09" }, shop.OutOfRange, "due", "2026-03-10 to 2031-03-10"},
		"due in five years":     {func(r *shop.NewOrder) { r.Due = "2031-03-10" }, 0, "", ""},
		"due later than that":   {func(r *shop.NewOrder) { r.Due = "2031-03-11" }, shop.OutOfRange, "due", "to 2031-03-10"},
		"no day":                {func(r *shop.NewOrder) { r.Due = "thursday" }, shop.OutOfRange, "due", "2026-03-10 to"},
		"no due day":            {func(r *shop.NewOrder) { r.Due = "" }, 0, "", ""},
		"from somewhere":        {func(r *shop.NewOrder) { r.Provenance = "new_old_stock" }, 0, "", ""},
		"from no known kind":    {func(r *shop.NewOrder) { r.Provenance = "stolen" }, shop.UnknownName, "provenance", "new_old_stock, reproduction, used, made"},
		"a side there is not":   {func(r *shop.NewOrder) { r.Side = 9 }, shop.OutOfRange, "side", "left, right"},
		"an apprentice's order": {nil, shop.NotAllowed, "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r, by := newOrder(), "wren"
			if c.change == nil {
				by = "jonah"
			} else {
				c.change(&r)
			}
			_, err := st.DecideOrder(by, london(t), r)
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

func TestASupplierGoesByAnyOfItsWords(t *testing.T) {
	t.Parallel()
	st := coats(t)
	put(t, st, shop.SupplierAdded{Name: "Northmoor Glass"})
	for said, want := range map[string]struct {
		name    string
		warning string
	}{
		"ketteridge":           {"Ketteridge Panels", ""},
		"Ketteridge Panels":    {"Ketteridge Panels", ""},
		"amblecote's":          {"Amblecote Rubber", ""},
		"fenwright fasteners":  {"Fenwright Fasteners", ""},
		"":                     {"", ""},
		"a man at the jumble":  {"a man at the jumble", "a man at the jumble is none of the shop's suppliers."},
		"northmoor":            {"northmoor", "northmoor may be Northmoor Paints or Northmoor Glass."},
		"northmoor glass":      {"Northmoor Glass", ""},
		"ketteridge fasteners": {"ketteridge fasteners", "ketteridge fasteners is none of the shop's suppliers."},
	} {
		r := newOrder()
		r.Supplier = said
		d, err := st.DecideOrder("wren", london(t), r)
		require.NoError(t, err)
		e, _ := d.Event.(shop.PartOrdered)
		assert.Equal(t, want.name, e.Supplier, said)
		if want.warning == "" {
			assert.Empty(t, d.Warnings, said)
		} else {
			assert.Equal(t, []string{want.warning}, d.Warnings)
		}
	}
}

func TestAnOrderTwiceWarns(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideOrder("wren", london(t), shop.NewOrder{Job: "heron", Part: "Rear wing panels", Side: shop.Left})
	require.NoError(t, err)
	assert.Equal(t, []string{"Part 1 is on order already: " + panel + "."}, d.Warnings)
	for _, other := range []shop.NewOrder{
		{Job: "heron", Part: "rear wing panel", Side: shop.Right}, {Job: "tern", Part: "rear wing panel", Side: shop.Left},
		{Job: "heron", Part: "wing panel", Side: shop.Left}, {Job: "osmere", Part: "tailgate seal"},
	} {
		d, err := st.DecideOrder("wren", london(t), other)
		require.NoError(t, err)
		assert.Empty(t, d.Warnings, "%v", other)
	}
}

func TestAPartGoesThroughItsStates(t *testing.T) {
	t.Parallel()
	st := coats(t)
	was := part(t, st, 1)
	assert.Equal(t, []string{"4 let in the left rear wing"}, was.NeededBy)
	_, err := st.DecideFitting("idris", london(t), shop.NewFitting{WhichPart: called("heron", "wing panel")})
	r := refusal(t, err)
	assert.Equal(t, shop.NotFound, r.Reason)
	assert.Equal(t, map[string]string{"field": "part", "value": "rear wing panel, left", "due": "2026-03-12"}, r.Metadata, "not here yet")

	came := arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("heron", "rear wing panel"), Condition: "creased at the bottom"})
	p := part(t, st, 1)
	assert.Equal(t, []any{shop.Arrived, 1, "creased at the bottom", day(t, "2026-03-10")}, []any{p.State, p.ArrivedQuantity, p.Condition, p.Arrived})
	assert.Empty(t, p.NeededBy, "nothing waits for it any more")

	d, err := st.DecideFitting("jonah", london(t), shop.NewFitting{WhichPart: called("heron", "wing panel"), Trial: true, Note: "3 mm low at the back"})
	tried := says(t, st, "jonah", d, err)
	p = part(t, st, 1)
	assert.Equal(t, []any{shop.Arrived, true, "3 mm low at the back"}, []any{p.State, p.TrialFitted, p.FitNote})
	d, err = st.DecideFitting("idris", london(t), shop.NewFitting{WhichPart: called("heron", "ns wing panel")})
	fitted := says(t, st, "idris", d, err)
	p = part(t, st, 1)
	assert.Equal(t, shop.Fitted, p.State)
	assert.Equal(t, []uint64{was.Entry, came, tried, fitted}, p.Entries)
	_, err = st.DecideFitting("idris", london(t), shop.NewFitting{WhichPart: called("heron", "wing panel")})
	assert.Equal(t, shop.AlreadyDone, refusal(t, err).Reason)

	back, err := st.DecideReturn("idris", london(t), shop.NewReturn{WhichPart: called("heron", "wing panel"), Why: "cracked"})
	assert.Equal(t, []string{"It was on record as fitted."}, back.Warnings)
	returned := says(t, st, "idris", back, err)
	assert.Equal(t, shop.Returned, part(t, st, 1).State)
	_, err = st.DecideReturn("idris", london(t), shop.NewReturn{WhichPart: called("heron", "wing panel")})
	assert.Equal(t, shop.AlreadyDone, refusal(t, err).Reason)
	_, err = st.DecideReturn("jonah", london(t), shop.NewReturn{WhichPart: called("heron", "wing panel")})
	assert.Equal(t, shop.NotAllowed, refusal(t, err).Reason)

	undo(t, st, "wren", returned)
	undo(t, st, "wren", came)
	assert.Equal(t, shop.Fitted, part(t, st, 1).State, "what is on the vehicle is here, whoever saw it come")
	undo(t, st, "wren", fitted)
	undo(t, st, "wren", tried)
	assert.Equal(t, was, part(t, st, 1), "each undoing gives the former state back")
	_, err = st.DecideUndo("idris", was.Entry)
	assert.Equal(t, shop.NotAllowed, refusal(t, err).Reason, "it was imported")
}

func TestOnlyWhatIsHereIsFitted(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideFitting("priya", london(t), shop.NewFitting{WhichPart: called("osmere", "")})
	require.NoError(t, err)
	assert.Equal(t, shop.PartFitted{Number: 4, Job: "osmere"}, d.Event, "the one that is here")
	_, err = st.DecideFitting("priya", london(t), shop.NewFitting{})
	require.NoError(t, err, "the only one in the shop")
	says(t, st, "priya", d, nil)
	_, err = st.DecideFitting("priya", london(t), shop.NewFitting{})
	assert.Equal(t, "job", refusal(t, err).Metadata["field"], "none is")
	for name, c := range map[string]struct {
		w      shop.WhichPart
		reason shop.Reason
		says   string
	}{
		"nothing here":        {called("tern", ""), shop.MissingField, `field="part"`},
		"never heard of":      {called("osmere", "heater matrix"), shop.NotFound, `accepted="4 tailgate seal"`},
		"on order":            {called("pilot", "propshaft"), shop.NotFound, `due="2026-03-19" field="part" value="propshaft"`},
		"on order, by number": {called("heron", "1"), shop.NotFound, `due="2026-03-12" field="part" value="rear wing panel, left"`},
		"the other side":      {called("heron", "right rear wing panel"), shop.NotFound, `value="right rear wing panel"`},
		"no such job":         {called("linnet", "propshaft"), shop.UnknownName, "linnet"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := coats(t).DecideFitting("priya", london(t), shop.NewFitting{WhichPart: c.w})
			got := refusal(t, err)
			assert.Equal(t, c.reason, got.Reason)
			assert.Contains(t, got.Error(), c.says)
		})
	}
}

func TestAPartIsAmended(t *testing.T) {
	t.Parallel()
	st := coats(t)
	amend := func(by string, entry uint64, c shop.Changes) []string {
		d, err := st.DecideAmend(by, london(t), entry, c)
		says(t, st, by, d, err)
		return d.Changes
	}
	ordered := order(t, st, "tomasz", newOrder())
	assert.Equal(t, []string{"due 2026-03-24 -> 2026-03-20"}, amend("tomasz", ordered, shop.Changes{Due: "2026-03-20"}))
	assert.Equal(t, []string{"quantity 4 -> 2", "supplier Fenwright Fasteners -> Ketteridge Panels", "price 62 -> 31", "provenance used -> made"},
		amend("tomasz", ordered, shop.Changes{Quantity: count(2), Supplier: "ketteridge", Price: hours(31), Provenance: "made"}))
	assert.Equal(t, []string{"part wheel cylinder -> brake cylinder", "side - -> left"}, amend("tomasz", ordered, shop.Changes{Part: "brake cylinder", Side: shop.Left}))
	_, err := st.DecideAmend("tomasz", london(t), ordered, shop.Changes{Due: "2026-03-09"})
	assert.Equal(t, shop.OutOfRange, refusal(t, err).Reason)
	_, err = st.DecideAmend("tomasz", london(t), ordered, shop.Changes{Condition: "new"})
	assert.Equal(t, shop.CannotAmend, refusal(t, err).Reason, "that is for the arrival to say")
	assert.Equal(t, []string{"job tern -> pilot"}, amend("tomasz", ordered, shop.Changes{Job: "pilot"}))

	came := arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("pilot", "cylinders")})
	_, err = st.DecideAmend("tomasz", london(t), ordered, shop.Changes{Job: "tern"})
	assert.Equal(t, shop.InUse, refusal(t, err).Reason)
	_, err = st.DecideUndo("tomasz", ordered)
	assert.Equal(t, shop.InUse, refusal(t, err).Reason)
	assert.Equal(t, []string{"condition - -> leaking"}, amend("jonah", came, shop.Changes{Condition: "leaking"}))
	assert.Equal(t, []string{"part left brake cylinder -> propshaft", "quantity 2 -> 1"}, amend("jonah", came, shop.Changes{Part: "propshaft"}), "all of one is all of the other")
	assert.Equal(t, []string{shop.Ordered, shop.Arrived}, []string{part(t, st, 5).State, part(t, st, 3).State})
	_, err = st.DecideAmend("jonah", london(t), came, shop.Changes{Part: "radiator"})
	assert.Equal(t, shop.NotFound, refusal(t, err).Reason, "an arrival of an order stays one")

	arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("pilot", "cylinder")})
	d, err := st.DecideFitting("tomasz", london(t), shop.NewFitting{WhichPart: called("pilot", "propshaft")})
	fitted := says(t, st, "tomasz", d, err)
	assert.Equal(t, []string{"note - -> tight"}, amend("tomasz", fitted, shop.Changes{Note: "tight"}))
	assert.Equal(t, []string{"part propshaft -> left brake cylinder"}, amend("tomasz", fitted, shop.Changes{Part: "cylinder"}))
	assert.Equal(t, []string{shop.Fitted, shop.Arrived}, []string{part(t, st, 5).State, part(t, st, 3).State})
	assert.Equal(t, []string{"condition leaking -> fine"}, amend("jonah", came, shop.Changes{Condition: "fine"}))

	back, err := st.DecideReturn("tomasz", london(t), shop.NewReturn{WhichPart: called("pilot", "propshaft")})
	returned := says(t, st, "tomasz", back, err)
	assert.Equal(t, []string{"why - -> too long"}, amend("tomasz", returned, shop.Changes{Why: "too long"}))
	assert.Equal(t, []string{"part propshaft -> left brake cylinder"}, amend("tomasz", returned, shop.Changes{Part: "cylinder"}))
	assert.Equal(t, []string{shop.Returned, shop.Arrived}, []string{part(t, st, 5).State, part(t, st, 3).State})
}

func TestWhichPartsThereAre(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for name, c := range map[string]struct {
		f    shop.PartFilter
		want []int
	}{
		"all":              {shop.PartFilter{}, []int{1, 2, 3, 4}},
		"of a job":         {shop.PartFilter{Job: "heron"}, []int{1, 2}},
		"ordered":          {shop.PartFilter{State: shop.Ordered}, []int{1, 2, 3}},
		"late":             {shop.PartFilter{State: shop.Late}, []int{2}},
		"here":             {shop.PartFilter{State: shop.Arrived}, []int{4}},
		"fitted":           {shop.PartFilter{State: shop.Fitted}, nil},
		"due this week":    {shop.PartFilter{DueBy: "2026-03-12"}, []int{1, 2}},
		"by words":         {shop.PartFilter{Part: "seals"}, []int{2, 4}},
		"by words and job": {shop.PartFilter{Part: "seals", Job: "osmere"}, []int{4}},
		"by side":          {shop.PartFilter{Part: "left wing"}, []int{1}},
		"the other side":   {shop.PartFilter{Part: "right wing"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			parts, err := st.Parts(c.f, london(t))
			require.NoError(t, err)
			var got []int
			for _, p := range parts {
				got = append(got, p.Number)
			}
			assert.Equal(t, c.want, got)
		})
	}
	for field, f := range map[string]shop.PartFilter{"job": {Job: "linnet"}, "state": {State: "lost"}, "due_by": {DueBy: "friday"}} {
		_, err := st.Parts(f, london(t))
		assert.Equal(t, field, refusal(t, err).Metadata["field"])
	}
}

func TestAPartIsLateTheDayAfterItWasDue(t *testing.T) {
	t.Parallel()
	st := coats(t)
	at := func(day int, hour int) (string, int) {
		p, ok := st.PartNumber(3, time.Date(2026, 3, day, hour, 0, 0, 0, london(t).Location()))
		require.True(t, ok)
		return p.State, p.DaysLate
	}
	for _, c := range []struct {
		day, hour int
		state     string
		late      int
	}{{18, 12, shop.Ordered, 0}, {19, 23, shop.Ordered, 0}, {20, 0, shop.Late, 1}, {29, 12, shop.Late, 10}} {
		state, late := at(c.day, c.hour)
		assert.Equal(t, []any{c.state, c.late}, []any{state, late}, "on the %d.", c.day)
	}
	arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("pilot", "propshaft")})
	state, late := at(29, 12)
	assert.Equal(t, []any{shop.Arrived, 0}, []any{state, late})
	assert.Equal(t, []string{"11 shorten the propshaft"}, st.FreedByPart(3, london(t)))
	assert.Empty(t, st.FreedByPart(1, london(t)), "not here")
	arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("pilot", "second-hand propshaft")})
	assert.Empty(t, st.FreedByPart(5, london(t)), "the other one did")
}

func TestPartsAreInTheHistory(t *testing.T) {
	t.Parallel()
	st := coats(t)
	arrive(t, st, "jonah", shop.NewArrival{WhichPart: called("heron", "rear wing panel"), Condition: "creased"})
	for _, e := range []shop.Event{
		shop.PartFitted{Number: 1, Job: "heron", Trial: true, Note: "low at the back"},
		shop.PartFitted{Number: 1, Job: "heron"},
		shop.PartReturned{Number: 1, Job: "heron", Why: "cracked"},
	} {
		put(t, st, e)
	}
	want := []string{
		"arrived left rear wing panel, 1, creased", "tried left rear wing panel, low at the back", "fitted left rear wing panel", "sent back left rear wing panel, cracked",
	}
	assert.Subset(t, history(t, st, shop.Where{Job: "heron"}), want)
	assert.Subset(t, history(t, st, shop.Where{Job: "heron", Panel: "rear wing", Side: shop.Left}), want)
	assert.NotContains(t, history(t, st, shop.Where{Job: "heron", Panel: "rear wing", Side: shop.Right}), want[0])
	assert.NotContains(t, history(t, st, shop.Where{Job: "heron", Panel: "sill"}), want[0])
}
