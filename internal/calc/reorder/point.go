package reorder

import (
	"fmt"
	"math"
)

// LeadTime is how long a delivery takes, in days.
type LeadTime struct {
	Days, SDDays float64
}

// DefaultService is the share of orders during which the shelf should not run
// empty, when nobody said: common practice, no source.
const DefaultService = 0.95

// Input is what a reorder is judged by. Amounts are in the material's own unit.
type Input struct {
	Forecast Forecast
	Lead     LeadTime
	Service  float64 // 0.5 to 0.999; 0 is DefaultService
	OnHand   float64
	OnOrder  float64
	SetAt    float64 // the level that people set; 0 when nobody did
}

// Result is when to order. Amounts are in the material's own unit.
type Result struct {
	Input      Input   // as understood; Service is filled in
	Z          float64 // normal quantile of the service level
	LeadUse    float64 // mean use while a delivery is under way
	Safety     float64 // safety stock
	Point      float64 // reorder point from use; 0 when use is a guess
	Level      float64 // what decides: SetAt or, if nobody set it, Point
	OrderNow   bool    // on hand and on order are at or below Level
	SetTooLow  bool    // SetAt is below Point, and the forecast is no guess
	DaysLeft   float64 // of what is on hand; +Inf when nothing is used
	DaysLow    float64 // at the high end of use; 0 when use is a guess
	DaysHigh   float64 // at the low end of use, may be +Inf; 0 when use is a guess
	FloorIsUse bool    // use in lumps: Point is the largest single use

	Assumptions []string
	Source      string
	Caution     string
}

// Advise says when to order. It fails with *InputError.
func Advise(in Input) (Result, error) {
	if in.Service == 0 {
		in.Service = DefaultService
	}
	if err := check(in); err != nil {
		return Result{}, err
	}
	z, err := Quantile(in.Service)
	if err != nil {
		return Result{}, err
	}
	f := in.Forecast
	r := Result{Input: in, Z: z, LeadUse: f.PerDay * in.Lead.Days, DaysLeft: daysLeft(in.OnHand, f.PerDay), Level: in.SetAt}
	r.Assumptions = append(r.Assumptions, f.Assumptions...)
	if f.Sure == Guess {
		r.Assumptions = append(r.Assumptions, "a level from so few data would be false precision: the level that was set stands")
	} else {
		r.Safety = SafetyStock(z, f.PerDay, f.SDPerDay, in.Lead)
		r.Point = r.LeadUse + r.Safety
		if (f.Pattern == Intermittent || f.Pattern == Lumpy) && f.Largest > r.Point {
			r.Point, r.FloorIsUse = f.Largest, true
			r.Assumptions = append(r.Assumptions, "use in lumps: at least the largest single use is kept (common practice, no source)")
		}
		r.DaysLow, r.DaysHigh = daysLeft(in.OnHand, f.HighPerDay), daysLeft(in.OnHand, f.LowPerDay)
		r.SetTooLow = in.SetAt > 0 && in.SetAt < r.Point
		r.Assumptions = append(r.Assumptions, fmt.Sprintf("delivery %g days give or take %g; on the shelf in %g %% of orders; weeks taken as independent and bad luck as normally distributed",
			in.Lead.Days, in.Lead.SDDays, in.Service*100))
	}
	if r.Level == 0 {
		r.Level = r.Point
	}
	r.OrderNow = r.Level > 0 && in.OnHand+in.OnOrder <= r.Level
	r.Source = "reorder point d·L + z·√(L·σd² + d²·σL²), Stevenson, Operations Management, chapter 13"
	if len(f.Source) > 0 {
		r.Source += "; " + f.Source
	}
	r.Caution = "It knows what was used, not what is coming: look at the planned jobs too."
	return r, nil
}

func check(in Input) error {
	f := in.Forecast
	for _, c := range []struct {
		field     string
		v, lo, hi float64
		what      string
	}{
		{"service", in.Service, 0.5, 0.999, "a share"},
		{"lead_days", in.Lead.Days, 0, 730, "days"},
		{"lead_sd_days", in.Lead.SDDays, 0, 365, "days"},
		{"on_hand", in.OnHand, 0, maxAmount, "an amount"},
		{"on_order", in.OnOrder, 0, maxAmount, "an amount"},
		{"reorder_at", in.SetAt, 0, maxAmount, "an amount"},
		{"per_day", f.PerDay, 0, 1e9, "use a day"},
		{"low_per_day", f.LowPerDay, 0, 1e9, "use a day"},
		{"high_per_day", f.HighPerDay, 0, 1e10, "use a day"},
		{"sd_per_day", f.SDPerDay, 0, 1e10, "a spread of use"},
		{"largest", f.Largest, 0, 1e9, "an amount"},
	} {
		if err := within(c.field, c.v, c.lo, c.hi, c.what); err != nil {
			return err
		}
	}
	switch f.Sure {
	case Guess, Rough, Fair:
		return nil
	}
	return refuse("forecast", fmt.Sprintf("%q", f.Sure), "give a forecast as Predict makes it: guess, rough or fair")
}

// SafetyStock is z times the standard deviation of use during the lead time, with
// use and lead time independent: z·√(L·σd² + d²·σL²) (Silver, Pyke and Thomas,
// chapter 7). It does not judge its input.
func SafetyStock(z, perDay, sdPerDay float64, l LeadTime) float64 {
	return z * math.Sqrt(l.Days*sdPerDay*sdPerDay+perDay*perDay*l.SDDays*l.SDDays)
}

func daysLeft(onHand, perDay float64) float64 {
	switch {
	case onHand == 0:
		return 0
	case perDay == 0:
		return math.Inf(1)
	}
	return onHand / perDay
}
