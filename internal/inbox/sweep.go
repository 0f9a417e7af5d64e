package inbox

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/dgraph-io/badger/v4"
)

// Sweep forgets messages that are finished (done, and their reply sent) and
// were said more than 24 hours before now, and values that belong to a single
// message and are more than 90 days old. It returns how many messages.
func (b *Inbox) Sweep(now time.Time) (int, error) {
	old := now.Add(-Remember)
	var gone [][]byte
	n := 0
	err := b.view(func(txn *badger.Txn) error {
		open := make(map[string]bool)
		if err := each(txn, messagePrefix, func(k, v []byte) error {
			var r record
			if err := json.Unmarshal(v, &r); err != nil {
				return err
			}
			if !r.Done || r.Out != 0 {
				open[r.Message.ID] = true
			} else if r.Message.At.Before(old) {
				gone = append(gone, k)
				n++
			}
			return nil
		}); err != nil {
			return err
		}
		if err := each(txn, seenPrefix, func(k, v []byte) error {
			var s seen
			if err := json.Unmarshal(v, &s); err != nil {
				return err
			}
			if s.At.Before(old) && !open[s.ID] {
				gone = append(gone, k)
			}
			return nil
		}); err != nil {
			return err
		}
		values, err := oldValues(txn, now.Add(-RememberMore))
		gone = append(gone, values...)
		return err
	})
	const batch = 500 // well inside one transaction
	for len(gone) > 0 && err == nil {
		part := gone[:min(batch, len(gone))]
		gone = gone[len(part):]
		err = b.do(context.Background(), func(txn *badger.Txn) error {
			for _, k := range part {
				if err := txn.Delete(k); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err != nil {
		return 0, fmt.Errorf("sweep the inbox: %w", err)
	}
	return n, nil
}

// passing are the names of values that belong to a single message or notice.
var passing = []string{valuePrefix + "message/", valuePrefix + "notice/"}

// oldValues gives the keys of such values from before a time. One that does not
// say when it was is kept.
func oldValues(txn *badger.Txn, before time.Time) (gone [][]byte, err error) {
	for _, prefix := range passing {
		if err := each(txn, prefix, func(k, v []byte) error {
			var dated struct {
				At time.Time `json:"at"`
			}
			if json.Unmarshal(v, &dated) == nil && !dated.At.IsZero() && dated.At.Before(before) {
				gone = append(gone, k)
			}
			return nil
		}); err != nil {
			return nil, err
		}
	}
	return gone, nil
}
