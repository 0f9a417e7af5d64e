package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// closeSnag is «Snag 1 on the pilot put right: clutch pedal squeaks. None left open.»
// and what to check first. What could hurt someone is not said quietly.
func closeSnag(r *pb.CloseSnagResponse, n Names) Reply {
	return minded(r.GetReceipt(), r.GetCaution(), spaced(upper(snagClosed(r.GetSnag(), n))+".", snagsOpen(r.GetStillOpen())))
}

func snagClosed(s *pb.Snag, n Names) string {
	return snagOn(s, n) + " put right: " + plain(s.GetText())
}

func snagsOpen(left uint32) string {
	if left == 0 {
		return "None left open."
	}
	return fmt.Sprintf("%d still open.", left)
}
