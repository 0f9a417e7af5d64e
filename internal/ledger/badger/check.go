package badger

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"hash/maphash"

	"github.com/dgraph-io/badger/v4"

	"bayword/internal/ledger"
)

// Report is what Verify found in order.
type Report struct {
	Head     ledger.Head
	Requests uint64
}

// Verify reads everything there is: the checksums of the tables, the chain from
// the first entry to the head, that each request has its receipt and no receipt
// is too many, and the snapshot.
func (s *Store) Verify(ctx context.Context) (Report, error) {
	head, err := s.enter(ctx)
	if err != nil {
		return Report{}, err
	}
	defer s.leave()
	if err := s.checksums(); err != nil {
		return Report{}, err
	}
	requests, err := s.check(ctx, head, head)
	if err != nil {
		return Report{}, err
	}
	if _, _, err := s.Snapshot(ctx); err != nil {
		return Report{}, err
	}
	return Report{head, requests}, nil
}

func (s *Store) checksums() (err error) {
	defer caught(&err, nil)
	if err := s.db.VerifyChecksum(); err != nil {
		return &ledger.CorruptError{What: fmt.Sprintf("a table (%v); restore the data folder from a backup", err)}
	}
	return nil
}

// check walks the chain to the head, past the place kept outside the database,
// and compares the requests met there with the receipts.
func (s *Store) check(ctx context.Context, head, kept ledger.Head) (requests uint64, err error) {
	met := newTally()
	var request []byte
	err = s.walk(ctx, 1, head, func(seq uint64, record []byte) error {
		if seq == kept.Seq && !bytes.HasSuffix(record, kept.Hash[:]) {
			return &ledger.CorruptError{Seq: seq, What: "its hash is not that in the head file; restore the data folder from a backup"}
		}
		id, err := ledger.RecordRequest(record)
		if err != nil {
			return &ledger.CorruptError{Seq: seq, What: err.Error()}
		}
		if !bytes.Equal(id, request) { // a batch's entries stand together
			request = append(request[:0], id...)
			met.add(id, seq)
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	found, err := s.receipts(ctx, head, met.seed)
	if err != nil {
		return 0, err
	}
	if found != met {
		return 0, &ledger.CorruptError{What: fmt.Sprintf("%d receipts for %d requests, or not the same ones; restore the data folder from a backup", found.n, met.n)}
	}
	return met.n, nil
}

// receipts tallies all that there are.
func (s *Store) receipts(ctx context.Context, head ledger.Head, seed maphash.Seed) (t tally, err error) {
	defer caught(&err, nil)
	t.seed = seed
	txn := s.db.NewTransactionAt(head.Seq, false)
	defer txn.Discard()
	it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{receiptPrefix}})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		if t.n%256 == 0 && ctx.Err() != nil {
			return t, ctx.Err()
		}
		id := it.Item().Key()[1:]
		err := it.Item().Value(func(value []byte) error {
			firstSeq, err := checkReceipt(id, value)
			t.add(id, firstSeq)
			return err
		})
		if err != nil {
			return t, err
		}
	}
	return t, nil
}

// tally is a count and a sum of hashes: equal for the same requests in any order,
// and for others hardly ever.
type tally struct {
	seed maphash.Seed
	n    uint64
	sum  uint64
}

func newTally() tally { return tally{seed: maphash.MakeSeed()} }

func (t *tally) add(requestID []byte, firstSeq uint64) {
	var buf [ledger.MaxRequestID + 8]byte
	b := binary.BigEndian.AppendUint64(buf[:0], firstSeq)
	t.n++
	t.sum += maphash.Bytes(t.seed, append(b, requestID...))
}
