package say

import (
	pb "bayword/proto/bayword/v1"
)

var drives = map[string]string{"rhd": "right-hand drive", "lhd": "left-hand drive"}

// createJob is «Taken in as siskin: 1968 Quillon Siskin, saloon, right-hand drive, for Mr Ode. Stage: strip.»
func createJob(r *pb.CreateJobResponse) Reply {
	return receipt(r.GetReceipt(), "Taken in as "+takenIn(r.GetJob())+".")
}

func takenIn(j *pb.Job) string {
	customer, stage := "", ""
	if j.GetCustomer() != "" {
		customer = "for " + plain(j.GetCustomer())
	}
	if j.GetStage() != "" {
		stage = "stage " + plain(j.GetStage())
	}
	drive := drives[j.GetDrive()]
	if drive == "" {
		drive = plain(j.GetDrive())
	}
	return plain(j.GetId()) + ": " + comma(vehicle(j), drive, customer, stage, bay(j))
}
