package service_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// fitBench measures and asks.
type fitBench struct {
	*bench
	fits pb.FitServiceClient
}

func newFitBench(t *testing.T) fitBench {
	t.Helper()
	b := newBench(t, ledger.NewMemory())
	return fitBench{b, pb.NewFitServiceClient(b.conn)}
}

func (b fitBench) read(r *pb.RecordGapRequest) uint64 {
	b.t.Helper()
	r.Origin, r.RequestId = b.by("jonah"), b.id()
	resp, err := b.gaps.RecordGap(b.t.Context(), r)
	require.NoError(b.t, err)
	return resp.Receipt.Entry
}

func (b fitBench) door(side pb.Side, edge pb.Edge, mm ...float64) uint64 {
	b.t.Helper()
	return b.read(&pb.RecordGapRequest{Job: "heron", Panel: "door", Side: side, Edge: edge, GapMm: mm})
}

func (b fitBench) solve(job, panel string, side pb.Side) *pb.SolveFitResponse {
	b.t.Helper()
	resp, err := b.fits.SolveFit(b.t.Context(), &pb.SolveFitRequest{Job: job, Panel: panel, Side: side})
	require.NoError(b.t, err)
	return resp
}

const left, right = pb.Side_SIDE_LEFT, pb.Side_SIDE_RIGHT

func TestSolveFitMovesADoor(t *testing.T) {
	t.Parallel()
	b := newFitBench(t)
	b.door(right, pb.Edge_EDGE_REAR, 9, 9, 9)
	b.door(right, pb.Edge_EDGE_REAR, 5, 5, 5) // the latest counts
	b.door(right, pb.Edge_EDGE_FRONT, 3, 3, 3)
	b.door(left, pb.Edge_EDGE_REAR, 4, 4, 4)

	r := b.solve("heron", "door", right)
	assert.Equal(t, pb.FitStatus_FIT_STATUS_CURED, r.Status)
	lines := strings.Join(r.Lines, "\n")
	// Front and rear are to be 4 mm within half: all of the door goes back.
	assert.Regexp(t, `Upper hinge [0-9.]+ mm back`, lines)
	assert.Regexp(t, `Lower hinge [0-9.]+ mm back`, lines)
	assert.InDelta(t, 1080, r.LengthMm, 0)
	assert.InDelta(t, 620, r.HeightMm, 0)
	require.Len(t, r.Edges, 2)
	for i, want := range []struct {
		edge   pb.Edge
		before []float64
	}{{pb.Edge_EDGE_FRONT, []float64{3, 3, 3}}, {pb.Edge_EDGE_REAR, []float64{5, 5, 5}}} {
		e := r.Edges[i]
		assert.Equal(t, want.edge, e.Edge)
		assert.Zero(t, e.Side)
		assert.Equal(t, want.before, e.BeforeMm)
		require.Len(t, e.AfterMm, 3)
		for _, mm := range e.AfterMm {
			assert.InDelta(t, e.TargetMm, mm, e.ToleranceMm+1e-9)
		}
		assert.InDelta(t, 4, e.TargetMm, 0)
		assert.InDelta(t, 0.5, e.ToleranceMm, 0, "the job's own, before the shop's")
	}
	whole(t, r.Basis, true)
	assert.Contains(t, r.Basis.Caution, "latches")
	text := strings.Join(append(r.Basis.Sources, r.Basis.Assumptions...), "\n")
	assert.Contains(t, text, "rear edge read by jonah on 2026-03-10")
	assert.Contains(t, text, "shop standard agreed with customer, imported")
	assert.Contains(t, text, "no allowance is made for paint", "the heron is in bare metal")
}

func TestSolveFitFollowsTheRecord(t *testing.T) {
	t.Parallel()
	b := newFitBench(t)
	b.door(left, pb.Edge_EDGE_FRONT, 4, 4, 4)
	b.door(left, pb.Edge_EDGE_REAR, 4, 4, 4)
	assert.Equal(t, pb.FitStatus_FIT_STATUS_FITS, b.solve("heron", "door", left).Status)

	wrong := b.door(left, pb.Edge_EDGE_REAR, 6, 6, 6)
	assert.NotEqual(t, pb.FitStatus_FIT_STATUS_FITS, b.solve("heron", "door", left).Status)
	_, err := b.record.Amend(t.Context(), &pb.AmendRequest{Origin: b.by("jonah"), RequestId: b.id(), Entry: wrong, GapMm: []float64{4.2, 4.2, 4.2}})
	require.NoError(t, err)
	assert.Equal(t, []float64{4.2, 4.2, 4.2}, b.solve("heron", "door", left).Edges[1].BeforeMm)
	_, err = b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("jonah"), RequestId: b.id(), Entry: wrong})
	require.NoError(t, err)
	assert.Equal(t, []float64{4, 4, 4}, b.solve("heron", "door", left).Edges[1].BeforeMm)

	_, err = b.gaps.SetGap(t.Context(), &pb.SetGapRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "heron", Panel: "door", Side: left, Edge: pb.Edge_EDGE_REAR, TargetMm: num(5.0), ToleranceMm: num(0.2),
	})
	require.NoError(t, err)
	r := b.solve("heron", "door", left)
	assert.InDelta(t, 5, r.Edges[1].TargetMm, 0, "this side before both")
	assert.NotEqual(t, pb.FitStatus_FIT_STATUS_FITS, r.Status)

	// Flush read on its own later does not hide the gaps read before.
	b.read(&pb.RecordGapRequest{Job: "heron", Panel: "door", Side: left, Edge: pb.Edge_EDGE_REAR, FlushMm: []float64{0.2, 0.3}})
	assert.Equal(t, []float64{4, 4, 4}, b.solve("heron", "door", left).Edges[1].BeforeMm)
	assert.Contains(t, strings.Join(b.solve("heron", "door", left).Basis.Inputs, "\n"), "rear edge flush 0.2, 0.3 mm")
}

