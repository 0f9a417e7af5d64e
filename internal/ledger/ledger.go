// Package ledger keeps what was decided, in order, for good: an append-only
// sequence of entries, each chained to the one before it by a hash, with what is
// needed to answer a repeated request the same way again.
//
// The ledger knows nothing of the shop: a payload is bytes to it. State is a fold
// over the entries, kept by the caller; decisions are made on that state by the
// one Writer, never by looking into the store.
//
// It imports nothing of the module. A store on disk is in ledger/badger, the
// suite every store passes in ledger/storetest.
package ledger

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"iter"
	"time"
)

// Bounds of what one Append takes. They fit a Badger transaction with an 8 MB
// memtable (15 % of it) and an etcd one (1.5 MiB).
const (
	MaxRequestID   = 36        // bytes in a request id
	MaxBatchBytes  = 256 << 10 // of one batch, see Batch.Size
	MaxAppendBytes = 1 << 20   // of all batches of one Append together
)

// Hash is a SHA-256.
type Hash = [sha256.Size]byte

// Entry is one record. Once appended it never changes; who gets one from a store
// must not write to its Payload.
type Entry struct {
	Seq       uint64    // 1 for the first, then without a gap
	At        time.Time // when it was decided; UTC, whole milliseconds
	Person    string    // who said it
	Channel   string    // where
	Message   string    // the id of the message it came from
	RequestID string    // the batch it belongs to
	Kind      string    // what it records, as "find_recorded"
	Payload   []byte    // opaque here
	Hash      Hash      // over the hash of the entry before and all the fields above
}

// Batch is all that one request appended. It becomes durable whole or not at all.
type Batch struct {
	RequestID   string // unique in the ledger, 1 to MaxRequestID bytes
	Fingerprint Hash   // SHA-256 of the request, to tell a repeat from a reused id
	Entries     []Entry
	Response    []byte // given again when the request is repeated
}

// Receipt is what the ledger remembers of a request.
type Receipt struct {
	Fingerprint Hash
	Response    []byte
	FirstSeq    uint64 // of the batch's first entry
}

// Head is a place in the chain: the last entry's sequence number and hash. The
// zero Head is that of an empty ledger.
type Head struct {
	Seq  uint64
	Hash Hash
}

// Snapshot is the folded state as of one entry. It is only an abridgement of the
// ledger: it may be trusted when its Hash is the hash of the entry at its Seq.
type Snapshot struct {
	Head
	Data []byte
}

// Store keeps the ledger. All methods may be called at the same time. Reading
// sees only what is durable. After an error of Append other than those named
// there, it is unknown whether the batches were kept: the store must be closed
// and opened again, and the request repeated with the same id.
type Store interface {
	// Append makes all the batches durable, or none, before it returns. They must
	// have been sealed, one after the other, onto the head with sequence number
	// expectedHead. With another head it appends nothing and returns ErrHeadMoved;
	// a batch that is no batch gives a *BatchError, too much at once ErrTooLarge,
	// too little room ErrDiskFull: nothing is appended then.
	//
	// It does not look for a request id used before: the caller has done so with
	// Request at this very head.
	Append(ctx context.Context, expectedHead uint64, batches []Batch) error

	// Ready is nil while the store expects to take an Append, ErrDiskFull when it
	// would refuse. It is asked before anything is decided.
	Ready(ctx context.Context) error

	// Head is the last durable entry's place.
	Head(ctx context.Context) (Head, error)

	// Scan calls fn with each entry from sequence number from (0 and 1: the first)
	// to the head as it was when Scan began, in order, until fn returns an error,
	// which Scan returns as it is. Sequence and chain are checked on the way: a gap
	// or a wrong hash ends the scan with a *CorruptError.
	Scan(ctx context.Context, from uint64, fn func(Entry) error) error

	// Follow yields the entries from sequence number from, then each new one once
	// it is durable, until the loop is left or ctx ends. The last pair has an error
	// (ctx's, ErrClosed or a *CorruptError) and no entry.
	Follow(ctx context.Context, from uint64) iter.Seq2[Entry, error]

	// Request finds what was appended under a request id; false if nothing was.
	Request(ctx context.Context, requestID string) (Receipt, bool, error)

	// SaveSnapshot replaces the snapshot. One that is not of this chain is refused
	// with ErrNotInChain.
	SaveSnapshot(ctx context.Context, s Snapshot) error

	// Snapshot gives the last snapshot saved, false if there is none. One that is
	// damaged or not of this chain is a *CorruptError: the caller may go on by
	// folding from the first entry.
	Snapshot(ctx context.Context) (Snapshot, bool, error)

	// Close waits for what is under way. Every later call gives ErrClosed.
	Close() error
}

// What a caller may decide by. The store's words for each say what to do.
var (
	ErrHeadMoved     = errors.New("ledger: the head is not where it was expected")
	ErrTooLarge      = fmt.Errorf("ledger: more than %d KiB in one request or %d KiB in one append", MaxBatchBytes>>10, MaxAppendBytes>>10)
	ErrDiskFull      = errors.New("ledger: the disk is nearly full; free some space, then say it again")
	ErrClosed        = errors.New("ledger: closed")
	ErrNotInChain    = errors.New("ledger: the snapshot's hash is not the chain's at its sequence number")
	ErrRequestReused = errors.New("ledger: the request id was used before for another request")
	ErrStoreFailed   = errors.New("ledger: the store failed, so it is unknown whether this was kept; restart, then repeat it with the same request id")
)

// CorruptError says that what is stored is not what was appended.
type CorruptError struct {
	Seq  uint64 // the first entry in doubt, 0 when it is not one entry
	What string // in words, with what to do
}

func (e *CorruptError) Error() string {
	if e.Seq == 0 {
		return "ledger: damaged: " + e.What
	}
	return fmt.Sprintf("ledger: damaged at entry %d: %s", e.Seq, e.What)
}

// BatchError says why a batch cannot be appended.
type BatchError struct {
	RequestID string
	What      string
}

func (e *BatchError) Error() string {
	return fmt.Sprintf("ledger: request %q: %s", e.RequestID, e.What)
}
