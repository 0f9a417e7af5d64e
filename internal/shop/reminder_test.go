package shop_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func TestWhatAReminderNeeds(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for name, c := range map[string]struct {
		by   string
		r    shop.NewReminder
		want want
	}{
		"this afternoon":     {"jonah", shop.NewReminder{At: "2026-03-10T16:00", Text: "turn the roof panel"}, want{}},
		"in a minute":        {"jonah", shop.NewReminder{At: "2026-03-10T10:16", Text: "turn the roof panel"}, want{}},
		"in two years":       {"jonah", shop.NewReminder{At: "2028-03-10T10:15", Text: "turn the roof panel"}, want{}},
		"no time":            {"jonah", shop.NewReminder{Text: "turn the roof panel"}, want{shop.MissingField, "at", ""}},
		"no text":            {"jonah", shop.NewReminder{At: "2026-03-10T16:00", Text: " "}, want{shop.MissingField, "text", ""}},
		"now":                {"jonah", shop.NewReminder{At: "2026-03-10T10:15", Text: "turn it"}, want{shop.OutOfRange, "at", "after 2026-03-10T10:15"}},
		"yesterday":          {"jonah", shop.NewReminder{At: "2026-03-09T16:00", Text: "turn it"}, want{shop.OutOfRange, "at", "after 2026-03-10T10:15"}},
		"a slip of the year": {"jonah", shop.NewReminder{At: "2028-03-10T10:16", Text: "turn it"}, want{shop.OutOfRange, "at", "up to 2028-03-10T10:15"}},
		"not a time":         {"jonah", shop.NewReminder{At: "teatime", Text: "turn it"}, want{shop.OutOfRange, "at", "teatime"}},
		"no such job":        {"jonah", shop.NewReminder{At: "2026-03-10T16:00", Text: "turn it", Job: "linnet"}, want{shop.UnknownName, "job", "heron"}},
		"a stranger":         {"bo", shop.NewReminder{}, want{shop.UnknownPerson, "", ""}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := d.DecideReminder(c.by, d.now, c.r)
			refusedAs(t, c.want, err)
		})
	}
}

func TestAReminderIsAtTheShopsTime(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.now = time.Date(2026, 7, 10, 9, 0, 0, 0, time.UTC).In(d.now.Location())
	dec, err := d.DecideReminder("jonah", d.now, shop.NewReminder{At: "2026-07-10T16:00", Text: "turn the roof panel", Channel: "bay-2"})
	require.NoError(t, err)
	assert.Equal(t, shop.ReminderSet{At: time.Date(2026, 7, 10, 15, 0, 0, 0, time.UTC), Text: "turn the roof panel", Channel: "bay-2"}, dec.Event)
	dec, err = d.DecideReminder("jonah", d.now, shop.NewReminder{At: "2026-07-10T16:00", Text: "turn the roof panel"})
	require.NoError(t, err)
	e, _ := dec.Event.(shop.ReminderSet)
	assert.Equal(t, shop.Direct, e.Channel)
}

// remind sets a reminder at a local time.
func (d *desk) remind(by, at, text string) uint64 {
	d.t.Helper()
	return d.as(by)(d.DecideReminder(by, d.now, shop.NewReminder{At: at, Text: text, Channel: "bay-2"}))
}

func (d *desk) reminders() []string {
	var texts []string
	for _, r := range d.Reminders() {
		texts = append(texts, d.Local(r.At())+" "+r.Text)
	}
	return texts
}

func TestTheNextReminderComesFirst(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.remind("jonah", "2026-03-10T16:00", "turn the roof panel")
	soon := d.remind("mabel", "2026-03-10T11:00", "flip the bonnet")
	assert.Equal(t, []string{"2026-03-10T11:00 flip the bonnet", "2026-03-10T16:00 turn the roof panel"}, d.reminders())
	put(t, d.State, shop.NoticeSent{ID: fmt.Sprintf("reminder-%d-2026-03-10T11:00", soon)})
	assert.Equal(t, []string{"2026-03-10T16:00 turn the roof panel"}, d.reminders(), "one that was sent is over")
}

func TestAReminderIsPutOffAndTakenBack(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	n := d.remind("jonah", "2026-03-10T16:00", "turn the roof panel")
	dec := d.change("jonah", n, shop.Changes{At: "2026-03-10T16:30", Job: "osmere"})
	assert.Equal(t, []string{"at 2026-03-10T16:00 -> 2026-03-10T16:30", "job - -> osmere"}, dec.Changes)
	assert.Equal(t, []string{"2026-03-10T16:30 turn the roof panel"}, d.reminders())
	_, err := d.DecideAmend("jonah", d.now, n, shop.Changes{At: "2026-03-10T09:00"})
	refusedAs(t, want{shop.OutOfRange, "at", "after"}, err)

	d.now = d.now.Add(8 * time.Hour)
	dec = d.change("jonah", n, shop.Changes{Text: "turn both panels"})
	assert.Equal(t, []string{"text turn the roof panel -> turn both panels"}, dec.Changes, "its time is not judged again")
	_, err = d.DecideAmend("jonah", d.now, n, shop.Changes{Job: "linnet"})
	refusedAs(t, want{shop.UnknownName, "job", "heron"}, err)
	d.as("jonah")(d.DecideUndo("jonah", n))
	assert.Empty(t, d.reminders())
}
