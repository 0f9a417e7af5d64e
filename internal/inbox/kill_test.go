package inbox_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/inbox"
	"bayword/internal/say"
)

// childDir, when set, turns the test program into the process that is killed.
const childDir = "INBOX_TEST_CHILD_DIR"

func TestMain(m *testing.M) {
	if dir := os.Getenv(childDir); dir != "" {
		if err := child(dir); err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// child puts and finishes messages, saying each durable step on its output,
// until it is killed or a bound is reached.
func child(dir string) error {
	b, err := inbox.Open(dir)
	if err != nil {
		return err
	}
	ctx := context.Background()
	fmt.Println("open")
	for i := range 20_000 {
		id := fmt.Sprintf("%d-%d", os.Getpid(), i)
		if _, err := b.Put(ctx, said(id)); err != nil {
			return err
		}
		fmt.Println("put", id)
		if i%2 == 0 {
			continue
		}
		if err := b.Done(ctx, id, &say.Reply{Text: "reply to " + id}); err != nil {
			return err
		}
		fmt.Println("done", id)
	}
	return nil
}

// Everything the child said was durable is there after SIGKILL, round after
// round in the same folder.
func TestKillLosesNothingAcknowledged(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	put, done := map[string]bool{}, map[string]bool{}
	for round := range 5 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childDir+"="+dir)
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		lines := bufio.NewScanner(out)
		steps := 0
		for lines.Scan() {
			verb, id, _ := strings.Cut(lines.Text(), " ")
			switch verb {
			case "put":
				put[id] = true
			case "done":
				done[id] = true
			case "error":
				assert.Fail(t, "child failed", lines.Text())
			}
			if steps++; steps == 150+37*round {
				require.NoError(t, cmd.Process.Kill())
				// What is still in the pipe was said before the kill and counts too.
			}
		}
		require.Error(t, cmd.Wait(), "the child must have been killed, not have ended")

		b, err := inbox.Open(dir)
		require.NoError(t, err)
		pending := map[string]bool{}
		for _, id := range ids(t, b) {
			assert.False(t, pending[id], "%s is pending twice", id)
			pending[id] = true
		}
		unsent := map[string]bool{}
		list, err := b.Unsent(t.Context())
		require.NoError(t, err)
		for _, e := range list {
			assert.False(t, unsent[e.Message.ID], "%s is in the outbox twice", e.Message.ID)
			unsent[e.Message.ID] = true
			assert.Equal(t, "reply to "+e.Message.ID, e.Reply.Text)
			assert.False(t, pending[e.Message.ID], "%s is both pending and answered", e.Message.ID)
		}
		for id := range put {
			assert.True(t, pending[id] || unsent[id], "%s was acknowledged and is lost", id)
		}
		for id := range done {
			assert.True(t, unsent[id], "the reply to %s was acknowledged and is lost", id)
		}
		require.NoError(t, b.Close())
	}
	assert.NotEmpty(t, done)
}
