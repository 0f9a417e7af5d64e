package say

import (
	"time"

	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/types/known/timestamppb"
)

// recordCoat is «2 coats of epoxy primer on the bonnet, the heron, 09:30.» and
// the times that come of it.
func recordCoat(r *pb.RecordCoatResponse, n Names) Reply {
	w := r.GetWindows()
	return minded(r.GetReceipt(), r.GetCaution(), upper(coated(w.GetCoat(), n))+".", windows(w, n))
}

// coated is «2 coats of epoxy primer on the bonnet, the heron, 09:30, 18 °C».
func coated(c *pb.Coat, n Names) string {
	temperature := ""
	if c != nil && c.TemperatureC != nil {
		temperature = celsius(c.GetTemperatureC())
	}
	return comma(ofPaint(c.GetCoats(), named(c.GetName(), c.GetMaterial()), c.GetPanels()), n.job(c.GetJob()), n.local(c.GetAt()), temperature)
}

// local shows a time given as 2026-03-10T14:00 on the shop's clock; what is no
// such time is shown as it is.
func (n Names) local(at string) string {
	t, err := time.ParseInLocation("2006-01-02T15:04", at, n.zone())
	if err != nil {
		return short(at)
	}
	return n.near(t)
}

// windows is «Recoat 10:30 to Fri 13 Mar 09:30, sand from Wed 11 Mar 01:30, mix
// good until 13:30.» What is over is not told as if it were to come.
func windows(w *pb.Windows, n Names) string {
	over := func(at *timestamppb.Timestamp) bool { return !n.now.IsZero() && !at.AsTime().After(n.now) }
	flash, from, until := n.when(w.GetFlashedAt()), n.when(w.GetRecoatFrom()), n.when(w.GetRecoatUntil())
	sand, pot := n.when(w.GetSandFrom()), n.when(w.GetPotLifeEnds())
	if flash+from+until+sand+pot == "" {
		return "Its product names no times: see the data sheet."
	}
	var parts []string
	if flash != "" && !over(w.GetFlashedAt()) {
		parts = append(parts, "flashed off "+flash)
	}
	switch {
	case until != "" && over(w.GetRecoatUntil()):
		parts = append(parts, "recoat window closed "+until+", sand first")
	case until != "" && (from == "" || over(w.GetRecoatFrom())):
		part := "recoat until " + until
		if from != "" {
			part += " (since " + from + ")"
		}
		parts = append(parts, part)
	case until != "":
		parts = append(parts, "recoat "+from+" to "+until)
	case from != "":
		parts = append(parts, "recoat from "+from)
	}
	switch {
	case sand != "" && over(w.GetSandFrom()):
		parts = append(parts, "ready to sand since "+sand)
	case sand != "":
		parts = append(parts, "sand from "+sand)
	}
	if pot != "" && !over(w.GetPotLifeEnds()) {
		parts = append(parts, "mix good until "+pot)
	}
	if len(parts) == 0 {
		return "Nothing left to wait for."
	}
	return upper(comma(parts...)) + "."
}
