// Package storetest is the suite every ledger.Store passes. It may import the
// ledger, testify and rapid.
package storetest

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
)

// Opener gives an empty store, which the suite closes. reopen, for a store that
// keeps what it has, opens the same one again after it was closed; else it is nil.
type Opener func(t testing.TB) (store ledger.Store, reopen func() ledger.Store)

// Run runs the suite.
func Run(t *testing.T, open Opener) {
	for name, test := range map[string]func(*testing.T, Opener){
		"a new store is empty":                        testEmpty,
		"what is appended is read back in order":      testAppend,
		"an append on another head changes nothing":   testHeadMoved,
		"an unfit append changes nothing":             testUnfit,
		"a large append is kept whole":                testLarge,
		"a scan stops where it is told":               testScanStops,
		"a scan sees the head it began at":            testScanHead,
		"a request is found by its id":                testRequest,
		"a snapshot must be of the chain":             testSnapshot,
		"following yields old and new entries":        testFollow,
		"a closed store says so":                      testClosed,
		"an ended context is obeyed":                  testContext,
		"appends and reads at once":                   testConcurrent,
		"what was appended is there after opening":    testReopen,
		"any history reads back as in a simple model": testModel,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			test(t, open)
		})
	}
}

// Batch makes an unsealed batch of n entries; the same arguments make the same.
func Batch(requestID string, n int) ledger.Batch {
	b := ledger.Batch{
		RequestID:   requestID,
		Fingerprint: sha256.Sum256([]byte(requestID)),
		Response:    []byte("done: " + requestID),
	}
	for i := range n {
		b.Entries = append(b.Entries, ledger.Entry{
			At:      time.Date(2031, 4, 7, 9, 30, 0, i*int(time.Millisecond), time.UTC),
			Person:  "Wren",
			Channel: "bay-2",
			Message: "m-" + requestID,
			Kind:    "find_recorded",
			Payload: fmt.Appendf(nil, "%s, entry %d", requestID, i),
		})
	}
	return b
}

// Sealed seals the batches in turn onto head.
func Sealed(head ledger.Head, batches ...ledger.Batch) []ledger.Batch {
	for i := range batches {
		head = ledger.Seal(head, &batches[i])
	}
	return batches
}

// All reads the whole ledger.
func All(t testing.TB, s ledger.Store) []ledger.Entry {
	t.Helper()
	var all []ledger.Entry
	require.NoError(t, s.Scan(context.Background(), 0, func(e ledger.Entry) error {
		all = append(all, e)
		return nil
	}))
	return all
}

func openStore(t *testing.T, open Opener) ledger.Store {
	s, _ := open(t)
	t.Cleanup(func() { assert.NoError(t, s.Close()) })
	return s
}

func head(t testing.TB, s ledger.Store) ledger.Head {
	t.Helper()
	h, err := s.Head(context.Background())
	require.NoError(t, err)
	return h
}

// add seals batches onto the head, appends them and gives them back.
func add(t testing.TB, s ledger.Store, batches ...ledger.Batch) []ledger.Batch {
	t.Helper()
	h := head(t, s)
	batches = Sealed(h, batches...)
	require.NoError(t, s.Append(context.Background(), h.Seq, batches))
	return batches
}

func testEmpty(t *testing.T, open Opener) {
	s := openStore(t, open)
	ctx := context.Background()
	assert.Zero(t, head(t, s))
	assert.Empty(t, All(t, s))
	assert.NoError(t, s.Ready(ctx))
	_, found, err := s.Request(ctx, "never-sent")
	assert.NoError(t, err)
	assert.False(t, found)
	_, found, err = s.Snapshot(ctx)
	assert.NoError(t, err)
	assert.False(t, found)
}

