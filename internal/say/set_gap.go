package say

import (
	pb "bayword/proto/bayword/v1"
)

// setGap confirms a target and the one it replaced.
func setGap(r *pb.SetGapResponse, n Names) Reply {
	line := "Set. " + upper(gapSet(r.GetReference(), n)) + ". " + sourced(gapSource(r.GetReference(), n)) + "."
	if old := r.GetReplaced(); old != nil {
		line += " Was " + target(old) + " (" + gapSource(old, n) + ")."
	}
	return receipt(r.GetReceipt(), line)
}

// gapSet is «door, rear edge, on the heron: 4 ± 0.5 mm, flush ± 0.5».
func gapSet(ref *pb.GapReference, n Names) string {
	whose := n.on(ref.GetJob())
	if whose == "" {
		whose = " on any vehicle"
	}
	return edgeOf(ref.GetPanel(), ref.GetSide(), pb.End_END_UNSPECIFIED, ref.GetEdge()) + whose + ": " + target(ref)
}
