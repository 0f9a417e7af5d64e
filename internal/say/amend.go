package say

import (
	"strings"

	pb "bayword/proto/bayword/v1"
)

// amend is what changed, then the record as it stands now.
func amend(r *pb.AmendResponse, n Names) Reply {
	changes := make([]string, len(r.GetChanges()))
	for i, c := range r.GetChanges() {
		field, rest, _ := strings.Cut(plain(c), " ")
		changes[i] = spaced(fieldName(field), n.days(strings.ReplaceAll(rest, " -> ", " → ")))
	}
	line := "Changed."
	if len(changes) > 0 {
		line = "Changed: " + some(changes, 10) + "."
	}
	now, ok := recorded(outcome(r.GetNow()), n)
	if !ok {
		return receipt(r.GetReceipt(), line)
	}
	reply := receipt(r.GetReceipt(), line, now.Text)
	reply.Quiet = reply.Quiet && now.Quiet
	return reply
}