func testAppend(t *testing.T, open Opener) {
	s := openStore(t, open)
	one := add(t, s, Batch("a", 1), Batch("b", 3))
	two := add(t, s, Batch("c", 2))

	want := append(append(one[0].Entries, one[1].Entries...), two[0].Entries...)
	assert.Equal(t, want, All(t, s))
	for i, e := range want {
		assert.EqualValues(t, i+1, e.Seq)
	}
	assert.Equal(t, ledger.Head{Seq: 6, Hash: want[5].Hash}, head(t, s))

	require.NoError(t, s.Append(context.Background(), 6, nil), "nothing to append is no error")
	assert.EqualValues(t, 6, head(t, s).Seq)
}

func testHeadMoved(t *testing.T, open Opener) {
	s := openStore(t, open)
	before := head(t, s)
	add(t, s, Batch("first", 1))
	late := Sealed(before, Batch("late", 1))
	assert.ErrorIs(t, s.Append(context.Background(), before.Seq, late), ledger.ErrHeadMoved)
	early := Sealed(ledger.Head{Seq: 7}, Batch("early", 1))
	assert.ErrorIs(t, s.Append(context.Background(), 7, early), ledger.ErrHeadMoved)
	assert.Len(t, All(t, s), 1)
}

func testUnfit(t *testing.T, open Opener) {
	s := openStore(t, open)
	ctx := context.Background()
	add(t, s, Batch("first", 1))
	h := head(t, s)
	batch := func(change func(*ledger.Batch)) []ledger.Batch {
		b := Sealed(h, Batch("good", 1), Batch("bad", 2))
		change(&b[1])
		return b
	}
	var unfit *ledger.BatchError
	for name, change := range map[string]func(*ledger.Batch){
		"no request id":        func(b *ledger.Batch) { b.RequestID = "" },
		"a long request id":    func(b *ledger.Batch) { b.RequestID = string(make([]byte, ledger.MaxRequestID+1)) },
		"another request's":    func(b *ledger.Batch) { b.Entries[1].RequestID = "other" },
		"no entry":             func(b *ledger.Batch) { b.Entries = nil },
		"a gap":                func(b *ledger.Batch) { b.Entries[1].Seq++ },
		"changed when sealed":  func(b *ledger.Batch) { b.Entries[0].Person = "Tarn" },
		"not sealed":           func(b *ledger.Batch) { *b = Batch("bad", 1) },
		"sealed onto another":  func(b *ledger.Batch) { ledger.Seal(ledger.Head{Seq: h.Seq + 1}, b) },
		"entries changed over": func(b *ledger.Batch) { b.Entries[0], b.Entries[1] = b.Entries[1], b.Entries[0] },
	} {
		assert.ErrorAs(t, s.Append(ctx, h.Seq, batch(change)), &unfit, name)
	}
	big := Batch("big", 1)
	big.Entries[0].Payload = make([]byte, ledger.MaxBatchBytes)
	assert.ErrorIs(t, s.Append(ctx, h.Seq, Sealed(h, Batch("good", 1), big)), ledger.ErrTooLarge)

	assert.Equal(t, h, head(t, s))
	assert.Len(t, All(t, s), 1)
	_, found, err := s.Request(ctx, "good")
	require.NoError(t, err)
	assert.False(t, found, "all or nothing")
}

// The bounds of an append are promised: each store takes them, whether the bytes
// are in a few entries or in many.
func testLarge(t *testing.T, open Opener) {
	s := openStore(t, open)
	var few []ledger.Batch
	for i := range 4 {
		b := Batch(fmt.Sprint("few-", i), 1)
		b.Entries[0].Payload = make([]byte, ledger.MaxBatchBytes-b.Size())
		few = append(few, b)
	}
	add(t, s, few...)

	var many []ledger.Batch
	for size := 0; ; {
		b := ledger.Batch{RequestID: fmt.Sprintf("%04d", len(many)), Entries: make([]ledger.Entry, 20)}
		if size += b.Size(); size > ledger.MaxAppendBytes {
			break
		}
		many = append(many, b)
	}
	add(t, s, many...)
	assert.Len(t, All(t, s), len(few)+20*len(many))
}

