package badger

import (
	"iter"

	"bayword/internal/ledger"
)

// DBOptions are the database's, for measuring against it.
var DBOptions = dbOptions

// Pairs are the keys and values a batch is stored as.
func Pairs(b *ledger.Batch) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		if !yield(string(receiptKey(b.RequestID)), receiptValue(b)) {
			return
		}
		for i := range b.Entries {
			if !yield(string(entryKey(b.Entries[i].Seq)), ledger.AppendRecord(nil, &b.Entries[i])) {
				return
			}
		}
	}
}

// BreakHeadFile makes the next append fail after its commit.
func (s *Store) BreakHeadFile() error { return s.headFile.f.Close() }
