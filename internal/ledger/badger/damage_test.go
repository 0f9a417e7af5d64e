package badger_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
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

// build makes a ledger with tables, and a copy of it as a killed process would
// have left it, with entries in its memtable only.
func build(t *testing.T) (closed, killed string, entries []ledger.Entry) {
	closed, killed = t.TempDir(), t.TempDir()
	s := open(t, closed)
	for i := range 60 {
		h, err := s.Head(context.Background())
		require.NoError(t, err)
		var batches []ledger.Batch
		for j := range 5 {
			b := storetest.Batch(fmt.Sprint(i, "-", j), 2)
			b.Response = make([]byte, 3000)
			batches = append(batches, b)
		}
		require.NoError(t, s.Append(context.Background(), h.Seq, storetest.Sealed(h, batches...)))
		if i == 40 { // the rest goes to a new memtable
			require.NoError(t, s.SaveSnapshot(context.Background(), ledger.Snapshot{Head: h, Data: make([]byte, 5000)}))
			require.NoError(t, s.Close())
			s = open(t, closed)
		}
	}
	entries = storetest.All(t, s)
	require.NoError(t, os.CopyFS(killed, os.DirFS(closed)))
	require.NoError(t, s.Close())
	return closed, killed, entries
}

// whole is nil only when the ledger opens, verifies, and reads back as it was.
func whole(t *testing.T, dir string, entries []ledger.Entry) error {
	s, err := badger.Open(dir, badger.Options{NoBallast: true})
	if err != nil {
		return err
	}
	defer s.Close() //nolint:errcheck // damaged, perhaps
	if _, err := s.Verify(context.Background()); err != nil {
		return err
	}
	require.Equal(t, entries, storetest.All(t, s), "opened and verified, and yet not the same")
	for _, e := range entries {
		r, found, err := s.Request(context.Background(), e.RequestID)
		require.NoError(t, err)
		require.True(t, found, "opened and verified, and yet without a receipt")
		require.Len(t, r.Response, 3000)
	}
	snap, found, err := s.Snapshot(context.Background())
	require.NoError(t, err)
	require.True(t, found, "opened and verified, and yet without its snapshot")
	require.Len(t, snap.Data, 5000)
	return nil
}

// Whatever is done to a file, either nothing is lost or an error says so.
func TestDamage(t *testing.T) {
	t.Parallel()
	closed, killed, entries := build(t)
	require.NoError(t, whole(t, copied(t, closed), entries))
	require.NoError(t, whole(t, copied(t, killed), entries))

	for state, from := range map[string]string{"closed": closed, "killed": killed} {
		for _, file := range dataFiles(t, from) {
			t.Run(state+" "+file, func(t *testing.T) {
				t.Parallel()
				rng := rand.New(rand.NewPCG(1, 2)) //nolint:gosec // the same damage each time
				noticed := 0
				for round := range 8 {
					dir := copied(t, from)
					what := damage(t, filepath.Join(dir, file), round, rng)
					err := whole(t, dir, entries)
					if err == nil {
						continue // it hit what nothing depends on
					}
					noticed++
					assert.NotContains(t, err.Error(), "\n\n", what)
					var corrupt *ledger.CorruptError
					if !errors.As(err, &corrupt) && !errors.Is(err, badger.ErrNewerFormat) {
						t.Errorf("%s: not told as damage: %v", what, err)
					}
				}
				t.Logf("%d of 8 noticed, the others changed nothing that counts", noticed)
				if !strings.HasSuffix(file, ".vlog") && !strings.HasPrefix(file, "head") && !strings.Contains(file, "KEYREGISTRY") && !strings.Contains(file, "DISCARD") {
					assert.Positive(t, noticed, "damage to this file must be noticed")
				}
			})
		}
	}
}

// damage cuts a file, or changes bytes where there is something written.
func damage(t *testing.T, path string, round int, rng *rand.Rand) string {
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	written := len(strings.TrimRight(string(content), "\x00"))
	if written == 0 {
		return "nothing written"
	}
	at := rng.IntN(written)
	what := fmt.Sprintf("byte %d of %d changed", at, written)
	switch round % 4 {
	case 0:
		what = fmt.Sprintf("cut at %d of %d", at, written)
		content = content[:at]
	case 1:
		what = fmt.Sprintf("zeros from %d of %d", at, written)
		clear(content[at:])
	default:
		content[at] ^= 1 << rng.IntN(8)
	}
	require.NoError(t, os.WriteFile(path, content, 0o600))
	return what
}