func testScanStops(t *testing.T, open Opener) {
	s := openStore(t, open)
	add(t, s, Batch("a", 4), Batch("b", 4))
	stop := errors.New("enough")
	var seen []uint64
	err := s.Scan(context.Background(), 3, func(e ledger.Entry) error {
		seen = append(seen, e.Seq)
		if e.Seq == 6 {
			return stop
		}
		return nil
	})
	assert.Same(t, stop, err)
	assert.Equal(t, []uint64{3, 4, 5, 6}, seen)
	assert.NoError(t, s.Scan(context.Background(), 9, func(ledger.Entry) error { return stop }), "past the head there is nothing")
	assert.PanicsWithValue(t, "mine", func() {
		_ = s.Scan(context.Background(), 1, func(ledger.Entry) error { panic("mine") })
	}, "a caller's panic is not taken for damage")
}

func testScanHead(t *testing.T, open Opener) {
	s := openStore(t, open)
	add(t, s, Batch("a", 3))
	n := 0
	require.NoError(t, s.Scan(context.Background(), 1, func(e ledger.Entry) error {
		n++
		add(t, s, Batch(fmt.Sprint("during-", e.Seq), 1))
		return nil
	}))
	assert.Equal(t, 3, n)
	assert.EqualValues(t, 6, head(t, s).Seq)
}

func testRequest(t *testing.T, open Opener) {
	s := openStore(t, open)
	silent := Batch("silent", 1)
	silent.Response = nil
	long := Batch("0123456789-0123456789-0123456789-012", 1)
	batches := add(t, s, Batch("a", 2), silent, long)
	for _, b := range batches {
		r, found, err := s.Request(context.Background(), b.RequestID)
		require.NoError(t, err)
		require.True(t, found, b.RequestID)
		assert.Equal(t, b.Fingerprint, r.Fingerprint)
		assert.Equal(t, string(b.Response), string(r.Response))
		assert.Equal(t, b.Entries[0].Seq, r.FirstSeq)
	}
	for _, id := range []string{"", "A", "a ", "aa", "silen"} {
		_, found, err := s.Request(context.Background(), id)
		assert.NoError(t, err)
		assert.False(t, found, id)
	}
}

func testSnapshot(t *testing.T, open Opener) {
	s := openStore(t, open)
	ctx := context.Background()
	b := add(t, s, Batch("a", 3))
	at := func(i int) ledger.Head { return ledger.Head{Seq: b[0].Entries[i].Seq, Hash: b[0].Entries[i].Hash} }
	large := make([]byte, 4<<20) // larger than any append
	large[1<<20] = 7
	for _, snap := range []ledger.Snapshot{{Head: at(1), Data: []byte("two")}, {Head: at(2), Data: large}, {Head: at(0), Data: []byte("one")}, {}} {
		require.NoError(t, s.SaveSnapshot(ctx, snap))
		got, found, err := s.Snapshot(ctx)
		require.NoError(t, err)
		require.True(t, found)
		assert.Equal(t, snap.Head, got.Head)
		assert.Equal(t, string(snap.Data), string(got.Data))
	}
	for _, wrong := range []ledger.Head{{Seq: 2}, {Seq: 2, Hash: at(0).Hash}, {Seq: 4, Hash: at(2).Hash}, {Hash: at(0).Hash}} {
		assert.ErrorIs(t, s.SaveSnapshot(ctx, ledger.Snapshot{Head: wrong}), ledger.ErrNotInChain)
	}
}

func testFollow(t *testing.T, open Opener) {
	s := openStore(t, open)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	add(t, s, Batch("old", 3))
	var seen []uint64
	for e, err := range s.Follow(ctx, 2) {
		if err != nil {
			assert.ErrorIs(t, err, context.Canceled)
			assert.Zero(t, e)
			break
		}
		seen = append(seen, e.Seq)
		switch e.Seq {
		case 3:
			go add(t, s, Batch("new", 2))
		case 5:
			cancel()
		}
	}
	assert.Equal(t, []uint64{2, 3, 4, 5}, seen)

	for e, err := range s.Follow(context.Background(), 1) {
		require.NoError(t, err)
		if e.Seq == 2 {
			break // leaving the loop is enough
		}
	}
}

