package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestUseIsTakenOffTheShelf(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	resp, err := b.stock.RecordUse(t.Context(), &pb.RecordUseRequest{
		Origin: b.by("mabel"), RequestId: b.id(), Material: "clearcoat", Amount: num(0.5), Job: "osmere",
	})
	require.NoError(t, err)
	assert.InDelta(t, 5.5, resp.Stock.OnHand, 0)
	assert.InDelta(t, 5.5, b.onHand("clearcoat"), 0)
	l, err := b.torque.LookUpTorque(t.Context(), &pb.LookUpTorqueRequest{Job: "heron", Fastener: "caliper bolts"})
	require.NoError(t, err)
	require.Len(t, l.References, 1)
	assert.InDelta(t, 77, l.References[0].TorqueNm, 0)
	f, err := b.finds.RecordFind(t.Context(), &pb.RecordFindRequest{
		Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Panel: "sill", Side: pb.Side_SIDE_RIGHT, Kind: pb.FindKind_FIND_KIND_HOLE, WidthMm: num(70.0),
	})
	require.NoError(t, err)
	assert.EqualValues(t, 5, f.Find.Number)
}
