package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/say/picture"
)

// lookUpTorque says what the book has; it never fills a gap in the book.
func lookUpTorque(r *pb.LookUpTorqueResponse, n Names) Reply {
	if len(r.GetReferences()) == 0 {
		return noTorque(r, n)
	}
	var lines []string
	for _, ref := range r.GetReferences() {
		lines = append(lines, bookTorque(ref, n))
	}
	lines = listed(lines, 0, false)
	if s := r.GetLastSignOff(); s != nil {
		done := comma(newtonMetres(s.GetTorqueNm())+counted(s), n.person(s.GetPerson()), n.moment(s.GetAt()))
		lines = append(lines, "Last signed off: "+done+".")
	}
	lines = append(lines, assumed(r.GetBasis()))
	caution := sentence(r.GetBasis().GetCaution())
	if r.GetSafetyCritical() {
		caution = safetyCritical(r.GetBasis().GetCaution())
	}
	png := order(r.GetReferences())
	if png != nil {
		lines = append(lines, "The picture shows the order principle; the maker's own order comes first.")
	}
	reply := careful(caution, lines...)
	reply.Picture = png
	return reply
}

// order draws the order to go round, where the book's first value is reached in
// stages and its fastener has a usual order; else nil. How many there are no
// book value says, so the principle is drawn.
func order(refs []*pb.TorqueReference) []byte {
	if len(refs[0].GetStagesNm()) < 2 {
		return nil
	}
	png, err := picture.Tightening(refs[0].GetFastener(), refs[0].GetStagesNm(), 0)
	if err != nil {
		return nil
	}
	return png
}

// bookTorque is a book value with where it comes from:
// «Wheel nut, heron: 81 N·m (59.7 lbf·ft), 7/16-20 UNF. From demo manual p. 12.»
func bookTorque(ref *pb.TorqueReference, n Names) string {
	value := newtonMetres(ref.GetTorqueNm())
	if len(ref.GetStagesNm()) > 1 {
		value += ", in stages " + stages(ref.GetStagesNm())
	}
	return upper(comma(plain(ref.GetFastener()), plain(ref.GetJob()))) + ": " +
		comma(value, plain(ref.GetThread())) + ". " + sourced(bookSource(ref, n)) + "."
}

// bookSource is «demo manual p. 12, set by Wren, 10 Mar 2026».
func bookSource(ref *pb.TorqueReference, n Names) string {
	source := plain(ref.GetSource())
	if source == "" {
		source = noSource
	}
	return comma(source, n.by("set", ref.GetSetBy(), ref.GetSetAt()))
}

// stages is «30 → 50 → 68 N·m».
func stages(nm []float64) string {
	out := ""
	for i, v := range nm {
		if i > 0 {
			out += " → "
		}
		out += figure(v)
	}
	return out + " N·m"
}

// noTorque says that the book is empty there, and how it gets filled. Its
// example holds no figure: somebody might set it.
func noTorque(r *pb.LookUpTorqueResponse, n Names) Reply {
	fastener := plain(r.GetFastener())
	lines := []string{fmt.Sprintf("No book torque on record for the %s%s, and I won't guess one.", fastener, n.on(r.GetJob()))}
	if s := r.GetLastSignOff(); s != nil {
		lines = append(lines, "Last signed off: "+comma(newtonMetres(s.GetTorqueNm()), n.person(s.GetPerson()), n.moment(s.GetAt()))+". That is what was done, not what the book says.")
	}
	if r.GetSafetyCritical() {
		caution := r.GetBasis().GetCaution()
		if caution == "" {
			caution = "take it from the maker's manual for this vehicle, from nowhere else"
		}
		lines = append(lines, safetyCritical(caution))
	} else {
		lines = append(lines, "Look in the maker's manual, or give me thread, grade and lubrication and I'll work one out.", sentence(r.GetBasis().GetCaution()))
	}
	lines = append(lines, fmt.Sprintf("%s can set it: «book says %s … nm page …».", upper(n.lead()), fastener))
	return text(lines...)
}