func testClosed(t *testing.T, open Opener) {
	s, _ := open(t)
	ctx := context.Background()
	h := head(t, s)
	add(t, s, Batch("a", 1))
	following := make(chan error, 1)
	reached := make(chan struct{})
	go func() {
		for _, err := range s.Follow(ctx, 1) {
			if err != nil {
				following <- err
				return
			}
			close(reached)
		}
	}()
	<-reached
	require.NoError(t, s.Close())
	assert.ErrorIs(t, <-following, ledger.ErrClosed)

	_, err := s.Head(ctx)
	assert.ErrorIs(t, err, ledger.ErrClosed)
	_, _, err = s.Request(ctx, "a")
	assert.ErrorIs(t, err, ledger.ErrClosed)
	_, _, err = s.Snapshot(ctx)
	assert.ErrorIs(t, err, ledger.ErrClosed)
	assert.ErrorIs(t, s.SaveSnapshot(ctx, ledger.Snapshot{}), ledger.ErrClosed)
	assert.ErrorIs(t, s.Ready(ctx), ledger.ErrClosed)
	assert.ErrorIs(t, s.Append(ctx, h.Seq, Sealed(h, Batch("b", 1))), ledger.ErrClosed)
	assert.ErrorIs(t, s.Scan(ctx, 1, func(ledger.Entry) error { return nil }), ledger.ErrClosed)
	assert.ErrorIs(t, s.Close(), ledger.ErrClosed)
}

func testContext(t *testing.T, open Opener) {
	s := openStore(t, open)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	assert.ErrorIs(t, s.Append(ctx, 0, Sealed(ledger.Head{}, Batch("a", 1))), context.Canceled)
	assert.ErrorIs(t, s.Scan(ctx, 1, func(ledger.Entry) error { return nil }), context.Canceled)
	assert.ErrorIs(t, s.Ready(ctx), context.Canceled)
	_, _, err := s.Request(ctx, "a")
	assert.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, All(t, s))
}

func testConcurrent(t *testing.T, open Opener) {
	const appends, readers = 50, 4
	s := openStore(t, open)
	ctx, cancel := context.WithCancel(context.Background())
	var wg sync.WaitGroup
	for range readers {
		wg.Go(func() {
			next := uint64(1)
			for e, err := range s.Follow(ctx, 1) {
				if err != nil {
					assert.ErrorIs(t, err, context.Canceled)
					break
				}
				assert.Equal(t, next, e.Seq)
				_, found, err := s.Request(context.Background(), e.RequestID)
				assert.NoError(t, err)
				assert.True(t, found, "an entry is seen with its receipt")
				if next++; next > appends {
					break
				}
			}
			assert.EqualValues(t, appends+1, next)
		})
	}
	for i := range appends {
		add(t, s, Batch(fmt.Sprint("r", i), 1))
	}
	wg.Wait()
	cancel()
}

func testReopen(t *testing.T, open Opener) {
	s, reopen := open(t)
	if reopen == nil {
		require.NoError(t, s.Close())
		return // keeps nothing by design: see the opener
	}
	b := add(t, s, Batch("a", 2), Batch("b", 1))
	require.NoError(t, s.SaveSnapshot(context.Background(), ledger.Snapshot{Head: head(t, s), Data: []byte("state")}))
	for round := range 3 {
		want, h := All(t, s), head(t, s)
		require.NoError(t, s.Close())
		s = reopen()
		assert.Equal(t, want, All(t, s))
		assert.Equal(t, h, head(t, s))
		r, found, err := s.Request(context.Background(), "b")
		require.NoError(t, err)
		require.True(t, found)
		assert.Equal(t, ledger.Receipt{Fingerprint: b[1].Fingerprint, Response: b[1].Response, FirstSeq: 3}, r)
		snap, found, err := s.Snapshot(context.Background())
		require.NoError(t, err)
		require.True(t, found)
		assert.Equal(t, "state", string(snap.Data))
		add(t, s, Batch(fmt.Sprint("round-", round), 1))
	}
	require.NoError(t, s.Close())
}
