package handover_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	pb "bayword/proto/bayword/v1"
)

var (
	streams = regexp.MustCompile(`(?s)<<([^<>]*(?:<<[^<>]*>>[^<>]*)*)>>\s*stream\n`)
	length  = regexp.MustCompile(`/Length (\d+)`)
	count   = regexp.MustCompile(`/Type /Pages\b[^>]*?/Count (\d+)`)
	shown   = regexp.MustCompile(`(?s)\(((?:\\.|[^\\)])*)\) Tj`)
)

// pdfStreams gives the streams of a PDF with what stands before each, unpacked
// where they are packed by Flate. ISO 32000-1, 7.3.8.
func pdfStreams(t *testing.T, pdf []byte) (heads []string, bodies [][]byte) {
	t.Helper()
	for _, at := range streams.FindAllSubmatchIndex(pdf, -1) {
		head := string(pdf[at[2]:at[3]])
		m := length.FindStringSubmatch(head)
		if m == nil {
			continue
		}
		n, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		body := pdf[at[1]:][:n]
		if strings.Contains(head, "/FlateDecode") {
			z, err := zlib.NewReader(bytes.NewReader(body))
			require.NoError(t, err)
			body, err = io.ReadAll(z)
			require.NoError(t, err)
		}
		heads, bodies = append(heads, head), append(bodies, body)
	}
	return heads, bodies
}

var escapes = strings.NewReplacer(`\\`, `\`, `\(`, `(`, `\)`, `)`, `\r`, "\r")

// pdfText is the text a PDF shows, in the order it is drawn: its fonts are coded
// in UTF-16.
func pdfText(t *testing.T, pdf []byte) string {
	t.Helper()
	var out strings.Builder
	_, bodies := pdfStreams(t, pdf)
	for _, body := range bodies {
		for _, m := range shown.FindAllSubmatch(body, -1) {
			raw := []byte(escapes.Replace(string(m[1])))
			units := make([]uint16, len(raw)/2)
			for i := range units {
				units[i] = binary.BigEndian.Uint16(raw[2*i:])
			}
			out.WriteString(string(utf16.Decode(units)) + "\n")
		}
	}
	return out.String()
}

func pdfPages(t *testing.T, pdf []byte) int {
	t.Helper()
	m := count.FindSubmatch(pdf)
	require.NotNil(t, m, "no page tree")
	n, err := strconv.Atoi(string(m[1]))
	require.NoError(t, err)
	return n
}

// The PDF is one that a reader opens: header, cross-reference table where the
// trailer says, as many pages as it counts. ISO 32000-1, 7.5.
func TestPDFIsWellFormed(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	pdf := build(t, heron(photos), photos)["record.pdf"]
	assert.Regexp(t, `^%PDF-1\.\d\n`, string(pdf[:16]))
	tail := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\s*$`).FindSubmatch(pdf)
	require.NotNil(t, tail)
	at, err := strconv.Atoi(string(tail[1]))
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(pdf[at:], []byte("xref\n")), "the trailer points beside the table")
	for i, m := range regexp.MustCompile(`(?m)^(\d{10}) 00000 n`).FindAllSubmatch(pdf[at:], -1) {
		offset, err := strconv.Atoi(string(m[1]))
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(pdf[offset:], []byte(strconv.Itoa(i+1)+" 0 obj")), "object %d is not where the table says", i+1)
	}
	pages := pdfPages(t, pdf)
	assert.Len(t, regexp.MustCompile(`/Type /Page\b`).FindAll(pdf, -1), pages)
	assert.Regexp(t, `/MediaBox \[0 0 595\.28 841\.89\]`, string(pdf), "A4, ISO 216: 210 × 297 mm")
	assert.Contains(t, string(pdf), "/CreationDate (D:20260310101500")
	assert.Contains(t, string(pdf), "/FontFile2", "the font is inside")
	text := pdfText(t, pdf)
	for n := 1; n <= pages; n++ {
		assert.Contains(t, text, "page "+strconv.Itoa(n)+" of "+strconv.Itoa(pages)+"\n")
	}
}

// The PDF says what the page says.
func TestPDFSaysWhatThePageSays(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	r := heron(photos)
	r.Notes = append(r.Notes, &pb.HistoryEvent{Text: "£ × · µ ≤ ≥ ± ° ² – — « » ½ Ω é ß", Entry: 112})
	files := build(t, r, photos)
	text := strings.Join(strings.Fields(pdfText(t, files["record.pdf"])), " ")
	for _, row := range rowsOf(parsed(t, files["index.html"])) {
		for _, word := range strings.Fields(row.text) {
			assert.Contains(t, text, word)
		}
	}
	assert.Contains(t, text, "£ × · µ ≤ ≥ ± ° ² – — « » ½ Ω é ß")
	assert.NotContains(t, text, "□", "the font has every letter")
	assert.Contains(t, text, "#104–#107")
}

