package fit

import (
	"fmt"
	"math"
	"slices"
)

// Status is the outcome in a word.
type Status string

// The statuses.
const (
	Measure Status = "measure" // too little was measured to say how to move it: see Needs
	Fits    Status = "fits"    // every reading is within tolerance: leave it
	Cured   Status = "cured"   // with the moves every reading comes within tolerance
	Better  Status = "better"  // the moves help, Residuals stay
	Stuck   Status = "stuck"   // no move helps, Residuals stay
)

// Kind is what a reading measures.
type Kind string

// The kinds.
const (
	Gap   Kind = "gap"
	Flush Kind = "flush"
)

// Cause says why a reading stays out of tolerance.
type Cause string

// The causes.
const (
	Metal      Cause = "metal"      // no adjustment brings all readings in
	NoTravel   Cause = "travel"     // more travel would
	ShimStep   Cause = "step"       // finer steps would
	Unmeasured Cause = "unmeasured" // too few edges were measured to move anything
)

// Adjustment is the six moves, in mm towards positive x, y and outward.
type Adjustment struct {
	FirstAcrossMM, SecondAcrossMM, AlongMM float64
	FirstOutMM, SecondOutMM, LatchOutMM    float64
}

// Move is one thing to do.
type Move struct {
	At      string // «upper hinge», «striker»
	Way     string // forward, back, up, down, left, right, out, in
	MM      float64
	Follows bool // the latch only keeps up with the panel: it changes no reading
}

// Point is a reading, before and after the moves.
type Point struct {
	Edge        Edge
	Kind        Kind
	Number, Of  int    // counted from 1 in the order of reading
	Place       string // «bottom front corner»
	XMM, YMM    float64
	BeforeMM    float64
	AfterMM     float64
	TargetMM    float64 // in paint allowance; 0 for flush
	ToleranceMM float64
}

// DeviationMM is how far off target the reading stays: + wide or proud, − tight or low.
func (p Point) DeviationMM() float64 { return p.AfterMM - p.TargetMM }

// ExcessMM is how far out of tolerance the reading stays; 0 when within.
func (p Point) ExcessMM() float64 { return over(p.DeviationMM(), p.ToleranceMM) }

// ExcessBeforeMM is how far out of tolerance it was.
func (p Point) ExcessBeforeMM() float64 { return over(p.BeforeMM-p.TargetMM, p.ToleranceMM) }

// over is the part of a deviation beyond the tolerance, in mm; rounding errors do not count.
func over(deviation, tolerance float64) float64 {
	if e := math.Abs(deviation) - tolerance; quantum(e) > 0 {
		return e
	}
	return 0
}

// Residual is a reading that stays out of tolerance.
type Residual struct {
	Point
	Cause Cause
}

// Outcome is what moves make of one kind of readings: worst and sum of the excess
// over tolerance.
type Outcome struct{ WorstMM, TotalMM float64 }

// Judgement compares the ways to adjust for one kind of readings.
type Judgement struct {
	Readings      int
	Solved        bool    // enough edges were measured to move anything
	Before        Outcome // as measured
	Exact         Outcome // with Result.Exact
	After         Outcome // with the moves as rounded
	Squares       Outcome // with Result.Squares
	SquaresTravel bool    // least squares stays within travel
}

// Need is something to measure.
type Need struct {
	Edge     Edge
	Kind     Kind
	Readings int
	Why      string
}

// Drift is how far the moves shift the gap on an edge where it was not measured:
// + opens, − closes, at the first and the last place of reading.
type Drift struct {
	Edge            Edge
	FirstAt, LastAt Edge
	FirstMM, LastMM float64
}

// Culprit is the one reading that keeps all others of its kind from coming within tolerance: with the
// moves given here they do, and Point stays as it says, a matter of metal.
type Culprit struct {
	Point
	Rounded Adjustment // the three moves of its kind; the other three as in Result
	Moves   []Move
}

