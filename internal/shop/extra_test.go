package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func f64(v float64) *float64 { return &v }

func yes() *bool {
	v := true
	return &v
}

func no() *bool {
	v := false
	return &v
}

func (d *desk) extra(n int) shop.Extra {
	d.t.Helper()
	x, ok := d.Extra(n)
	require.True(d.t, ok)
	return x
}

func TestWhatAnExtraNeeds(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for name, c := range map[string]struct {
		by   string
		r    shop.NewExtra
		want want
	}{
		"hours":               {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Hours: f64(6)}, want{}},
		"parts alone":         {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Parts: f64(180)}, want{}},
		"materials alone":     {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Materials: f64(80)}, want{}},
		"no hours at all":     {"idris", shop.NewExtra{Job: "heron", Text: "no charge", Hours: f64(0)}, want{}},
		"finds with hours":    {"idris", shop.NewExtra{Job: "heron", Finds: []int{1, 2}, Hours: f64(12)}, want{}},
		"no job":              {"idris", shop.NewExtra{Text: "new carpets", Hours: f64(6)}, want{shop.MissingField, "job", ""}},
		"neither what":        {"idris", shop.NewExtra{Job: "heron", Hours: f64(6)}, want{shop.MissingField, "text", ""}},
		"nor how much":        {"idris", shop.NewExtra{Job: "heron", Text: "new carpets"}, want{shop.MissingField, "hours", ""}},
		"finds alone":         {"idris", shop.NewExtra{Job: "heron", Finds: []int{1}}, want{shop.MissingField, "hours", ""}},
		"finds and parts":     {"idris", shop.NewExtra{Job: "heron", Finds: []int{1}, Parts: f64(60)}, want{shop.MissingField, "hours", ""}},
		"no such job":         {"idris", shop.NewExtra{Job: "linnet", Text: "new carpets", Hours: f64(6)}, want{shop.UnknownName, "job", "heron"}},
		"no such find":        {"idris", shop.NewExtra{Job: "heron", Finds: []int{1, 9}, Hours: f64(6)}, want{shop.NotFound, "finds", "9"}},
		"a find twice":        {"idris", shop.NewExtra{Job: "heron", Finds: []int{1, 1}, Hours: f64(6)}, want{shop.OutOfRange, "finds", "1 twice"}},
		"a find of another":   {"idris", shop.NewExtra{Job: "tern", Finds: []int{1}, Hours: f64(6)}, want{shop.NotFound, "finds", "1 on tern (it is on heron)"}},
		"a find repaired":     {"idris", shop.NewExtra{Job: "osmere", Finds: []int{4}, Hours: f64(6)}, want{shop.AlreadyDone, "", "find 4"}},
		"too many finds":      {"idris", shop.NewExtra{Job: "heron", Finds: make([]int, 21), Hours: f64(6)}, want{shop.OutOfRange, "finds", "at most 20"}},
		"hours below nought":  {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Hours: f64(-1)}, want{shop.OutOfRange, "hours", "0 to 2000"}},
		"a slip of a digit":   {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Hours: f64(2001)}, want{shop.OutOfRange, "hours", "0 to 2000"}},
		"parts below nought":  {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Parts: f64(-1)}, want{shop.OutOfRange, "parts_cost", "0 to 1000000"}},
		"materials too dear":  {"idris", shop.NewExtra{Job: "heron", Text: "new carpets", Materials: f64(1_000_001)}, want{shop.OutOfRange, "materials_cost", ""}},
		"an apprentice":       {"jonah", shop.NewExtra{}, want{shop.NotAllowed, "", "tradesperson"}},
		"a stranger":          {"bo", shop.NewExtra{}, want{shop.UnknownPerson, "", ""}},
		"a place that is bad": {"wren", shop.NewExtra{Job: "heron", Text: "new carpets", Hours: f64(6), Finds: []int{0}}, want{shop.NotFound, "finds", "0"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := d.DecideProposal(c.by, c.r)
			refusedAs(t, c.want, err)
		})
	}
}

