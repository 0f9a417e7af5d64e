package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

var provenances = map[pb.Provenance]string{
	pb.Provenance_PROVENANCE_NEW_OLD_STOCK: "new old stock",
	pb.Provenance_PROVENANCE_REPRODUCTION:  "reproduction",
	pb.Provenance_PROVENANCE_USED:          "used",
	pb.Provenance_PROVENANCE_MADE:          "made for it",
}

var partStates = map[pb.PartState]string{
	pb.PartState_PART_STATE_ORDERED:  "ordered",
	pb.PartState_PART_STATE_LATE:     "late",
	pb.PartState_PART_STATE_ARRIVED:  "here",
	pb.PartState_PART_STATE_FITTED:   "fitted",
	pb.PartState_PART_STATE_RETURNED: "sent back",
}

// partCalled is «rear wing panel, left» or «valve spring × 8».
func partCalled(p *pb.Part) string {
	out := comma(short(p.GetPart()), sides[p.GetSide()])
	if p.GetQuantity() > 1 {
		out += fmt.Sprintf(" × %d", p.GetQuantity())
	}
	return out
}

// partOn is «part 1 on the heron».
func partOn(p *pb.Part, n Names) string {
	return fmt.Sprintf("part %d", p.GetNumber()) + n.on(p.GetJob())
}

// partNow is where a part is: «due Thu 12 Mar», «4 days late (due Fri 6 Mar)»,
// «here since Mon 2 Mar, tried on», «fitted».
func partNow(p *pb.Part, n Names) string {
	switch p.GetState() {
	case pb.PartState_PART_STATE_LATE:
		return late(p, n)
	case pb.PartState_PART_STATE_ARRIVED:
		out := "here"
		if p.GetArrived() != "" {
			out += " since " + n.day(p.GetArrived())
		}
		tried := ""
		if p.GetTrialFitted() {
			tried = "tried on"
		}
		return comma(out, fewer(p), tried)
	case pb.PartState_PART_STATE_FITTED, pb.PartState_PART_STATE_RETURNED:
		return partStates[p.GetState()]
	}
	if p.GetDue() == "" {
		return comma("ordered", "no day named", fewer(p))
	}
	return comma("due "+n.day(p.GetDue()), fewer(p))
}

// late is «4 days late (due Fri 6 Mar)».
func late(p *pb.Part, n Names) string {
	out := "late"
	if d := p.GetDaysLate(); d > 0 {
		out = plural(int(d), "day late", "days late")
	}
	if p.GetDue() != "" {
		out += " (due " + n.day(p.GetDue()) + ")"
	}
	return comma(out, fewer(p))
}

// fewer is «3 of 8 came»; empty when all or none did.
func fewer(p *pb.Part) string {
	if p.GetArrivedQuantity() == 0 || p.GetArrivedQuantity() >= p.GetQuantity() {
		return ""
	}
	return fmt.Sprintf("%d of %d came", p.GetArrivedQuantity(), p.GetQuantity())
}

// lateParts is «door seal set, 4 days late (due Fri 6 Mar), Amblecote Rubber»,
// one each, with the vehicle if wanted.
func lateParts(parts []*pb.Part, withJob bool, n Names) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		job := ""
		if withJob {
			job = n.job(p.GetJob())
		}
		out[i] = comma(partCalled(p), job, late(p, n), short(p.GetSupplier()))
	}
	return out
}
