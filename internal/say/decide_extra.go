package say

import (
	pb "bayword/proto/bayword/v1"
)

// decideExtra is «Agreed: extra 2 on the heron: let in the left rear wing, £1,554.
// Agreed extras are £2,074 now.»
func decideExtra(r *pb.DecideExtraResponse, n Names) Reply {
	return receipt(n.dated(r.GetReceipt()), upper(orElse(extraStates[r.GetExtra().GetState()], "kept"))+": "+extraOn(r.GetExtra(), r.GetCurrency(), n)+".", agreedNow(r, n))
}

// agreedNow is «Agreed extras on the heron: £2,074.»
func agreedNow(r *pb.DecideExtraResponse, n Names) string {
	return "Agreed extras" + n.on(r.GetExtra().GetJob()) + ": " + money(r.GetAgreedExtras(), r.GetCurrency()) + "."
}
