package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// roadSpeed is «3150 rpm at 60 mph (96.6 km/h), range 3080–3230.» or the other
// way round, then the gearing it stands on.
func roadSpeed(q *pb.RoadSpeedRequest, r *pb.RoadSpeedResponse) Reply {
	mph, kph := unit.Format(r.GetSpeedMph(), unit.MPH), unit.Format(r.GetSpeedKph(), unit.KPH)
	head := mph + " (" + kph + ") at " + unit.Number(r.GetRpm()) + " rpm" + ranging(r.GetSpeedLowMph(), r.GetSpeedHighMph(), " mph")
	if q.Rpm == nil {
		said, other := mph, kph
		if q.SpeedMph == nil && q.SpeedKph != nil {
			said, other = kph, mph
		}
		head = unit.Number(r.GetRpm()) + " rpm at " + said + " (" + other + ")" + ranging(r.GetRpmLow(), r.GetRpmHigh(), "")
	}
	gear := q.GetGearRatio()
	if q.GearRatio == nil {
		gear = 1
	}
	return careful(warned(r.GetBasis()), head+".",
		comma(short(q.GetTyre()), figure(q.GetFinalDrive())+" axle", figure(gear)+" gear")+": "+
			unit.Number(r.GetMphPer_1000())+" mph per 1,000 rpm.",
		kept(r.GetBasis(), "gear ratio", "no slip"))
}

// ranging is «, range 59.2–61.3 mph»; empty when both ends print alike.
func ranging(low, high float64, u string) string {
	if unit.Number(low) == unit.Number(high) {
		return ""
	}
	return ", range " + span(low, high) + u
}
