package say

import (
	pb "bayword/proto/bayword/v1"
)

// changeDue is «Part 3 on the pilot is due Fri 13 Mar now, not Thu 19 Mar:
// propshaft, Fenwright Fasteners.» and what waits for it.
func changeDue(r *pb.ChangeDueResponse, n Names) Reply {
	return receipt(r.GetReceipt(), upper(partDue(r, n))+".", waiting(r.GetPart()))
}

func partDue(r *pb.ChangeDueResponse, n Names) string {
	p, was := r.GetPart(), ""
	if b := r.GetBefore(); b != "" && b != p.GetDue() {
		was = "not " + n.day(b)
	}
	return about(comma(partOn(p, n)+" is due "+n.day(p.GetDue())+" now", was), partCalled(p), plain(p.GetSupplier()))
}
