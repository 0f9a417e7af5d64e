package slack

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/inbox"
	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/surface/slack/slackfake"
)

const (
	bay2  = "C0BAY2"
	attic = "C0ATTIC" // a channel that the shop does not know
	dm    = "D0IDRIS"
	idris = "U0IDRIS"
	other = "U0STRANGER"
)

// png is what a picture begins with, and enough of it for the fake.
var png = []byte("\x89PNG\r\n\x1a\n, a picture")

var tuesday = time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)

// hurried is the pace of the tests. Every wait is short; nothing is judged by it.
func hurried() pace {
	return pace{
		ack: 2 * time.Second, http: 2 * time.Second, handle: 5 * time.Second,
		photos: 2 * time.Second, files: 2 * time.Second,
		retry: 10 * time.Millisecond, retryMax: 100 * time.Millisecond,
		quiet: 20 * time.Second, clean: time.Hour, settle: 30 * time.Millisecond, tellAt: 2,
	}
}

// directory knows the demo shop's idris by his id and bay-2 by its name.
type directory struct{}

func (directory) Refresh(context.Context) error { return nil }

func (directory) Person(id, _ string) (string, bool) {
	if id == idris {
		return "idris", true
	}
	return id, false
}

func (directory) Channel(_, name string) (string, bool) { return name, name == "bay-2" }

func (directory) ChatUser(person string) (string, bool) {
	return map[string]string{"idris": idris, "gone": "U0GONE"}[person], person == "idris" || person == "gone"
}

// ChatChannel knows the attic by its id, and others by their names.
func (directory) ChatChannel(channel string) (id, name string, ok bool) {
	if channel == "attic" {
		return attic, "", true
	}
	return "", channel, channel == "bay-2" || channel == "yard"
}

// echo is a handler that says back what it hears. The same message gets the
// same reply, as the contract has it.
type echo struct {
	mu      sync.Mutex
	calls   int
	heard   []surface.Message // each ID once, in order
	replies map[string]*say.Reply
	down    bool
	before  func(surface.Message) // called first, outside the lock
	kept    map[string][]byte     // photographs, by what Keep named them
	unkept  int                   // calls of Keep that still fail
	refuse  error                 // what every call of Keep fails with
	records []surface.File        // what Files gives
}

