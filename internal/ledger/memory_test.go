package ledger_test

import (
	"testing"

	"bayword/internal/ledger"
	"bayword/internal/ledger/storetest"
)

func TestMemory(t *testing.T) {
	t.Parallel()
	storetest.Run(t, func(testing.TB) (ledger.Store, func() ledger.Store) {
		return ledger.NewMemory(), nil
	})
}
