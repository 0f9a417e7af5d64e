package say

import (
	pb "bayword/proto/bayword/v1"
)

// fitPart is «Part 2 on the heron fitted: door seal set.» and what to check, where it
// keeps people safe. A trial is told apart from a fitting.
func fitPart(r *pb.FitPartResponse, n Names) Reply {
	return minded(r.GetReceipt(), r.GetCaution(), upper(partFitted(r.GetPart(), n))+".", sentence(r.GetPart().GetFitNote()))
}

func partFitted(p *pb.Part, n Names) string {
	did := " fitted"
	if p.GetState() != pb.PartState_PART_STATE_FITTED {
		did = " tried on, not fitted yet"
	}
	return about(partOn(p, n)+did, partCalled(p))
}
