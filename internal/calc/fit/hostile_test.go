package fit

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each case spoils one thing of a sound input.
func TestHostileInputIsRefusedWithWhatWorks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		change   func(*Input)
		field    string
		accepted string
	}{
		{"no plane", func(in *Input) { in.Panel.Plane = "" }, "plane", "side, plan or back"},
		{"unknown hinge edge", func(in *Input) { in.Panel.HingeEdge = Left }, "hinge_edge", "front, rear, top or bottom"},
		{"no height", func(in *Input) { in.Panel.HeightMM = 0 }, "height_mm", "100 to 4000 mm"},
		{"negative height", func(in *Input) { in.Panel.HeightMM = -620 }, "height_mm", "100 to 4000 mm"},
		{"length is no number", func(in *Input) { in.Panel.LengthMM = math.NaN() }, "length_mm", "100 to 4000 mm"},
		{"endless length", func(in *Input) { in.Panel.LengthMM = math.Inf(1) }, "length_mm", "100 to 4000 mm"},
		{"hinges in one place", func(in *Input) { in.Panel.HingeSpacingMM = 0 }, "hinge_spacing_mm", "77.5 to 620 mm"},
		{"hinges wider than the door", func(in *Input) { in.Panel.HingeSpacingMM = 700 }, "hinge_spacing_mm", "77.5 to 620 mm"},
		{"an edge of another panel", func(in *Input) { in.Edges[0].Edge = "left" }, "edge", "front, rear, top or bottom"},
		{"an edge twice", func(in *Input) { in.Edges[0].Edge = Front }, "edge", "each edge once"},
		{"a gap a hand wide", func(in *Input) { in.Edges[0].GapMM[0] = 400 }, "gap_mm", "0 to 50 mm"},
		{"a negative gap", func(in *Input) { in.Edges[0].GapMM[1] = -1 }, "gap_mm", "0 to 50 mm"},
		{"a gap that is no number", func(in *Input) { in.Edges[0].GapMM[1] = math.NaN() }, "gap_mm", "0 to 50 mm"},
		{"endless flush", func(in *Input) { in.Edges[0].FlushMM = []float64{math.Inf(-1)} }, "flush_mm", "-50 to 50 mm"},
		{"no target", func(in *Input) { in.Edges[0].TargetMM = 0 }, "target_mm", "gap wanted on the rear edge"},
		{"target is no number", func(in *Input) { in.Edges[0].TargetMM = math.NaN() }, "target_mm", "above 0"},
		{"negative tolerance", func(in *Input) { in.Edges[0].ToleranceMM = -0.5 }, "tolerance_mm", "0 to 4 mm"},
		{"tolerance is no number", func(in *Input) { in.Edges[0].ToleranceMM = math.NaN() }, "tolerance_mm", "0 to 4 mm"},
		{"negative flush tolerance", func(in *Input) { in.Edges[0].FlushToleranceMM = -1 }, "flush_tolerance_mm", "0 to 50 mm"},
		{"too many readings", func(in *Input) { in.Edges[0].GapMM = make([]float64, 1000) }, "readings", "at most 50"},
		{"travel that leaves out where it stands", func(in *Input) { in.Travel = &Travel{Along: Range{1, 2}} }, "travel", "where it stands"},
		{"travel the wrong way round", func(in *Input) { in.Travel = &Travel{LatchOut: Range{3, -3}} }, "travel", "0 to 50 mm the other"},
		{"travel is no number", func(in *Input) { in.Travel = &Travel{First: HingeTravel{Out: Range{math.NaN(), 0}}} }, "travel", "-50 to 0 mm"},
		{"negative step", func(in *Input) { in.StepMM = -0.5 }, "step_mm", "0.05 to 5 mm"},
		{"step too fine", func(in *Input) { in.StepMM = 1e-9 }, "step_mm", "0.05 to 5 mm"},
		{"step is no number", func(in *Input) { in.StepMM = math.NaN() }, "step_mm", "0.05 to 5 mm"},
		{"paint as thick as filler", func(in *Input) { in.PaintMM = 3 }, "paint_mm", "0 to 1 mm"},
		{"paint that opens", func(in *Input) { in.PaintMM = -0.2 }, "paint_mm", "0 to 1 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			in := door(edge(Rear, 4, 0.5, gaps(5, 5)), edge(Front, 4, 0.5, gaps(3, 3)))
			c.change(&in)
			_, err := Solve(in)
			var e *InputError
			require.ErrorAs(t, err, &e)
			assert.Equal(t, c.field, e.Field)
			assert.Contains(t, e.Accepted, c.accepted)
			assert.Contains(t, err.Error(), c.accepted)
		})
	}
}

