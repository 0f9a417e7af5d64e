package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
	"bayword/internal/shopfile"
	"bayword/testdata/demo"
)

// busy is the demo shop after every kind of record was made in it, some mended.
func busy(t testing.TB) *shop.State {
	t.Helper()
	events, err := shopfile.Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	st := shop.New()
	for i, e := range events {
		_, err := st.Apply(shop.Meta{Seq: uint64(i) + 1, At: tuesday}, e)
		require.NoError(t, err)
	}
	first := st.Seq() + 1
	for _, e := range []shop.Event{
		shop.StockMoved{Kind: shop.Use, Material: "thinner", Amount: shop.MicroOf(0.5), Job: "heron"},
		shop.StockMoved{Kind: shop.Delivery, Material: "thinner", Amount: shop.MicroOf(5), Batch: "4471", Expires: 10_000},
		shop.StockMoved{Kind: shop.Count, Material: "thinner", Amount: shop.MicroOf(11)},
		shop.StockMoved{Kind: shop.Waste, Material: "thinner", Amount: shop.MicroOf(1), Why: "spilt"},
		shop.HoursLogged{Job: "heron", People: []string{"idris", "jonah"}, Hours: shop.MicroOf(2), Stage: shop.Metal, Task: 2, Day: 9565},
		shop.HoursLogged{Job: "heron", People: []string{"idris"}, Hours: shop.MicroOf(2), Stage: shop.Metal, Day: 9565},
		shop.FindClosed{Number: 1, Job: "heron"},
		shop.TorqueRecorded{Job: "heron", Fastener: "wheel nut", Torque: 81, Count: 5},
		shop.GapRecorded{Job: "heron", Panel: "door", Side: shop.Left, Edge: shop.RearEdge, Gaps: []float64{4, 4.5}},
		shop.NoteAdded{Job: "heron", Text: "sealer is original"},
		shop.CoatRecorded{Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet"}, Coats: 2, At: tuesday, Temperature: 18},
		shop.Amended{Entry: first, Now: shop.StockMoved{Kind: shop.Use, Material: "thinner", Amount: shop.MicroOf(0.7), Job: "tern"}},
		shop.Undone{Entry: first + 2},
	} {
		_, err := st.Apply(shop.Meta{Seq: st.Seq() + 1, At: tuesday, Person: "idris"}, e)
		require.NoError(t, err)
	}
	return st
}

func TestASnapshotIsTheWholeState(t *testing.T) {
	t.Parallel()
	st := busy(t)
	data, err := st.Snapshot()
	require.NoError(t, err)
	back, err := shop.Restore(data)
	require.NoError(t, err)
	same, how := shop.Equal(st, back)
	require.True(t, same, how)
	for _, s := range []*shop.State{st, back} {
		stock, err := s.Stock("thinner")
		require.NoError(t, err)
		assert.Equal(t, "10.8", stock.Now.String(), "7.5 - 0.7 + 5 - 1, the count taken back")
		assert.Equal(t, "4471", stock.Batch)
		assert.Equal(t, "102.5", s.HoursOf("heron", shop.Metal).Logged.String())
		status, err := s.Status("heron", tuesday)
		require.NoError(t, err)
		assert.Len(t, status.Open, 2)
	}
	// The two go on alike.
	for _, s := range []*shop.State{st, back} {
		_, err := s.Apply(shop.Meta{Seq: s.Seq() + 1, At: tuesday, Person: "wren"}, shop.JobCreated{ID: "linnet"})
		require.NoError(t, err)
	}
	same, how = shop.Equal(st, back)
	require.True(t, same, how)
}

func TestAnotherVersionsSnapshotIsRefused(t *testing.T) {
	t.Parallel()
	data, err := busy(t).Snapshot()
	require.NoError(t, err)
	for _, bad := range [][]byte{nil, {1}, data[:len(data)-1], append([]byte{data[0] + 1}, data[1:]...), append(append([]byte(nil), data...), 0)} {
		_, err := shop.Restore(bad)
		require.Error(t, err)
	}
}

// Whatever the bytes, Restore gives a state or an error.
func FuzzRestore(f *testing.F) {
	data, err := busy(f).Snapshot()
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		st, err := shop.Restore(data)
		if err == nil {
			_, err = st.Snapshot()
			require.NoError(t, err)
		}
	})
}
