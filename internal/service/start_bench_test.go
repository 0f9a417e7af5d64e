package service

import (
	"bufio"
	"fmt"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/shop"
	"bayword/internal/shopfile"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

const million = 1_000_000

// BenchmarkStartMillion starts the server command on a ledger of a million
// entries (uses and hours, some deliveries and finds) that was closed cleanly, and
// reports how long it takes to answer and its resident memory then: rss of all,
// anon without the pages of mapped files. BAYWORD_MILLION keeps the ledger in that
// folder for another run.
func BenchmarkStartMillion(b *testing.B) {
	dir := os.Getenv("BAYWORD_MILLION")
	if dir == "" {
		dir = b.TempDir()
	}
	if _, err := os.Stat(filepath.Join(dir, "head")); err != nil {
		fillMillion(b, dir)
	}
	server := filepath.Join(b.TempDir(), "server")
	build, err := exec.Command("go", "build", "-o", server, "bayword/server").CombinedOutput()
	require.NoError(b, err, string(build))
	var took time.Duration
	for b.Loop() {
		cmd := exec.Command(server, "-data", dir, "-listen", "127.0.0.1:0")
		cmd.Stderr = os.Stderr
		out, err := cmd.StdoutPipe()
		require.NoError(b, err)
		begin := time.Now()
		require.NoError(b, cmd.Start())
		lines := bufio.NewScanner(out)
		require.True(b, lines.Scan())
		took += time.Since(begin)
		reportMemory(b, cmd.Process.Pid)
		require.NoError(b, cmd.Process.Signal(syscall.SIGTERM))
		for lines.Scan() {
		}
		require.NoError(b, cmd.Wait())
	}
	b.ReportMetric(float64(took.Milliseconds())/float64(b.N), "start-ms")
	b.ReportMetric(0, "ns/op")
}

func reportMemory(b *testing.B, pid int) {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return // not this kind of system
	}
	for line := range strings.Lines(string(status)) {
		for field, name := range map[string]string{"VmRSS:": "rss-MB", "RssAnon:": "anon-MB", "VmHWM:": "peak-MB"} {
			if rest, ok := strings.CutPrefix(line, field); ok {
				kb, _ := strconv.Atoi(strings.Fields(rest)[0])
				b.ReportMetric(float64(kb)/1e3, name)
			}
		}
	}
}

// fillMillion writes the demo shop and a million entries after it, as the service
// would, and lets the service save its snapshot.
func fillMillion(b *testing.B, dir string) {
	ctx := b.Context()
	store, err := badger.Open(dir, badger.Options{})
	require.NoError(b, err)
	svc, err := New(ctx, Config{Store: store, Log: slog.New(slog.DiscardHandler)})
	require.NoError(b, err)
	events, err := shopfile.Read("shop.yaml", demo.ShopYAML)
	require.NoError(b, err)
	require.NoError(b, svc.Import(ctx, events))
	require.NoError(b, svc.Close())
	head, err := store.Head(ctx)
	require.NoError(b, err)

	begin := time.Date(2024, 1, 2, 8, 0, 0, 0, time.UTC)
	for n := 0; n < million; {
		expected := head.Seq
		var batches []ledger.Batch
		for range 1000 {
			batch := someBatch(b, n, begin.Add(time.Duration(n)*time.Minute/2))
			head = ledger.Seal(head, &batch)
			batches = append(batches, batch)
			n++
		}
		require.NoError(b, store.Append(ctx, expected, batches))
	}
	svc, err = New(ctx, Config{Store: store, Log: slog.New(slog.DiscardHandler)})
	require.NoError(b, err)
	require.NoError(b, svc.Close())
	require.NoError(b, store.Close())
}

// someBatch is the n-th thing that is said.
func someBatch(b *testing.B, n int, at time.Time) ledger.Batch {
	people := []string{"idris", "mabel", "tomasz", "priya", "jonah"}
	jobs := []string{"heron", "osmere", "pilot", "tern"}
	materials := []string{"clearcoat", "high-build", "thinner", "mig-wire", "p80-discs", "body-filler"}
	person, job, material := people[n%len(people)], jobs[n/3%len(jobs)], materials[n/7%len(materials)]
	day, _ := shop.ParseDay(at.Format("2006-01-02"))
	var e shop.Event
	var resp proto.Message
	switch {
	case n%1000 == 7:
		e = shop.FindRecorded{Number: 5 + n/1000, Job: job, Panel: "sill", Side: shop.Left, Kind: shop.Hole, Width: 120, Height: 40}
		resp = &pb.RecordFindResponse{Receipt: &pb.Receipt{Entry: uint64(n)}, Find: &pb.Find{Number: uint32(5 + n/1000), Job: job, Panel: "sill"}}
	case n%10 == 3:
		e = shop.StockMoved{Kind: shop.Delivery, Material: material, Amount: shop.MicroOf(5)}
		resp = &pb.RecordDeliveryResponse{Receipt: &pb.Receipt{Entry: uint64(n)}, Amount: 5, Stock: &pb.Stock{Material: material, Unit: "L", OnHand: 17.5}}
	case n%2 == 0:
		e = shop.HoursLogged{Job: job, People: []string{person}, Hours: shop.MicroOf(0.25), Stage: shop.Metal, Day: day}
		resp = &pb.LogHoursResponse{Receipt: &pb.Receipt{Entry: uint64(n)}, Job: job, People: []string{person}, Hours: 0.25}
	default:
		e = shop.StockMoved{Kind: shop.Use, Material: material, Amount: shop.MicroOf(0.3), Job: job}
		resp = &pb.RecordUseResponse{Receipt: &pb.Receipt{Entry: uint64(n)}, Amount: 0.3, Stock: &pb.Stock{Material: material, Unit: "L", OnHand: 17.5}}
	}
	kind, payload, err := encode(e, words{text: "used 300 ml of it on the bonnet just now", saidAt: at})
	require.NoError(b, err)
	response, err := proto.Marshal(resp)
	require.NoError(b, err)
	return ledger.Batch{
		RequestID: fmt.Sprintf("m-%032d", n), Response: response,
		Entries: []ledger.Entry{{At: at, Person: person, Channel: "bay-2", Message: fmt.Sprintf("1234567890.%06d", n), Kind: kind, Payload: payload}},
	}
}
