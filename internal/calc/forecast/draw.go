package forecast

import "math"

// triangle is a triangular distribution from low by likely to high.
type triangle struct{ low, likely, high float64 }

// quantile is the value that a share u, 0 to 1, lies below (Kotz and van Dorp,
// Beyond Beta, chapter 1, from memory).
func (t triangle) quantile(u float64) float64 {
	width := t.high - t.low
	if width <= 0 {
		return t.likely
	}
	if u*width < t.likely-t.low {
		return t.low + math.Sqrt(u*width*(t.likely-t.low))
	}
	return t.high - math.Sqrt((1-u)*width*(t.high-t.likely))
}

// below is the share of values up to x.
func (t triangle) below(x float64) float64 {
	switch {
	case x >= t.high:
		return 1
	case x <= t.low:
		return 0
	case x < t.likely:
		return (x - t.low) * (x - t.low) / ((t.high - t.low) * (t.likely - t.low))
	}
	return 1 - (t.high-x)*(t.high-x)/((t.high-t.low)*(t.high-t.likely))
}

// lastShare is what is still to do, of the likely hours, when work goes on beyond
// its high estimate; and the least when it is in hand (common practice, no source).
const lastShare = 0.05

// left draws the hours to come of work by a share u: of all cases in which more
// hours than those done are needed.
func (t triangle) left(done, factor, u float64) float64 {
	if done == 0 {
		return t.quantile(u) * factor
	}
	q := t.below(done / factor)
	rest := lastShare * t.likely
	if q >= 1 {
		return rest
	}
	return max(t.quantile(q+(1-q)*u)*factor-done, rest)
}

// poisson is the least k with at least a share u of a Poisson distribution up to
// it, by adding its terms up: more of the mean or of u never makes less. The mean
// is taken as at most mostEvents.
func poisson(mean, u float64) int {
	const mostEvents = 500 // beyond it exp(−mean) would be too near to zero
	mean = min(mean, mostEvents)
	p := math.Exp(-mean)
	k, sum := 0, p
	for u > sum && k < 3*mostEvents {
		k++
		p *= mean / float64(k)
		sum += p
	}
	return k
}
