package picture

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Places are counted clockwise from the top. Four, five and six are the usual
// criss-cross of a wheel: common practice, no source.
func TestAcrossTheCircle(t *testing.T) {
	t.Parallel()
	for n, want := range map[int][]int{
		3: {0, 1, 2},
		4: {0, 2, 1, 3},
		5: {0, 2, 4, 1, 3},
		6: {0, 3, 1, 4, 2, 5},
	} {
		assert.Equal(t, want, across(n))
	}
}

// Every place comes once, and no step but on a circle of three goes to a neighbour.
func TestAcrossMeetsEveryPlaceOnce(t *testing.T) {
	t.Parallel()
	for n := leastRing; n <= mostRing; n++ {
		seen := map[int]bool{}
		order := across(n)
		for i, p := range order {
			seen[p] = true
			if i > 0 && n > 4 {
				d := abs(p - order[i-1])
				assert.Greater(t, min(d, n-d), 1, "%d places, step %d", n, i)
			}
		}
		assert.Len(t, seen, n)
		assert.Len(t, order, n)
	}
}

// Ten in two rows, as a head has them: numbers of the upper row and of the lower.
func TestOutwardsFromTheMiddle(t *testing.T) {
	t.Parallel()
	got := [2][5]int{}
	for i, c := range outwards(5) {
		got[c.row][c.column] = i + 1
	}
	assert.Equal(t, [2][5]int{{8, 4, 1, 5, 9}, {7, 3, 2, 6, 10}}, got)
}

// A step never goes back towards the middle.
func TestOutwardsNeverGoesBack(t *testing.T) {
	t.Parallel()
	for n := leastHead / 2; n <= mostHead/2; n++ {
		last := 0
		seen := map[cell]bool{}
		for _, c := range outwards(n) {
			far := abs(2*c.column - (n - 1))
			assert.GreaterOrEqual(t, far, last)
			last, seen[c] = far, true
		}
		assert.Len(t, seen, 2*n)
	}
}
