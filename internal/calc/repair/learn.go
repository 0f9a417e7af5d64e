package repair

import (
	"fmt"
	"math"
)

// Closed is a repair that is over: the hours that were predicted and those it took.
type Closed struct{ Predicted, Actual float64 }

// Factor is what the hours of the rates are multiplied by, log-normal. Its zero
// value is a factor of 1.
type Factor struct {
	LogMean, LogSD float64 // mean and standard deviation of ln(factor)
	Closed         int     // repairs of the shop's own that it comes from
	Assumption     string
}

// Median is the factor that half of the cases are below.
func (f Factor) Median() float64 { return math.Exp(f.LogMean) }

// What is believed of the rates in a shop with no record (common practice, no
// source): right give or take 30 %; one repair strays by 40 %, so that two weigh
// about as much as the belief.
const (
	ratesSD  = 0.30
	repairSD = 0.40
	wildest  = 4.0 // beyond this factor a record is of some other work
)

// Learn updates the rates' factor by the shop's closed repairs: with n log ratios of
// mean x̄ and known spread σ, and a prior about 0 with τ, it is normal about
//
//	(n·x̄/σ²) / (1/τ² + n/σ²) with variance 1/(1/τ² + n/σ²)
//
// (Gelman and others, Bayesian Data Analysis, 3rd ed., section 2.5, from memory). It
// fails with *InputError.
func Learn(closed []Closed) (Factor, error) {
	weight, sum := 1/(ratesSD*ratesSD), 0.0
	const each = 1 / (repairSD * repairSD)
	for _, c := range closed {
		if err := within("predicted_hours", c.Predicted, 1e-6, 100_000, "hours"); err != nil {
			return Factor{}, err
		}
		if err := within("actual_hours", c.Actual, 1e-6, 100_000, "hours"); err != nil {
			return Factor{}, err
		}
		x := min(max(math.Log(c.Actual/c.Predicted), -math.Log(wildest)), math.Log(wildest))
		weight += each
		sum += each * x
	}
	f := Factor{LogMean: sum / weight, LogSD: math.Sqrt(1 / weight), Closed: len(closed)}
	f.Assumption = fmt.Sprintf("hours are common practice times %.2f, give or take %.0f %%: from %d closed repairs of the shop", f.Median(), 100*f.LogSD, f.Closed)
	if f.Closed == 0 {
		f.Assumption = fmt.Sprintf("hours are common practice alone, give or take %.0f %%: no closed repair of the shop tells better", 100*f.LogSD)
	}
	return f, nil
}
