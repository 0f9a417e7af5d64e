package badger

import (
	"bytes"
	"cmp"
	"context"
	"encoding/binary"
	"fmt"
	"hash/maphash"
	"runtime"
	"sync"

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
// and compares the requests met there with the receipts. The chain is walked in
// parts at the same time: an entry's check needs only the entry before it.
func (s *Store) check(ctx context.Context, head, kept ledger.Head) (requests uint64, err error) {
	const worthwhile = 10_000 // entries in a part
	parts := min(uint64(runtime.GOMAXPROCS(0)), head.Seq/worthwhile+1)
	seed := maphash.MakeSeed()
	met, errs := make([]tally, parts), make([]error, parts)
	var wg sync.WaitGroup
	for i := range parts {
		wg.Go(func() {
			met[i], errs[i] = s.checkPart(ctx, head.Seq, head.Seq*i/parts+1, head.Seq*(i+1)/parts, kept, seed)
		})
	}
	wg.Wait()
	if err := cmp.Or(errs...); err != nil { // the first damage in the chain
		return 0, err
	}
	all := tally{seed: seed}
	for _, t := range met {
		all.n, all.sum = all.n+t.n, all.sum+t.sum
	}
	found, err := s.receipts(ctx, head.Seq, seed)
	if err != nil {
		return 0, err
	}
	if found != all {
		return 0, &ledger.CorruptError{What: fmt.Sprintf("%d receipts for %d requests, or not the same ones; restore the data folder from a backup", found.n, all.n)}
	}
	return all.n, nil
}

// checkPart walks a part of the chain and tallies the requests that begin there.
func (s *Store) checkPart(ctx context.Context, version, from, to uint64, kept ledger.Head, seed maphash.Seed) (tally, error) {
	t := tally{seed: seed}
	request, err := s.requestOf(version, from-1)
	if err != nil {
		return t, err
	}
	err = s.walk(ctx, version, from, to, func(seq uint64, record []byte) error {
		if seq == kept.Seq && !bytes.HasSuffix(record, kept.Hash[:]) {
			return &ledger.CorruptError{Seq: seq, What: "its hash is not that in the head file; restore the data folder from a backup"}
		}
		id, err := ledger.RecordRequest(record)
		if err != nil {
			return &ledger.CorruptError{Seq: seq, What: err.Error()}
		}
		if !bytes.Equal(id, request) { // a batch's entries stand together
			request = append(request[:0], id...)
			t.add(id, seq)
		}
		return nil
	})
	return t, err
}

// requestOf is the request id of an entry, nil for the place before the first.
func (s *Store) requestOf(version, seq uint64) (request []byte, err error) {
	if seq == 0 {
		return nil, nil
	}
	err = s.walk(context.Background(), version, seq, seq, func(_ uint64, record []byte) error {
		id, err := ledger.RecordRequest(record)
		request = bytes.Clone(id)
		return err
	})
	return request, err
}

// receipts tallies all that there are.
func (s *Store) receipts(ctx context.Context, version uint64, seed maphash.Seed) (t tally, err error) {
	defer caught(&err, nil)
	t.seed = seed
	txn := s.db.NewTransactionAt(version, false)
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

func (t *tally) add(requestID []byte, firstSeq uint64) {
	var buf [ledger.MaxRequestID + 8]byte
	b := binary.BigEndian.AppendUint64(buf[:0], firstSeq)
	t.n++
	t.sum += maphash.Bytes(t.seed, append(b, requestID...))
}
