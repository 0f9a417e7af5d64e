package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func TestUpcomingTasksNameTheirCauses(t *testing.T) {
	t.Parallel()
	st := coats(t)
	all, err := st.Upcoming("heron", london(t))
	require.NoError(t, err)
	causes := map[int][]string{}
	for _, u := range all {
		causes[u.Number] = []string{}
		for _, h := range u.Causes {
			causes[u.Number] = append(causes[u.Number], h.Root)
		}
	}
	assert.Equal(t, map[int][]string{2: {}, 3: {}, 4: {panel, consent}, 5: {}, 6: {}}, causes, "task 1 is done; what waits for other tasks alone has no cause")
	_, err = st.Upcoming("zephyr", london(t))
	require.Error(t, err)
}

func TestWhoDoesWhat(t *testing.T) {
	t.Parallel()
	st := coats(t)
	does := map[string][]string{}
	for _, p := range append(st.People(), shop.PersonAdded{ID: "any", Role: shop.Tradesperson}) {
		for s := shop.Strip; s <= shop.Assembly; s++ {
			if p.Does(s) {
				does[p.ID] = append(does[p.ID], s.String())
			}
		}
	}
	assert.Equal(t, map[string][]string{
		"idris": {"strip", "metal", "assembly"}, "mabel": {"paint", "assembly"}, "tomasz": {"mechanical", "assembly"},
		"priya": {"trim", "assembly"}, "jonah": {"strip", "assembly"}, "any": shop.Stages(),
	}, does, "the lead runs the shop")
}

// A part is a panel when nothing but words for a panel is in its name beside the
// panel's own.
func TestPartsThatArePanels(t *testing.T) {
	t.Parallel()
	st := coats(t)
	for _, p := range []shop.NewOrder{
		{Job: "tern", Part: "rear wing", Side: 1, Price: hours(120)},                // 5
		{Job: "heron", Part: "right rear wing panel", Price: hours(380)},            // 6
		{Job: "heron", Part: "rear wing repair section", Side: 1, Price: hours(90)}, // 7
		{Job: "heron", Part: "rear wing beading", Side: 1},                          // 8
		{Job: "heron", Part: "door skin", Side: 1},                                  // 9
		{Job: "heron", Part: "new nearside door"},                                   // 10
	} {
		order(t, st, "wren", p)
	}
	numbers := func(job, panel string, side shop.Side) (ours, others []int) {
		found, err := st.PanelParts(job, panel, side, london(t))
		require.NoError(t, err)
		for _, p := range found {
			if assert.Equal(t, p.Number == 7, p.Section); p.Ours {
				ours = append(ours, p.Number)
			} else {
				others = append(others, p.Number)
			}
		}
		return ours, others
	}
	ours, others := numbers("heron", "rear wing", shop.Left)
	assert.Equal(t, []int{7, 1}, ours)
	assert.Equal(t, []int{6, 5}, others, "the other side of the car before another car")
	ours, others = numbers("osmere", "rear wing", shop.Left)
	assert.Empty(t, ours)
	assert.Equal(t, []int{7, 6, 5, 1}, others)
	ours, others = numbers("heron", "door", shop.Left)
	assert.Equal(t, []int{10}, ours, "neither its seals nor its skin")
	assert.Empty(t, others)
	_, err := st.PanelParts("zephyr", "door", 0, london(t))
	require.Error(t, err)
}
