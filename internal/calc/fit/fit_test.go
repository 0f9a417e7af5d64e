package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type with func(*EdgeReading)

func gaps(mm ...float64) with    { return func(e *EdgeReading) { e.GapMM = mm } }
func flushes(mm ...float64) with { return func(e *EdgeReading) { e.FlushMM = mm } }

// edge is the readings of an edge; flush is allowed 0.5.
func edge(name Edge, target, tolerance float64, parts ...with) EdgeReading {
	e := EdgeReading{Edge: name, TargetMM: target, ToleranceMM: tolerance, FlushToleranceMM: 0.5}
	for _, p := range parts {
		p(&e)
	}
	return e
}

// door is the coupe's: 1080 by 620, hinges 380 apart at the front.
func door(edges ...EdgeReading) Input {
	return Input{Panel: Panel{Plane: Side, LengthMM: 1080, HeightMM: 620, HingeSpacingMM: 380, HingeEdge: Front}, Edges: edges}
}

func solved(t *testing.T, in Input) Result {
	t.Helper()
	r, err := Solve(in)
	require.NoError(t, err)
	return r
}

func TestADoorTooFarForwardGoesBack(t *testing.T) {
	t.Parallel()
	r := solved(t, door(edge(Rear, 4, 0.5, gaps(5, 5, 5)), edge(Front, 4, 0.5, gaps(3, 3, 3)), edge(Bottom, 5, 0.7, gaps(5, 5))))
	assert.Equal(t, Cured, r.Status)
	assert.Equal(t, []Move{{"upper hinge", "back", 1, false}, {"lower hinge", "back", 1, false}}, r.Moves)
	assert.Empty(t, r.Residuals)
	low, high, ok := r.Span(Rear, Gap)
	assert.True(t, ok)
	assert.InDelta(t, 4, low, 1e-9)
	assert.InDelta(t, 4, high, 1e-9)
}

// A door that drops at the latch: 1.52 mm over 1080 mm is a turn of 0.0014 rad, which over 380 mm
// of hinge spacing is 0.53 mm, half of it at each hinge.
func TestADoorThatDropsIsTurnedAtTheHinges(t *testing.T) {
	t.Parallel()
	const drop, rear = 1.52, 1.52 / 1080 * 620 / 2
	in := door(
		edge(Rear, 4, 0.2, gaps(4-rear, 4, 4+rear)),
		edge(Front, 4, 0.2, gaps(4+rear, 4, 4-rear)),
		edge(Bottom, 5, 0.2, gaps(5, 5-drop)), edge(Top, 5, 0.2, gaps(5, 5+drop)))
	in.StepMM = 0.05
	r := solved(t, in)
	assert.Equal(t, Cured, r.Status)
	// Upper hinge forward, lower hinge back: what is behind them comes up.
	assert.InDelta(t, drop/1080*380/2, r.Exact.FirstAcrossMM, 1e-6)
	assert.InDelta(t, -drop/1080*380/2, r.Exact.SecondAcrossMM, 1e-6)
	assert.InDelta(t, 0, r.Exact.AlongMM, 1e-6)
	assert.InDelta(t, 0, r.Gaps.Exact.WorstMM, 1e-9)
	follow := r.Moves[len(r.Moves)-1]
	assert.Equal(t, "striker", follow.At)
	assert.Equal(t, "up", follow.Way)
	assert.True(t, follow.Follows)
	assert.InDelta(t, drop, follow.MM, 0.06)
}

func TestFlushIsSetAtHingesAndStriker(t *testing.T) {
	t.Parallel()
	r := solved(t, door(
		edge(Front, 4, 0.5, flushes(1, 1, 1)),
		edge(Rear, 4, 0.5, flushes(-2, -2, -2))))
	assert.Equal(t, Cured, r.Status)
	assert.Equal(t, []Move{{"upper hinge", "in", 1, false}, {"lower hinge", "in", 1, false}, {"striker", "out", 2, false}}, r.Moves)
	assert.Empty(t, r.Drifts)
}

// In bare metal the gap is set wider by what paint will close.
func TestPaintIsAllowedFor(t *testing.T) {
	t.Parallel()
	in := door(edge(Rear, 4, 0.1, gaps(4.5, 4.5)), edge(Front, 4, 0.1, gaps(4.1, 4.1)), edge(Bottom, 4, 0.1, gaps(4.3, 4.3)))
	in.PaintMM = 0.3
	r := solved(t, in)
	assert.Equal(t, Cured, r.Status)
	for _, p := range r.Points {
		assert.InDelta(t, 4.3, p.TargetMM, 1e-9)
		assert.InDelta(t, 4.3, p.AfterMM, 1e-9)
	}
}