func TestSolveFitSaysWhatToMeasure(t *testing.T) {
	t.Parallel()
	b := newFitBench(t)
	for name, c := range map[string]struct {
		job, panel string
		side       pb.Side
		want       []string
	}{
		"nothing read":         {"heron", "door", left, []string{"Nothing is measured yet.", "Measure the gap along the rear and front edges"}},
		"no size":              {"tern", "door", left, []string{"The size of the left door is not on record", "its length, its height", "hinges", "front, rear"}},
		"a lid, no size":       {"osmere", "tailgate", 0, []string{"The size of the tailgate is not on record", "left, right"}},
		"a bonnet has a width": {"osmere", "bonnet", 0, []string{"its length, its width"}},
	} {
		r := b.solve(c.job, c.panel, c.side)
		assert.Equal(t, pb.FitStatus_FIT_STATUS_MEASURE, r.Status, name)
		assert.Empty(t, r.Edges, name)
		for _, want := range c.want {
			assert.Contains(t, strings.Join(r.Lines, "\n"), want, name)
		}
		assert.NotEmpty(t, r.Basis.Steps, name)
	}
	b.door(left, pb.Edge_EDGE_REAR, 3.5, 4)
	one := b.solve("heron", "door", left)
	assert.NotEmpty(t, one.Lines)
	assert.Len(t, one.Edges, 1)

	// Without a size the readings and what they ought to be are still told.
	b.read(&pb.RecordGapRequest{Job: "tern", Panel: "bonnet", Edge: pb.Edge_EDGE_REAR, GapMm: []float64{5, 5.5, 5}})
	b.read(&pb.RecordGapRequest{Job: "tern", Panel: "bonnet", Side: left, GapMm: []float64{6, 6}})
	b.read(&pb.RecordGapRequest{Job: "tern", Panel: "bonnet", Side: right, Edge: pb.Edge_EDGE_FRONT, GapMm: []float64{6, 6}})
	b.read(&pb.RecordGapRequest{Job: "tern", Panel: "bonnet", Edge: pb.Edge_EDGE_TOP, GapMm: []float64{6}})
	lid := b.solve("tern", "bonnet", 0)
	require.Len(t, lid.Edges, 2)
	assert.Equal(t, []float64{5, 5.5, 5}, lid.Edges[0].BeforeMm)
	assert.Empty(t, lid.Edges[0].AfterMm)
	assert.InDelta(t, 5, lid.Edges[0].TargetMm, 0)
	assert.Equal(t, left, lid.Edges[1].Side, "at its side the side is the edge")
	assert.Zero(t, lid.Edges[1].Edge)
	assert.Contains(t, strings.Join(lid.Lines, "\n"), "The front edge was read on the right half only")
	assert.Contains(t, strings.Join(lid.Lines, "\n"), "A bonnet has no top edge")
}

func TestSolveFitRefusals(t *testing.T) {
	t.Parallel()
	b := newFitBench(t)
	b.read(&pb.RecordGapRequest{Job: "osmere", Panel: "door", Side: left, End: pb.End_END_FRONT, Edge: pb.Edge_EDGE_REAR, GapMm: []float64{4}})
	b.read(&pb.RecordGapRequest{Job: "osmere", Panel: "door", Side: left, End: pb.End_END_REAR, Edge: pb.Edge_EDGE_REAR, GapMm: []float64{7}})
	for name, c := range map[string]struct {
		req           *pb.SolveFitRequest
		reason, field string
	}{
		"no job":        {&pb.SolveFitRequest{Panel: "door", Side: left}, "MISSING_FIELD", "job"},
		"no panel":      {&pb.SolveFitRequest{Job: "heron"}, "MISSING_FIELD", "panel"},
		"which side":    {&pb.SolveFitRequest{Job: "heron", Panel: "door"}, "MISSING_FIELD", "side"},
		"which door":    {&pb.SolveFitRequest{Job: "osmere", Panel: "door", Side: left}, "AMBIGUOUS", "end"},
		"unknown job":   {&pb.SolveFitRequest{Job: "gannet", Panel: "door", Side: left}, "UNKNOWN_NAME", "job"},
		"unknown panel": {&pb.SolveFitRequest{Job: "heron", Panel: "mast"}, "UNKNOWN_NAME", "panel"},
		"not hung":      {&pb.SolveFitRequest{Job: "heron", Panel: "sill", Side: left}, "OUT_OF_RANGE", "panel"},
	} {
		_, err := b.fits.SolveFit(t.Context(), c.req)
		assert.Equal(t, c.reason, info(t, err).Reason, name)
		assert.Equal(t, c.field, info(t, err).Metadata["field"], name)
	}
	r, err := b.fits.SolveFit(t.Context(), &pb.SolveFitRequest{Job: "osmere", Panel: "door", Side: left, End: pb.End_END_REAR})
	require.NoError(t, err)
	require.Len(t, r.Edges, 1)
	assert.Equal(t, []float64{7}, r.Edges[0].BeforeMm)
}
