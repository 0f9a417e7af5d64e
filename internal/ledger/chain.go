package ledger

import (
	"crypto/sha256"
	"fmt"
	"time"
)

// Seal numbers and chains the batch's entries onto prev and returns the new head.
// It also gives them the batch's request id, and their time its stored precision.
func Seal(prev Head, b *Batch) Head {
	var buf []byte
	for i := range b.Entries {
		e := &b.Entries[i]
		e.Seq = prev.Seq + 1
		e.RequestID = b.RequestID
		e.At = time.UnixMilli(e.At.UnixMilli()).UTC()
		buf = appendFields(append(buf[:0], prev.Hash[:]...), e)
		e.Hash = sha256.Sum256(buf)
		prev = Head{e.Seq, e.Hash}
	}
	return prev
}

// Next checks that e follows prev and returns e's place. Otherwise the error is
// a *CorruptError.
func Next(prev Head, e *Entry) (Head, error) {
	if e.Seq != prev.Seq+1 {
		return prev, gap(prev, e.Seq)
	}
	buf := appendFields(append(make([]byte, 0, 512), prev.Hash[:]...), e)
	if sha256.Sum256(buf) != e.Hash {
		return prev, wrongHash(e.Seq)
	}
	return Head{e.Seq, e.Hash}, nil
}

// NextRecord is Next for an entry still in its stored form (see AppendRecord).
// It allocates nothing: scratch is returned grown, to be passed again.
func NextRecord(prev Head, seq uint64, record, scratch []byte) (Head, []byte, error) {
	if seq != prev.Seq+1 {
		return prev, scratch, gap(prev, seq)
	}
	if len(record) < sha256.Size {
		return prev, scratch, wrongHash(seq)
	}
	fields, hash := record[:len(record)-sha256.Size], Hash(record[len(record)-sha256.Size:])
	scratch = append(append(scratch[:0], prev.Hash[:]...), fields...)
	if sha256.Sum256(scratch) != hash {
		return prev, scratch, wrongHash(seq)
	}
	return Head{seq, hash}, scratch, nil
}

func gap(prev Head, seq uint64) error {
	return &CorruptError{Seq: prev.Seq + 1, What: fmt.Sprintf("missing, the next one found is %d; restore the data folder from a backup", seq)}
}

func wrongHash(seq uint64) error {
	return &CorruptError{Seq: seq, What: "its hash does not match; restore the data folder from a backup"}
}

// Size is about what the batch takes in a store, in bytes.
func (b *Batch) Size() int {
	const perEntry, perBatch = 96, 96 // numbers, lengths, hash, keys
	n := perBatch + len(b.RequestID) + len(b.Response)
	for i := range b.Entries {
		e := &b.Entries[i]
		n += perEntry + len(e.Person) + len(e.Channel) + len(e.Message) + len(b.RequestID) + len(e.Kind) + len(e.Payload)
	}
	return n
}

// check says what makes b unfit to be appended, sealed or not: a *BatchError or
// ErrTooLarge.
func (b *Batch) check() error {
	switch {
	case len(b.RequestID) == 0 || len(b.RequestID) > MaxRequestID:
		return &BatchError{b.RequestID, fmt.Sprintf("the request id has %d bytes, give it 1 to %d", len(b.RequestID), MaxRequestID)}
	case len(b.Entries) == 0:
		return &BatchError{b.RequestID, "it has no entry, give it at least one"}
	case b.Size() > MaxBatchBytes:
		return fmt.Errorf("%w: request %q has %d bytes", ErrTooLarge, b.RequestID, b.Size())
	}
	return nil
}

// CheckAppend is what every store's Append checks first: the batches are fit,
// together not too large, and sealed onto head. It returns the head after them.
func CheckAppend(head Head, expectedHead uint64, batches []Batch) (Head, error) {
	if head.Seq != expectedHead {
		return head, fmt.Errorf("%w: expected %d, it is at %d", ErrHeadMoved, expectedHead, head.Seq)
	}
	size := 0
	next := head
	for i := range batches {
		b := &batches[i]
		if err := b.check(); err != nil {
			return head, err
		}
		if size += b.Size(); size > MaxAppendBytes {
			return head, fmt.Errorf("%w: %d batches", ErrTooLarge, len(batches))
		}
		for j := range b.Entries {
			e := &b.Entries[j]
			if e.RequestID != b.RequestID {
				return head, &BatchError{b.RequestID, fmt.Sprintf("its entry %d belongs to request %q; seal the batch", e.Seq, e.RequestID)}
			}
			var err error
			if next, err = Next(next, e); err != nil {
				return head, &BatchError{b.RequestID, fmt.Sprintf("its entry %d is not sealed onto entry %d", e.Seq, next.Seq)}
			}
		}
	}
	return next, nil
}
