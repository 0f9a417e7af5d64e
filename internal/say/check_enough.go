package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

var enough = map[pb.Enough]string{
	pb.Enough_ENOUGH_YES:   "Yes",
	pb.Enough_ENOUGH_TIGHT: "Only if little is lost",
	pb.Enough_ENOUGH_NO:    "No",
}

// checkEnough is «Yes: 2.3 L to 3.4 L ready to spray for 2 coats of epoxy primer
// on the whole body, the heron (11.5 m²).» and what each part must give.
func checkEnough(q *pb.CheckEnoughRequest, r *pb.CheckEnoughResponse, n Names) Reply {
	head := enough[r.GetEnough()]
	if head == "" {
		head = "Not sure"
	}
	head += ": " + between(r.GetNeedLowL(), r.GetNeedHighL()) + " ready to spray for " +
		comma(ofPaint(q.GetCoats(), named(r.GetName(), r.GetMaterial()), q.GetPanels()), n.job(q.GetJob())) +
		" (" + unit.Format(r.GetAreaM2(), unit.M2) + ")."
	parts := make([]string, len(r.GetParts()))
	for i, p := range r.GetParts() {
		there := litres(p.GetOnHandL()) + " there"
		if p.GetShortL() > 0 {
			there += ", " + litres(p.GetShortL()) + " short"
		}
		parts[i] = litres(p.GetAmountL()) + " " + partName(p) + " (" + there + ")"
	}
	takes := ""
	if len(parts) > 0 {
		takes = "Plan for " + some(parts, 5) + "."
	}
	possible := "What is there is not enough for one coat of that."
	if c := r.GetCoatsPossible(); c > 0 {
		possible = "What is there does " + plural(int(c), "coat", "coats") + "."
	}
	return careful(warned(r.GetBasis()), head, takes, possible, kept(r.GetBasis(), "one side", "other jobs"))
}

// ofPaint is «2 coats of epoxy primer on the bonnet and roof».
func ofPaint(coats uint32, material string, panels []string) string {
	out := plural(int(coats), "coat", "coats") + " of " + material
	if where := onPanels(panels); where != "" {
		out += " on the " + where
	}
	return out
}

// between is «2.3–3.4 L», or one figure when both print alike.
func between(low, high float64) string {
	l, h := litres(low), litres(high)
	if l == h {
		return l
	}
	return l + " to " + h
}
