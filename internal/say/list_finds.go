package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// listFinds is a line a find: number, place, kind, size, state.
func listFinds(q *pb.ListFindsRequest, r *pb.ListFindsResponse, n Names) Reply {
	where := n.on(q.GetJob())
	switch {
	case q.GetPanel() == "" && sides[q.GetSide()] != "":
		where = " on the " + sides[q.GetSide()] + " of" + strings.TrimPrefix(n.on(q.GetJob()), " on")
		if q.GetJob() == "" {
			where = " on the " + sides[q.GetSide()]
		}
	case q.GetPanel() != "":
		where = " at the " + place(q.GetPanel(), q.GetSide(), pb.End_END_UNSPECIFIED) + where
	}
	state := findStates[q.GetState()]
	if len(r.GetFinds()) == 0 && r.GetTotal() == 0 {
		return text(upper(spaced("no", state, "finds")) + where + ".")
	}
	total := max(int(r.GetTotal()), len(r.GetFinds()))
	items := make([]string, len(r.GetFinds()))
	for i, f := range r.GetFinds() {
		items[i] = findItem(f, q.GetJob() == "", n)
	}
	head := plural(total, spaced(state, "find"), spaced(state, "finds")) + where + ":"
	return text(append([]string{head}, listed(items, total, r.GetNextPageToken() != "")...)...)
}

// findItem is «1. left sill: hole, 180 × 60 mm, open. behind an old plate»
func findItem(f *pb.Find, withJob bool, n Names) string {
	job := ""
	if withJob {
		job = n.job(f.GetJob())
	}
	return spaced(fmt.Sprintf("%d. %s: %s.", f.GetNumber(),
		comma(place(f.GetPanel(), f.GetSide(), f.GetEnd()), job),
		comma(findKinds[f.GetKind()], size(f), howMany(f), findStates[f.GetState()])), upper(short(f.GetNote())))
}
