package say

import (
	"cmp"
	"fmt"
	"slices"

	pb "bayword/proto/bayword/v1"
)

// mostHolds is how many roots are told at once; one more is told too, rather than
// that there is one more.
const mostHolds = 6

// held is a root with the tasks that wait for it.
type held struct {
	root  string
	tasks []*pb.Hold
}

// listHolds is a line a root, the one that holds most first: «Rear wing panel, left,
// due Thu 12 Mar, Ketteridge Panels: holds 4 let in the left rear wing, and 2 after
// it.»
func listHolds(r *pb.ListHoldsResponse, n Names) Reply {
	if r.GetTask() != nil {
		return taskHolds(r, n)
	}
	all := r.GetJob() == ""
	roots := byRoot(r.GetHolds(), n)
	what := n.job(r.GetJob())
	if what == "" {
		what = "anything"
	}
	head := "Nothing holds " + what + " up."
	who := upper(orElse(n.job(r.GetJob()), "the shop")) + " waits for "
	told := len(roots)
	switch {
	case told == 1: // one line says it
		head, told = who+roots[0].root+holds(roots[0].tasks, all, n)+".", 0
		roots = nil
	case told > 1:
		head = who + fmt.Sprintf("%d things, what holds most first:", told)
	}
	lines := []string{head}
	if told > mostHolds+1 {
		told = mostHolds
	}
	for _, h := range roots[:told] {
		lines = append(lines, upper(h.root)+holds(h.tasks, all, n)+".")
	}
	if more := len(roots) - told; more > 0 {
		rest := "ask for its parts and its tasks to see them"
		if all {
			rest = "ask about one vehicle to see them"
		}
		lines = append(lines, fmt.Sprintf("… and %d more: %s.", more, rest))
	}
	return text(append(lines,
		subject("Late parts", lateParts(unheld(r), all, n)),
		subject("Can go on", taskItems(r.GetFree(), all, n)),
	)...)
}

// byRoot gathers holds by their root in words, those that hold most first.
func byRoot(holds []*pb.Hold, n Names) []held {
	var out []held
	at := map[string]int{}
	for _, h := range holds {
		root := holdRoot(h, n)
		i, known := at[root]
		if !known {
			i = len(out)
			at[root] = i
			out = append(out, held{root: root})
		}
		if h.GetTask() != nil {
			out[i].tasks = append(out[i].tasks, h)
		}
	}
	slices.SortStableFunc(out, func(a, b held) int { return cmp.Compare(len(b.tasks), len(a.tasks)) })
	return out
}

// holds is «: holds 4 let in the left rear wing, and 2 after it»: those next to the
// root by name, those behind them by number.
func holds(tasks []*pb.Hold, withJob bool, n Names) string {
	if len(tasks) == 0 {
		return ""
	}
	nearest := len(slices.MinFunc(tasks, func(a, b *pb.Hold) int { return cmp.Compare(len(a.GetChain()), len(b.GetChain())) }).GetChain())
	var next []string
	for _, h := range tasks {
		if len(h.GetChain()) == nearest {
			next = append(next, taskItem(h.GetTask(), withJob, n))
		}
	}
	out := ": holds " + some(next, 4)
	if behind := len(tasks) - len(next); behind > 0 {
		out += fmt.Sprintf(", and %d after", behind)
	}
	return out
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
