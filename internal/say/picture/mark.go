package picture

import (
	"image/color"
	"math"
	"strconv"

	pb "bayword/proto/bayword/v1"
)

// Sizes of a find's mark in pixels.
const (
	markHigh  = 36
	glyphSize = 11 // half of it
)

// kinds are the finds' kinds with their shapes, in the order of the key.
var kinds = []struct {
	kind  pb.FindKind
	name  string
	shape func(point, float64) []point
}{
	{pb.FindKind_FIND_KIND_HOLE, "hole", regular(36, 0)},
	{pb.FindKind_FIND_KIND_RUST, "rust", regular(4, math.Pi/4)},
	{pb.FindKind_FIND_KIND_PITTING, "pitting", regular(4, 0)},
	{pb.FindKind_FIND_KIND_DENT, "dent", regular(3, math.Pi/2)},
	{pb.FindKind_FIND_KIND_FILLER, "filler", regular(3, -math.Pi/2)},
	{pb.FindKind_FIND_KIND_OLD_REPAIR, "old repair", cross(0)},
	{pb.FindKind_FIND_KIND_CRACK, "crack", cross(math.Pi / 4)},
	{pb.FindKind_FIND_KIND_MISSING, "missing", bar},
	{pb.FindKind_FIND_KIND_PAINT, "paint fault", starry},
	{pb.FindKind_FIND_KIND_UNSPECIFIED, "find", regular(6, 0)},
}

// shapeOf is a kind's place in kinds; a kind of a later service counts as a find.
func shapeOf(k pb.FindKind) int {
	for i := range kinds {
		if kinds[i].kind == k {
			return i
		}
	}
	return len(kinds) - 1
}

// regular is a shape of so many corners, the first at an angle.
func regular(corners int, turn float64) func(point, float64) []point {
	return func(at point, size float64) []point {
		switch corners { // a shape of few corners looks small beside a circle of its radius
		case 3:
			size *= 1.25
		case 4:
			size *= 1.15
		}
		ps := make([]point, corners)
		for i := range ps {
			sin, cos := math.Sincos(turn + 2*math.Pi*float64(i)/float64(corners))
			ps[i] = point{at.x + size*cos, at.y + size*sin}
		}
		return ps
	}
}

// cross is a plus sign, turned.
func cross(turn float64) func(point, float64) []point {
	return func(at point, size float64) []point {
		sin, cos := math.Sincos(turn)
		long, thick := size*1.15, size*0.42
		var ps []point
		for _, p := range [][2]float64{{-thick, -long}, {thick, -long}, {thick, -thick}, {long, -thick}, {long, thick}, {thick, thick}, {thick, long}, {-thick, long}, {-thick, thick}, {-long, thick}, {-long, -thick}, {-thick, -thick}} {
			ps = append(ps, point{at.x + p[0]*cos - p[1]*sin, at.y + p[0]*sin + p[1]*cos})
		}
		return ps
	}
}

// bar is a lying bar.
func bar(at point, size float64) []point {
	return []point{{at.x - size*1.15, at.y - size*0.5}, {at.x + size*1.15, at.y - size*0.5}, {at.x + size*1.15, at.y + size*0.5}, {at.x - size*1.15, at.y + size*0.5}}
}

// starry is a star of five points.
func starry(at point, size float64) []point {
	ps := make([]point, 10)
	for i := range ps {
		r := size * 1.3
		if i%2 == 1 {
			r *= 0.45
		}
		sin, cos := math.Sincos(-math.Pi/2 + math.Pi*float64(i)/5)
		ps[i] = point{at.x + r*cos, at.y + r*sin}
	}
	return ps
}

// glyph draws a kind's shape: filled while the find is open, hollow once it is repaired.
func (c *canvas) glyph(shape int, repaired bool, at point, size float64) {
	c.fill(stateColour(repaired), kinds[shape].shape(at, size)...)
	if repaired {
		c.fill(paper, kinds[shape].shape(at, size*0.5)...)
	}
}

func stateColour(repaired bool) color.RGBA {
	if repaired {
		return good
	}
	return bad
}

// mark is a find's number and shape, to be put near its spot.
type mark struct {
	shape    int
	number   string
	repaired bool
	spot     point
	box      rect
}

// rect is an upright rectangle.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) meets(o rect) bool { return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1 }

func (r rect) holds(o rect) bool { return o.x0 >= r.x0 && o.x1 <= r.x1 && o.y0 >= r.y0 && o.y1 <= r.y1 }

func (c *canvas) markOf(f *pb.Find, spot point) mark {
	return mark{shape: shapeOf(f.GetKind()), number: strconv.FormatUint(uint64(f.GetNumber()), 10), repaired: f.GetState() == pb.FindState_FIND_STATE_REPAIRED, spot: spot}
}

// put finds the free place nearest to a mark's spot, less than so many pixels off
// it; false when there is none.
func (c *canvas) put(m *mark, inside rect, taken []mark, off float64) bool {
	wide := c.wide(m.number, style{plain, true}) + 2*glyphSize + 24
	const apart = 6
	free := func(x, y float64) bool {
		m.box = rect{x - wide/2, y - markHigh/2, x + wide/2, y + markHigh/2}
		if !inside.holds(m.box) {
			return false
		}
		for _, t := range taken {
			if m.box.meets(rect{t.box.x0 - apart, t.box.y0 - apart, t.box.x1 + apart, t.box.y1 + apart}) {
				return false
			}
		}
		return true
	}
	// A mark that would stand out of the picture is drawn in first.
	x := max(inside.x0+wide/2, min(inside.x1-wide/2, m.spot.x))
	y := max(inside.y0+markHigh/2.0, min(inside.y1-markHigh/2.0, m.spot.y))
	for ring := 0.0; ring < off; ring += 8 {
		around := max(1, int(ring/3))
		for i := range around {
			sin, cos := math.Sincos(-math.Pi/2 + 2*math.Pi*float64(i)/float64(around))
			if free(x+ring*cos, y+ring*sin) {
				return true
			}
		}
	}
	return false
}

// lead draws the line from a mark that had to move aside to its spot.
func (c *canvas) lead(m mark) {
	middle := point{(m.box.x0 + m.box.x1) / 2, (m.box.y0 + m.box.y1) / 2}
	if math.Hypot(middle.x-m.spot.x, middle.y-m.spot.y) < 12 {
		return
	}
	c.stroke(stateColour(m.repaired), 3, middle, m.spot)
	c.disc(stateColour(m.repaired), m.spot, 6)
}

// show draws a mark where it was put.
func (c *canvas) show(m mark) {
	c.box(stateColour(m.repaired), m.box)
	c.box(paper, rect{m.box.x0 + 3, m.box.y0 + 3, m.box.x1 - 3, m.box.y1 - 3})
	y := (m.box.y0 + m.box.y1) / 2
	c.glyph(m.shape, m.repaired, point{m.box.x0 + glyphSize + 9, y}, glyphSize-1)
	c.write(m.number, style{plain, true}, ink, point{m.box.x1 - 8, y}, right)
}

// box fills a rectangle.
func (c *canvas) box(col color.RGBA, r rect) {
	c.fill(col, point{r.x0, r.y0}, point{r.x1, r.y0}, point{r.x1, r.y1}, point{r.x0, r.y1})
}
