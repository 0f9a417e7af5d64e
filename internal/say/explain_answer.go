package say

import (
	"strings"

	pb "bayword/proto/bayword/v1"
)

// explainAnswer is where the last answer comes from, and how it came about.
func explainAnswer(r *pb.ExplainAnswerResponse, n Names) Reply {
	b := r.GetBasis()
	steps := make([]string, len(b.GetSteps()))
	for i, s := range b.GetSteps() {
		steps[i] = "- " + n.days(plain(s))
	}
	lines := append([]string{from(b, n), labelled("Understood", b.GetInputs())}, allAssumed(b)...)
	lines = append(lines, listed(steps, 0, false)...)
	if strings.Trim(strings.Join(lines, ""), " -") == "" {
		lines = []string{"I have no more behind that answer than what I said."}
	}
	return careful(warned(b), lines...)
}

// unsourced is how the service marks an assumption of the trade.
const unsourced = " (common practice, no source)"

// allAssumed are the assumptions, those of the trade by themselves with their mark
// said once. What is said twice is told once.
func allAssumed(b *pb.Basis) []string {
	var other, trade []string
	told := map[string]bool{}
	for _, a := range shared(b).GetAssumptions() {
		var fresh []string
		for _, clause := range strings.Split(a, "; ") {
			if !told[clause] {
				fresh = append(fresh, clause)
			}
			told[clause] = true
		}
		switch text := strings.Join(fresh, "; "); {
		case text == "":
		case strings.Contains(text, unsourced):
			trade = append(trade, strings.ReplaceAll(text, unsourced, ""))
		default:
			other = append(other, text)
		}
	}
	return []string{labelled("Assumed", other), labelled("Common practice, no source", trade)}
}
