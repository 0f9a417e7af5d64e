package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// listExtras is a line an extra: «2. let in the left rear wing: £1,554, waiting,
// finds 1 and 2».
func listExtras(q *pb.ListExtrasRequest, r *pb.ListExtrasResponse, n Names) Reply {
	state := extraStates[q.GetState()]
	if len(r.GetExtras()) == 0 && r.GetTotal() == 0 {
		return text(spaced("No extras", orElse(state, "on record")) + n.on(q.GetJob()) + ".")
	}
	total := max(int(r.GetTotal()), len(r.GetExtras()))
	items := make([]string, len(r.GetExtras()))
	for i, e := range r.GetExtras() {
		job, now := "", ""
		if q.GetJob() == "" {
			job = n.job(e.GetJob())
		}
		if state == "" {
			now = extraStates[e.GetState()]
		}
		items[i] = fmt.Sprintf("%d. %s: %s", e.GetNumber(), comma(short(e.GetText()), job),
			comma(money(e.GetPrice(), r.GetCurrency()), now, decided(e, n), ofNumbers("find", "finds", e.GetFinds())))
	}
	head := spaced(plural(total, "extra", "extras"), state) + n.on(q.GetJob()) + ":"
	return text(append([]string{head}, listed(items, total, r.GetNextPageToken() != "")...)...)
}

// decided is «Wren, 10 Mar 2026», who put the last step on record; empty for what
// was imported.
func decided(e *pb.Extra, n Names) string {
	if len(e.GetHistory()) == 0 {
		return ""
	}
	s := e.GetHistory()[len(e.GetHistory())-1]
	if s.GetPerson() == "" {
		return ""
	}
	return comma(n.person(s.GetPerson()), n.date(s.GetAt()))
}
