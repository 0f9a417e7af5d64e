package picture_test

import (
	"math"
	"testing"

	"bayword/internal/say/picture"
	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// gap draws readings as they are, and as no gauge would give them.
func gap() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64Range(0, 12), rapid.Float64Range(-3, 60),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 5e-324}))
}

// Whatever the answer holds becomes a picture of the agreed width, or the one
// error that says there is nothing to draw.
func TestAnyAnswerIsDrawnOrRefused(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := &pb.SolveFitResponse{
			Panel: rapid.SampledFrom([]string{"door", "bonnet", "boot lid", "tailgate", "", "\u202edoor\n"}).Draw(t, "panel"),
			Job:   rapid.String().Draw(t, "job"), Side: pb.Side(rapid.Int32Range(0, 4).Draw(t, "side")),
			LengthMm: gap().Draw(t, "length") * 200, HeightMm: gap().Draw(t, "height") * 200,
		}
		for range rapid.IntRange(0, 5).Draw(t, "edges") {
			r.Edges = append(r.Edges, &pb.FitEdge{
				Edge: pb.Edge(rapid.Int32Range(0, 5).Draw(t, "edge")), Side: pb.Side(rapid.Int32Range(0, 3).Draw(t, "of")),
				BeforeMm: rapid.SliceOfN(gap(), 0, 50).Draw(t, "before"), AfterMm: rapid.SliceOfN(gap(), 0, 50).Draw(t, "after"),
				TargetMm: gap().Draw(t, "target"), ToleranceMm: gap().Draw(t, "tolerance"),
			})
		}
		data, err := picture.Fit(r)
		if err != nil {
			require.ErrorIs(t, err, picture.ErrNothing)
			return
		}
		require.Less(t, len(data), 200<<10)
	})
}

func TestNothingMeasuredIsNoPicture(t *testing.T) {
	t.Parallel()
	for name, r := range map[string]*pb.SolveFitResponse{
		"no answer":         nil,
		"no edges":          {Panel: "door"},
		"no readings":       {Panel: "door", Edges: []*pb.FitEdge{{Edge: pb.Edge_EDGE_REAR, TargetMm: 4}}},
		"not a number":      {Panel: "door", Edges: []*pb.FitEdge{{Edge: pb.Edge_EDGE_REAR, BeforeMm: []float64{4, math.NaN()}, TargetMm: 4}}},
		"a bonnet's bottom": {Panel: "bonnet", Edges: []*pb.FitEdge{{Edge: pb.Edge_EDGE_BOTTOM, BeforeMm: []float64{4}, TargetMm: 4}}},
	} {
		_, err := picture.Fit(r)
		require.ErrorIs(t, err, picture.ErrNothing, name)
	}
}

// A door is drawn as it is seen from outside: the front of a right one is on the right.
func TestRightDoorIsSeenFromItsOwnSide(t *testing.T) {
	t.Parallel()
	l, err := picture.Fit(door())
	require.NoError(t, err)
	other := door()
	other.Side = pb.Side_SIDE_RIGHT
	r, err := picture.Fit(other)
	require.NoError(t, err)
	a, b := decode(t, l), decode(t, r)
	// The rear edge of the before pane, at its last reading: red on its own side alone.
	assert.True(t, isRed(a.At(640, 386)), "rear of a left door is on the right")
	assert.True(t, isRed(b.At(160, 386)), "rear of a right door is on the left")
}

func isRed(c interface{ RGBA() (r, g, b, a uint32) }) bool {
	r, g, _, _ := c.RGBA()
	return r > 0xb000 && g < 0x5000
}

func TestOrderIsDrawnForWhatHasOne(t *testing.T) {
	t.Parallel()
	for _, f := range []string{"cylinder head nut", "Wheel Nut", "flywheel bolt", "clutch cover bolt", "inlet manifold nut"} {
		_, err := picture.Tightening(f, []float64{10, 20}, 0)
		require.NoError(t, err, f)
	}
	for _, f := range []string{"sump plug", "", "brake caliper bolt"} {
		_, err := picture.Tightening(f, []float64{10, 20}, 0)
		require.ErrorIs(t, err, picture.ErrNoOrder, f)
	}
}

// Any stages and any count make a picture: a count that is not drawn is as good
// as unknown.
func TestAnyCountAndStagesAreDrawn(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		_, err := picture.Tightening(rapid.SampledFrom([]string{"head", "hub"}).Draw(t, "fastener"),
			rapid.SliceOfN(gap(), 0, 12).Draw(t, "stages"), rapid.IntRange(-3, 40).Draw(t, "count"))
		require.NoError(t, err)
	})
}
