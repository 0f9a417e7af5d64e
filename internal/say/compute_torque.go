package say

import (
	"math"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

var lubrications = map[pb.Lubrication]string{
	pb.Lubrication_LUBRICATION_UNSPECIFIED:   "oiled to dry",
	pb.Lubrication_LUBRICATION_DRY:           "dry",
	pb.Lubrication_LUBRICATION_OILED:         "oiled",
	pb.Lubrication_LUBRICATION_MOLY:          "moly paste",
	pb.Lubrication_LUBRICATION_COPPER_GREASE: "copper grease",
	pb.Lubrication_LUBRICATION_THREADLOCK:    "threadlock",
	pb.Lubrication_LUBRICATION_ZINC:          "zinc plated, not lubricated",
}

var intos = map[pb.Into]string{
	pb.Into_INTO_UNSPECIFIED: "into a nut of its grade",
	pb.Into_INTO_STEEL:       "into steel",
	pb.Into_INTO_ALUMINIUM:   "into aluminium",
	pb.Into_INTO_CAST_IRON:   "into cast iron",
}

// computeTorque gives the torque with all it stands on.
func computeTorque(q *pb.ComputeTorqueRequest, r *pb.ComputeTorqueResponse, n Names) Reply {
	understood := comma(spaced(plain(r.GetThread()), plain(r.GetGrade())), lubrications[q.GetLubrication()], intos[q.GetInto()])
	if q.GetEngagedMm() > 0 {
		understood += ", " + unit.Format(q.GetEngagedMm(), unit.MM) + " engaged"
	}
	lines := []string{
		understood + ": " + newtonMetres(r.GetTorqueNm()) + ", range " + span(r.GetTorqueLowNm(), r.GetTorqueHighNm()) + " N·m.",
		"Preload " + span(r.GetPreloadLowKn(), r.GetPreloadHighKn()) + " kN.",
	}
	if need := math.Ceil(2*r.GetEngagementNeededMm()) / 2; need > 0 { // never rounded down
		if r.GetLimitedByHole() {
			lines = append(lines, "The tapped hole sets this, not the bolt: the bolt's full torque needs "+unit.Format(need, unit.MM)+" of thread engaged.")
		} else {
			lines = append(lines, "Needs at least "+unit.Format(need, unit.MM)+" of thread engaged.")
		}
	} else if r.GetLimitedByHole() {
		lines = append(lines, "The tapped hole sets this, not the bolt.")
	}
	caution := r.GetBasis().GetCaution()
	if caution == "" {
		// Common practice, no source.
		caution = "worked out, not from a book: where the maker gives a figure, use that"
	}
	lines = append(lines, assumed(&pb.Basis{Assumptions: mattering(r.GetBasis().GetAssumptions())}), from(r.GetBasis(), n))
	return careful(sentence(caution), lines...)
}

// mattering keeps the assumptions that a person at the bolt can see to: friction
// and engagement. ExplainAnswer gives them all.
func mattering(assumptions []string) []string {
	var out []string
	for _, a := range assumptions {
		if strings.HasPrefix(a, "friction") || strings.HasPrefix(a, "engagement") || strings.HasPrefix(a, "lubrication") {
			out = append(out, a)
		}
	}
	return out
}

// span is «40–55», or one figure when both ends print alike.
func span(low, high float64) string {
	l, h := unit.Number(low), unit.Number(high)
	if l == h {
		return l
	}
	return l + "–" + h
}
