package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestAFaultThatComesBackIsOpenedAgainByAnybody(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	snags, finds := pb.NewSnagServiceClient(b.conn), pb.NewFindServiceClient(b.conn)
	reopen := func(person string, req *pb.UndoRequest) (*pb.UndoResponse, error) {
		req.Origin, req.RequestId = b.by(person), b.id()
		return b.record.Undo(t.Context(), req)
	}

	_, err := reopen("idris", &pb.UndoRequest{Snag: 1})
	assert.Equal(t, "ALREADY_DONE", info(t, err).Reason, "it is open")
	_, err = snags.CloseSnag(t.Context(), &pb.CloseSnagRequest{Origin: b.by("tomasz"), RequestId: b.id(), Snag: num(uint32(1))})
	require.NoError(t, err)
	back, err := reopen("idris", &pb.UndoRequest{Snag: 1})
	require.NoError(t, err)
	assert.Equal(t, uint32(1), back.Undone.GetClosedSnag().Snag.Number)
	assert.Equal(t, pb.SnagState_SNAG_STATE_OPEN, back.Undone.GetClosedSnag().Snag.State)
	_, err = reopen("idris", &pb.UndoRequest{Snag: 99})
	assert.Equal(t, "NOT_FOUND", info(t, err).Reason)

	_, err = finds.CloseFind(t.Context(), &pb.CloseFindRequest{Origin: b.by("idris"), RequestId: b.id(), Find: num(uint32(3))})
	require.NoError(t, err)
	again, err := reopen("mabel", &pb.UndoRequest{Find: 3})
	require.NoError(t, err)
	assert.Equal(t, pb.FindState_FIND_STATE_OPEN, again.Undone.GetClosedFind().Find.State)
	_, err = reopen("mabel", &pb.UndoRequest{Find: 4})
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason, "it came in repaired")
}

func TestATaskComesAfterThoseNamed(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for _, c := range []struct {
		title, named string
		after        []uint32
		warns        bool
	}{
		{"mask the glass", "blocking", []uint32{7}, false},
		{"fit the badges", "paint", []uint32{7, 8, 13}, false}, // the stage: all its open tasks
		{"wash the wheels", "the parade", nil, true},
	} {
		added, err := b.plan().AddTask(t.Context(), &pb.AddTaskRequest{
			Origin: b.by("mabel"), RequestId: b.id(), Job: "osmere", Title: c.title, Hours: num(1.0), Stage: "paint", AfterNamed: c.named,
		})
		require.NoError(t, err, c.title)
		assert.Equal(t, c.after, added.Task.After, c.title)
		assert.Equal(t, c.warns, len(added.Receipt.Warnings) > 0, c.title)
	}
}

func TestOneOfTwoDoorsIsWeighed(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	finds := pb.NewFindServiceClient(b.conn)
	record := func(end pb.End) uint32 {
		f, err := finds.RecordFind(t.Context(), &pb.RecordFindRequest{
			Origin: b.by("idris"), RequestId: b.id(), Job: "osmere", Panel: "door", Side: pb.Side_SIDE_LEFT, End: end, Kind: pb.FindKind_FIND_KIND_HOLE, DiameterMm: num(20.0),
		})
		require.NoError(t, err)
		return f.Find.Number
	}
	front, rear := record(pb.End_END_FRONT), record(pb.End_END_REAR)
	weigh := func(end pb.End) []uint32 {
		got, err := pb.NewRepairServiceClient(b.conn).AdviseRepair(t.Context(), &pb.AdviseRepairRequest{
			Origin: b.by("idris"), Job: "osmere", Panel: "door", Side: pb.Side_SIDE_LEFT, End: end,
		})
		require.NoError(t, err)
		assert.Equal(t, end, got.End)
		var numbers []uint32
		for _, f := range got.Finds {
			numbers = append(numbers, f.Number)
		}
		return numbers
	}
	assert.Equal(t, []uint32{front}, weigh(pb.End_END_FRONT))
	assert.Equal(t, []uint32{rear}, weigh(pb.End_END_REAR))
	assert.Equal(t, []uint32{front, rear}, weigh(pb.End_END_UNSPECIFIED))
}