// Result is what to do, with everything needed to judge it.
type Result struct {
	Input  Input // as understood; step, travel and flush tolerances are filled in
	Status Status

	Rounded Adjustment // to do, in whole steps
	Exact   Adjustment // before rounding
	Squares Adjustment // least squares, unrounded and without limits, for comparison
	Moves   []Move     // Rounded in words, and the latch following; zero moves are left out

	Points    []Point    // all readings, gaps first, in the order given
	Residuals []Residual // what stays out of tolerance, worst first
	Culprits  []Culprit  // at most one of each kind
	Needs     []Need     // what else to measure, most useful first
	Drifts    []Drift    // what happens where nothing was measured; empty without moves in plane

	Gaps, Flushes Judgement

	Assumptions []string
	Source      string
	Caution     string
}

const (
	source  = "rigid panel, small rotations; least worst excess over tolerance by linear programme (Boyd and Vandenberghe, Convex Optimization, 2004, section 6.1.1)"
	caution = "Hinges and catch keep it shut on the road. Support the weight before loosening, move a little at a time, close it slowly by hand the first time. Tighten to the maker's figures, and check that it latches fully and opens from outside and inside."
)

// Solve finds the best adjustment; see the package comment for what is best. It fails
// with *InputError. Too few readings are not a failure: Status is Measure, and
// Needs says what to measure.
func Solve(in Input) (Result, error) {
	in, f, notes, err := understood(in)
	if err != nil {
		return Result{}, err
	}
	r := Result{Input: in, Assumptions: notes, Source: source, Caution: caution}
	r.Points = points(in, f)
	r.Needs = needs(in, f)

	tr := in.Travel
	gaps := r.plane(Gap, f, [3]Range{tr.First.Across, tr.Second.Across, tr.Along})
	flush := r.plane(Flush, f, [3]Range{tr.First.Out, tr.Second.Out, tr.LatchOut})
	r.Gaps, r.Flushes = gaps.Judgement, flush.Judgement
	r.Rounded = adjustment(gaps.rounded, flush.rounded)
	r.Exact = adjustment(gaps.exact, flush.exact)
	r.Squares = adjustment(gaps.squares, flush.squares)

	r.predict(f, gaps, flush)
	r.Moves = moves(f, r.Rounded, in.StepMM)
	r.Status = r.status()
	r.accuse(f, Gap, gaps)
	r.accuse(f, Flush, flush)
	if r.Flushes.Readings == 0 && r.Gaps.Readings > 0 {
		r.Assumptions = append(r.Assumptions, "flush was not measured: nothing is moved in or out")
	}
	return r, nil
}

func adjustment(gaps, flush hands) Adjustment {
	return Adjustment{gaps[0], gaps[1], gaps[2], flush[0], flush[1], flush[2]}
}

// points lists the readings as they are.
func points(in Input, f frame) []Point {
	var out []Point
	for _, kind := range []Kind{Gap, Flush} {
		for _, e := range in.Edges {
			values, target, tolerance := e.GapMM, e.TargetMM+in.PaintMM, e.ToleranceMM
			if kind == Flush {
				values, target, tolerance = e.FlushMM, 0, e.FlushToleranceMM
			}
			for i, v := range values {
				x, y, _, _ := f.at(e.Edge, i, len(values))
				out = append(out, Point{
					Edge: e.Edge, Kind: kind, Number: i + 1, Of: len(values), Place: f.place(e.Edge, i, len(values)),
					XMM: x, YMM: y, BeforeMM: v, AfterMM: v, TargetMM: target, ToleranceMM: tolerance,
				})
			}
		}
	}
	return out
}

// effect is how much a unit of each of three adjustments changes reading i of n on
// an edge.
func (f frame) effect(kind Kind, e Edge, i, n int) vector {
	x, y, nx, ny := f.at(e, i, n)
	var a vector
	for k := range a {
		var unit vector
		unit[k] = 1
		if kind == Flush {
			a[k] = f.outward(x, y, unit[0], unit[1], unit[2])
			continue
		}
		h := unit.asHands()
		a[k] = -f.inPlane(h[0], h[1], h[2]).Along(Observation{XMM: x, YMM: y, NX: nx, NY: ny})
	}
	return a
}

