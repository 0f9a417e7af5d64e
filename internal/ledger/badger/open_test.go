package badger_test

import (
	"context"
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"testing"

	raw "github.com/dgraph-io/badger/v4"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/ledger/storetest"
)

func openError(t *testing.T, dir string) error {
	t.Helper()
	_, err := badger.Open(dir, badger.Options{NoBallast: true})
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "\n", "one line")
	return err
}

func TestOpenLocked(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := open(t, dir)
	assert.ErrorIs(t, openError(t, dir), badger.ErrLocked)
	require.NoError(t, s.Close())
	require.NoError(t, open(t, dir).Close())
}

func TestOpenNewerFormat(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, open(t, dir).Close())
	tamper(t, dir, func(txn *raw.Txn) error { return txn.Set([]byte("f"), []byte{0, 0, 0, 2}) })
	assert.ErrorIs(t, openError(t, dir), badger.ErrNewerFormat)
}

func TestOpenNewerHeadFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, open(t, dir).Close())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "head"), headSlot("BAYHEAD2", ledger.Head{}), 0o600))
	assert.ErrorIs(t, openError(t, dir), badger.ErrNewerFormat)
}

func TestOpenNotAFolder(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	assert.ErrorContains(t, openError(t, path), path)
}

// The head file may be behind the database, by as much as a power cut takes; it
// may not be ahead of it, and not of another chain.
func TestHeadFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := open(t, dir)
	batches := storetest.Sealed(ledger.Head{}, storetest.Batch("a", 2), storetest.Batch("b", 3))
	require.NoError(t, s.Append(context.Background(), 0, batches))
	require.NoError(t, s.Close())
	at := func(e ledger.Entry) ledger.Head { return ledger.Head{Seq: e.Seq, Hash: e.Hash} }
	behind, current := at(batches[0].Entries[1]), at(batches[1].Entries[2])

	for name, c := range map[string]struct {
		slots []byte
		fails bool
	}{
		"current":                    {headSlot("BAYHEAD1", current), false},
		"behind":                     {headSlot("BAYHEAD1", behind), false},
		"at the beginning":           {headSlot("BAYHEAD1", ledger.Head{}), false},
		"torn, the other slot good":  {append(headSlot("BAYHEAD1", behind), headSlot("BAYHEAD1", current)[:30]...), false},
		"first torn, the other good": {append(make([]byte, 512), headSlot("BAYHEAD1", current)...), false},
		"ahead":                      {headSlot("BAYHEAD1", ledger.Head{Seq: 6, Hash: current.Hash}), true},
		"ahead in one slot":          {append(headSlot("BAYHEAD1", current), headSlot("BAYHEAD1", ledger.Head{Seq: 9})...), true},
		"of another chain":           {headSlot("BAYHEAD1", ledger.Head{Seq: 2, Hash: current.Hash}), true},
		"both torn":                  {make([]byte, 1024), true},
		"empty":                      {nil, true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := copied(t, dir)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "head"), c.slots, 0o600))
			if c.fails {
				var corrupt *ledger.CorruptError
				assert.ErrorAs(t, openError(t, dir), &corrupt)
				return
			}
			require.NoError(t, open(t, dir).Close())
			content, err := os.ReadFile(filepath.Join(dir, "head"))
			require.NoError(t, err)
			assert.True(t, strings.Contains(string(content), string(current.Hash[:])), "brought up to date")
		})
	}
}

// headSlot is one slot of a head file, as the package's documentation has it.
func headSlot(magic string, head ledger.Head) []byte {
	b := append([]byte(magic), binary.BigEndian.AppendUint64(nil, head.Seq)...)
	b = append(b, head.Hash[:]...)
	b = binary.BigEndian.AppendUint32(b, crc32.Checksum(b, crc32.MakeTable(crc32.Castagnoli)))
	return append(b, make([]byte, 512-len(b))...)
}