func (h *echo) Handle(_ context.Context, m surface.Message) (*say.Reply, error) {
	if h.before != nil {
		h.before(m)
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.calls++
	if h.down {
		return nil, errors.New("the service is away")
	}
	if r, ok := h.replies[m.ID]; ok {
		return r, nil
	}
	h.heard = append(h.heard, m)
	r := &say.Reply{Text: "heard: " + m.Text}
	switch {
	case m.Act == surface.Deleted:
		r.Text = "undone"
	case m.Act == surface.Pressed:
		r.Text = []string{"left it is", "right it is"}[m.Choice-1]
	case m.Text == "chatter":
		r = nil
	case strings.HasPrefix(m.Text, "used"):
		r.Quiet = true
	case strings.HasPrefix(m.Text, "which"):
		r.Choices = []say.Choice{{Label: "left", Say: "left"}, {Label: "right", Say: "right"}}
	case strings.HasPrefix(m.Text, "hand over"):
		r.Handover = "heron"
	case strings.HasPrefix(m.Text, "show"):
		r.Picture = png
	case m.Text == "panic":
		panic("at the handler")
	}
	h.replies[m.ID] = r
	return r, nil
}

// keep names a photograph by its length: enough to see which it was.
func (h *echo) keep(_ context.Context, _ string, data []byte) (string, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.unkept > 0 {
		h.unkept--
		return "", errors.New("no place for it")
	}
	if h.refuse != nil {
		return "", h.refuse
	}
	name := fmt.Sprint("kept-", len(data))
	h.kept[name] = bytes.Clone(data)
	return name, nil
}

func (h *echo) files(context.Context, string) (string, []surface.File, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.records == nil {
		return "", nil, errors.New("the record is away")
	}
	return "handover-heron", h.records, nil
}

func (h *echo) got() []surface.Message {
	h.mu.Lock()
	defer h.mu.Unlock()
	return append([]surface.Message(nil), h.heard...)
}

func (h *echo) texts() []string {
	out := []string{}
	for _, m := range h.got() {
		out = append(out, m.Text)
	}
	return out
}

func (h *echo) tries() int {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.calls
}

func (h *echo) away(down bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.down = down
}

// rig is a workspace with a bot in it.
type rig struct {
	t    *testing.T
	fake *slackfake.Server
	box  *inbox.Inbox
	hand *echo
	surf *Surface // of the last begin
	pace pace
	stop func() // ends the bot and waits; the workspace and the inbox live on
}

func newRig(t *testing.T) *rig {
	t.Helper()
	r := &rig{t: t, fake: slackfake.New(tuesday), hand: &echo{replies: map[string]*say.Reply{}, kept: map[string][]byte{}}, pace: hurried(), stop: func() {}}
	r.fake.Channel(bay2, "bay-2")
	r.fake.Channel(attic, "attic")
	r.fake.Channel(dm, "")
	var err error
	r.box, err = inbox.OpenMemory()
	require.NoError(t, err)
	t.Cleanup(func() {
		r.stop()
		r.fake.Close()
		assert.NoError(t, r.box.Close())
		assert.Empty(t, r.fake.Violations(), "every post keeps the platform's limits")
	})
	return r
}

// run starts the bot and waits until both its connections are live and the
// history is read.
func run(t *testing.T) *rig {
	r := newRig(t)
	r.start()
	return r
}

func (r *rig) start() {
	r.t.Helper()
	swept := r.fake.Calls("users.conversations") + 4 // four kinds of conversation
	r.begin()
	r.eventually(func() bool {
		return r.fake.Links() == 2 && r.fake.Calls("users.conversations") >= swept
	}, "two connections and the history")
}

func (r *rig) begin() {
	s := build(Config{
		AppToken: slackfake.AppToken, BotToken: slackfake.BotToken, APIURL: r.fake.URL, Handler: r.hand, Inbox: r.box,
		Keep: r.hand.keep, Files: r.hand.files, Directory: directory{}, Clock: r.fake.Now, Log: slog.New(slog.NewTextHandler(logTo{r.t}, nil)),
	}, r.pace)
	r.surf = s
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Run(ctx) }()
	r.stop = func() {
		cancel()
		assert.NoError(r.t, <-done)
		r.stop = func() {}
	}
}

func (r *rig) eventually(ok func() bool, what string) {
	r.t.Helper()
	require.Eventually(r.t, ok, 20*time.Second, 5*time.Millisecond, what)
}

// posts waits for n posts in a channel and gives them.
func (r *rig) posts(channel string, n int) []slackfake.Message {
	r.t.Helper()
	r.eventually(func() bool { return len(r.fake.Posts(channel)) >= n }, "posts")
	r.settle()
	list := r.fake.Posts(channel)
	require.Len(r.t, list, n)
	return list
}

// settle waits until nothing is under way: every event acknowledged, nothing
// pending and nothing unsent.
func (r *rig) settle() {
	r.t.Helper()
	r.eventually(func() bool {
		pending, err := r.box.Pending(r.t.Context())
		require.NoError(r.t, err)
		unsent, err := r.box.Unsent(r.t.Context())
		require.NoError(r.t, err)
		return r.fake.Unacked() == 0 && len(pending) == 0 && len(unsent) == 0
	}, "nothing under way")
}

// say says something as idris in bay-2.
func (r *rig) say(text string) string {
	return r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: text})
}

// logTo writes a log into a test, as long as the test runs.
type logTo struct{ t *testing.T }

func (l logTo) Write(p []byte) (int, error) {
	if l.t.Context().Err() == nil {
		l.t.Log(strings.TrimSpace(string(p)))
	}
	return len(p), nil
}

func nopLog() *slog.Logger { return slog.New(slog.DiscardHandler) }
