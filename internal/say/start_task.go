package say

import (
	pb "bayword/proto/bayword/v1"
)

// startTask is «Task 3 on the heron begun, Idris: replace the right sill, 18 h
// (14–30).», who is to be beside an apprentice, and what the plan wanted done before.
func startTask(r *pb.StartTaskResponse, n Names) Reply {
	first := notDoneFirst(r.GetNotDoneFirst())
	beside := ""
	if r.GetNotAlone() {
		beside = upper(notAlone(r.GetBeside(), n)) + "."
	}
	reply := receipt(r.GetReceipt(), upper(taskBegun(r.GetTask(), n))+".", beside, first)
	reply.Quiet = reply.Quiet && first+beside == ""
	return reply
}

// notDoneFirst is what the plan wanted done before.
func notDoneFirst(tasks []string) string {
	if len(tasks) == 0 {
		return ""
	}
	return "Not done before it, as planned: " + some(asTasks(tasks), 5) + "."
}

func taskBegun(t *pb.Task, n Names) string {
	return about(comma(taskOn(t, n)+" begun", n.person(t.GetWho())), plain(t.GetTitle()), taskHours(t))
}
