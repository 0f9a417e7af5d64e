package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawDoor draws a door hung at the front, with readings in tenths on some of its edges, up to off
// mm from the target, and travel of 2 mm each way.
func drawDoor(t *rapid.T, off int) Input {
	r := Range{-2, 2}
	in := Input{
		Panel:  Panel{Side, float64(rapid.IntRange(60, 130).Draw(t, "length") * 10), float64(rapid.IntRange(40, 110).Draw(t, "height") * 10), 0, Front},
		Travel: &Travel{HingeTravel{r, r}, HingeTravel{r, r}, r, r},
		StepMM: rapid.SampledFrom([]float64{0.1, 0.25, 0.5, 0.8, 1}).Draw(t, "step"),
	}
	in.Panel.HingeSpacingMM = in.Panel.HeightMM * float64(rapid.IntRange(4, 9).Draw(t, "spacing")) / 10
	tenths := func(label string) []float64 {
		n := rapid.IntRange(0, 4).Draw(t, label)
		out := make([]float64, n)
		for i := range out {
			out[i] = float64(rapid.IntRange(-off*10, off*10).Draw(t, label)) / 10
		}
		return out
	}
	for _, e := range []Edge{Front, Rear, Top, Bottom} {
		if rapid.IntRange(0, 3).Draw(t, string(e)) == 0 {
			continue
		}
		m := EdgeReading{Edge: e, TargetMM: 4.5, ToleranceMM: float64(rapid.IntRange(0, 10).Draw(t, "tolerance")) / 10,
			FlushToleranceMM: float64(rapid.IntRange(1, 10).Draw(t, "flush tolerance")) / 10,
			FlushMM:          tenths("flush"), GapMM: tenths("gap")}
		for i := range m.GapMM {
			m.GapMM[i] += m.TargetMM
		}
		in.Edges = append(in.Edges, m)
	}
	return in
}

func solve(t require.TestingT, in Input) Result {
	r, err := Solve(in)
	require.NoError(t, err)
	return r
}

func (a Adjustment) list() []float64 {
	return []float64{a.FirstAcrossMM, a.SecondAcrossMM, a.AlongMM, a.FirstOutMM, a.SecondOutMM, a.LatchOutMM}
}

func TestNeverWorseThanDoingNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawDoor(t, 4)
		r := solve(t, in)
		for _, j := range []Judgement{r.Gaps, r.Flushes} {
			assert.LessOrEqual(t, j.After.WorstMM, j.Before.WorstMM+1e-9)
			assert.LessOrEqual(t, j.Exact.WorstMM, j.Before.WorstMM+1e-6)
			assert.LessOrEqual(t, j.Exact.WorstMM, j.After.WorstMM+1e-6, "rounding cannot beat the exact moves")
			if j.SquaresTravel {
				assert.LessOrEqual(t, j.Exact.WorstMM, j.Squares.WorstMM+1e-6, "least squares cannot beat the least worst")
			}
			if j.After.WorstMM > j.Before.WorstMM-1e-9 {
				assert.LessOrEqual(t, j.After.TotalMM, j.Before.TotalMM+1e-9)
			}
		}
		assert.NotContains(t, r.Assumptions, "failed")
		for _, a := range r.Assumptions {
			assert.NotContains(t, a, "failed")
		}
	})
}

// Moves are whole steps within travel, and the readings promised are those the tests' own geometry
// finds.
func TestMovesCanBeMadeAndDoWhatIsPromised(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := solve(t, drawDoor(t, 4))
		for _, mm := range r.Rounded.list() {
			assert.LessOrEqual(t, math.Abs(mm), 2+1e-9)
			steps := mm / r.Input.StepMM
			assert.InDelta(t, math.Round(steps), steps, 1e-9)
		}
		stays := 0
		for _, p := range r.Points {
			want := gapAt(r.Input.Panel, p.Edge, part(p.Number-1, p.Of), p.BeforeMM, r.Rounded)
			if p.Kind == Flush {
				want = flushAt(r.Input.Panel, p.Edge, part(p.Number-1, p.Of), p.BeforeMM, r.Rounded)
			}
			assert.InDelta(t, want, p.AfterMM, smallAngle(r.Input.Panel, r.Rounded), "%s %s", p.Kind, p.Place)
			if p.ExcessMM() > 0 {
				stays++
			}
		}
		assert.Len(t, r.Residuals, stays, "nothing that stays is hidden")
		for i, s := range r.Residuals {
			assert.Greater(t, s.ExcessMM(), 0.0)
			assert.NotEmpty(t, s.Cause)
			if i > 0 {
				assert.LessOrEqual(t, s.ExcessMM(), r.Residuals[i-1].ExcessMM()+1e-6)
			}
		}
	})
}

func TestWhatIsWithinToleranceIsLeftAlone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawDoor(t, 1)
		for i := range in.Edges {
			in.Edges[i].ToleranceMM, in.Edges[i].FlushToleranceMM = 1, 1
		}
		r := solve(t, in)
		assert.Equal(t, Adjustment{}, r.Rounded)
		assert.Empty(t, r.Moves)
		assert.Empty(t, r.Residuals)
	})
}

