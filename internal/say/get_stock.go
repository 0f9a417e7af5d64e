package say

import (
	pb "bayword/proto/bayword/v1"
)

// getStock is «3.2 L epoxy primer. Reorder at 2 L, a pack is 4 L.»
func getStock(r *pb.GetStockResponse, n Names) Reply {
	s := r.GetStock()
	level := low(s)
	if level == "" {
		level = sentence(reorder(s))
	}
	lasts := "" // too few uses to tell is no news
	if s.GetDaysLeftLow() > 0 {
		lasts = upper(plain(s.GetForecast()))
	}
	return careful(sentence(r.GetBasis().GetCaution()), spaced(ofStock(s.GetOnHand(), s)+".", level), sentence(firstOut(s)), sentence(lasts),
		assumed(r.GetBasis()), from(r.GetBasis(), n))
}
