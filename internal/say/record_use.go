package say

import (
	pb "bayword/proto/bayword/v1"
)

// recordUse is «0.5 L clearcoat used on the osmere, 5.5 L left.»
func recordUse(r *pb.RecordUseResponse, n Names) Reply {
	return receipt(r.GetReceipt(), spaced(used(r, n)+", "+left(r.GetStock())+".", low(r.GetStock())))
}

func used(r *pb.RecordUseResponse, n Names) string {
	return ofStock(r.GetAmount(), r.GetStock()) + " used" + n.on(r.GetJob())
}
