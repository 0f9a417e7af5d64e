package say

import (
	pb "bayword/proto/bayword/v1"
)

// explainAnswer is where the last answer comes from, and how it came about.
func explainAnswer(r *pb.ExplainAnswerResponse, n Names) Reply {
	b := r.GetBasis()
	if len(b.GetInputs())+len(b.GetSteps())+len(b.GetAssumptions())+len(b.GetSources()) == 0 {
		return text("I have no more behind that answer than what I said.", warned(b))
	}
	steps := make([]string, len(b.GetSteps()))
	for i, s := range b.GetSteps() {
		steps[i] = "- " + n.days(plain(s))
	}
	lines := append([]string{from(b, n), labelled("Understood", b.GetInputs()), assumed(b)}, listed(steps, 0, false)...)
	return careful(warned(b), lines...)
}
