package badger_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	raw "github.com/dgraph-io/badger/v4"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
)

const writers = 64

// request makes what one recorded find is like: an entry of some 250 bytes in
// the store, and a response of 120.
func request(id string) ledger.Batch {
	return ledger.Batch{
		Fingerprint: ledger.Hash([]byte(id + strings.Repeat(".", 32))),
		Response:    []byte(strings.Repeat("response", 15)),
		Entries: []ledger.Entry{{
			At: time.Date(2031, 4, 7, 9, 30, 0, 0, time.UTC), Person: "Wren", Channel: "bay-2",
			Message: "1234567890.123456", Kind: "find_recorded", Payload: []byte(strings.Repeat("payload.", 15)),
		}},
	}
}

// BenchmarkAppend64 is 64 writers that each wait for their record to be durable,
// and beside it the same keys and bytes written straight to Badger by a goroutine
// that puts all that wait, up to 256, into one transaction. x-raw is the ratio.
func BenchmarkAppend64(b *testing.B) {
	var ours, bare float64 // records a second
	b.Run("raw", func(b *testing.B) { bare = benchRaw(b) })
	b.Run("writer", func(b *testing.B) {
		ours = benchWriter(b)
		if bare > 0 {
			b.ReportMetric(ours/bare, "x-raw")
		}
	})
}

func benchWriter(b *testing.B) float64 {
	s := open(b, b.TempDir())
	defer s.Close() //nolint:errcheck // a benchmark's
	ctx := context.Background()
	w, err := ledger.NewWriter(ctx, s, func([]ledger.Entry) {})
	require.NoError(b, err)
	defer w.Close()
	return fromMany(b, func(n int64) error {
		id := requestID(n)
		batch := request(id)
		_, _, err := w.Do(ctx, id, batch.Fingerprint, func(uint64) (ledger.Batch, error) { return batch, nil })
		return err
	})
}

func benchRaw(b *testing.B) float64 {
	db, err := raw.Open(badger.DBOptions(b.TempDir()))
	require.NoError(b, err)
	defer db.Close() //nolint:errcheck // a benchmark's
	type op struct {
		pairs [][2][]byte
		done  chan error
	}
	queue := make(chan op, 256)
	go func() {
		for o := range queue {
			group := []op{o}
			txn := db.NewTransaction(true)
			for more := true; more && len(group) < 256; {
				select {
				case o, ok := <-queue:
					if more = ok; ok {
						group = append(group, o)
					}
				default:
					more = false
				}
			}
			var err error
			for _, o := range group {
				for _, pair := range o.pairs {
					if err == nil {
						err = txn.Set(pair[0], pair[1])
					}
				}
			}
			if err == nil {
				err = txn.Commit()
			}
			for _, o := range group {
				o.done <- err
			}
		}
	}()
	defer close(queue)
	return fromMany(b, func(n int64) error {
		// Built here, at the same time by all: the one goroutine only writes.
		id := requestID(n)
		batch := request(id)
		batch.RequestID = id
		ledger.Seal(ledger.Head{Seq: uint64(n) - 1}, &batch) // for its bytes: no chain
		o := op{done: make(chan error, 1)}
		for key, value := range badger.Pairs(&batch) {
			o.pairs = append(o.pairs, [2][]byte{[]byte(key), value})
		}
		queue <- o
		return <-o.done
	})
}

// fromMany runs do with the numbers 1 to b.N from 64 goroutines, and gives how
// many were done a second.
func fromMany(b *testing.B, do func(n int64) error) float64 {
	var next atomic.Int64
	var wg sync.WaitGroup
	b.ResetTimer()
	for range writers {
		wg.Go(func() {
			for n := next.Add(1); n <= int64(b.N); n = next.Add(1) {
				if err := do(n); err != nil {
					b.Error(err)
					return
				}
			}
		})
	}
	wg.Wait()
	b.StopTimer()
	perSecond := float64(b.N) / b.Elapsed().Seconds()
	b.ReportMetric(perSecond, "records/s")
	return perSecond
}

func requestID(n int64) string { return fmt.Sprintf("m-%032d", n) }

// BenchmarkOpenMillion opens a ledger of a million entries, which checks the whole
// chain, and then scans it once, as for a fold without a snapshot. It reports both
// in milliseconds and the resident memory after each, in MB: rss of all, of which
// anon is the process's own and not the files' pages.
func BenchmarkOpenMillion(b *testing.B) {
	dir := b.TempDir()
	fill(b, dir, 1_000_000)
	size := dirSize(b, dir)
	var opening, scanning time.Duration
	for b.Loop() {
		start := time.Now()
		s := open(b, dir)
		opening += time.Since(start)
		runtime.GC()
		report(b, "open")
		start = time.Now()
		n := 0
		require.NoError(b, s.Scan(context.Background(), 1, func(ledger.Entry) error { n++; return nil }))
		require.Equal(b, 1_000_000, n)
		scanning += time.Since(start)
		report(b, "scan")
		require.NoError(b, s.Close())
	}
	b.ReportMetric(float64(opening.Milliseconds())/float64(b.N), "open-ms")
	b.ReportMetric(float64(scanning.Milliseconds())/float64(b.N), "scan-ms")
	b.ReportMetric(float64(size)/1e6, "disk-MB")
	b.ReportMetric(0, "ns/op")
}

func fill(b *testing.B, dir string, n int) {
	s := open(b, dir)
	head := ledger.Head{}
	for head.Seq < uint64(n) {
		expected := head.Seq
		var batches []ledger.Batch
		for range 1000 {
			id := requestID(int64(head.Seq) + 1)
			batch := request(id)
			batch.RequestID = id
			head = ledger.Seal(head, &batch)
			batches = append(batches, batch)
		}
		require.NoError(b, s.Append(context.Background(), expected, batches))
	}
	require.NoError(b, s.Close())
}

func dirSize(b *testing.B, dir string) (size int64) {
	require.NoError(b, filepath.Walk(dir, func(_ string, info os.FileInfo, err error) error {
		if err == nil && info.Mode().IsRegular() {
			size += info.Size()
		}
		return err
	}))
	return size
}

// report reads the process's resident memory where the system shows it.
func report(b *testing.B, when string) {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return
	}
	for line := range strings.Lines(string(status)) {
		for field, name := range map[string]string{"VmRSS:": "-rss-MB", "RssAnon:": "-anon-MB"} {
			if rest, ok := strings.CutPrefix(line, field); ok {
				kb, _ := strconv.Atoi(strings.Fields(rest)[0])
				b.ReportMetric(float64(kb)/1e3, when+name)
			}
		}
	}
}
