package handover_test

import (
	"log/slog"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/service"
	"bayword/internal/shopfile"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

// demoRecord is what the service gives of a job of the demo shop.
func demoRecord(t *testing.T, job string) *pb.BuildRecordResponse {
	t.Helper()
	opened := time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)
	svc, err := service.New(t.Context(), service.Config{
		Store: ledger.NewMemory(), Clock: func() time.Time { return opened }, Log: slog.New(slog.DiscardHandler),
	})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, svc.Close()) })
	events, err := shopfile.Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	require.NoError(t, svc.Import(t.Context(), events))
	r, err := svc.BuildRecord(t.Context(), &pb.BuildRecordRequest{Origin: &pb.Origin{Person: "wren"}, Job: job})
	require.NoError(t, err)
	return r
}

// What the service gives of every job of the demo shop is traceable too.
func TestDemoJobsAreTraceable(t *testing.T) {
	t.Parallel()
	for _, job := range []string{"heron", "osmere", "pilot", "tern"} {
		r := demoRecord(t, job)
		known := entriesIn(r.ProtoReflect())
		files := build(t, r, nil)
		for _, row := range rowsOf(parsed(t, files["index.html"])) {
			for _, e := range row.entries {
				assert.Contains(t, known, e, "%s: %s", job, row.text)
			}
			if strings.ContainsAny(row.text, "0123456789") {
				assert.NotEmpty(t, row.entries, "%s: %q rests on nothing", job, row.text)
			}
		}
		assert.Contains(t, files, "pictures/hours.png")
	}
}
