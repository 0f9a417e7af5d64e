package inbox

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/dgraph-io/badger/v4"
)

const (
	maxBatch  = 256      // operations in one commit
	minFree   = 64 << 20 // bytes; below it writes are refused, since a full disk kills the process
	freeEvery = 100 * time.Millisecond
)

// op is one change that waits for its commit.
type op struct {
	ctx context.Context
	run func(*badger.Txn) error
	err chan error
}

// do hands a change to the writer and waits until it is durable. The change
// may be run more than once; the last run counts.
func (b *Inbox) do(ctx context.Context, run func(*badger.Txn) error) error {
	o := &op{ctx: ctx, run: run, err: make(chan error, 1)}
	select {
	case b.ops <- o:
	case <-ctx.Done():
		return ctx.Err()
	case <-b.quit:
		return ErrClosed
	}
	// No way out here by the context: the change would still be running when
	// its caller has gone. A commit takes milliseconds.
	return <-o.err
}

// write is the one writer: it commits all that wait together, because the
// store itself syncs once a transaction.
func (b *Inbox) write() {
	defer close(b.done)
	var broken error // a failed commit has an unknown outcome: nothing more is written
	var looked time.Time
	var full error
	for {
		var batch []*op
		select {
		case o := <-b.ops:
			batch = append(batch, o)
		case <-b.quit:
			return
		}
	gather:
		for len(batch) < maxBatch {
			select {
			case o := <-b.ops:
				batch = append(batch, o)
			default:
				break gather
			}
		}
		if now := time.Now(); b.dir != "" && now.Sub(looked) > freeEvery {
			looked, full = now, nil
			if n, ok := freeBytes(b.dir); ok && n < minFree {
				full = fmt.Errorf("%w (%d MB left)", ErrDiskFull, n>>20)
			}
		}
		switch {
		case broken != nil:
			finish(batch, broken)
		case full != nil:
			finish(batch, full)
		default:
			broken = b.commit(batch)
		}
	}
}

// commit runs the changes in one transaction. A change that fails is left out
// by running the others again without it; what does not fit in one transaction
// is split. It returns the error of a failed commit.
func (b *Inbox) commit(batch []*op) error {
	for len(batch) > 0 {
		txn := b.db.NewTransaction(true)
		failed := -1
		var err error
		for i, o := range batch {
			if err = o.ctx.Err(); err == nil {
				err = o.run(txn)
			}
			if err != nil {
				failed = i
				break
			}
		}
		switch {
		case failed < 0:
			if err := txn.Commit(); err != nil {
				err = fmt.Errorf("the commit failed, so what it holds is unknown; open the inbox again: %w", err)
				finish(batch, err)
				return err
			}
			finish(batch, nil)
			return nil
		case errors.Is(err, badger.ErrTxnTooBig) && failed > 0:
			txn.Discard()
			if err := b.commit(batch[:failed]); err != nil {
				finish(batch[failed:], err)
				return err
			}
			batch = batch[failed:]
		default:
			txn.Discard()
			batch[failed].err <- err
			batch = append(batch[:failed:failed], batch[failed+1:]...)
		}
	}
	return nil
}

func finish(batch []*op, err error) {
	for _, o := range batch {
		o.err <- err
	}
}
