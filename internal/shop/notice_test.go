package shop_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

// at is a local moment.
func (d *desk) at(text string) time.Time {
	d.t.Helper()
	at, err := time.ParseInLocation("2006-01-02T15:04", text, d.now.Location())
	require.NoError(d.t, err)
	return at
}

// due gives the ids of what is to be told at a moment, and when the next is.
func (d *desk) due(at time.Time) (ids []string, next string) {
	d.t.Helper()
	due, then := d.Due(d.Planned(at), at)
	for _, n := range due {
		ids = append(ids, n.ID)
	}
	return ids, d.Local(then)
}

// sent keeps all that is due as told.
func (d *desk) sent(at time.Time) {
	d.t.Helper()
	due, _ := d.Due(d.Planned(at), at)
	for _, n := range due {
		dec, err := d.DecideSent(n.ID, d.Planned(at), at)
		d.as("")(dec, err)
	}
}

// The demo shop on Tuesday 2026-03-10: the door seal set was due on the 6th, the
// rear wing panel is on Thursday the 12th and the propshaft on the 19th; extra 2
// waits.
func TestTheMorningsNoteTellsWhatIsLateDueAndWaiting(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for _, c := range []struct {
		at   string
		due  []string
		next string
	}{
		{"2026-03-10T07:59", nil, "2026-03-10T08:00"},
		{"2026-03-10T08:00", []string{"morning-2026-03-10-wren"}, "2026-03-11T08:00"},
		{"2026-03-10T23:59", []string{"morning-2026-03-10-wren"}, "2026-03-11T08:00"},
		{"2026-03-11T00:00", nil, "2026-03-11T08:00"},
		{"2026-03-12T09:00", []string{"part-1-2026-03-12", "morning-2026-03-12-wren"}, "2026-03-13T08:00"},
		{"2026-03-13T09:00", []string{"morning-2026-03-13-wren"}, "2026-03-16T08:00"},
		{"2026-03-14T09:00", nil, "2026-03-16T08:00"},
		{"2026-03-15T09:00", nil, "2026-03-16T08:00"},
		{"2026-03-30T08:00", []string{"morning-2026-03-30-wren"}, "2026-03-31T08:00"}, // the clocks went forward
	} {
		ids, next := d.due(d.at(c.at))
		assert.Equal(t, c.due, ids, c.at)
		assert.Equal(t, c.next, next, c.at)
	}
	morning := func(at string) shop.Notice {
		due, _ := d.Due(d.Planned(d.at(at)), d.at(at))
		require.NotEmpty(t, due)
		return due[len(due)-1]
	}
	n := morning("2026-03-12T08:00")
	assert.Equal(t, shop.NoticeMorning, n.Kind)
	assert.Equal(t, "wren", n.Person)
	assert.Equal(t, shop.Direct, n.Channel)
	require.Len(t, n.Parts, 1)
	assert.Equal(t, "door seal set", n.Parts[0].Part)
	require.Len(t, n.Due, 1)
	assert.Equal(t, "rear wing panel", n.Due[0].Part)
	require.Len(t, n.Waiting, 1)
	n = morning("2026-03-13T08:00")
	assert.Len(t, n.Parts, 2, "what is late is told again each morning")
	assert.Empty(t, n.Due)

	put(t, d.State, shop.PersonAdded{ID: "mabel", Name: "Mabel", Role: shop.Lead})
	ids, _ := d.due(d.at("2026-03-10T08:00"))
	assert.Equal(t, []string{"morning-2026-03-10-wren", "morning-2026-03-10-mabel"}, ids, "to each lead")
}

func TestAMorningWithNothingToTellIsQuiet(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Number: count(2), Agreed: yes()}))
	put(t, d.State, shop.PartArrived{Number: 2, Job: "heron", Quantity: 1})
	ids, next := d.due(d.at("2026-03-10T09:00"))
	assert.Empty(t, ids)
	assert.Equal(t, "2026-03-12T08:00", next, "the rear wing panel's day")
	put(t, d.State, shop.PartArrived{Number: 1, Job: "heron", Quantity: 1})
	_, next = d.due(d.at("2026-03-10T09:00"))
	assert.Equal(t, "2026-03-19T08:00", next, "the propshaft's")
	put(t, d.State, shop.PartArrived{Number: 3, Job: "pilot", Quantity: 1})
	_, next = d.due(d.at("2026-03-10T09:00"))
	assert.Empty(t, next)
}

