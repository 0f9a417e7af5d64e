package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func (b *bench) plan() pb.PlanServiceClient { return pb.NewPlanServiceClient(b.conn) }

func (b *bench) parts() pb.PartServiceClient { return pb.NewPartServiceClient(b.conn) }

func (b *bench) start(person, job, task string) *pb.StartTaskResponse {
	b.t.Helper()
	resp, err := b.plan().StartTask(b.t.Context(), &pb.StartTaskRequest{Origin: b.by(person), RequestId: b.id(), Job: job, Task: task})
	require.NoError(b.t, err)
	return resp
}

func (b *bench) finish(person, job, task string) *pb.FinishTaskResponse {
	b.t.Helper()
	resp, err := b.plan().FinishTask(b.t.Context(), &pb.FinishTaskRequest{Origin: b.by(person), RequestId: b.id(), Job: job, Task: task})
	require.NoError(b.t, err)
	return resp
}

func numbersOf(tasks []*pb.Task) []uint32 {
	var out []uint32
	for _, t := range tasks {
		out = append(out, t.Number)
	}
	return out
}

func TestATaskIsAddedAndDone(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	req := &pb.AddTaskRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "tern", Title: "weld up the badge holes", Hours: num(2.0), After: []uint32{12}, Who: "idris", NeedsPart: "badge",
	}
	added, err := b.plan().AddTask(t.Context(), req)
	require.NoError(t, err)
	want := &pb.Task{
		Number: 13, Job: "tern", Title: "weld up the badge holes", Stage: "strip", LowHours: 1.5, LikelyHours: 2, HighHours: 3.2, After: []uint32{12},
		State: pb.TaskState_TASK_STATE_WAITING, Who: "idris", NeedsPart: "badge", Entry: added.Receipt.Entry,
	}
	assertProto(t, want, added.Task)
	assert.Equal(t, []string{"Nothing on record is called badge: it is not on order."}, added.Receipt.Warnings)
	again, err := b.plan().AddTask(t.Context(), req)
	require.NoError(t, err)
	assert.True(t, again.Receipt.RepeatedRequest)
	assertProto(t, want, again.Task)

	begun := b.start("idris", "tern", "badge holes")
	assert.Equal(t, []string{"12 strip the shell to bare metal"}, begun.NotDoneFirst)
	assert.Equal(t, []string{"Badge: not on order."}, begun.Receipt.Warnings, "what is not done first is told once")
	assert.Equal(t, pb.TaskState_TASK_STATE_DOING, begun.Task.State)
	assert.Equal(t, opened, begun.Task.StartedAt.AsTime())
	_, err = b.plan().StartTask(t.Context(), &pb.StartTaskRequest{Origin: b.by("idris"), RequestId: b.id(), Task: "13"})
	assert.Equal(t, "ALREADY_DONE", info(t, err).Reason)

	_, err = b.hours.LogHours(t.Context(), &pb.LogHoursRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "tern", Hours: num(1.5), Work: "13"})
	require.NoError(t, err)
	done := b.finish("jonah", "tern", "13")
	assert.Equal(t, pb.TaskState_TASK_STATE_DONE, done.Task.State)
	assert.Equal(t, "idris", done.Task.Who)
	assert.Equal(t, []string{"12 strip the shell to bare metal"}, done.NotDoneFirst)
	assert.InDelta(t, 1.5, done.Task.LoggedHours, 0)
	assert.Equal(t, opened, done.Task.FinishedAt.AsTime())
	assert.Empty(t, done.Freed)
}

func TestAFinishFreesWhatWaited(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	done := b.finish("mabel", "osmere", "blocking")
	assert.Equal(t, []uint32{8}, numbersOf(done.Freed))
	dry, err := b.plan().FinishTask(t.Context(), &pb.FinishTaskRequest{Origin: b.by("tomasz"), RequestId: b.id(), Job: "pilot", ValidateOnly: true})
	require.NoError(t, err)
	assert.Equal(t, uint32(10), dry.Task.Number, "the one in hand")
	assert.Zero(t, dry.Receipt.Entry)
	status, err := b.jobs.GetStatus(t.Context(), &pb.GetStatusRequest{Origin: b.by("wren"), Job: "pilot"})
	require.NoError(t, err)
	assert.Equal(t, []string{"wire the injection loom, Tomasz"}, status.Doing, "a check writes nothing")

	back, err := b.undo("mabel", 0)
	require.NoError(t, err)
	undone := back.Undone.GetFinishedTask()
	assert.Equal(t, pb.TaskState_TASK_STATE_DOING, undone.Task.State)
	assert.Nil(t, undone.Task.FinishedAt)
	assert.Empty(t, undone.Freed)
}

