package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

var snagStates = map[pb.SnagState]string{
	pb.SnagState_SNAG_STATE_OPEN:   "open",
	pb.SnagState_SNAG_STATE_CLOSED: "put right",
}

// snagOn is «snag 2 on the pilot».
func snagOn(s *pb.Snag, n Names) string {
	return fmt.Sprintf("snag %d", s.GetNumber()) + n.on(s.GetJob())
}
