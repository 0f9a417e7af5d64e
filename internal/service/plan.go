package service

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// AddTask adds a task.
func (s *Service) AddTask(ctx context.Context, req *pb.AddTaskRequest) (*pb.AddTaskResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideTask(by, now, shop.NewTask{
			Job: req.Job, Title: req.Title, Hours: req.Hours, Low: req.LowHours, High: req.HighHours, Stage: req.Stage,
			After: intsOf(req.After), AfterNamed: req.AfterNamed, Who: req.Who, NeedsPart: req.NeedsPart,
		})
	}, recorded((*pb.Outcome).GetAddedTask))
}

// StartTask says that somebody began a task.
func (s *Service) StartTask(ctx context.Context, req *pb.StartTaskRequest) (*pb.StartTaskResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideTaskStart(by, now, shop.Progress{Job: req.Job, Task: req.Task, Who: req.Who})
	}, recorded((*pb.Outcome).GetStartedTask))
}

// FinishTask says that a task is done.
func (s *Service) FinishTask(ctx context.Context, req *pb.FinishTaskRequest) (*pb.FinishTaskResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideTaskEnd(by, now, shop.Progress{Job: req.Job, Task: req.Task, Who: req.Who})
	}, recorded((*pb.Outcome).GetFinishedTask))
}

// ListNext lists what is in hand and what can be begun.
func (s *Service) ListNext(_ context.Context, req *pb.ListNextRequest) (*pb.ListNextResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	next, err := s.state.Next(req.Job, req.Person, s.clock().In(s.zone))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListNextResponse{
		Job: req.Job, Person: req.Person, Held: uint32(next.Held), ToDo: uint32(next.ToDo),
		Basis: &pb.Basis{
			Inputs: inputs("job", req.Job, "person", req.Person),
			Steps: []string{
				fmt.Sprintf("%d tasks are not done, %d of them held", next.ToDo, next.Held),
				"a task can begin when those before it are done, its part is here and nothing waits for the customer",
			},
			Sources: []string{"the shop's ledger"},
		},
	}
	if req.Person != "" {
		resp.Basis.Assumptions = []string{"work goes by trade: metal people strip too, everybody assembles, the lead and apprentices take what there is"}
	}
	for _, t := range next.Tasks {
		with, needed := s.state.Beside(cmp.Or(req.Person, t.Who, req.GetOrigin().GetPerson()), t.TaskAdded)
		resp.Tasks = append(resp.Tasks, &pb.NextTask{Task: taskPB(t.Task), Why: t.Why, NotAlone: needed, Beside: with})
		resp.Basis.Sources = append(resp.Basis.Sources, taskSource(t.Task))
	}
	return resp, nil
}

// ListHolds names what keeps tasks from beginning, and the root of each hold.
func (s *Service) ListHolds(_ context.Context, req *pb.ListHoldsRequest) (*pb.ListHoldsResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	st, now := s.state, s.clock().In(s.zone)
	holds, err := st.Holds(req.Job, now)
	if err != nil {
		return nil, s.failure(err)
	}
	var asked *shop.Task
	if req.Task != "" {
		t, err := st.TaskCalled(now, req.Job, req.Task)
		if err != nil {
			return nil, s.failure(err)
		}
		asked = &t
		holds = slices.DeleteFunc(holds, func(h shop.Hold) bool { return h.Task == nil || h.Task.Number != t.Number })
	}
	late, err := st.Parts(shop.PartFilter{Job: req.Job, State: shop.Late}, now)
	if err != nil {
		return nil, s.failure(err)
	}
	next, err := st.Next(req.Job, "", now)
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListHoldsResponse{Job: req.Job, Basis: &pb.Basis{
		Inputs: inputs("job", req.Job, "task", req.Task),
		Assumptions: []string{
			"a part is a task's when its name has the words the task needs, and an extra when it has the words of the task's title",
		},
		Sources: []string{"the shop's ledger"},
	}}
	if asked != nil {
		resp.Task = taskPB(*asked)
		resp.Basis.Sources = appendNew(resp.Basis.Sources, taskSource(*asked))
	}
	for _, h := range holds {
		resp.Holds = append(resp.Holds, holdPB(st, h))
		resp.Basis.Steps = append(resp.Basis.Steps, strings.Join(h.Chain, " <- "))
		for _, source := range holdSources(st, h) {
			resp.Basis.Sources = appendNew(resp.Basis.Sources, source)
		}
	}
	for _, p := range late {
		resp.Late = append(resp.Late, partPB(p))
	}
	for _, t := range next.Tasks {
		resp.Free = append(resp.Free, taskPB(t.Task))
	}
	return resp, nil
}

