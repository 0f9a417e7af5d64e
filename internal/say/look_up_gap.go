package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// lookUpGap says what gap is wanted and how the last readings stand to it.
func lookUpGap(q *pb.LookUpGapRequest, r *pb.LookUpGapResponse, n Names) Reply {
	var lines []string
	for _, ref := range r.GetReferences() {
		what := upper(edgeOf(ref.GetPanel(), ref.GetSide(), q.GetEnd(), ref.GetEdge()))
		whose := n.job(r.GetJob())
		if ref.GetJob() == "" {
			whose = "any vehicle"
		}
		lines = append(lines, fmt.Sprintf("%s, %s: %s. %s.", what, whose, target(ref), sourced(gapSource(ref, n))))
	}
	lines = listed(lines, 0, false)
	if len(lines) == 0 {
		where := plain(r.GetPanel())
		if e := edges[q.GetEdge()]; e != "" {
			where += ", " + e + " edge"
		}
		lines = append(lines,
			fmt.Sprintf("No target gap on record for %s%s.", where, n.on(r.GetJob())),
			fmt.Sprintf("%s can set one: «%s gap … plus or minus …».", upper(n.lead()), plain(r.GetPanel())))
	}
	var readings []string
	for _, g := range r.GetReadings() {
		readings = append(readings, lastReading(g, closest(g, r.GetReferences()), n))
	}
	if more := len(readings) - 4; more > 0 {
		readings = append(readings[:4], fmt.Sprintf("… and %d older readings", more))
	}
	if len(readings) == 0 {
		readings = []string{"Nothing measured there yet."}
	}
	return careful(sentence(r.GetBasis().GetCaution()), append(append(lines, readings...), assumed(r.GetBasis()))...)
}

// lastReading is «Measured left door, rear edge: 3.5, 4, 5 mm (top to bottom), Idris, 10 Mar 2026 10:15. Out: …»
func lastReading(g *pb.GapReading, ref *pb.GapReference, n Names) string {
	line := "Measured " + edgeOf(g.GetPanel(), g.GetSide(), g.GetEnd(), g.GetEdge()) + ": " +
		comma(measured(g), n.person(g.GetPerson()), n.moment(g.GetAt())) + "."
	return spaced(line, verdict(g, ref))
}

// closest picks the target of a reading: one for its own edge before one for all
// edges, one for its side before one for both, one for the job before the shop's.
func closest(g *pb.GapReading, refs []*pb.GapReference) *pb.GapReference {
	var best *pb.GapReference
	top := -1
	for _, ref := range refs {
		if ref.GetEdge() != pb.Edge_EDGE_UNSPECIFIED && ref.GetEdge() != g.GetEdge() ||
			ref.GetSide() != pb.Side_SIDE_UNSPECIFIED && ref.GetSide() != g.GetSide() ||
			ref.GetJob() != "" && ref.GetJob() != g.GetJob() ||
			ref.GetPanel() != g.GetPanel() {
			continue
		}
		score := 0
		if ref.GetJob() != "" {
			score += 4
		}
		if ref.GetEdge() != pb.Edge_EDGE_UNSPECIFIED {
			score += 2
		}
		if ref.GetSide() != pb.Side_SIDE_UNSPECIFIED {
			score++
		}
		if score > top {
			best, top = ref, score
		}
	}
	return best
}
