package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"bayword/internal/ledger/badger"
	"bayword/internal/service"
	"bayword/internal/shopfile"
)

// export writes what stands in the ledger into a folder, which a new one can begin
// with.
func export(ctx context.Context, o options, stdout io.Writer) (err error) {
	if _, err := os.Stat(o.data); err != nil {
		return fmt.Errorf("there is no ledger to export: %w", err)
	}
	switch there, err := os.ReadDir(o.out); {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("the folder to export to: %w", err)
	case len(there) > 0:
		return fmt.Errorf("%s is not empty: give a new folder, so that what is there is kept", o.out)
	}
	store, err := badger.Open(o.data, badger.Options{})
	if err != nil {
		return openError(o.data, err)
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	kept, err := service.Export(ctx, store)
	if err != nil {
		return openError(o.data, err)
	}
	if len(kept) == 0 {
		return fmt.Errorf("the ledger in %s holds no shop yet", o.data)
	}
	files, err := shopfile.Write(kept, o.format)
	if err != nil {
		return err
	}
	if err := writeFolder(o.out, files); err != nil {
		return fmt.Errorf("the folder to export to: %w", err)
	}
	_, _ = fmt.Fprintf(stdout, "%d records and names in %s; the photographs are in %s\n", len(kept), o.out, filepath.Join(o.data, "photos"))
	return nil
}
