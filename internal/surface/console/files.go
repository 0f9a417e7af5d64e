package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"

	"bayword/internal/surface"
)

// give keeps a photograph and lays it beside the next message.
func (c *chat) give(ctx context.Context, file string) {
	if n := len(file); n > 1 && strings.ContainsRune(`"'`, rune(file[0])) && file[n-1] == file[0] {
		file = file[1 : n-1] // as terminals paste a name with spaces
	}
	p, err := c.keepPhoto(ctx, file)
	if err != nil {
		c.print("That photograph is not kept: " + err.Error())
		return
	}
	c.given = append(c.given, p)
	if n := len(c.given); n > 1 {
		c.print(fmt.Sprintf("%d photographs go with your next message.", n))
	} else {
		c.print("The photograph goes with your next message.")
	}
}

func (c *chat) keepPhoto(ctx context.Context, file string) (p surface.Photo, err error) {
	switch {
	case c.Keep == nil:
		return p, errors.New("there is no place for photographs here")
	case len(c.given) >= surface.MaxPhotos:
		return p, fmt.Errorf("%d wait already, which is the most for one message; say something first", len(c.given))
	}
	info, err := os.Stat(file)
	switch {
	case err != nil:
		return p, err
	case !info.Mode().IsRegular():
		return p, fmt.Errorf("%s is no file", file)
	case info.Size() > surface.MaxPhoto:
		return p, fmt.Errorf("%s has %.1f MB, and 3 MB is the most", file, float64(info.Size())/(1<<20))
	}
	f, err := os.Open(file)
	if err != nil {
		return p, err
	}
	defer f.Close()                                                //nolint:errcheck // only read
	data, err := io.ReadAll(io.LimitReader(f, surface.MaxPhoto+1)) // it may grow meanwhile
	if err != nil {
		return p, err
	}
	sum, err := c.Keep(ctx, c.Person, data)
	return surface.Photo{Name: filepath.Base(file), SHA256: sum}, err
}

// handOver writes the files of a job into a new folder and gives its path.
func (c *chat) handOver(ctx context.Context, job string) (dir string, err error) {
	name, files, err := c.Files(ctx, job)
	if err != nil {
		return "", err
	}
	if filepath.Base(name) != name || !filepath.IsLocal(name) {
		return "", fmt.Errorf("%q cannot name a folder", name)
	}
	if dir, err = newFolder(c.HandoverDir, name); err != nil {
		return "", err
	}
	if err := fill(dir, files); err != nil {
		return "", errors.Join(err, os.RemoveAll(dir))
	}
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	return dir, nil
}

// newFolder makes a folder that was not there: name, or name-2, name-3 and so on.
func newFolder(parent, name string) (dir string, err error) {
	dir = filepath.Join(parent, name)
	for n := 2; ; n++ {
		if err := os.Mkdir(dir, 0o700); !errors.Is(err, os.ErrExist) {
			return dir, err
		}
		dir = filepath.Join(parent, fmt.Sprintf("%s-%d", name, n))
	}
}

// fill writes files into a folder, and nowhere else whatever their names are.
func fill(dir string, files []surface.File) (err error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, root.Close()) }()
	for _, f := range files {
		if err := root.MkdirAll(path.Dir(f.Name), 0o700); err != nil {
			return err
		}
		if err := root.WriteFile(f.Name, f.Data, 0o600); err != nil {
			return err
		}
	}
	return nil
}
