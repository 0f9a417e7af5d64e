package fit

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// vector is a direction or a point in the space of three adjustments.
type vector [3]float64

func (v vector) dot(w vector) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

// reading is one measured value: its deviation from the target is d + a·x.
type reading struct {
	a      vector
	d, tol float64
}

func (r reading) deviation(x vector) float64 { return r.d + r.a.dot(x) }
func (r reading) excess(x vector) float64    { return math.Abs(r.deviation(x)) - r.tol }

// bound keeps a·x within low and high.
type bound struct {
	a         vector
	low, high float64
}

// size of the programme: each adjustment as the difference of two non-negative
// numbers, and the worst excess.
const (
	parts = 6
	size  = parts + 1
)

// The price of moving, beside 1 for the worst excess: so small that it only decides
// where no reading does. Turning costs most, as it shifts what is farthest away;
// moving two hinges costs more than one latch. Both ways cost the same, so that a
// mirrored panel gets mirrored moves; the ratios are odd, so that no vertex of the
// dual is degenerate (the usual perturbation).
var prices = [size]float64{1.7013e-6, 30.171e-6, 1.0007e-6, 1.7013e-6, 30.171e-6, 1.0007e-6, 1}

const (
	rests = 1e-3 // a dual value from here on holds the optimum in place; the prices are far below
	basic = 1e-10
	loose = 1e-9 // mm given to a constraint already met, so that rounding errors do not contradict it
)

// best finds the adjustment with the smallest worst excess, then the smallest next
// worst, and so on. Standing still must be within the bounds.
func best(readings []reading, bounds []bound) (vector, error) {
	var (
		x      vector
		held   span
		active = make([]bool, len(readings))
		level  = make([]float64, len(readings)) // excess not to pass again, for readings no longer active
	)
	for i := range level {
		level[i], active[i] = math.Inf(1), true
	}
	for {
		open := false
		for i, r := range readings {
			// What the held directions fix no longer changes; left in, it would hide what still can.
			active[i] = active[i] && !held.holds(r.a)
			open = open || active[i]
		}
		if !open {
			return x, nil
		}
		next, worst, tight, err := minimise(readings, active, level, bounds)
		if err != nil {
			return x, err
		}
		x = next
		grown := false
		for _, i := range tight.readings {
			active[i], level[i] = false, worst
			grown = held.add(readings[i].a) || grown
		}
		for _, j := range tight.bounds {
			grown = held.add(bounds[j].a) || grown
		}
		if !grown {
			return x, nil
		}
	}
}

// curable says whether some adjustment brings all readings within tolerance.
func curable(readings []reading, bounds []bound) bool {
	active, level := make([]bool, len(readings)), make([]float64, len(readings))
	for i := range active {
		active[i] = true
	}
	_, worst, _, err := minimise(readings, active, level, bounds)
	return err == nil && quantum(worst) <= 0
}

// resting lists the constraints that hold an optimum in place.
type resting struct{ readings, bounds []int }

var errVertex = errors.New("the optimum is not a clean vertex")

// minimise solves one programme: least t with excess ≤ t for active readings,
// excess ≤ level for the others, within bounds. With z ≥ 0 it is
//
//	min c·z  subject to  G·z ≤ h
//
// and it is solved by its dual, min h·y with −Gᵀ·y + s = c, which has seven rows
// however many readings there are, and whose slacks are a feasible start as c > 0.
func minimise(readings []reading, active []bool, level []float64, bounds []bound) (vector, float64, resting, error) {
	shift := 0.0 // excess is at least −tolerance, so t + shift ≥ 0
	for _, r := range readings {
		shift = max(shift, r.tol)
	}
	type column struct {
		g              [size]float64
		h              float64
		reading, bound int // where it comes from; -1 for the other
	}
	columns := make([]column, 0, 2*(len(readings)+len(bounds)))
	add := func(a vector, sign, t, h float64, reading, bound int) {
		c := column{h: h, reading: reading, bound: bound}
		for k, v := range a {
			c.g[k], c.g[k+3] = sign*v, -sign*v
		}
		c.g[parts] = t
		columns = append(columns, c)
	}
	for i, r := range readings {
		for _, sign := range []float64{1, -1} {
			switch {
			case active[i]:
				add(r.a, sign, -1, r.tol-shift-sign*r.d, i, -1)
			case !math.IsInf(level[i], 1):
				add(r.a, sign, 0, r.tol+level[i]-sign*r.d+loose, i, -1)
			}
		}
	}
	for j, b := range bounds {
		add(b.a, 1, 0, b.high, -1, j)
		add(b.a, -1, 0, -b.low, -1, j)
	}

	n := len(columns)
	cost := make([]float64, n+size)
	matrix := mat.NewDense(size, n+size, nil)
	for j, c := range columns {
		cost[j] = c.h
		for k, g := range c.g {
			matrix.Set(k, j, -g)
		}
	}
	start := make([]int, size)
	for k := range start {
		start[k] = n + k
		matrix.Set(k, n+k, 1)
	}
	_, y, err := lp.Simplex(cost, matrix, prices[:], 1e-11, start)
	if err != nil {
		return vector{}, 0, resting{}, err
	}

	// The positive columns are the basis; the programme's own solution is what
	// makes their reduced costs zero.
	var rest resting
	basis := mat.NewDense(size, size, nil)
	rhs := mat.NewVecDense(size, nil)
	found := 0
	for j, v := range y {
		if v <= basic {
			continue
		}
		if found == size {
			return vector{}, 0, resting{}, errVertex
		}
		for k := range size {
			basis.Set(found, k, matrix.At(k, j))
		}
		rhs.SetVec(found, cost[j])
		found++
		if j >= n || v < rests {
			continue
		}
		if c := columns[j]; c.reading < 0 {
			rest.bounds = append(rest.bounds, c.bound)
		} else if active[c.reading] {
			rest.readings = append(rest.readings, c.reading)
		}
	}
	if found < size {
		return vector{}, 0, resting{}, errVertex
	}
	var z mat.VecDense
	if err := z.SolveVec(basis, rhs); err != nil {
		return vector{}, 0, resting{}, errVertex
	}
	var x vector
	for k := range x {
		x[k] = z.AtVec(k+3) - z.AtVec(k) // z is the negative of the solution
	}
	return x, -z.AtVec(parts) - shift, rest, nil
}

// span is a set of directions, kept orthonormal.
type span struct {
	base []vector
}

const parallel = 1e-7 // part of a direction outside the span that counts as none

// outside is the part of v that the span does not hold, and its length
// relative to v.
func (s *span) outside(v vector) (vector, float64) {
	length := math.Sqrt(v.dot(v))
	if length < parallel {
		return v, 0
	}
	for _, b := range s.base {
		p := v.dot(b)
		for k := range v {
			v[k] -= p * b[k]
		}
	}
	return v, math.Sqrt(v.dot(v)) / length
}

func (s *span) holds(v vector) bool {
	_, part := s.outside(v)
	return part < parallel
}

// add extends the span and says whether v was new to it.
func (s *span) add(v vector) bool {
	rest, part := s.outside(v)
	if part < parallel {
		return false
	}
	length := math.Sqrt(rest.dot(rest))
	for k := range rest {
		rest[k] /= length
	}
	s.base = append(s.base, rest)
	return true
}
