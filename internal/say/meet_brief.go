package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// meetBrief is «Brief of the heron, line 3 met: “Disc brakes at the front”. How:
// … 2 lines still to be met.»
func meetBrief(r *pb.MeetBriefResponse, n Names) Reply {
	how := ""
	if r.GetLine().GetHow() != "" {
		how = "How: " + stopped(r.GetLine().GetHow())
	}
	return receipt(r.GetReceipt(), upper(briefMet(r, n))+".", how, unmet(r.GetStillOpen()))
}

func briefMet(r *pb.MeetBriefResponse, n Names) string {
	return briefLine(r.GetJob(), r.GetLine(), n) + " met: " + quoted(r.GetLine().GetText())
}

func unmet(lines uint32) string {
	switch lines {
	case 0:
		return "All lines are met."
	case 1:
		return "1 line still to be met."
	}
	return fmt.Sprintf("%d lines still to be met.", lines)
}
