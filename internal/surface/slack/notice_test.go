package slack

import (
	"context"
	"errors"
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

func notice(id, channel, person string) surface.Notice {
	return surface.Notice{ID: id, Channel: channel, Person: person, Reply: say.Reply{Text: "due: " + id}}
}

// announce tries as the bot does, until there is an answer that counts.
func (r *rig) announce(n surface.Notice) error {
	r.t.Helper()
	var err error
	r.eventually(func() bool {
		ctx, cancel := context.WithTimeout(r.t.Context(), 5*time.Second)
		defer cancel()
		err = r.surf.Announce(ctx, n)
		return err == nil || errors.Is(err, surface.ErrNowhere)
	}, "the notice is announced")
	return err
}

func TestNoticeStandsInItsChannelOrWithItsPerson(t *testing.T) {
	t.Parallel()
	r := run(t)
	require.NoError(t, r.announce(notice("reminder-7", "bay-2", "idris")))
	require.NoError(t, r.announce(notice("reminder-8", "attic", "idris")))
	require.NoError(t, r.announce(notice("reminder-9", surface.DirectChannel, "idris")))
	for channel, text := range map[string]string{bay2: "due: reminder-7", attic: "due: reminder-8", dm: "due: reminder-9"} {
		posts := r.posts(channel, 1)
		assert.Equal(t, text, posts[0].Text)
		assert.Empty(t, posts[0].Thread, "a notice answers nobody")
	}
	require.NoError(t, r.announce(notice("reminder-7", "bay-2", "idris")))
	require.NoError(t, r.announce(notice("reminder-9", surface.DirectChannel, "idris")))
	r.posts(bay2, 1)
	r.posts(dm, 1)
	assert.Empty(t, r.hand.got(), "a notice is not heard")
	assert.Zero(t, r.fake.Calls("reactions.add"))
}

func TestNoticeThatHasNowhereToGo(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		spoil func(*slackfake.Server)
		n     surface.Notice
	}{
		"an unknown person":           {nil, notice("a", surface.DirectChannel, "nobody")},
		"an unknown channel":          {nil, notice("a", "moon", "idris")},
		"a channel the bot is not in": {nil, notice("a", "yard", "idris")},
		"a person who left":           {func(f *slackfake.Server) { f.Refuse("conversations.open", 1, "user_disabled") }, notice("a", surface.DirectChannel, "gone")},
		"a channel put away":          {func(f *slackfake.Server) { f.Refuse("chat.postMessage", 1, "is_archived") }, notice("a", "attic", "idris")},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			if c.spoil != nil {
				c.spoil(r.fake)
			}
			require.ErrorIs(t, r.announce(c.n), surface.ErrNowhere)
			// The same notice may still go to somebody else.
			require.NoError(t, r.announce(notice("a", surface.DirectChannel, "idris")))
			r.posts(dm, 1)
			require.NoError(t, r.announce(c.n), "it was shown")
			r.posts(bay2, 0)
			r.posts(attic, 0)
			r.posts(dm, 1)
		})
	}
}

// What the platform refused is tried afresh, and what lies in the outbox for one
// place goes to no other.
func TestRefusedNoticeIsTriedAfresh(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Refuse("chat.postMessage", 2, "is_archived")
	for range 2 {
		require.ErrorIs(t, r.announce(notice("a", "attic", "idris")), surface.ErrNowhere)
	}
	require.NoError(t, r.announce(notice("a", "attic", "idris")))
	r.posts(attic, 1)

	r.fake.Hang("chat.postMessage", 1)
	ctx, cancel := context.WithTimeout(t.Context(), time.Second) // time to get into the outbox
	defer cancel()
	_ = r.surf.Announce(ctx, notice("b", "attic", "idris"))
	require.NoError(t, r.announce(notice("b", surface.DirectChannel, "idris")))
	r.posts(attic, 2)
	r.posts(dm, 0)
}

func TestWithoutItsScopeANoticeWaits(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Revoke("im:write")
	err := r.surf.Announce(t.Context(), notice("a", surface.DirectChannel, "idris"))
	require.ErrorContains(t, err, "im:write")
	assert.NotErrorIs(t, err, surface.ErrNowhere, "a matter of the set-up, not of the notice")
}

// Whatever call fails once, and however often and from how many sides a notice
// is announced, it is shown once.
func TestNoticeIsShownOnceWhateverFails(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]func(*slackfake.Server){
		"nothing":               func(*slackfake.Server) {},
		"the post hung":         func(f *slackfake.Server) { f.Hang("chat.postMessage", 1) },
		"its answer lost":       func(f *slackfake.Server) { f.LoseAnswer("chat.postMessage", 1) },
		"too many posts":        func(f *slackfake.Server) { f.RateLimit("chat.postMessage", 1, 1) },
		"no direct message yet": func(f *slackfake.Server) { f.Hang("conversations.open", 1) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			fault(r.fake)
			var wg sync.WaitGroup
			for range 3 {
				wg.Go(func() {
					ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
					defer cancel()
					_ = r.surf.Announce(ctx, notice("a", surface.DirectChannel, "idris"))
				})
			}
			wg.Wait()
			require.NoError(t, r.announce(notice("a", surface.DirectChannel, "idris")))
			r.posts(dm, 1)
		})
	}
}

// The bot is stopped at each point on the way; the next run, which announces the
// notice again because nothing says that it was sent, shows it once.
func TestRestartOnTheWayOfANotice(t *testing.T) {
	t.Parallel()
	n := notice("a", "bay-2", "idris")
	for name, until := range map[string]func(*rig){
		"posted, its answer lost": func(r *rig) {
			r.fake.LoseAnswer("chat.postMessage", 1)
			ctx, cancel := context.WithTimeout(r.t.Context(), 200*time.Millisecond)
			defer cancel()
			require.Error(r.t, r.surf.Announce(ctx, n))
			r.eventually(func() bool { return len(r.fake.Posts(bay2)) == 1 }, "posted")
		},
		"in the outbox, not posted": func(r *rig) {
			r.fake.Hang("chat.postMessage", 1)
			ctx, cancel := context.WithTimeout(r.t.Context(), 200*time.Millisecond)
			defer cancel()
			require.Error(r.t, r.surf.Announce(ctx, n))
			r.eventually(func() bool { return r.fake.Calls("chat.postMessage") == 1 }, "on its way")
		},
		"posted and noted": func(r *rig) { require.NoError(r.t, r.announce(n)) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			until(r)
			r.stop()
			r.start()
			require.NoError(t, r.announce(n))
			r.posts(bay2, 1)
		})
	}
}

// Nobody could note for a day that the notice was sent: the inbox has forgotten
// the post, and still knows.
func TestNoticeIsRememberedLongerThanAMessage(t *testing.T) {
	t.Parallel()
	r := run(t)
	n := notice("a", "bay-2", "idris")
	require.NoError(t, r.announce(n))
	r.fake.Advance(3 * inbox.Remember)
	gone, err := r.box.Sweep(r.fake.Now())
	require.NoError(t, err)
	assert.Equal(t, 1, gone)
	require.NoError(t, r.announce(n))
	r.posts(bay2, 1)
}

func TestNoticeWithAPicture(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.LoseAnswer("files.completeUploadExternal", 1)
	n := notice("a", "bay-2", "idris")
	n.Reply.Picture = png
	require.NoError(t, r.announce(n))
	words, files := pictures(r.posts(bay2, 2))
	assert.Len(t, words, 1)
	assert.Len(t, files, 1)
	assert.Empty(t, files[0].Thread)
}
