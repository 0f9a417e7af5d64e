package picture_test

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"bayword/internal/say/picture"
	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden pictures instead of comparing with them")

// door is the heron's left door: too wide behind, too tight in front.
func door() *pb.SolveFitResponse {
	return &pb.SolveFitResponse{
		Status: pb.FitStatus_FIT_STATUS_BETTER, Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, LengthMm: 1080, HeightMm: 620,
		Edges: []*pb.FitEdge{
			{Edge: pb.Edge_EDGE_FRONT, BeforeMm: []float64{3.2, 3, 2.8}, AfterMm: []float64{4, 4, 4}, TargetMm: 4, ToleranceMm: 0.5},
			{Edge: pb.Edge_EDGE_REAR, BeforeMm: []float64{3.5, 4, 4.5, 5.4}, AfterMm: []float64{3.7, 3.9, 4, 4.5}, TargetMm: 4, ToleranceMm: 0.5},
			{Edge: pb.Edge_EDGE_BOTTOM, BeforeMm: []float64{3.5, 5, 6.5}, AfterMm: []float64{3.9, 5, 6.1}, TargetMm: 5, ToleranceMm: 0.7},
		},
	}
}

// otherDoor is measured on one edge, and fits.
func otherDoor() *pb.SolveFitResponse {
	return &pb.SolveFitResponse{
		Status: pb.FitStatus_FIT_STATUS_FITS, Job: "heron", Panel: "door", Side: pb.Side_SIDE_RIGHT, LengthMm: 1080, HeightMm: 620,
		Edges: []*pb.FitEdge{{Edge: pb.Edge_EDGE_BOTTOM, BeforeMm: []float64{4.5, 5, 5.5, 5.6}, AfterMm: []float64{4.5, 5, 5.5, 5.6}, TargetMm: 5, ToleranceMm: 0.7}},
	}
}

// bonnet is measured all round, with more readings than labels on one side.
func bonnet() *pb.SolveFitResponse {
	return &pb.SolveFitResponse{
		Status: pb.FitStatus_FIT_STATUS_CURED, Job: "osmere", Panel: "bonnet", LengthMm: 1100, HeightMm: 1350,
		Edges: []*pb.FitEdge{
			{Edge: pb.Edge_EDGE_FRONT, BeforeMm: []float64{5, 5.5}, AfterMm: []float64{5, 5}, TargetMm: 5, ToleranceMm: 1},
			{Edge: pb.Edge_EDGE_REAR, BeforeMm: []float64{5, 4.6, 4.5, 5}, AfterMm: []float64{5, 5, 5, 5}, TargetMm: 5, ToleranceMm: 0.7},
			{Side: pb.Side_SIDE_LEFT, BeforeMm: []float64{6, 6.2, 6.4, 6.6, 6.4, 6.6, 7.2}, AfterMm: []float64{5, 5.2, 5.4, 5.6, 5.4, 5.6, 5.9}, TargetMm: 5, ToleranceMm: 1},
			{Side: pb.Side_SIDE_RIGHT, BeforeMm: []float64{4, 3.8, 3.6}, AfterMm: []float64{5, 4.8, 4.6}, TargetMm: 5, ToleranceMm: 1},
		},
	}
}

