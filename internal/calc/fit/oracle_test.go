package fit

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// gapAt and flushAt are the tests' own geometry: a door with its hinges at the front,
// moved without small-angle shortcuts and measured again.

// gapAt gives the gap at a point of an edge after the hinges moved: the panel is turned
// by an exact rotation, and the neighbour stays where it was.
func gapAt(p Panel, e Edge, part, gap float64, a Adjustment) float64 {
	l, h, s := p.LengthMM, p.HeightMM, p.HingeSpacingMM
	// Where the hinge points come to rest gives the turn and the shift.
	turn := math.Atan2(-(a.FirstAcrossMM - a.SecondAcrossMM), s)
	place := func(x, y float64) (float64, float64) {
		// about the middle between the hinges, (l, h/2)
		dx, dy := x-l, y-h/2
		return l + dx*math.Cos(turn) - dy*math.Sin(turn) + (a.FirstAcrossMM+a.SecondAcrossMM)/2,
			h/2 + dx*math.Sin(turn) + dy*math.Cos(turn) + a.AlongMM
	}
	switch e {
	case Front:
		x, _ := place(l, h*(1-part))
		return gap - (x - l)
	case Rear:
		x, _ := place(0, h*(1-part))
		return gap + x
	case Top:
		_, y := place(l*(1-part), h)
		return gap - (y - h)
	default:
		_, y := place(l*(1-part), 0)
		return gap + y
	}
}

// flushAt gives the flush at a point: the plane through hinges and striker, by the
// cross product of two of its sides.
func flushAt(p Panel, e Edge, part, flush float64, a Adjustment) float64 {
	l, h, s := p.LengthMM, p.HeightMM, p.HingeSpacingMM
	x, y := l*(1-part), h*(1-part)
	switch e {
	case Front:
		x = l
	case Rear:
		x = 0
	case Top:
		y = h
	default:
		y = 0
	}
	up := [3]float64{l, h/2 + s/2, a.FirstOutMM}
	low := [3]float64{l, h/2 - s/2, a.SecondOutMM}
	latch := [3]float64{0, h / 2, a.LatchOutMM}
	var u, v [3]float64
	for k := range u {
		u[k], v[k] = up[k]-low[k], latch[k]-low[k]
	}
	n := [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
	return flush + low[2] - (n[0]*(x-low[0])+n[1]*(y-low[1]))/n[2]
}

func part(i, n int) float64 {
	if n == 1 {
		return 0.5
	}
	return float64(i) / float64(n-1)
}

// worst gives the worst excess over tolerance of the gaps and of the flushes after an
// adjustment, by the tests' own geometry.
func worst(in Input, a Adjustment) (gaps, flushes float64) {
	for _, e := range in.Edges {
		for i, g := range e.GapMM {
			gaps = max(gaps, math.Abs(gapAt(in.Panel, e.Edge, part(i, len(e.GapMM)), g, a)-e.TargetMM-in.PaintMM)-e.ToleranceMM)
		}
		for i, f := range e.FlushMM {
			flushes = max(flushes, math.Abs(flushAt(in.Panel, e.Edge, part(i, len(e.FlushMM)), f, a))-e.FlushToleranceMM)
		}
	}
	return gaps, flushes
}

// smallAngle is what leaving out the cosine may cost: θ²/2 of the distance from the turn.
func smallAngle(p Panel, a Adjustment) float64 {
	turn := (a.FirstAcrossMM - a.SecondAcrossMM) / p.HingeSpacingMM
	return turn*turn/2*(p.LengthMM+p.HeightMM) + 1e-6
}

// Every combination of moves on a grid of 0.5 mm is tried, then the grid is refined around the
// best. None does better than Solve, and Solve does no better than the geometry allows.
func TestGridSearchFindsNothingBetter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawDoor(t, 2)
		r, err := Solve(in)
		require.NoError(t, err)
		for _, kind := range []Kind{Gap, Flush} {
			judged := r.Gaps
			if kind == Flush {
				judged = r.Flushes
			}
			if !judged.Solved || judged.Before.WorstMM == 0 {
				continue
			}
			grid, found := gridSearch(in, kind)
			assert.LessOrEqual(t, judged.Exact.WorstMM, grid+smallAngle(in.Panel, found), "%s", kind)
			gaps, flushes := worst(r.Input, r.Exact)
			own := gaps
			if kind == Flush {
				own = flushes
			}
			assert.InDelta(t, own, judged.Exact.WorstMM, smallAngle(in.Panel, r.Exact), "%s: the moves give what is promised", kind)
			assert.LessOrEqual(t, grid, own+0.5, "%s: the grid comes near", kind)
		}
	})
}