func TestAPartIsToldOfOnItsDayInTheJobsChannel(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	at := d.at("2026-03-12T08:00")
	due, _ := d.Due(d.Planned(at), at)
	require.NotEmpty(t, due)
	assert.Equal(t, shop.NoticePartDue, due[0].Kind)
	assert.Equal(t, "bay-2", due[0].Channel)
	assert.Empty(t, due[0].Person)
	assert.Equal(t, "heron", due[0].Job)

	put(t, d.State, shop.ChannelAdded{ID: "bay-2"})
	due, _ = d.Due(d.Planned(at), at)
	assert.Equal(t, shop.Direct, due[0].Channel, "no channel stands for it")
	assert.Equal(t, "wren", due[0].Person)

	ids, _ := d.due(d.at("2026-03-13T00:00"))
	assert.Empty(t, ids, "on its own day alone")
}

func TestAReminderIsSentOnceHoweverLate(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	n := d.remind("jonah", "2026-03-10T16:00", "turn the roof panel")
	id := fmt.Sprintf("reminder-%d-2026-03-10T16:00", n)
	d.sent(d.at("2026-03-10T15:59"))
	ids, next := d.due(d.at("2026-03-10T15:59"))
	assert.Empty(t, ids)
	assert.Equal(t, "2026-03-10T16:00", next)
	_, err := d.DecideSent(id, d.Planned(d.at("2026-03-10T15:59")), d.at("2026-03-10T15:59"))
	refusedAs(t, want{shop.NotFound, "id", id}, err)

	weeks := d.at("2026-04-05T12:00") // a Sunday, after weeks of standing still
	ids, _ = d.due(weeks)
	assert.Equal(t, []string{id}, ids, "late, but sent")
	due, _ := d.Due(d.Planned(weeks), weeks)
	assert.Equal(t, "bay-2", due[0].Channel)
	assert.Equal(t, "jonah", due[0].Person)
	assert.Equal(t, "turn the roof panel", due[0].Text)

	d.sent(weeks)
	ids, _ = d.due(weeks)
	assert.Empty(t, ids)
	_, err = d.DecideSent(id, d.Planned(weeks), weeks)
	refusedAs(t, want{shop.AlreadyDone, "", id}, err)
	d.now = weeks
	d.change("jonah", n, shop.Changes{Text: "turn both panels"})
	ids, _ = d.due(weeks)
	assert.Empty(t, ids, "other words are no new reminder")
	d.change("jonah", n, shop.Changes{At: "2026-04-05T12:05"})
	ids, _ = d.due(weeks.Add(5 * time.Minute))
	assert.Equal(t, []string{fmt.Sprintf("reminder-%d-2026-04-05T12:05", n)}, ids, "another time is")
}

func TestWhatIsNoNoticeIsNotSent(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for id, w := range map[string]want{
		"":                         {shop.MissingField, "id", ""},
		"reminder-1":               {shop.NotFound, "id", "reminder-1"},
		"morning-2026-03-11-wren":  {shop.NotFound, "id", "2026-03-11"}, // not yet
		"morning-2026-03-10-idris": {shop.NotFound, "id", "idris"},      // no lead
		"morning-2026-03-10-wren":  {},
		"morning-2026-03-09-wren":  {}, // told before midnight, kept after
	} {
		_, err := d.DecideSent(id, d.Planned(d.now), d.now)
		refusedAs(t, w, err)
	}
}

// What was sent is in the snapshot and in a replay alike.
func TestWhatWasSentIsKept(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.remind("jonah", "2026-03-10T10:20", "turn the roof panel")
	late := d.at("2026-03-10T10:30")
	d.sent(late)
	d.remind("jonah", "2026-03-10T10:25", "and again")
	data, err := d.Snapshot()
	require.NoError(t, err)
	back, err := shop.Restore(data)
	require.NoError(t, err)
	same, how := shop.Equal(d.State, back)
	require.True(t, same, how)
	d.State = back
	ids, next := d.due(late)
	assert.Equal(t, []string{fmt.Sprintf("reminder-%d-2026-03-10T10:25", back.Seq())}, ids)
	assert.Equal(t, "2026-03-11T08:00", next)

	// One that is folded and reverted leaves no trace.
	change, err := back.Apply(shop.Meta{Seq: back.Seq() + 1, At: tuesday}, shop.NoticeSent{ID: ids[0]})
	require.NoError(t, err)
	assert.True(t, back.Sent(ids[0]))
	back.Revert(change)
	assert.False(t, back.Sent(ids[0]))
}
