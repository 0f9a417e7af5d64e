package service

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"bayword/internal/ledger"
	"bayword/internal/shop"
)

// ErrNotEmpty says that a shop is there already.
var ErrNotEmpty = errors.New("service: this data folder holds a shop already; import into a new folder")

// importBatch is how many events of an import share one request: their entries
// stay far below what a batch may hold.
const importBatch = 100

// Import makes an empty shop that of the events. The same import again does
// nothing; an import that was broken off is carried on.
func (s *Service) Import(ctx context.Context, events []shop.Event) error {
	now := s.clock()
	trial := shop.New()
	sum := sha256.New()
	payloads := make([]ledger.Entry, len(events))
	for i, e := range events {
		if _, err := trial.Apply(shop.Meta{Seq: uint64(i) + 1, At: now}, e); err != nil {
			return fmt.Errorf("service: import: event %d: %w", i+1, err)
		}
		kind, payload, err := encode(e, words{})
		if err != nil {
			return fmt.Errorf("service: import: event %d: %w", i+1, err)
		}
		payloads[i] = ledger.Entry{At: now, Channel: "import", Kind: kind, Payload: payload}
		_, _ = fmt.Fprintf(sum, "%s %d ", kind, len(payload))
		_, _ = sum.Write(payload)
	}
	name := "import-" + hex.EncodeToString(sum.Sum(nil)[:8])
	if err := s.mayImport(ctx, name+"-0"); err != nil {
		return err
	}
	for n := 0; n*importBatch < len(events); n++ {
		from, to := n*importBatch, min((n+1)*importBatch, len(events))
		if err := s.importBatch(ctx, fmt.Sprintf("%s-%d", name, n), events[from:to], payloads[from:to]); err != nil {
			return err
		}
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
			if err := s.apply(shop.Meta{Seq: seq + uint64(i), At: entries[i].At}, e); err != nil {
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