// pictures are the golden ones: look at them after -update.
func pictures() map[string]func() ([]byte, error) {
	fit := func(r *pb.SolveFitResponse) func() ([]byte, error) {
		return func() ([]byte, error) { return picture.Fit(r) }
	}
	order := func(fastener string, stages []float64, count int) func() ([]byte, error) {
		return func() ([]byte, error) { return picture.Tightening(fastener, stages, count) }
	}
	outline := func(body string, finds []*pb.Find) func() ([]byte, error) {
		return func() ([]byte, error) { return picture.Outline(body, finds) }
	}
	few := func(job string) []*pb.Find {
		return []*pb.Find{
			find(1, job, "front wing", onRt, pb.FindKind_FIND_KIND_DENT, pb.FindState_FIND_STATE_OPEN),
			find(2, job, "load bed", noSide, pb.FindKind_FIND_KIND_HOLE, pb.FindState_FIND_STATE_OPEN),
			find(3, job, "tailgate", noSide, pb.FindKind_FIND_KIND_RUST, pb.FindState_FIND_STATE_OPEN),
			find(4, job, "c-post", onRt, pb.FindKind_FIND_KIND_RUST, pb.FindState_FIND_STATE_OPEN),
		}
	}
	return map[string]func() ([]byte, error){
		"hours":         func() ([]byte, error) { return picture.HoursByStage("osmere", osmereHours()) },
		"forecast":      func() ([]byte, error) { return picture.Forecast(heronForecast()) },
		"plan_of_years": func() ([]byte, error) { return picture.Plan("", longPlan()) },
		"gaps": func() ([]byte, error) {
			return picture.Gaps(rearEdge(3.5, 4, 4.5, 5.4), rearEdge(3.7, 3.9, 4, 4.5), rearTarget())
		},
		"gaps_one_out": func() ([]byte, error) {
			return picture.Gaps(rearEdge(6, 6.2, 6.4, 6.6, 6.4, 6.6, 7.2, 6, 6, 6, 6, 7), rearEdge(4, 4.2, 5.1), rearTarget())
		},
		"gaps_alone":      func() ([]byte, error) { return picture.Gaps(rearEdge(3.5, 4, 4.5, 5.4), nil, nil) },
		"coupe":           outline("two-door coupe", heronFinds()),
		"estate":          outline("five-door estate", wholeEstate()),
		"pick-up":         outline("pick-up", few("pilot")),
		"hatchback":       outline("three-door hatchback", few("tern")),
		"saloon":          outline("", few("")),
		"door":            fit(door()),
		"door_as_it_is":   fit(otherDoor()),
		"bonnet":          fit(bonnet()),
		"head":            order("cylinder head nut", []float64{30, 50, 68}, 0),
		"head_of_eight":   order("cylinder head bolt", []float64{40, 75}, 8),
		"wheel":           order("wheel nut", []float64{40, 81}, 0),
		"flywheel_of_six": order("flywheel bolt", []float64{20, 50, 76}, 6),
	}
}

func TestPicturesAreAsLookedAt(t *testing.T) {
	t.Parallel()
	for name, draw := range pictures() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got, err := draw()
			require.NoError(t, err)
			again, err := draw()
			require.NoError(t, err)
			assert.True(t, bytes.Equal(got, again), "the same answer gives the same bytes")
			assert.Less(t, len(got), 120_000, "small enough to send and to keep")
			file := filepath.Join("testdata", name+".png")
			if *update {
				require.NoError(t, os.WriteFile(file, got, 0o644))
				return
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Less(t, apart(t, want, got), 0.002, "%s; run with -update and look at it", file)
		})
	}
}

// apart is the share of pixels that differ by more than a shade: another
// machine's arithmetic may round the edge of a line the other way.
func apart(t *testing.T, a, b []byte) float64 {
	t.Helper()
	x, y := decode(t, a), decode(t, b)
	require.Equal(t, x.Bounds(), y.Bounds())
	differ := 0
	box := x.Bounds()
	for i := box.Min.X; i < box.Max.X; i++ {
		for j := box.Min.Y; j < box.Max.Y; j++ {
			if far(x.At(i, j), y.At(i, j)) {
				differ++
			}
		}
	}
	return float64(differ) / float64(box.Dx()*box.Dy())
}

func far(a, b color.Color) bool {
	const shade = 24 << 8
	r0, g0, b0, _ := a.RGBA()
	r1, g1, b1, _ := b.RGBA()
	diff := func(x, y uint32) uint32 { return max(x, y) - min(x, y) }
	return max(diff(r0, r1), diff(g0, g1), diff(b0, b1)) > shade
}

func decode(t *testing.T, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return img
}
