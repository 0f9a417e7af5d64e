package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

var taskStates = map[pb.TaskState]string{
	pb.TaskState_TASK_STATE_WAITING: "not begun",
	pb.TaskState_TASK_STATE_DOING:   "in hand",
	pb.TaskState_TASK_STATE_DONE:    "done",
}

// taskName is «task 4 let in the left rear wing»; work of a stage that no task
// names has no number.
func taskName(t *pb.Task) string {
	if t.GetNumber() == 0 {
		return spaced("other", short(named(t.GetTitle(), t.GetStage())), "work")
	}
	return spaced(fmt.Sprintf("task %d", t.GetNumber()), short(t.GetTitle()))
}

// taskItem is «4 let in the left rear wing», with its vehicle if wanted.
func taskItem(t *pb.Task, withJob bool, n Names) string {
	out := spaced(fmt.Sprint(t.GetNumber()), short(t.GetTitle()))
	if withJob {
		out += n.on(t.GetJob())
	}
	return out
}

func taskItems(tasks []*pb.Task, withJob bool, n Names) []string {
	out := make([]string, len(tasks))
	for i, t := range tasks {
		out[i] = taskItem(t, withJob, n)
	}
	return out
}

// taskOn is «task 4 on the heron».
func taskOn(t *pb.Task, n Names) string {
	return fmt.Sprintf("task %d", t.GetNumber()) + n.on(t.GetJob())
}

// taskHours is «12 of 18 h», or «18 h (14–30)» before any are logged; empty
// when there is neither.
func taskHours(t *pb.Task) string {
	switch {
	case t.GetLoggedHours() > 0:
		return ofEstimate(t.GetLoggedHours(), t.GetLikelyHours())
	case !(t.GetLikelyHours() > 0):
		return ""
	case t.GetLowHours() > 0 && t.GetHighHours() > 0:
		return hours(t.GetLikelyHours()) + " (" + span(t.GetLowHours(), t.GetHighHours()) + ")"
	}
	return hours(t.GetLikelyHours())
}

// taskNow is how a task stands, for one that was taken back to it.
func taskNow(t *pb.Task) string {
	if s := taskStates[t.GetState()]; s != "" {
		return "It is " + s + " now."
	}
	return ""
}

// asTasks puts the word before each of «4 let in the left rear wing»: «task 4 let
// in the left rear wing».
func asTasks(items []string) []string {
	out := make([]string, len(items))
	for i, it := range items {
		it = short(it)
		if it != "" && it[0] >= '0' && it[0] <= '9' {
			it = "task " + it
		}
		out[i] = it
	}
	return out
}

// numbers is «1 and 2».
func numbers(list []uint32) string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = fmt.Sprint(v)
	}
	if more := len(out) - 8; more > 0 {
		out = append(out[:8], fmt.Sprintf("%d more", more))
	}
	return and(out)
}

// ofNumbers is «task 3» or «tasks 3 and 4»; empty for none.
func ofNumbers(one, many string, list []uint32) string {
	switch len(list) {
	case 0:
		return ""
	case 1:
		return one + " " + numbers(list)
	}
	return many + " " + numbers(list)
}
