package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestASnagIsKeptClosedAndListed(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	snags := pb.NewSnagServiceClient(b.conn)
	add := func(text string) *pb.AddSnagResponse {
		resp, err := snags.AddSnag(t.Context(), &pb.AddSnagRequest{Origin: b.by("jonah"), RequestId: b.id(), Job: "tern", Text: text})
		require.NoError(t, err)
		return resp
	}
	rattle := add("passenger window rattles")
	assert.Empty(t, rattle.Caution)
	assert.Equal(t, uint32(2), rattle.Snag.Number)
	brakes := add("brakes pull to the left")
	assert.Contains(t, brakes.Caution, "Do not drive it")

	list := func(job string, state pb.SnagState, size int32, token string) *pb.ListSnagsResponse {
		resp, err := snags.ListSnags(t.Context(), &pb.ListSnagsRequest{Origin: b.by("jonah"), Job: job, State: state, PageSize: size, PageToken: token})
		require.NoError(t, err)
		return resp
	}
	all := list("", 0, 2, "")
	assert.Equal(t, uint32(3), all.Total)
	require.Len(t, all.Snags, 2)
	all = list("", 0, 2, all.NextPageToken)
	require.Len(t, all.Snags, 1)
	assert.Contains(t, all.Basis.Caution, "Do not drive it")
	assert.Empty(t, all.NextPageToken)

	closed, err := snags.CloseSnag(t.Context(), &pb.CloseSnagRequest{Origin: b.by("mabel"), RequestId: b.id(), Job: "tern", Text: "the brakes"})
	require.NoError(t, err)
	assert.Equal(t, pb.SnagState_SNAG_STATE_CLOSED, closed.Snag.State)
	assert.Equal(t, "mabel", closed.Snag.ClosedBy)
	assert.Contains(t, closed.Caution, "Brakes: look at every joint")
	assert.Equal(t, []uint64{brakes.Receipt.Entry, closed.Receipt.Entry}, closed.Snag.Entries)
	assert.Equal(t, uint32(1), closed.StillOpen)
	open := list("tern", pb.SnagState_SNAG_STATE_OPEN, 0, "")
	require.Len(t, open.Snags, 1)
	assert.Empty(t, open.Basis.Caution)
	shut := list("tern", pb.SnagState_SNAG_STATE_CLOSED, 0, "")
	require.Len(t, shut.Snags, 1)
	assert.Empty(t, shut.Basis.Caution, "the brakes are put right")

	changed, err := b.amend("mabel", &pb.AmendRequest{Snag: num(uint32(2))})
	require.NoError(t, err)
	assert.Equal(t, uint32(2), changed.Now.GetClosedSnag().Snag.Number)
	back, err := b.undo("mabel", 0)
	require.NoError(t, err)
	assert.Equal(t, uint32(2), back.Undone.GetClosedSnag().StillOpen)
	back, err = b.undo("jonah", rattle.Receipt.Entry)
	require.NoError(t, err)
	assert.Equal(t, "passenger window rattles", back.Undone.GetAddedSnag().Snag.Text)
	assert.Equal(t, uint32(2), list("", 0, 0, "").Total)
}
