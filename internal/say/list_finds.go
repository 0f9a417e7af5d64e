package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/say/picture"
)

// listFinds is a line a find: number, place, kind, size, state. Those of one vehicle
// are drawn on it, too.
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
		items[i] = findItem(f, q.GetJob() == "", state == "", n)
	}
	head := plural(total, spaced(state, "find"), spaced(state, "finds")) + where + ":"
	reply := text(append([]string{head}, listed(items, total, r.GetNextPageToken() != "")...)...)
	if q.GetJob() == "" { // no one vehicle to draw
		return reply
	}
	if png, err := picture.Outline(n.Bodies[q.GetJob()], r.GetFinds()); err == nil {
		reply.Picture = png
	}
	return reply
}

// findItem is «1. left sill: hole, 180 × 60 mm, open. Behind an old plate», with the
// vehicle and the state where they were not asked for.
func findItem(f *pb.Find, withJob, withState bool, n Names) string {
	job, state := "", ""
	if withJob {
		job = n.job(f.GetJob())
	}
	if withState {
		state = findStates[f.GetState()]
	}
	return spaced(fmt.Sprintf("%d. %s: %s.", f.GetNumber(),
		comma(place(f.GetPanel(), f.GetSide(), f.GetEnd()), job),
		comma(findKinds[f.GetKind()], size(f), howMany(f), state)), upper(short(f.GetNote())))
}
