package say

import (
	pb "bayword/proto/bayword/v1"
)

// setTorque confirms a book value and the one it replaced.
func setTorque(r *pb.SetTorqueResponse, n Names) Reply {
	line := "Set. " + bookTorque(r.GetReference(), n)
	if old := r.GetReplaced(); old != nil {
		line += " Was " + newtonMetres(old.GetTorqueNm()) + " (" + bookSource(old, n) + ")."
	}
	caution := ""
	if r.GetReference().GetSafetyCritical() {
		caution = safetyCritical("")
	}
	return receipt(r.GetReceipt(), line, caution)
}
