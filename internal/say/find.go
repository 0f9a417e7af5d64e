package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

var findKinds = map[pb.FindKind]string{
	pb.FindKind_FIND_KIND_UNSPECIFIED: "find",
	pb.FindKind_FIND_KIND_HOLE:        "hole",
	pb.FindKind_FIND_KIND_RUST:        "rust",
	pb.FindKind_FIND_KIND_PITTING:     "pitting",
	pb.FindKind_FIND_KIND_DENT:        "dent",
	pb.FindKind_FIND_KIND_FILLER:      "filler",
	pb.FindKind_FIND_KIND_OLD_REPAIR:  "old repair",
	pb.FindKind_FIND_KIND_CRACK:       "crack",
	pb.FindKind_FIND_KIND_MISSING:     "missing",
	pb.FindKind_FIND_KIND_PAINT:       "paint fault",
}

var findStates = map[pb.FindState]string{
	pb.FindState_FIND_STATE_OPEN:     "open",
	pb.FindState_FIND_STATE_REPAIRED: "repaired",
}

// found is «hole, left sill, 120 × 40 mm, 3 of them».
func found(f *pb.Find) string {
	return comma(findKinds[f.GetKind()], place(f.GetPanel(), f.GetSide(), f.GetEnd()), size(f), howMany(f))
}

// size is «120 × 40 mm», «30 mm across», «60 mm long», with the depth.
func size(f *pb.Find) string {
	var out string
	switch {
	case f.GetWidthMm() > 0 && f.GetHeightMm() > 0:
		out = figure(f.GetWidthMm()) + " × " + figure(f.GetHeightMm()) + " mm"
	case f.GetWidthMm() > 0 && f.GetKind() == pb.FindKind_FIND_KIND_CRACK:
		out = figure(f.GetWidthMm()) + " mm long"
	case f.GetWidthMm() > 0:
		out = figure(f.GetWidthMm()) + " mm wide"
	case f.GetHeightMm() > 0:
		out = figure(f.GetHeightMm()) + " mm high"
	}
	if f.GetDiameterMm() > 0 {
		out = comma(out, figure(f.GetDiameterMm())+" mm across")
	}
	if f.GetDepthMm() > 0 {
		out = comma(out, figure(f.GetDepthMm())+" mm deep")
	}
	return out
}

func howMany(f *pb.Find) string {
	if f.GetCount() == 0 {
		return ""
	}
	return fmt.Sprintf("%d of them", f.GetCount())
}
