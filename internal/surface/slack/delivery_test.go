package slack

import (
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/surface/slack/slackfake"
)

func TestSilentConnectionIsBegunAnew(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.pace.quiet = 300 * time.Millisecond
	r.fake.Mute(2)
	r.start()
	r.say("wheel nuts done 81")
	r.posts(bay2, 1)
}

func TestWhatCannotBeStoredIsNotAcknowledged(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.AckWait = 50 * time.Millisecond
	require.NoError(t, r.box.Close())
	r.say("wheel nuts done 81")
	r.eventually(func() bool { return len(r.fake.Lost()) == 1 }, "the platform was never told that it is safe")
	attempts := []int{}
	for _, e := range r.fake.Sent() {
		attempts = append(attempts, e.Attempt)
	}
	assert.Equal(t, []int{0, 1, 2, 3}, attempts)
}

func TestRefreshOfAConnectionLosesNothing(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.AckWait = 500 * time.Millisecond
	want := []string{}
	for i := range 30 {
		if i%5 == 2 {
			r.fake.Refresh([]string{"warning", "refresh_requested"}[i/5%2])
		}
		text := fmt.Sprint("line ", i)
		want = append(want, text)
		r.say(text)
	}
	r.posts(bay2, len(want))
	assert.ElementsMatch(t, want, r.hand.texts())
	assert.Empty(t, r.fake.Lost())
}

func TestGapIsReadFromTheHistory(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "before the bot was ever there", Silent: true})
	r.fake.Advance(time.Minute)
	r.start()
	head := r.say("while it listens")
	r.posts(bay2, 1)
	r.fake.Offline(true)
	lost := slackfake.Said{Channel: bay2, User: idris, Silent: true}
	for _, text := range []string{"in the gap", "also in the gap"} {
		lost.Text = text
		r.fake.Say(lost)
	}
	lost.Text, lost.Thread = "in the thread, in the gap", head
	r.fake.Say(lost)
	r.fake.EditSilently(bay2, head, "while it listens, edited in the gap")
	lost.Thread, lost.Channel, lost.Text = "", dm, "direct, in the gap"
	r.fake.Say(lost)
	r.fake.Offline(false)
	r.eventually(func() bool { return len(r.hand.got()) == 6 }, "everything is found")
	r.posts(bay2, 4) // the edit updates the post of its message
	r.posts(dm, 1)
	assert.ElementsMatch(t, []string{
		"while it listens", "in the gap", "also in the gap", "in the thread, in the gap",
		"while it listens, edited in the gap", "direct, in the gap",
	}, r.hand.texts())

	// The same again, by the next start: nothing is new.
	r.stop()
	r.start()
	r.say("after")
	r.posts(bay2, 5)
	assert.Len(t, r.hand.got(), 7)
}

func TestEditFoundInTheHistoryIsNoNewsAfterwards(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Offline(true)
	ts := r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "ns sill 120", Silent: true})
	late := r.fake.EditSilently(bay2, ts, "ns sill 130")
	r.fake.Offline(false)
	r.posts(bay2, 1)
	r.eventually(func() bool { return r.fake.Links() == 2 }, "connected again")
	r.fake.Event(late)
	r.settle()
	assert.Equal(t, []string{"ns sill 130"}, r.hand.texts())
}

func TestWhatTheInboxHasForgottenIsNotHeardAgain(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.say("wheel nuts done 81")
	r.posts(bay2, 1)
	r.stop()
	r.fake.Advance(25 * time.Hour)
	n, err := r.box.Sweep(r.fake.Now())
	require.NoError(t, err)
	assert.Equal(t, 1, n)
	r.start()
	r.posts(bay2, 1)
}

func TestHistoryIsReadPageByPage(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.say("first")
	r.posts(bay2, 1)
	r.stop()
	for i := range pageSize + 10 {
		r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "chatter", Client: fmt.Sprint("c", i), Silent: true})
	}
	r.fake.RateLimit("conversations.history", 1, 1)
	r.start()
	r.eventually(func() bool { return len(r.hand.got()) == pageSize+11 }, "all pages")
	for i, m := range r.hand.got()[1:] {
		assert.True(t, i == 0 || m.At.After(r.hand.got()[i].At), "in order")
	}
}

func TestStoppedBetweenInboxAndHandler(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	var calls atomic.Int32
	entered, leave := make(chan struct{}), make(chan struct{})
	r.hand.before = func(surface.Message) {
		if calls.Add(1) == 1 {
			close(entered)
			<-leave
		}
	}
	r.hand.away(true)
	r.start()
	r.say("ns chassis leg is through")
	<-entered // it is in the inbox and acknowledged, and not handled
	r.eventually(func() bool { return r.fake.Unacked() == 0 }, "acknowledged")
	go close(leave)
	r.stop()
	assert.Empty(t, r.hand.got())
	r.hand.away(false)
	r.start()
	r.posts(bay2, 1)
	assert.Equal(t, []string{"ns chassis leg is through"}, r.hand.texts())
}