// solution is what was found for one kind of readings.
type solution struct {
	Judgement
	exact, rounded, squares hands
	causes                  []Cause // by reading
	culprit                 int     // the reading, or -1
	spared                  hands   // moves that cure all but the culprit
}

// plane solves for the readings of one kind.
func (r *Result) plane(kind Kind, f frame, travel [3]Range) solution {
	var readings []reading
	edges := map[Edge]bool{}
	for _, p := range r.Points {
		if p.Kind == kind {
			readings = append(readings, reading{f.effect(kind, p.Edge, p.Number-1, p.Of), p.BeforeMM - p.TargetMM, p.ToleranceMM})
			edges[p.Edge] = true
		}
	}
	s := solution{Judgement: Judgement{Readings: len(readings)}, culprit: -1}
	s.Before = outcome(readings, vector{})
	s.Exact, s.After, s.Squares = s.Before, s.Before, s.Before
	s.causes = slices.Repeat([]Cause{Unmeasured}, len(readings))
	s.SquaresTravel = true
	// One edge alone says nothing of what a move does to the others.
	if len(edges) < 2 {
		return s
	}
	s.Solved = true
	if s.Before.WorstMM == 0 {
		return s
	}

	rows, needed := make([][3]float64, len(readings)), make([]float64, len(readings))
	for i, q := range readings {
		rows[i], needed[i] = q.a, -q.d
	}
	x, _ := leastSquares(rows, needed)
	s.squares = vector(x).asHands()
	s.Squares = outcome(readings, x)
	for k, t := range travel {
		s.SquaresTravel = s.SquaresTravel && s.squares[k] >= t.LowMM && s.squares[k] <= t.HighMM
	}

	exact, err := best(readings, bounds(travel))
	if err != nil {
		// Not seen to happen.
		r.Assumptions = append(r.Assumptions, fmt.Sprintf("the linear programme for %s failed (%v): moves start from least squares instead", kind, err))
		exact = secondBest(readings, s.squares, travel)
	}
	s.exact = clamp(exact.asHands(), travel)
	exact = s.exact.asVector()
	s.Exact = outcome(readings, exact)
	s.rounded = rounded(readings, s.exact, r.Input.StepMM, travel)
	s.After = outcome(readings, s.rounded.asVector())
	s.blame(readings, exact, travel)
	s.single(readings, exact, travel, r.Input.StepMM)
	return s
}

// single looks for the one reading without which all others come within tolerance. Where
// there are several such readings none of them is more to blame than another.
func (s *solution) single(readings []reading, exact vector, travel [3]Range, step float64) {
	// It must be at the worst excess: taking another away changes nothing.
	if s.Exact.WorstMM <= seen {
		return
	}
	for i, q := range readings {
		if s.causes[i] != Metal || q.excess(exact) < s.Exact.WorstMM-seen {
			continue
		}
		rest := slices.Delete(slices.Clone(readings), i, i+1)
		if !curable(rest, bounds(travel)) {
			continue
		}
		x, err := best(rest, bounds(travel))
		if err != nil {
			continue
		}
		h := rounded(rest, clamp(x.asHands(), travel), step, travel)
		if outcome(rest, h.asVector()).WorstMM > 0 {
			continue
		}
		if s.culprit >= 0 {
			s.culprit = -1
			return
		}
		s.culprit, s.spared = i, h
	}
}

const seen = 1e-3 // mm of excess; below that nothing is left

// blame fills in why each reading stays out, if it does.
func (s *solution) blame(readings []reading, exact vector, travel [3]Range) {
	free := exact
	for k, t := range travel {
		if quantum(s.exact[k]) == quantum(t.LowMM) || quantum(s.exact[k]) == quantum(t.HighMM) {
			// Travel holds it: see what more of it would do.
			wide := Range{-mostSpanMM, mostSpanMM}
			if x, err := best(readings, bounds([3]Range{wide, wide, wide})); err == nil {
				free = x
			}
			break
		}
	}
	for i, q := range readings {
		switch {
		case q.excess(free) > seen:
			s.causes[i] = Metal
		case q.excess(exact) > seen:
			s.causes[i] = NoTravel
		default:
			s.causes[i] = ShimStep
		}
	}
}

