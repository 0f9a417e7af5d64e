package inbox_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/inbox"
	"bayword/internal/say"
	"bayword/internal/surface"
)

var noon = time.Date(2026, 3, 10, 12, 0, 0, 0, time.UTC)

func said(id string) surface.Message {
	return surface.Message{ID: id, Person: "idris", Channel: "bay-2", Text: "wheel nuts done 81", At: noon}
}

func memory(t *testing.T) *inbox.Inbox {
	t.Helper()
	b, err := inbox.OpenMemory()
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, b.Close()) })
	return b
}

func put(t *testing.T, b *inbox.Inbox, m surface.Message, also ...string) bool {
	t.Helper()
	fresh, err := b.Put(t.Context(), m, also...)
	require.NoError(t, err)
	return fresh
}

func ids(t *testing.T, b *inbox.Inbox) []string {
	t.Helper()
	list, err := b.Pending(t.Context())
	require.NoError(t, err)
	out := []string{}
	for _, m := range list {
		out = append(out, m.ID)
	}
	return out
}

func TestMessageIsPendingOnceInArrivalOrder(t *testing.T) {
	t.Parallel()
	b := memory(t)
	assert.True(t, put(t, b, said("z")))
	assert.True(t, put(t, b, said("a")))
	assert.False(t, put(t, b, said("z")), "the same ID is not fresh")
	assert.True(t, put(t, b, said("m"), "event-1", "client-1"))
	assert.False(t, put(t, b, said("n"), "client-1"), "a shared other name makes it the same message")
	assert.False(t, put(t, b, said("event-1")), "names and IDs are one space")
	assert.Equal(t, []string{"z", "a", "m"}, ids(t, b))

	require.NoError(t, b.Done(t.Context(), "a", nil))
	assert.Equal(t, []string{"z", "m"}, ids(t, b))
	assert.False(t, put(t, b, said("a")), "done is remembered")
	assert.Equal(t, []string{"z", "m"}, ids(t, b))
}

func TestMessageWithoutIDOrTimeIsRefused(t *testing.T) {
	t.Parallel()
	b := memory(t)
	_, err := b.Put(t.Context(), surface.Message{At: noon})
	require.Error(t, err)
	_, err = b.Put(t.Context(), surface.Message{ID: "a"})
	require.Error(t, err)
	assert.Empty(t, ids(t, b))
}

func TestReplyGoesThroughTheOutboxOnce(t *testing.T) {
	t.Parallel()
	b, ctx := memory(t), t.Context()
	put(t, b, said("a"))
	put(t, b, said("b"))
	first := &say.Reply{Text: "Recorded.", Choices: []say.Choice{{Label: "Undo", Say: "scrap that"}}}
	require.NoError(t, b.Done(ctx, "b", first))
	require.NoError(t, b.Done(ctx, "b", &say.Reply{Text: "Another."}), "the second time changes nothing")
	require.NoError(t, b.Done(ctx, "a", &say.Reply{Text: "81 N·m."}))

	out, err := b.Unsent(ctx)
	require.NoError(t, err)
	require.Len(t, out, 2)
	assert.Equal(t, "b", out[0].Message.ID)
	assert.Equal(t, first, out[0].Reply)

	require.NoError(t, b.Sent(ctx, "b", "post-1"))
	require.NoError(t, b.Sent(ctx, "b", "post-2"), "the second time changes nothing")
	out, err = b.Unsent(ctx)
	require.NoError(t, err)
	require.Len(t, out, 1)

	e, ok, err := b.Reply(ctx, "b")
	require.NoError(t, err)
	assert.True(t, ok)
	assert.Equal(t, inbox.Entry{Message: said("b"), Done: true, Reply: first, Posted: "post-1"}, e)
	_, ok, err = b.Reply(ctx, "unheard")
	require.NoError(t, err)
	assert.False(t, ok)
}

func TestEditsShareOnePost(t *testing.T) {
	t.Parallel()
	b, ctx := memory(t), t.Context()
	put(t, b, said("a"))
	require.NoError(t, b.Done(ctx, "a", nil))
	edit := said("a-edit")
	edit.Act, edit.Target = surface.Edited, "a"
	put(t, b, edit)
	require.NoError(t, b.Done(ctx, "a-edit", &say.Reply{Text: "Recorded."}))
	require.NoError(t, b.Sent(ctx, "a-edit", "post-1"))
	e, _, err := b.Reply(ctx, "a")
	require.NoError(t, err)
	assert.Equal(t, "post-1", e.Posted)
}

