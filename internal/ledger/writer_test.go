package ledger_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/storetest"
)

// slowStore is a memory store whose appends wait to be let go, and can fail.
type slowStore struct {
	*ledger.Memory
	entered chan int     // the number of batches of an append that has begun
	result  chan error   // what it shall end with
	ready   atomic.Value // error, what Ready gives
}

func newSlowStore() *slowStore {
	return &slowStore{Memory: ledger.NewMemory(), entered: make(chan int), result: make(chan error)}
}

func (s *slowStore) Append(ctx context.Context, head uint64, batches []ledger.Batch) error {
	s.entered <- len(batches)
	if err := <-s.result; err != nil {
		return err
	}
	return s.Memory.Append(ctx, head, batches)
}

func (s *slowStore) Ready(ctx context.Context) error {
	if err, ok := s.ready.Load().(error); ok {
		return err
	}
	return s.Memory.Ready(ctx)
}

func startWriter(t *testing.T, s ledger.Store, apply func([]ledger.Entry)) *ledger.Writer {
	w, err := ledger.NewWriter(context.Background(), s, apply)
	require.NoError(t, err)
	t.Cleanup(w.Close)
	return w
}

func ignore([]ledger.Entry) {}

// appending decides to append n entries.
func appending(id string, n int) func(uint64) (ledger.Batch, error) {
	return func(uint64) (ledger.Batch, error) { return storetest.Batch(id, n), nil }
}

func do(w *ledger.Writer, id string) (string, bool, error) {
	response, repeated, err := w.Do(context.Background(), id, storetest.Batch(id, 1).Fingerprint, appending(id, 1))
	return string(response), repeated, err
}

func TestWriterAppends(t *testing.T) {
	t.Parallel()
	s := ledger.NewMemory()
	var applied []ledger.Entry
	w := startWriter(t, s, func(e []ledger.Entry) { applied = append(applied, e...) })
	for i, id := range []string{"a", "b", "c"} {
		fingerprint := storetest.Batch(id, 1).Fingerprint
		response, repeated, err := w.Do(context.Background(), id, fingerprint, func(firstSeq uint64) (ledger.Batch, error) {
			assert.EqualValues(t, 1+2*i, firstSeq)
			return storetest.Batch("the id is filled in", 2), nil
		})
		require.NoError(t, err)
		assert.False(t, repeated)
		assert.Equal(t, "done: the id is filled in", string(response))
		r, found, err := s.Request(context.Background(), id)
		require.NoError(t, err)
		assert.True(t, found, "durable when answered")
		assert.Equal(t, fingerprint, r.Fingerprint)
	}
	assert.Equal(t, storetest.All(t, s), applied, "what was applied is what was kept, hashes too")
	assert.Len(t, applied, 6)
}

func TestWriterGoesOnFromTheHead(t *testing.T) {
	t.Parallel()
	s := ledger.NewMemory()
	for i := range 3 {
		w, err := ledger.NewWriter(context.Background(), s, ignore)
		require.NoError(t, err)
		_, _, err = do(w, fmt.Sprint("r", i))
		require.NoError(t, err)
		w.Close()
	}
	assert.Len(t, storetest.All(t, s), 3)
}

func TestWriterRepeats(t *testing.T) {
	t.Parallel()
	s := ledger.NewMemory()
	w := startWriter(t, s, ignore)
	first, _, err := do(w, "a")
	require.NoError(t, err)
	again, repeated, err := w.Do(context.Background(), "a", storetest.Batch("a", 1).Fingerprint, func(uint64) (ledger.Batch, error) {
		t.Error("a repeated request is not decided again")
		return ledger.Batch{}, nil
	})
	require.NoError(t, err)
	assert.True(t, repeated)
	assert.Equal(t, first, string(again))

	_, _, err = w.Do(context.Background(), "a", ledger.Hash{1}, appending("a", 1))
	assert.ErrorIs(t, err, ledger.ErrRequestReused)
	assert.Len(t, storetest.All(t, s), 1)
}

