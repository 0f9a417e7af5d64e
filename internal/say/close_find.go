package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// closeFind is «Find 1 on the heron repaired: hole, left sill, 180 × 60 mm. 2 still open.»
func closeFind(r *pb.CloseFindResponse, n Names) Reply {
	return minded(r.GetReceipt(), r.GetCaution(), upper(findClosed(r, n))+". "+stillOpen(r))
}

func findClosed(r *pb.CloseFindResponse, n Names) string {
	f := r.GetFind()
	return fmt.Sprintf("find %d%s repaired: %s", f.GetNumber(), n.on(f.GetJob()), found(f))
}

func stillOpen(r *pb.CloseFindResponse) string {
	if r.GetStillOpen() == 0 {
		return "None left open."
	}
	return fmt.Sprintf("%d still open.", r.GetStillOpen())
}
