package say

import (
	"fmt"
	"math"
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// recordTorque confirms a sign-off and holds it against the book.
func recordTorque(r *pb.RecordTorqueResponse, n Names) Reply {
	return receipt(r.GetReceipt(), "Signed off: "+signedOff(r, n)+".", againstBook(r))
}

// signedOff is «wheel nut on the heron, 81 N·m (59.7 lbf·ft) × 5, Tomasz».
func signedOff(r *pb.RecordTorqueResponse, n Names) string {
	s := r.GetSignOff()
	return comma(plain(s.GetFastener())+n.on(s.GetJob()), newtonMetres(s.GetTorqueNm())+counted(s), n.person(s.GetPerson()))
}

// counted is « × 5» when a count was said.
func counted(s *pb.TorqueSignOff) string {
	if s.GetCount() == 0 {
		return ""
	}
	return fmt.Sprintf(" × %d", s.GetCount())
}

// againstBook says what the book has and how far off the sign-off is, by what
// the printed figures can show. Whether that matters the service warns of.
func againstBook(r *pb.RecordTorqueResponse) string {
	ref := r.GetReference()
	if ref == nil || slices.ContainsFunc(r.GetReceipt().GetWarnings(), func(w string) bool { return strings.HasPrefix(w, "The book value is ") }) { // the warning says it
		return ""
	}
	source := plain(ref.GetSource())
	if source == "" {
		source = noSource
	}
	out := "Book: " + unit.Format(ref.GetTorqueNm(), unit.NM) + ", " + source
	diff := r.GetSignOff().GetTorqueNm() - ref.GetTorqueNm()
	if math.Abs(diff) < 0.02*ref.GetTorqueNm() || len(r.GetReceipt().GetWarnings()) > 0 { // within a wrench's error, or warned of anyway
		return out + "."
	}
	way := "over"
	if diff < 0 {
		way = "under"
	}
	return out + fmt.Sprintf("; this is %s N·m %s.", unit.Number(math.Abs(diff)), way)
}
