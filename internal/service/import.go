package service

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"time"

	"bayword/internal/ledger"
	"bayword/internal/shop"
)

// ErrNotEmpty says that a shop is there already.
var ErrNotEmpty = errors.New("service: this data folder holds a shop already; import into a new folder")

// importBatch is how many events of an import share one request, if they fit.
const importBatch = 100

// batchOf tells how many of the entries share the next request. The same entries are
// parted alike every time, or an import could not be carried on.
func batchOf(entries []ledger.Entry) int {
	n, size := 0, 0
	for n < min(importBatch, len(entries)) {
		b := ledger.Batch{Entries: entries[n : n+1]}
		if size += b.Size(); n > 0 && size > ledger.MaxBatchBytes/2 {
			break
		}
		n++
	}
	return n
}

// Import makes an empty shop that of the events; a shop.Told keeps who said it and
// when. The same import again does nothing; an import that was broken off is carried
// on.
func (s *Service) Import(ctx context.Context, events []shop.Event) error {
	now := s.clock()
	trial := shop.New()
	sum := sha256.New()
	entries := make([]ledger.Entry, len(events))
	for i, e := range events {
		t := told(e)
		if _, err := trial.Apply(metaOf(t, uint64(i)+1, now), t.Event); err != nil {
			return fmt.Errorf("service: import: event %d: %w", i+1, err)
		}
		kind, payload, err := encode(t.Event, words{saidAt: t.At, photos: t.Photos})
		if err != nil {
			return fmt.Errorf("service: import: event %d: %w", i+1, err)
		}
		entries[i] = ledger.Entry{At: now, Person: t.By, Channel: "import", Kind: kind, Payload: payload}
		_, _ = fmt.Fprintf(sum, "%s%s %d ", t.By, kind, len(payload))
		_, _ = sum.Write(payload)
	}
	name := "import-" + hex.EncodeToString(sum.Sum(nil)[:8])
	if err := s.mayImport(ctx, name+"-0"); err != nil {
		return err
	}
	for n, from := 0, 0; from < len(events); n++ {
		to := from + batchOf(entries[from:])
		if err := s.importBatch(ctx, fmt.Sprintf("%s-%d", name, n), events[from:to], entries[from:to]); err != nil {
			return err
		}
		from = to
	}
	s.mu.Lock()
	s.zone = s.state.Location()
	s.mu.Unlock()
	return nil
}

// mayImport refuses to import over another shop.
func (s *Service) mayImport(ctx context.Context, firstID string) error {
	head, err := s.store.Head(ctx)
	if err != nil || head.Seq == 0 {
		return err
	}
	_, same, err := s.store.Request(ctx, firstID)
	if err == nil && !same {
		err = ErrNotEmpty
	}
	return err
}

func (s *Service) importBatch(ctx context.Context, id string, events []shop.Event, entries []ledger.Entry) error {
	_, _, err := s.writer.Do(ctx, id, sha256.Sum256([]byte(id)), func(seq uint64) (ledger.Batch, error) {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.rewind()
		for i, e := range events {
			t := told(e)
			if err := s.apply(metaOf(t, seq+uint64(i), entries[i].At), t.Event); err != nil {
				return ledger.Batch{}, err
			}
		}
		return ledger.Batch{Entries: entries}, nil
	})
	if err != nil {
		return fmt.Errorf("service: import: %w", err)
	}
	return nil
}

// told gives an event with who said it: nobody, unless it says so itself.
func told(e shop.Event) shop.Told {
	if t, ok := e.(shop.Told); ok {
		return t
	}
	return shop.Told{Event: e}
}

// metaOf says where an imported event stands; what nobody said is said now.
func metaOf(t shop.Told, seq uint64, now time.Time) shop.Meta {
	m := shop.Meta{Seq: seq, Person: t.By, At: t.At, Photos: t.Photos}
	if m.At.IsZero() {
		m.At = now
	}
	return m
}
