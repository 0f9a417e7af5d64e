package shop_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

// desk is the demo shop on a Tuesday in London.
type desk struct {
	*shop.State
	t   testing.TB
	now time.Time
}

func newDesk(t testing.TB) *desk { return &desk{coats(t), t, london(t)} }

// as folds what a person was allowed to do, and gives the entry.
func (d *desk) as(by string) func(shop.Decision, error) uint64 {
	return func(dec shop.Decision, err error) uint64 {
		d.t.Helper()
		require.NoError(d.t, err)
		_, err = d.Apply(shop.Meta{Seq: d.Seq() + 1, Person: by, At: d.now}, dec.Event)
		require.NoError(d.t, err)
		return d.Seq()
	}
}

// change amends a record as its author or a lead.
func (d *desk) change(by string, entry uint64, c shop.Changes) shop.Decision {
	d.t.Helper()
	dec, err := d.DecideAmend(by, d.now, entry, c)
	d.as(by)(dec, err)
	return dec
}

// want is a refusal that is expected.
type want struct {
	reason      shop.Reason
	field, text string // text is part of what was tried, accepted or said
}

// refusedAs holds that an error is the refusal wanted; none for the zero want.
func refusedAs(t *testing.T, w want, err error) {
	t.Helper()
	if w.reason == 0 {
		require.NoError(t, err)
		return
	}
	var r *shop.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	assert.Equal(t, w.reason, r.Reason, "%v", err)
	assert.Equal(t, w.field, r.Metadata["field"])
	m := r.Metadata
	assert.Contains(t, m["value"]+" "+m["accepted"]+" "+m["what"]+" "+m["options"]+" "+m["needs"], w.text)
}

func (d *desk) brief(job string) []shop.BriefLine {
	d.t.Helper()
	lines, err := d.Brief(job)
	require.NoError(d.t, err)
	return lines
}

func TestLinesThatCameWithTheJobCountFirst(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	came := d.brief("osmere")
	require.Len(t, came, 2)
	assert.Equal(t, "Respray in the original harbour blue over white roof", came[1].Text)
	assert.True(t, came[1].Said.At.IsZero(), "it came with the job")
	assert.Equal(t, []uint64{came[1].Entry}, came[1].Entries, "the job's own entry")

	entry := d.as("idris")(d.DecideBrief("idris", shop.NewBrief{Job: "osmere", Text: " A heated rear screen "}))
	lines := d.brief("osmere")
	require.Len(t, lines, 3)
	assert.Equal(t, shop.BriefLine{
		Number: 3, Text: "A heated rear screen", Said: shop.Said{Entry: entry, By: "idris", At: tuesday}, Entries: []uint64{entry},
	}, lines[2])
	assert.Len(t, d.brief("heron"), 4, "another job's is its own")
}

func TestWhatABriefNeeds(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for name, c := range map[string]struct {
		by   string
		r    shop.NewBrief
		want want
	}{
		"all of it":        {"idris", shop.NewBrief{Job: "osmere", Text: "a tow bar"}, want{}},
		"no job":           {"idris", shop.NewBrief{Text: "a tow bar"}, want{shop.MissingField, "job", ""}},
		"no text":          {"idris", shop.NewBrief{Job: "osmere", Text: " "}, want{shop.MissingField, "text", ""}},
		"no such job":      {"idris", shop.NewBrief{Job: "linnet", Text: "a tow bar"}, want{shop.UnknownName, "job", "osmere"}},
		"the same again":   {"idris", shop.NewBrief{Job: "osmere", Text: "sills, floors  and spring hangers made sound."}, want{shop.AlreadyExists, "text", "(line 1)"}},
		"an apprentice":    {"jonah", shop.NewBrief{}, want{shop.NotAllowed, "", "tradesperson"}},
		"a stranger":       {"bo", shop.NewBrief{}, want{shop.UnknownPerson, "", ""}},
		"on another job":   {"idris", shop.NewBrief{Job: "tern", Text: "Sills, floors and spring hangers made sound"}, want{}},
		"the lead adds to": {"wren", shop.NewBrief{Job: "tern", Text: "a radio"}, want{}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := d.DecideBrief(c.by, c.r)
			refusedAs(t, c.want, err)
		})
	}
}

