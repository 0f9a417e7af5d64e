package handover

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf" // pure Go, kept up, cuts TTF fonts to the letters used, and takes its dates from the caller
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Sizes of the sheet in mm: A4, ISO 216.
const (
	pageWidth, pageHeight = 210.0, 297.0
	margin                = 15.0
	top, bottom           = 16.0, 279.0
	textWidth             = pageWidth - 2*margin
	pad                   = 2.0  // between columns
	entryWidth            = 20.0 // of the column of entries
	mmPerPoint            = 25.4 / 72
	leading               = 1.3 // line height over letter height
)

type ink struct{ r, g, b int }

var (
	black = ink{0x20, 0x24, 0x28}
	grey  = ink{0x5f, 0x66, 0x6d}
	red   = ink{0xa8, 0x20, 0x1a}
	rule  = ink{0xc9, 0xcf, 0xd5}
)

// style is how a text looks; points are its size.
type style struct {
	points float64
	bold   bool
	ink    ink
}

var (
	plain   = style{9, false, black}
	strong  = style{9, true, black}
	flagged = style{9, true, red}
	faint   = style{8, false, grey}
	mini    = style{7, false, grey}
	heading = style{14, true, black}
	caption = style{9.5, true, black}
	title   = style{24, true, black}
)

// high is the height of a line in mm.
func (s style) high() float64 { return s.points * mmPerPoint * leading }

// piece is one line of text as it is drawn.
type piece struct {
	text string
	style
}

// sheet is the PDF being written. y is where the next thing goes, in mm from the
// top of the page.
type sheet struct {
	f      *fpdf.Fpdf
	faces  map[bool]*face // by bold
	y      float64
	album  *album
	lost   bool // a letter was replaced
	images int  // how many were read in
}

const family = "go"

// renderPDF writes the document. at is its date; the same document and date give
// the same bytes.
func renderPDF(ctx context.Context, doc document, drawn []picture, a *album, at time.Time) ([]byte, error) {
	s, err := newSheet(doc, a, at)
	if err != nil {
		return nil, err
	}
	if err := s.register(ctx, drawn); err != nil {
		return nil, err
	}
	s.cover(doc)
	for _, sec := range doc.Sections {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s.section(sec)
	}
	if s.lost {
		s.room(2 * faint.high())
		s.paragraph("A "+string(instead)+" stands for a letter that this file's font does not have; the page beside it, index.html, shows it.", faint)
	}
	s.footers(doc)
	var b bytes.Buffer
	if err := s.f.Output(&b); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	return b.Bytes(), nil
}

func newSheet(doc document, a *album, at time.Time) (*sheet, error) {
	if at.IsZero() {
		at = time.Unix(0, 0) // the library takes «no time» for now
	}
	f := fpdf.New("P", "mm", "A4", "")
	f.SetCatalogSort(true)
	f.SetCreationDate(at.UTC())
	f.SetModificationDate(at.UTC())
	f.SetTitle(doc.Title, true)
	f.SetAuthor(doc.Shop, true)
	f.SetCreator("Bayword", true)
	f.SetLang("en-GB")
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(margin, top, margin)
	s := &sheet{f: f, faces: map[bool]*face{}, album: a}
	for bold, ttf := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		var err error
		if s.faces[bold], err = newFace(ttf); err != nil {
			return nil, err
		}
	}
	f.AddUTF8FontFromBytes(family, "", goregular.TTF)
	f.AddUTF8FontFromBytes(family, "B", gobold.TTF)
	s.newPage()
	return s, f.Error()
}

func (s *sheet) newPage() {
	s.f.AddPage()
	s.y = top
}

// room starts a new page unless so many mm are left on this one.
func (s *sheet) room(mm float64) {
	if s.y+mm > bottom && s.y > top {
		s.newPage()
	}
}

// wrap breaks a text into lines that fit a width in mm.
func (s *sheet) wrap(text string, st style, width float64) []piece {
	f := s.faces[st.bold]
	text, lost := f.drawable(text)
	s.lost = s.lost || lost
	var out []piece
	for _, l := range f.wrap(text, width/(st.points*mmPerPoint)) {
		out = append(out, piece{l, st})
	}
	return out
}

// write draws one line with its top at y.
func (s *sheet) write(x, y float64, p piece) {
	weight := ""
	if p.bold {
		weight = "B"
	}
	s.f.SetFont(family, weight, p.points)
	s.f.SetTextColor(p.ink.r, p.ink.g, p.ink.b)
	s.f.Text(x, y+p.points*mmPerPoint, p.text)
}

// column draws lines under one another and gives where they end.
func (s *sheet) column(x, y float64, pieces []piece) float64 {
	for _, p := range pieces {
		s.write(x, y, p)
		y += p.high()
	}
	return y
}

// paragraph draws a text over the whole width, over pages where it must.
func (s *sheet) paragraph(text string, st style) {
	for _, p := range s.wrap(text, st, textWidth) {
		s.room(p.high())
		s.write(margin, s.y, p)
		s.y += p.high()
	}
}

func (s *sheet) line(y float64) {
	s.f.SetDrawColor(rule.r, rule.g, rule.b)
	s.f.SetLineWidth(0.2)
	s.f.Line(margin, y, pageWidth-margin, y)
}

func (s *sheet) cover(doc document) {
	s.paragraph(doc.Shop, style{11, false, grey})
	s.paragraph(doc.Title, title)
	s.y += 3
	const names = 42.0
	for _, f := range doc.Cover {
		value := s.wrap(spaced(f.Text, f.Entries.String()), plain, textWidth-names)
		s.room(float64(len(value)) * plain.high())
		s.column(margin, s.y, s.wrap(f.Name, faint, names-pad))
		s.y = s.column(margin+names, s.y, value) + 0.6
	}
	s.y += 3
}

// footers number the pages, once it is known how many there are.
func (s *sheet) footers(doc document) {
	const y = 285.0
	pages := s.f.PageCount()
	name := short(doc.Title+" · "+doc.Shop, 90)
	for n := 1; n <= pages; n++ {
		s.f.SetPage(n)
		s.write(margin, y, s.wrap(name, faint, textWidth-40)[0])
		number := fmt.Sprintf("page %d of %d", n, pages)
		wide := s.faces[false].width(number) * faint.points * mmPerPoint
		s.write(pageWidth-margin-wide, y, piece{number, faint})
	}
}
