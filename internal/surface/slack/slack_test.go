package slack

import (
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/surface/slack/slackfake"
)

func TestMessageIsAnsweredInItsThread(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("ns sill has a hole &lt; 120 &amp; deep")
	post := r.posts(bay2, 1)[0]
	assert.Equal(t, ts, post.Thread)
	assert.Contains(t, string(post.Blocks), `"type":"plain_text"`)
	assert.Equal(t, "heard: ns sill has a hole &lt; 120 &amp; deep", post.Text)
	at, _ := instant(ts)
	assert.Equal(t, []surface.Message{{
		ID: bay2 + ":" + ts, Person: "idris", Channel: "bay-2", Text: "ns sill has a hole < 120 & deep", At: at.UTC(),
	}}, r.hand.got())
	assert.LessOrEqual(t, len(r.hand.got()[0].ID), 36, "usable as a request id")

	reply := r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "and the other side?", Thread: ts})
	posts := r.posts(bay2, 2)
	assert.Equal(t, ts, posts[1].Thread)
	assert.Equal(t, bay2+":"+ts, r.hand.got()[1].Thread)
	assert.Equal(t, bay2+":"+reply, r.hand.got()[1].ID)
}

func TestMentionAndDirectMessage(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.say("<@" + slackfake.BotUser + ">: what is in the shop") // a message and an app_mention, two event ids
	r.fake.Say(slackfake.Said{Channel: dm, User: idris, Text: "help"})
	r.posts(bay2, 1)
	r.posts(dm, 1)
	byText := map[string]surface.Message{}
	for _, m := range r.hand.got() {
		byText[m.Text] = m
	}
	assert.Len(t, byText, 2)
	assert.True(t, byText["what is in the shop"].Mention)
	assert.Equal(t, surface.DirectChannel, byText["help"].Channel)
}

func TestUnknownChannelIsListenedToOnlyWhenSpokenTo(t *testing.T) {
	t.Parallel()
	r := run(t)
	private := r.fake.Say(slackfake.Said{Channel: attic, User: idris, Text: "used half a litre of clear"})
	ts := r.fake.Say(slackfake.Said{Channel: attic, User: idris, Text: "<@" + slackfake.BotUser + "> what is in the shop"})
	r.posts(attic, 1)
	r.fake.Edit(attic, private, "used a litre of clear")
	r.fake.Edit(attic, ts, "what was in the shop")
	r.eventually(func() bool { return len(r.hand.got()) == 2 }, "the edit of what was said to it")
	r.settle()
	heard := r.hand.got()
	require.Len(t, heard, 2)
	assert.Equal(t, attic, heard[0].Channel)
	assert.Equal(t, "what was in the shop", heard[1].Text)
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

func TestPersonIsKnownByIdAlone(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Say(slackfake.Said{Channel: bay2, User: other, Text: "ask <@" + idris + "|wren> about it"})
	r.posts(bay2, 1)
	assert.Equal(t, other, r.hand.got()[0].Person)
	assert.Equal(t, "ask idris about it", r.hand.got()[0].Text)
}

func TestRedeliveryGetsOneReply(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("wheel nuts done 81")
	r.posts(bay2, 1)
	event := r.fake.MessageEvent(bay2, ts)
	r.fake.EventAs("Ev-again", event) // one message under other event ids
	r.fake.EventAs("Ev-again", event)
	r.fake.Event(event)
	// The same words sent twice by a client that lost the first answer.
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "sent twice", Client: "client-same"})
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "sent twice", Client: "client-same"})
	r.posts(bay2, 2)
	assert.Equal(t, []string{"wheel nuts done 81", "sent twice"}, r.hand.texts())
}

// A retry is the first that is heard of a message when the first delivery went
// to a connection that was dying.
func TestRetryIsNotDroppedForBeingOne(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.fake.AckWait = 300 * time.Millisecond
	r.fake.Hang("apps.connections.open", 1) // the first opens hang until their timeout
	ts := r.say("said before anyone listened")
	r.begin()
	r.posts(bay2, 1)
	assert.Equal(t, bay2+":"+ts, r.hand.got()[0].ID)
	assert.Equal(t, []string{"said before anyone listened"}, r.hand.texts())
}

