package handover

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// instead stands where the PDF's font lacks a letter.
const instead = '□'

// face measures one of the built-in fonts, for breaking lines.
type face struct {
	font   *sfnt.Font
	buf    sfnt.Buffer
	widths map[rune]float64 // in em; of those it has
}

func newFace(ttf []byte) (*face, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("the built-in font: %w", err)
	}
	return &face{font: f, widths: map[rune]float64{}}, nil
}

// wide is the width of a letter in em; false when the font lacks it.
func (f *face) wide(r rune) (float64, bool) {
	if w, ok := f.widths[r]; ok {
		return w, w >= 0
	}
	w := -1.0
	if i, err := f.font.GlyphIndex(&f.buf, r); err == nil && i != 0 {
		units := f.font.UnitsPerEm()
		if a, err := f.font.GlyphAdvance(&f.buf, i, fixed.Int26_6(units)<<6, font.HintingNone); err == nil {
			w = float64(a) / 64 / float64(units)
		}
	}
	f.widths[r] = w
	return w, w >= 0
}

// drawable replaces what the font lacks, and tells whether it had to.
func (f *face) drawable(s string) (string, bool) {
	lost := false
	out := strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.Is(unicode.C, r), unicode.Is(unicode.Mn, r):
			return -1 // joins or marks a letter; there is nothing to see of it alone
		}
		if _, ok := f.wide(r); !ok {
			lost = true
			return instead
		}
		return r
	}, s)
	return out, lost
}

// width is the width of a text in em.
func (f *face) width(s string) float64 {
	sum := 0.0
	for _, r := range s {
		w, _ := f.wide(r)
		sum += w
	}
	return sum
}

// wrap breaks a text into lines of at most room em, at spaces, and inside words
// that are too long for a line. Its own lines stay.
func (f *face) wrap(s string, room float64) []string {
	var out []string
	space := f.width(" ")
	for _, para := range strings.Split(s, "\n") {
		line, used := "", 0.0
		for _, word := range strings.Fields(para) {
			for _, piece := range f.pieces(word, room) {
				w := f.width(piece)
				switch {
				case line == "":
					line, used = piece, w
				case used+space+w <= room:
					line, used = line+" "+piece, used+space+w
				default:
					out = append(out, line)
					line, used = piece, w
				}
			}
		}
		out = append(out, line)
	}
	return out
}

// pieces cuts a word that is wider than a line.
func (f *face) pieces(word string, room float64) []string {
	if f.width(word) <= room {
		return []string{word}
	}
	var out []string
	from, used := 0, 0.0
	for i, r := range word {
		w, _ := f.wide(r)
		if used+w > room && i > from {
			out = append(out, word[from:i])
			from, used = i, 0
		}
		used += w
	}
	return append(out, word[from:])
}