// inputs says what was asked, of names and values in turn; what is empty was not.
func inputs(kv ...string) []string {
	var out []string
	for i := 0; i+1 < len(kv); i += 2 {
		if kv[i+1] != "" {
			out = append(out, kv[i]+" "+kv[i+1])
		}
	}
	return out
}

func taskSource(t shop.Task) string {
	return recordedAs(fmt.Sprintf("task %d", t.Number), t.By, t.Entries)
}

// holdSources says which records a hold rests on.
func holdSources(st *shop.State, h shop.Hold) []string {
	var sources []string
	if h.Task != nil {
		sources = append(sources, taskSource(*h.Task))
	}
	if h.RootTask != nil {
		sources = append(sources, taskSource(*h.RootTask))
	}
	if h.Part != nil {
		sources = append(sources, recordedAs(fmt.Sprintf("part %d", h.Part.Number), h.Part.By, h.Part.Entries))
	}
	if x, ok := st.Extra(h.Extra); ok {
		sources = append(sources, recordedAs(fmt.Sprintf("extra %d", x.Number), x.By, x.Entries))
	}
	return sources
}

func holdPB(st *shop.State, h shop.Hold) *pb.Hold {
	hold := &pb.Hold{Kind: pb.HoldKind(h.Kind), Root: h.Root, Chain: h.Chain, Until: timestamp(h.Until)}
	if h.Task != nil {
		hold.Task = taskPB(*h.Task)
	}
	if h.RootTask != nil {
		hold.RootTask = taskPB(*h.RootTask)
	}
	if h.Part != nil {
		hold.Part = partPB(*h.Part)
	}
	if x, ok := st.Extra(h.Extra); ok {
		hold.Extra = extraPB(x)
	}
	return hold
}

func startedTask(st *shop.State, e shop.TaskStarted, receipt *pb.Receipt, now time.Time) *pb.StartTaskResponse {
	resp := &pb.StartTaskResponse{
		Receipt: receipt, Task: taskNumbered(st, e.Number, e.Job), NotDoneFirst: st.NotDoneFirst(e.Number, now.In(st.Location())),
	}
	if t, ok := st.TaskNumber(e.Number); ok {
		resp.Beside, resp.NotAlone = st.Beside(t.Who, t.TaskAdded)
	}
	return resp
}

func finishedTask(st *shop.State, e shop.TaskFinished, receipt *pb.Receipt, now time.Time) *pb.FinishTaskResponse {
	resp := &pb.FinishTaskResponse{
		Receipt: receipt, Task: taskNumbered(st, e.Number, e.Job), NotDoneFirst: st.NotDoneFirst(e.Number, now.In(st.Location())),
	}
	if t, ok := st.TaskNumber(e.Number); ok {
		resp.Caution = shop.DoneCaution(t.Title, t.Stage)
	}
	for _, t := range st.FreedBy(e.Number, now.In(st.Location())) {
		resp.Freed = append(resp.Freed, taskPB(t))
	}
	return resp
}

// taskNumbered is a standing task, or what little is known of one that is not.
func taskNumbered(st *shop.State, n int, job string) *pb.Task {
	if t, ok := st.TaskNumber(n); ok {
		return taskPB(t)
	}
	return &pb.Task{Number: uint32(n), Job: job}
}

func taskPB(t shop.Task) *pb.Task {
	return &pb.Task{
		Number: uint32(t.Number), Job: t.Job, Title: t.Title, Stage: t.Stage.String(), LowHours: t.Low, LikelyHours: t.Likely, HighHours: t.High,
		After: uints(t.After), State: pb.TaskState(pb.TaskState_value["TASK_STATE_"+strings.ToUpper(t.State)]), Who: t.Who, NeedsPart: t.NeedsPart,
		LoggedHours: t.Logged.Float(), StartedAt: timestamp(t.Started.At), FinishedAt: timestamp(t.Finished.At), Entry: t.Entry,
	}
}

func uints(numbers []int) []uint32 {
	var out []uint32
	for _, n := range numbers {
		out = append(out, uint32(n))
	}
	return out
}
