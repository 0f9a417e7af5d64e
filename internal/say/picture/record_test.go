package picture_test

import (
	"bytes"
	"image"
	"image/png"
	"testing"

	"bayword/internal/say/picture"
	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const (
	noSide = pb.Side_SIDE_UNSPECIFIED
	onLeft = pb.Side_SIDE_LEFT
	onRt   = pb.Side_SIDE_RIGHT
)

func find(number uint32, job, panel string, side pb.Side, kind pb.FindKind, state pb.FindState) *pb.Find {
	return &pb.Find{Number: number, Job: job, Panel: panel, Side: side, Kind: kind, State: state}
}

// heronFinds are on all sides, with three on one sill.
func heronFinds() []*pb.Find {
	const open, repaired = pb.FindState_FIND_STATE_OPEN, pb.FindState_FIND_STATE_REPAIRED
	finds := []*pb.Find{
		find(1, "heron", "sill", onLeft, pb.FindKind_FIND_KIND_HOLE, open),
		find(2, "heron", "rear wing", onLeft, pb.FindKind_FIND_KIND_OLD_REPAIR, open),
		find(3, "heron", "front valance", pb.Side_SIDE_CENTRE, pb.FindKind_FIND_KIND_DENT, repaired),
		find(5, "heron", "sill", onLeft, pb.FindKind_FIND_KIND_RUST, open),
		find(6, "heron", "sill", onLeft, pb.FindKind_FIND_KIND_PITTING, repaired),
		find(7, "heron", "front arch", onRt, pb.FindKind_FIND_KIND_HOLE, open),
		find(8, "heron", "floor", onRt, pb.FindKind_FIND_KIND_CRACK, repaired),
		find(9, "heron", "door", onLeft, pb.FindKind_FIND_KIND_FILLER, open),
		find(10, "heron", "roof", noSide, pb.FindKind_FIND_KIND_PAINT, open),
		find(11, "heron", "boot floor", noSide, pb.FindKind_FIND_KIND_RUST, open),
		find(12, "heron", "a-post", onRt, pb.FindKind_FIND_KIND_CRACK, open),
		find(113, "heron", "battery tray", noSide, pb.FindKind_FIND_KIND_MISSING, open),
	}
	return finds
}

// wholeEstate has a find at every panel there is a place for.
func wholeEstate() []*pb.Find {
	var out []*pb.Find
	add := func(panel string, sides ...pb.Side) {
		for _, s := range sides {
			n := uint32(len(out) + 1)
			out = append(out, find(n, "osmere", panel, s, pb.FindKind(n%9+1), pb.FindState(n%2+1)))
		}
	}
	for _, p := range []string{"front wing", "rear wing", "door", "sill", "a-post", "b-post", "c-post", "front arch", "rear arch", "inner wing", "floor", "outrigger"} {
		add(p, onLeft, onRt)
	}
	for _, p := range []string{"bonnet", "tailgate", "roof", "scuttle", "bulkhead", "front valance", "rear valance", "front panel", "rear panel", "boot floor", "spare wheel well", "battery tray", "whole body", "hinge pin"} {
		add(p, noSide)
	}
	return out
}

func osmereHours() []*pb.StageForecast {
	return []*pb.StageForecast{
		{Stage: "strip", Logged: 44, Estimate: 40}, {Stage: "metal", Logged: 118, Estimate: 90}, {Stage: "paint", Logged: 37, Estimate: 140},
		{Stage: "mechanical", Estimate: 40}, {Stage: "trim", Estimate: 30}, {Stage: "assembly", Logged: 2.25},
	}
}

// heronForecast has a stage past its estimate, one that will be, and a held task.
func heronForecast() *pb.ForecastResponse {
	task := func(number uint32, title string) *pb.Task {
		return &pb.Task{Number: number, Job: "heron", Title: title}
	}
	return &pb.ForecastResponse{
		Job: "heron",
		Stages: []*pb.StageForecast{
			{Stage: "strip", Logged: 71, Estimate: 60}, {Stage: "metal", Logged: 96.5, Estimate: 180, ToCome_50: 84, ToCome_80: 110},
			{Stage: "paint", Estimate: 160, ToCome_50: 140, ToCome_80: 165}, {Stage: "trim", Estimate: 90, ToCome_50: 60, ToCome_80: 75},
		},
		Bars: []*pb.PlanBar{
			{Task: task(2, "replace the left sill"), Start: "2026-03-10", End: "2026-03-12", End_80: "2026-03-16", Critical: 0.7},
			{Task: task(3, "replace the right sill"), Start: "2026-03-12", End: "2026-03-17", End_80: "2026-03-23", Critical: 0.2},
			{Task: task(4, "let in the left rear wing"), Start: "2026-03-17", End: "2026-03-24", End_80: "2026-04-02", Critical: 0.8, Hold: "rear wing panel, left, due 2026-03-12"},
			{Task: task(5, "epoxy the shell"), Start: "2026-03-24", End: "2026-03-26", End_80: "2026-04-08", Critical: 1},
			{Task: task(6, "fill and block every panel of the shell, and then block it once more all over"), Start: "2026-03-26", End: "2026-04-08", End_80: "2026-04-22", Critical: 1},
			{Task: &pb.Task{Stage: "trim"}, Start: "2026-04-08", End: "2026-05-06", End_80: "2026-06-04", Critical: 0.6},
		},
	}
}

// longPlan runs over years, and has more tasks than are drawn.
func longPlan() []*pb.PlanBar {
	out := []*pb.PlanBar{{Task: &pb.Task{Number: 1, Title: "strip it"}, Start: "2026-03-10", End: "2026-07-01", End_80: "2027-01-20", Critical: 1}}
	for i := range uint32(25) {
		out = append(out, &pb.PlanBar{Task: &pb.Task{Number: i + 2, Title: "work"}, Start: "2027-02-01", End: "2028-02-01", End_80: "2031-06-01"})
	}
	return out
}

func rearEdge(mm ...float64) *pb.GapReading {
	return &pb.GapReading{Job: "heron", Panel: "door", Side: onLeft, Edge: pb.Edge_EDGE_REAR, GapMm: mm}
}

func rearTarget() *pb.GapReference {
	return &pb.GapReference{Panel: "door", Edge: pb.Edge_EDGE_REAR, TargetMm: 4, ToleranceMm: 0.5}
}

// Whatever the finds are, they become a picture of the agreed width.
func TestAnyFindsAreDrawn(t *testing.T) {
	t.Parallel()
	panels := []string{"sill", "door", "bonnet", "floor", "load bed", "whole body", "", "\u202eroof\n", "no such panel"}
	rapid.Check(t, func(t *rapid.T) {
		var finds []*pb.Find
		for range rapid.SampledFrom([]int{1, 2, 9, 70}).Draw(t, "finds") {
			finds = append(finds, &pb.Find{
				Number: rapid.Uint32().Draw(t, "number"), Job: rapid.SampledFrom([]string{"heron", "tern"}).Draw(t, "job"),
				Panel: rapid.SampledFrom(panels).Draw(t, "panel"), Side: pb.Side(rapid.Int32Range(0, 4).Draw(t, "side")), End: pb.End(rapid.Int32Range(0, 3).Draw(t, "end")),
				Kind: pb.FindKind(rapid.Int32Range(0, 12).Draw(t, "kind")), State: pb.FindState(rapid.Int32Range(0, 3).Draw(t, "state")),
			})
		}
		data, err := picture.Outline(rapid.SampledFrom([]string{"", "pick-up", "estate", "two-door saloon", "roadster"}).Draw(t, "body"), finds)
		require.NoError(t, err)
		sized(t, data)
	})
}

// Whatever a forecast holds becomes a picture, or the one error that says there is
// nothing to draw.
func TestAnyForecastIsDrawnOrRefused(t *testing.T) {
	t.Parallel()
	day := rapid.SampledFrom([]string{"", "2026-03-10", "2026-03-11", "2026-12-24", "2031-01-01", "0001-01-01", "9999-12-31", "tomorrow"})
	rapid.Check(t, func(t *rapid.T) {
		r := &pb.ForecastResponse{Job: rapid.String().Draw(t, "job")}
		for range rapid.SampledFrom([]int{0, 1, 6, 40}).Draw(t, "stages") {
			r.Stages = append(r.Stages, &pb.StageForecast{
				Stage: rapid.String().Draw(t, "stage"), Logged: gap().Draw(t, "logged"), Estimate: gap().Draw(t, "estimate"),
				ToCome_50: gap().Draw(t, "half"), ToCome_80: gap().Draw(t, "fairly"),
			})
		}
		for range rapid.SampledFrom([]int{0, 1, 6, 40}).Draw(t, "bars") {
			r.Bars = append(r.Bars, &pb.PlanBar{
				Task:  &pb.Task{Number: rapid.Uint32().Draw(t, "number"), Title: rapid.String().Draw(t, "title")},
				Start: day.Draw(t, "start"), End: day.Draw(t, "end"), End_80: day.Draw(t, "end 80"), Critical: gap().Draw(t, "critical"), Hold: rapid.String().Draw(t, "hold"),
			})
		}
		data, err := picture.Forecast(r)
		if err != nil {
			require.ErrorIs(t, err, picture.ErrNothing)
			return
		}
		sized(t, data)
	})
}

func TestAnyGapsAreDrawnOrRefused(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		data, err := picture.Gaps(rearEdge(rapid.SliceOfN(gap(), 0, 50).Draw(t, "before")...), rearEdge(rapid.SliceOfN(gap(), 0, 50).Draw(t, "after")...),
			&pb.GapReference{TargetMm: gap().Draw(t, "target"), ToleranceMm: gap().Draw(t, "tolerance")})
		if err != nil {
			require.ErrorIs(t, err, picture.ErrNothing)
			return
		}
		sized(t, data)
	})
}

