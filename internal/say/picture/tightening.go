package picture

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Counts that are drawn, and what is drawn when the count is not known.
const (
	leastRing, mostRing, usualRing = 3, 12, 5
	leastHead, mostHead, usualHead = 4, 20, 10
)

// pattern is how fasteners of a name are gone round.
type pattern int

const (
	star   pattern = iota // on a circle: across, then across again
	spiral                // in two rows: from the middle outwards
)

// named says which words in a fastener's name mean which pattern. The first match
// counts: a «cylinder head» and a «flywheel» hold neither of the other's words.
var named = []struct {
	word string
	as   pattern
}{{"head", spiral}, {"manifold", spiral}, {"wheel", star}, {"clutch", star}, {"hub", star}}

// Tightening draws the order to go round fasteners, and the stages in N·m: a star
// for what stands on a circle, a spiral from the middle for a head. Count is how
// many there are; 0, or one that is not drawn, is not known, and then the
// principle alone is drawn. It fails with ErrNoOrder for a fastener with no usual
// order. Both orders: common practice, no source.
func Tightening(fastener string, stages []float64, count int) ([]byte, error) {
	as, ok := patternOf(fastener)
	if !ok {
		return nil, ErrNoOrder
	}
	places, known := spots(as, count)
	c, err := newCanvas(tall(as, len(stages)))
	if err != nil {
		return nil, err
	}
	title := shown(fastener)
	if title != "" {
		title = strings.ToUpper(title[:1]) + title[1:]
	}
	c.write(title, style{big, true}, ink, point{24, 36}, left)
	says := "Order principle: " + map[pattern]string{star: "across, then across again.", spiral: "from the middle outwards, in a spiral."}[as]
	if !known {
		says += fmt.Sprintf(" Drawn for %d; yours may have more or fewer.", len(places))
	}
	y := 80.0
	for _, l := range c.wrap(says, style{small, false}, width-48) {
		c.write(l, style{small, false}, grey, point{24, y}, left)
		y += 26
	}
	c.write("The maker's own order comes first.", style{small, true}, bad, point{24, y}, left)
	ground(c, as)
	for i := 1; i < len(places); i++ {
		a, b := places[i-1], places[i]
		if as == spiral && a.y == b.y && hop(places, i) > 1 {
			c.over(line, 4, a, b)
			continue
		}
		a, b = shorten(a, b, radius+3)
		c.arrow(line, 4, a, b)
	}
	for i, p := range places {
		c.disc(ink, p, radius)
		c.write(strconv.Itoa(i+1), style{plain, true}, paper, p, centre)
	}
	y = float64(tall(as, 0))
	for i, nm := range stages[:min(len(stages), mostStages)] {
		text := "Round " + strconv.Itoa(i+1) + ": "
		c.write(text, style{plain, false}, grey, point{24, y}, left)
		c.write(tenth(nm)+" N·m", style{plain, true}, ink, point{24 + c.wide(text, style{plain, false}), y}, left)
		c.write("all of them, in this order", style{small, false}, grey, point{360, y}, left)
		y += stageRoom
	}
	return c.png()
}

// Sizes of the drawing in pixels.
const (
	radius     = 30
	ringHigh   = 440
	headHigh   = 360
	headTop    = 160
	stageRoom  = 40
	mostStages = 8
)

// tall is the height of the picture with so many stages.
func tall(as pattern, stages int) int {
	h := headTop + headHigh
	if as == star {
		h = headTop + ringHigh
	}
	return h + 24 + min(stages, mostStages)*stageRoom
}

func patternOf(fastener string) (pattern, bool) {
	for _, n := range named {
		if strings.Contains(strings.ToLower(fastener), n.word) {
			return n.as, true
		}
	}
	return 0, false
}

