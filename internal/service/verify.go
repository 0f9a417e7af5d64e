package service

import (
	"context"
	"errors"
	"fmt"

	"bayword/internal/ledger"
	"bayword/internal/shop"
)

// Report says what Verify found to be right.
type Report struct {
	Entries     uint64 // replayed, with their chain
	Kinds       map[string]uint64
	HasSnapshot bool
	SnapshotSeq uint64 // the snapshot equals the replay there
}

// Verify replays the whole ledger from its first entry, checks the chain on the
// way, and compares with the snapshot. It writes nothing. The error is a
// *ledger.CorruptError when something does not hold.
func Verify(ctx context.Context, store ledger.Store) (Report, error) {
	r := Report{Kinds: map[string]uint64{}}
	snap, ok, err := store.Snapshot(ctx)
	var corrupt *ledger.CorruptError
	if err != nil && !errors.As(err, &corrupt) {
		return r, err
	}
	snapErr := err
	state := shop.New()
	err = store.Scan(ctx, 1, func(e ledger.Entry) error {
		meta, event, err := decode(e)
		if err != nil {
			return &ledger.CorruptError{Seq: e.Seq, What: err.Error()}
		}
		if _, err := state.Apply(meta, event); err != nil {
			return &ledger.CorruptError{Seq: e.Seq, What: err.Error()}
		}
		r.Entries++
		r.Kinds[e.Kind]++
		if ok && e.Seq == snap.Seq {
			return same(state, snap)
		}
		return nil
	})
	if err != nil {
		return r, err
	}
	if snapErr != nil {
		return r, fmt.Errorf("service: the ledger is whole, its snapshot is not (a start replaces it): %w", snapErr)
	}
	r.HasSnapshot, r.SnapshotSeq = ok, snap.Seq
	return r, nil
}

// same compares the replayed state with the snapshot of the same entry.
func same(state *shop.State, snap ledger.Snapshot) error {
	kept, err := shop.Restore(snap.Data)
	if err != nil {
		return nil //nolint:nilerr // of another version: a start folds the ledger instead
	}
	if ok, how := shop.Equal(state, kept); !ok {
		return &ledger.CorruptError{Seq: snap.Seq, What: "the snapshot is not what the ledger folds to: " + how}
	}
	return nil
}
