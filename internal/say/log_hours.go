package say

import (
	"time"

	pb "bayword/proto/bayword/v1"
)

// logHours is «4 h metal on the heron, Idris, Tue 10 Mar: metal now 100.5 of 180 h.»
func logHours(r *pb.LogHoursResponse, n Names) Reply {
	return receipt(r.GetReceipt(), logged(r, n)+": "+stageNow(r.GetStage())+".")
}

// logged is «4 h each metal on the heron, Wren and Jonah, Tue 10 Mar».
func logged(r *pb.LogHoursResponse, n Names) string {
	what := plain(r.GetStage().GetStage())
	if r.GetTask() != "" {
		what = "on task " + plain(r.GetTask())
	}
	each := ""
	if len(r.GetPeople()) > 1 {
		each = "each"
	}
	return comma(spaced(hours(r.GetHours()), each, what)+n.on(r.GetJob()), n.people(r.GetPeople()), day(r.GetDay(), false))
}

// stageNow is «metal now 100.5 of 180 h».
func stageNow(s *pb.StageHours) string {
	return plain(s.GetStage()) + " now " + ofAgreed(s.GetLogged(), s.GetEstimate(), s.GetExtras())
}

// day prints 2026-03-10 as «Tue 10 Mar», with the year if wanted. What is no
// such day is printed as it is.
func day(s string, year bool) string {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return plain(s)
	}
	if year {
		return d.Format("2 Jan 2006")
	}
	return d.Format("Mon 2 Jan")
}
