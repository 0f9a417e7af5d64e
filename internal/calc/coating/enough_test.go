package coating

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A bonnet in clear takes 0.231 to 0.3 L ready to spray, 2:1 with its hardener: up
// to 200 mL of clear and 100 mL of hardener.
func TestEveryComponentCounts(t *testing.T) {
	t.Parallel()
	n, r := needOf(t, clearOnBonnet(HVLP)), mustRatio(t, "2:1")
	for name, c := range map[string]struct {
		paint, hardener Component
		want            Answer
		limit, coats    int
	}{
		"plenty":                         {Component{"clear", 6 * Litre, 0}, Component{"hardener", 2 * Litre, 0}, Enough, 1, 40},
		"just":                           {Component{"clear", 200_000, 0}, Component{"hardener", 100_000, 0}, Enough, 0, 2},
		"no hardener":                    {Component{"clear", 6 * Litre, 0}, Component{"hardener", 0, 0}, Short, 1, 0},
		"enough if little is lost":       {Component{"clear", 180_000, 0}, Component{"hardener", 100_000, 0}, Tight, 0, 1},
		"paint short, not even then":     {Component{"clear", 150_000, 0}, Component{"hardener", 100_000, 0}, Short, 0, 1},
		"another job has the hardener":   {Component{"clear", 6 * Litre, 0}, Component{"hardener", 2 * Litre, 1_950_000}, Short, 1, 1},
		"the hardener is promised twice": {Component{"clear", 6 * Litre, 0}, Component{"hardener", 2 * Litre, 3 * Litre}, Short, 1, 0},
	} {
		got, err := CheckEnough(n, r, []Component{c.paint, c.hardener})
		require.NoError(t, err, name)
		assert.Equal(t, c.want, got.Answer, name)
		assert.Equal(t, c.limit, got.Limit, name)
		assert.Equal(t, c.coats, got.Coats, name)
		assert.Len(t, got.Components, 2)
		assert.Equal(t, Volume(100_000), got.Components[1].High, name)
		assert.Contains(t, got.Source, "2:1")
		assert.Contains(t, strings.Join(got.Assumptions, "; "), "other jobs")
	}
	got, err := CheckEnough(n, r, []Component{{"clear", 6 * Litre, 0}, {"hardener", 2 * Litre, 3 * Litre}})
	require.NoError(t, err)
	assert.Equal(t, -Litre, got.Components[1].Free)
	assert.Equal(t, Litre+100_000, got.Components[1].Missing)
}

// Thinner goes into primer and base coat: both plans take from one drum.
func TestPlansTakeFromSharedComponents(t *testing.T) {
	t.Parallel()
	taken, err := Taken([]Plan{
		{mustRatio(t, "4:1:0.5"), []string{"high-build", "primer-hardener", "thinner"}, 1_100_000},
		{mustRatio(t, "1:1"), []string{"blue", "thinner"}, 2 * Litre},
	})
	require.NoError(t, err)
	assert.Equal(t, map[string]Volume{"high-build": 800_000, "primer-hardener": 200_000, "thinner": 1_100_000, "blue": Litre}, taken)

	_, err = Taken([]Plan{{mustRatio(t, "2:1"), []string{"clear"}, Litre}})
	refused(t, "with", err)
	_, err = Taken([]Plan{{mustRatio(t, "1"), []string{"clear"}, 0}})
	refused(t, "amount_l", err)
}

func TestHostileStock(t *testing.T) {
	t.Parallel()
	n, r := needOf(t, clearOnBonnet(HVLP)), mustRatio(t, "2:1")
	ok := Component{"clear", Litre, 0}
	for _, c := range []struct {
		field string
		stock []Component
	}{
		{"with", nil},
		{"with", []Component{ok}},
		{"with", []Component{ok, ok}},
		{"with", []Component{ok, {"", Litre, 0}}},
		{"on_hand", []Component{ok, {"hardener", -1, 0}}},
		{"on_hand", []Component{ok, {"hardener", math.MaxInt64, 0}}},
		{"planned", []Component{ok, {"hardener", Litre, -1}}},
		{"planned", []Component{ok, {"hardener", Litre, math.MaxInt64}}},
	} {
		_, err := CheckEnough(n, r, c.stock)
		refused(t, c.field, err)
	}
	_, err := CheckEnough(Need{}, r, []Component{ok, {"hardener", Litre, 0}})
	refused(t, "panels", err)
	_, err = CheckEnough(n, Ratio{}, nil)
	refused(t, "mix", err)
}

// Whole millionths have a paradox: a smaller total can give one part a millionth
// more. What the low need asks for is never above what the high one does.
func TestRoundingTurnsNoNeedRound(t *testing.T) {
	t.Parallel()
	n := needOf(t, Job{Panels: []Panel{{"a", 1.4422624111175537}}, Coats: 1, SolidsPct: 10.547519505736842, DFTUMPerCoat: 13.904750684276223})
	r := mustRatio(t, "0.003:0.949:0.001:939.121:0.123")
	stock := make([]Component, r.Parts())
	for i, high := range r.split(n.High) {
		stock[i] = Component{strconv.Itoa(i), high, 0}
	}
	c, err := CheckEnough(n, r, stock)
	require.NoError(t, err)
	assert.Equal(t, Enough, c.Answer)
	for _, k := range c.Components {
		assert.LessOrEqual(t, k.Low, k.High)
	}
}

func TestEnoughIsConsistent(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRatio(t)
		n := needOf(t, Job{
			Panels:       []Panel{{"a", rapid.Float64Range(0.1, 20).Draw(t, "area")}},
			Coats:        rapid.IntRange(1, 5).Draw(t, "coats"),
			SolidsPct:    rapid.Float64Range(10, 100).Draw(t, "solids"),
			DFTUMPerCoat: rapid.Float64Range(5, 100).Draw(t, "film"),
		})
		stock := make([]Component, r.n)
		for i := range stock {
			stock[i] = Component{strconv.Itoa(i), Volume(rapid.Int64Range(0, 20_000_000).Draw(t, "there")), Volume(rapid.Int64Range(0, 5_000_000).Draw(t, "planned"))}
		}
		c, err := CheckEnough(n, r, stock)
		require.NoError(t, err)
		missing := false
		var sum Volume
		for _, k := range c.Components {
			missing = missing || k.Missing > 0
			sum += k.High
			assert.Equal(t, k.Answer == Enough, k.Missing == 0)
		}
		assert.Equal(t, n.High, sum)
		assert.Equal(t, c.Answer != Enough, missing)
		assert.Equal(t, c.Answer == Enough, c.Coats >= n.Job.Coats)

		// What is missing, delivered, is enough.
		for i, k := range c.Components {
			stock[i].OnHand += k.Missing
		}
		again, err := CheckEnough(n, r, stock)
		require.NoError(t, err)
		assert.Equal(t, Enough, again.Answer)
		assert.GreaterOrEqual(t, again.Coats, n.Job.Coats)
	})
}

func BenchmarkCheckEnough(b *testing.B) {
	n, r := needOf(b, clearOnBonnet(HVLP)), mustRatio(b, "2:1")
	stock := []Component{{"clear", 6 * Litre, Litre}, {"hardener", 2 * Litre, 0}}
	for b.Loop() {
		if _, err := CheckEnough(n, r, stock); err != nil {
			b.Fatal(err)
		}
	}
}