func TestNothingToDrawIsSaid(t *testing.T) {
	t.Parallel()
	for name, draw := range map[string]func() ([]byte, error){
		"no finds":          func() ([]byte, error) { return picture.Outline("saloon", nil) },
		"no stages":         func() ([]byte, error) { return picture.HoursByStage("heron", nil) },
		"no hours":          func() ([]byte, error) { return picture.HoursByStage("heron", []*pb.StageForecast{{Stage: "trim"}}) },
		"no tasks":          func() ([]byte, error) { return picture.Plan("heron", nil) },
		"a task of no days": func() ([]byte, error) { return picture.Plan("heron", []*pb.PlanBar{{Start: "2026-03-10"}}) },
		"an empty forecast": func() ([]byte, error) { return picture.Forecast(nil) },
		"no readings":       func() ([]byte, error) { return picture.Gaps(rearEdge(), rearEdge(4), rearTarget()) },
	} {
		_, err := draw()
		require.ErrorIs(t, err, picture.ErrNothing, name)
	}
}

// A find shows on its own side, and there towards its own end of the vehicle: the
// front is left on the left side and right on the right one.
func TestAFindIsMarkedOnItsOwnSide(t *testing.T) {
	t.Parallel()
	reds := func(side pb.Side) (image.Rectangle, int) {
		data, err := picture.Outline("saloon", []*pb.Find{find(1, "heron", "front arch", side, pb.FindKind_FIND_KIND_HOLE, pb.FindState_FIND_STATE_OPEN)})
		require.NoError(t, err)
		img := decode(t, data)
		var box image.Rectangle
		key := img.Bounds().Dy() - 110 // the key has red of its own
		for y := range key {
			for x := range img.Bounds().Dx() {
				if isRed(img.At(x, y)) {
					box = box.Union(image.Rect(x, y, x+1, y+1))
				}
			}
		}
		return box, img.Bounds().Dy()
	}
	l, high := reds(onLeft)
	r, _ := reds(onRt)
	assert.Less(t, l.Max.X, 300, "the front of a left side is on the left")
	assert.Less(t, l.Max.Y, high/2, "the left side is drawn first")
	assert.Greater(t, r.Min.X, 500, "the front of a right side is on the right")
	assert.Greater(t, r.Min.Y, high/2, "the right side is drawn last")
}

