package photo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

const (
	// unfinished begins the name of a file that is being written.
	unfinished = ".new-"

	// minFree is how many bytes stay free on the disk: well above what the ledger
	// needs, so that photographs are the first to be refused.
	minFree = 256 << 20
)

// Folder keeps photographs as files of one folder, readable by any viewer. All
// its methods may be called at the same time, by one process.
type Folder struct {
	dir  string
	free func(dir string) (bytes uint64, ok bool) // ok is false where the system does not say
}

// Open opens or makes a folder and takes away what an interrupted Put left there.
func Open(dir string) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("folder for photographs: %w", err)
	}
	list, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("folder for photographs: %w", err)
	}
	for _, e := range list {
		if strings.HasPrefix(e.Name(), unfinished) && e.Type().IsRegular() {
			if err := os.Remove(filepath.Join(dir, e.Name())); err != nil {
				return nil, fmt.Errorf("folder for photographs: %w", err)
			}
		}
	}
	return &Folder{dir: dir, free: freeBytes}, nil
}

// Put keeps a photograph and gives its name. It is on the disk when Put returns.
func (f *Folder) Put(ctx context.Context, data []byte) (sum string, err error) {
	ext, err := check(data)
	if err != nil {
		return "", err
	}
	sum = nameOf(data)
	if _, err := f.Get(ctx, sum); err == nil {
		return sum, nil
	}
	if err := ctx.Err(); err != nil {
		return "", err
	}
	if n, ok := f.free(f.dir); ok && n < minFree+uint64(len(data)) {
		return "", fmt.Errorf("photograph: %w: %d MB left in %s", syscall.ENOSPC, n>>20, f.dir)
	}
	if err := f.write(sum+ext, data); err != nil {
		return "", fmt.Errorf("photograph %s: %w", sum, err)
	}
	return sum, nil
}

// write makes a whole file or none.
func (f *Folder) write(name string, data []byte) (err error) {
	tmp, err := os.CreateTemp(f.dir, unfinished)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(tmp.Name()))
		}
	}()
	_, err = tmp.Write(data)
	if err == nil {
		err = tmp.Sync()
	}
	if err = errors.Join(err, tmp.Close()); err != nil {
		return err
	}
	if err := os.Rename(tmp.Name(), filepath.Join(f.dir, name)); err != nil {
		return err
	}
	d, err := os.Open(f.dir)
	if err != nil {
		return nil //nolint:nilerr // it is there; only the name's durability is left to the system
	}
	_ = d.Sync() // some systems cannot sync a folder
	return d.Close()
}

// Get gives a photograph by its name. One that is not what its name says is an
// error, and Put puts it right.
func (f *Folder) Get(ctx context.Context, sum string) ([]byte, error) {
	if err := named(sum); err != nil {
		return nil, err
	}
	for _, k := range kinds {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		path := filepath.Join(f.dir, sum+k.ext)
		data, err := os.ReadFile(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return nil, fmt.Errorf("photograph: %w", err)
		case nameOf(data) != sum:
			return nil, fmt.Errorf("photograph %s was changed on the disk: restore it from a backup", path)
		}
		return data, nil
	}
	return nil, unknown(sum)
}
