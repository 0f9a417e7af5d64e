package say

import (
	pb "bayword/proto/bayword/v1"
)

// recordDelivery is «8 L high-build primer in, batch 4471; 9.1 L on the shelf now.»
func recordDelivery(r *pb.RecordDeliveryResponse) Reply {
	s := r.GetStock()
	return receipt(r.GetReceipt(), spaced(comma(delivered(r), batch(s))+"; "+onShelf(s)+" now.", low(s)))
}

func delivered(r *pb.RecordDeliveryResponse) string {
	return ofStock(r.GetAmount(), r.GetStock()) + " in"
}

// onShelf is «9.1 L on the shelf».
func onShelf(s *pb.Stock) string { return amount(s.GetOnHand(), s.GetUnit()) + " on the shelf" }