func TestEditUpdatesTheReply(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("ns sill 120 by 40")
	first := r.posts(bay2, 1)[0]
	r.fake.Edit(bay2, ts, "ns sill 130 by 40")
	r.eventually(func() bool { return strings.Contains(r.fake.Posts(bay2)[0].Text, "130") }, "the post is updated")
	r.fake.Edit(bay2, ts, "ns sill 140 by 40") // perhaps in the same second
	r.eventually(func() bool { return strings.Contains(r.fake.Posts(bay2)[0].Text, "140") }, "and again")
	posts := r.posts(bay2, 1)
	assert.Equal(t, first.TS, posts[0].TS)
	heard := r.hand.got()
	require.Len(t, heard, 3)
	assert.Equal(t, surface.Edited, heard[1].Act)
	assert.Equal(t, heard[0].ID, heard[1].Target)
	assert.NotEqual(t, heard[1].ID, heard[2].ID)
	assert.LessOrEqual(t, len(heard[1].ID), 36)
}

func TestEditOfWhatGotNoReplyPostsOnce(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("chatter")
	r.settle()
	assert.Empty(t, r.fake.Posts(bay2))
	r.fake.Edit(bay2, ts, "ns sill 130 by 40")
	assert.Equal(t, ts, r.posts(bay2, 1)[0].Thread)
	r.fake.Edit(bay2, ts, "ns sill 140 by 40")
	r.eventually(func() bool { return strings.Contains(r.fake.Posts(bay2)[0].Text, "140") }, "the same post is updated")
	r.posts(bay2, 1)
}

func TestLinkPreviewIsNoEdit(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("see <https://example.org/hinge|the drawing>")
	r.posts(bay2, 1)
	r.fake.Preview(bay2, ts)
	r.posts(bay2, 1)
	assert.Equal(t, []string{"see the drawing"}, r.hand.texts())
}

func TestEditThatOvertakesItsMessage(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "ns sill 120", Silent: true})
	late := r.fake.MessageEvent(bay2, ts)
	r.fake.Edit(bay2, ts, "ns sill 130")
	r.eventually(func() bool { return len(r.hand.got()) == 2 }, "both")
	r.fake.Event(late)
	r.posts(bay2, 1)
	heard := r.hand.got()
	require.Len(t, heard, 2)
	assert.Equal(t, surface.Said, heard[0].Act)
	assert.Equal(t, "ns sill 120", heard[0].Text)
	assert.Equal(t, surface.Edited, heard[1].Act)
	assert.Equal(t, "ns sill 130", heard[1].Text)
}

func TestDeleteIsHandledOnce(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("ns sill 120 by 40")
	r.posts(bay2, 1)        // the bot's reply is in its thread,
	r.fake.Delete(bay2, ts) // so a tombstone stays
	r.eventually(func() bool { return r.fake.Posts(bay2)[0].Text == "undone" }, "the reply says so")
	lone := r.say("chatter")
	r.settle()
	r.fake.Delete(bay2, lone)
	r.eventually(func() bool { return len(r.hand.got()) == 4 }, "both deletions")
	r.settle()
	heard := r.hand.got()
	for i, target := range map[int]string{1: ts, 3: lone} {
		assert.Equal(t, surface.Deleted, heard[i].Act)
		assert.Equal(t, bay2+":"+target, heard[i].Target)
		assert.Equal(t, "idris", heard[i].Person)
	}
}

func TestDeletionThatOvertakesItsMessage(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "ns sill 120", Silent: true})
	late := r.fake.MessageEvent(bay2, ts)
	r.fake.Delete(bay2, ts)
	r.eventually(func() bool { return len(r.hand.got()) == 1 }, "the deletion")
	r.fake.Event(late)
	r.settle()
	require.Len(t, r.hand.got(), 1, "what was deleted is not heard afterwards")
	assert.Equal(t, surface.Deleted, r.hand.got()[0].Act)
}

