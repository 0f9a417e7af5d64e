package badger_test

import (
	"context"
	"errors"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/ledger/storetest"
)

func TestStore(t *testing.T) {
	t.Parallel()
	storetest.Run(t, func(t testing.TB) (ledger.Store, func() ledger.Store) {
		dir := t.TempDir()
		open := func() ledger.Store { return open(t, dir) }
		return open(), open
	})
}

// open opens a store that makes no ballast. A process that another test is just
// starting holds a copy of the lock for a moment.
func open(t testing.TB, dir string) *badger.Store {
	t.Helper()
	s, err := badger.Open(dir, badger.Options{NoBallast: true})
	for range 100 {
		if !errors.Is(err, badger.ErrLocked) {
			break
		}
		time.Sleep(20 * time.Millisecond)
		s, err = badger.Open(dir, badger.Options{NoBallast: true})
	}
	require.NoError(t, err)
	return s
}

// After a failure in the midst of an append the store takes no more, whatever the
// database holds; opened again it tells what was kept.
func TestStoreFails(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	dir := t.TempDir()
	s := open(t, dir)
	require.NoError(t, s.BreakHeadFile())
	batches := storetest.Sealed(ledger.Head{}, storetest.Batch("a", 1))
	assert.ErrorIs(t, s.Append(ctx, 0, batches), ledger.ErrStoreFailed)
	assert.ErrorIs(t, s.Append(ctx, 0, batches), ledger.ErrStoreFailed)
	assert.ErrorIs(t, s.Ready(ctx), ledger.ErrStoreFailed)
	assert.Empty(t, storetest.All(t, s), "what is not acknowledged is not shown")
	assert.ErrorIs(t, s.Close(), os.ErrClosed)

	s = open(t, dir)
	assert.Len(t, storetest.All(t, s), 1, "here the commit had succeeded")
	require.NoError(t, s.Close())
}

func TestVerifyReports(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s := open(t, t.TempDir())
	report, err := s.Verify(ctx)
	require.NoError(t, err)
	assert.Zero(t, report)
	batches := storetest.Sealed(ledger.Head{}, storetest.Batch("a", 2), storetest.Batch("b", 3))
	require.NoError(t, s.Append(ctx, 0, batches))
	report, err = s.Verify(ctx)
	require.NoError(t, err)
	assert.Equal(t, badger.Report{Head: ledger.Head{Seq: 5, Hash: batches[1].Entries[2].Hash}, Requests: 2}, report)
	require.NoError(t, s.Close())
	_, err = s.Verify(ctx)
	assert.ErrorIs(t, err, ledger.ErrClosed)
}
