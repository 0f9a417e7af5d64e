package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/say/picture"
)

// fitting says in a word or two what the moves will do.
var fitting = map[pb.FitStatus]string{
	pb.FitStatus_FIT_STATUS_MEASURE: "measure first",
	pb.FitStatus_FIT_STATUS_FITS:    "in tolerance",
	pb.FitStatus_FIT_STATUS_CURED:   "this puts all in tolerance",
	pb.FitStatus_FIT_STATUS_BETTER:  "this makes it better, not right",
	pb.FitStatus_FIT_STATUS_STUCK:   "no adjustment helps",
}

// solveFit is what to do and what comes of it, with the edges before and after
// as a picture.
func solveFit(q *pb.SolveFitRequest, r *pb.SolveFitResponse, n Names) Reply {
	head := upper(place(r.GetPanel(), r.GetSide(), q.GetEnd())) + n.on(r.GetJob())
	if word := fitting[r.GetStatus()]; word != "" {
		head += ": " + word
	}
	lines := []string{head + "."}
	for _, l := range r.GetLines() {
		lines = append(lines, caution(l)) // longer than other sentences: it may name every corner
	}
	lines = append(listed(lines, 0, false), kept(r.GetBasis(), "travel was not said", "gaps are set", "no flush tolerance"))
	reply := careful(warned(r.GetBasis()), lines...)
	if png, err := picture.Fit(r); err == nil { // with nothing to draw the words stand alone
		reply.Picture = png
	}
	return reply
}