func TestATaskIsMended(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	added, err := b.plan().AddTask(t.Context(), &pb.AddTaskRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "tern", Title: "fill the aerial hole", Hours: num(1.5)})
	require.NoError(t, err)
	got, err := b.amend("idris", &pb.AmendRequest{Hours: num(3.0), HighHours: num(5.0), Title: "weld the aerial hole", Who: "jonah"})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"title fill the aerial hole -> weld the aerial hole", "hours 1.5 -> 3", "low_hours 1.125 -> 2.25", "high_hours 2.4 -> 5", "who - -> jonah",
	}, got.Changes)
	assert.Equal(t, "weld the aerial hole", got.Now.GetAddedTask().Task.Title)
	begun := b.start("idris", "heron", "os sill")
	got, err = b.amend("idris", &pb.AmendRequest{Entry: begun.Receipt.Entry, Task: "rear wing"})
	require.NoError(t, err)
	assert.Equal(t, uint32(4), got.Now.GetStartedTask().Task.Number)
	back, err := b.undo("idris", added.Receipt.Entry)
	require.NoError(t, err)
	assert.Equal(t, "weld the aerial hole", back.Undone.GetAddedTask().Task.Title)
}

func TestWhatComesNext(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	next, err := b.plan().ListNext(t.Context(), &pb.ListNextRequest{Origin: b.by("idris"), Job: "heron", Person: "idris"})
	require.NoError(t, err)
	require.Len(t, next.Tasks, 2)
	assert.Equal(t, []any{uint32(2), "in hand, Idris", uint32(3), "nothing is in its way"},
		[]any{next.Tasks[0].Task.Number, next.Tasks[0].Why, next.Tasks[1].Task.Number, next.Tasks[1].Why})
	assert.Equal(t, []uint32{3, 5}, []uint32{next.Held, next.ToDo})
	assert.Equal(t, []string{"job heron", "person idris"}, next.Basis.Inputs)
	assert.Equal(t, "5 tasks are not done, 3 of them held", next.Basis.Steps[0])
	require.Len(t, next.Basis.Sources, 3)
	assert.Regexp(t, `^task 2: imported, entry \d+$`, next.Basis.Sources[1])
	assert.NotEmpty(t, next.Basis.Assumptions, "how work goes by trade")

	next, err = b.plan().ListNext(t.Context(), &pb.ListNextRequest{Origin: b.by("jonah"), Job: "heron"})
	require.NoError(t, err)
	assert.False(t, next.Tasks[0].NotAlone, "it is in hand by Idris")
	assert.True(t, next.Tasks[1].NotAlone, "an apprentice asks")
	assert.Equal(t, []string{"idris"}, next.Tasks[1].Beside)

	begun := b.start("jonah", "heron", "right sill")
	assert.Equal(t, []string{"idris"}, begun.Beside)
	next, err = b.plan().ListNext(t.Context(), &pb.ListNextRequest{Origin: b.by("idris"), Job: "heron", Person: "idris"})
	require.NoError(t, err)
	assert.Len(t, next.Tasks, 1, "somebody has it now")
	_, err = b.plan().ListNext(t.Context(), &pb.ListNextRequest{Origin: b.by("idris"), Person: "bo"})
	assert.Equal(t, "UNKNOWN_NAME", info(t, err).Reason)
}

