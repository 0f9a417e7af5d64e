package handover

import "codeberg.org/go-pdf/fpdf"

func (s *sheet) section(sec section) {
	s.y += 5
	s.room(30)
	s.f.SetFont(family, "B", heading.points) // a bookmark is written in the letters of the font in hand
	s.f.Bookmark(sec.Title, 0, s.y)
	s.paragraph(sec.Title, heading)
	s.line(s.y + 0.5)
	s.y += 2
	if sec.Lead != "" {
		s.paragraph(sec.Lead, faint)
		s.y++
	}
	for _, t := range sec.Tables {
		s.table(t)
	}
	for _, fig := range sec.Figures {
		s.figure(fig)
	}
}

func (s *sheet) table(t table) {
	if len(t.Rows) == 0 {
		text := t.Empty
		if t.Caption != "" {
			text = t.Caption + ": " + text
		}
		s.paragraph(text, faint)
		return
	}
	s.y++
	if t.Caption != "" {
		s.room(20)
		s.paragraph(t.Caption, caption)
	}
	s.room(15)
	s.head(t)
	for _, r := range t.Rows {
		s.row(t, r)
	}
	s.y++
}

// spans gives where each column begins and how wide it is, the entries' last.
func spans(t table) (x, wide []float64) {
	shares := 0.0
	for _, c := range t.Columns {
		shares += c.Share
	}
	at, left := margin, textWidth-entryWidth
	for _, c := range t.Columns {
		w := left * c.Share / shares
		x, wide = append(x, at), append(wide, w-pad)
		at += w
	}
	return append(x, at), append(wide, entryWidth)
}

// head draws the names of the columns.
func (s *sheet) head(t table) {
	x, wide := spans(t)
	end := s.y
	for i, c := range append(t.Columns[:len(t.Columns):len(t.Columns)], column{Name: "Ledger"}) {
		end = max(end, s.column(x[i], s.y, s.wrap(c.Name, faint, wide[i])))
	}
	s.y = end + 0.4
}

// mostBeside is how many lines of entries stand beside a row; more go under it.
const mostBeside = 4

// row draws one row: whole where a page can hold it, else over several.
func (s *sheet) row(t table, r row) {
	x, wide := spans(t)
	cells := make([][]piece, len(t.Columns)+1)
	for i, c := range r.Cells {
		st := plain
		if r.Sum {
			st = strong
		}
		if c != "" {
			cells[i] = s.wrap(c, st, wide[i])
		}
		if i == 0 && r.Flag != "" {
			cells[i] = append(cells[i], s.wrap(r.Flag, flagged, wide[i])...)
		}
	}
	last := len(t.Columns)
	beside := s.wrap(r.Entries.String(), mini, wide[last])
	var under []piece
	if len(beside) > mostBeside {
		under = s.wrap("Ledger: "+r.Entries.String(), mini, textWidth)
	} else {
		cells[last] = beside
	}
	if !r.Under {
		s.line(s.y)
	}
	s.y += 0.7
	s.cells(t, x, cells, s.first(r.Photos))
	for _, p := range under {
		s.turn(t, p.high())
		s.write(margin, s.y, p)
		s.y += p.high()
	}
	s.photos(t, r.Photos)
	s.y += 0.7
}

// cells draws the cells of one row beside one another; keep is what should follow
// on the same page, in mm.
func (s *sheet) cells(t table, x []float64, cells [][]piece, keep float64) {
	count := 0
	for _, c := range cells {
		count = max(count, len(c))
	}
	const names = 10.0 // mm of the columns' names
	switch high, page := float64(count)*plain.high(), bottom-top-names; {
	case high+keep < page:
		s.turn(t, high+keep)
	case high < page:
		s.turn(t, high)
	}
	for from := 0; from < count; {
		s.turn(t, plain.high())
		to := min(count, from+max(1, int((bottom-s.y)/plain.high())))
		end := s.y
		for i, c := range cells {
			end = max(end, s.column(x[i], s.y, c[min(from, len(c)):min(to, len(c))]))
		}
		s.y, from = end, to
	}
}

// turn is room, with the names of the columns again on a new page.
func (s *sheet) turn(t table, mm float64) {
	if s.y+mm > bottom && s.y > top {
		s.newPage()
		s.head(t)
		s.line(s.y)
		s.y += 0.7
	}
}

// Photographs stand two in a row.
const (
	photoWide, photoHigh = (textWidth - 5) / 2, 75.0
)

func (s *sheet) photos(t table, photos []photograph) {
	side, high := 0, 0.0
	for _, p := range photos {
		info := s.f.GetImageInfo(p.File)
		if p.File == "" || info == nil {
			if p.Note == "" {
				p.Note = "it could not be read for printing; the folder has it"
			}
			s.y, side, high = s.y+high, 0, 0
			for _, l := range s.wrap(p.Name+": "+p.Note+".", faint, textWidth) {
				s.turn(t, l.high())
				s.write(margin, s.y, l)
				s.y += l.high()
			}
			continue
		}
		w, h := scaled(info, photoWide, photoHigh)
		name := s.wrap(p.Name, faint, photoWide)
		need := h + float64(len(name))*faint.high() + 2
		if side == 2 || s.y+need > bottom {
			s.y, side, high = s.y+high, 0, 0
		}
		if side == 0 {
			s.turn(t, need)
		}
		at := margin + float64(side)*(photoWide+5)
		s.f.ImageOptions(p.File, at, s.y+0.5, w, h, false, fpdf.ImageOptions{}, 0, "")
		s.column(at, s.y+h+1, name)
		side, high = side+1, max(high, need)
	}
	s.y += high
}

// first is how high the first photographs of a row stand, with their names.
func (s *sheet) first(photos []photograph) float64 {
	for _, p := range photos {
		if info := s.f.GetImageInfo(p.File); info != nil {
			_, h := scaled(info, photoWide, photoHigh)
			return h + float64(len(s.wrap(p.Name, faint, photoWide)))*faint.high() + 2
		}
	}
	return 0
}

// scaled gives the size in mm of an image that fills a box one way.
func scaled(info *fpdf.ImageInfoType, wide, high float64) (w, h float64) {
	px, py := info.Width(), info.Height()
	if px <= 0 || py <= 0 {
		return 0, 0
	}
	by := min(wide/px, high/py)
	return px * by, py * by
}

const figureWide, figureHigh = 120.0, 150.0

func (s *sheet) figure(fig figure) {
	info := s.f.GetImageInfo(fig.File)
	if info == nil {
		return
	}
	w, h := scaled(info, figureWide, figureHigh)
	text := s.wrap(spaced(fig.Caption, fig.Entries.String()), faint, textWidth)
	s.room(h + float64(len(text))*faint.high() + 4)
	s.f.ImageOptions(fig.File, margin, s.y+1, w, h, false, fpdf.ImageOptions{}, 0, "")
	s.y = s.column(margin, s.y+h+2, text) + 2
}
