package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// amend and undo correct what a person recorded; the error is the refusal.
func (b *bench) amend(person string, r *pb.AmendRequest) (*pb.AmendResponse, error) {
	r.Origin, r.RequestId = b.by(person), b.id()
	return b.record.Amend(b.t.Context(), r)
}

func (b *bench) undo(person string, entry uint64) (*pb.UndoResponse, error) {
	return b.record.Undo(b.t.Context(), &pb.UndoRequest{Origin: b.by(person), RequestId: b.id(), Entry: entry})
}

func (b *bench) count(person, material string, amount float64) *pb.RecordCountResponse {
	b.t.Helper()
	resp, err := b.stock.RecordCount(b.t.Context(), &pb.RecordCountRequest{Origin: b.by(person), RequestId: b.id(), Material: material, Amount: &amount})
	require.NoError(b.t, err)
	return resp
}

func TestTheLastOneIsCorrectedAndTakenBack(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.use("mabel", "clearcoat", 1)
	b.use("idris", "clearcoat", 0.5)
	got, err := b.amend("mabel", &pb.AmendRequest{Amount: num(3.0)})
	require.NoError(t, err)
	assert.Equal(t, []string{"amount 1 -> 3"}, got.Changes)
	assert.InDelta(t, 2.5, got.Now.GetUse().Stock.OnHand, 1e-9)
	_, err = b.amend("mabel", &pb.AmendRequest{Amount: num(3.0)})
	assert.Equal(t, "ALREADY_DONE", info(t, err).Reason, "it says so already")

	got, err = b.amend("mabel", &pb.AmendRequest{Entry: got.Receipt.Entry, Material: "thinner"})
	require.NoError(t, err, "an amendment is amended: the newest version counts")
	assert.InDelta(t, 3, got.Now.GetUse().Amount, 0)
	assert.InDelta(t, 4.5, b.onHand("thinner"), 1e-9)
	assert.InDelta(t, 5.5, b.onHand("clearcoat"), 1e-9)

	back, err := b.undo("mabel", 0)
	require.NoError(t, err)
	assert.InDelta(t, 7.5, back.Undone.GetUse().Stock.OnHand, 0)
	_, err = b.undo("mabel", got.Receipt.Entry)
	assert.Equal(t, "ALREADY_DONE", info(t, err).Reason)
	_, err = b.undo("mabel", 0)
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason)
	_, err = b.amend("mabel", &pb.AmendRequest{Entry: got.Receipt.Entry, Amount: num(1.0)})
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason)
}

func TestACountFixesTheShelf(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	use := b.use("mabel", "clearcoat", 1) // 6 - 1 = 5
	counted := b.count("wren", "clearcoat", 4)
	assert.InDelta(t, 5, counted.Expected, 0)
	b.use("mabel", "clearcoat", 0.5) // 3.5

	_, err := b.amend("mabel", &pb.AmendRequest{Entry: use.Receipt.Entry, Amount: num(2.0)})
	require.NoError(t, err)
	assert.InDelta(t, 3.5, b.onHand("clearcoat"), 1e-9, "what was before the count does not move the shelf")
	_, err = b.undo("wren", counted.Receipt.Entry)
	require.NoError(t, err)
	assert.InDelta(t, 3.5, b.onHand("clearcoat"), 1e-9, "6 - 2 - 0.5: as if it had never been counted")
	_, err = b.undo("mabel", use.Receipt.Entry)
	require.NoError(t, err)
	assert.InDelta(t, 5.5, b.onHand("clearcoat"), 1e-9)
}

func TestMoreThanThereIsIsNotUsed(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	_, err := b.stock.RecordUse(t.Context(), &pb.RecordUseRequest{Origin: b.by("mabel"), RequestId: b.id(), Material: "high-build", Amount: num(1.2)})
	i := info(t, err)
	assert.Equal(t, "NOT_ENOUGH_STOCK", i.Reason)
	assert.Equal(t, map[string]string{"material": "high-build", "value": "1.2", "accepted": "1.1", "unit": "L"}, i.Metadata)
	for _, amount := range []float64{0, -1, 1e4, 1e300} {
		_, err := b.stock.RecordUse(t.Context(), &pb.RecordUseRequest{Origin: b.by("mabel"), RequestId: b.id(), Material: "high-build", Amount: &amount})
		assert.Equal(t, "OUT_OF_RANGE", info(t, err).Reason)
	}
	all := b.use("mabel", "high-build", 1.1)
	assert.InDelta(t, 0, all.Stock.OnHand, 0)
	assert.True(t, all.Stock.Low)
	_, err = b.amend("mabel", &pb.AmendRequest{Amount: num(1.2)})
	assert.Equal(t, "NOT_ENOUGH_STOCK", info(t, err).Reason, "nor by a correction")

	// Nor more than there was when it was used, whatever came or was counted since.
	early := b.use("mabel", "clearcoat", 1)
	_, err = b.stock.RecordDelivery(t.Context(), &pb.RecordDeliveryRequest{Origin: b.by("mabel"), RequestId: b.id(), Material: "clearcoat", Amount: num(100.0)})
	require.NoError(t, err)
	for range 2 {
		_, err = b.amend("mabel", &pb.AmendRequest{Entry: early.Receipt.Entry, Amount: num(6.5)})
		assert.Equal(t, "6", info(t, err).Metadata["accepted"])
		b.count("mabel", "clearcoat", 50)
	}

	// What came may be taken back though it has gone: the shelf says so, and asks
	// for a count.
	came, err := b.stock.RecordDelivery(t.Context(), &pb.RecordDeliveryRequest{Origin: b.by("mabel"), RequestId: b.id(), Material: "high-build", Amount: num(4.0)})
	require.NoError(t, err)
	b.use("mabel", "high-build", 3)
	back, err := b.undo("mabel", came.Receipt.Entry)
	require.NoError(t, err)
	require.Len(t, back.Receipt.Warnings, 1)
	assert.Contains(t, back.Receipt.Warnings[0], "-3 L: count it")
	assert.InDelta(t, -3, b.onHand("high-build"), 0)
}

