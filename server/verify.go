package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"bayword/internal/ledger/badger"
	"bayword/internal/service"
)

// verify replays the ledger, and compares what it folds to with the snapshot.
func verify(ctx context.Context, o options, stdout io.Writer) (err error) {
	if _, err := os.Stat(o.data); err != nil {
		return fmt.Errorf("there is no ledger to verify: %w", err)
	}
	store, err := badger.Open(o.data, badger.Options{})
	if err != nil {
		return openError(o.data, err)
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	kept, err := store.Verify(ctx)
	if err != nil {
		return openError(o.data, err)
	}
	r, err := service.Verify(ctx, store)
	if err != nil {
		return openError(o.data, err)
	}
	snapshot := "there is no snapshot"
	if r.HasSnapshot {
		snapshot = fmt.Sprintf("the snapshot equals the replay at entry %d", r.SnapshotSeq)
	}
	_, _ = fmt.Fprintf(stdout, "%d entries of %d requests: chain, receipts and replay are right; %s\n", r.Entries, kept.Requests, snapshot)
	return nil
}
