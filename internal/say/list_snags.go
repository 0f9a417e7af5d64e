package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// listSnags is a line a snag: «1. clutch pedal squeaks, open», and what to watch for
// while one that could hurt is open.
func listSnags(q *pb.ListSnagsRequest, r *pb.ListSnagsResponse, n Names) Reply {
	state := snagStates[q.GetState()]
	if len(r.GetSnags()) == 0 && r.GetTotal() == 0 {
		if q.GetState() == pb.SnagState_SNAG_STATE_OPEN {
			return text("No open snags" + n.on(q.GetJob()) + ".")
		}
		return text(spaced("No snags", state) + n.on(q.GetJob()) + ".")
	}
	total := max(int(r.GetTotal()), len(r.GetSnags()))
	items := make([]string, len(r.GetSnags()))
	for i, s := range r.GetSnags() {
		job, now := "", ""
		if q.GetJob() == "" {
			job = n.job(s.GetJob())
		}
		if state == "" {
			now = snagStates[s.GetState()]
		}
		items[i] = fmt.Sprintf("%d. %s", s.GetNumber(), comma(cut(plain(s.GetText()), 160), job, now))
	}
	head := plural(total, "snag", "snags")
	switch q.GetState() {
	case pb.SnagState_SNAG_STATE_OPEN:
		head = plural(total, "open snag", "open snags")
	case pb.SnagState_SNAG_STATE_CLOSED:
		head += " put right"
	}
	return careful(warned(r.GetBasis()), append([]string{head + n.on(q.GetJob()) + ":"}, listed(items, total, r.GetNextPageToken() != "")...)...)
}
