package service_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestForecastOfStock(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	ask := func(material string) *pb.GetStockResponse {
		resp, err := b.stock.GetStock(t.Context(), &pb.GetStockRequest{Material: material})
		require.NoError(t, err)
		return resp
	}
	fresh := ask("thinner")
	assert.Equal(t, "too few uses to tell", fresh.Stock.Forecast)
	assert.Nil(t, fresh.Stock.DaysLeftLow)
	assert.Nil(t, fresh.Stock.DaysLeftHigh)

	// Seven discs a week for six weeks: one a day, of the 64 that were there.
	for range 6 {
		b.now = b.now.Add(7 * 24 * time.Hour)
		b.use("jonah", "p80-discs", 7)
	}
	b.now = b.now.Add(time.Hour)
	last := ask("p80-discs")
	assert.InDelta(t, 22, last.Stock.OnHand, 0)
	require.NotNil(t, last.Stock.DaysLeftLow)
	require.NotNil(t, last.Stock.DaysLeftHigh)
	assert.InDelta(t, 22, *last.Stock.DaysLeftLow, 0.01)
	assert.InDelta(t, 22, *last.Stock.DaysLeftHigh, 0.01)
	assert.Equal(t, "about 22 days left; rough, from 6 uses in 6 weeks", last.Stock.Forecast)
	whole(t, last.Basis, false)
	assert.Contains(t, strings.Join(last.Basis.Assumptions, "\n"), "how long a delivery takes is not on record")

	low, err := b.stock.ListLowStock(t.Context(), &pb.ListLowStockRequest{})
	require.NoError(t, err)
	for _, st := range low.Stocks {
		if st.Material == "p80-discs" {
			assert.Equal(t, last.Stock.Forecast, st.Forecast)
		} else {
			assert.Equal(t, "too few uses to tell", st.Forecast, st.Material)
		}
	}

	gone := b.use("jonah", "p80-discs", 7)
	assert.NotEqual(t, last.Stock.Forecast, ask("p80-discs").Stock.Forecast)
	_, err = b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("jonah"), RequestId: b.id(), Entry: gone.Receipt.Entry})
	require.NoError(t, err)
	assert.Equal(t, last.Stock.Forecast, ask("p80-discs").Stock.Forecast, "a use taken back was none")
	assert.Empty(t, gone.Stock.Forecast, "what a write answers is kept for ever: no forecast in it")
}

func TestUnevenUseLeavesARange(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	ask := func() *pb.Stock {
		resp, err := b.stock.GetStock(t.Context(), &pb.GetStockRequest{Material: "thinner"})
		require.NoError(t, err)
		return resp.Stock
	}
	for i, amount := range []float64{0.3, 1.1, 0.3, 1.1, 0.3, 1.1} {
		if i < 3 {
			assert.Equal(t, "too few uses to tell", ask().Forecast)
		}
		b.now = b.now.Add(7 * 24 * time.Hour)
		b.use("mabel", "thinner", amount)
	}
	got := ask()
	assert.InDelta(t, 3.3, got.OnHand, 1e-9)
	require.NotNil(t, got.DaysLeftLow)
	require.NotNil(t, got.DaysLeftHigh)
	assert.Less(t, *got.DaysLeftLow, 33.0, "3.3 L at 0.1 L a day on average")
	assert.Greater(t, *got.DaysLeftHigh, 33.0)
	assert.Regexp(t, `^about \d+ to \d+ days left; rough, from 6 uses in 6 weeks$`, got.Forecast)

	b.use("mabel", "thinner", 3.3)
	assert.Equal(t, "none left", ask().Forecast)
}

func TestSeldomUseMayLastForEver(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.now = b.now.Add(6 * 7 * 24 * time.Hour)
	for _, amount := range []float64{0.3, 1.1, 0.3, 1.1, 0.3, 1.1} {
		b.now = b.now.Add(7 * 24 * time.Hour)
		b.use("mabel", "thinner", amount)
	}
	resp, err := b.stock.GetStock(t.Context(), &pb.GetStockRequest{Material: "thinner"})
	require.NoError(t, err)
	require.NotNil(t, resp.Stock.DaysLeftLow)
	assert.Nil(t, resp.Stock.DaysLeftHigh)
	assert.Regexp(t, `^at least \d+ days left; rough, from 6 uses in 12 weeks$`, resp.Stock.Forecast)
}
