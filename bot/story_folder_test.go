package main

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	_ "image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/surface"
)

// golden compares with a file of the story, or writes it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join(storyDir, filepath.FromSlash(name))
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, got, 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run with -update and read it")
	if !bytes.Equal(want, got) {
		t.Errorf("%s: run with -update and read the difference; the first is\n%s", name, firstDifference(string(want), string(got)))
	}
}

// firstDifference gives the first line in which two texts differ, both ways.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	n := 0
	for n < len(w) && n < len(g) && w[n] == g[n] {
		n++
	}
	line := func(lines []string) string {
		if n < len(lines) {
			return lines[n]
		}
		return "(the end)"
	}
	return fmt.Sprintf("line %d\n- %s\n+ %s", n+1, line(w), line(g))
}

// compareFolder holds a handover folder to the one under testdata: pages by
// their text, pictures and photographs by what they show.
func compareFolder(t *testing.T, files []surface.File) {
	t.Helper()
	made := map[string]bool{}
	for _, f := range files {
		name := "handover/" + f.Name
		switch filepath.Ext(f.Name) {
		case ".pdf":
			name = strings.TrimSuffix(name, ".pdf") + ".txt"
			golden(t, name, []byte(textOfPDF(t, f.Data)))
		case ".png", ".jpg":
			comparePicture(t, name, f.Data)
		default:
			golden(t, name, f.Data)
		}
		made[name] = true
	}
	require.NoError(t, filepath.WalkDir(filepath.Join(storyDir, "handover"), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(storyDir, path)
		assert.True(t, made[filepath.ToSlash(name)], "%s is no longer made", name)
		return err
	}))
}

// comparePicture allows what another machine's arithmetic may round the other way.
func comparePicture(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join(storyDir, filepath.FromSlash(name))
	if *update {
		golden(t, name, got)
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run with -update and look at it")
	if !bytes.Equal(want, got) {
		assert.Less(t, shareApart(t, want, got), 0.002, "%s: run with -update and look at it", name)
	}
}

// shareApart is the share of pixels that differ by more than a shade.
func shareApart(t *testing.T, a, b []byte) float64 {
	t.Helper()
	x, _, err := image.Decode(bytes.NewReader(a))
	require.NoError(t, err)
	y, _, err := image.Decode(bytes.NewReader(b))
	require.NoError(t, err)
	box := x.Bounds()
	if box != y.Bounds() {
		return 1
	}
	differ := 0
	for i := box.Min.X; i < box.Max.X; i++ {
		for j := box.Min.Y; j < box.Max.Y; j++ {
			if farApart(x.At(i, j), y.At(i, j)) {
				differ++
			}
		}
	}
	return float64(differ) / float64(box.Dx()*box.Dy())
}

func farApart(x, y color.Color) bool {
	const shade = 24 << 8
	r0, g0, b0, _ := x.RGBA()
	r1, g1, b1, _ := y.RGBA()
	apart := func(p, q uint32) uint32 { return max(p, q) - min(p, q) }
	return max(apart(r0, r1), apart(g0, g1), apart(b0, b1)) > shade
}

var (
	pdfStream  = regexp.MustCompile(`(?s)<<([^<>]*(?:<<[^<>]*>>[^<>]*)*)>>\s*stream\n`)
	pdfLength  = regexp.MustCompile(`/Length (\d+)`)
	pdfShown   = regexp.MustCompile(`(?s)\(((?:\\.|[^\\)])*)\) Tj`)
	pdfEscapes = strings.NewReplacer(`\\`, `\`, `\(`, `(`, `\)`, `)`, `\r`, "\r")
)

// textOfPDF is the text a PDF shows, in the order it is drawn: streams packed by
// Flate (ISO 32000-1, 7.3.8), fonts coded in UTF-16.
func textOfPDF(t *testing.T, pdf []byte) string {
	t.Helper()
	var out strings.Builder
	for _, at := range pdfStream.FindAllSubmatchIndex(pdf, -1) {
		head := string(pdf[at[2]:at[3]])
		m := pdfLength.FindStringSubmatch(head)
		if m == nil || !strings.Contains(head, "/FlateDecode") {
			continue
		}
		n, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		z, err := zlib.NewReader(bytes.NewReader(pdf[at[1]:][:n]))
		require.NoError(t, err)
		body, err := io.ReadAll(z)
		require.NoError(t, err)
		for _, shown := range pdfShown.FindAllSubmatch(body, -1) {
			raw := []byte(pdfEscapes.Replace(string(shown[1])))
			units := make([]uint16, len(raw)/2)
			for i := range units {
				units[i] = binary.BigEndian.Uint16(raw[2*i:])
			}
			out.WriteString(string(utf16.Decode(units)) + "\n")
		}
	}
	require.NotEmpty(t, out.String(), "the PDF shows no text")
	return out.String()
}
