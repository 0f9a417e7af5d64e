package say

import (
	"strings"

	pb "bayword/proto/bayword/v1"
)

// listWindows is a line a coat: what holds now, then its times. Its
// file's name keeps clear of the ending that the toolchain takes for an operating
// system.
func listWindows(r *pb.ListWindowsResponse, n Names) Reply {
	if len(r.GetWindows()) == 0 {
		return careful(warned(r.GetBasis()), "No coats on record"+n.on(r.GetJob())+" yet.")
	}
	items := make([]string, len(r.GetWindows()))
	for i, w := range r.GetWindows() {
		head := upper(coated(w.GetCoat(), n))
		if s := short(w.GetState()); s != "" {
			head += ": " + s
		}
		items[i] = head + ". " + windows(w, n)
	}
	lines := listed(items, 0, false)
	for _, a := range r.GetBasis().GetAssumptions() {
		if strings.Contains(a, "likely to") && len(lines) < len(items)+3 { // what temperature may do is told beside; it moves no time
			lines = append(lines, sentence(a))
		}
	}
	return careful(warned(r.GetBasis()), lines...)
}