func TestOrderWithinAChannelSurvivesAnOutage(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.hand.away(true)
	want := []string{}
	for i := range 5 {
		text := fmt.Sprint("line ", i)
		want = append(want, text)
		r.say(text)
	}
	r.eventually(func() bool { return r.hand.tries() > 6 }, "it is tried again and again")
	require.NotEmpty(t, r.fake.Notices(), "the person is told")
	assert.Equal(t, idris, r.fake.Notices()[0].User)
	r.hand.away(false)
	r.posts(bay2, 5)
	assert.Equal(t, want, r.hand.texts())
	assert.Len(t, r.fake.Notices(), 1, "told once, and alone")
}

func TestPanicOfTheHandlerHoldsUpNobody(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.say("panic")
	r.say("after it")
	r.posts(bay2, 1)
	require.Len(t, r.fake.Notices(), 1)
	assert.Equal(t, idris, r.fake.Notices()[0].User)
}

func TestTooManyPostsWaitTheirTime(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.RateLimit("chat.postMessage", 1, 1)
	r.say("one")
	r.say("two")
	posts := r.posts(bay2, 2)
	assert.Equal(t, "heard: one", posts[0].Text)
	assert.Equal(t, "heard: two", posts[1].Text)
	assert.Equal(t, 3, r.fake.Calls("chat.postMessage"))
}

func TestPostWithLostAnswerIsNotRepeated(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.LoseAnswer("chat.postMessage", 1)
	r.say("one")
	r.posts(bay2, 1)
	assert.Equal(t, 1, r.fake.Calls("chat.postMessage"), "it was found in the thread")
}

func TestHungPostIsRepeated(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Hang("chat.postMessage", 1)
	r.say("one")
	r.posts(bay2, 1)
	assert.Equal(t, 2, r.fake.Calls("chat.postMessage"))
	assert.GreaterOrEqual(t, r.fake.Calls("conversations.replies"), 1, "looked for first")
}

func TestRestartBetweenPostAndItsNote(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("one")
	r.posts(bay2, 1)
	r.stop()
	// The state a crash leaves: the reply in the outbox, the post already there.
	id := messageID(bay2, ts)
	at, _ := instant(ts)
	_, err := r.box.Sweep(at.Add(25 * time.Hour))
	require.NoError(t, err)
	_, err = r.box.Put(t.Context(), surface.Message{ID: id, Person: idris, Channel: bay2, Text: "one", At: at})
	require.NoError(t, err)
	require.NoError(t, r.box.Done(t.Context(), id, &say.Reply{Text: "heard: one"}))
	r.start()
	r.posts(bay2, 1)
	assert.Equal(t, 1, r.fake.Calls("chat.postMessage"))
}

func TestRefusedPostIsDroppedAndHoldsUpNobody(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Refuse("chat.postMessage", 1, "is_archived")
	r.say("one")
	r.say("two")
	assert.Equal(t, "heard: two", r.posts(bay2, 1)[0].Text)
}

func TestVanishedReplyIsPostedAnew(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("one")
	first := r.posts(bay2, 1)[0]
	r.fake.Delete(bay2, first.TS)
	r.settle()
	r.fake.Edit(bay2, ts, "two")
	assert.Equal(t, "heard: two", r.posts(bay2, 1)[0].Text)
	assert.Equal(t, []string{"one", "two"}, r.hand.texts(), "a deleted post of the bot's own is not a person's")
}

func TestRefusedTokenEndsTheRun(t *testing.T) {
	t.Parallel()
	for _, method := range []string{"auth.test", "apps.connections.open"} {
		t.Run(method, func(t *testing.T) {
			t.Parallel()
			r := newRig(t)
			r.fake.Refuse(method, 1, "invalid_auth")
			s := build(Config{
				AppToken: slackfake.AppToken, BotToken: slackfake.BotToken, APIURL: r.fake.URL, Handler: r.hand, Inbox: r.box,
				Directory: directory{}, Clock: r.fake.Now, Log: nopLog(),
			}, hurried())
			err := s.Run(t.Context())
			require.ErrorContains(t, err, "invalid_auth")
			assert.ErrorContains(t, err, "check SLACK_")
		})
	}
}

func TestNewChecksItsConfiguration(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	good := Config{AppToken: "xapp-1", BotToken: "xoxb-1", Handler: r.hand, Inbox: r.box, Directory: directory{}}
	_, err := New(good)
	require.NoError(t, err)
	for name, spoil := range map[string]func(*Config){
		"SLACK_APP_TOKEN": func(c *Config) { c.AppToken = "xoxb-1" },
		"SLACK_BOT_TOKEN": func(c *Config) { c.BotToken = "" },
		"Handler":         func(c *Config) { c.Handler = nil },
		"Inbox":           func(c *Config) { c.Inbox = nil },
		"Directory":       func(c *Config) { c.Directory = nil },
	} {
		bad := good
		spoil(&bad)
		_, err := New(bad)
		require.ErrorContains(t, err, name)
	}
}
