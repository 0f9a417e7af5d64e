package say

import (
	"math"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// checkClimate is the verdict first: «No: the metal at 14 °C is 0.5 °C above
// the dew point, 13.5 °C; it needs 16.5 °C.»
func checkClimate(r *pb.CheckClimateResponse) Reply {
	metal := "the metal at " + celsius(r.GetSurfaceC()) + " is " + apart(r.GetMarginC()) + " the dew point, " + celsius(r.GetDewPointC())
	humid := ""
	if r.GetHumidityOverPct() > 0 {
		humid = unit.Number(r.GetHumidityOverPct()) + " % over the humidity limit"
	}
	// Rounded up: what is needed is never said too low.
	needed := celsius(math.Ceil(math.Round(r.GetSurfaceNeededC()*1e4)/1e3) / 10)
	head := "No verdict: " + metal + "."
	switch r.GetVerdict() {
	case pb.ClimateVerdict_CLIMATE_VERDICT_OK:
		head = "OK: " + metal + " (" + needed + " would do)."
	case pb.ClimateVerdict_CLIMATE_VERDICT_WAIT:
		head = "Wait: " + comma(humid, metal) + "."
	case pb.ClimateVerdict_CLIMATE_VERDICT_NO:
		head = "No: " + metal + "; it needs " + needed + "."
		if humid != "" {
			head += " Also " + humid + "."
		}
	}
	lines := []string{head}
	if r.GetSurfaceAssumed() {
		lines = append(lines, "Nobody measured the metal, so I took the air's temperature: measure it, it is often colder.")
	}
	if r.GetWithinMeterError() {
		lines = append(lines, "So close that the meters' own errors could turn it: measure again.")
	}
	lines = append(lines, kept(r.GetBasis(), "highest humidity", "warmed to "))
	return careful(warned(r.GetBasis()), lines...)
}

// celsius is «13.5 °C», to a tenth as such meters read.
func celsius(c float64) string {
	return strings.TrimSuffix(unit.Number(math.Round(c*10)/10), ".0") + " °C"
}

// apart is «0.5 °C above» or «2 °C below».
func apart(c float64) string {
	if c < 0 {
		return celsius(-c) + " below"
	}
	return celsius(c) + " above"
}
