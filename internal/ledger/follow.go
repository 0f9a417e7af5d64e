package ledger

import (
	"context"
	"errors"
	"iter"
)

// scanner is the part of a Store that Follow reads by.
type scanner interface {
	Scan(ctx context.Context, from uint64, fn func(Entry) error) error
}

// Follow is how a store may provide Store.Follow: scan to the head, wait for a
// change, scan on. changed gives a channel that is closed by the next append (or
// by Close, after which Scan gives ErrClosed).
func Follow(ctx context.Context, s scanner, from uint64, changed func() <-chan struct{}) iter.Seq2[Entry, error] {
	left := errors.New("loop left")
	return func(yield func(Entry, error) bool) {
		next := max(from, 1)
		for {
			wake := changed() // taken before the scan, so that no append falls between
			err := s.Scan(ctx, next, func(e Entry) error {
				next = e.Seq + 1
				if !yield(e, nil) {
					return left
				}
				return nil
			})
			if err == left { //nolint:errorlint // our own value, passed through as it is
				return
			}
			if err != nil {
				yield(Entry{}, err)
				return
			}
			select {
			case <-wake:
			case <-ctx.Done():
				yield(Entry{}, ctx.Err())
				return
			}
		}
	}
}
