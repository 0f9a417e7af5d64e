package say

import (
	pb "bayword/proto/bayword/v1"
)

// addSnag is «Snag 2 on the pilot: passenger window rattles.» What could hurt
// someone is not said quietly.
func addSnag(r *pb.AddSnagResponse, n Names) Reply {
	reply := receipt(r.GetReceipt(), upper(snagOn(r.GetSnag(), n))+": "+stopped(r.GetSnag().GetText()), caution(r.GetCaution()))
	reply.Quiet = reply.Quiet && r.GetCaution() == ""
	return reply
}
