package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestABriefIsAddedMetAndRead(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	briefs := pb.NewBriefServiceClient(b.conn)
	added, err := briefs.AddBrief(t.Context(), &pb.AddBriefRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "osmere", Text: "a heated rear screen"})
	require.NoError(t, err)
	assert.Equal(t, "osmere", added.Job)
	assert.Equal(t, uint32(3), added.Line.Number)
	assert.Equal(t, "idris", added.Line.Person)
	assert.Equal(t, []uint64{added.Receipt.Entry}, added.Line.Entries)

	met, err := briefs.MeetBrief(t.Context(), &pb.MeetBriefRequest{
		Origin: b.by("mabel"), RequestId: b.id(), Job: "osmere", Text: "resprayed in the harbour blue, roof white",
	})
	require.NoError(t, err)
	assert.Equal(t, uint32(2), met.Line.Number)
	assert.Equal(t, "mabel", met.Line.MetBy)
	assert.Equal(t, uint32(2), met.StillOpen)

	got, err := briefs.GetBrief(t.Context(), &pb.GetBriefRequest{Origin: b.by("jonah"), Job: "osmere"})
	require.NoError(t, err)
	assert.Equal(t, "Mr Lindqvist", got.Customer)
	require.Len(t, got.Lines, 3)
	assert.False(t, got.Lines[0].Met)
	assert.Empty(t, got.Lines[0].Person, "imported")
	assert.Nil(t, got.Lines[0].At, "it came with the job")
	assert.Equal(t, "resprayed in the harbour blue, roof white", got.Lines[1].How)
	assert.Equal(t, []string{"3 lines on record, 1 of them met"}, got.Basis.Steps)
	_, err = briefs.GetBrief(t.Context(), &pb.GetBriefRequest{Origin: b.by("jonah")})
	assert.Equal(t, "job", info(t, err).Metadata["field"])

	changed, err := b.amend("mabel", &pb.AmendRequest{Text: "resprayed, roof white"})
	require.NoError(t, err)
	assert.Equal(t, "resprayed, roof white", changed.Now.GetMetBrief().Line.How)
	back, err := b.undo("mabel", 0)
	require.NoError(t, err)
	assert.False(t, back.Undone.GetMetBrief().Line.Met)
	assert.Equal(t, uint32(3), back.Undone.GetMetBrief().StillOpen)
	back, err = b.undo("idris", 0)
	require.NoError(t, err)
	assert.Equal(t, "a heated rear screen", back.Undone.GetAddedBrief().Line.Text)

	history, err := b.record.History(t.Context(), &pb.HistoryRequest{Job: "osmere"})
	require.NoError(t, err)
	for _, e := range history.Events {
		assert.NotContains(t, e.Text, "heated rear screen", "it was taken back")
	}
}
