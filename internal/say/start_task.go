package say

import (
	pb "bayword/proto/bayword/v1"
)

// startTask is «Task 3 on the heron begun, Idris: replace the right sill, 18 h
// (14–30).», who is to be beside an apprentice, and what the plan wanted done before.
func startTask(r *pb.StartTaskResponse, n Names) Reply {
	first := ""
	if len(r.GetNotDoneFirst()) > 0 {
		first = "Not done before it, as planned: " + some(asTasks(r.GetNotDoneFirst()), 5) + "."
	}
	beside := ""
	if r.GetNotAlone() {
		beside = upper(notAlone(r.GetBeside(), n)) + "."
	}
	reply := receipt(r.GetReceipt(), upper(taskBegun(r.GetTask(), n))+".", beside, first)
	reply.Quiet = reply.Quiet && first+beside == ""
	return reply
}

func taskBegun(t *pb.Task, n Names) string {
	return about(comma(taskOn(t, n)+" begun", n.person(t.GetWho())), plain(t.GetTitle()), taskHours(t))
}