// spots are the fasteners' places in the order they are tightened.
func spots(as pattern, count int) (places []point, known bool) {
	if as == star {
		if known = count >= leastRing && count <= mostRing; !known {
			count = usualRing
		}
		for _, i := range across(count) {
			sin, cos := math.Sincos(2*math.Pi*float64(i)/float64(count) - math.Pi/2)
			places = append(places, point{width/2 + 160*cos, headTop + ringHigh/2 + 160*sin})
		}
		return places, known
	}
	if known = count >= leastHead && count <= mostHead && count%2 == 0; !known {
		count = usualHead
	}
	apart := min(150, (width-2*80)/float64(count/2-1))
	for _, p := range outwards(count / 2) {
		x := width/2 + (float64(p.column)-float64(count/2-1)/2)*apart
		places = append(places, point{x, headTop + headHigh/2 + (float64(p.row)-0.5)*120})
	}
	return places, known
}

// across is the order round a circle of n, counted clockwise from the top: every
// step goes to the free place nearest to opposite.
func across(n int) []int {
	out, free := []int{0}, make([]bool, n)
	for i := range free {
		free[i] = i > 0
	}
	far := func(a, b int) int { d := abs(a - b); return min(d, n-d) }
	for len(out) < n {
		last, next := out[len(out)-1], -1
		for step := range n {
			i := (last + n/2 + step) % n
			if free[i] && (next < 0 || far(last, i) > far(last, next)) {
				next = i
			}
		}
		free[next] = false
		out = append(out, next)
	}
	return out
}

type cell struct{ column, row int }

// outwards is the order over two rows of n columns: from the middle column to
// the sides in turn, up one column and down the next, so that it winds outwards.
func outwards(n int) []cell {
	columns := make([]int, n)
	for i := range columns {
		columns[i] = i
	}
	from := func(c int) int { return abs(2*c - (n - 1)) }
	slices.SortStableFunc(columns, func(a, b int) int { return from(a) - from(b) })
	out := make([]cell, 0, 2*n)
	for i, c := range columns {
		out = append(out, cell{c, i % 2}, cell{c, 1 - i%2})
	}
	return out
}

// ground draws what the fasteners stand on.
func ground(c *canvas, as pattern) {
	if as == star {
		c.disc(pale, point{width / 2, headTop + ringHigh/2}, 212)
		c.disc(paper, point{width / 2, headTop + ringHigh/2}, 58)
		return
	}
	c.fill(pale, point{24, headTop + 16}, point{width - 24, headTop + 16}, point{width - 24, headTop + headHigh - 16}, point{24, headTop + headHigh - 16})
}

// hop is how many columns step i goes along a row.
func hop(places []point, i int) int {
	apart := math.Inf(1)
	for _, p := range places {
		if d := math.Abs(p.x - places[0].x); d > 0 {
			apart = min(apart, d)
		}
	}
	return int(math.Round(math.Abs(places[i].x-places[i-1].x) / apart))
}

// over draws an arrow in a bow round the fasteners between two of a row: above
// the upper row, below the lower one.
func (c *canvas) over(col color.RGBA, thick float64, a, b point) {
	way := -1.0
	if a.y > headTop+headHigh/2 {
		way = 1
	}
	a.y, b.y = a.y+way*(radius+3), b.y+way*(radius+3)
	top := point{(a.x + b.x) / 2, a.y + way*min(110, math.Abs(b.x-a.x)*0.3)}
	const pieces = 24
	last := a
	for i := 1; i <= pieces; i++ {
		t := float64(i) / pieces
		p := point{(1-t)*(1-t)*a.x + 2*t*(1-t)*top.x + t*t*b.x, (1-t)*(1-t)*a.y + 2*t*(1-t)*top.y + t*t*b.y}
		if i >= pieces-1 { // the head takes the last two pieces
			c.arrow(col, thick, last, b)
			return
		}
		c.stroke(col, thick, last, p)
		last = p
	}
}

// shorten takes d pixels off both ends.
func shorten(a, b point, d float64) (point, point) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	if l <= 2*d {
		return a, a
	}
	dx, dy := (b.x-a.x)/l*d, (b.y-a.y)/l*d
	return point{a.x + dx, a.y + dy}, point{b.x - dx, b.y - dy}
}
