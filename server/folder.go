package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"bayword/internal/shopfile"
)

// writeFolder writes files into a new folder, or an empty one, which is there with
// all of them or not at all.
func writeFolder(out string, files []shopfile.File) error {
	if real, err := filepath.EvalSymlinks(out); err == nil {
		out = real
	}
	half, err := halfFolder(out, files)
	if err != nil {
		return err
	}
	if err := os.Remove(out); err != nil && !errors.Is(err, fs.ErrNotExist) { // it is empty
		return errors.Join(fmt.Errorf("the folder cannot be put there, name a new one inside it: %w", err), os.RemoveAll(half))
	}
	if err := os.Rename(half, out); err != nil {
		return errors.Join(err, os.RemoveAll(half))
	}
	return syncFolder(filepath.Dir(out))
}

// halfFolder writes files into a folder beside the one they are for. A crash leaves
// it there, in nobody's way.
func halfFolder(out string, files []shopfile.File) (half string, err error) {
	parent, name := filepath.Split(filepath.Clean(out))
	if err := os.MkdirAll(filepath.Clean(parent), 0o750); err != nil {
		return "", err
	}
	half, err = os.MkdirTemp(filepath.Clean(parent), "."+name+".unfinished-*")
	if err != nil {
		return "", err
	}
	for _, f := range files {
		if err := writeSynced(filepath.Join(half, f.Name), f.Data); err != nil {
			return "", errors.Join(err, os.RemoveAll(half))
		}
	}
	return half, syncFolder(half)
}

// writeSynced returns when the file is on the disk.
func writeSynced(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func syncFolder(name string) error {
	d, err := os.Open(name)
	if err != nil {
		return err
	}
	_ = d.Sync() // some systems cannot sync a folder
	return d.Close()
}
