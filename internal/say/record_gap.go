package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// recordGap confirms readings and says which are out.
func recordGap(r *pb.RecordGapResponse, n Names) Reply {
	return receipt(r.GetReceipt(), upper(gapTaken(r, n))+".", gapJudged(r, n))
}

// gapTaken is «left door, rear edge, on the heron: 3.5, 4, 4.5, 5 mm (top to bottom)».
func gapTaken(r *pb.RecordGapResponse, n Names) string {
	g := r.GetReading()
	return edgeOf(g.GetPanel(), g.GetSide(), g.GetEnd(), g.GetEdge()) + n.on(g.GetJob()) + ": " + measured(g)
}

func gapJudged(r *pb.RecordGapResponse, n Names) string {
	ref := r.GetReference()
	if ref == nil {
		return fmt.Sprintf("No target on record for that edge; %s can set one.", n.lead())
	}
	return fmt.Sprintf("%s Target %s (%s).", verdict(r.GetReading(), ref), target(ref), gapSource(ref, n))
}
