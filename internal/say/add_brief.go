package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// addBrief is «Brief of the heron, line 5: “heated rear screen”»
func addBrief(r *pb.AddBriefResponse, n Names) Reply {
	return receipt(r.GetReceipt(), upper(briefLine(r.GetJob(), r.GetLine(), n))+": "+quoted(r.GetLine().GetText()))
}

// briefLine is «brief of the heron, line 5».
func briefLine(job string, l *pb.BriefLine, n Names) string {
	return comma(ofBrief(job, n), fmt.Sprintf("line %d", l.GetNumber()))
}

func ofBrief(job string, n Names) string {
	if job == "" {
		return "brief"
	}
	return "brief of " + n.job(job)
}

func quoted(s string) string { return "“" + plain(s) + "”" }
