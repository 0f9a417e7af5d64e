// Package wrench answers what to set a torque wrench to when an extension across
// its drive, such as a crowfoot, changes its length. It is pure and may import
// unit only.
//
// # Model
//
// The hand's force at the grip turns the fastener with the arm L + E·cos θ, while
// the wrench measures with the arm L (US Army TM 9-254, torque wrenches):
//
//	setting = torque·L / (L + E·cos θ)
//
// L is the length from the middle of the drive to the middle of the grip, E from
// the middle of the drive to the middle of the fastener, θ the angle between
// them: 0° straight ahead, 90° square to the wrench (no correction), 180° folded
// back. An extension along the axis of the drive, a plain extension bar, is none
// of these and changes nothing.
package wrench

import (
	"fmt"
	"math"

	"bayword/internal/unit"
)

// Input is a wrench with an extension. The zero AngleDeg is straight ahead.
type Input struct {
	TorqueNM    float64 // wanted at the fastener
	WrenchMM    float64 // L: middle of the drive to middle of the grip
	ExtensionMM float64 // E: middle of the drive to middle of the fastener
	AngleDeg    float64 // θ, -180 to 180; 0 is straight ahead
}

// Result is what to set, with everything needed to judge it.
type Result struct {
	Input     Input
	SettingNM float64
	Factor    float64 // SettingNM / TorqueNM

	// Torque at the fastener when the lengths are off by 5 mm, the angle by 5°
	// and the wrench by what ISO 6789 allows it.
	LowNM, HighNM float64

	Assumptions []string
	Source      string
	Caution     string
}

// How far off the inputs may be (common practice, no source).
const (
	lengthOffMM = 5
	angleOffDeg = 5
)

// leastArm is the least part of the wrench's length that may be left of the arm.
// Below it a few degrees or millimetres change the torque too much.
const leastArm = 0.5

// Adjust computes the setting. It fails with *InputError.
func Adjust(in Input) (Result, error) {
	if !(in.TorqueNM >= 0.5 && in.TorqueNM <= 2000) {
		return Result{}, refuse("torque_nm", in.TorqueNM, "give 0.5 to 2000 N·m")
	}
	if !(in.WrenchMM >= 50 && in.WrenchMM <= 2000) {
		return Result{}, refuse("wrench_mm", in.WrenchMM, "give the length from drive to middle of the grip, 50 to 2000 mm")
	}
	if !(in.ExtensionMM >= 5 && in.ExtensionMM <= 1000) {
		return Result{}, refuse("extension_mm", in.ExtensionMM, "give the length from drive to fastener, 5 to 1000 mm; with none, set the torque itself")
	}
	if !(in.AngleDeg >= -180 && in.AngleDeg <= 180) {
		return Result{}, refuse("angle_deg", in.AngleDeg, "give -180 to 180 degrees: 0 straight ahead, 90 square to the wrench")
	}
	arm := in.WrenchMM + in.ExtensionMM*cos(in.AngleDeg)
	if arm < leastArm*in.WrenchMM {
		return Result{}, refuse("extension_mm", in.ExtensionMM,
			"turned back to %g degrees it may be at most %.4g mm on this wrench: turn it square to the wrench (90 degrees) or ahead", in.AngleDeg, math.Floor((1-leastArm)*in.WrenchMM/-cos(in.AngleDeg)))
	}
	r := Result{Input: in, Factor: in.WrenchMM / arm}
	r.SettingNM = in.TorqueNM * r.Factor
	off := wrenchOff(r.SettingNM)
	r.LowNM, r.HighNM = r.bounds(off)
	r.Assumptions = []string{
		fmt.Sprintf("%g mm from drive to middle of the grip, held there and pulled square to the wrench", in.WrenchMM),
		fmt.Sprintf("%g mm from drive to fastener, at %g degrees (0 is straight ahead)", in.ExtensionMM, in.AngleDeg),
		fmt.Sprintf("at the fastener %s to %s: lengths within %d mm, angle within %d degrees (common practice, no source), wrench within %g %% (ISO 6789)",
			unit.Format(r.LowNM, unit.NM), unit.Format(r.HighNM, unit.NM), lengthOffMM, angleOffDeg, off*100),
		"a plain extension bar along the drive needs no correction",
	}
	r.Source = "US Army TM 9-254, torque wrenches: setting = torque·L/(L + E·cos θ); wrench error ISO 6789 class A"
	r.Caution = "The torque itself must come from the maker's book. For wheels, brakes, steering, suspension and belts use a socket straight on the wrench if it can be reached, and have a second person check. A setting outside the wrench's scale is no setting: take another wrench."
	return r, nil
}

// wrenchOff is the deviation ISO 6789 allows a class A setting wrench: 4 % above
// 10 N·m, 6 % up to there.
func wrenchOff(settingNM float64) float64 {
	if settingNM > 10 {
		return 0.04
	}
	return 0.06
}

// bounds is the least and the greatest torque at the fastener when every input is
// as far off as it may be: torque = setting·(1 + E·cos θ/L).
func (r *Result) bounds(off float64) (low, high float64) {
	in := r.Input
	far, near := cos(nearest(in.AngleDeg, 180)), cos(nearest(in.AngleDeg, 0))
	low, high = math.Inf(1), math.Inf(-1)
	for _, l := range []float64{in.WrenchMM - lengthOffMM, in.WrenchMM + lengthOffMM} {
		for _, e := range []float64{max(0, in.ExtensionMM-lengthOffMM), in.ExtensionMM + lengthOffMM} {
			low = min(low, 1+e*far/l)
			high = max(high, 1+e*near/l)
		}
	}
	return max(0, low) * r.SettingNM * (1 - off), high * r.SettingNM * (1 + off)
}

// nearest is the angle within angleOffDeg of the given one that comes nearest to
// toward, which is 0 or 180; the sign of the angle does not matter.
func nearest(deg, toward float64) float64 {
	deg = math.Abs(deg)
	if toward == 0 {
		return max(0, deg-angleOffDeg)
	}
	return min(180, deg+angleOffDeg)
}

// cos of an angle in degrees, exactly 0 where it is.
func cos(deg float64) float64 {
	if math.Abs(deg) == 90 {
		return 0
	}
	return math.Cos(deg * math.Pi / 180)
}
