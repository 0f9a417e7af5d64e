package say

import (
	pb "bayword/proto/bayword/v1"
)

// recordWaste is «0.3 L high-build primer binned (went off), 0.8 L left.»
func recordWaste(r *pb.RecordWasteResponse) Reply {
	return receipt(r.GetReceipt(), spaced(wasted(r)+", "+left(r.GetStock())+".", low(r.GetStock())))
}

func wasted(r *pb.RecordWasteResponse) string {
	out := ofStock(r.GetAmount(), r.GetStock()) + " binned"
	if why := plain(r.GetWhy()); why != "" {
		out += " (" + why + ")"
	}
	return out
}
