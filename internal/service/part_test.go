package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func assertProto(t testing.TB, want, got proto.Message) {
	t.Helper()
	assert.True(t, proto.Equal(want, got), "want %v\ngot %v", want, got)
}

func (b *bench) arrive(person string, r *pb.RecordArrivalRequest) *pb.RecordArrivalResponse {
	b.t.Helper()
	r.Origin, r.RequestId = b.by(person), b.id()
	resp, err := b.parts().RecordArrival(b.t.Context(), r)
	require.NoError(b.t, err)
	return resp
}

func TestAPartIsOrderedAndFitted(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	req := &pb.RecordOrderRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "tern", Part: "wheel cylinder", Side: pb.Side_SIDE_LEFT, Quantity: num(uint32(2)), Supplier: "fenwright",
		Due: "2026-03-24", Price: num(62.5), Provenance: pb.Provenance_PROVENANCE_REPRODUCTION,
	}
	ordered, err := b.parts().RecordOrder(t.Context(), req)
	require.NoError(t, err)
	want := &pb.Part{
		Number: 5, Job: "tern", Part: "wheel cylinder", Side: pb.Side_SIDE_LEFT, Quantity: 2, Supplier: "Fenwright Fasteners",
		Provenance: pb.Provenance_PROVENANCE_REPRODUCTION, Price: 62.5, Ordered: "2026-03-10", Due: "2026-03-24", State: pb.PartState_PART_STATE_ORDERED,
		Entries: []uint64{ordered.Receipt.Entry}, Person: "wren", At: timestamppb.New(opened),
	}
	assertProto(t, want, ordered.Part)
	assert.Equal(t, "GBP", ordered.Currency)
	again, err := b.parts().RecordOrder(t.Context(), req)
	require.NoError(t, err)
	assert.True(t, again.Receipt.RepeatedRequest)

	b.now = b.now.AddDate(0, 0, 16)
	late, err := b.parts().ListParts(t.Context(), &pb.ListPartsRequest{Origin: b.by("wren"), Job: "tern", State: pb.PartState_PART_STATE_LATE})
	require.NoError(t, err)
	require.Len(t, late.Parts, 1)
	assert.Equal(t, []any{pb.PartState_PART_STATE_LATE, uint32(2)}, []any{late.Parts[0].State, late.Parts[0].DaysLate})
	assert.NotEmpty(t, late.Basis.Assumptions)

	came := b.arrive("jonah", &pb.RecordArrivalRequest{Job: "tern", Part: "cylinders", Condition: "one leaks"})
	assert.False(t, came.NotOrdered)
	assert.Equal(t, []any{pb.PartState_PART_STATE_ARRIVED, uint32(2), "2026-03-26", "one leaks"},
		[]any{came.Part.State, came.Part.ArrivedQuantity, came.Part.Arrived, came.Part.Condition})
	fitted, err := b.parts().FitPart(t.Context(), &pb.FitPartRequest{Origin: b.by("jonah"), RequestId: b.id(), Job: "tern", Part: "cylinders", Trial: true, Note: "clears the hub"})
	require.NoError(t, err)
	assert.Equal(t, []any{pb.PartState_PART_STATE_ARRIVED, true, "clears the hub"}, []any{fitted.Part.State, fitted.Part.TrialFitted, fitted.Part.FitNote})
	assert.Empty(t, fitted.Caution, "it is tried on")
	fitted, err = b.parts().FitPart(t.Context(), &pb.FitPartRequest{Origin: b.by("jonah"), RequestId: b.id(), Job: "tern", Part: "cylinders"})
	require.NoError(t, err)
	assert.Equal(t, pb.PartState_PART_STATE_FITTED, fitted.Part.State)
	assert.Contains(t, fitted.Caution, "Brakes: look at every joint")
	back, err := b.parts().ReturnPart(t.Context(), &pb.ReturnPartRequest{Origin: b.by("tomasz"), RequestId: b.id(), Job: "tern", Part: "cylinders", Why: "leaks"})
	require.NoError(t, err)
	assert.Equal(t, pb.PartState_PART_STATE_RETURNED, back.Part.State)
	assert.Len(t, back.Part.Entries, 5)

	undone, err := b.undo("tomasz", 0)
	require.NoError(t, err)
	assert.Equal(t, pb.PartState_PART_STATE_FITTED, undone.Undone.GetReturnedPart().Part.State)
	mended, err := b.amend("wren", &pb.AmendRequest{Entry: ordered.Receipt.Entry, Supplier: "ketteridge", Provenance: pb.Provenance_PROVENANCE_USED})
	require.NoError(t, err)
	assert.Equal(t, []string{"supplier Fenwright Fasteners -> Ketteridge Panels", "provenance reproduction -> used"}, mended.Changes)
	assert.Equal(t, "Ketteridge Panels", mended.Now.GetOrderedPart().Part.Supplier)
}

