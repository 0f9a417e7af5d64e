package slack

import (
	"encoding/json"
	"net/url"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/say"
	"bayword/internal/surface/slack/slackfake"
)

func TestPlainText(t *testing.T) {
	t.Parallel()
	person := func(id, label string) string { return map[string]string{"U1": "idris"}[id] + label }
	channel := func(id, label string) string { return map[string]string{"C1": "bay-2"}[id] + label }
	for _, c := range []struct {
		in, want string
		mention  bool
	}{
		{"ns sill 120 by 40", "ns sill 120 by 40", false},
		{"<@UBOT> what's next", "what's next", true},
		{"<@UBOT>, what’s next", "what's next", true},
		{"hey <@UBOT> what's next", "hey what's next", true},
		{"ask <@U1> in <#C1>", "ask idris in bay-2", false},
		{"<#C9|tearoom> and <@U9|Wren>", "tearoom and Wren", false},
		{"<https://example.org/a|the page> <https://example.org/b>", "the page https://example.org/b", false},
		{"<mailto:a@example.org|a@example.org>", "a@example.org", false},
		{"<!here> <!subteam^S1|@metal> <!date^1^x>", "@here @metal @date", false},
		// Typed brackets arrive escaped and stay what they are.
		{"gap &lt; 4 &amp; &gt; 3", "gap < 4 & > 3", false},
		{"&lt;@UBOT&gt;", "<@UBOT>", false},
		{"&amp;lt;", "&lt;", false},
		{"“3½” isn’t 3–4 — it’s 7′ 2″", `"3 1/2" isn't 3-4 - it's 7' 2"`, false},
		{"½ in ⅝ and 1⁄4", "1/2 in 5/8 and 1/4", false},
		{"two\u00a0tins\u200b", "two tins", false},
		{"bad \xff byte", "bad  byte", false},
		{"", "", false},
		{"<@UBOT>", "", true},
		{"<unclosed", "<unclosed", false},
	} {
		got, mention := plain(c.in, "UBOT", person, channel)
		assert.Equal(t, c.want, got, "%q", c.in)
		assert.Equal(t, c.mention, mention, "%q", c.in)
	}
}

func FuzzPlainText(f *testing.F) {
	f.Add("<@UBOT> “3½” &lt;b&gt; <https://example.org|x>")
	f.Add("<<@UBOT>|>\xff&amp;lt;")
	same := func(id, _ string) string { return id }
	f.Fuzz(func(t *testing.T, in string) {
		got, _ := plain(in, "UBOT", same, same)
		if !utf8.ValidString(got) {
			t.Errorf("%q became invalid text %q", in, got)
		}
	})
}

func FuzzReader(f *testing.F) {
	f.Add([]byte(`{"event_id":"E1","event":{"type":"message","channel":"C1","user":"U1","text":"x","ts":"1.000001"}}`))
	f.Add([]byte(`{"event":{"type":"message","subtype":"message_changed","channel":"C1","message":{"ts":"1.1","user":"U1","text":"y"}}}`))
	f.Add([]byte(`{"type":"block_actions","channel":{"id":"C1"},"user":{"id":"U1"},"actions":[{"action_id":"choice-1","block_id":"choices:C1:1.1","action_ts":"2.2"}]}`))
	r := reader{self: identity{user: "UBOT", bot: "BBOT"}, zone: time.UTC}
	f.Fuzz(func(t *testing.T, in []byte) {
		events, _ := r.event(in)
		actions, _ := r.action(in)
		for _, m := range append(events, actions...) {
			if m.ID == "" || m.At.IsZero() {
				t.Errorf("%q gives a message that no inbox takes: %+v", in, m)
			}
		}
	})
}

// Whatever a reply holds, what is posted keeps the platform's limits, and the
// words of a reply of usual length are all there.
func TestEveryReplyKeepsTheLimits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := &say.Reply{
			Text:  strings.Repeat(rapid.StringN(0, 60, -1).Draw(t, "text"), rapid.IntRange(1, 400).Draw(t, "times")),
			Quiet: rapid.Bool().Draw(t, "quiet"),
		}
		for range rapid.IntRange(0, 30).Draw(t, "choices") {
			r.Choices = append(r.Choices, say.Choice{
				Label: rapid.StringN(0, 100, -1).Draw(t, "label"),
				Say:   strings.Repeat(rapid.StringN(0, 50, -1).Draw(t, "say"), 50),
			})
		}
		blocks, text := render("C0123456789:1773137700.000001", r)
		data, err := json.Marshal(blocks)
		require.NoError(t, err)
		assert.Empty(t, slackfake.Check(url.Values{"text": {text}, "blocks": {string(data)}}))
	})
}

// The time of an edit has whole seconds, so two quick edits share it.
func TestQuickEditsAreTwo(t *testing.T) {
	t.Parallel()
	edit := wireMessage{Channel: "C1", TS: "1773137700.000001", Text: "130", Edited: &wireEdited{TS: "1773137702.000000"}}
	again := edit
	assert.Equal(t, editID(edit), editID(again))
	again.Text = "140"
	assert.NotEqual(t, editID(edit), editID(again))
	other := edit
	other.TS = "1773137700.000002"
	assert.NotEqual(t, editID(edit), editID(other))
}

func TestLongReplyIsAllThere(t *testing.T) {
	t.Parallel()
	line := strings.Repeat("x", 99)
	text := strings.TrimSpace(strings.Repeat(line+"\n", 90)) // three sections
	blocks, _ := render("C1:1.1", &say.Reply{Text: text})
	assert.Len(t, blocks, 4)
	data, err := json.Marshal(blocks)
	require.NoError(t, err)
	assert.Equal(t, 90, strings.Count(string(data), line))
}

func TestInstantAndStampAreInverse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		at := time.Unix(rapid.Int64Range(1, 9_999_999_999).Draw(t, "s"), rapid.Int64Range(0, 999_999).Draw(t, "us")*1000)
		got, ok := instant(stamp(at))
		assert.True(t, ok)
		assert.True(t, at.Equal(got), "%v is not %v", got, at)
	})
	for _, bad := range []string{"", "x", "0", "-1.0", "1.x"} {
		_, ok := instant(bad)
		assert.False(t, ok, bad)
	}
}
