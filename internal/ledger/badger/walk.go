package badger

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/dgraph-io/badger/v4"

	"bayword/internal/ledger"
)

// walk checks sequence and chain of the entries from one to another, as they are
// at a version, and gives each record to fn. A record is valid during the call only.
func (s *Store) walk(ctx context.Context, version, from, to uint64, fn func(seq uint64, record []byte) error) (err error) {
	if from > to {
		return nil
	}
	inFn := false // a panic there is the caller's own
	defer caught(&err, func() bool { return inFn })

	txn := s.db.NewTransactionAt(version, false)
	defer txn.Discard()
	prev, err := place(txn, from-1)
	if err != nil {
		return err
	}
	// Values stand beside their keys: without prefetching they are read in place.
	it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{entryPrefix}})
	defer it.Close()
	var scratch []byte
	for it.Seek(entryKey(from)); prev.Seq < to && it.Valid(); it.Next() {
		if prev.Seq%256 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if s.isClosed() {
				return ledger.ErrClosed
			}
		}
		key := it.Item().Key()
		if len(key) != 9 {
			return &ledger.CorruptError{Seq: prev.Seq + 1, What: fmt.Sprintf("its key is %q", key)}
		}
		err := it.Item().Value(func(record []byte) (err error) {
			prev, scratch, err = ledger.NextRecord(prev, binary.BigEndian.Uint64(key[1:]), record, scratch)
			if err != nil {
				return err
			}
			inFn = true
			err = fn(prev.Seq, record)
			inFn = false
			return err
		})
		if err != nil {
			return err
		}
	}
	if prev.Seq != to {
		return &ledger.CorruptError{Seq: prev.Seq + 1, What: fmt.Sprintf("missing, and there should be %d; restore the data folder from a backup", to)}
	}
	return nil
}

// place is the chain's place at seq, as the entry there says.
func place(txn *badger.Txn, seq uint64) (ledger.Head, error) {
	if seq == 0 {
		return ledger.Head{}, nil
	}
	item, err := txn.Get(entryKey(seq))
	if errors.Is(err, badger.ErrKeyNotFound) {
		return ledger.Head{}, &ledger.CorruptError{Seq: seq, What: "missing; restore the data folder from a backup"}
	}
	if err != nil {
		return ledger.Head{}, fmt.Errorf("ledger: entry %d: %w", seq, err)
	}
	place := ledger.Head{Seq: seq}
	err = item.Value(func(record []byte) error {
		if len(record) < len(place.Hash) {
			return &ledger.CorruptError{Seq: seq, What: "its record is cut; restore the data folder from a backup"}
		}
		place.Hash = ledger.Hash(record[len(record)-len(place.Hash):])
		return nil
	})
	return place, err
}

// last is the place of the last entry in the database.
func last(db *badger.DB) (head ledger.Head, err error) {
	defer caught(&err, nil)
	txn := db.NewTransactionAt(latest, false)
	defer txn.Discard()
	it := txn.NewIterator(badger.IteratorOptions{Reverse: true})
	defer it.Close()
	it.Seek(entryKey(math.MaxUint64))
	if !it.ValidForPrefix([]byte{entryPrefix}) {
		return head, nil
	}
	key := it.Item().Key()
	if len(key) != 9 {
		return head, &ledger.CorruptError{What: fmt.Sprintf("a key is %q; restore the data folder from a backup", key)}
	}
	return place(txn, binary.BigEndian.Uint64(key[1:]))
}

// caught turns a panic of Badger, which is its way to say that a block cannot be
// read, into a *CorruptError. Others' panics go on.
func caught(err *error, others func() bool) {
	if others != nil && others() {
		return
	}
	if p := recover(); p != nil {
		*err = &ledger.CorruptError{What: fmt.Sprintf("the database cannot be read (%v); restore the data folder from a backup", p)}
	}
}