// Photographs are in the PDF at most 1200 pixels long, on the folder's as given.
func TestPhotographsInThePDF(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	files := build(t, heron(photos), photos)
	heads, bodies := pdfStreams(t, files["record.pdf"])
	var sizes []image.Point
	for i, head := range heads {
		if strings.Contains(head, "/DCTDecode") {
			c, _, err := image.DecodeConfig(bytes.NewReader(bodies[i]))
			require.NoError(t, err)
			sizes = append(sizes, image.Pt(c.Width, c.Height))
		}
	}
	assert.ElementsMatch(t, []image.Point{{1200, 675}, {300, 400}}, sizes)
	for name, data := range files {
		if strings.HasPrefix(name, "photos/") {
			var given bool
			for _, p := range photos {
				given = given || bytes.Equal(p, data)
			}
			assert.True(t, given, "%s is as it was given", name)
		}
	}
}

// turned is a JPEG whose camera was held as an orientation says: Exif 2.3, 4.6.2
// and 4.6.4, tag 0x0112.
func turned(img image.Image, orientation byte, order binary.ByteOrder) []byte {
	mark := "MM\x00*"
	if order == binary.LittleEndian {
		mark = "II*\x00"
	}
	tiff := []byte(mark + strings.Repeat("\x00", 4+2+12+4))
	order.PutUint32(tiff[4:], 8)       // where the directory is
	order.PutUint16(tiff[8:], 1)       // its entries
	order.PutUint16(tiff[10:], 0x0112) // orientation
	order.PutUint16(tiff[12:], 3)      // SHORT
	order.PutUint32(tiff[14:], 1)
	order.PutUint16(tiff[18:], uint16(orientation))
	exif := append([]byte("Exif\x00\x00"), tiff...)
	plain := jpegOf(img)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(exif)+2))
	return slices.Concat(head, exif, plain[2:])
}

// A photograph stands upright in the PDF, however the camera was held. The rows and
// columns are those of the table of tag 0x0112 in Exif 2.3, 4.6.4.
func TestPhotographsStandUpright(t *testing.T) {
	t.Parallel()
	const w, h = 64, 32
	corners := image.NewGray(image.Rect(0, 0, w, h)) // its quarters from 0 to 255, row by row
	for y := range h {
		for x := range w {
			corners.SetGray(x, y, color.Gray{Y: uint8(85 * (2*(2*y/h) + 2*x/w))})
		}
	}
	for i, c := range []struct{ row, column string }{
		{"top", "left"}, {"top", "right"}, {"bottom", "right"}, {"bottom", "left"},
		{"left", "top"}, {"right", "top"}, {"right", "bottom"}, {"left", "bottom"},
	} {
		order := []binary.ByteOrder{binary.BigEndian, binary.LittleEndian}[i%2]
		photos := shelf{}
		sum := photos.put(turned(corners, byte(i+1), order))
		r := &pb.BuildRecordResponse{Job: &pb.Job{Id: "heron"}, Photos: []*pb.Photo{{Sha256: sum}}}
		heads, bodies := pdfStreams(t, build(t, r, photos)["record.pdf"])
		printed := 0
		for k, head := range heads {
			if !strings.Contains(head, "/DCTDecode") {
				continue
			}
			printed++
			img, err := jpeg.Decode(bytes.NewReader(bodies[k]))
			require.NoError(t, err)
			size := image.Pt(w, h)
			if i >= 4 {
				size = image.Pt(h, w)
			}
			assert.Equal(t, size, img.Bounds().Size())
			// The first row is seen at c.row, the first column at c.column.
			for row, across := range []string{c.row, opposite[c.row]} {
				for column, down := range []string{c.column, opposite[c.column]} {
					x, y := size.X/4, size.Y/4
					if across == "right" || down == "right" {
						x *= 3
					}
					if across == "bottom" || down == "bottom" {
						y *= 3
					}
					got := color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y
					assert.InDelta(t, 85*(2*row+column), got, 12, "orientation %d, row %d, column %d", i+1, row, column)
				}
			}
		}
		assert.Equal(t, 1, printed)
	}
}

var opposite = map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}

// What looks like a photograph and is none, or is cut off, leaves a note and no
// broken PDF.
func TestBrokenPhotographs(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	whole := jpegOf(shot(400, 300))
	exif := turned(shot(40, 30), 6, binary.BigEndian)
	r := &pb.BuildRecordResponse{Job: &pb.Job{Id: "heron"}}
	for _, data := range [][]byte{whole[:200], []byte("\xff\xd8\xff"), pngOf(shot(30, 30))[:60], exif[:24], []byte("GIF89a"), nil} {
		r.Photos = append(r.Photos, &pb.Photo{Sha256: photos.put(data)})
	}
	files := build(t, r, photos)
	text := pdfText(t, files["record.pdf"])
	assert.Contains(t, text, "it could not be read for printing; the folder has it")
	assert.Contains(t, text, "it is no JPEG or PNG: it was left out")
}
