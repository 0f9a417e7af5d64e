package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// adjustWrench is «Set 51.4 N·m (37.9 lbf·ft) for 60 N·m at the fastener.»
func adjustWrench(q *pb.AdjustWrenchRequest, r *pb.AdjustWrenchResponse) Reply {
	ahead := "straight ahead"
	if q.GetAngleDeg() != 0 {
		ahead = "at " + unit.Number(q.GetAngleDeg()) + "°"
	}
	return careful(warned(r.GetBasis()),
		"Set "+newtonMetres(r.GetSettingNm())+" for "+unit.Format(q.GetTorqueNm(), unit.NM)+" at the fastener.",
		unit.Format(q.GetExtensionMm(), unit.MM)+" extension "+ahead+" on a "+unit.Format(q.GetWrenchMm(), unit.MM)+" wrench. Hold the middle of the grip and pull square.",
		"With the usual errors "+span(r.GetTorqueLowNm(), r.GetTorqueHighNm())+" N·m at the fastener.",
	)
}