// gridSearch gives the least worst excess of one kind within ±2 mm, and where it is.
func gridSearch(in Input, kind Kind) (float64, Adjustment) {
	moved := func(c [3]float64) Adjustment {
		if kind == Gap {
			return Adjustment{FirstAcrossMM: c[0], SecondAcrossMM: c[1], AlongMM: c[2]}
		}
		return Adjustment{FirstOutMM: c[0], SecondOutMM: c[1], LatchOutMM: c[2]}
	}
	value := func(c [3]float64) float64 {
		g, f := worst(in, moved(c))
		if kind == Gap {
			return g
		}
		return f
	}
	var centre [3]float64
	const reach = 4
	best, step := math.Inf(1), 0.5
	for range 6 {
		from := centre
		for i := -reach; i <= reach; i++ {
			for j := -reach; j <= reach; j++ {
				for k := -reach; k <= reach; k++ {
					c := [3]float64{from[0] + float64(i)*step, from[1] + float64(j)*step, from[2] + float64(k)*step}
					if slices.ContainsFunc(c[:], func(v float64) bool { return math.Abs(v) > 2 }) {
						continue
					}
					if v := value(c); v < best {
						best, centre = v, c
					}
				}
			}
		}
		step /= 2
	}
	return best, moved(centre)
}

// A linear programme has its optimum at a vertex: where four of its planes meet in the space
// of three adjustments and the worst excess. All of them are tried.
func TestBestIsTheBestVertex(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "readings")
		grid := func(label string, most int) float64 {
			// Tenths, so that ties and degenerate vertices are common.
			return float64(rapid.IntRange(-most, most).Draw(t, label)) / 10
		}
		var readings []reading
		for range n {
			readings = append(readings, reading{
				a:   vector{grid("a", 10), grid("a", 20), grid("a", 10)},
				d:   grid("d", 40),
				tol: math.Abs(grid("tol", 10)),
			})
		}
		travel := [3]Range{}
		for k := range travel {
			travel[k] = Range{-math.Abs(grid("low", 20)), math.Abs(grid("high", 20))}
		}
		x, err := best(readings, bounds(travel))
		require.NoError(t, err)
		got := -mostSpanMM
		for _, q := range readings {
			got = max(got, q.excess(x))
		}
		for k, h := range x.asHands() {
			assert.GreaterOrEqual(t, h, travel[k].LowMM-1e-6)
			assert.LessOrEqual(t, h, travel[k].HighMM+1e-6)
		}
		// The reported vertex may be below all excesses when every reading is flat in t; compare
		// on the excess itself.
		assert.InDelta(t, bestVertex(readings, travel), got, 1e-5)
	})
}

// bestVertex enumerates. Each plane is a·x − t ≤ h or a·x ≤ h.
func bestVertex(readings []reading, travel [3]Range) float64 {
	type plane struct {
		g [4]float64
		h float64
	}
	var planes []plane
	for _, q := range readings {
		planes = append(planes,
			plane{[4]float64{q.a[0], q.a[1], q.a[2], -1}, q.tol - q.d},
			plane{[4]float64{-q.a[0], -q.a[1], -q.a[2], -1}, q.tol + q.d})
	}
	for _, b := range bounds(travel) {
		planes = append(planes,
			plane{[4]float64{b.a[0], b.a[1], b.a[2], 0}, b.high},
			plane{[4]float64{-b.a[0], -b.a[1], -b.a[2], 0}, -b.low})
	}
	least := math.Inf(1)
	n := len(planes)
	for i := range n {
		for j := i + 1; j < n; j++ {
			for k := j + 1; k < n; k++ {
				for l := k + 1; l < n; l++ {
					at := []plane{planes[i], planes[j], planes[k], planes[l]}
					var m [4][5]float64
					for r, p := range at {
						copy(m[r][:], p.g[:])
						m[r][4] = p.h
					}
					z, ok := eliminate(m)
					if !ok || z[3] >= least {
						continue
					}
					if !slices.ContainsFunc(planes, func(p plane) bool {
						return p.g[0]*z[0]+p.g[1]*z[1]+p.g[2]*z[2]+p.g[3]*z[3] > p.h+1e-9
					}) {
						least = z[3]
					}
				}
			}
		}
	}
	return least
}

// eliminate solves four equations by Gauss with pivoting.
func eliminate(m [4][5]float64) (z [4]float64, ok bool) {
	for c := range 4 {
		p := c
		for r := c + 1; r < 4; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if math.Abs(m[p][c]) < 1e-9 {
			return z, false
		}
		m[c], m[p] = m[p], m[c]
		for r := range 4 {
			if r == c {
				continue
			}
			f := m[r][c] / m[c][c]
			for k := c; k < 5; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	for c := range 4 {
		z[c] = m[c][4] / m[c][c]
	}
	return z, true
}
