package say

import (
	pb "bayword/proto/bayword/v1"
)

// listJobs is a line a vehicle: «heron: 1964 Tarrant Heron, in metal, bay 2, 167.5 of 690 h, 3 open finds»
func listJobs(r *pb.ListJobsResponse) Reply {
	if len(r.GetJobs()) == 0 {
		return text("No vehicles in the shop.")
	}
	items := make([]string, len(r.GetJobs()))
	for i, l := range r.GetJobs() {
		j := l.GetJob()
		items[i] = short(j.GetId()) + ": " + comma(short(vehicle(j)), "in "+short(j.GetStage()), bay(j),
			ofAgreed(l.GetLogged(), l.GetEstimate(), l.GetExtras()), plural(int(l.GetOpenFinds()), "open find", "open finds"))
	}
	more := r.GetNextPageToken() != ""
	head := plural(len(items), "vehicle in the shop:", "vehicles in the shop:")
	if more {
		head = "At least " + head
	}
	return text(append([]string{head}, listed(items, 0, more)...)...)
}