// Metal that stands out in one place: the fault is shared by the least worst, and the other way,
// to give up that one place, is said beside it.
func TestWhatIsMetalIsNamed(t *testing.T) {
	t.Parallel()
	r := solved(t, door(
		edge(Rear, 4, 0.5, gaps(5.2, 5.1, 5.2)),
		edge(Front, 4, 0.5, gaps(2.9, 2.8, 1.3)),
		edge(Bottom, 5, 0.7, gaps(5, 5.1, 5))))
	assert.Equal(t, Better, r.Status)
	require.NotEmpty(t, r.Residuals)
	assert.Equal(t, Metal, r.Residuals[0].Cause)
	assert.InDelta(t, r.Gaps.After.WorstMM, r.Residuals[0].ExcessMM(), 1e-9)
	require.Len(t, r.Culprits, 1)
	c := r.Culprits[0]
	assert.Equal(t, "bottom front corner (front edge)", c.Place)
	assert.Less(t, c.DeviationMM(), -1.0)
	assert.Greater(t, c.ExcessMM(), r.Gaps.After.WorstMM, "less even, but in one place")
	assert.NotEmpty(t, c.Moves)
}

// Front and rear both too wide: the door is too short, and no one reading is to blame.
func TestADoorTooShortHasNoCulprit(t *testing.T) {
	t.Parallel()
	r := solved(t, door(edge(Rear, 4, 0.5, gaps(5, 5, 5)), edge(Front, 4, 0.5, gaps(5, 5, 5)), edge(Bottom, 5, 0.7, gaps(5, 5))))
	assert.Equal(t, Stuck, r.Status)
	assert.Len(t, r.Residuals, 6)
	assert.Empty(t, r.Culprits)
	assert.Empty(t, r.Moves)
	for _, s := range r.Residuals {
		assert.Equal(t, Metal, s.Cause)
		assert.InDelta(t, 1, s.DeviationMM(), 1e-9)
		assert.InDelta(t, 0.5, s.ExcessMM(), 1e-9)
	}
}

func TestTravelThatEndsIsNamed(t *testing.T) {
	t.Parallel()
	in := door(edge(Rear, 4, 0.5, gaps(6, 6, 6)), edge(Front, 4, 0.5, gaps(2, 2, 2)), edge(Bottom, 5, 0.7, gaps(5, 5)))
	little := HingeTravel{Across: Range{-0.8, 0}}
	in.Travel = &Travel{First: little, Second: little}
	r := solved(t, in)
	assert.Equal(t, Better, r.Status)
	assert.InDelta(t, -0.8, r.Rounded.FirstAcrossMM, 1e-9)
	assert.InDelta(t, -0.8, r.Rounded.SecondAcrossMM, 1e-9)
	require.Len(t, r.Residuals, 6)
	for _, s := range r.Residuals {
		assert.Equal(t, NoTravel, s.Cause)
		assert.InDelta(t, 0.7, s.ExcessMM(), 1e-9)
	}
	assert.False(t, r.Gaps.SquaresTravel)
}

func TestAnAdjustmentWithNoTravelAtAllIsStuck(t *testing.T) {
	t.Parallel()
	in := door(edge(Rear, 4, 0.5, gaps(6, 6)), edge(Front, 4, 0.5, gaps(2, 2)), edge(Bottom, 5, 0.7, gaps(5, 5)))
	in.Travel = &Travel{}
	r := solved(t, in)
	assert.Equal(t, Stuck, r.Status)
	assert.Equal(t, Adjustment{}, r.Exact)
	for _, s := range r.Residuals {
		assert.Equal(t, NoTravel, s.Cause)
	}
}

func TestShimsTooThickAreNamed(t *testing.T) {
	t.Parallel()
	in := door(edge(Rear, 4, 0.2, gaps(4.5, 4.5)), edge(Front, 4, 0.2, gaps(3.5, 3.5)), edge(Bottom, 5, 0.7, gaps(5, 5)))
	in.StepMM = 0.8
	r := solved(t, in)
	assert.InDelta(t, -0.8, r.Rounded.FirstAcrossMM, 1e-9)
	assert.Equal(t, Better, r.Status)
	require.Len(t, r.Residuals, 4)
	for _, s := range r.Residuals {
		assert.Equal(t, ShimStep, s.Cause)
		assert.InDelta(t, 0.1, s.ExcessMM(), 1e-9)
	}
}

func TestTooLittleMeasuredSaysWhatToMeasure(t *testing.T) {
	t.Parallel()
	edges := func(r Result, k Kind) (out []Edge) {
		for _, n := range r.Needs {
			if n.Kind == k {
				out = append(out, n.Edge)
			}
		}
		return out
	}
	none := solved(t, door())
	assert.Equal(t, Measure, none.Status)
	assert.Equal(t, []Edge{Rear, Front, Bottom}, edges(none, Gap))
	assert.Equal(t, []Edge{Rear, Front}, edges(none, Flush))

	empty := solved(t, door(edge(Rear, 4, 0.5)))
	assert.Equal(t, Measure, empty.Status)

	one := solved(t, door(edge(Rear, 4, 0.2, gaps(4.5, 4, 3.5))))
	assert.Equal(t, Measure, one.Status)
	assert.Empty(t, one.Moves)
	assert.Equal(t, []Edge{Front, Bottom}, edges(one, Gap))
	require.Len(t, one.Residuals, 2, "what is out is said, though nothing can be done yet")
	assert.Equal(t, Unmeasured, one.Residuals[0].Cause)

	two := solved(t, door(edge(Rear, 4, 0.5, gaps(5, 5)), edge(Front, 4, 0.5, gaps(3, 3))))
	assert.Equal(t, Cured, two.Status)
	assert.Equal(t, []Edge{Bottom}, edges(two, Gap))
	assert.Zero(t, two.Rounded.AlongMM, "what no reading shows is left alone")

	single := solved(t, door(edge(Rear, 4, 0.5, gaps(5)), edge(Front, 4, 0.5, gaps(3)), edge(Bottom, 5, 0.5, gaps(5))))
	assert.Equal(t, []Edge{Rear}, edges(single, Gap), "tilt needs more than one")
	assert.Equal(t, single.Rounded.FirstAcrossMM, single.Rounded.SecondAcrossMM, "no turn without a sign of one")
}