func TestALineIsMetOnce(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	met := d.as("idris")(d.DecideBriefMet("idris", shop.NewBriefMet{Job: "heron", Text: "disc brakes fitted at the front"}))
	line := d.brief("heron")[2]
	assert.True(t, line.Met)
	assert.Equal(t, "disc brakes fitted at the front", line.How)
	assert.Equal(t, shop.Said{Entry: met, By: "idris", At: tuesday}, line.MetBy)
	assert.Equal(t, []uint64{line.Entry, met}, line.Entries)

	for name, c := range map[string]struct {
		by   string
		r    shop.NewBriefMet
		want want
	}{
		"by number":             {"mabel", shop.NewBriefMet{Job: "heron", Line: count(2), Text: "seats retrimmed"}, want{}},
		"no job":                {"mabel", shop.NewBriefMet{Line: count(2), Text: "seats retrimmed"}, want{shop.MissingField, "job", ""}},
		"not how":               {"mabel", shop.NewBriefMet{Job: "heron", Line: count(2)}, want{shop.MissingField, "text", ""}},
		"no such line":          {"mabel", shop.NewBriefMet{Job: "heron", Line: count(5), Text: "done"}, want{shop.NotFound, "line", "5"}},
		"line nought":           {"mabel", shop.NewBriefMet{Job: "heron", Line: count(0), Text: "done"}, want{shop.NotFound, "line", "0"}},
		"no line fits":          {"mabel", shop.NewBriefMet{Job: "heron", Text: "towed home"}, want{shop.NotFound, "line", "towed home"}},
		"met already":           {"mabel", shop.NewBriefMet{Job: "heron", Line: count(3), Text: "done"}, want{shop.AlreadyDone, "", "line 3"}},
		"its words, met":        {"mabel", shop.NewBriefMet{Job: "heron", Text: "front disc brakes bled"}, want{shop.AlreadyDone, "", "line 3"}},
		"two lines fit alike":   {"mabel", shop.NewBriefMet{Job: "heron", Text: "the colour of the seats"}, want{shop.Ambiguous, "line", "1,2"}},
		"an apprentice":         {"jonah", shop.NewBriefMet{}, want{shop.NotAllowed, "", "tradesperson"}},
		"on a job with no such": {"mabel", shop.NewBriefMet{Job: "linnet", Text: "done"}, want{shop.UnknownName, "job", "heron"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := d.DecideBriefMet(c.by, c.r)
			refusedAs(t, c.want, err)
		})
	}
}

func TestABriefIsMendedAndTakenBack(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	added := d.as("idris")(d.DecideBrief("idris", shop.NewBrief{Job: "osmere", Text: "a tow bar"}))
	dec := d.change("idris", added, shop.Changes{Text: "a tow bar that comes off"})
	assert.Equal(t, []string{"text a tow bar -> a tow bar that comes off"}, dec.Changes)
	assert.Equal(t, 3, d.brief("osmere")[2].Number)
	_, err := d.DecideAmend("idris", d.now, added, shop.Changes{Text: "Sills, floors and spring hangers made sound"})
	refusedAs(t, want{shop.AlreadyExists, "text", "line 1"}, err)
	_, err = d.DecideAmend("idris", d.now, added, shop.Changes{Job: "tern"})
	refusedAs(t, want{shop.CannotAmend, "job", ""}, err)

	met := d.as("idris")(d.DecideBriefMet("idris", shop.NewBriefMet{Job: "osmere", Line: count(3), Text: "bolted on"}))
	dec = d.change("idris", met, shop.Changes{Text: "bolted on, and its lights wired"})
	assert.Equal(t, []string{"text bolted on -> bolted on, and its lights wired"}, dec.Changes)
	assert.Equal(t, "bolted on, and its lights wired", d.brief("osmere")[2].How)

	_, err = d.DecideUndo("idris", added)
	refusedAs(t, want{shop.InUse, "", "brief, line 3"}, err)
	d.as("idris")(d.DecideUndo("idris", met))
	assert.False(t, d.brief("osmere")[2].Met)
	d.as("idris")(d.DecideUndo("idris", added))
	assert.Len(t, d.brief("osmere"), 2)
	again := d.as("idris")(d.DecideBrief("idris", shop.NewBrief{Job: "osmere", Text: "a roof rack"}))
	assert.Equal(t, shop.Said{Entry: again, By: "idris", At: tuesday}, d.brief("osmere")[2].Said, "one more than those that stand")
}
