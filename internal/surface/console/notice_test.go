package console_test

import (
	"bytes"
	"context"
	"io"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/surface/console"
)

// screen is a writer that can be read while it is written.
type screen struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// TestNoticesArePrintedAboveThePrompt announces while a prompt waits for words.
func TestNoticesArePrintedAboveThePrompt(t *testing.T) {
	t.Parallel()
	in, typed := io.Pipe()
	out := &screen{}
	todo, done := make(chan surface.Notice), make(chan error)
	ended := false
	chat := make(chan error, 1)
	go func() {
		chat <- console.Run(t.Context(), console.Options{
			Handler: &echo{}, Person: "idris", Channel: "bay-2", In: in, Out: out,
			Notices: func(ctx context.Context, a surface.Announcer) {
				for {
					select {
					case n := <-todo:
						done <- a.Announce(ctx, n)
					case <-ctx.Done():
						ended = true
						return
					}
				}
			},
		})
	}()
	seen := func(want string) {
		t.Helper()
		require.Eventually(t, func() bool { return strings.HasSuffix(out.String(), want) }, 10*time.Second, time.Millisecond, "%q", want)
	}
	announce := func(id, channel, person string) error {
		todo <- surface.Notice{ID: id, Channel: channel, Person: person, Reply: say.Reply{
			Text: "due: " + id, Choices: []say.Choice{{Label: "left", Say: "left"}},
		}}
		return <-done
	}
	seen("idris in bay-2> ")
	require.NoError(t, announce("a", "bay-2", "mabel"))
	seen("idris in bay-2> \ndue: a\nidris in bay-2> ")
	require.NoError(t, announce("a", "bay-2", "mabel"))
	require.NoError(t, announce("b", "bay-3", "idris"))
	seen("due: a\nidris in bay-2> \ndue: b\nidris in bay-2> ")
	require.NoError(t, announce("c", surface.DirectChannel, "idris"))
	before := out.String()
	require.ErrorIs(t, announce("d", "bay-3", "mabel"), surface.ErrElsewhere)
	require.ErrorIs(t, announce("e", surface.DirectChannel, "mabel"), surface.ErrElsewhere)
	assert.Equal(t, before, out.String())

	_, err := io.WriteString(typed, "/as mabel\n/in dm\n")
	require.NoError(t, err)
	seen("mabel in dm> ")
	require.ErrorIs(t, announce("f", surface.DirectChannel, "idris"), surface.ErrElsewhere, "direct messages of others are not hers")
	require.NoError(t, announce("e", surface.DirectChannel, "mabel"), "she is here now")
	seen("due: e\nmabel in dm> ")
	_, err = io.WriteString(typed, "1\n")
	require.NoError(t, err)
	seen("heard: 1\nmabel in dm> ") // a notice offers nothing
	require.NoError(t, typed.Close())
	require.NoError(t, <-chat)
	assert.True(t, ended, "what runs beside the chat ends with it")
}