func TestADueDayChanges(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	change := func(due string) (*pb.ChangeDueResponse, error) {
		return b.parts().ChangeDue(t.Context(), &pb.ChangeDueRequest{Origin: b.by("tomasz"), RequestId: b.id(), Job: "pilot", Part: "propshaft", Due: due})
	}
	first, err := change("2026-03-13")
	require.NoError(t, err)
	assert.Equal(t, []any{"2026-03-19", "2026-03-13", []string{"11 shorten the propshaft"}}, []any{first.Before, first.Part.Due, first.Part.NeededBy})
	_, err = change("2026-03-13")
	assert.Equal(t, "part 3, propshaft, is due 2026-03-13", info(t, err).Metadata["what"])
	mended, err := b.amend("tomasz", &pb.AmendRequest{Due: "2026-03-16"})
	require.NoError(t, err)
	now := mended.Now.GetChangedDue()
	assert.Equal(t, []any{"2026-03-19", "2026-03-16"}, []any{now.Before, now.Part.Due})
	second, err := change("2026-03-20")
	require.NoError(t, err)
	assert.Equal(t, []any{"2026-03-16", "2026-03-20"}, []any{second.Before, second.Part.Due})
	assert.Len(t, second.Part.Entries, 3)

	undone, err := b.undo("tomasz", 0)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-16", undone.Undone.GetChangedDue().Part.Due)
	undone, err = b.undo("tomasz", 0)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-19", undone.Undone.GetChangedDue().Part.Due)
}

// What is told in the morning goes by the newest due day.
func TestTheNoticeGoesByTheNewestDueDay(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	_, err := b.parts().ChangeDue(t.Context(), &pb.ChangeDueRequest{Origin: b.by("tomasz"), RequestId: b.id(), Job: "pilot", Part: "propshaft", Due: "2026-03-11"})
	require.NoError(t, err)
	b.now = b.now.AddDate(0, 0, 1)
	due, err := pb.NewNoticeServiceClient(b.conn).ListNotices(t.Context(), &pb.ListNoticesRequest{})
	require.NoError(t, err)
	var ids []string
	for _, n := range due.Notices {
		ids = append(ids, n.Id)
	}
	assert.Contains(t, ids, "part-3-2026-03-11")
}

func TestAnArrivalFreesTasks(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	came := b.arrive("jonah", &pb.RecordArrivalRequest{Job: "pilot", Part: "propshaft"})
	assert.Equal(t, []string{"11 shorten the propshaft"}, came.Freed)
	came = b.arrive("jonah", &pb.RecordArrivalRequest{Job: "heron", Part: "rear wing panel"})
	assert.Empty(t, came.Freed, "the sill comes first, and the customer has not said")
	undone, err := b.undo("jonah", 0)
	require.NoError(t, err)
	p := undone.Undone.GetArrivedPart().Part
	assert.Equal(t, pb.PartState_PART_STATE_ORDERED, p.State)
	assert.Equal(t, []string{"4 let in the left rear wing"}, p.NeededBy)
}

