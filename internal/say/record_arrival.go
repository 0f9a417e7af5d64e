package say

import (
	pb "bayword/proto/bayword/v1"
)

// recordArrival is «Part 1 on the heron is here: rear wing panel, left.» with its
// condition, that nobody ordered it, and the tasks it frees.
func recordArrival(r *pb.RecordArrivalResponse, n Names) Reply {
	p := r.GetPart()
	condition, unordered, freed := "", "", ""
	if p.GetCondition() != "" {
		condition = "Condition: " + stopped(p.GetCondition())
	}
	if r.GetNotOrdered() {
		unordered = "Nobody had ordered it."
	}
	if len(r.GetFreed()) > 0 {
		freed = "Can be started now: " + some(asTasks(r.GetFreed()), 5) + "."
	}
	return receipt(r.GetReceipt(), upper(partCame(p, n))+".", spaced(condition, unordered), freed)
}

// partCame is «part 1 on the heron is here: rear wing panel, left».
func partCame(p *pb.Part, n Names) string {
	return about(partOn(p, n)+" is here", partCalled(p), fewer(p))
}
