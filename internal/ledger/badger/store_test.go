package badger_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/ledger/storetest"
)

func TestStore(t *testing.T) {
	t.Parallel()
	storetest.Run(t, func(t testing.TB) (ledger.Store, func() ledger.Store) {
		dir := t.TempDir()
		open := func() ledger.Store { return open(t, dir) }
		return open(), open
	})
}

// open opens a store that makes no ballast.
func open(t testing.TB, dir string) *badger.Store {
	t.Helper()
	s, err := badger.Open(dir, badger.Options{NoBallast: true})
	require.NoError(t, err)
	return s
}
