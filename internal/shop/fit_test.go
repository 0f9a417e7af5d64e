package shop_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
)

// told adds an event to the demo shop.
func told(t require.TestingT, st *shop.State, at time.Time, e shop.Event) uint64 {
	seq := st.Seq() + 1
	_, err := st.Apply(shop.Meta{Seq: seq, At: at, Person: "idris"}, e)
	require.NoError(t, err)
	return seq
}

func TestAPanelWithSidesForEdges(t *testing.T) {
	t.Parallel()
	st := busy(t)
	read := func(side shop.Side, edge shop.Edge) error {
		_, err := st.DecideGap("idris", shop.NewGap{Where: shop.Where{Job: "tern", Panel: "bonnet", Side: side, Edge: edge}, Gaps: []float64{5}})
		return err
	}
	require.NoError(t, read(shop.Left, 0), "the side is the edge")
	require.NoError(t, read(0, shop.RearEdge))
	require.Error(t, read(0, 0), "no edge at all")
	require.Error(t, read(shop.Centre, 0))
	_, err := st.DecideGap("idris", shop.NewGap{Where: shop.Where{Job: "tern", Panel: "door", Side: shop.Left}, Gaps: []float64{5}})
	require.Error(t, err, "a door's side is no edge")

	entry := told(t, st, tuesday, shop.GapRecorded{Job: "tern", Panel: "bonnet", Side: shop.Right, Gaps: []float64{6}})
	told(t, st, tuesday, shop.GapRecorded{Job: "tern", Panel: "bonnet", Side: shop.Left, Gaps: []float64{5}})
	told(t, st, tuesday, shop.GapRecorded{Job: "tern", Panel: "bonnet", Edge: shop.RearEdge, Gaps: []float64{4}, Flush: []float64{1}})
	h, err := st.Hung(shop.Where{Job: "tern", Panel: "bonnet"})
	require.NoError(t, err)
	assert.Nil(t, h.Size)
	require.Len(t, h.Edges, 3)
	assert.Equal(t, shop.RearEdge, h.Edges[0].Edge)
	assert.Equal(t, []float64{1}, h.Edges[0].Flush.Flush)
	assert.Equal(t, shop.Left, h.Edges[1].Side)
	assert.Equal(t, shop.Right, h.Edges[2].Side)
	assert.Nil(t, h.Edges[2].Flush)
	assert.InDelta(t, 5, h.Edges[2].Target.Target, 0, "the shop's own for a bonnet")

	told(t, st, tuesday, shop.Undone{Entry: entry})
	h, err = st.Hung(shop.Where{Job: "tern", Panel: "bonnet"})
	require.NoError(t, err)
	assert.Len(t, h.Edges, 2)
}

func TestTheSizeOfADoorIsThatOfItsSide(t *testing.T) {
	t.Parallel()
	st := busy(t)
	h, err := st.Hung(shop.Where{Job: "heron", Panel: "door", Side: shop.Left})
	require.NoError(t, err)
	require.NotNil(t, h.Size)
	assert.Equal(t, shop.Left, h.Size.Side)
	told(t, st, tuesday, shop.DoorGeometrySet{Job: "heron", Panel: "door", Side: shop.Left, Height: 700, Length: 900, HingeSpacing: 300})
	h, err = st.Hung(shop.Where{Job: "heron", Panel: "door", Side: shop.Left})
	require.NoError(t, err)
	assert.InDelta(t, 700, h.Size.Height, 0, "the newest")
	h, err = st.Hung(shop.Where{Job: "heron", Panel: "door", Side: shop.Right})
	require.NoError(t, err)
	assert.InDelta(t, 620, h.Size.Height, 0)
}

// The uses given are those that stand, whatever was amended, undone or restored.
func TestUsesAreThoseThatStand(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		st := busy(t)
		want := map[uint64]shop.Micro{}
		var entries []uint64
		now := tuesday
		for range rapid.IntRange(0, 30).Draw(rt, "events") {
			now = now.Add(time.Duration(rapid.IntRange(0, 72).Draw(rt, "hours")) * time.Hour)
			amount := shop.MicroOf(float64(rapid.IntRange(1, 9).Draw(rt, "amount")))
			what := rapid.SampledFrom([]string{"use", "use", "amend", "undo", "waste", "count"}).Draw(rt, "what")
			switch {
			case what == "use":
				e := told(rt, st, now, shop.StockMoved{Kind: shop.Use, Material: "stopper", Amount: amount})
				want[e], entries = amount, append(entries, e)
			case what == "waste":
				told(rt, st, now, shop.StockMoved{Kind: shop.Waste, Material: "stopper", Amount: amount})
			case what == "count":
				told(rt, st, now, shop.StockMoved{Kind: shop.Count, Material: "stopper", Amount: amount})
			case len(entries) == 0:
			default:
				at := rapid.IntRange(0, len(entries)-1).Draw(rt, "which")
				if e := entries[at]; what == "amend" {
					told(rt, st, now, shop.Amended{Entry: e, Now: shop.StockMoved{Kind: shop.Use, Material: "stopper", Amount: amount}})
					want[e] = amount
				} else {
					told(rt, st, now, shop.Undone{Entry: e})
					delete(want, e)
					entries = append(entries[:at:at], entries[at+1:]...)
				}
			}
		}
		var total shop.Micro
		for _, v := range want {
			total += v
		}
		data, err := st.Snapshot()
		require.NoError(rt, err)
		back, err := shop.Restore(data)
		require.NoError(rt, err)
		for _, s := range []*shop.State{st, back} {
			uses, since, err := s.Uses("stopper", time.Time{}.Add(time.Hour))
			require.NoError(rt, err)
			require.Equal(rt, tuesday, since, "when the material came")
			require.Len(rt, uses, len(want))
			var sum shop.Micro
			for _, u := range uses {
				sum += u.Amount
			}
			require.Equal(rt, total, sum)
		}
	})
}

func TestUsesAreOfAWindow(t *testing.T) {
	t.Parallel()
	st := busy(t)
	for day := range 10 {
		told(t, st, tuesday.AddDate(0, 0, day), shop.StockMoved{Kind: shop.Use, Material: "stopper", Amount: shop.MicroOf(1)})
	}
	from := tuesday.AddDate(0, 0, 7)
	uses, since, err := st.Uses("stopper", from)
	require.NoError(t, err)
	assert.Len(t, uses, 3)
	assert.Equal(t, from, since)
	assert.Equal(t, tuesday.AddDate(0, 0, 9), uses[0].At, "newest first")

	told(t, st, tuesday.AddDate(0, 0, -2), shop.StockMoved{Kind: shop.Use, Material: "stopper", Amount: shop.MicroOf(1)})
	_, since, err = st.Uses("stopper", tuesday.AddDate(0, -1, 0))
	require.NoError(t, err)
	assert.Equal(t, tuesday.AddDate(0, 0, -2), since, "said before the material came")

	for range 2100 {
		told(t, st, from, shop.StockMoved{Kind: shop.Use, Material: "stopper", Amount: shop.MicroOf(0.001)})
	}
	uses, since, err = st.Uses("stopper", tuesday)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(uses), 2000)
	for _, u := range uses {
		require.False(t, u.At.Before(since))
	}
	_, _, err = st.Uses("moonshine", tuesday)
	require.Error(t, err)
}
