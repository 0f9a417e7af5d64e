package forecast

import (
	"fmt"
	"math"
)

// Record is work that is over: the hours that were expected of it and those it
// took.
type Record struct{ Expected, Actual float64 }

// Overrun is the factor by which work takes longer than expected, log-normal: one
// for all tasks of a run. Its zero value is a factor of 1.
type Overrun struct {
	LogMean, LogSD float64 // mean and standard deviation of ln(factor)
	Records        int     // of the shop's own
	Assumptions    []string
	Source         string
}

// Factor is the median factor.
func (o Overrun) Factor() float64 { return math.Exp(o.LogMean) }

// What is believed of a shop with no record (common practice, no source): work
// takes 15 % more, the shop's own factor a fifth about that; one record strays by
// a third or so, so that three records weigh as much as the belief.
const (
	usualFactor = 1.15
	betweenSD   = 0.20
	recordSD    = 0.35
	wildest     = 4.0 // a record beyond this factor says the estimate was of something else
)

// LearnOverrun shrinks what the shop's records say to common practice: with the
// log ratios normal of known spread σ about the shop's own mean, and that mean
// normal about μ0 with τ0, the mean of n ratios x̄ makes it normal about
//
//	(μ0/τ0² + n·x̄/σ²) / (1/τ0² + n/σ²) with variance 1/(1/τ0² + n/σ²)
//
// (Gelman and others, Bayesian Data Analysis, 3rd ed., section 2.5, from memory.) It
// fails with *InputError.
func LearnOverrun(records []Record) (Overrun, error) {
	prior := 1 / (betweenSD * betweenSD)
	weight, sum := prior, prior*math.Log(usualFactor)
	for _, r := range records {
		if err := within("expected_hours", r.Expected, 1e-6, maxHours, "hours"); err != nil {
			return Overrun{}, err
		}
		if err := within("actual_hours", r.Actual, 1e-6, maxHours, "hours"); err != nil {
			return Overrun{}, err
		}
		x := math.Log(r.Actual / r.Expected)
		x = min(max(x, -math.Log(wildest)), math.Log(wildest))
		weight += 1 / (recordSD * recordSD)
		sum += x / (recordSD * recordSD)
	}
	return Overrun{
		LogMean: sum / weight, LogSD: math.Sqrt(1 / weight), Records: len(records),
		Assumptions: []string{fmt.Sprintf("work takes %.2f times what was expected, give or take %.0f %%: from %d records of the shop and common practice, %g give or take %.0f %% (no source)",
			math.Exp(sum/weight), 100*math.Sqrt(1/weight), len(records), usualFactor, 100*betweenSD)},
		Source: "overrun: normal log ratios with known spread, Gelman and others, Bayesian Data Analysis, section 2.5",
	}, nil
}

// Rate is how often something comes per hour, gamma distributed.
type Rate struct {
	Shape, Hours float64 // Shape events in Hours
}

// PerHour is the mean rate.
func (r Rate) PerHour() float64 {
	if r.Hours == 0 {
		return 0
	}
	return r.Shape / r.Hours
}

// Seen updates a rate by n events in so many hours: the conjugate update of a
// Poisson rate, (Shape + n, Hours + hours) (Gelman and others, section 2.6, from
// memory). Negative figures count as none.
func (r Rate) Seen(n int, hours float64) Rate {
	return Rate{r.Shape + float64(max(n, 0)), r.Hours + max(hours, 0)}
}
