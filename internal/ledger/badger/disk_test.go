package badger_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/ledger/storetest"
)

const mb = 1 << 20

// disk is a disk whose room the test decides; the ballast in it takes its part.
type disk struct {
	free atomic.Int64
	dir  string
}

func (d *disk) look(string) (uint64, error) {
	free := d.free.Load()
	if free < 0 {
		return 0, errors.New("the disk is gone")
	}
	if info, err := os.Stat(filepath.Join(d.dir, "ballast")); err == nil {
		free -= info.Size()
	}
	return uint64(max(free, 0)), nil
}

func (d *disk) ballast() bool {
	_, err := os.Stat(filepath.Join(d.dir, "ballast"))
	return err == nil
}

func TestDiskFull(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	d := &disk{dir: t.TempDir()}
	d.free.Store(1000 * mb)
	opts := badger.Options{MinFree: 64 * mb, Ballast: 4 * mb, Free: d.look}
	s, err := badger.Open(d.dir, opts)
	require.NoError(t, err)
	assert.True(t, d.ballast(), "put aside while there is room")
	w, err := ledger.NewWriter(ctx, s, func([]ledger.Entry) {})
	require.NoError(t, err)
	defer w.Close()
	say := func(id string) error {
		_, _, err := w.Do(ctx, id, ledger.Hash{}, func(uint64) (ledger.Batch, error) { return storetest.Batch(id, 1), nil })
		return err
	}
	require.NoError(t, say("a"))

	d.free.Store(50 * mb)
	require.Eventually(t, func() bool { return s.Ready(ctx) != nil }, 10*time.Second, 10*time.Millisecond)
	assert.ErrorIs(t, s.Ready(ctx), ledger.ErrDiskFull)
	assert.ErrorIs(t, say("b"), ledger.ErrDiskFull)
	head, err := s.Head(ctx)
	require.NoError(t, err)
	assert.ErrorIs(t, s.Append(ctx, head.Seq, storetest.Sealed(head, storetest.Batch("c", 1))), ledger.ErrDiskFull)
	assert.ErrorIs(t, s.SaveSnapshot(ctx, ledger.Snapshot{Head: head}), ledger.ErrDiskFull)
	assert.False(t, d.ballast(), "given up for what Badger still has to write")
	assert.Len(t, storetest.All(t, s), 1, "reading goes on")
	_, found, err := s.Request(ctx, "a")
	assert.NoError(t, err)
	assert.True(t, found)

	d.free.Store(70 * mb) // more than the bound, but not enough to put the ballast back
	time.Sleep(150 * time.Millisecond)
	assert.ErrorIs(t, say("b"), ledger.ErrDiskFull)

	d.free.Store(1000 * mb)
	require.Eventually(t, func() bool { return s.Ready(ctx) == nil }, 10*time.Second, 10*time.Millisecond)
	assert.NoError(t, say("b"), "it goes on without a restart")
	assert.True(t, d.ballast())

	d.free.Store(-1)
	require.Eventually(t, func() bool { return s.Ready(ctx) != nil }, 10*time.Second, 10*time.Millisecond)
	assert.ErrorContains(t, say("d"), "the disk is gone")
	d.free.Store(1000 * mb)
	require.NoError(t, s.Close())

	d.free.Store(20 * mb)
	_, err = badger.Open(d.dir, opts)
	assert.ErrorIs(t, err, ledger.ErrDiskFull, "Badger would need room to open")
	d.free.Store(1000 * mb)
	s, err = badger.Open(d.dir, opts)
	require.NoError(t, err)
	assert.Len(t, storetest.All(t, s), 2)
	require.NoError(t, s.Close())
}