func dataFiles(t *testing.T, dir string) (files []string) {
	require.NoError(t, filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err == nil && info.Mode().IsRegular() && info.Name() != "LOCK" {
			path, err = filepath.Rel(dir, path)
			files = append(files, path)
		}
		return err
	}))
	return files
}

func copied(t *testing.T, from string) string {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS(from)))
	return dir
}

// Files gone altogether.
func TestMissingFiles(t *testing.T) {
	t.Parallel()
	closed, killed, entries := build(t)
	for _, c := range []struct{ from, pattern string }{
		{closed, "head"},
		{closed, "db/MANIFEST"},
		{closed, "db/*.sst"},
		{killed, "db/*.mem"},
		{killed, "db"},
	} {
		t.Run(c.pattern, func(t *testing.T) {
			t.Parallel()
			dir := copied(t, c.from)
			gone, err := filepath.Glob(filepath.Join(dir, c.pattern))
			require.NoError(t, err)
			require.NotEmpty(t, gone)
			for _, path := range gone {
				require.NoError(t, os.RemoveAll(path))
			}
			var corrupt *ledger.CorruptError
			assert.ErrorAs(t, whole(t, dir, entries), &corrupt)
		})
	}
}

// Entries and receipts changed through the database itself, so that all of its
// checksums are right.
func TestDamageWithRightChecksums(t *testing.T) {
	t.Parallel()
	closed, _, entries := build(t)
	key := func(seq byte) []byte { return []byte{'e', 0, 0, 0, 0, 0, 0, 0, seq} }
	for name, change := range map[string]func(*raw.Txn) error{
		"an entry is gone":          func(txn *raw.Txn) error { return txn.Delete(key(7)) },
		"the first entry is gone":   func(txn *raw.Txn) error { return txn.Delete(key(1)) },
		"the last entry is gone":    func(txn *raw.Txn) error { return txn.Delete(append(key(0)[:7], 2, 0x58)) },
		"an entry is another's":     func(txn *raw.Txn) error { return txn.Set(key(7), ledger.AppendRecord(nil, &entries[7])) },
		"an entry is cut":           func(txn *raw.Txn) error { return txn.Set(key(7), []byte("short")) },
		"an entry says more":        func(txn *raw.Txn) error { return txn.Set(key(7), said(entries[6])) },
		"a receipt is gone":         func(txn *raw.Txn) error { return txn.Delete([]byte("r3-1")) },
		"a receipt is not its own":  func(txn *raw.Txn) error { return move(txn, "r3-1", "r3-2") },
		"a receipt is too many":     func(txn *raw.Txn) error { return move(txn, "r3-1", "rnever") },
		"the format is gone":        func(txn *raw.Txn) error { return txn.Delete([]byte("f")) },
		"the format is not one":     func(txn *raw.Txn) error { return txn.Set([]byte("f"), []byte("one")) },
		"a key is no entry's":       func(txn *raw.Txn) error { return txn.Set([]byte("e12"), nil) },
		"a key is after the last's": func(txn *raw.Txn) error { return txn.Set([]byte("e\xff"), nil) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := copied(t, closed)
			tamper(t, dir, change)
			var corrupt *ledger.CorruptError
			_, err := badger.Open(dir, badger.Options{NoBallast: true})
			require.ErrorAs(t, err, &corrupt)
			assert.NotEmpty(t, corrupt.What)
		})
	}
}

func said(e ledger.Entry) []byte {
	e.Payload = append([]byte("not "), e.Payload...)
	return ledger.AppendRecord(nil, &e)
}

func move(txn *raw.Txn, from, to string) error {
	item, err := txn.Get([]byte(from))
	if err != nil {
		return err
	}
	value, err := item.ValueCopy(nil)
	if err != nil {
		return err
	}
	return txn.Set([]byte(to), value)
}

// tamper changes the database at a version the ledger will read.
func tamper(t *testing.T, dir string, change func(*raw.Txn) error) {
	db, err := raw.OpenManaged(badger.DBOptions(filepath.Join(dir, "db")))
	require.NoError(t, err)
	txn := db.NewTransactionAt(600, true)
	require.NoError(t, change(txn))
	require.NoError(t, txn.CommitAt(600, nil))
	require.NoError(t, db.Close())
}
