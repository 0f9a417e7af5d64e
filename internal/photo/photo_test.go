package photo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// store is what both keepers can do.
type store interface {
	Put(ctx context.Context, data []byte) (string, error)
	Get(ctx context.Context, sum string) ([]byte, error)
}

func stores(t *testing.T) map[string]store {
	t.Helper()
	f, err := Open(filepath.Join(t.TempDir(), "photos"))
	require.NoError(t, err)
	return map[string]store{"folder": f, "memory": &Memory{}}
}

// grey is a picture of one shade, as JPEG or PNG.
func grey(t *testing.T, shade uint8, asPNG bool) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 8, 6))
	for i := range img.Pix {
		img.Pix[i] = shade
	}
	img.Set(0, 0, color.Gray{Y: shade + 1})
	var b bytes.Buffer
	if asPNG {
		require.NoError(t, png.Encode(&b, img))
	} else {
		require.NoError(t, jpeg.Encode(&b, img, nil))
	}
	return b.Bytes()
}

func TestWhatWasKeptComesBack(t *testing.T) {
	t.Parallel()
	for name, s := range stores(t) {
		for _, asPNG := range []bool{false, true} {
			data := grey(t, 40, asPNG)
			sum, err := s.Put(t.Context(), data)
			require.NoError(t, err, name)
			want := sha256.Sum256(data)
			assert.Equal(t, hex.EncodeToString(want[:]), sum)
			again, err := s.Put(t.Context(), data)
			require.NoError(t, err)
			assert.Equal(t, sum, again)
			got, err := s.Get(t.Context(), sum)
			require.NoError(t, err)
			assert.Equal(t, data, got)
		}
	}
}

func TestOnlyPhotographsAreKept(t *testing.T) {
	t.Parallel()
	huge := grey(t, 1, true)
	// PNG (W3C, 2003), 11.2.2: the header's data are width, height, …; its CRC is over the type and these.
	copy(huge[16:], []byte{0, 1, 0, 0, 0, 1, 0, 0}) // 65,536 by 65,536
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	for name, s := range stores(t) {
		for what, data := range map[string][]byte{
			"nothing":         nil,
			"text":            []byte("<html>sign in</html>"),
			"a GIF":           []byte("GIF89a and more"),
			"half a header":   grey(t, 1, false)[:10],
			"only the magic":  []byte("\x89PNG\r\n\x1a\n, a picture"),
			"too many pixels": huge,
			"too large":       append(grey(t, 1, false), make([]byte, MaxBytes)...),
		} {
			_, err := s.Put(t.Context(), data)
			require.ErrorIs(t, err, fs.ErrInvalid, "%s in the %s", what, name)
			if what == "too many pixels" {
				assert.ErrorContains(t, err, "65536 by 65536 pixels")
			}
		}
		data := grey(t, 1, false)
		data = append(data, make([]byte, MaxBytes-len(data))...)
		_, err := s.Put(t.Context(), data)
		require.NoError(t, err, "just not too large")
	}
}

func TestNamesLeadNowhereElse(t *testing.T) {
	t.Parallel()
	for name, s := range stores(t) {
		for _, bad := range []string{
			"", "x", "../../etc/passwd", strings.Repeat("a", 63), strings.Repeat("A", 64), strings.Repeat("g", 64),
			strings.Repeat("a", 62) + "/.", "../" + strings.Repeat("a", 61), strings.Repeat("a", 64) + "\x00", strings.Repeat("é", 32),
		} {
			_, err := s.Get(t.Context(), bad)
			require.ErrorIs(t, err, fs.ErrInvalid, "%q in the %s", bad, name)
		}
		_, err := s.Get(t.Context(), strings.Repeat("a", 64))
		require.ErrorIs(t, err, fs.ErrNotExist)
	}
}

func TestFolderOutlivesItsProcess(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	f, err := Open(dir)
	require.NoError(t, err)
	data := grey(t, 9, false)
	sum, err := f.Put(t.Context(), data)
	require.NoError(t, err)
	// What a process leaves that was killed while it wrote.
	require.NoError(t, os.WriteFile(filepath.Join(dir, unfinished+"1"), data[:9], 0o600))
	f, err = Open(dir)
	require.NoError(t, err)
	got, err := f.Get(t.Context(), sum)
	require.NoError(t, err)
	assert.Equal(t, data, got)
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, list, 1)
	assert.Equal(t, sum+".jpg", list[0].Name())
	info, err := list[0].Info()
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm())
}

func TestDamageIsNoticedAndPutRight(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	f, err := Open(dir)
	require.NoError(t, err)
	data := grey(t, 9, true)
	sum, err := f.Put(t.Context(), data)
	require.NoError(t, err)
	path := filepath.Join(dir, sum+".png")
	require.NoError(t, os.WriteFile(path, data[:len(data)-1], 0o600))
	_, err = f.Get(t.Context(), sum)
	require.ErrorContains(t, err, "changed on the disk")
	_, err = f.Put(t.Context(), data)
	require.NoError(t, err)
	got, err := f.Get(t.Context(), sum)
	require.NoError(t, err)
	assert.Equal(t, data, got)
}

func TestNearlyFullDiskIsLeftToTheLedger(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	f, err := Open(dir)
	require.NoError(t, err)
	f.free = func(string) (uint64, bool) { return minFree, true }
	_, err = f.Put(t.Context(), grey(t, 9, true))
	require.ErrorIs(t, err, syscall.ENOSPC)
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, list)
}

func TestManyAtTheSameTime(t *testing.T) {
	t.Parallel()
	for name, s := range stores(t) {
		var wg sync.WaitGroup
		for i := range 12 {
			data := grey(t, uint8(i/2), i%4 < 2)
			wg.Go(func() {
				sum, err := s.Put(t.Context(), data)
				assert.NoError(t, err, name)
				got, err := s.Get(t.Context(), sum)
				assert.NoError(t, err)
				assert.Equal(t, data, got)
			})
		}
		wg.Wait()
	}
}

func TestEndedContextKeepsNothing(t *testing.T) {
	t.Parallel()
	f, err := Open(t.TempDir())
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = f.Put(ctx, grey(t, 1, false))
	require.ErrorIs(t, err, context.Canceled)
}
