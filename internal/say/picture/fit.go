package picture

import (
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// Fit draws a panel in its opening as measured and, where the moves change
// anything, after them. Gaps are exaggerated; each reading is marked in or out of
// tolerance. It fails with ErrNothing when no reading can be drawn.
func Fit(r *pb.SolveFitResponse) ([]byte, error) {
	v := viewOf(r)
	if !v.drawable() {
		return nil, ErrNothing
	}
	panes := []pane{{"BEFORE", v.before}}
	switch {
	case len(v.after) > 0 && !same(v.before, v.after):
		panes = append(panes, pane{"AFTER", v.after})
	default:
		panes[0].title = "AS IT IS"
	}
	const top, foot = 104, 84
	each := v.height + 2*labelRoom + 16
	c, err := newCanvas(int(top + foot + each*float64(len(panes))))
	if err != nil {
		return nil, err
	}
	c.write(v.title, style{big, true}, ink, point{24, 36}, left)
	c.write(v.from+"; "+v.times+".", style{small, false}, grey, point{24, 78}, left)
	y := float64(top)
	for _, p := range panes {
		v.draw(c, p, y+labelRoom)
		y += each
	}
	for i, l := range c.wrap(v.wanted, style{small, false}, width-48) {
		c.write(l, style{small, false}, grey, point{24, y + 14 + float64(i)*26}, left)
	}
	return c.png()
}

// Sizes of the drawing in pixels.
const (
	openingWide = 500 // of the opening
	labelRoom   = 62  // above and below it, for labels
	mostGap     = 70  // the widest gap drawn
	mostScale   = 12  // for a millimetre of gap
	mostLabels  = 5   // an edge
)

// place of an edge in the picture.
type slot int

const (
	leftEdge slot = iota
	rightEdge
	topEdge
	bottomEdge
	slots
)

// edge is one edge as drawn: readings run down, or left to right.
type edge struct {
	name              string
	gaps              []float64
	target, tolerance float64
}

type edges map[slot]edge

type pane struct {
	title string
	edges edges
}

// view is the panel as it will be drawn.
type view struct {
	title, from, times, wanted string
	names                      [slots]string
	before, after              edges
	height                     float64 // of the opening, in pixels
	scale                      float64 // pixels a mm of gap
	inset                      float64 // pixels from a corner of the opening to the first mark: clear of the other edge's gap
}

// viewOf turns the panel the way a person stands to it: a door from outside, a
// bonnet or lid from above with the front at the top, a tailgate from behind.
func viewOf(r *pb.SolveFitResponse) view {
	v := view{before: edges{}, after: edges{}, from: "seen from outside"}
	v.names = [slots]string{"front", "rear", "top", "bottom"}
	back := r.GetSide() == pb.Side_SIDE_RIGHT // the front is on the right there
	if back {
		v.names[leftEdge], v.names[rightEdge] = "rear", "front"
	}
	across := false
	switch r.GetPanel() {
	case "bonnet", "boot lid":
		v.from, across, back = "seen from above, front at the top", true, false
		v.names = [slots]string{"left", "right", "front", "rear"}
	case "tailgate":
		v.from, across, back = "seen from behind", true, false
		v.names = [slots]string{"left", "right", "top", "bottom"}
	}
	var wanted []string
	for _, e := range r.GetEdges() {
		s, ok := slotOf(e, v.names, across)
		if _, twice := v.before[s]; !ok || twice || !finite(e.GetTargetMm()) || !finite(e.GetToleranceMm()) {
			continue
		}
		turn := back && s >= topEdge
		before := edge{v.names[s], readings(e.GetBeforeMm(), turn), e.GetTargetMm(), e.GetToleranceMm()}
		if len(before.gaps) == 0 {
			continue
		}
		v.before[s] = before
		if after := readings(e.GetAfterMm(), turn); len(after) > 0 {
			v.after[s] = edge{before.name, after, before.target, before.tolerance}
		}
		if before.target > 0 {
			wanted = append(wanted, before.name+" "+tenth(before.target)+" ± "+tenth(before.tolerance))
		}
	}
	if len(wanted) > 0 {
		v.wanted = "Wanted (dashed line), mm: " + strings.Join(wanted, ", ") + "."
	}
	v.measure(r)
	v.title = title(r)
	return v
}

func title(r *pb.SolveFitResponse) string {
	out := shown(r.GetPanel())
	switch r.GetSide() {
	case pb.Side_SIDE_LEFT:
		out = "left " + out
	case pb.Side_SIDE_RIGHT:
		out = "right " + out
	}
	out = strings.TrimSpace(out)
	if job := shown(r.GetJob()); job != "" {
		out += ", " + job
	}
	if out != "" && out[0] >= 'a' && out[0] <= 'z' {
		out = strings.ToUpper(out[:1]) + out[1:]
	}
	return out
}

// measure settles the opening's height and how far gaps are exaggerated.
func (v *view) measure(r *pb.SolveFitResponse) {
	long, high := r.GetLengthMm(), r.GetHeightMm()
	if strings.HasPrefix(v.from, "seen from above") {
		long, high = high, long // its length runs down the picture
	}
	v.height = 330
	if finite(long) && finite(high) && long > 0 && high > 0 {
		v.height = math.Round(max(300, min(400, openingWide*high/long)))
	}
	widest := 1.0
	for _, list := range []edges{v.before, v.after} {
		for _, e := range list {
			widest = max(widest, slices.Max(e.gaps), e.target)
		}
	}
	v.scale = min(mostScale, mostGap/widest)
	v.inset = v.scale*widest + 10
	v.times = "gaps not to scale"
	if finite(long) && long > 100 && long < 10000 {
		if n := math.Round(v.scale / (openingWide / long)); n >= 2 {
			v.times = "gaps drawn " + strconv.Itoa(int(n)) + " times too wide"
		}
	}
}

func (v *view) drawable() bool { return len(v.before) > 0 }

// slotOf finds an edge's place. Lids and tailgates have sides where a door has
// a front and a rear.
func slotOf(e *pb.FitEdge, names [slots]string, across bool) (slot, bool) {
	name := map[pb.Edge]string{
		pb.Edge_EDGE_FRONT: "front", pb.Edge_EDGE_REAR: "rear", pb.Edge_EDGE_TOP: "top", pb.Edge_EDGE_BOTTOM: "bottom",
	}[e.GetEdge()]
	if across {
		switch e.GetSide() {
		case pb.Side_SIDE_LEFT:
			name = "left"
		case pb.Side_SIDE_RIGHT:
			name = "right"
		}
	}
	i := slices.Index(names[:], name)
	return slot(i), i >= 0 && name != ""
}

// readings keeps what can be drawn, in the order of the picture.
func readings(mm []float64, turn bool) []float64 {
	for _, v := range mm {
		if !finite(v) || math.Abs(v) > 100 {
			return nil
		}
	}
	out := slices.Clone(mm)
	if turn {
		slices.Reverse(out)
	}
	return out
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func same(a, b edges) bool {
	for s, e := range a {
		if !slices.Equal(e.gaps, b[s].gaps) && len(b[s].gaps) > 0 {
			return false
		}
	}
	return true
}

// draw puts one pane with its opening's top at y.
func (v *view) draw(c *canvas, p pane, y float64) {
	x0, x1, y1 := (width-openingWide)/2.0, (width+openingWide)/2.0, y+v.height
	c.fill(pale, point{x0, y}, point{x1, y}, point{x1, y1}, point{x0, y1})
	outline := v.outline(p.edges, x0, x1, y, y1)
	c.fill(metal, outline...)
	for i, a := range outline {
		c.stroke(ink, 2.5, a, outline[(i+1)%len(outline)])
	}
	for _, s := range [][2]point{{{x0, y}, {x1, y}}, {{x1, y}, {x1, y1}}, {{x1, y1}, {x0, y1}}, {{x0, y1}, {x0, y}}} {
		c.stroke(line, 3, s[0], s[1])
	}
	out, all := 0, 0
	for s := range slots {
		e, measured := p.edges[s]
		v.name(c, s, measured, x0, x1, y, y1)
		if !measured {
			continue
		}
		v.want(c, s, e, x0, x1, y, y1)
		for i, mm := range e.gaps {
			all++
			if e.judge(mm).out {
				out++
			}
			a, b := v.mark(s, i, len(e.gaps), mm, x0, x1, y, y1)
			c.stroke(e.judge(mm).colour, 7, a, b)
			c.disc(e.judge(mm).colour, b, 6)
		}
		for _, i := range e.labels() {
			a, _ := v.mark(s, i, len(e.gaps), e.gaps[i], x0, x1, y, y1)
			label(c, s, e.gaps[i], e.judge(e.gaps[i]), a)
		}
	}
	middle := point{width / 2, y + v.height/2}
	c.write(p.title, style{big, true}, ink, point{middle.x, middle.y - 22}, centre)
	sum, col := "all in tolerance", good
	if out > 0 {
		sum, col = strconv.Itoa(out)+" of "+strconv.Itoa(all)+" out", bad
	}
	c.write(sum, style{plain, true}, col, point{middle.x, middle.y + 20}, centre)
}

// outline is the panel's corners and readings, clockwise from the top left.
func (v *view) outline(es edges, x0, x1, y0, y1 float64) []point {
	side := func(s slot) []point {
		gaps := []float64{usual(es)}
		if e, ok := es[s]; ok {
			gaps = e.gaps
		}
		var ps []point
		for i, mm := range gaps {
			_, b := v.mark(s, i, len(gaps), mm, x0, x1, y0, y1)
			ps = append(ps, b)
		}
		return ps
	}
	l, r, t, b := side(leftEdge), side(rightEdge), side(topEdge), side(bottomEdge)
	slices.Reverse(b)
	slices.Reverse(l)
	// Each edge is carried on in a straight line to where it meets the next.
	var ps []point
	for i, e := range [][2][]point{{l, t}, {t, r}, {r, b}, {b, l}} {
		if corner, ok := meet(e[0], e[1], i%2 == 1); ok {
			ps = append(ps, corner)
		}
		ps = append(ps, e[1]...)
	}
	for i := range ps { // never past the opening
		ps[i] = point{max(x0, min(x1, ps[i].x)), max(y0, min(y1, ps[i].y))}
	}
	return ps
}

// usual is a gap for edges that nobody measured.
func usual(es edges) float64 {
	sum, n := 0.0, 0
	for s := range slots {
		if e, ok := es[s]; ok && e.target > 0 {
			sum, n = sum+e.target, n+1
		}
	}
	if n == 0 {
		return 4
	}
	return sum / float64(n)
}

// meet is where the end of edge a, carried on, crosses the start of edge b.
// An edge of one reading runs along the opening; flat says whether a does so
// across the picture.
func meet(a, b []point, flat bool) (point, bool) {
	da, db := direction(flat), direction(!flat)
	a1, b0 := a[len(a)-1], b[0]
	if n := len(a); n > 1 {
		da = point{a1.x - a[n-2].x, a1.y - a[n-2].y}
	}
	if len(b) > 1 {
		db = point{b[1].x - b0.x, b[1].y - b0.y}
	}
	det := da.x*db.y - da.y*db.x
	if math.Abs(det) < 1e-6 {
		return point{}, false
	}
	t := ((b0.x-a1.x)*db.y - (b0.y-a1.y)*db.x) / det
	return point{a1.x + t*da.x, a1.y + t*da.y}, true
}

func direction(flat bool) point {
	if flat {
		return point{1, 0}
	}
	return point{0, 1}
}

// mark is a reading's line: from the opening to the panel.
func (v *view) mark(s slot, i, n int, mm, x0, x1, y0, y1 float64) (onOpening, onPanel point) {
	f := 0.5
	if n > 1 {
		f = float64(i) / float64(n-1)
	}
	d := max(0, mm) * v.scale
	x, y := x0+v.inset+f*(x1-x0-2*v.inset), y0+v.inset+f*(y1-y0-2*v.inset)
	switch s {
	case leftEdge:
		return point{x0, y}, point{x0 + d, y}
	case rightEdge:
		return point{x1, y}, point{x1 - d, y}
	case topEdge:
		return point{x, y0}, point{x, y0 + d}
	}
	return point{x, y1}, point{x, y1 - d}
}

// want draws where the edge should be.
func (v *view) want(c *canvas, s slot, e edge, x0, x1, y0, y1 float64) {
	if e.target <= 0 {
		return
	}
	d := e.target * v.scale
	a, b := point{x0 + 4, y0 + d}, point{x1 - 4, y0 + d}
	switch s {
	case leftEdge:
		a, b = point{x0 + d, y0 + 4}, point{x0 + d, y1 - 4}
	case rightEdge:
		a, b = point{x1 - d, y0 + 4}, point{x1 - d, y1 - 4}
	case bottomEdge:
		a, b = point{x0 + 4, y1 - d}, point{x1 - 4, y1 - d}
	}
	c.dashes(grey, 2, a, b)
}

// name writes an edge's name inside the panel, and outside that it was not measured.
func (v *view) name(c *canvas, s slot, measured bool, x0, x1, y0, y1 float64) {
	middle := point{(x0 + x1) / 2, (y0 + y1) / 2}
	inside, outside, anchor := point{middle.x, y0 + mostGap + 16}, point{middle.x, y0 - 20}, centre
	switch s {
	case leftEdge:
		inside, outside, anchor = point{x0 + mostGap + 14, middle.y}, point{x0 - 12, middle.y}, left
	case rightEdge:
		inside, outside, anchor = point{x1 - mostGap - 14, middle.y}, point{x1 + 12, middle.y}, right
	case bottomEdge:
		inside, outside = point{middle.x, y1 - mostGap - 16}, point{middle.x, y1 + 22}
	}
	c.write(v.names[s], style{small, false}, grey, inside, anchor)
	if !measured {
		c.write("not measured", style{small, false}, grey, outside, 1-anchor)
	}
}

// judgement is a reading held against what is wanted.
type judgement struct {
	out    bool
	word   string
	colour color.RGBA
}

func (e edge) judge(mm float64) judgement {
	const hair = 1e-6 // the noise of decimal fractions
	switch {
	case e.target <= 0:
		return judgement{word: "mm", colour: grey}
	case mm > e.target+e.tolerance+hair:
		return judgement{true, "WIDE", bad}
	case mm < e.target-e.tolerance-hair:
		return judgement{true, "TIGHT", bad}
	}
	return judgement{false, "ok", good}
}

// labels are the readings that get a label: all if they fit, else some spread
// over the edge with the worst among them.
func (e edge) labels() []int {
	n := len(e.gaps)
	if n <= mostLabels {
		out := make([]int, n)
		for i := range out {
			out[i] = i
		}
		return out
	}
	worst := 0
	for i, mm := range e.gaps {
		if math.Abs(mm-e.target) > math.Abs(e.gaps[worst]-e.target) {
			worst = i
		}
	}
	out := make([]int, mostLabels)
	for i := range out {
		out[i] = i * (n - 1) / (mostLabels - 1)
	}
	near := 0
	for i := range out {
		if abs(out[i]-worst) < abs(out[near]-worst) {
			near = i
		}
	}
	out[near] = worst
	return out
}

func abs(i int) int { return max(i, -i) }

// label writes a reading and its verdict outside the opening: on one line beside
// it, on two above and below.
func label(c *canvas, s slot, mm float64, j judgement, at point) {
	figure, word := style{plain, true}, style{small, true}
	number := tenth(mm)
	switch s {
	case leftEdge:
		c.write(j.word, word, j.colour, point{at.x - 12, at.y}, right)
		c.write(number, figure, j.colour, point{at.x - 20 - c.wide(j.word, word), at.y}, right)
	case rightEdge:
		c.write(number, figure, j.colour, point{at.x + 12, at.y}, left)
		c.write(j.word, word, j.colour, point{at.x + 20 + c.wide(number, figure), at.y}, left)
	default:
		y := at.y - 44
		if s == bottomEdge {
			y = at.y + 22
		}
		c.write(number, figure, j.colour, point{at.x, y}, centre)
		c.write(j.word, word, j.colour, point{at.x, y + 24}, centre)
	}
}

// tenth is a millimetre figure to a hundredth at most.
func tenth(mm float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(mm, 'f', 2, 64), "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