// sized says that a picture is one, and small enough for an inbox to keep.
func sized(t require.TestingT, data []byte) {
	img, err := png.DecodeConfig(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, 800, img.Width)
	require.Less(t, len(data), 200<<10)
}

// A vehicle has the doors that the words for its body give it, however they are
// written; where they give none, those that are usual for its kind.
func TestDoorsAreThoseOfTheBody(t *testing.T) {
	t.Parallel()
	drawn := func(body string) string {
		data, err := picture.Outline(body, heronFinds())
		require.NoError(t, err)
		return string(data)
	}
	for _, same := range [][]string{
		{"two-door saloon", "two door saloon", "Two Door Saloon", "2-door saloon", "2dr saloon"},
		{"four-door saloon", "saloon", "4 door saloon", ""},
		{"three-door hatchback", "hatchback", "3 door hatch"},
		{"five-door estate", "estate"},
		{"two-door coupe", "coupe"},
		{"pick-up", "two-door pick-up"},
	} {
		for _, words := range same {
			require.Equal(t, drawn(same[0]), drawn(words), words)
		}
	}
	for _, other := range [][2]string{
		{"two-door saloon", "four-door saloon"}, {"three-door hatchback", "five-door hatchback"},
		{"two-door coupe", "four-door coupe"}, {"three-door estate", "estate"}, {"four-door pick-up", "pick-up"},
	} {
		require.NotEqual(t, drawn(other[0]), drawn(other[1]), other)
	}
}
