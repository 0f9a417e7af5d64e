package fit

import "math"

// hands are the three moves a person makes in one plane, in mm: both hinges across
// and along, or both hinges and the latch outward.
type hands [3]float64

// asVector gives the adjustment as it is computed with: the hinges' mean, the
// first's lead over the second, and the third move.
func (h hands) asVector() vector { return vector{(h[0] + h[1]) / 2, h[0] - h[1], h[2]} }

func (v vector) asHands() hands { return hands{v[0] + v[1]/2, v[0] - v[1]/2, v[2]} }

// score orders sets of moves: worst excess over tolerance, all excess, the margin
// left, all deviation, all movement; less is better. Whole numbers keep the order
// sound.
type score [5]int64

func (s score) less(t score) bool {
	for i := range s {
		if s[i] != t[i] {
			return s[i] < t[i]
		}
	}
	return false
}

// helps says whether s is nearer to tolerance than t, not only nearer to target.
func (s score) helps(t score) bool {
	return s[0] < t[0] || s[0] == t[0] && s[1] < t[1]
}

func scoreOf(readings []reading, h hands) score {
	x := h.asVector()
	var all, off float64
	worst := -mostSpanMM
	for _, r := range readings {
		d := math.Abs(r.deviation(x))
		worst, all, off = max(worst, d-r.tol), all+max(0, d-r.tol), off+d
	}
	return score{quantum(max(0, worst)), quantum(all), quantum(worst), quantum(off), quantum(math.Abs(h[0]) + math.Abs(h[1]) + math.Abs(h[2]))}
}

// hopeless says whether a reading is farther out than the limit in mm: most moves are
// told by their first few readings.
func hopeless(readings []reading, h hands, limit float64) bool {
	x := h.asVector()
	for _, r := range readings {
		if r.excess(x) > limit {
			return true
		}
	}
	return false
}

// rounded brings exact moves to whole steps within travel: the best of the steps
// around them, and from there to any better neighbour until there is none. Standing
// still is among the candidates, so the outcome is never worse than that.
func rounded(readings []reading, exact hands, step float64, travel [3]Range) hands {
	low, high := [3]int{}, [3]int{}
	for k, r := range travel {
		// A range of 0.3 holds three steps of 0.1, whatever the division says.
		low[k], high[k] = int(math.Ceil(r.LowMM/step-1e-9)), int(math.Floor(r.HighMM/step+1e-9))
	}
	moves := func(n [3]int) hands {
		var h hands
		for k := range h {
			h[k] = float64(n[k]) * step
		}
		return h
	}
	var at [3]int
	still := scoreOf(readings, hands{})
	most := still
	// around tries all moves within two steps of a centre.
	around := func(centre [3]int) bool {
		const from, to = -2, 2
		better := false
		for i := from; i <= to; i++ {
			for j := from; j <= to; j++ {
				for k := from; k <= to; k++ {
					n := [3]int{centre[0] + i, centre[1] + j, centre[2] + k}
					if n[0] < low[0] || n[0] > high[0] || n[1] < low[1] || n[1] > high[1] || n[2] < low[2] || n[2] > high[2] {
						continue
					}
					h := moves(n)
					if hopeless(readings, h, float64(most[0]+1)*1e-6) {
						continue
					}
					if s := scoreOf(readings, h); s.less(most) {
						at, most, better = n, s, true
					}
				}
			}
		}
		return better
	}
	var nearest [3]int
	for k := range nearest {
		nearest[k] = int(math.Round(exact[k] / step))
	}
	around(nearest)
	const tries = 200 // each is an improvement; the bound is a safeguard
	for range tries {
		if !around(at) {
			break
		}
	}
	if !most.helps(still) {
		return hands{}
	}
	return moves(at)
}
