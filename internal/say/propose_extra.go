package say

import (
	"strings"

	pb "bayword/proto/bayword/v1"
)

// proposeExtra is «Extra 3 on the heron: let in the left rear wing, £1,554.» and
// how the price comes about.
func proposeExtra(r *pb.ProposeExtraResponse, n Names) Reply {
	e := r.GetExtra()
	finds, advised := ofNumbers("find", "finds", e.GetFinds()), ""
	if finds != "" {
		finds = "For " + finds + "."
	}
	if f := plain(e.GetHoursFrom()); f != "" && f != "said" {
		advised = "Hours from: " + stopped(f)
		if way, ok := strings.CutPrefix(f, "advised: "); ok {
			advised = "Hours as advised: " + stopped(way)
		}
	}
	return receipt(r.GetReceipt(),
		upper(extraOn(e, r.GetCurrency(), n))+".",
		sentence(priced(e, r.GetCurrency())),
		spaced(finds, advised),
		decision(e),
		warned(r.GetBasis()))
}

// decision says where an extra stands with the customer.
func decision(e *pb.Extra) string {
	switch e.GetState() {
	case pb.ExtraState_EXTRA_STATE_PROPOSED:
		return "Waiting for the customer."
	case pb.ExtraState_EXTRA_STATE_AGREED:
		return "The customer agreed."
	case pb.ExtraState_EXTRA_STATE_DECLINED:
		return "The customer declined."
	}
	return ""
}
