package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
)

// listNext is what is in hand, then what can be begun, a line a task: «3 replace
// the right sill, 18 h (14–30): nothing is in its way».
func listNext(r *pb.ListNextResponse, n Names) Reply {
	whose := n.on(r.GetJob())
	if r.GetPerson() != "" {
		whose += " for " + n.person(r.GetPerson())
	}
	held := ""
	if h := r.GetHeld(); h > 0 {
		held = fmt.Sprintf("Held: %d of %s to do.", h, plural(int(r.GetToDo()), "task", "tasks"))
	}
	if len(r.GetTasks()) == 0 {
		if r.GetToDo() == 0 {
			return text("No tasks left to do" + whose + ".")
		}
		return text("Nothing can be started"+whose+" now.", held)
	}
	items := make([]string, len(r.GetTasks()))
	for i, t := range r.GetTasks() {
		items[i] = nextItem(t, r, n)
	}
	return text(append(append([]string{"Next" + whose + ":"}, listed(items, 0, false)...), held)...)
}

func nextItem(t *pb.NextTask, r *pb.ListNextResponse, n Names) string {
	who := ""
	if r.GetPerson() == "" && t.GetTask().GetState() != pb.TaskState_TASK_STATE_DOING { // why names them already
		who = n.person(t.GetTask().GetWho())
	}
	why := short(t.GetWhy())
	if why == "" {
		why = taskStates[t.GetTask().GetState()]
	}
	out := comma(taskItem(t.GetTask(), r.GetJob() == "", n), who, taskHours(t.GetTask()))
	if t.GetNotAlone() {
		why = comma(why, notAlone(t.GetBeside(), n))
	}
	if why == "" {
		return out
	}
	return out + ": " + why
}

// notAlone is «not alone: with Idris beside».
func notAlone(with []string, n Names) string {
	names := make([]string, len(with))
	for i, id := range with {
		names[i] = n.person(id)
	}
	return "not alone: with " + orElse(or(names), "somebody qualified") + " beside"
}