func TestUnknownMessageIsATypedError(t *testing.T) {
	t.Parallel()
	b := memory(t)
	require.ErrorIs(t, b.Done(t.Context(), "unheard", nil), inbox.ErrUnknown)
	require.ErrorIs(t, b.Sent(t.Context(), "unheard", "p"), inbox.ErrUnknown)
}

func TestTooLargeIsRefusedAndHarmsNoOther(t *testing.T) {
	t.Parallel()
	b := memory(t)
	big := said("big")
	big.Text = strings.Repeat("x", 1<<20)
	_, err := b.Put(t.Context(), big)
	require.ErrorIs(t, err, inbox.ErrTooLarge)
	assert.True(t, put(t, b, said("a")))
	assert.Equal(t, []string{"a"}, ids(t, b))
	big.Text = big.Text[:1000]
	assert.True(t, put(t, b, big), "the refused one left no trace")
}

func TestManyLargeMessagesAtOnceAllFit(t *testing.T) {
	t.Parallel()
	b := memory(t)
	var wg sync.WaitGroup
	for i := range 12 {
		wg.Go(func() {
			m := said(fmt.Sprint("m", i))
			m.Text = strings.Repeat("x", 400<<10) // three fill a transaction
			fresh, err := b.Put(context.Background(), m)
			assert.NoError(t, err)
			assert.True(t, fresh)
		})
	}
	wg.Wait()
	assert.Len(t, ids(t, b), 12)
}

func TestSameMessageFromManySidesIsFreshOnce(t *testing.T) {
	t.Parallel()
	b := memory(t)
	var wg sync.WaitGroup
	var mu sync.Mutex
	fresh := map[string]int{}
	for i := range 64 {
		wg.Go(func() {
			id := fmt.Sprint("m", i%8)
			ok, err := b.Put(context.Background(), said(id), fmt.Sprint("event-", i))
			assert.NoError(t, err)
			mu.Lock()
			defer mu.Unlock()
			if ok {
				fresh[id]++
			}
		})
	}
	wg.Wait()
	assert.Len(t, fresh, 8)
	for id, n := range fresh {
		assert.Equal(t, 1, n, id)
	}
	assert.Len(t, ids(t, b), 8)
}

func TestSweepForgetsOnlyFinishedAndOld(t *testing.T) {
	t.Parallel()
	b, ctx := memory(t), t.Context()
	for _, id := range []string{"sent", "silent", "unsent", "pending"} {
		put(t, b, said(id), "client-"+id)
	}
	require.NoError(t, b.Done(ctx, "sent", &say.Reply{Text: "ok"}))
	require.NoError(t, b.Sent(ctx, "sent", "p"))
	require.NoError(t, b.Done(ctx, "silent", nil))
	require.NoError(t, b.Done(ctx, "unsent", &say.Reply{Text: "ok"}))

	n, err := b.Sweep(noon.Add(inbox.Remember))
	require.NoError(t, err)
	assert.Zero(t, n, "24 hours are remembered")
	n, err = b.Sweep(noon.Add(inbox.Remember + time.Second))
	require.NoError(t, err)
	assert.Equal(t, 2, n)

	assert.Equal(t, []string{"pending"}, ids(t, b))
	assert.False(t, put(t, b, said("pending")))
	assert.False(t, put(t, b, said("other"), "client-unsent"))
	assert.True(t, put(t, b, said("sent"), "client-sent"), "forgotten")
	out, err := b.Unsent(ctx)
	require.NoError(t, err)
	assert.Len(t, out, 1)
}

func TestSaveAndLoad(t *testing.T) {
	t.Parallel()
	b, ctx := memory(t), t.Context()
	_, ok, err := b.Load(ctx, "cursor")
	require.NoError(t, err)
	assert.False(t, ok)
	require.NoError(t, b.Save(ctx, "cursor", []byte("1")))
	require.NoError(t, b.Save(ctx, "cursor", []byte{}))
	v, ok, err := b.Load(ctx, "cursor")
	require.NoError(t, err)
	assert.True(t, ok, "empty is not absent")
	assert.Empty(t, v)
	require.NoError(t, b.Save(ctx, "cursor", nil))
	_, ok, err = b.Load(ctx, "cursor")
	require.NoError(t, err)
	assert.False(t, ok)
}

func TestCancelledContextStoresNothing(t *testing.T) {
	t.Parallel()
	b := memory(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := b.Put(ctx, said("a"))
	require.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, ids(t, b))
}

