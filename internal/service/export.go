package service

import (
	"context"

	"bayword/internal/ledger"
	"bayword/internal/shop"
)

// Export folds the whole ledger and gives what stands in it, with who said it and
// when: what Import would have to be given for the same shop. It writes nothing. The
// error is a *ledger.CorruptError when something does not hold.
func Export(ctx context.Context, store ledger.Store) ([]shop.Kept, error) {
	state := shop.New()
	var names []shop.Told
	err := store.Scan(ctx, 1, func(e ledger.Entry) error {
		meta, event, err := decode(e)
		if err != nil {
			return &ledger.CorruptError{Seq: e.Seq, What: err.Error()}
		}
		if _, err := state.Apply(meta, event); err != nil {
			return &ledger.CorruptError{Seq: e.Seq, What: err.Error()}
		}
		t := shop.Told{Event: event}
		if meta.Person != "" {
			t.By, t.At = meta.Person, meta.At
		}
		names = shop.Rename(names, t)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return state.Standing(names), nil
}
