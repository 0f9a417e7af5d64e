package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// getBrief is a line a wish, those met marked: «3. ✓ Disc brakes at the front: …»
func getBrief(r *pb.GetBriefResponse, n Names) Reply {
	whose := ""
	if r.GetCustomer() != "" {
		whose = "for " + plain(r.GetCustomer())
	}
	head := upper(comma(ofBrief(r.GetJob(), n), whose))
	if len(r.GetLines()) == 0 {
		return text(head + ": nothing in it yet.")
	}
	met := 0
	items := make([]string, len(r.GetLines()))
	for i, l := range r.GetLines() {
		items[i] = fmt.Sprintf("%d. %s", l.GetNumber(), plain(l.GetText()))
		if l.GetMet() {
			met++
			items[i] = fmt.Sprintf("%d. ✓ %s", l.GetNumber(), plain(l.GetText()))
			if l.GetHow() != "" {
				items[i] += ": " + plain(l.GetHow())
			}
		}
	}
	return text(append([]string{fmt.Sprintf("%s, %d of %d met:", head, met, len(items))}, listed(items, 0, false)...)...)
}