func TestAnExtraIsPricedByTheRateOfItsDay(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	// Worked by hand: 12.5 × 52 + 410 + 36.25 = 1096.25.
	n := d.as("idris")(d.DecideProposal("idris", shop.NewExtra{
		Job: "heron", Finds: []int{1, 2}, Hours: f64(12.5), Parts: f64(410), Materials: f64(36.25), HoursFrom: "advice",
	}))
	x := d.extra(3)
	assert.Equal(t, shop.Extra{
		ExtraProposed: shop.ExtraProposed{
			Number: 3, Job: "heron", Hours: 12.5, Parts: 410, Materials: 36.25, State: shop.Proposed, Rate: 52, Finds: []int{1, 2},
			Text:  "hole in the left sill, 180 × 60 mm, behind an old plate; old repair in the left rear wing, 420 × 200 mm, plated and filled",
			Stage: shop.Metal, HoursFrom: "advice",
		},
		Said: shop.Said{Entry: n, By: "idris", At: tuesday}, Price: 1096.25,
		History: []shop.ExtraStep{{State: shop.Proposed, Said: shop.Said{Entry: n, By: "idris", At: tuesday}}}, Entries: []uint64{n},
	}, x)

	put(t, d.State, shop.ShopOpened{Name: "Millrace Coachworks", Currency: "GBP", LabourRate: 60})
	assert.InDelta(t, 1096.25, d.extra(3).Price, 0, "a new rate is for new extras")
	assert.InDelta(t, 22*60+410, d.extra(2).Price, 0, "one that came with none takes the shop's")

	dec, err := d.DecideProposal("idris", shop.NewExtra{Job: "heron", Text: "the sill again", Finds: []int{1}, Hours: f64(1)})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"Find 1 may be in extra 1, replace left sill rather than patch, which is agreed.",
		"Find 1 is in extra 3 too, which is proposed.",
		"Find 1 may be in task 2 replace the left sill, which is not done.",
	}, dec.Warnings)
	dec, err = d.DecideProposal("idris", shop.NewExtra{Job: "heron", Text: "Let in left rear wing", Hours: f64(1)})
	require.NoError(t, err)
	assert.Equal(t, []string{"Extra 2 says the same and is proposed."}, dec.Warnings, "the task that waits for it is no other work")
	d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Number: count(2), Agreed: no()}))
	dec, err = d.DecideProposal("idris", shop.NewExtra{Job: "heron", Finds: []int{3}, Hours: f64(1)})
	require.NoError(t, err)
	assert.Empty(t, dec.Warnings, "nothing is about the front valance")
	dec, err = d.DecideProposal("idris", shop.NewExtra{Job: "heron", Text: "let in the left rear wing", Hours: f64(1)})
	require.NoError(t, err)
	assert.Empty(t, dec.Warnings, "what was declined may be asked again")
	put(t, d.State, shop.ShopOpened{Name: "Millrace Coachworks", Currency: "GBP"})
	dec, err = d.DecideProposal("idris", shop.NewExtra{Job: "heron", Text: "new carpets", Hours: f64(1)})
	require.NoError(t, err)
	assert.Contains(t, dec.Warnings, "The shop has no labour rate, so the hours cost nothing here.")
}

