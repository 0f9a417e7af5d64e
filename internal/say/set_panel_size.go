package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// setPanelSize is «Size kept: bonnet, any vehicle: 1.25 m².» or «Size kept: left
// door, the heron: 1080 mm long, 620 mm high, hinges 380 mm apart at the front.»
func setPanelSize(r *pb.SetPanelSizeResponse, n Names) Reply {
	whose := n.job(r.GetJob())
	if whose == "" {
		whose = "any vehicle"
	}
	area := ""
	if r.AreaM2 != nil {
		area = unit.Format(r.GetAreaM2(), unit.M2) + " outside"
	}
	mm := func(v float64, before, after string) string {
		if v == 0 {
			return ""
		}
		return spaced(before, figure(v)+" mm", after)
	}
	hinges := mm(r.GetHingeSpacingMm(), "hinges", "apart")
	if e := edges[r.GetHingeEdge()]; e != "" {
		hinges = spaced(orElse(hinges, "hinges"), "at the "+e)
	}
	size := comma(area, mm(r.GetLengthMm(), "", "long"), mm(r.GetHeightMm(), "", "high"), hinges)
	return receipt(r.GetReceipt(), "Size kept: "+comma(place(r.GetPanel(), r.GetSide(), pb.End_END_UNSPECIFIED), whose)+": "+orElse(size, "none")+".")
}
