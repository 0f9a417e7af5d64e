package service_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestAReminderIsSentWhereItWasAskedFor(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	reminders := pb.NewReminderServiceClient(b.conn)
	remind := func(person, channel, at, text, job string) *pb.Reminder {
		o := b.by(person)
		o.Channel = channel
		resp, err := reminders.Remind(t.Context(), &pb.RemindRequest{Origin: o, RequestId: b.id(), At: at, Text: text, Job: job})
		require.NoError(t, err)
		return resp.Reminder
	}
	later := remind("jonah", "bay-3", "2026-03-10T16:00", "turn the roof panel", "osmere")
	assert.Equal(t, "bay-3", later.Channel)
	assert.Equal(t, "2026-03-10T16:00", later.At)
	sooner := remind("mabel", "", "2026-03-10T11:00", "flip the bonnet", "")
	assert.Equal(t, "dm", sooner.Channel)

	list := func(r *pb.ListRemindersRequest) []uint64 {
		r.Origin = b.by("jonah")
		resp, err := reminders.ListReminders(t.Context(), r)
		require.NoError(t, err)
		var entries []uint64
		for _, x := range resp.Reminders {
			entries = append(entries, x.Entry)
		}
		return entries
	}
	assert.Equal(t, []uint64{sooner.Entry, later.Entry}, list(&pb.ListRemindersRequest{}))
	assert.Equal(t, []uint64{later.Entry}, list(&pb.ListRemindersRequest{Job: "osmere"}))
	assert.Equal(t, []uint64{sooner.Entry}, list(&pb.ListRemindersRequest{Person: "mabel"}))

	changed, err := b.amend("jonah", &pb.AmendRequest{At: "2026-03-10T16:30"})
	require.NoError(t, err)
	assert.Equal(t, "2026-03-10T16:30", changed.Now.GetReminder().Reminder.At)
	back, err := b.undo("jonah", 0)
	require.NoError(t, err)
	assert.Equal(t, "turn the roof panel", back.Undone.GetReminder().Reminder.Text)
	assert.Equal(t, []uint64{sooner.Entry}, list(&pb.ListRemindersRequest{}))
}

func TestAReminderForSomebodyElseIsTheirs(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	reminders := pb.NewReminderServiceClient(b.conn)
	remind := func(who string) (*pb.RemindResponse, error) {
		o := b.by("wren")
		o.Channel = "dm"
		return reminders.Remind(t.Context(), &pb.RemindRequest{Origin: o, RequestId: b.id(), At: "2026-03-10T16:00", Text: "sweep up", Who: who})
	}
	got, err := remind("jonah")
	require.NoError(t, err)
	assert.Equal(t, "jonah", got.Reminder.Who)
	b.now = b.now.Add(8 * time.Hour)
	due, err := pb.NewNoticeServiceClient(b.conn).ListNotices(t.Context(), &pb.ListNoticesRequest{})
	require.NoError(t, err)
	at := slices.IndexFunc(due.Notices, func(n *pb.Notice) bool { return n.Kind == pb.NoticeKind_NOTICE_KIND_REMINDER })
	require.GreaterOrEqual(t, at, 0)
	assert.Equal(t, "jonah", due.Notices[at].Person, "it goes to whom it is for")
	_, err = remind("nobody")
	assert.Equal(t, "UNKNOWN_NAME", info(t, err).Reason)
}
