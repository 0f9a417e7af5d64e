package badger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/dgraph-io/badger/v4/table"
	"github.com/dgraph-io/ristretto/v2/z"

	"bayword/internal/ledger"
)

// preflight checks the database's tables before Badger opens them. Badger reads
// them in goroutines of its own, where a damaged one ends the process; and it
// takes a database without its list of tables for a new one, and deletes them.
func preflight(dir, path string) error {
	f, err := os.Open(filepath.Join(path, badger.ManifestFilename))
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(filepath.Join(dir, "head")); err == nil {
			return damaged(path, badger.ManifestFilename, errors.New("missing"))
		}
		return nil // a new ledger
	}
	if err != nil {
		return fmt.Errorf("ledger: the data folder: %w", err)
	}
	defer f.Close() //nolint:errcheck // only read
	manifest, err := replay(f)
	if err != nil {
		return damaged(path, badger.ManifestFilename, err)
	}
	ids := make(chan uint64)
	errs := make(chan error)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for id := range ids {
				if err := checkTable(table.NewFilename(id, path)); err != nil {
					errs <- damaged(path, filepath.Base(table.NewFilename(id, path)), err)
				}
			}
		})
	}
	go func() {
		for id := range manifest.Tables {
			ids <- id
		}
		close(ids)
		wg.Wait()
		close(errs)
	}()
	var first error
	for err := range errs {
		if first == nil {
			first = err
		}
	}
	return first
}

func damaged(path, file string, why error) error {
	return &ledger.CorruptError{What: fmt.Sprintf("%s (%v); restore the data folder from a backup", filepath.Join(path, file), why)}
}

func replay(f *os.File) (m badger.Manifest, err error) {
	defer caught(&err, nil)
	m, _, err = badger.ReplayManifestFile(f, 0, dbOptions(""))
	return m, err
}

// checkTable reads a table's index and all its checksums.
func checkTable(path string) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = errors.New("its index cannot be read")
		}
	}()
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if info.Size() == 0 {
		return errors.New("empty")
	}
	mapped, err := z.OpenMmapFile(path, os.O_RDONLY, 0)
	if err != nil {
		return err
	}
	defer func() {
		err = errors.Join(err, z.Munmap(mapped.Data), mapped.Fd.Close())
	}()
	t, err := table.OpenTable(mapped, table.Options{ReadOnly: true, ChkMode: options.NoVerification})
	if err != nil {
		return err
	}
	return t.VerifyChecksum()
}
