package say

import (
	pb "bayword/proto/bayword/v1"
)

// returnPart is «Part 1 on the heron sent back: rear wing panel, left, to
// Ketteridge Panels.» and what waits for it still.
func returnPart(r *pb.ReturnPartResponse, n Names) Reply {
	return receipt(r.GetReceipt(), upper(partReturned(r.GetPart(), n))+".", waiting(r.GetPart()))
}

func partReturned(p *pb.Part, n Names) string {
	to := ""
	if p.GetSupplier() != "" {
		to = "to " + plain(p.GetSupplier())
	}
	return about(partOn(p, n)+" sent back", partCalled(p), to)
}