func TestWhichExtraIsDecided(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.as("idris")(d.DecideProposal("idris", shop.NewExtra{Job: "heron", Text: "new carpets in the rear", Hours: f64(6)}))
	d.as("idris")(d.DecideProposal("idris", shop.NewExtra{Job: "tern", Text: "tinted glass", Parts: f64(300)}))
	for name, c := range map[string]struct {
		by     string
		r      shop.NewDecision
		number int
		want   want
	}{
		"by number":               {"wren", shop.NewDecision{Number: count(2), Agreed: yes()}, 2, want{}},
		"by number and job":       {"wren", shop.NewDecision{Job: "heron", Number: count(2), Agreed: no()}, 2, want{}},
		"on another job":          {"wren", shop.NewDecision{Job: "tern", Number: count(2), Agreed: yes()}, 0, want{shop.NotFound, "extra", "2 on tern (it is on heron)"}},
		"no such number":          {"wren", shop.NewDecision{Number: count(9), Agreed: yes()}, 0, want{shop.NotFound, "extra", "9"}},
		"not what":                {"wren", shop.NewDecision{Number: count(2)}, 0, want{shop.MissingField, "agreed", ""}},
		"agreed already":          {"wren", shop.NewDecision{Number: count(1), Agreed: yes()}, 0, want{shop.AlreadyDone, "", "extra 1 is agreed"}},
		"by its words":            {"wren", shop.NewDecision{Job: "heron", Text: "the carpets", Agreed: yes()}, 3, want{}},
		"words of two":            {"wren", shop.NewDecision{Job: "heron", Text: "the rear", Agreed: yes()}, 0, want{shop.Ambiguous, "extra", "2,3"}},
		"words of one decided":    {"wren", shop.NewDecision{Job: "heron", Text: "replacing the sill", Agreed: no()}, 0, want{shop.AlreadyDone, "", "say its number"}},
		"a waiting one before it": {"wren", shop.NewDecision{Job: "heron", Text: "the left", Agreed: yes()}, 2, want{}},
		"words of none":           {"wren", shop.NewDecision{Job: "heron", Text: "the roof", Agreed: yes()}, 0, want{shop.NotFound, "extra", "roof"}},
		"the one that waits":      {"wren", shop.NewDecision{Job: "tern", Agreed: no()}, 4, want{}},
		"one of two that wait":    {"wren", shop.NewDecision{Job: "heron", Agreed: yes()}, 0, want{shop.Ambiguous, "extra", "2,3"}},
		"none on the job":         {"wren", shop.NewDecision{Job: "pilot", Agreed: yes()}, 0, want{shop.NotFound, "extra", "pilot"}},
		"nothing said":            {"wren", shop.NewDecision{Agreed: yes()}, 0, want{shop.MissingField, "job", ""}},
		"a tradesperson":          {"idris", shop.NewDecision{}, 0, want{shop.NotAllowed, "", "lead"}},
		"a stranger":              {"bo", shop.NewDecision{}, 0, want{shop.UnknownPerson, "", ""}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dec, err := d.DecideDecision(c.by, c.r)
			refusedAs(t, c.want, err)
			if c.number > 0 {
				e, _ := dec.Event.(shop.ExtraDecided)
				assert.Equal(t, c.number, e.Number)
			}
		})
	}
}

func TestOneThatIsDeclinedMayBeAgreedLater(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	first := d.extra(2).History[0]
	declined := d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Job: "heron", Agreed: no()}))
	assert.Equal(t, shop.Declined, d.extra(2).State)
	_, err := d.DecideDecision("wren", shop.NewDecision{Job: "heron", Agreed: yes()})
	refusedAs(t, want{shop.AlreadyDone, "", "no extra of heron waits"}, err)

	dec, err := d.DecideDecision("wren", shop.NewDecision{Number: count(2), Agreed: yes()})
	assert.Equal(t, []string{"Extra 2 was declined on 2026-03-10; it is agreed now."}, dec.Warnings)
	agreed := d.as("wren")(dec, err)
	x := d.extra(2)
	assert.Equal(t, []shop.ExtraStep{
		first,
		{State: shop.Declined, Said: shop.Said{Entry: declined, By: "wren", At: tuesday}},
		{State: shop.Agreed, Said: shop.Said{Entry: agreed, By: "wren", At: tuesday}},
	}, x.History)
	assert.Equal(t, []uint64{first.Entry, declined, agreed}, x.Entries)
	// Worked by hand: extra 1 is 10 × 52, extra 2 is 22 × 52 + 410.
	assert.InDelta(t, 520+1554, d.AgreedExtras("heron"), 0)

	d.as("wren")(d.DecideUndo("wren", agreed))
	assert.Equal(t, shop.Declined, d.extra(2).State)
	d.as("wren")(d.DecideUndo("wren", declined))
	assert.Equal(t, shop.Proposed, d.extra(2).State)
	assert.InDelta(t, 520, d.AgreedExtras("heron"), 0)
}

