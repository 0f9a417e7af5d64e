package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// sizeCable is «2.5 mm² (12 AWG) with the body as return: drops 0.31 V (2.6 %),
// set by the drop.»
func sizeCable(q *pb.SizeCableRequest, r *pb.SizeCableResponse) Reply {
	size := squareMM(r.GetAreaMm2())
	if r.GetAwg() != "" {
		size += " (" + short(r.GetAwg()) + ")"
	}
	head := size + " for " + unit.Number(q.GetAmps()) + " A over " + unit.Format(q.GetLengthM(), unit.Metre) +
		", body as return: drops " + volts(r.GetDropV()) + " (" + unit.Number(r.GetDropPct()) + " %)"
	if r.GetLimitedBy() != "" {
		head += ", size set by " + short(r.GetLimitedBy())
	}
	fuse := "No common fuse fits between that load and that cable: go up a size or split the load."
	if r.GetFuseA() > 0 {
		fuse = "Fuse " + unit.Number(r.GetFuseA()) + " A, at the battery end; the cable carries " + unit.Number(r.GetRatingA()) + " A."
	}
	wire := "With a wire coming back instead: beyond my table."
	if r.GetTwoWireMm2() > 0 {
		wire = "With a wire coming back instead: " + squareMM(r.GetTwoWireMm2()) + "."
	}
	next := ""
	if r.GetNextMm2() > 0 {
		next = "Next size up, " + squareMM(r.GetNextMm2()) + ", drops " + volts(r.GetNextDropV()) + "."
	}
	return careful(warned(r.GetBasis()), head+".", fuse, spaced(wire, next), kept(r.GetBasis(), "a drop of", "°C the drop is", "12 V"))
}

func squareMM(v float64) string { return figure(v) + " mm²" }

func volts(v float64) string { return unit.Number(v) + " V" }