func TestALongHostileValueIsCutShort(t *testing.T) {
	t.Parallel()
	_, _, err := Usual(strings.Repeat("door ", 10_000))
	var e *InputError
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "panel", e.Field)
	assert.Less(t, len(e.Error()), 200)
}

func TestLeastSquaresRefusesWhatLeavesTheMotionOpen(t *testing.T) {
	t.Parallel()
	one := Observation{0, 0, 1, 0, 1}
	for name, obs := range map[string][]Observation{
		"none":         nil,
		"too few":      {one, one},
		"all the same": {one, one, one, one},
		"one way only": {{0, 0, 1, 0, 1}, {0, 500, 1, 0, 1}, {900, 200, 1, 0, 1}},
		"no direction": {{0, 0, 0, 0, 1}, {0, 1, 0, 0, 1}, {1, 0, 0, 0, 1}},
		"no number":    {{0, 0, 1, 0, math.NaN()}, {0, 500, 1, 0, 1}, {900, 200, 0, 1, 1}},
		"endless":      {{math.Inf(1), 0, 1, 0, 1}, {0, 500, 1, 0, 1}, {900, 200, 0, 1, 1}},
	} {
		_, err := LeastSquares(obs)
		var e *InputError
		assert.ErrorAs(t, err, &e, name)
	}
	assert.Zero(t, Motion{}.RMS(nil))
}

// What Solve is given stays the caller's.
func TestSolveKeepsNothingOfItsInput(t *testing.T) {
	t.Parallel()
	in := door(edge(Rear, 4, 0.5, gaps(5, 5)), edge(Front, 4, 0.5, gaps(3, 3)))
	in.Edges[0].FlushMM, in.Edges[0].FlushToleranceMM = []float64{0}, 0
	in.Travel = &Travel{}
	r, err := Solve(in)
	require.NoError(t, err)
	assert.Zero(t, in.StepMM)
	assert.Zero(t, in.Edges[0].FlushToleranceMM)
	r.Input.Edges[0].GapMM[0] = 9
	r.Input.Travel.Along.HighMM = 9
	assert.InDelta(t, 5, in.Edges[0].GapMM[0], 0)
	assert.Zero(t, in.Travel.Along.HighMM)
}

// FuzzSolve holds that any input is answered or refused, never worse than standing still and
// never with a number that is none.
func FuzzSolve(f *testing.F) {
	f.Add("side", "front", 1080.0, 620.0, 380.0, 4.0, 0.5, 5.0, 3.0, 4.0, 6.0, -1.0, 0.1, 2.0)
	f.Add("plan", "rear", 900.0, 1300.0, 1000.0, 5.0, 1.0, 0.0, 9.0, 5.0, 5.0, 3.0, 0.8, 0.5)
	f.Add("back", "top", 1200.0, 700.0, 600.0, 5.0, 0.0, 50.0, 0.0, 50.0, 0.0, 50.0, 0.05, 50.0)
	f.Fuzz(func(t *testing.T, plane, hinge string, length, height, spacing, target, tolerance, g1, g2, g3, g4, flush, step, travel float64) {
		r := Range{-travel, travel}
		p := Panel{Plane(plane), length, height, spacing, Edge(hinge)}
		in := Input{Panel: p, Travel: &Travel{HingeTravel{r, r}, HingeTravel{r, r}, r, r}, StepMM: step}
		for i, e := range p.Edges() {
			in.Edges = append(in.Edges, EdgeReading{
				Edge: e, TargetMM: target, ToleranceMM: tolerance,
				GapMM:   [][]float64{{g1, g2, g3}, {g2, g4}, {g3, g1}, {g4}}[i],
				FlushMM: [][]float64{{flush, g1 - g2}, {-flush}, {g3 - g4, flush / 2, 0}, nil}[i],
			})
		}
		out, err := Solve(in)
		if err != nil {
			var e *InputError
			require.ErrorAs(t, err, &e)
			require.NotEmpty(t, e.Accepted)
			return
		}
		for _, v := range append(out.Rounded.list(), out.Exact.list()...) {
			require.LessOrEqual(t, math.Abs(v), travel+1e-6)
		}
		require.LessOrEqual(t, out.Gaps.After.WorstMM, out.Gaps.Before.WorstMM+1e-9)
		require.LessOrEqual(t, out.Flushes.After.WorstMM, out.Flushes.Before.WorstMM+1e-9)
		for _, a := range out.Assumptions {
			require.NotContains(t, a, "failed")
		}
		require.NotEmpty(t, out.Lines())
		for _, l := range out.Lines() {
			require.NotContains(t, l, "NaN")
		}
	})
}
