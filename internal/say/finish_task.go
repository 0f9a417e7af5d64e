package say

import (
	pb "bayword/proto/bayword/v1"
)

// finishTask is «Task 2 on the heron done, Idris: replace the left sill, 16 of
// 18 h.», what the plan wanted done before, what can be begun because of it, and
// what to check.
func finishTask(r *pb.FinishTaskResponse, n Names) Reply {
	freed := ""
	if len(r.GetFreed()) > 0 {
		freed = "Can be started now: " + some(asTasks(taskItems(r.GetFreed(), false, n)), 5) + "."
	}
	first := notDoneFirst(r.GetNotDoneFirst())
	reply := minded(r.GetReceipt(), r.GetCaution(), upper(taskDone(r.GetTask(), n))+".", first, freed)
	reply.Quiet = reply.Quiet && first == ""
	return reply
}

func taskDone(t *pb.Task, n Names) string {
	spent := "" // an estimate alone says nothing of a task that is done
	if t.GetLoggedHours() > 0 {
		spent = taskHours(t)
	}
	return about(comma(taskOn(t, n)+" done", n.person(t.GetWho())), plain(t.GetTitle()), spent)
}