func TestExtrasAreListedByWhatWasDecided(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for state, numbers := range map[string][]int{"": {1, 2}, shop.Proposed: {2}, shop.Agreed: {1}, shop.Declined: nil} {
		found, err := d.Extras(shop.ExtraFilter{Job: "heron", State: state})
		require.NoError(t, err)
		var got []int
		for _, x := range found {
			got = append(got, x.Number)
		}
		assert.Equal(t, numbers, got, state)
	}
	_, err := d.Extras(shop.ExtraFilter{Job: "linnet"})
	refusedAs(t, want{shop.UnknownName, "job", "heron"}, err)
	status, err := d.Status("heron", d.now)
	require.NoError(t, err)
	assert.Equal(t, []string{"extra 2: let in the left rear wing, 22 hours"}, status.Extras)
	d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Number: count(2), Agreed: yes()}))
	status, err = d.Status("heron", d.now)
	require.NoError(t, err)
	assert.Empty(t, status.Extras)
}

func TestAnExtraIsMendedByTheRulesThatMadeIt(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	n := d.as("idris")(d.DecideProposal("idris", shop.NewExtra{Job: "heron", Finds: []int{1}, Hours: f64(4), HoursFrom: "advice"}))
	dec := d.change("idris", n, shop.Changes{Hours: f64(5), PartsCost: f64(30), MaterialsCost: f64(12)})
	assert.Equal(t, []string{"hours 4 -> 5", "parts_cost 0 -> 30", "materials_cost 0 -> 12"}, dec.Changes)
	assert.InDelta(t, 5*52+30+12, d.extra(3).Price, 0)
	assert.Empty(t, d.extra(3).HoursFrom, "they are said now")

	d.as("idris")(d.DecideClosing("idris", shop.Closing{Number: count(1)}))
	d.change("idris", n, shop.Changes{Hours: f64(6)})
	assert.Equal(t, []int{1}, d.extra(3).Finds, "a find that is repaired since stays")
	_, err := d.DecideAmend("idris", d.now, n, shop.Changes{Finds: []int{1, 3}})
	refusedAs(t, want{shop.AlreadyDone, "", "find 1"}, err)
	dec = d.change("idris", n, shop.Changes{Finds: []int{3}})
	assert.Equal(t, "dent in the centre front valance, 90 × 90 mm", d.extra(3).Text, "the finds' own words follow the finds")
	assert.Contains(t, dec.Changes, "finds 1 -> 3")
	_, err = d.DecideAmend("idris", d.now, n, shop.Changes{Job: "tern"})
	refusedAs(t, want{shop.NotFound, "finds", "it is on heron"}, err)
	_, err = d.DecideAmend("idris", d.now, n, shop.Changes{Hours: f64(2001)})
	refusedAs(t, want{shop.OutOfRange, "hours", ""}, err)

	said := d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Number: count(3), Agreed: yes()}))
	dec = d.change("idris", n, shop.Changes{Hours: f64(7)})
	assert.Equal(t, []string{"Extra 3 was agreed at 354 GBP: tell the customer that it is 406 now."}, dec.Warnings)
	dec = d.change("idris", n, shop.Changes{Text: "beat out the front valance"})
	assert.Empty(t, dec.Warnings, "the price is the same")
	_, err = d.DecideUndo("idris", n)
	refusedAs(t, want{shop.InUse, "", "extra 3"}, err)

	dec = d.change("wren", said, shop.Changes{Agreed: no()})
	assert.Equal(t, []string{"agreed true -> false"}, dec.Changes)
	assert.Equal(t, shop.Declined, d.extra(3).State)
	dec = d.change("wren", said, shop.Changes{Extra: count(2), Agreed: yes()})
	assert.Equal(t, []string{"extra 3 -> 2", "agreed false -> true"}, dec.Changes)
	assert.Equal(t, shop.Proposed, d.extra(3).State)
	assert.Equal(t, shop.Agreed, d.extra(2).State)
	_, err = d.DecideAmend("wren", d.now, said, shop.Changes{Extra: count(1)})
	refusedAs(t, want{shop.AlreadyDone, "", "extra 1 is agreed"}, err)
	_, err = d.DecideAmend("idris", d.now, said, shop.Changes{Agreed: no()})
	refusedAs(t, want{shop.NotAllowed, "", "lead"}, err)
}
