package service_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestTheBatchThatExpiresFirstIsUsedFirst(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	deliver := func(batch, expires string) *pb.RecordDeliveryResponse {
		resp, err := b.stock.RecordDelivery(t.Context(), &pb.RecordDeliveryRequest{Origin: b.by("mabel"), RequestId: b.id(), Material: "clearcoat", Amount: proto.Float64(5), Batch: batch, Expires: expires})
		require.NoError(t, err)
		return resp
	}
	ask := func() *pb.Stock {
		resp, err := b.stock.GetStock(t.Context(), &pb.GetStockRequest{Material: "clearcoat"})
		require.NoError(t, err)
		return resp.GetStock()
	}
	assert.Empty(t, ask().GetFirstOutExpires(), "nothing has a date")

	soon, late := b.now.AddDate(0, 2, 0).Format(time.DateOnly), b.now.AddDate(1, 0, 0).Format(time.DateOnly)
	deliver("LATE", late)
	second := deliver("SOON", soon)
	assert.Equal(t, "SOON", ask().GetFirstOutBatch())
	assert.Equal(t, soon, ask().GetFirstOutExpires())
	assert.False(t, ask().GetFirstOutExpired())

	b.now = b.now.AddDate(0, 3, 0)
	assert.True(t, ask().GetFirstOutExpired(), "past its day it is named so that nobody uses it unseen")

	_, err := b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("mabel"), RequestId: b.id(), Entry: second.GetReceipt().GetEntry()})
	require.NoError(t, err)
	assert.Equal(t, "LATE", ask().GetFirstOutBatch(), "a delivery taken back was none")

	// 6 L were there before; when all but 4 L is gone, only the newest can be left.
	b.use("mabel", "clearcoat", 7)
	assert.Equal(t, "LATE", ask().GetFirstOutBatch())
}
