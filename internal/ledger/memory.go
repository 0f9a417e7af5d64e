package ledger

import (
	"bytes"
	"context"
	"fmt"
	"iter"
	"sync"
)

// Memory is a Store for tests and demonstrations: gone when the process ends.
type Memory struct {
	mu       sync.RWMutex
	entries  []Entry // the entry with sequence number n is at n-1
	receipts map[string]Receipt
	snapshot *Snapshot
	closed   bool
	changed  chan struct{} // closed and replaced by each append, closed for good by Close
}

// NewMemory gives an empty store.
func NewMemory() *Memory {
	return &Memory{receipts: make(map[string]Receipt), changed: make(chan struct{})}
}

var _ Store = (*Memory)(nil)

func (m *Memory) Append(ctx context.Context, expectedHead uint64, batches []Batch) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.usable(ctx); err != nil {
		return err
	}
	if _, err := CheckAppend(m.head(), expectedHead, batches); err != nil {
		return err
	}
	for _, b := range batches {
		m.receipts[b.RequestID] = Receipt{b.Fingerprint, bytes.Clone(b.Response), b.Entries[0].Seq}
		for _, e := range b.Entries {
			e.Payload = bytes.Clone(e.Payload)
			m.entries = append(m.entries, e)
		}
	}
	close(m.changed)
	m.changed = make(chan struct{})
	return nil
}

func (m *Memory) Ready(ctx context.Context) error {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return m.usable(ctx)
}

func (m *Memory) Head(ctx context.Context) (Head, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return m.head(), m.usable(ctx)
}

func (m *Memory) Scan(ctx context.Context, from uint64, fn func(Entry) error) error {
	m.mu.RLock()
	entries, err := m.entries, m.usable(ctx)
	m.mu.RUnlock()
	if err != nil {
		return err
	}
	from = max(from, 1)
	if from > uint64(len(entries)) {
		return nil
	}
	var prev Head
	if from > 1 {
		prev = Head{from - 1, entries[from-2].Hash}
	}
	for i := range entries[from-1:] {
		e := entries[from-1+uint64(i)]
		if err := ctx.Err(); err != nil {
			return err
		}
		if prev, err = Next(prev, &e); err != nil {
			return err
		}
		if err := fn(e); err != nil {
			return err
		}
	}
	return nil
}

func (m *Memory) Follow(ctx context.Context, from uint64) iter.Seq2[Entry, error] {
	return Follow(ctx, m, from, func() <-chan struct{} {
		m.mu.RLock()
		defer m.mu.RUnlock()
		return m.changed
	})
}

func (m *Memory) Request(ctx context.Context, requestID string) (Receipt, bool, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	if err := m.usable(ctx); err != nil {
		return Receipt{}, false, err
	}
	r, ok := m.receipts[requestID]
	r.Response = bytes.Clone(r.Response)
	return r, ok, nil
}

func (m *Memory) SaveSnapshot(ctx context.Context, s Snapshot) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.usable(ctx); err != nil {
		return err
	}
	if s.Head != m.at(s.Seq) {
		return fmt.Errorf("%w: %d", ErrNotInChain, s.Seq)
	}
	s.Data = bytes.Clone(s.Data)
	m.snapshot = &s
	return nil
}

func (m *Memory) Snapshot(ctx context.Context) (Snapshot, bool, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	if err := m.usable(ctx); err != nil || m.snapshot == nil {
		return Snapshot{}, false, err
	}
	s := *m.snapshot
	s.Data = bytes.Clone(s.Data)
	return s, true, nil
}

func (m *Memory) Close() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.closed {
		return ErrClosed
	}
	m.closed = true
	close(m.changed)
	return nil
}

// usable, head and at need mu.

func (m *Memory) usable(ctx context.Context) error {
	if m.closed {
		return ErrClosed
	}
	return ctx.Err()
}

func (m *Memory) head() Head { return m.at(uint64(len(m.entries))) }

// at is the chain's place at seq, the zero Head when there is none.
func (m *Memory) at(seq uint64) Head {
	if seq == 0 || seq > uint64(len(m.entries)) {
		return Head{}
	}
	return Head{seq, m.entries[seq-1].Hash}
}
