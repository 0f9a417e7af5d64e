package say

import (
	pb "bayword/proto/bayword/v1"
)

// recordOrder is «Part 5 on the pilot ordered: propshaft, £240, Fenwright
// Fasteners, due Thu 19 Mar.»
func recordOrder(r *pb.RecordOrderResponse, n Names) Reply {
	p := r.GetPart()
	price, due := "", "no day named"
	if p.GetPrice() > 0 {
		price = money(p.GetPrice(), r.GetCurrency())
	}
	if p.GetDue() != "" {
		due = "due " + n.day(p.GetDue())
	}
	return receipt(r.GetReceipt(),
		upper(about(partOn(p, n)+" ordered", partCalled(p), price, plain(p.GetSupplier()), provenances[p.GetProvenance()], due))+".",
		waiting(p))
}

// waiting is «Task 11 shorten the propshaft waits for it.»; empty for none.
func waiting(p *pb.Part) string {
	tasks := asTasks(p.GetNeededBy())
	switch len(tasks) {
	case 0:
		return ""
	case 1:
		return upper(tasks[0]) + " waits for it."
	}
	return upper(some(tasks, 4)) + " wait for it."
}