func TestWhatHoldsAJob(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	holds, err := b.plan().ListHolds(t.Context(), &pb.ListHoldsRequest{Origin: b.by("wren"), Job: "heron"})
	require.NoError(t, err)
	require.Len(t, holds.Holds, 12)
	first, consent, last := holds.Holds[0], holds.Holds[3], holds.Holds[11]
	assert.Equal(t, pb.HoldKind_HOLD_KIND_PART, first.Kind)
	assert.Equal(t, []string{"4 let in the left rear wing", "rear wing panel, left: due 2026-03-12, not here"}, first.Chain)
	assert.Equal(t, []uint32{4, 1}, []uint32{first.Task.Number, first.Part.Number})
	assert.Equal(t, pb.HoldKind_HOLD_KIND_CONSENT, consent.Kind)
	assert.Equal(t, uint32(2), consent.Extra.Number)
	assert.Equal(t, pb.HoldKind_HOLD_KIND_TASK, holds.Holds[6].Kind)
	assert.Equal(t, uint32(2), holds.Holds[6].RootTask.Number)
	assert.Nil(t, last.Task, "late, and no task waits for it")
	require.Len(t, holds.Late, 1)
	assert.Equal(t, []uint32{2, 4}, []uint32{holds.Late[0].Number, holds.Late[0].DaysLate})
	assert.Equal(t, []uint32{2, 3}, numbersOf(holds.Free))
	assert.Equal(t, "4 let in the left rear wing <- rear wing panel, left: due 2026-03-12, not here", holds.Basis.Steps[0])
	assert.Regexp(t, `part 1: imported, entry \d+`, holds.Basis.Sources)
	assert.Regexp(t, `extra 2: imported, entry \d+`, holds.Basis.Sources)

	all, err := b.plan().ListHolds(t.Context(), &pb.ListHoldsRequest{Origin: b.by("wren")})
	require.NoError(t, err)
	assert.Len(t, all.Holds, 14)
	_, err = b.plan().ListHolds(t.Context(), &pb.ListHoldsRequest{Origin: b.by("wren"), Job: "linnet"})
	assert.Equal(t, "UNKNOWN_NAME", info(t, err).Reason)

	assert.Contains(t, b.finish("wren", "heron", "2").Caution, "carries load")
	b.finish("wren", "heron", "3")
	b.finish("wren", "heron", "4")
	b.finish("wren", "heron", "5")
	_, err = b.paint.RecordCoat(t.Context(), &pb.RecordCoatRequest{
		Origin: b.by("mabel"), RequestId: b.id(), Job: "heron", Material: "high-build", Panels: []string{"roof"}, Coats: num(uint32(1)),
	})
	require.NoError(t, err)
	holds, err = b.plan().ListHolds(t.Context(), &pb.ListHoldsRequest{Origin: b.by("wren"), Job: "heron"})
	require.NoError(t, err)
	assert.Equal(t, pb.HoldKind_HOLD_KIND_COAT, holds.Holds[0].Kind)
	assert.Equal(t, opened.Add(4*60*60*1e9), holds.Holds[0].Until.AsTime(), "4 hours, by the demo sheet")
}

func TestATaskIsAskedAbout(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.start("jonah", "heron", "right sill")
	_, err := b.plan().FinishTask(t.Context(), &pb.FinishTaskRequest{Origin: b.by("wren"), RequestId: b.id(), Job: "heron", Task: "the sill"})
	i := info(t, err)
	assert.Equal(t, "AMBIGUOUS", i.Reason)
	assert.Equal(t, map[string]string{
		"field": "task", "options": "2,3", "option.2": "2 replace the left sill", "option.3": "3 replace the right sill",
	}, i.Metadata)
	_, err = b.plan().FinishTask(t.Context(), &pb.FinishTaskRequest{Origin: b.by("wren"), RequestId: b.id(), Job: "heron", Task: "radiator"})
	i = info(t, err)
	assert.Equal(t, "NOT_FOUND", i.Reason)
	assert.Equal(t, "2 replace the left sill, 3 replace the right sill, 4 let in the left rear wing, 5 epoxy the shell, 6 fill and block", i.Metadata["accepted"])
	_, err = b.plan().AddTask(t.Context(), &pb.AddTaskRequest{Origin: b.by("jonah"), RequestId: b.id()})
	assert.Equal(t, "NOT_ALLOWED", info(t, err).Reason)
}

func TestWhetherOneTaskCanBegin(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	ask := func(job, task string) (*pb.ListHoldsResponse, error) {
		return b.plan().ListHolds(t.Context(), &pb.ListHoldsRequest{Origin: b.by("idris"), Job: job, Task: task})
	}
	epoxy, err := ask("heron", "epoxy")
	require.NoError(t, err)
	assert.Equal(t, uint32(5), epoxy.Task.Number)
	require.NotEmpty(t, epoxy.Holds)
	for _, h := range epoxy.Holds {
		assert.Equal(t, uint32(5), h.Task.Number, "no other task's holds")
	}
	free, err := ask("heron", "right sill")
	require.NoError(t, err)
	assert.Equal(t, uint32(3), free.Task.Number)
	assert.Empty(t, free.Holds)
	_, err = ask("heron", "the moon")
	assert.Equal(t, "NOT_FOUND", info(t, err).Reason)
}