// What was not measured still moves, and that is said.
func TestUnmeasuredEdgesDrift(t *testing.T) {
	t.Parallel()
	r := solved(t, door(edge(Rear, 4, 0.5, gaps(3, 4, 5)), edge(Front, 4, 0.5, gaps(5, 4, 3))))
	require.Len(t, r.Drifts, 2)
	for _, d := range r.Drifts {
		assert.Equal(t, Front, d.FirstAt)
		assert.InDelta(t, 0, d.FirstMM, 1e-6)
		assert.InDelta(t, 1.2/380*1080, math.Abs(d.LastMM), 0.01)
	}
}

// A boot lid, a bonnet and a tailgate speak of their own ways.
func TestOtherPanels(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name        string
		edges       []EdgeReading
		moves       []Move
		first, last string // places of the first edge's readings
	}{
		{"bonnet", []EdgeReading{
			edge(Front, 5, 0.5, gaps(4, 4)), edge(Rear, 5, 0.5, gaps(6, 6)), edge(Left, 5, 0.5, gaps(3.5, 3.5)), edge(Right, 5, 0.5, gaps(6.5, 6.5)),
		}, []Move{{"left hinge", "back", 1, false}, {"left hinge", "right", 1.5, false}, {"right hinge", "back", 1, false}, {"right hinge", "right", 1.5, false}, {"latch", "right", 1.5, true}},
			"front left corner (front edge)", "front right corner (front edge)"},
		{"boot lid", []EdgeReading{
			edge(Left, 5, 0.5, flushes(1, -2)), edge(Right, 5, 0.5, flushes(1, -2)),
		}, []Move{{"left hinge", "down", 1, false}, {"right hinge", "down", 1, false}, {"latch", "up", 2, false}},
			"front left corner (left edge)", "rear left corner (left edge)"},
		{"tailgate", []EdgeReading{
			edge(Top, 5, 0.5, gaps(6, 6)), edge(Bottom, 5, 0.5, gaps(4, 4)), edge(Left, 5, 0.5, gaps(5, 5)), edge(Right, 5, 0.5, gaps(5, 5)),
		}, []Move{{"left hinge", "up", 1, false}, {"right hinge", "up", 1, false}},
			"top left corner (top edge)", "top right corner (top edge)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			plane, hinge, err := Usual(c.name)
			require.NoError(t, err)
			r := solved(t, Input{Panel: Panel{plane, 1200, 900, 700, hinge}, Edges: c.edges})
			assert.Equal(t, Cured, r.Status)
			assert.Equal(t, c.moves, r.Moves)
			assert.Equal(t, c.first, r.Points[0].Place)
			assert.Equal(t, c.last, r.Points[1].Place)
		})
	}
}

func TestTheAnswerCarriesWhatItRestsOn(t *testing.T) {
	t.Parallel()
	r := solved(t, door(edge(Rear, 4, 0.5, gaps(5, 5)), edge(Front, 4, 0.5, gaps(3, 3))))
	assert.Equal(t, DefaultStepMM, r.Input.StepMM)
	require.NotNil(t, r.Input.Travel)
	assert.Contains(t, r.Assumptions, "the shim step was not said: 0.1 mm taken")
	assert.Contains(t, r.Assumptions, "flush was not measured: nothing is moved in or out")
	assert.Contains(t, r.Source, "Boyd")
	assert.Contains(t, r.Caution, "maker's figures")
}

// What is used should the programme ever fail.
func TestSecondBest(t *testing.T) {
	t.Parallel()
	wide := Range{-5, 5}
	shift := []reading{{vector{1, 0, 0}, -2, 0.5}}
	assert.Equal(t, vector{2, 0, 0}, secondBest(shift, hands{2, 2, 0}, [3]Range{wide, wide, wide}))
	assert.Equal(t, vector{0.5, 0, 0}, secondBest(shift, hands{2, 2, 0}, [3]Range{{0, 0.5}, {0, 0.5}, {}}))
	assert.Equal(t, vector{}, secondBest(shift, hands{-2, -2, 0}, [3]Range{wide, wide, wide}))
}
