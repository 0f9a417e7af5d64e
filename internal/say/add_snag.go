package say

import (
	pb "bayword/proto/bayword/v1"
)

// addSnag is «Snag 2 on the pilot: passenger window rattles.» What could hurt
// someone is not said quietly.
func addSnag(r *pb.AddSnagResponse, n Names) Reply {
	return minded(r.GetReceipt(), r.GetCaution(), upper(snagOn(r.GetSnag(), n))+": "+stopped(r.GetSnag().GetText()))
}
