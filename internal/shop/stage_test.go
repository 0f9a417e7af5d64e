package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

// stages gives the stage of a job by every way of asking: its status, the list, and
// what hours, tasks and extras with nothing said go to.
func stages(t *testing.T, st *shop.State, job string) []shop.Stage {
	t.Helper()
	status, err := st.Status(job, london(t))
	require.NoError(t, err)
	all := []shop.Stage{status.Stage}
	for _, l := range st.Jobs() {
		if l.ID == job {
			all = append(all, l.Stage)
		}
	}
	d, err := st.DecideHours("wren", london(t), shop.NewHours{Job: job, Hours: hours(1)})
	require.NoError(t, err)
	logged, _ := d.Event.(shop.HoursLogged)
	d, err = st.DecideTask("wren", london(t), shop.NewTask{Job: job, Title: "wash it"})
	require.NoError(t, err)
	added, _ := d.Event.(shop.TaskAdded)
	d, err = st.DecideProposal("wren", shop.NewExtra{Job: job, Text: "a wash", Hours: hours(1)})
	require.NoError(t, err)
	extra, _ := d.Event.(shop.ExtraProposed)
	hung, err := st.Hung(shop.Where{Job: job, Panel: "door", Side: shop.Left})
	require.NoError(t, err)
	return append(all, logged.Stage, added.Stage, extra.Stage, hung.Stage)
}

func six(st shop.Stage) []shop.Stage { return []shop.Stage{st, st, st, st, st, st} }

func TestAJobsStageFollowsTheWork(t *testing.T) {
	t.Parallel()
	st := coats(t)
	assert.Equal(t, six(shop.Metal), stages(t, st, "heron"), "as it came in")
	names := st.NamesSeq()
	begun := begin(t, st, "mabel", shop.Progress{Job: "heron", Task: "5"})
	assert.Equal(t, six(shop.Paint), stages(t, st, "heron"))
	assert.Greater(t, st.NamesSeq(), names, "who knows the job by its stage asks again")
	again := begin(t, st, "idris", shop.Progress{Job: "heron", Task: "3"})
	assert.Equal(t, six(shop.Metal), stages(t, st, "heron"), "back to metal")
	end(t, st, "mabel", shop.Progress{Job: "heron", Task: "5"})
	assert.Equal(t, six(shop.Metal), stages(t, st, "heron"), "an end moves nothing that a start said")

	data, err := st.Snapshot()
	require.NoError(t, err)
	back, err := shop.Restore(data)
	require.NoError(t, err)
	assert.Equal(t, six(shop.Metal), stages(t, back, "heron"))

	undo(t, st, "idris", again)
	assert.Equal(t, six(shop.Paint), stages(t, st, "heron"))
	undo(t, st, "mabel", begun)
	assert.Equal(t, six(shop.Paint), stages(t, st, "heron"), "no start: the end counts")
	undo(t, st, "mabel", 0)
	assert.Equal(t, six(shop.Metal), stages(t, st, "heron"))
}

func TestAStartThatWasMeantOfAnotherTaskMovesTheStage(t *testing.T) {
	t.Parallel()
	st := coats(t)
	d, err := st.DecideTask("wren", london(t), shop.NewTask{Job: "tern", Title: "wire the clock", Stage: "mechanical"})
	says(t, st, "wren", d, err)
	begun := begin(t, st, "wren", shop.Progress{Job: "tern", Task: "clock"})
	assert.Equal(t, six(shop.Mechanical), stages(t, st, "tern"))
	d, err = st.DecideTask("wren", london(t), shop.NewTask{Job: "tern", Title: "trim the roof", Stage: "trim"})
	says(t, st, "wren", d, err)
	d, err = st.DecideAmend("wren", london(t), begun, shop.Changes{Task: "roof"})
	says(t, st, "wren", d, err)
	assert.Equal(t, six(shop.Trim), stages(t, st, "tern"))
}

// An extra that came with the job names no stage: its hours stay where the job was,
// wherever the work has got to.
func TestAnImportedExtraStaysInItsStage(t *testing.T) {
	t.Parallel()
	st := coats(t)
	begin(t, st, "mabel", shop.Progress{Job: "heron", Task: "5"})
	x, ok := st.Extra(1)
	require.True(t, ok)
	assert.Equal(t, shop.Metal, x.Stage)
}
