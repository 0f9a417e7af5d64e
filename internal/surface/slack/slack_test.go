package slack

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	r.eventually(func() bool { return len(r.hand.got()) == 3 }, "the chatter")
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
