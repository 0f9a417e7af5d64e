package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// recordFind is «Find 5 on the heron: hole, left sill, 120 × 40 mm.» and what to
// watch for where it carries load.
func recordFind(r *pb.RecordFindResponse, n Names) Reply {
	return minded(r.GetReceipt(), r.GetCaution(), upper(findLine(r.GetFind(), n)))
}

// findLine is «find 5 on the heron: hole, left sill, 120 × 40 mm. behind the jacking point.»
func findLine(f *pb.Find, n Names) string {
	return spaced(fmt.Sprintf("find %d%s: %s.", f.GetNumber(), n.on(f.GetJob()), found(f)), sentence(f.GetNote()))
}
