package reorder

import (
	"fmt"
	"math"
	"time"
)

// Use is an amount taken from the shelf, in the material's own unit.
type Use struct {
	At     time.Time
	Amount float64
}

// Pattern is how use comes, after Syntetos, Boylan and Croston (2005): cut at a
// mean interval of 1.32 periods and at a squared coefficient of variation of 0.49.
type Pattern string

// The patterns.
const (
	None         Pattern = "none"
	Smooth       Pattern = "smooth"
	Erratic      Pattern = "erratic"      // often, in very different amounts
	Intermittent Pattern = "intermittent" // seldom, in like amounts
	Lumpy        Pattern = "lumpy"        // seldom, in very different amounts
)

const cutInterval, cutVariation = 1.32, 0.49

// Sureness is how much a forecast is worth.
type Sureness string

// The degrees; their limits are common practice, no source.
const (
	Guess Sureness = "guess" // fewer than 4 uses or 4 weeks
	Rough Sureness = "rough" // fewer than 12 uses or 12 weeks
	Fair  Sureness = "fair"
)

const fewUses, manyUses = 4, 12

const (
	day  = 24 * time.Hour
	week = 7 * day
	// maxWeeks is how far back use is counted: what was used before says little.
	maxWeeks  = 104
	maxAmount = 1e6
	// smoothing is α of Croston's method, his own suggestion of 0.1 to 0.2.
	smoothing = 0.1
)

// Forecast is how fast a material goes. Amounts are in the material's own unit.
type Forecast struct {
	Weeks      int // whole weeks counted, back from now
	Uses       int // records in them
	Total      float64
	PerDay     float64
	LowPerDay  float64 // with HighPerDay an 80 % interval of the mean; 0 when it is a guess
	HighPerDay float64 // 0 when it is a guess
	SDPerDay   float64 // of a day's use, for the safety stock; 0 when it is a guess
	Largest    float64 // single use
	Pattern    Pattern
	Sure       Sureness

	Assumptions []string
	Source      string
}

// Predict judges use from what was recorded between since and now. Records may be
// in any order; those before the last maxWeeks weeks, or in the broken week at the
// beginning, are not counted. It fails with *InputError.
func Predict(uses []Use, since, now time.Time) (Forecast, error) {
	if since.IsZero() || now.IsZero() || !since.Before(now) {
		return Forecast{}, refuse("since", since.Format(time.DateOnly), "give a day before now, from which on use was recorded")
	}
	weeks := int(min(now.Sub(since)/week, maxWeeks))
	if weeks == 0 {
		weeks = 1
	}
	f := Forecast{Weeks: weeks, Source: "mean and spread of weekly use; Croston (1972) with Syntetos and Boylan (2005) for use in lumps"}
	if now.Sub(since) < week {
		f.Assumptions = append(f.Assumptions, "less than a week on record: taken as a whole week")
	}
	var perWeek [maxWeeks]float64
	for _, u := range uses {
		if math.IsNaN(u.Amount) || u.Amount <= 0 || u.Amount > maxAmount {
			return Forecast{}, refuse("amount", u.Amount, "give more than 0 and at most %g", float64(maxAmount))
		}
		if u.At.Before(since) || u.At.After(now) {
			return Forecast{}, refuse("at", u.At.Format(time.DateOnly), "give a day from %s to %s", since.Format(time.DateOnly), now.Format(time.DateOnly))
		}
		back := int(now.Sub(u.At) / week)
		if back >= weeks {
			continue
		}
		perWeek[weeks-1-back] += u.Amount
		f.Uses++
		f.Total += u.Amount
		f.Largest = max(f.Largest, u.Amount)
	}
	f.judge(perWeek[:weeks])
	return f, nil
}

// judge fills in the rate and its worth from use by the week, oldest first.
func (f *Forecast) judge(perWeek []float64) {
	f.Sure = Fair
	switch n := min(f.Uses, f.Weeks); {
	case n < fewUses:
		f.Sure = Guess
	case n < manyUses:
		f.Sure = Rough
	}
	f.Pattern = patternOf(perWeek)
	n := float64(f.Weeks)
	mean := f.Total / n
	if f.Pattern == Intermittent || f.Pattern == Lumpy {
		f.Assumptions = append(f.Assumptions, "use comes in lumps: size and interval are averaged apart")
		// With a guess's few data the start of the smoothing would be the answer.
		if f.Sure != Guess {
			mean = croston(perWeek)
		}
	}
	f.PerDay = mean / 7
	if f.Uses == 0 {
		f.Assumptions = append(f.Assumptions, "no use on record")
		return
	}
	if f.Sure == Guess {
		f.Assumptions = append(f.Assumptions, fmt.Sprintf("%d uses in %d weeks are too few to say more: a guess", f.Uses, f.Weeks))
		return
	}
	var squares float64
	for _, v := range perWeek {
		squares += (v - f.Total/n) * (v - f.Total/n)
	}
	sd := math.Sqrt(squares / (n - 1))
	// Weeks taken as independent: variances add over the days of one.
	f.SDPerDay = sd / math.Sqrt(7)
	half := studentT(z80, n-1) * sd / math.Sqrt(n) / 7
	f.LowPerDay, f.HighPerDay = max(f.PerDay-half, 0), f.PerDay+half
	f.Assumptions = append(f.Assumptions, fmt.Sprintf("from %d uses in %d weeks; the next weeks are taken to be like them", f.Uses, f.Weeks))
}

// z80 cuts 10 % off either end of the normal distribution.
const z80 = 1.2815515655446004

// patternOf classifies use by the period.
func patternOf(perPeriod []float64) Pattern {
	var n, sum, squares float64
	for _, v := range perPeriod {
		if v > 0 {
			n++
			sum += v
		}
	}
	if n == 0 {
		return None
	}
	mean := sum / n
	for _, v := range perPeriod {
		if v > 0 {
			squares += (v/mean - 1) * (v/mean - 1)
		}
	}
	seldom := float64(len(perPeriod))/n > cutInterval
	uneven := squares/n > cutVariation
	switch {
	case seldom && uneven:
		return Lumpy
	case seldom:
		return Intermittent
	case uneven:
		return Erratic
	}
	return Smooth
}

// croston is the mean use a period of a series with empty periods: sizes and
// intervals smoothed apart, started with the first of each (Croston, 1972), times
// 1 − α/2 (Syntetos and Boylan, 2005). A series of zeros gives 0.
func croston(perPeriod []float64) float64 {
	var size, interval float64
	gap := 0.0
	for _, v := range perPeriod {
		gap++
		if v == 0 {
			continue
		}
		if size == 0 {
			size, interval = v, gap
		} else {
			size += smoothing * (v - size)
			interval += smoothing * (gap - interval)
		}
		gap = 0
	}
	if size == 0 {
		return 0
	}
	return (1 - smoothing/2) * size / interval
}
