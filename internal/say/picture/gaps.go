package picture

import (
	"image/color"
	"math"
	"strconv"

	pb "bayword/proto/bayword/v1"
)

// Sizes of the picture of an edge's gaps in pixels.
const (
	gapsTop  = 84
	gapsHigh = 190
	gapsRow  = 34  // of figures, below it
	gapsSide = 164 // left of the first reading, for names and the scale
	mostGaps = 9   // figures in a row
)

// Gaps draws the readings of one edge before and after the work, with the target and
// its tolerance as a band. After and target may be nil. It fails with ErrNothing
// without a reading before that can be drawn.
func Gaps(before, after *pb.GapReading, target *pb.GapReference) ([]byte, error) {
	was, is := readings(before.GetGapMm(), false), readings(after.GetGapMm(), false)
	if len(was) == 0 {
		return nil, ErrNothing
	}
	e := edge{target: plainMM(target.GetTargetMm()), tolerance: plainMM(target.GetToleranceMm())}
	rows, first := 2, "before"
	if len(is) == 0 {
		rows, first = 1, "measured"
	}
	c, err := newCanvas(gapsTop + gapsHigh + (rows+2)*gapsRow + 34)
	if err != nil {
		return nil, err
	}
	c.title(gapsTitle(before))
	low, high := gapSpan(was, is, e)
	y := func(mm float64) float64 { return gapsTop + gapsHigh*(high-mm)/(high-low) }
	const x0, x1 = gapsStart, gapsEnd
	if e.target > 0 {
		c.box(band, rect{x0 - 20, y(e.target + e.tolerance), x1 + 20, y(e.target - e.tolerance)})
		c.dashes(good, 2, point{x0 - 20, y(e.target)}, point{x1 + 20, y(e.target)})
		c.write(tenth(e.target), style{small, true}, good, point{x0 - 28, y(e.target)}, right)
	}
	foot := float64(gapsTop + gapsHigh + gapsRow - 8)
	c.run(was, y, edge{}, true)
	c.figures(first, was, foot+gapsRow, edge{})
	if len(is) > 0 {
		c.run(is, y, e, false)
		c.figures("after", is, foot+2*gapsRow, e)
	}
	from, to := "top", "bottom"
	if before.GetEdge() == pb.Edge_EDGE_TOP || before.GetEdge() == pb.Edge_EDGE_BOTTOM {
		from, to = "front", "rear"
	}
	c.write(from, style{small, false}, grey, point{x0, foot}, centre)
	c.write(to, style{small, false}, grey, point{x1, foot}, centre)
	c.gapsKey(foot+float64(rows+1)*gapsRow+12, e, first, len(is) > 0, outOf(is, e))
	return c.png()
}

// band is the tolerance's colour.
var band = color.RGBA{0xd9, 0xee, 0xe6, 0xff}

func plainMM(v float64) float64 {
	if !finite(v) || v < 0 || v > 100 {
		return 0
	}
	return v
}

// gapsTitle is «Left door, rear edge, heron».
func gapsTitle(g *pb.GapReading) string {
	panel := shown(g.GetPanel())
	switch g.GetEnd() {
	case pb.End_END_FRONT:
		panel = "front " + panel
	case pb.End_END_REAR:
		panel = "rear " + panel
	}
	side := map[pb.Side]string{pb.Side_SIDE_LEFT: "left ", pb.Side_SIDE_RIGHT: "right "}[g.GetSide()]
	out := side + panel
	if e := map[pb.Edge]string{pb.Edge_EDGE_FRONT: "front", pb.Edge_EDGE_REAR: "rear", pb.Edge_EDGE_TOP: "top", pb.Edge_EDGE_BOTTOM: "bottom"}[g.GetEdge()]; e != "" {
		out += ", " + e + " edge"
	}
	return capital(withJob(out, g.GetJob()))
}

// gapSpan is what the scale runs over, in mm.
func gapSpan(was, is []float64, e edge) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, list := range [][]float64{was, is, e.limits()} {
		for _, v := range list {
			low, high = min(low, v), max(high, v)
		}
	}
	room := max(0.5, 0.18*(high-low)) // for the figures above and below
	return low - room, high + room
}

// limits are the ends of the tolerance; none without a target.
func (e edge) limits() []float64 {
	if e.target <= 0 {
		return nil
	}
	return []float64{e.target - e.tolerance, e.target + e.tolerance}
}

func outOf(gaps []float64, e edge) int {
	out := 0
	for _, mm := range gaps {
		if e.judge(mm).out {
			out++
		}
	}
	return out
}

// Where the first and the last reading stand.
const gapsStart, gapsEnd = gapsSide, width - 60.0

// along is where reading i of n stands.
func along(i, n int) float64 {
	if n == 1 {
		return (gapsStart + gapsEnd) / 2
	}
	return gapsStart + (gapsEnd-gapsStart)*float64(i)/float64(n-1)
}

// run draws readings along the edge, hollow as long as they are those before.
func (c *canvas) run(gaps []float64, y func(float64) float64, e edge, hollow bool) {
	col := ink
	if hollow {
		col = grey
	}
	for i := 1; i < len(gaps); i++ {
		c.stroke(col, 3, point{along(i-1, len(gaps)), y(gaps[i-1])}, point{along(i, len(gaps)), y(gaps[i])})
	}
	for i, mm := range gaps {
		at := point{along(i, len(gaps)), y(mm)}
		c.disc(paper, at, 11)
		c.disc(e.judge(mm).colour, at, 9)
		if hollow {
			c.disc(paper, at, 5)
		}
	}
}

// figures writes readings in a row, each below its place; of many, some with the
// worst among them.
func (c *canvas) figures(name string, gaps []float64, y float64, e edge) {
	c.write(name, style{small, true}, grey, point{24, y}, left)
	shown := edge{gaps: gaps, target: e.target}.labels()
	if len(gaps) <= mostGaps {
		shown = shown[:0]
		for i := range gaps {
			shown = append(shown, i)
		}
	}
	for _, i := range shown {
		c.write(tenth(gaps[i]), style{small, true}, e.judge(gaps[i]).colour, point{along(i, len(gaps)), y}, centre)
	}
}

// gapsKey says what is before, what is after and what is wanted.
func (c *canvas) gapsKey(y float64, e edge, first string, after bool, out int) {
	x := 24.0
	entry := func(name string, col color.RGBA, hollow bool) {
		c.disc(col, point{x + 10, y}, 9)
		if hollow {
			c.disc(paper, point{x + 10, y}, 5)
		}
		c.write(name, style{small, false}, ink, point{x + 28, y}, left)
		x += 28 + c.wide(name, style{small, false}) + 28
	}
	entry(first, grey, true)
	if after {
		switch {
		case e.target <= 0:
			entry("after", grey, false)
		case out == 0:
			entry("after: in tolerance", good, false)
		default:
			entry("after: "+strconv.Itoa(out)+" out", bad, false)
		}
	}
	if e.target > 0 {
		c.box(band, rect{x, y - 9, x + 20, y + 9})
		c.write("wanted "+tenth(e.target)+" ± "+tenth(e.tolerance)+" mm", style{small, false}, ink, point{x + 28, y}, left)
	}
}

// capital makes the first letter one, where it is a plain one.
func capital(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-'a'+'A') + s[1:]
	}
	return s
}
