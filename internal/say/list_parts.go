package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// listParts is a line a part: «2. door seal set: 4 days late (due Fri 6 Mar),
// Amblecote Rubber, £96».
func listParts(q *pb.ListPartsRequest, r *pb.ListPartsResponse, n Names) Reply {
	by := ""
	if q.GetDueBy() != "" {
		by = "due by " + n.day(q.GetDueBy())
	}
	called := ""
	if q.GetPart() != "" {
		called = "like «" + short(q.GetPart()) + "»"
	}
	about := spaced(called, partStates[q.GetState()], by)
	if len(r.GetParts()) == 0 && r.GetTotal() == 0 {
		return text(spaced("No parts", orElse(about, "on record")) + n.on(q.GetJob()) + ".")
	}
	total := max(int(r.GetTotal()), len(r.GetParts()))
	items := make([]string, len(r.GetParts()))
	for i, p := range r.GetParts() {
		job, price := "", ""
		if q.GetJob() == "" {
			job = n.job(p.GetJob())
		}
		if p.GetPrice() > 0 {
			price = money(p.GetPrice(), r.GetCurrency())
		}
		items[i] = fmt.Sprintf("%d. %s: %s", p.GetNumber(), comma(partCalled(p), job), comma(partNow(p, n), short(p.GetSupplier()), price))
	}
	head := spaced(plural(total, "part", "parts"), about) + n.on(q.GetJob()) + ":"
	return text(append([]string{head}, listed(items, total, r.GetNextPageToken() != "")...)...)
}
