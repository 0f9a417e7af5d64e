// Package photo keeps photographs in a folder, each under the SHA-256 of what is
// in it: keeping one twice is keeping it once, and one that was changed on the
// disk is noticed. It imports nothing of this module.
//
// Its errors are told apart by the standard ones that they wrap: fs.ErrInvalid
// for what is no photograph or no name of one, fs.ErrNotExist for one that is
// not there, syscall.ENOSPC for a disk that is nearly full.
package photo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io/fs"
	"sync"
)

// What is taken.
const (
	MaxBytes  = 3 << 20
	MaxPixels = 100e6 // more than any camera of a phone; a small file can claim far more
)

// kinds are the forms taken, by how their files begin and end in their name.
var kinds = []struct {
	magic, ext string
	config     func([]byte) (image.Config, error)
}{
	{"\xff\xd8\xff", ".jpg", func(data []byte) (image.Config, error) { return jpeg.DecodeConfig(bytes.NewReader(data)) }},
	{"\x89PNG\r\n\x1a\n", ".png", func(data []byte) (image.Config, error) { return png.DecodeConfig(bytes.NewReader(data)) }},
}

// check gives the ending of a photograph's file name; the error wraps fs.ErrInvalid.
func check(data []byte) (ext string, err error) {
	if len(data) > MaxBytes {
		return "", fmt.Errorf("photograph: %w: %d bytes, at most %d", fs.ErrInvalid, len(data), MaxBytes)
	}
	for _, k := range kinds {
		if !bytes.HasPrefix(data, []byte(k.magic)) {
			continue
		}
		c, err := k.config(data)
		switch {
		case err != nil:
			return "", fmt.Errorf("photograph: %w: %w", fs.ErrInvalid, err)
		case c.Width < 1 || c.Height < 1 || float64(c.Width)*float64(c.Height) > MaxPixels:
			return "", fmt.Errorf("photograph: %w: %d by %d pixels", fs.ErrInvalid, c.Width, c.Height)
		}
		return k.ext, nil
	}
	return "", fmt.Errorf("photograph: %w: %d bytes that are neither JPEG nor PNG", fs.ErrInvalid, len(data))
}

// named accepts 64 lower-case hexadecimal digits: nothing that could lead out of
// the folder.
func named(sum string) error {
	raw, err := hex.DecodeString(sum)
	if err != nil || len(raw) != sha256.Size || hex.EncodeToString(raw) != sum {
		return fmt.Errorf("photograph %.70q: %w: a name is a SHA-256 in 64 lower-case hexadecimal digits", sum, fs.ErrInvalid)
	}
	return nil
}

func nameOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func unknown(sum string) error { return fmt.Errorf("photograph %s: %w", sum, fs.ErrNotExist) }

// Memory keeps photographs as long as the process lives. The zero value is empty
// and ready; all its methods may be called at the same time.
type Memory struct {
	mu   sync.Mutex
	kept map[string][]byte
}

// Put keeps a photograph and gives its name.
func (m *Memory) Put(_ context.Context, data []byte) (sum string, err error) {
	if _, err := check(data); err != nil {
		return "", err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.kept == nil {
		m.kept = make(map[string][]byte)
	}
	sum = nameOf(data)
	m.kept[sum] = bytes.Clone(data)
	return sum, nil
}

// Get gives a photograph by its name.
func (m *Memory) Get(_ context.Context, sum string) ([]byte, error) {
	if err := named(sum); err != nil {
		return nil, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	data, ok := m.kept[sum]
	if !ok {
		return nil, unknown(sum)
	}
	return bytes.Clone(data), nil
}
