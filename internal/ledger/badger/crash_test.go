package badger_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/ledger/storetest"
)

// TestMain is also the process that is killed: with crashDir set it appends to the
// ledger there until it ends.
func TestMain(m *testing.M) {
	if dir := os.Getenv(crashDir); dir != "" {
		if err := appendForever(dir, os.Getenv(crashRound)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

const (
	crashDir   = "LEDGER_CRASH_DIR"
	crashRound = "LEDGER_CRASH_ROUND"
	crashKills = "LEDGER_CRASH_KILLS" // how often to kill; 20 when not set
)

// appendForever appends with 8 goroutines and prints each request id once it is
// acknowledged. Responses vary in size, up to some kilobytes, so that memtables
// fill, flush and compact between two kills.
func appendForever(dir, round string) error {
	ctx := context.Background()
	s, err := badger.Open(dir, badger.Options{NoBallast: true})
	if err != nil {
		return err
	}
	w, err := ledger.NewWriter(ctx, s, func([]ledger.Entry) {})
	if err != nil {
		return err
	}
	errs := make(chan error)
	for g := range 8 {
		go func() {
			for i := 0; ; i++ {
				id := fmt.Sprintf("%s-%d-%d", round, g, i)
				b := crashBatch(id)
				if _, _, err := w.Do(ctx, id, b.Fingerprint, func(uint64) (ledger.Batch, error) { return b, nil }); err != nil {
					errs <- err
					return
				}
				fmt.Println(id) // one write: whole or not at all
			}
		}()
	}
	return <-errs
}

func crashBatch(id string) ledger.Batch {
	b := storetest.Batch(id, 1+len(id)%3)
	b.Response = bytes.Repeat([]byte(id+" "), 1+int(b.Fingerprint[0]))
	return b
}

// A process killed at any moment has lost nothing it acknowledged and kept
// nothing twice, its ledger opens whole, and a repeated request is answered as the
// first time. One ledger goes through all the kills.
func TestKilled(t *testing.T) {
	t.Parallel()
	kills := 20
	if s := os.Getenv(crashKills); s != "" {
		var err error
		kills, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	dir := t.TempDir()
	acknowledged := make(map[string]bool)
	for round := range kills {
		for _, id := range killOne(t, dir, strconv.Itoa(round)) {
			acknowledged[id] = true
		}
		checkKilled(t, dir, acknowledged)
	}
	t.Logf("%d kills, %d requests acknowledged", kills, len(acknowledged))
	require.Greater(t, len(acknowledged), kills, "the test must have something to lose")
}

// killOne runs the process, kills it some time after it has begun to append, and
// gives what it acknowledged.
func killOne(t *testing.T, dir, round string) (acknowledged []string) {
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), crashDir+"="+dir, crashRound+"="+round)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	// Should it hang, it is ended all the same.
	limit := time.AfterFunc(30*time.Second, func() { _ = cmd.Process.Kill() })
	defer limit.Stop()

	var once sync.Once
	after := time.Duration(rand.IntN(120_000)) * time.Microsecond
	for lines := bufio.NewScanner(out); lines.Scan(); {
		acknowledged = append(acknowledged, lines.Text())
		once.Do(func() { time.AfterFunc(after, func() { _ = cmd.Process.Kill() }) })
	}
	err = cmd.Wait()
	require.ErrorContains(t, err, "killed", stderr.String())
	return acknowledged
}

func checkKilled(t *testing.T, dir string, acknowledged map[string]bool) {
	ctx := context.Background()
	s := open(t, dir)
	defer func() { require.NoError(t, s.Close()) }()
	_, err := s.Verify(ctx)
	require.NoError(t, err)

	entries := make(map[string]int)
	for _, e := range storetest.All(t, s) {
		entries[e.RequestID]++
	}
	for id, n := range entries {
		if want := len(crashBatch(id).Entries); n != want {
			t.Fatalf("request %s is there with %d entries, not once with its %d", id, n, want)
		}
	}
	for id := range acknowledged {
		if entries[id] == 0 {
			t.Fatalf("request %s was acknowledged and is lost", id)
		}
	}
	w, err := ledger.NewWriter(ctx, s, func([]ledger.Entry) {})
	require.NoError(t, err)
	defer w.Close()
	tried := 0
	for id := range acknowledged {
		want := crashBatch(id)
		response, repeated, err := w.Do(ctx, id, want.Fingerprint, func(uint64) (ledger.Batch, error) { return ledger.Batch{}, nil })
		require.NoError(t, err)
		require.True(t, repeated)
		require.Equal(t, string(want.Response), string(response))
		if tried++; tried == 200 { // of all so far, in random order
			break
		}
	}
}