// secondBest is least squares held to travel, or standing still where that is better: honest, if
// not the best, and rounding improves on it.
func secondBest(readings []reading, squares hands, travel [3]Range) vector {
	x := clamp(squares, travel).asVector()
	if outcome(readings, vector{}).WorstMM < outcome(readings, x).WorstMM {
		return vector{}
	}
	return x
}

func bounds(travel [3]Range) []bound {
	return []bound{
		{vector{1, 0.5, 0}, travel[0].LowMM, travel[0].HighMM},
		{vector{1, -0.5, 0}, travel[1].LowMM, travel[1].HighMM},
		{vector{0, 0, 1}, travel[2].LowMM, travel[2].HighMM},
	}
}

func clamp(h hands, travel [3]Range) hands {
	for k, t := range travel {
		h[k] = min(max(h[k], t.LowMM), t.HighMM)
	}
	return h
}

func outcome(readings []reading, x vector) Outcome {
	var o Outcome
	for _, r := range readings {
		e := over(r.deviation(x), r.tol)
		o.WorstMM, o.TotalMM = max(o.WorstMM, e), o.TotalMM+e
	}
	return o
}

// predict fills in the readings after the moves, what stays, and what drifts.
func (r *Result) predict(f frame, gaps, flush solution) {
	before := 0 // gaps come first
	for i := range r.Points {
		p := &r.Points[i]
		s, n := gaps, i
		if p.Kind == Flush {
			s, n = flush, i-before
		} else {
			before++
		}
		p.AfterMM = p.BeforeMM + f.effect(p.Kind, p.Edge, p.Number-1, p.Of).dot(s.rounded.asVector())
		if p.ExcessMM() > 0 {
			r.Residuals = append(r.Residuals, Residual{*p, s.causes[n]})
		}
	}
	slices.SortStableFunc(r.Residuals, func(a, b Residual) int {
		return int(quantum(b.ExcessMM()) - quantum(a.ExcessMM()))
	})
	if gaps.rounded == (hands{}) {
		return
	}
	for _, e := range f.edges {
		if slices.ContainsFunc(r.Input.Edges, func(m EdgeReading) bool { return m.Edge == e && len(m.GapMM) > 0 }) {
			continue
		}
		d := Drift{Edge: e}
		d.FirstAt, d.LastAt = f.ends(e)
		x := gaps.rounded.asVector()
		d.FirstMM, d.LastMM = f.effect(Gap, e, 0, 2).dot(x), f.effect(Gap, e, 1, 2).dot(x)
		r.Drifts = append(r.Drifts, d)
	}
}

// accuse names the culprit of a kind, if there is one.
func (r *Result) accuse(f frame, kind Kind, s solution) {
	if s.culprit < 0 {
		return
	}
	n := -1
	for _, p := range r.Points {
		if p.Kind != kind {
			continue
		}
		if n++; n != s.culprit {
			continue
		}
		p.AfterMM = p.BeforeMM + f.effect(kind, p.Edge, p.Number-1, p.Of).dot(s.spared.asVector())
		c := Culprit{Point: p, Rounded: r.Rounded}
		if h := s.spared; kind == Gap {
			c.Rounded.FirstAcrossMM, c.Rounded.SecondAcrossMM, c.Rounded.AlongMM = h[0], h[1], h[2]
		} else {
			c.Rounded.FirstOutMM, c.Rounded.SecondOutMM, c.Rounded.LatchOutMM = h[0], h[1], h[2]
		}
		c.Moves = moves(f, c.Rounded, r.Input.StepMM)
		r.Culprits = append(r.Culprits, c)
	}
}

func (r *Result) status() Status {
	moved := r.Rounded != Adjustment{}
	switch {
	case !r.Gaps.Solved && !r.Flushes.Solved:
		return Measure
	case len(r.Residuals) == 0 && moved:
		return Cured
	case len(r.Residuals) == 0:
		return Fits
	case moved:
		return Better
	case slices.ContainsFunc(r.Residuals, func(s Residual) bool { return s.Cause != Unmeasured }):
		return Stuck
	}
	return Measure
}
