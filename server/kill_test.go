package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	pb "bayword/proto/bayword/v1"
)

// asServer makes this test's program behave as the server, so that there is a
// process to signal and to kill.
const asServer = "BAYWORD_TEST_AS_SERVER"

func TestMain(m *testing.M) {
	if os.Getenv(asServer) != "" {
		main()
	}
	os.Exit(m.Run())
}

// process starts the server as a process of its own; it ends with the test.
func process(t *testing.T, args ...string) (*exec.Cmd, *grpc.ClientConn) {
	t.Helper()
	cmd := exec.Command(os.Args[0], append(args, "-listen", "127.0.0.1:0")...)
	cmd.Env = append(os.Environ(), asServer+"=1")
	stderr := &output{}
	cmd.Stderr = stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err, "%s", stderr)
	address, _, _ := strings.Cut(strings.TrimPrefix(line, "listening on "), ",")
	conn, err := grpc.NewClient(address, grpc.WithTransportCredentials(insecure.NewCredentials()))
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close() })
	return cmd, conn
}

func TestASignalStopsTheServer(t *testing.T) {
	t.Parallel()
	for _, signal := range []os.Signal{syscall.SIGTERM, os.Interrupt} {
		dir := t.TempDir()
		cmd, _ := process(t, "-data", dir, "-demo")
		require.NoError(t, cmd.Process.Signal(signal))
		require.NoError(t, cmd.Wait(), "it ends with exit code 0")
		var out bytes.Buffer
		assert.Equal(t, exitOK, command(t.Context(), []string{"verify", "-data", dir}, &out, &out), out.String())
	}
}

// Uses are written by several at once, and the server is killed in the middle,
// again and again. Whoever got no answer repeats the request with the same id.
// In the end every use is there, and none twice.
func TestKilledWhileWriting(t *testing.T) {
	t.Parallel()
	const kills, clients = 6, 8
	dir := t.TempDir()
	var mu sync.Mutex
	answered := map[string]uint64{} // request id → entry
	var unanswered []string
	next := 0
	for range kills {
		cmd, conn := process(t, "-data", dir, "-demo")
		ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
		repeat := unanswered
		unanswered = nil
		var wg sync.WaitGroup
		for range clients {
			wg.Go(func() {
				for {
					mu.Lock()
					var id string
					if len(repeat) > 0 {
						id, repeat = repeat[0], repeat[1:]
					} else {
						id = fmt.Sprintf("use-%d", next)
						next++
					}
					mu.Unlock()
					entry, err := useOne(ctx, conn, id)
					mu.Lock()
					if err != nil {
						unanswered = append(unanswered, id)
						mu.Unlock()
						return
					}
					before, known := answered[id]
					answered[id] = entry
					n := len(answered)
					mu.Unlock()
					assert.True(t, !known || before == entry)
					if n%50 == 0 { // in the middle of the others' writes
						_ = cmd.Process.Kill()
					}
				}
			})
		}
		wg.Wait()
		cancel()
		_ = cmd.Wait()
		unanswered = append(unanswered, repeat...)
	}
	cmd, conn := process(t, "-data", dir)
	for id, entry := range answered {
		again, err := useOne(t.Context(), conn, id)
		require.NoError(t, err)
		require.Equal(t, entry, again, "%s was acknowledged", id)
	}
	for _, id := range unanswered {
		_, err := useOne(t.Context(), conn, id)
		require.NoError(t, err)
		answered[id] = 0
	}
	got, err := pb.NewStockServiceClient(conn).GetStock(t.Context(), &pb.GetStockRequest{Material: "thinner"})
	require.NoError(t, err)
	assert.InDelta(t, 7.5-float64(len(answered))*0.001, got.Stock.OnHand, 1e-9, "%d uses, each once", len(answered))
	require.NoError(t, cmd.Process.Signal(syscall.SIGTERM))
	require.NoError(t, cmd.Wait())
	var out bytes.Buffer
	assert.Equal(t, exitOK, command(t.Context(), []string{"verify", "-data", dir}, &out, &out), out.String())
}

// useOne uses a millilitre of thinner and gives the entry.
func useOne(ctx context.Context, conn *grpc.ClientConn, id string) (uint64, error) {
	amount := 0.001
	r, err := pb.NewStockServiceClient(conn).RecordUse(ctx, &pb.RecordUseRequest{
		Origin: &pb.Origin{Person: "mabel"}, RequestId: id, Material: "thinner", Amount: &amount,
	})
	return r.GetReceipt().GetEntry(), err
}
