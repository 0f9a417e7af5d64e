package repair

import (
	"fmt"
	"math"
)

// Kind says what a find is.
type Kind string

// The kinds.
const (
	Hole      Kind = "hole"
	Rust      Kind = "rust"
	Pitting   Kind = "pitting"
	Dent      Kind = "dent"
	Filler    Kind = "filler"
	OldRepair Kind = "old_repair"
	Crack     Kind = "crack"
	Missing   Kind = "missing"
	Paint     Kind = "paint"
)

// Find is something to put right. Sizes are in mm; 0 means not said.
type Find struct {
	Name                           string // for words, such as "find 3"
	Kind                           Kind
	Width, Height, Diameter, Depth float64
	Count                          int  // 0 means one
	OnOldRepair                    bool // it is at or under somebody's earlier repair
}

// Panel is the panel they are on.
type Panel struct {
	Name           string
	Structural     bool    // it carries load
	Hidden         bool    // nobody blocks it for paint
	Hung           bool    // it comes off its hinges or bolts: no welding to replace it
	NoPanel        bool    // there is no such panel to be had, as for the whole body
	AreaM2         float64 // outer face; 0 when not known
	Length, Height float64 // mm; 0 when not known
	SheetMM        float64 // usual for the place when 0
}

// usualSize is the side of a find whose size nobody said, in mm, and usualDepth of
// a dent (common practice, no source: measure it).
var usualSize = map[Kind]float64{
	Hole: 60, Rust: 100, Pitting: 150, Dent: 80, Filler: 150, OldRepair: 200, Crack: 60, Missing: 150, Paint: 150,
}

const usualDepth = 10.0

// Limits of what is sensible; not physics.
const (
	maxSize  = 6000.0
	maxDepth = 500.0
	maxCount = 1000
	maxFinds = 200
)

func (f Find) check() error {
	if _, ok := usualSize[f.Kind]; !ok {
		return refuse("kind", f.Kind, "give hole, rust, pitting, dent, filler, old_repair, crack, missing or paint")
	}
	for _, v := range []struct {
		field string
		v, hi float64
	}{{"width_mm", f.Width, maxSize}, {"height_mm", f.Height, maxSize}, {"diameter_mm", f.Diameter, maxSize}, {"depth_mm", f.Depth, maxDepth}} {
		if err := within(v.field, v.v, 0, v.hi, "mm"); err != nil {
			return err
		}
	}
	return within("count", float64(f.Count), 0, maxCount, "a number")
}

// size fills in a find's sides and number, and says what was assumed.
func (f Find) size() (sized Find, assumed string) {
	f.Count = max(f.Count, 1)
	w, h := f.Width, f.Height
	if f.Diameter > 0 {
		w, h = max(w, f.Diameter), max(h, f.Diameter)
	}
	switch {
	case w == 0 && h == 0:
		w = usualSize[f.Kind]
		h = w
		assumed = fmt.Sprintf("%s: no size on record, %g mm taken (common practice, no source): measure it", f.Name, w)
	case (w == 0 || h == 0) && f.Kind != Crack:
		w, h = max(w, h), max(w, h)
		assumed = fmt.Sprintf("%s: one size on record, taken as %g × %g mm", f.Name, w, h)
	}
	f.Width, f.Height = w, h
	if f.Kind == Crack {
		f.Width, f.Height = max(w, h), 0
	}
	if f.Depth == 0 {
		f.Depth = usualDepth
	}
	return f, assumed
}

// cut tells whether a find is cut out: what is only on the surface is not, but of
// structure, where filler and pits are cut too.
func (f Find) cut(p Panel) bool {
	switch f.Kind {
	case Hole, Rust, OldRepair, Missing:
		return true
	case Pitting, Filler:
		return p.Structural
	}
	return false
}

// grown gives the sides in mm of what is to be cut of a find: what is rusted is more
// than what is seen of it, and the margin comes all round.
func (f Find) grown(beyond, margin float64) (w, h float64) {
	if f.Kind == Missing || f.Kind == Crack {
		beyond = 1
	}
	return f.Width*beyond + 2*margin, f.Height*beyond + 2*margin
}

func (p Panel) check() error {
	for _, v := range []struct {
		field string
		v, hi float64
		what  string
	}{
		{"area_m2", p.AreaM2, 30, "m²"}, {"length_mm", p.Length, maxSize, "mm"}, {"height_mm", p.Height, maxSize, "mm"},
	} {
		if err := within(v.field, v.v, 0, v.hi, v.what); err != nil {
			return err
		}
	}
	if p.SheetMM == 0 {
		return nil
	}
	return within("sheet_mm", p.SheetMM, 0.5, 2, "mm; thicker sheet is welded to a procedure")
}

// sheet is the thickness of the panel's sheet in mm, and what was assumed.
func (p Panel) sheet() (mm float64, assumed string) {
	const outer, inner = 0.9, 1.2
	switch {
	case p.SheetMM > 0:
		return p.SheetMM, ""
	case p.Structural:
		return inner, fmt.Sprintf("%g mm sheet (common practice, no source): measure it beside the hole", inner)
	}
	return outer, fmt.Sprintf("%g mm sheet (common practice, no source): measure it beside the hole", outer)
}

// sides gives the long and the short side of the panel in mm: as known, else those
// of a rectangle twice as long as high.
func (p Panel) sides() (long, short float64) {
	if p.Length > 0 && p.Height > 0 {
		return max(p.Length, p.Height), min(p.Length, p.Height)
	}
	return rectangle(p.AreaM2)
}

// area is the panel's area in m²; 0 when it is not known.
func (p Panel) area() float64 {
	if p.AreaM2 > 0 {
		return p.AreaM2
	}
	return p.Length * p.Height / 1e6
}

// rectangle gives the sides in mm of a rectangle twice as long as high.
func rectangle(m2 float64) (long, short float64) {
	short = math.Sqrt(m2/2) * 1000
	return 2 * short, short
}
