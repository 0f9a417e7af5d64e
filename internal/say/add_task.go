package say

import (
	pb "bayword/proto/bayword/v1"
)

// addTask is «Task 13 on the tern: weld up the badge holes, 2 h (1.5–3.5), strip.»
// and what it hangs on.
func addTask(r *pb.AddTaskResponse, n Names) Reply {
	t := r.GetTask()
	takes := taskHours(t)
	if takes == "" {
		takes = "no hours estimated"
	}
	who := ""
	if t.GetWho() != "" {
		who = "for " + n.person(t.GetWho())
	}
	needs := ""
	if t.GetNeedsPart() != "" {
		needs = "needs " + plain(t.GetNeedsPart())
	}
	after := ""
	if tasks := ofNumbers("task", "tasks", t.GetAfter()); tasks != "" {
		after = "after " + tasks
	}
	return receipt(r.GetReceipt(), upper(taskAdded(t, n))+", "+comma(takes, plain(t.GetStage()), who)+".", sentence(comma(after, needs)))
}

// taskAdded is «task 13 on the tern: weld up the badge holes».
func taskAdded(t *pb.Task, n Names) string { return about(taskOn(t, n), plain(t.GetTitle())) }
