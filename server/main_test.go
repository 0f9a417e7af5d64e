package main

import (
	"bytes"
	"context"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"

	pb "bayword/proto/bayword/v1"
)

// output is a writer that can be read while it is written.
type output struct {
	mu    sync.Mutex
	text  bytes.Buffer
	lines chan string // the address once it is known
}

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if rest, ok := strings.CutPrefix(string(p), "listening on "); ok {
		address, _, _ := strings.Cut(rest, ",")
		o.lines <- address
	}
	return o.text.Write(p)
}

func (o *output) String() string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.text.String()
}

// start runs the server and gives a connection to it and what stops it.
func start(t *testing.T, args ...string) (*grpc.ClientConn, func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out, stderr := &output{lines: make(chan string, 1)}, &output{lines: make(chan string, 1)}
	code := make(chan int, 1)
	go func() { code <- command(ctx, append(args, "-listen", "127.0.0.1:0"), out, stderr) }()
	var address string
	select {
	case address = <-out.lines:
	case c := <-code:
		cancel()
		require.Fail(t, "the server did not start", "exit code %d: %s", c, stderr)
	case <-time.After(30 * time.Second):
		cancel()
		require.Fail(t, "the server did not start in time")
	}
	conn, err := grpc.NewClient(address, grpc.WithTransportCredentials(insecure.NewCredentials()))
	require.NoError(t, err)
	stopped := false
	stop := func() int {
		if stopped {
			return 0
		}
		stopped = true
		_ = conn.Close()
		cancel()
		return <-code
	}
	t.Cleanup(func() { stop() })
	return conn, stop
}

func TestARecordOutlivesTheServer(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	conn, stop := start(t, "-data", dir, "-demo")

	h, err := healthpb.NewHealthClient(conn).Check(t.Context(), &healthpb.HealthCheckRequest{})
	require.NoError(t, err)
	assert.Equal(t, healthpb.HealthCheckResponse_SERVING, h.Status)

	amount := 0.5
	use := &pb.RecordUseRequest{Origin: &pb.Origin{Person: "mabel"}, RequestId: "use-1", Material: "clearcoat", Amount: &amount}
	first, err := pb.NewStockServiceClient(conn).RecordUse(t.Context(), use)
	require.NoError(t, err)
	assert.InDelta(t, 5.5, first.Stock.OnHand, 0)
	assert.Equal(t, exitOK, stop())

	var out bytes.Buffer
	require.Equal(t, exitOK, command(t.Context(), []string{"verify", "-data", dir}, &out, &out), out.String())
	assert.Contains(t, out.String(), "the snapshot equals the replay")

	conn, stop = start(t, "-data", dir, "-demo") // the demo shop is there already
	again, err := pb.NewStockServiceClient(conn).RecordUse(t.Context(), use)
	require.NoError(t, err)
	assert.True(t, again.Receipt.RepeatedRequest)
	assert.Equal(t, first.Receipt.Entry, again.Receipt.Entry)
	got, err := pb.NewStockServiceClient(conn).GetStock(t.Context(), &pb.GetStockRequest{Material: "clearcoat"})
	require.NoError(t, err)
	assert.InDelta(t, 5.5, got.Stock.OnHand, 0)
	assert.Equal(t, exitOK, stop())
}

func TestWhatIsWrongIsSaidInOneLine(t *testing.T) {
	t.Parallel()
	notAFolder := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(notAFolder, []byte("x"), 0o600))
	badShop := filepath.Join(t.TempDir(), "shop.yaml")
	require.NoError(t, os.WriteFile(badShop, []byte("shop: {name: Millrace}\npeople:\n  - {id: wren, name: Wren, role: boss}\n"), 0o600))
	busy, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { _ = busy.Close() })
	running := t.TempDir()
	_, stop := start(t, "-data", running)
	t.Cleanup(func() { stop() })

	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no data folder":      {[]string{}, exitUsage, "-data DIR"},
		"an unknown flag":     {[]string{"-data", t.TempDir(), "-port", "1"}, exitUsage, "-help tells what there is"},
		"a word too many":     {[]string{"-data", t.TempDir(), "check"}, exitUsage, "there are verify and export"},
		"two beginnings":      {[]string{"-data", t.TempDir(), "-demo", "-import", "x"}, exitUsage, "give one of them"},
		"a port in use":       {[]string{"-data", t.TempDir(), "-listen", busy.Addr().String()}, exitFailed, "give another address with -listen"},
		"no such address":     {[]string{"-data", t.TempDir(), "-listen", "nowhere"}, exitFailed, "give an address such as"},
		"a file for a folder": {[]string{"-data", notAFolder, "-listen", "127.0.0.1:0"}, exitFailed, "data folder"},
		"a locked folder":     {[]string{"-data", running, "-listen", "127.0.0.1:0"}, exitFailed, "stop it, or choose another folder"},
		"a shop file amiss":   {[]string{"-data", t.TempDir(), "-listen", "127.0.0.1:0", "-import", badShop}, exitFailed, "shop.yaml:3: people role: \"boss\": accepted are lead"},
		"no shop file":        {[]string{"-data", t.TempDir(), "-listen", "127.0.0.1:0", "-import", badShop + "x"}, exitFailed, "to import"},
		"nothing to verify":   {[]string{"verify", "-data", notAFolder + "x"}, exitFailed, "there is no ledger to verify"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var out bytes.Buffer
			assert.Equal(t, c.code, command(t.Context(), c.args, &out, &out))
			assert.Contains(t, out.String(), c.says)
			assert.LessOrEqual(t, strings.Count(strings.TrimSpace(out.String()), "\n"), 1)
		})
	}
}

func TestADamagedLedgerIsLeftAlone(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	_, stop := start(t, "-data", dir, "-demo")
	require.Equal(t, exitOK, stop())
	head := filepath.Join(dir, "head")
	content, err := os.ReadFile(head)
	require.NoError(t, err)
	require.NoError(t, os.Remove(head))

	var out bytes.Buffer
	assert.Equal(t, exitFailed, command(t.Context(), []string{"-data", dir, "-listen", "127.0.0.1:0"}, &out, &out))
	assert.Contains(t, out.String(), "restore")
	require.NoError(t, os.WriteFile(head, content, 0o600))
	out.Reset()
	assert.Equal(t, exitOK, command(t.Context(), []string{"verify", "-data", dir}, &out, &out), out.String())
}
