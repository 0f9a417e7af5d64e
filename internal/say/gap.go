package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// hair is how far a reading may lie past a limit and still be on it, in mm: the
// noise of decimal fractions, far below any feeler gauge.
const hair = 1e-6

// edgeOf is «left door, rear edge», «bonnet, left edge» or «left door, all edges».
func edgeOf(panel string, side pb.Side, end pb.End, edge pb.Edge) string {
	if e := edges[edge]; e != "" {
		return place(panel, side, end) + ", " + e + " edge"
	}
	if s := sides[side]; s != "" && sideEdged[panel] {
		return place(panel, 0, end) + ", " + s + " edge"
	}
	return place(panel, side, end) + ", all edges"
}

// target is «4 ± 0.5 mm, flush ± 0.5».
func target(ref *pb.GapReference) string {
	out := tolerance(ref.GetTargetMm(), ref.GetToleranceMm())
	if f := ref.GetFlushToleranceMm(); f > 0 {
		out += ", flush ± " + figure(f)
	}
	return out
}

// gapSource is «shop standard, set by Wren, 10 Mar 2026».
func gapSource(ref *pb.GapReference, n Names) string {
	source := plain(ref.GetSource())
	if source == "" {
		source = noSource
	}
	return comma(source, n.by("set", ref.GetSetBy(), ref.GetSetAt()))
}

// measured is «3.5, 4, 4.5 mm top to bottom, flush +0.5, 0, -0.3».
func measured(g *pb.GapReading) string {
	gaps, steps := "", ""
	if len(g.GetGapMm()) > 0 {
		gaps = figures(g.GetGapMm(), figure) + " mm"
	}
	if len(g.GetFlushMm()) > 0 {
		steps = "flush " + figures(g.GetFlushMm(), signed) + " mm"
	}
	way := ""
	if len(g.GetGapMm()) > 1 || len(g.GetFlushMm()) > 1 {
		way = direction(g)
	}
	return spaced(comma(cut(gaps, maxSaid), cut(steps, maxSaid)), way)
}

// sideEdged are the panels that have an edge on the left and one on the right;
// their side says which.
var sideEdged = map[string]bool{"bonnet": true, "boot lid": true, "tailgate": true}

// lying and standing are the panels across the vehicle: seen from above, the front
// and rear edges of those that lie, and the top and bottom edges of those that
// stand, run from side to side.
var (
	lying = map[string]bool{
		"bonnet": true, "boot lid": true, "tailgate": true, "roof": true, "scuttle": true, "floor": true, "boot floor": true, "load bed": true,
	}
	standing = map[string]bool{
		"tailgate": true, "bulkhead": true, "front valance": true, "rear valance": true, "front panel": true, "rear panel": true,
		"windscreen surround": true, "rear screen surround": true, "cab back": true,
	}
)

// direction is the order readings are given in.
func direction(g *pb.GapReading) string {
	panel := g.GetPanel()
	switch g.GetEdge() {
	case pb.Edge_EDGE_FRONT, pb.Edge_EDGE_REAR:
		if lying[panel] {
			return "(left to right)"
		}
		return "(top to bottom)"
	case pb.Edge_EDGE_TOP, pb.Edge_EDGE_BOTTOM:
		if standing[panel] {
			return "(left to right)"
		}
		return "(front to rear)"
	}
	switch {
	case panel == "tailgate":
		return "(top to bottom)"
	case sideEdged[panel]:
		return "(front to rear)"
	}
	return ""
}

// verdict says which readings are out and by how much past the limit.
func verdict(g *pb.GapReading, ref *pb.GapReference) string {
	if ref == nil {
		return ""
	}
	var out []string
	if t := ref.GetToleranceMm(); t > 0 {
		out = append(out, faults(g.GetGapMm(), ref.GetTargetMm(), t, figure, "too wide", "too tight")...)
	}
	if t := ref.GetFlushToleranceMm(); t > 0 {
		out = append(out, faults(g.GetFlushMm(), 0, t, signed, "too proud", "too low")...)
	}
	if len(out) == 0 {
		if ref.GetToleranceMm() <= 0 {
			return "No tolerance set."
		}
		return "In tolerance."
	}
	if more := len(out) - 8; more > 0 {
		out = append(out[:8], fmt.Sprintf("%d more", more))
	}
	return "Out: " + strings.Join(out, "; ") + "."
}

// faults is a phrase for each value outside want ± allowed: «4th 5 mm, 0.5 too wide».
func faults(values []float64, want, allowed float64, print func(float64) string, above, below string) []string {
	var out []string
	for i, v := range values {
		past, word := v-want-allowed, above
		if low := want - allowed - v; low > past {
			past, word = low, below
		}
		if past <= hair {
			continue
		}
		which := ""
		if len(values) > 1 {
			which = ordinal(i+1) + " "
		}
		out = append(out, which+print(v)+" mm is "+figure(past)+" mm "+word)
	}
	return out
}

func ordinal(i int) string {
	suffix := "th"
	if i%100 < 11 || i%100 > 13 {
		switch i % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return fmt.Sprintf("%d%s", i, suffix)
}