// While one commit is under way, others gather; they share the next one. Among
// them a repeat gets the response of the first, though that is not durable yet,
// and each decision sees the one before.
func TestWriterGathersWhileItCommits(t *testing.T) {
	t.Parallel()
	s := newSlowStore()
	total := 0 // the folded state, of the writer's goroutine
	w := startWriter(t, s, func(e []ledger.Entry) { total += len(e) })

	var wg sync.WaitGroup
	submit := func(id string, fingerprint ledger.Hash, check func(response []byte, repeated bool, err error)) {
		wg.Go(func() {
			check(w.Do(context.Background(), id, fingerprint, func(firstSeq uint64) (ledger.Batch, error) {
				b := storetest.Batch(id, 1)
				b.Response = fmt.Append(nil, "after ", total)
				assert.EqualValues(t, total+1, firstSeq)
				return b, nil
			}))
		})
	}
	submit("first", ledger.Hash{}, func(response []byte, _ bool, err error) {
		assert.NoError(t, err)
		assert.Equal(t, "after 0", string(response))
	})
	require.Equal(t, 1, <-s.entered)

	const others = 63
	var repeats, fresh atomic.Int32
	seen := make([]atomic.Bool, others+3)
	for i := range others {
		submit(fmt.Sprint("other-", i), ledger.Hash{}, func(response []byte, repeated bool, err error) {
			assert.NoError(t, err)
			var after int
			_, err = fmt.Sscanf(string(response), "after %d", &after)
			assert.NoError(t, err)
			assert.False(t, seen[after].Swap(true), "each decision has its own place: %d", after)
		})
	}
	for range 2 {
		submit("twin", ledger.Hash{}, func(_ []byte, repeated bool, err error) {
			assert.NoError(t, err)
			if repeated {
				repeats.Add(1)
			} else {
				fresh.Add(1)
			}
		})
	}
	var reused atomic.Int32
	for i := range 2 {
		submit("quarrel", ledger.Hash{byte(i)}, func(_ []byte, repeated bool, err error) {
			assert.False(t, repeated)
			if err != nil {
				assert.ErrorIs(t, err, ledger.ErrRequestReused)
				reused.Add(1)
			}
		})
	}
	for !w.Waits(others + 4) { // until all stand in the queue
	}
	s.result <- nil
	assert.Equal(t, others+2, <-s.entered, "one commit for all that waited, repeats left out")
	s.result <- nil
	wg.Wait()
	assert.EqualValues(t, 1, repeats.Load())
	assert.EqualValues(t, 1, fresh.Load())
	assert.EqualValues(t, 1, reused.Load(), "one id, two fingerprints: the second is told")
	assert.Len(t, storetest.All(t, s), others+3)
}

func TestWriterRefuses(t *testing.T) {
	t.Parallel()
	s := ledger.NewMemory()
	applied := 0
	w := startWriter(t, s, func([]ledger.Entry) { applied++ })
	ctx := context.Background()

	refusal := errors.New("only 4 l are left")
	_, _, err := w.Do(ctx, "refused", ledger.Hash{}, func(uint64) (ledger.Batch, error) { return storetest.Batch("x", 1), refusal })
	assert.Same(t, refusal, err)

	_, _, err = w.Do(ctx, "refused", ledger.Hash{}, func(uint64) (ledger.Batch, error) { panic("a rule's mistake") })
	var panicked *ledger.PanicError
	if assert.ErrorAs(t, err, &panicked) {
		assert.Equal(t, "a rule's mistake", panicked.Value)
		assert.Contains(t, string(panicked.Stack), "writer_test.go")
		assert.NotContains(t, err.Error(), "\n")
	}

	var unfit *ledger.BatchError
	_, _, err = w.Do(ctx, "refused", ledger.Hash{}, appending("x", 0))
	assert.ErrorAs(t, err, &unfit)
	_, _, err = w.Do(ctx, "", ledger.Hash{}, appending("x", 1))
	assert.ErrorAs(t, err, &unfit)

	_, _, err = w.Do(ctx, "refused", ledger.Hash{}, func(uint64) (ledger.Batch, error) {
		b := storetest.Batch("x", 1)
		b.Response = make([]byte, ledger.MaxBatchBytes)
		return b, nil
	})
	assert.ErrorIs(t, err, ledger.ErrTooLarge)

	_, repeated, err := do(w, "good")
	assert.Equal(t, 1, applied)
	assert.NoError(t, err, "none of them hurt the writer")
	assert.False(t, repeated)
	assert.Len(t, storetest.All(t, s), 1)
	_, repeated, err = do(w, "refused")
	assert.NoError(t, err, "a refused id may be used again")
	assert.False(t, repeated)
}

// Many large batches are more than one append takes: they go into several.
func TestWriterSplitsLargeGroups(t *testing.T) {
	t.Parallel()
	s := ledger.NewMemory()
	w := startWriter(t, s, ignore)
	var wg sync.WaitGroup
	for i := range 40 {
		wg.Go(func() {
			id := fmt.Sprint("large-", i)
			_, _, err := w.Do(context.Background(), id, ledger.Hash{}, func(uint64) (ledger.Batch, error) {
				b := storetest.Batch(id, 1)
				b.Response = make([]byte, ledger.MaxBatchBytes-1000)
				return b, nil
			})
			assert.NoError(t, err)
		})
	}
	wg.Wait()
	assert.Len(t, storetest.All(t, s), 40)
}

