package picture

import (
	"fmt"
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// Sizes of the outline in pixels.
const (
	long     = 660 // of the vehicle
	tallSide = 216 // from roof to ground
	acrossIt = 250 // from side to side, seen from above
	paneRoom = 46  // above each view, for its name
	keyRow   = 38
	mostFind = 60 // finds that are marked
)

// glass is a window; tyre a wheel.
var (
	glass = line
	tyre  = grey
)

// Outline draws a vehicle from those of its sides that have finds and from above,
// with each find at its panel: its number, a shape for its kind, filled red while
// it is open and hollow green once it is repaired. Body is the shop's words for the
// body, such as "two-door coupe"; what is not known is drawn as a saloon. What
// cannot be placed is named below. It fails with ErrNothing without finds.
func Outline(body string, finds []*pb.Find) ([]byte, error) {
	if len(finds) == 0 {
		return nil, ErrNothing
	}
	o := outlined(bodyOf(body), finds)
	key := o.key()
	tall := 84.0
	for _, v := range o.views {
		tall += paneRoom + v.tall()
	}
	notes := o.notes()
	c, err := newCanvas(int(tall) + 30 + keyRow*len(key) + 28*len(notes))
	if err != nil {
		return nil, err
	}
	c.title(o.title)
	y := 84.0
	for _, v := range o.views {
		c.view(o.body, v, y)
		y += paneRoom + v.tall()
	}
	y += 24
	for _, row := range key {
		for i, e := range row {
			c.entry(e, point{24 + float64(i)*width/3, y + keyRow/2})
		}
		y += keyRow
	}
	for _, n := range notes {
		c.write(n, style{small, false}, grey, point{24, y + 14}, left)
		y += 28
	}
	return c.png()
}

// seen is a view of the vehicle with what is marked in it.
type seen struct {
	name  string
	above bool
	back  bool // the front is on the right
	finds []*pb.Find
	spots []point // in body lengths, as the finds
}

func (v *seen) tall() float64 {
	if v.above {
		return acrossIt + 30
	}
	return tallSide + 16
}

type outline struct {
	title    string
	body     body
	views    []*seen
	unplaced []string
	left     int // finds beyond those that are marked
	shapes   map[int]bool
	states   map[bool]bool
}

// outlined puts each find into its view.
func outlined(b body, finds []*pb.Find) *outline {
	o := &outline{title: outlineTitle(finds), body: b, shapes: map[int]bool{}, states: map[bool]bool{}}
	above := &seen{name: "From above", above: true}
	sides := map[pb.Side]*seen{pb.Side_SIDE_LEFT: {name: "Left side"}, pb.Side_SIDE_RIGHT: {name: "Right side", back: true}}
	for i, f := range finds {
		if i == mostFind {
			o.left = len(finds) - i
			break
		}
		at, ok := b.spot(f)
		if !ok {
			o.unplaced = append(o.unplaced, fmt.Sprintf("%d %s", f.GetNumber(), shown(f.GetPanel())))
			continue
		}
		v := above
		if !at.above {
			v = sides[f.GetSide()]
		}
		v.finds, v.spots = append(v.finds, f), append(v.spots, at.at)
		o.shapes[shapeOf(f.GetKind())], o.states[f.GetState() == pb.FindState_FIND_STATE_REPAIRED] = true, true
	}
	for _, v := range []*seen{sides[pb.Side_SIDE_LEFT], above, sides[pb.Side_SIDE_RIGHT]} {
		if v.above || len(v.finds) > 0 {
			o.views = append(o.views, v)
		}
	}
	return o
}

func outlineTitle(finds []*pb.Find) string {
	job := finds[0].GetJob()
	for _, f := range finds {
		if f.GetJob() != job {
			return "Finds"
		}
	}
	if job = shown(job); job == "" {
		return "Finds"
	}
	return "Finds on the " + job
}

// spot is where a find is marked; false when its panel is not known.
func (b body) spot(f *pb.Find) (spot, bool) {
	panel := strings.ToLower(f.GetPanel())
	rear, front := f.GetEnd() == pb.End_END_REAR, f.GetEnd() == pb.End_END_FRONT
	sided := f.GetSide() == pb.Side_SIDE_LEFT || f.GetSide() == pb.Side_SIDE_RIGHT
	if at, ok := b.inSide(panel, rear, front); ok {
		if sided {
			return spot{at: at}, true
		}
		return spot{true, point{at.x, 0.5}}, true // a side nobody named: in the middle
	}
	along, out, ok := b.fromAbove(panel, rear, front)
	switch {
	case !ok:
		return spot{}, false
	case f.GetSide() == pb.Side_SIDE_LEFT:
		return spot{true, point{along, 0.5 + out}}, true
	case f.GetSide() == pb.Side_SIDE_RIGHT:
		return spot{true, point{along, 0.5 - out}}, true
	}
	return spot{true, point{along, 0.5}}, true
}

// view draws one view with its marks, from its name at y down.
func (c *canvas) view(b body, v *seen, y float64) {
	c.write(v.name, style{plain, true}, ink, point{24, y + 16}, left)
	where := point{24 + c.wide(v.name, style{plain, true}) + 18, y + 16}
	says := "front on the left"
	switch {
	case v.above:
		says += ", right side at the top"
	case v.back:
		says = "front on the right"
	}
	c.write(says, style{small, false}, grey, where, left)
	top := y + paneRoom
	high := float64(tallSide)
	if v.above {
		high = acrossIt
	}
	x0 := (width - long) / 2.0
	to := func(p point) point {
		x := x0 + p.x*long
		if v.back {
			x = width - x
		}
		return point{x, top + p.y*high}
	}
	if v.above {
		c.fromAbove(b, to)
	} else {
		c.fromSide(b, to)
	}
	inside := rect{8, top - 10, width - 8, top + v.tall() - 4}
	// Those that are alone at their spot come first, so that none is driven off
	// its own place by one that has to move anyway.
	var placed, moving []mark
	for i, f := range v.finds {
		m := c.markOf(f, to(v.spots[i]))
		if c.put(&m, inside, placed, 1) {
			placed = append(placed, m)
		} else {
			moving = append(moving, m)
		}
	}
	for _, m := range moving {
		if c.put(&m, inside, placed, width) {
			placed = append(placed, m)
		}
	}
	for _, m := range placed { // lines below all marks
		c.lead(m)
	}
	for _, m := range placed {
		c.show(m)
	}
}

// each maps points.
func each(ps []point, to func(point) point) []point {
	out := make([]point, len(ps))
	for i, p := range ps {
		out[i] = to(p)
	}
	return out
}

// rounded cuts the corners of a closed shape, twice as fine each time.
func rounded(ps []point, times int) []point {
	for range times {
		out := make([]point, 0, 2*len(ps))
		for i, a := range ps {
			b := ps[(i+1)%len(ps)]
			out = append(out, point{0.8*a.x + 0.2*b.x, 0.8*a.y + 0.2*b.y}, point{0.2*a.x + 0.8*b.x, 0.2*a.y + 0.8*b.y})
		}
		ps = out
	}
	return ps
}

// ring strokes a closed shape.
func (c *canvas) ring(thick float64, ps []point) {
	for i, a := range ps {
		c.stroke(ink, thick, a, ps[(i+1)%len(ps)])
		c.disc(ink, a, thick/2)
	}
}

// fromSide draws the vehicle from its side.
func (c *canvas) fromSide(b body, to func(point) point) {
	shape := each(rounded(b.silhouette(), 2), to)
	c.fill(metal, shape...)
	c.ring(2.5, shape)
	window := each(rounded(b.window(), 2), to)
	c.fill(pale, window...)
	for i, x := range b.shut {
		up := roofLine + 0.05
		if i == 0 { // the screen leans over it
			up = waist
		}
		c.stroke(line, 3, to(point{x, up}), to(point{x, sillTop}))
	}
	c.stroke(line, 3, to(point{b.shut[0], sillTop}), to(point{b.lastShut(), sillTop}))
	for i := range len(b.shut) - 1 { // handles
		c.stroke(line, 5, to(point{b.shut[i+1] - 0.045, waist + 0.06}), to(point{b.shut[i+1] - 0.015, waist + 0.06}))
	}
	if b.bed {
		c.stroke(line, 3, to(point{b.deck + 0.01, waist + 0.02}), to(point{b.deck + 0.01, sillEnd}))
	}
	const r = 46
	for _, x := range []float64{b.front, b.rear} {
		hub := to(point{x, wheelUp})
		c.disc(paper, hub, r+8)
		c.disc(tyre, hub, r)
		c.disc(pale, hub, r*0.55)
	}
}

// fromAbove draws the vehicle from above.
func (c *canvas) fromAbove(b body, to func(point) point) {
	shape := each(rounded([]point{{0, 0.14}, {0.05, 0.02}, {0.3, 0}, {0.8, 0}, {0.97, 0.03}, {1, 0.14}, {1, 0.86}, {0.97, 0.97}, {0.8, 1}, {0.3, 1}, {0.05, 0.98}, {0, 0.86}}, 2), to)
	c.fill(metal, shape...)
	c.ring(2.5, shape)
	cut := func(x, a, b float64) { c.stroke(line, 3, to(point{x, a}), to(point{x, b})) }
	quad := func(x0, out0, x1, out1 float64) {
		c.fill(glass, each([]point{{x0, out0}, {x1, out1}, {x1, 1 - out1}, {x0, 1 - out0}}, to)...)
		c.fill(pale, each([]point{{x0 + 0.004, out0 + 0.015}, {x1 - 0.004, out1 + 0.015}, {x1 - 0.004, 1 - out1 - 0.015}, {x0 + 0.004, 1 - out0 - 0.015}}, to)...)
	}
	quad(b.scuttle+0.01, 0.07, b.screen, 0.15)
	cut(b.scuttle-0.02, 0.08, 0.92) // the bonnet's end and its sides
	for _, e := range []float64{0.08, 0.92} {
		c.stroke(line, 3, to(point{0.04, e + (0.5-e)*0.12}), to(point{b.scuttle - 0.02, e}))
	}
	c.stroke(line, 3, to(point{b.screen, 0.15}), to(point{b.roofEnd, 0.15}))
	c.stroke(line, 3, to(point{b.screen, 0.85}), to(point{b.roofEnd, 0.85}))
	if b.bed {
		quad(b.roofEnd, 0.15, b.roofEnd+0.02, 0.14)
		c.stroke(line, 3, to(point{b.deck, 0}), to(point{b.deck, 1}))
		for i := range 6 {
			y := 0.1 + 0.16*float64(i)
			c.stroke(line, 3, to(point{b.deck + 0.012, y}), to(point{0.975, y}))
		}
		cut(b.deck+0.012, 0.1, 0.9)
		cut(0.975, 0.1, 0.9)
		return
	}
	quad(b.roofEnd, 0.15, b.deck-0.01, 0.09)
	if !b.boxy {
		cut(b.deck+0.005, 0.1, 0.9)
		for _, e := range []float64{0.1, 0.9} {
			c.stroke(line, 3, to(point{b.deck + 0.005, e}), to(point{0.985, e}))
		}
	}
}

// keyed is one line of the key.
type keyed struct {
	shape    int
	repaired bool
	name     string
}

// key is what the shapes and colours mean, of those that are drawn, three in a row.
func (o *outline) key() [][]keyed {
	var all []keyed
	for i := range kinds {
		if o.shapes[i] {
			all = append(all, keyed{i, !o.states[false], kinds[i].name})
		}
	}
	circle := shapeOf(pb.FindKind_FIND_KIND_HOLE)
	var states []keyed
	if o.states[false] {
		states = append(states, keyed{circle, false, "filled: open"})
	}
	if o.states[true] {
		states = append(states, keyed{circle, true, "hollow: repaired"})
	}
	rows := slices.Collect(slices.Chunk(all, 3))
	if len(states) > 0 {
		rows = append(rows, states)
	}
	return rows
}

func (c *canvas) entry(e keyed, at point) {
	c.glyph(e.shape, e.repaired, point{at.x + glyphSize, at.y}, glyphSize)
	c.write(e.name, style{small, false}, ink, point{at.x + 2*glyphSize + 12, at.y}, left)
}

// notes name what is not drawn.
func (o *outline) notes() []string {
	out := []string{"A plain outline, not to scale."}
	if n := len(o.unplaced); n > 0 {
		s := "Not drawn: " + strings.Join(o.unplaced[:min(3, n)], ", ")
		if n > 3 {
			s += fmt.Sprintf(" and %d more", n-3)
		}
		out = append(out, s+".")
	}
	if o.left > 0 {
		out = append(out, fmt.Sprintf("%d more finds are not drawn.", o.left))
	}
	return out
}
