package gearing

import (
	"fmt"

	"bayword/internal/unit"
)

// Input is a drive line and either the engine's revs or the road speed. The wheel
// is a Tyre or a measured circumference; the zero value of the rest means not said.
type Input struct {
	Tyre            Tyre
	CircumferenceMM float64 // measured, over the ground in one turn; comes before Tyre
	FinalDrive      float64 // ratio of the axle
	GearRatio       float64 // of the gear, with an overdrive multiplied in; 1 when 0
	RPM             float64 // revs a minute of the engine; or SpeedKPH
	SpeedKPH        float64 // road speed, km/h; or RPM
}

// Result is revs and speed, with everything needed to judge them.
type Result struct {
	Input         Input // as understood: GearRatio is filled in
	Circumference Circumference

	RPM, RPMLow, RPMHigh                float64 // equal when the revs were given
	SpeedKPH, SpeedLowKPH, SpeedHighKPH float64 // equal when the speed was given
	SpeedPer1000KPH                     float64 // km/h at 1000 revs
	RevsPerMile                         float64 // turns of the wheel

	Assumptions []string
	Source      string
	Caution     string
}

// Road computes the speed of given revs or the revs of a given speed. It fails
// with *InputError.
func Road(in Input) (Result, error) {
	if in.GearRatio == 0 {
		in.GearRatio = 1
	} else if !(in.GearRatio >= 0.3 && in.GearRatio <= 20) {
		return Result{}, refuse("gear_ratio", in.GearRatio, "give 0.3 to 20, or leave it out for direct top")
	}
	if !(in.FinalDrive >= 1 && in.FinalDrive <= 20) {
		return Result{}, refuse("final_drive", in.FinalDrive, "give the ratio of the axle, 1 to 20")
	}
	c, assumptions, err := wheel(in.Tyre, in.CircumferenceMM)
	if err != nil {
		return Result{}, err
	}
	r := Result{Input: in, Circumference: c, Assumptions: assumptions}
	ratio := in.GearRatio * in.FinalDrive
	switch {
	case in.RPM != 0 && in.SpeedKPH != 0:
		return Result{}, refuse("rpm", in.RPM, "give either revs or a speed, not both")
	case in.SpeedKPH != 0:
		if !(in.SpeedKPH >= 1 && in.SpeedKPH <= 500) {
			return Result{}, refuse("speed_kph", in.SpeedKPH, "give 1 to 500 km/h")
		}
		r.SpeedKPH, r.SpeedLowKPH, r.SpeedHighKPH = in.SpeedKPH, in.SpeedKPH, in.SpeedKPH
		r.RPM, r.RPMLow, r.RPMHigh = revs(in.SpeedKPH, ratio, c.TypicalMM), revs(in.SpeedKPH, ratio, c.HighMM), revs(in.SpeedKPH, ratio, c.LowMM)
	default:
		if !(in.RPM >= 100 && in.RPM <= 20000) {
			return Result{}, refuse("rpm", in.RPM, "give 100 to 20000 revs a minute, or a speed")
		}
		r.RPM, r.RPMLow, r.RPMHigh = in.RPM, in.RPM, in.RPM
		r.SpeedKPH, r.SpeedLowKPH, r.SpeedHighKPH = speed(in.RPM, ratio, c.TypicalMM), speed(in.RPM, ratio, c.LowMM), speed(in.RPM, ratio, c.HighMM)
	}
	r.SpeedPer1000KPH = speed(1000, ratio, c.TypicalMM)
	r.RevsPerMile = mileMM / c.TypicalMM
	if in.GearRatio == 1 {
		r.assume("gear ratio 1, direct top")
	}
	r.assume("no slip in clutch, coupling or tyre")
	r.Source = "v = n/(i_gear·i_final)·C, no slip; " + wheelSource
	r.Caution = "A figure for choosing ratios and tyres, not for reading the road: the speedometer must be checked on the vehicle."
	return r, nil
}

func (r *Result) assume(what string) { r.Assumptions = append(r.Assumptions, what) }

const (
	mileMM      = 63360 * unit.InchMM
	wheelSource = "diameter ISO 4000-1, rolling circumference 3.05·D (ETRTO, from memory)"
)

// speed in km/h of an engine at rpm: v = n/i·C, with C in mm a turn and 60 minutes
// an hour.
func speed(rpm, ratio, circumferenceMM float64) float64 {
	return rpm / ratio * circumferenceMM * 60 / 1e6
}

// revs a minute of an engine at a speed in km/h, the inverse of speed.
func revs(kph, ratio, circumferenceMM float64) float64 {
	return kph * ratio * 1e6 / (60 * circumferenceMM)
}

// wheel gives how far a wheel rolls in a turn and what was assumed for it.
func wheel(t Tyre, measuredMM float64) (Circumference, []string, error) {
	if measuredMM != 0 {
		if !(measuredMM >= 500 && measuredMM <= 5000) {
			return Circumference{}, nil, refuse("circumference_mm", measuredMM, "give what the wheel rolls in one turn, 500 to 5000 mm")
		}
		return Circumference{measuredMM, measuredMM, measuredMM}, []string{"circumference as measured"}, nil
	}
	if t.rimIn == 0 {
		return Circumference{}, nil, refuse("tyre", "", tyreForms)
	}
	c := t.Circumference()
	as := []string{fmt.Sprintf("%s rolls %.0f mm a turn under load, 3.05 diameters; %.0f to %.0f mm with load, pressure and wear", t, c.TypicalMM, c.LowMM, c.HighMM)}
	if a, low, high, assumed := t.Aspect(); assumed {
		as = append(as, fmt.Sprintf("%s prints no aspect: %g %% taken, %g to %g %% (common practice, no source); the tyre maker's data book comes first", t, a, low, high))
	}
	return c, as, nil
}
