package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// The stage that a task was begun in is the job's wherever it is told, and the names
// are another version then.
func TestTheStageTheWorkIsInIsTold(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	told := func() []string {
		status, err := b.jobs.GetStatus(t.Context(), &pb.GetStatusRequest{Origin: b.by("wren"), Job: "heron"})
		require.NoError(t, err)
		list, err := b.jobs.ListJobs(t.Context(), &pb.ListJobsRequest{Origin: b.by("wren")})
		require.NoError(t, err)
		names, err := b.names.GetVocabulary(t.Context(), &pb.GetVocabularyRequest{})
		require.NoError(t, err)
		return []string{status.Job.Stage, list.Jobs[0].Job.Stage, names.Jobs[0].Stage}
	}
	assert.Equal(t, []string{"metal", "metal", "metal"}, told())
	names, err := b.names.GetVocabulary(t.Context(), &pb.GetVocabularyRequest{})
	require.NoError(t, err)
	_, err = pb.NewPlanServiceClient(b.conn).StartTask(t.Context(), &pb.StartTaskRequest{Origin: b.by("mabel"), RequestId: b.id(), Job: "heron", Task: "5"})
	require.NoError(t, err)
	assert.Equal(t, []string{"paint", "paint", "paint"}, told())
	again, err := b.names.GetVocabulary(t.Context(), &pb.GetVocabularyRequest{KnownVersion: names.Version})
	require.NoError(t, err)
	assert.False(t, again.Unchanged)
	logged, err := b.hours.LogHours(t.Context(), &pb.LogHoursRequest{Origin: b.by("mabel"), RequestId: b.id(), Job: "heron", Hours: num(2.0)})
	require.NoError(t, err)
	assert.Equal(t, "paint", logged.Stage.Stage)
	_, err = b.undo("mabel", logged.Receipt.Entry)
	require.NoError(t, err)
	_, err = b.undo("mabel", 0)
	require.NoError(t, err)
	assert.Equal(t, []string{"metal", "metal", "metal"}, told())
}