func TestWhatNobodyOrderedIsKept(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	came := b.arrive("jonah", &pb.RecordArrivalRequest{Job: "heron", Part: "bonnet badge", Condition: "chipped"})
	assert.True(t, came.NotOrdered)
	assert.Equal(t, []any{uint32(5), "", "2026-03-10", uint32(1), pb.PartState_PART_STATE_ARRIVED},
		[]any{came.Part.Number, came.Part.Ordered, came.Part.Arrived, came.Part.ArrivedQuantity, came.Part.State})
	mended, err := b.amend("jonah", &pb.AmendRequest{Quantity: num(uint32(2))})
	require.NoError(t, err)
	assert.Equal(t, uint32(2), mended.Now.GetArrivedPart().Part.Quantity)
	undone, err := b.undo("jonah", 0)
	require.NoError(t, err)
	assert.Equal(t, "bonnet badge", undone.Undone.GetArrivedPart().Part.Part)
	parts, err := b.parts().ListParts(t.Context(), &pb.ListPartsRequest{Origin: b.by("wren")})
	require.NoError(t, err)
	assert.Equal(t, uint32(4), parts.Total)
}

func TestPartsAreListedByPages(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	list := func(r *pb.ListPartsRequest) (numbers []uint32, next string) {
		r.Origin = b.by("wren")
		resp, err := b.parts().ListParts(t.Context(), r)
		require.NoError(t, err)
		for _, p := range resp.Parts {
			numbers = append(numbers, p.Number)
		}
		assert.Len(t, resp.Basis.Sources, 1+len(numbers))
		assert.Equal(t, "GBP", resp.Currency)
		return numbers, resp.NextPageToken
	}
	got, next := list(&pb.ListPartsRequest{PageSize: 3})
	assert.Equal(t, []uint32{1, 2, 3}, got)
	got, next = list(&pb.ListPartsRequest{PageSize: 3, PageToken: next})
	assert.Equal(t, []uint32{4}, got)
	assert.Empty(t, next)
	got, _ = list(&pb.ListPartsRequest{State: pb.PartState_PART_STATE_ORDERED, Job: "heron"})
	assert.Equal(t, []uint32{1, 2}, got, "late is ordered too")
	got, _ = list(&pb.ListPartsRequest{DueBy: "2026-03-12"})
	assert.Equal(t, []uint32{1, 2}, got)
	got, _ = list(&pb.ListPartsRequest{Part: "seals"})
	assert.Equal(t, []uint32{2, 4}, got)
	for _, bad := range []*pb.ListPartsRequest{{Job: "linnet"}, {DueBy: "friday"}, {PageToken: "?"}} {
		_, err := b.parts().ListParts(t.Context(), bad)
		info(t, err)
	}
}

func TestWhoMayDealWithParts(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	_, err := b.parts().RecordOrder(t.Context(), &pb.RecordOrderRequest{Origin: b.by("jonah"), RequestId: b.id()})
	assert.Equal(t, "order a part", info(t, err).Metadata["what"])
	_, err = b.parts().ReturnPart(t.Context(), &pb.ReturnPartRequest{Origin: b.by("jonah"), RequestId: b.id()})
	assert.Equal(t, "send a part back", info(t, err).Metadata["what"])
	_, err = b.parts().RecordArrival(t.Context(), &pb.RecordArrivalRequest{Origin: b.by("U0STRANGER"), RequestId: b.id()})
	assert.Equal(t, "UNKNOWN_PERSON", info(t, err).Reason)
	_, err = b.parts().FitPart(t.Context(), &pb.FitPartRequest{Origin: b.by("jonah"), RequestId: b.id(), Job: "tern", Part: "wing"})
	assert.Equal(t, "NOT_FOUND", info(t, err).Reason)
}
