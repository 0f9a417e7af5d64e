package say

import (
	"slices"

	pb "bayword/proto/bayword/v1"
)

// history is a line an event, newest last. What does not fit, or is on a further
// page, is left out at the old end.
func history(r *pb.HistoryResponse, n Names) Reply {
	where := n.job(r.GetJob())
	if r.GetPanel() != "" || sides[r.GetSide()] != "" {
		where = comma(place(r.GetPanel(), r.GetSide(), pb.End_END_UNSPECIFIED), where)
	}
	if len(r.GetEvents()) == 0 {
		return text("Nothing on record yet for " + where + ".")
	}
	items := make([]string, len(r.GetEvents()))
	for i, e := range r.GetEvents() {
		at := n.moment(e.GetAt())
		if at == "" {
			at = "No date"
		}
		items[i] = comma(at, n.person(e.GetPerson())) + ": " + cut(n.days(plain(e.GetText())), 160)
	}
	slices.Reverse(items)
	items = listed(items, 0, r.GetNextPageToken() != "")
	slices.Reverse(items)
	return text(append([]string{upper(where) + ":"}, items...)...)
}