func TestRestartKeepsBothListsInOrder(t *testing.T) {
	t.Parallel()
	dir, ctx := t.TempDir(), t.Context()
	b, err := inbox.Open(dir)
	require.NoError(t, err)
	for _, id := range []string{"d", "c", "b", "a"} {
		put(t, b, said(id))
	}
	require.NoError(t, b.Done(ctx, "c", &say.Reply{Text: "ok"}))
	require.NoError(t, b.Close())
	require.ErrorIs(t, b.Done(ctx, "d", nil), inbox.ErrClosed)
	_, err = b.Pending(ctx)
	require.ErrorIs(t, err, inbox.ErrClosed)
	require.NoError(t, b.Close(), "closing twice is harmless")

	b, err = inbox.Open(dir)
	require.NoError(t, err)
	defer func() { assert.NoError(t, b.Close()) }()
	assert.False(t, put(t, b, said("c")))
	put(t, b, said("0"))
	assert.Equal(t, []string{"d", "b", "a", "0"}, ids(t, b))
	out, err := b.Unsent(ctx)
	require.NoError(t, err)
	require.Len(t, out, 1)
	assert.Equal(t, said("c"), out[0].Message)
}

func TestFolderInUseIsATypedError(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	b, err := inbox.Open(dir)
	require.NoError(t, err)
	defer func() { assert.NoError(t, b.Close()) }()
	_, err = inbox.Open(dir)
	var locked *inbox.LockedError
	require.ErrorAs(t, err, &locked)
	assert.Equal(t, dir, locked.Dir)
	assert.NotContains(t, err.Error(), "\n")
}

func BenchmarkPut(b *testing.B) {
	box, err := inbox.Open(b.TempDir())
	require.NoError(b, err)
	defer func() { require.NoError(b, box.Close()) }()
	b.SetParallelism(32)
	var n int64
	var mu sync.Mutex
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			mu.Lock()
			n++
			id := fmt.Sprint(n)
			mu.Unlock()
			if _, err := box.Put(context.Background(), said(id)); err != nil {
				b.Error(err)
			}
		}
	})
}

func TestWhatIsToldGoesStraightToTheOutbox(t *testing.T) {
	t.Parallel()
	b, ctx := memory(t), t.Context()
	fresh, err := b.Tell(ctx, said("n"), say.Reply{Text: "due"})
	require.NoError(t, err)
	assert.True(t, fresh)
	fresh, err = b.Tell(ctx, said("n"), say.Reply{Text: "due again"})
	require.NoError(t, err)
	assert.False(t, fresh)
	assert.Empty(t, ids(t, b), "it is nobody's to handle")
	out, err := b.Unsent(ctx)
	require.NoError(t, err)
	assert.Equal(t, []inbox.Entry{{Message: said("n"), Done: true, Reply: &say.Reply{Text: "due"}, Unsent: true}}, out)
	require.NoError(t, b.Sent(ctx, "n", "post-1"))
	e, _, err := b.Reply(ctx, "n")
	require.NoError(t, err)
	assert.Equal(t, "post-1", e.Posted)
	assert.False(t, e.Unsent)
	assert.False(t, put(t, b, said("n")), "IDs are one space")
}

func TestSweepForgetsOldValuesOfSingleMessages(t *testing.T) {
	t.Parallel()
	b, ctx := memory(t), t.Context()
	dated := func(age time.Duration) []byte {
		return fmt.Appendf(nil, `{"at":%q}`, noon.Add(-age).Format(time.RFC3339))
	}
	const day = 24 * time.Hour
	for name, value := range map[string][]byte{
		"message/old": dated(91 * day), "message/young": dated(89 * day), "notice/old": dated(91 * day), "notice/young": dated(day),
		"message/undated": []byte(`{"text":"x"}`), "message/odd": []byte("no JSON"), "place/old": dated(400 * day), "old": dated(400 * day),
	} {
		require.NoError(t, b.Save(ctx, name, value))
	}
	for range 2 {
		n, err := b.Sweep(noon)
		require.NoError(t, err)
		assert.Zero(t, n, "they are no messages")
		for name, want := range map[string]bool{
			"message/old": false, "message/young": true, "notice/old": false, "notice/young": true,
			"message/undated": true, "message/odd": true, "place/old": true, "old": true,
		} {
			_, ok, err := b.Load(ctx, name)
			require.NoError(t, err)
			assert.Equal(t, want, ok, name)
		}
	}
}
