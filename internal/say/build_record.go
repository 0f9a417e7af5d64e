package say

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// buildRecord says what the handover folder holds and what is open. The surface
// hands the folder over.
func buildRecord(q *pb.BuildRecordRequest, r *pb.BuildRecordResponse, n Names) Reply {
	job := r.GetJob().GetId()
	if job == "" {
		job = q.GetJob()
	}
	logged := 0.0
	for _, h := range r.GetHours() {
		logged += h.GetLogged() + h.GetImported()
	}
	holds := []string{
		plural(len(r.GetFinds()), "find", "finds"),
		plural(len(r.GetGaps()), "edge measured", "edges measured"),
		plural(len(r.GetTorques()), "torque sign-off", "torque sign-offs"),
		plural(coats(r.GetCoats()), "coat", "coats"),
		plural(len(r.GetParts()), "part", "parts"),
		hours(logged),
	}
	lines := []string{"Handover folder of " + orElse(n.job(job), "the vehicle") + ": " + strings.Join(holds, ", ") + "."}
	open := safetyFirst(r.GetOpen())
	if len(open) == 0 {
		lines = append(lines, "Nothing is open.")
	} else {
		lines = append(lines, fmt.Sprintf("Still open (%d):", len(open)))
		for _, o := range first(open, 5) {
			lines = append(lines, "- "+n.days(cut(unnumbered(plain(o)), 160)))
		}
		if more := len(open) - 5; more > 0 {
			lines = append(lines, fmt.Sprintf("… and %d more, all in the folder", more))
		}
	}
	var cautions []string
	for _, c := range first(r.GetCautions(), 2) {
		cautions = append(cautions, sentence(unnumbered(plain(c))))
	}
	reply := careful(caution(strings.Join(cautions, " ")), lines...)
	reply.Handover = job
	return reply
}

// safetyFirst puts what lives hang on before the rest, so that it is cut last.
func safetyFirst(open []string) []string {
	out := slices.Clone(open)
	slices.SortStableFunc(out, func(a, b string) int {
		return cmp.Compare(rankOf(a), rankOf(b))
	})
	return out
}

func rankOf(open string) int {
	if strings.HasPrefix(strings.ToLower(open), "safety-critical") {
		return 0
	}
	return 1
}

// coats is how many coats there are in all.
func coats(records []*pb.CoatRecord) int {
	sum := 0
	for _, c := range records {
		sum += int(c.GetCoat().GetCoats())
	}
	return sum
}
