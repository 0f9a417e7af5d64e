package climate

import (
	"fmt"
	"math"

	"bayword/internal/unit"
)

const (
	// MarginC is how far the surface must be above the dew point, °C:
	// ISO 8502-4 and ISO 12944-7, as data sheets repeat it.
	MarginC = 3.0
	// DefaultLimitPct is the highest relative humidity when the product's sheet
	// was not asked: common practice, no source.
	DefaultLimitPct = 85.0
	// Reading errors of hand-held meters: common practice, no source.
	meterPct, meterC = 3.0, 0.5
)

// Verdict says whether to spray.
type Verdict string

// The verdicts.
const (
	OK   Verdict = "ok"
	Wait Verdict = "wait" // the surface is right, the air too humid
	No   Verdict = "no"   // the surface is too near the dew point
)

// Input is what was read in the bay.
type Input struct {
	AirC        float64
	HumidityPct float64
	SurfaceC    *float64 // nil when nobody measured it
	LimitPct    float64  // highest humidity of the product's sheet; 0 is DefaultLimitPct
}

// Result is the verdict, with everything needed to judge it. Temperatures are °C.
type Result struct {
	Input            Input // as understood; LimitPct is filled in, SurfaceC is not
	SurfaceC         float64
	SurfaceIsAssumed bool // nobody measured it: taken as the air's

	Verdict          Verdict
	DewPointC        float64
	DewLowC          float64 // dew point if the meter reads 3 % high
	DewHighC         float64 // dew point if it reads 3 % low
	MarginC          float64 // surface above dew point; negative when it is below
	SurfaceNeededC   float64 // lowest surface temperature that will do in this air
	SurfaceShortC    float64 // how much warmer the surface must be, 0 when it will do
	HumidityOverPct  float64 // how far humidity is over the limit, 0 when it will do
	AirForHumidityC  float64 // air temperature at which the same moisture meets the limit; the air's own when it will do
	WithinMeterError bool    // reading errors could turn the verdict

	Assumptions []string
	Source      string
	Caution     string
}

// Check judges the climate for spraying. It fails with *InputError.
func Check(in Input) (Result, error) {
	dew, err := DewPoint(in.AirC, in.HumidityPct)
	if err != nil {
		return Result{}, err
	}
	limitIsAssumed := in.LimitPct == 0
	if limitIsAssumed {
		in.LimitPct = DefaultLimitPct
	}
	if err := within("humidity_limit_pct", in.LimitPct, 20, 100, "the product's highest relative humidity in percent"); err != nil {
		return Result{}, err
	}
	r := Result{Input: in, SurfaceC: in.AirC, SurfaceIsAssumed: in.SurfaceC == nil, DewPointC: dew}
	if in.SurfaceC != nil {
		r.SurfaceC = *in.SurfaceC
	}
	// A panel in the sun or from the oven is far warmer than the air.
	if err := within("surface_c", r.SurfaceC, minAirC, 150, "a surface temperature in °C"); err != nil {
		return Result{}, err
	}
	vapour := SaturationHPa(in.AirC) / 100
	r.DewLowC = temperatureAt(vapour * max(in.HumidityPct-meterPct, 0.5))
	r.DewHighC = temperatureAt(vapour * min(in.HumidityPct+meterPct, 100))
	r.MarginC = r.SurfaceC - dew
	r.SurfaceNeededC = dew + MarginC
	// Both are judged by the same comparison, so that no short distance is called ok.
	r.SurfaceShortC = max(r.SurfaceNeededC-r.SurfaceC, 0)
	r.HumidityOverPct = max(in.HumidityPct-in.LimitPct, 0)
	r.AirForHumidityC = in.AirC
	if r.HumidityOverPct > 0 {
		r.AirForHumidityC = temperatureAt(vapour * in.HumidityPct / in.LimitPct * 100)
	}
	r.Verdict = verdict(r.SurfaceShortC, r.HumidityOverPct)
	best := verdict(max(r.DewLowC+MarginC-r.SurfaceC-meterC, 0), max(in.HumidityPct-meterPct-in.LimitPct, 0))
	worst := verdict(max(r.DewHighC+MarginC-r.SurfaceC+meterC, 0), max(min(in.HumidityPct+meterPct, 100)-in.LimitPct, 0))
	r.WithinMeterError = best != worst
	r.Assumptions = r.assumptions(limitIsAssumed)
	r.Source = "dew point: Magnus form, Sonntag (1990), WMO-No. 8 Annex 4.B; surface at least 3 °C above it: ISO 8502-4, ISO 12944-7"
	r.Caution = "The product's data sheet comes first, also for its lowest temperature. Measure the metal at its coldest, thickest place: it warms long after the air. A flame heater without a flue adds water to the air, and no flame belongs near solvent."
	return r, nil
}

func verdict(shortC, overPct float64) Verdict {
	switch {
	case shortC > 0:
		return No
	case overPct > 0:
		return Wait
	}
	return OK
}

// assumptions says in plain words what was taken for granted.
func (r *Result) assumptions(limitIsAssumed bool) []string {
	as := make([]string, 0, 5)
	if r.SurfaceIsAssumed {
		as = append(as, fmt.Sprintf("nobody measured the metal: it is taken to be as warm as the air, %s; it must be at least %s",
			unit.Format(r.SurfaceC, unit.Celsius), unit.Format(math.Ceil(r.SurfaceNeededC*10)/10, unit.Celsius)))
	}
	if limitIsAssumed {
		as = append(as, fmt.Sprintf("highest humidity %g %%: common practice, no source", r.Input.LimitPct))
	}
	if r.HumidityOverPct > 0 {
		as = append(as, fmt.Sprintf("warmed to %s with no water added, this air is down to %g %%",
			unit.Format(math.Ceil(r.AirForHumidityC*10)/10, unit.Celsius), r.Input.LimitPct))
	}
	if r.WithinMeterError {
		as = append(as, "close to a limit: reading errors could turn the answer; measure again")
	}
	return append(as, fmt.Sprintf("a hand-held meter is taken to err by %g %% and %g °C (common practice, no source): dew point %s to %s",
		meterPct, meterC, unit.Number(r.DewLowC), unit.Format(r.DewHighC, unit.Celsius)))
}