// flip mirrors a door front to rear.
func flip(in Input) Input {
	out := in
	out.Panel.HingeEdge = Rear
	tr := *in.Travel
	mirrored := func(r Range) Range { return Range{-r.HighMM, -r.LowMM} }
	tr.First.Across, tr.Second.Across = mirrored(tr.First.Across), mirrored(tr.Second.Across)
	out.Travel = &tr
	out.Edges = nil
	backwards := func(v []float64) []float64 {
		var w []float64
		for i := len(v) - 1; i >= 0; i-- {
			w = append(w, v[i])
		}
		return w
	}
	for _, e := range in.Edges {
		switch e.Edge {
		case Front:
			e.Edge = Rear
		case Rear:
			e.Edge = Front
		default:
			e.GapMM, e.FlushMM = backwards(e.GapMM), backwards(e.FlushMM)
		}
		out.Edges = append(out.Edges, e)
	}
	return out
}

func TestAMirroredDoorGetsMirroredMoves(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawDoor(t, 3)
		one, two := solve(t, in), solve(t, flip(in))
		a, b := one.Exact, two.Exact
		b.FirstAcrossMM, b.SecondAcrossMM = -b.FirstAcrossMM, -b.SecondAcrossMM
		assert.InDeltaSlice(t, a.list(), b.list(), 1e-5)
		// Half-way between two steps either may be taken.
		assert.InDelta(t, one.Gaps.After.WorstMM, two.Gaps.After.WorstMM, in.StepMM/4)
		assert.InDelta(t, one.Flushes.After.WorstMM, two.Flushes.After.WorstMM, in.StepMM/4)
	})
}

// A bonnet lies as a door stands: the same figures under other words give the same moves.
func TestADoorLaidFlatGetsTheSameMoves(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawDoor(t, 3)
		flat := in
		flat.Panel.Plane = Plan
		flat.Edges = nil
		for _, e := range in.Edges {
			e.Edge = map[Edge]Edge{Front: Front, Rear: Rear, Top: Left, Bottom: Right}[e.Edge]
			flat.Edges = append(flat.Edges, e)
		}
		a, b := solve(t, in), solve(t, flat)
		assert.Equal(t, a.Rounded, b.Rounded)
		assert.Equal(t, a.Status, b.Status)
	})
}

// A door that hangs off by whole steps of adjustment is moved by those steps less, and ends up in
// the same place.
func TestWhereItHangsDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawDoor(t, 2)
		wide := Range{-20, 20}
		in.Travel = &Travel{HingeTravel{wide, wide}, HingeTravel{wide, wide}, wide, wide}
		by := hands{}
		for k := range by {
			by[k] = float64(rapid.IntRange(-4, 4).Draw(t, "hung off")) / 4
		}
		f, err := newFrame(in.Panel)
		require.NoError(t, err)
		off := in
		off.Edges = nil
		full := span{}
		for _, e := range in.Edges {
			e.TargetMM = 25 // far from the limits of a reading
			was := e.GapMM
			e.GapMM = nil
			for i, g := range was {
				a := f.effect(Gap, e.Edge, i, len(was))
				full.add(a)
				e.GapMM = append(e.GapMM, g+20.5+a.dot(by.asVector()))
			}
			off.Edges = append(off.Edges, e)
		}
		for i := range in.Edges {
			in.Edges[i].TargetMM = 25
			for j := range in.Edges[i].GapMM {
				in.Edges[i].GapMM[j] += 20.5
			}
		}
		a, b := solve(t, in), solve(t, off)
		if a.Gaps.Before.WorstMM == 0 || b.Gaps.Before.WorstMM == 0 || !a.Gaps.Solved {
			return // one of them is left alone
		}
		assert.InDelta(t, a.Gaps.Exact.WorstMM, b.Gaps.Exact.WorstMM, 1e-5)
		if len(full.base) < 3 {
			return // part of the motion is open, and stays as it hangs
		}
		assert.InDelta(t, a.Exact.FirstAcrossMM, b.Exact.FirstAcrossMM+by[0], 1e-4)
		assert.InDelta(t, a.Exact.SecondAcrossMM, b.Exact.SecondAcrossMM+by[1], 1e-4)
		assert.InDelta(t, a.Exact.AlongMM, b.Exact.AlongMM+by[2], 1e-4)
	})
}

// The rigid fit is the same wherever the origin is.
func TestLeastSquaresKnowsNoOrigin(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-1000, 1000)
		sx, sy := coord.Draw(t, "sx"), coord.Draw(t, "sy")
		obs := []Observation{{0, 0, -1, 0, 0}, {0, 600, -1, 0, 0}, {1000, 0, 0, -1, 0}, {300, 0, 0, -1, 0}}
		moved := make([]Observation, len(obs))
		for i := range obs {
			obs[i].NeededMM = rapid.Float64Range(-5, 5).Draw(t, "needed")
			moved[i] = obs[i]
			moved[i].XMM += sx
			moved[i].YMM += sy
		}
		a, err := LeastSquares(obs)
		require.NoError(t, err)
		b, err := LeastSquares(moved)
		require.NoError(t, err)
		assert.InDelta(t, a.ThetaRad, b.ThetaRad, 1e-9)
		assert.InDelta(t, a.RMS(obs), b.RMS(moved), 1e-7)
		assert.InDelta(t, a.DXMM, b.DXMM-b.ThetaRad*sy, 1e-6)
		assert.InDelta(t, a.DYMM, b.DYMM+b.ThetaRad*sx, 1e-6)
	})
}