// After a commit that failed nobody knows what is kept: not those in it, and no
// one later, may be told anything else.
func TestWriterFailsForGood(t *testing.T) {
	t.Parallel()
	s := newSlowStore()
	w := startWriter(t, s, ignore)
	var wg sync.WaitGroup
	for _, id := range []string{"a", "b", "refused"} {
		wg.Go(func() {
			_, _, err := w.Do(context.Background(), id, ledger.Hash{}, func(uint64) (ledger.Batch, error) {
				if id == "refused" {
					// It may rest on what was decided just before in the same group.
					return ledger.Batch{}, errors.New("refused")
				}
				return storetest.Batch(id, 1), nil
			})
			if id != "refused" {
				assert.ErrorIs(t, err, ledger.ErrStoreFailed)
			}
			assert.Error(t, err)
		})
	}
	<-s.entered
	broken := errors.New("input/output error")
	s.result <- broken
	wg.Wait()
	_, _, err := do(w, "later")
	assert.ErrorIs(t, err, ledger.ErrStoreFailed)
	assert.ErrorIs(t, err, broken)
	_, _, err = do(w, "later")
	assert.ErrorIs(t, err, ledger.ErrStoreFailed)
	assert.Zero(t, len(storetest.All(t, s)))
}

func TestWriterFailsWhenApplyPanics(t *testing.T) {
	t.Parallel()
	s := ledger.NewMemory()
	w := startWriter(t, s, func([]ledger.Entry) { panic("half folded") })
	for range 2 {
		_, _, err := do(w, "a")
		assert.ErrorIs(t, err, ledger.ErrStoreFailed)
		assert.ErrorContains(t, err, "half folded")
	}
	assert.Empty(t, storetest.All(t, s))
}

// A store that will refuse is asked before anything is decided, so a full disk
// does not part the state from the store.
func TestWriterAsksTheStoreFirst(t *testing.T) {
	t.Parallel()
	s := newSlowStore()
	s.ready.Store(ledger.ErrDiskFull)
	w := startWriter(t, s, func([]ledger.Entry) { t.Error("nothing may be applied") })
	for range 3 {
		_, _, err := do(w, "a")
		assert.ErrorIs(t, err, ledger.ErrDiskFull)
		assert.NotErrorIs(t, err, ledger.ErrStoreFailed)
	}
}

func TestWriterObeysContexts(t *testing.T) {
	t.Parallel()
	s := newSlowStore()
	w := startWriter(t, s, ignore)
	ctx, cancel := context.WithCancel(context.Background())
	underWay, waiting := make(chan error), make(chan error)
	go func() {
		_, _, err := w.Do(ctx, "under way", ledger.Hash{}, appending("under way", 1))
		underWay <- err
	}()
	<-s.entered
	go func() {
		_, _, err := w.Do(ctx, "waiting", ledger.Hash{}, func(uint64) (ledger.Batch, error) {
			t.Error("who has left is not decided for")
			return ledger.Batch{}, nil
		})
		waiting <- err
	}()
	for !w.Waits(1) {
	}
	cancel()
	assert.ErrorIs(t, <-underWay, context.Canceled)
	assert.ErrorIs(t, <-waiting, context.Canceled)
	s.result <- nil
	_, _, err := w.Do(ctx, "too late", ledger.Hash{}, appending("too late", 1))
	assert.ErrorIs(t, err, context.Canceled)

	again := make(chan bool)
	go func() {
		_, repeated, err := w.Do(context.Background(), "under way", ledger.Hash{}, appending("under way", 1))
		assert.NoError(t, err)
		again <- repeated
	}()
	assert.True(t, <-again, "it was kept, and repeating tells so")
}

func TestWriterCloses(t *testing.T) {
	t.Parallel()
	s := newSlowStore()
	w := startWriter(t, s, ignore)
	var wg sync.WaitGroup
	wg.Go(func() {
		_, _, err := do(w, "under way")
		assert.NoError(t, err)
	})
	<-s.entered
	wg.Go(func() {
		_, _, err := do(w, "waiting")
		assert.NoError(t, err, "what waits when it closes is still done")
	})
	for !w.Waits(1) {
	}
	wg.Go(w.Close)
	s.result <- nil
	<-s.entered
	s.result <- nil
	wg.Wait()
	_, _, err := do(w, "late")
	assert.ErrorIs(t, err, ledger.ErrClosed)
	assert.NoError(t, s.Close(), "the store is the caller's")
}

// 64 callers for as long as it takes: everything is kept once, in fewer commits
// than requests.
func TestWriterSharesCommits(t *testing.T) {
	t.Parallel()
	const callers, each = 64, 50
	s := &counting{Memory: ledger.NewMemory()}
	w := startWriter(t, s, ignore)
	var wg sync.WaitGroup
	for c := range callers {
		wg.Go(func() {
			for i := range each {
				_, repeated, err := do(w, fmt.Sprint(c, "-", i))
				assert.NoError(t, err)
				assert.False(t, repeated)
			}
		})
	}
	wg.Wait()
	once := make(map[string]bool)
	for _, e := range storetest.All(t, s) {
		assert.False(t, once[e.RequestID])
		once[e.RequestID] = true
	}
	assert.Len(t, once, callers*each)
	assert.Less(t, s.appends.Load(), int64(callers*each))
}

type counting struct {
	*ledger.Memory
	appends atomic.Int64
}

func (c *counting) Append(ctx context.Context, head uint64, batches []ledger.Batch) error {
	c.appends.Add(1)
	return c.Memory.Append(ctx, head, batches)
}