func TestOnlyFieldsOfTheRecordAreAmended(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	find, err := b.finds.RecordFind(t.Context(), &pb.RecordFindRequest{
		Origin: b.by("jonah"), RequestId: b.id(), Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT,
		Kind: pb.FindKind_FIND_KIND_HOLE, WidthMm: num(120.0), HeightMm: num(40.0),
	})
	require.NoError(t, err)
	_, err = b.amend("jonah", &pb.AmendRequest{Amount: num(2.0)})
	assert.Equal(t, "CANNOT_AMEND", info(t, err).Reason)
	assert.Equal(t, "amount", info(t, err).Metadata["field"])
	_, err = b.amend("jonah", &pb.AmendRequest{})
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason)
	_, err = b.amend("jonah", &pb.AmendRequest{WidthMm: num(9000.0)})
	assert.Equal(t, "OUT_OF_RANGE", info(t, err).Reason, "the rules of a new record hold")

	got, err := b.amend("jonah", &pb.AmendRequest{Side: pb.Side_SIDE_RIGHT, DiameterMm: num(50.0)})
	require.NoError(t, err)
	now := got.Now.GetFind().Find
	assert.Equal(t, find.Find.Number, now.Number, "it keeps its number")
	assert.Equal(t, pb.Side_SIDE_RIGHT, now.Side)
	assert.Nil(t, now.WidthMm, "a diameter takes the place of width and height")
	assert.Equal(t, []string{"side left -> right", "width_mm 120 -> -", "height_mm 40 -> -", "diameter_mm - -> 50"}, got.Changes)
	got, err = b.amend("jonah", &pb.AmendRequest{Panel: "bonnet"})
	require.NoError(t, err)
	assert.Equal(t, pb.Side_SIDE_UNSPECIFIED, got.Now.GetFind().Find.Side, "a bonnet has no side")

	_, err = b.undo("jonah", 0)
	require.NoError(t, err)
	next, err := b.finds.RecordFind(t.Context(), &pb.RecordFindRequest{
		Origin: b.by("jonah"), RequestId: b.id(), Job: "tern", Panel: "roof", Kind: pb.FindKind_FIND_KIND_DENT,
	})
	require.NoError(t, err)
	assert.Equal(t, find.Find.Number+1, next.Find.Number, "a number is not given twice")
}

func TestAJobInUseIsNotTakenBack(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	job, err := b.jobs.CreateJob(t.Context(), &pb.CreateJobRequest{Origin: b.by("wren"), RequestId: b.id(), Model: "Linnet"})
	require.NoError(t, err)
	mat, err := b.stock.AddMaterial(t.Context(), &pb.AddMaterialRequest{Origin: b.by("wren"), RequestId: b.id(), Name: "etch primer", Unit: "L", OnHand: num(1.0)})
	require.NoError(t, err)
	use, err := b.stock.RecordUse(t.Context(), &pb.RecordUseRequest{
		Origin: b.by("wren"), RequestId: b.id(), Material: "etch-primer", Amount: num(0.5), Job: "linnet",
	})
	require.NoError(t, err)
	for _, entry := range []uint64{job.Receipt.Entry, mat.Receipt.Entry, 9} { // 9 is an imported job
		_, err := b.undo("wren", entry)
		assert.Equal(t, "IN_USE", info(t, err).Reason, "%d", entry)
	}
	_, err = b.amend("wren", &pb.AmendRequest{Entry: job.Receipt.Entry, Job: "siskin"})
	assert.Equal(t, "CANNOT_AMEND", info(t, err).Reason)

	for _, entry := range []uint64{use.Receipt.Entry, job.Receipt.Entry, mat.Receipt.Entry} {
		_, err := b.undo("wren", entry)
		require.NoError(t, err)
	}
	_, err = b.stock.GetStock(t.Context(), &pb.GetStockRequest{Material: "etch-primer"})
	assert.Equal(t, "UNKNOWN_NAME", info(t, err).Reason)
	_, err = b.jobs.CreateJob(t.Context(), &pb.CreateJobRequest{Origin: b.by("wren"), RequestId: b.id(), Model: "Linnet"})
	require.NoError(t, err, "the id is free again")
}