func TestPressOfAChoice(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("which sill")
	post := r.posts(bay2, 1)[0]
	assert.Equal(t, []string{"left", "right"}, post.Buttons())
	r.fake.Press(idris, bay2, post.TS, 2)
	posts := r.posts(bay2, 2)
	assert.Equal(t, "right it is", posts[1].Text)
	assert.Equal(t, ts, posts[1].Thread)
	press := r.hand.got()[1]
	assert.Equal(t, surface.Pressed, press.Act)
	assert.Equal(t, bay2+":"+ts, press.Target)
	assert.Equal(t, 2, press.Choice)
	assert.Equal(t, "idris", press.Person)
	assert.Equal(t, "bay-2", press.Channel)
	assert.LessOrEqual(t, len(press.ID), 36)
}

func TestQuietReplyTicksTheMessage(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("used half a litre of clear")
	post := r.posts(bay2, 1)[0]
	assert.Contains(t, string(post.Blocks), `"type":"context"`)
	assert.Equal(t, []string{"white_check_mark"}, r.fake.Reactions(bay2, ts))
}

func TestVoiceClipIsReadWhenItIsWrittenOut(t *testing.T) {
	t.Parallel()
	r := run(t)
	clip := slackfake.Said{Channel: bay2, User: idris, Subtype: "file_share", Files: []slackfake.File{{Name: "clip.webm"}}}
	ts := r.fake.Say(clip)
	r.posts(bay2, 1)
	r.fake.Transcribe(bay2, ts, "ns sill three and a half mil")
	r.eventually(func() bool { return len(r.hand.got()) == 2 }, "the words")
	heard := r.hand.got()
	assert.Equal(t, []string{"clip.webm"}, heard[0].Files)
	assert.Equal(t, surface.Edited, heard[1].Act)
	assert.Equal(t, "ns sill three and a half mil", heard[1].Text)
	r.settle()
}

func TestSubtypes(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("chatter")
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "joined", Subtype: "channel_join"})
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "topic", Subtype: "channel_topic"})
	r.fake.Say(slackfake.Said{Channel: bay2, User: "U0ROBOT", BotID: "B0ROBOT", Text: "another bot"})
	r.fake.Say(slackfake.Said{Channel: bay2, User: slackfake.BotUser, Text: "own, without bot id"})
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "also to the channel", Subtype: "thread_broadcast", Thread: ts})
	r.posts(bay2, 1)
	assert.Equal(t, []string{"chatter", "also to the channel"}, r.hand.texts())
}

// The fake sends an event for each of the bot's own posts and updates.
func TestOwnPostsAreNotHeard(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("one")
	r.posts(bay2, 1)
	r.fake.Edit(bay2, ts, "two")
	r.eventually(func() bool { return strings.Contains(r.fake.Posts(bay2)[0].Text, "two") }, "updated")
	r.settle()
	assert.Equal(t, []string{"one", "two"}, r.hand.texts())
	assert.GreaterOrEqual(t, len(r.fake.Sent()), 4, "the bot did hear itself")
}

func TestWhatCannotBeReadIsAcknowledged(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Event(map[string]any{"type": "a_kind_from_next_year", "channel": bay2})
	r.fake.Send("events_api", map[string]any{"type": "event_callback", "event": "not an object"})
	r.fake.Send("events_api", "not an object")
	r.fake.Send("a_kind_from_next_year", map[string]any{})
	r.fake.Send("slash_commands", map[string]any{"command": "/bayword"})
	r.fake.Send("interactive", map[string]any{"type": "block_actions", "channel": map[string]any{"id": bay2}, "actions": "none"})
	r.settle()
	// A message with a block of an unknown kind is heard all the same.
	event := r.fake.MessageEvent(bay2, r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "heard", Silent: true}))
	event["blocks"] = []any{map[string]any{"type": 7}}
	r.fake.Event(event)
	r.posts(bay2, 1)
	assert.Empty(t, r.fake.Lost())
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
	r.say("caffeine and chassis legs")
	<-entered // it is in the inbox and acknowledged, and not handled
	r.eventually(func() bool { return r.fake.Unacked() == 0 }, "acknowledged")
	go close(leave)
	r.stop()
	assert.Empty(t, r.hand.got())
	r.hand.away(false)
	r.start()
	r.posts(bay2, 1)
	assert.Equal(t, []string{"caffeine and chassis legs"}, r.hand.texts())
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
