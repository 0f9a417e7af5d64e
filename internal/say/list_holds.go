package say

import (
	"fmt"
	"slices"

	pb "bayword/proto/bayword/v1"
)

// listHolds is a line a root with the tasks it keeps waiting: «Rear wing panel,
// left, due Thu 12 Mar, Ketteridge Panels: holds 4 let in the left rear wing; 5
// epoxy the shell».
func listHolds(r *pb.ListHoldsResponse, n Names) Reply {
	if r.GetTask() != nil {
		return taskHolds(r, n)
	}
	all := r.GetJob() == ""
	var roots []string
	held := map[string][]string{}
	for _, h := range r.GetHolds() {
		root := holdRoot(h, n)
		if _, known := held[root]; !known {
			roots = append(roots, root)
			held[root] = nil
		}
		if h.GetTask() != nil {
			held[root] = append(held[root], taskItem(h.GetTask(), all, n))
		}
	}
	items := make([]string, len(roots))
	for i, root := range roots {
		items[i] = upper(root)
		if tasks := held[root]; len(tasks) > 0 {
			items[i] += ": holds " + some(tasks, 4)
		}
		items[i] += "."
	}
	what := n.job(r.GetJob())
	if what == "" {
		what = "anything"
	}
	head := "Nothing holds " + what + " up."
	if len(items) > 0 {
		head = "Held" + n.on(r.GetJob()) + ":"
	}
	tail := []string{
		subject("Late parts", lateParts(unheld(r), all, n)),
		subject("Can go on", taskItems(r.GetFree(), all, n)),
	}
	return text(append(append([]string{head}, listed(items, 0, false)...), tail...)...)
}

// unheld are the late parts that stand at the root of no hold: those are told already.
func unheld(r *pb.ListHoldsResponse) []*pb.Part {
	told := map[uint32]bool{}
	for _, h := range r.GetHolds() {
		if h.GetPart() != nil {
			told[h.GetPart().GetNumber()] = true
		}
	}
	var out []*pb.Part
	for _, p := range r.GetLate() {
		if !told[p.GetNumber()] {
			out = append(out, p)
		}
	}
	return out
}

// holdRoot is the root in the shop's words, from the record at it where there is one.
func holdRoot(h *pb.Hold, n Names) string {
	switch {
	case h.GetKind() == pb.HoldKind_HOLD_KIND_TASK && h.GetRootTask() != nil && h.GetRootTask().GetNumber() != h.GetTask().GetNumber():
		t := h.GetRootTask()
		return comma(taskName(t), taskStates[t.GetState()], n.person(t.GetWho()))
	case h.GetKind() == pb.HoldKind_HOLD_KIND_PART && h.GetPart() != nil:
		p := h.GetPart()
		return comma(partCalled(p), partNow(p, n), short(p.GetSupplier()))
	case h.GetKind() == pb.HoldKind_HOLD_KIND_CONSENT && h.GetExtra() != nil:
		return fmt.Sprintf("the customer's word on extra %d, %s", h.GetExtra().GetNumber(), short(h.GetExtra().GetText()))
	}
	root := n.days(short(h.GetRoot()))
	if root == "" {
		root = "something not named"
	}
	if until := n.when(h.GetUntil()); until != "" && h.GetKind() == pb.HoldKind_HOLD_KIND_COAT {
		root = comma(root, "until "+until)
	}
	return root
}

// taskHolds says whether one task can begin: «Not yet: task 5 epoxy the shell on the
// heron waits for:» and its roots.
func taskHolds(r *pb.ListHoldsResponse, n Names) Reply {
	t := r.GetTask()
	name := "task " + taskItem(t, true, n)
	switch t.GetState() {
	case pb.TaskState_TASK_STATE_DONE:
		return text(upper(name) + " is done.")
	case pb.TaskState_TASK_STATE_DOING:
		return text(comma(upper(name)+" is in hand", n.person(t.GetWho())) + ".")
	}
	if len(r.GetHolds()) == 0 {
		return text("Yes: " + name + " can begin, nothing is in its way.")
	}
	var roots []string
	for _, h := range r.GetHolds() {
		if root := upper(holdRoot(h, n)) + "."; !slices.Contains(roots, root) {
			roots = append(roots, root)
		}
	}
	return text(append([]string{"Not yet: " + name + " waits."}, listed(roots, 0, false)...)...)
}
