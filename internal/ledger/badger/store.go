package badger

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"iter"
	"sync"

	"github.com/dgraph-io/badger/v4"

	"bayword/internal/ledger"
)

const (
	entryPrefix   = 'e'
	receiptPrefix = 'r'
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Store is a ledger.Store in a folder. Open makes one.
type Store struct {
	dir      string
	db       *badger.DB
	headFile *headFile
	guard    *guard

	append sync.Mutex // held through an append, and a snapshot's saving

	mu       sync.Mutex // guards what follows
	head     ledger.Head
	broken   error         // what a commit failed with: nothing more is appended
	changed  chan struct{} // closed and replaced by each append, closed for good by Close
	closed   bool
	underWay sync.WaitGroup // calls that use db; none is added once closed
}

var _ ledger.Store = (*Store)(nil)

// enter begins a call that uses the database; leave must follow when err is nil.
func (s *Store) enter(ctx context.Context) (ledger.Head, error) {
	if err := ctx.Err(); err != nil {
		return ledger.Head{}, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return ledger.Head{}, ledger.ErrClosed
	}
	s.underWay.Add(1)
	return s.head, nil
}

func (s *Store) leave() { s.underWay.Done() }

// Append is one synced transaction.
func (s *Store) Append(ctx context.Context, expectedHead uint64, batches []ledger.Batch) error {
	s.append.Lock()
	defer s.append.Unlock()
	head, err := s.enter(ctx)
	if err != nil {
		return err
	}
	defer s.leave()
	if err := s.failed(); err != nil {
		return err
	}
	next, err := ledger.CheckAppend(head, expectedHead, batches)
	if err != nil || len(batches) == 0 {
		return err
	}
	if err := s.guard.check(0); err != nil {
		return err
	}
	txn := s.db.NewTransactionAt(head.Seq, true)
	defer txn.Discard()
	if err := put(txn, batches); err != nil {
		if errors.Is(err, badger.ErrTxnTooBig) {
			return fmt.Errorf("%w: %d batches", ledger.ErrTooLarge, len(batches))
		}
		return fmt.Errorf("ledger: append after entry %d: %w", head.Seq, err)
	}
	if err := txn.CommitAt(next.Seq, nil); err != nil {
		return s.fail(err)
	}
	if err := s.headFile.write(next); err != nil {
		return s.fail(err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.head = next
	close(s.changed)
	s.changed = make(chan struct{})
	return nil
}

// fail notes that it is unknown what the database holds.
func (s *Store) fail(err error) error {
	s.mu.Lock()
	s.broken = err
	s.mu.Unlock()
	return s.failed()
}

func (s *Store) failed() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.broken == nil {
		return nil
	}
	return fmt.Errorf("%w: %w", ledger.ErrStoreFailed, s.broken)
}

func put(txn *badger.Txn, batches []ledger.Batch) error {
	for i := range batches {
		b := &batches[i]
		if err := txn.Set(receiptKey(b.RequestID), receiptValue(b)); err != nil {
			return err
		}
		for j := range b.Entries {
			e := &b.Entries[j]
			if err := txn.Set(entryKey(e.Seq), ledger.AppendRecord(nil, e)); err != nil {
				return err
			}
		}
	}
	return nil
}

// Ready is about the disk's room and the last commit's success.
func (s *Store) Ready(ctx context.Context) error {
	if _, err := s.enter(ctx); err != nil {
		return err
	}
	defer s.leave()
	if err := s.failed(); err != nil {
		return err
	}
	return s.guard.check(readyMargin)
}

// Head is the last durable entry's place.
func (s *Store) Head(ctx context.Context) (ledger.Head, error) {
	head, err := s.enter(ctx)
	if err != nil {
		return head, err
	}
	s.leave()
	return head, nil
}

// Scan reads from the database as of the head at its beginning.
func (s *Store) Scan(ctx context.Context, from uint64, fn func(ledger.Entry) error) error {
	head, err := s.enter(ctx)
	if err != nil {
		return err
	}
	defer s.leave()
	var decode ledger.Decoder
	return s.walk(ctx, head.Seq, max(from, 1), head.Seq, func(seq uint64, record []byte) error {
		e, err := decode.Record(record)
		if err != nil {
			return &ledger.CorruptError{Seq: seq, What: err.Error()}
		}
		return fn(e)
	})
}

// Follow scans, and scans on after each append.
func (s *Store) Follow(ctx context.Context, from uint64) iter.Seq2[ledger.Entry, error] {
	return ledger.Follow(ctx, s, from, func() <-chan struct{} {
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.changed
	})
}

// Request looks up a receipt.
func (s *Store) Request(ctx context.Context, requestID string) (r ledger.Receipt, found bool, err error) {
	head, err := s.enter(ctx)
	if err != nil {
		return r, false, err
	}
	defer s.leave()
	defer caught(&err, nil)
	txn := s.db.NewTransactionAt(head.Seq, false)
	defer txn.Discard()
	item, err := txn.Get(receiptKey(requestID))
	if errors.Is(err, badger.ErrKeyNotFound) {
		return r, false, nil
	}
	if err == nil {
		err = item.Value(func(value []byte) error {
			r, err = parseReceipt(requestID, value)
			return err
		})
	}
	if err != nil {
		return ledger.Receipt{}, false, fmt.Errorf("ledger: request %q: %w", requestID, err)
	}
	return r, true, nil
}

// Close waits for the calls under way; scans end early.
func (s *Store) Close() error {
	s.mu.Lock()
	if s.closed {
		s.mu.Unlock()
		return ledger.ErrClosed
	}
	s.closed = true
	close(s.changed)
	s.mu.Unlock()
	s.underWay.Wait()
	return errors.Join(s.db.Close(), s.headFile.close())
}

func (s *Store) isClosed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.closed
}

func entryKey(seq uint64) []byte {
	return binary.BigEndian.AppendUint64([]byte{entryPrefix}, seq)
}

func receiptKey(requestID string) []byte {
	return append([]byte{receiptPrefix}, requestID...)
}

func receiptValue(b *ledger.Batch) []byte {
	v := make([]byte, 0, len(b.Fingerprint)+8+len(b.Response)+4)
	v = append(v, b.Fingerprint[:]...)
	v = binary.BigEndian.AppendUint64(v, b.Entries[0].Seq)
	v = append(v, b.Response...)
	return binary.BigEndian.AppendUint32(v, receiptSum([]byte(b.RequestID), v))
}

func receiptSum(requestID, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(requestID, castagnoli), castagnoli, value)
}

// receiptFixed is what stands before the response.
const receiptFixed = sha256.Size + 8

// checkReceipt checks a receipt's value and gives its first sequence number.
func checkReceipt(requestID, v []byte) (firstSeq uint64, err error) {
	body := len(v) - 4
	if body < receiptFixed || binary.BigEndian.Uint32(v[body:]) != receiptSum(requestID, v[:body]) {
		return 0, &ledger.CorruptError{What: fmt.Sprintf("the receipt of request %q; restore the data folder from a backup", requestID)}
	}
	return binary.BigEndian.Uint64(v[sha256.Size:]), nil
}

func parseReceipt(requestID string, v []byte) (ledger.Receipt, error) {
	firstSeq, err := checkReceipt([]byte(requestID), v)
	if err != nil {
		return ledger.Receipt{}, err
	}
	return ledger.Receipt{
		Fingerprint: ledger.Hash(v[:sha256.Size]),
		Response:    bytes.Clone(v[receiptFixed : len(v)-4]),
		FirstSeq:    firstSeq,
	}, nil
}
