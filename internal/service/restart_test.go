package service_test

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	"bayword/internal/ledger"
	"bayword/internal/service"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// open makes a service on a store; it is closed by the caller.
func open(t require.TestingT, store ledger.Store, every uint64) *service.Service {
	svc, err := service.New(context.Background(), service.Config{
		Store: store, Clock: func() time.Time { return opened }, Log: slog.New(slog.DiscardHandler), SnapshotEvery: every,
	})
	require.NoError(t, err)
	return svc
}

// figures is all that a restart must not change.
func figures(t require.TestingT, svc *service.Service) string {
	ctx := context.Background()
	var all []proto.Message
	v, err := svc.GetVocabulary(ctx, &pb.GetVocabularyRequest{})
	require.NoError(t, err)
	all = append(all, v)
	for _, m := range v.Materials {
		r, err := svc.GetStock(ctx, &pb.GetStockRequest{Material: m.Id})
		require.NoError(t, err)
		all = append(all, r)
	}
	for _, j := range v.Jobs {
		st, err := svc.GetStatus(ctx, &pb.GetStatusRequest{Job: j.Id})
		require.NoError(t, err)
		h, err := svc.History(ctx, &pb.HistoryRequest{Job: j.Id, PageSize: 200})
		require.NoError(t, err)
		all = append(all, st, h)
	}
	text := ""
	for _, m := range all {
		b, err := proto.MarshalOptions{Deterministic: true}.Marshal(m)
		require.NoError(t, err)
		text += fmt.Sprintf("%T %x\n", m, b)
	}
	return text
}

// Whatever was said, a service that starts on the same ledger, with a snapshot or
// without, gives the same figures, and the ledger verifies.
func TestARestartChangesNothing(t *testing.T) {
	t.Parallel()
	events := demoEvents(t)
	rapid.Check(t, func(t *rapid.T) {
		ctx := context.Background()
		store := ledger.NewMemory()
		svc := open(t, store, rapid.Uint64Range(1, 30).Draw(t, "every"))
		require.NoError(t, svc.Import(ctx, events))
		for i := range rapid.IntRange(0, 25).Draw(t, "said") {
			say(ctx, t, svc, fmt.Sprintf("r%d", i))
		}
		before := figures(t, svc)

		// Without Close, as after a power cut: whatever snapshot there is was saved
		// in the background.
		again := open(t, store, 1000)
		require.Equal(t, before, figures(t, again))
		require.NoError(t, again.Close())
		require.NoError(t, svc.Close())
		whole := open(t, store, 1000)
		require.Equal(t, before, figures(t, whole))
		require.NoError(t, whole.Close())
		r, err := service.Verify(ctx, store)
		require.NoError(t, err)
		require.True(t, r.HasSnapshot)
		require.Equal(t, r.Entries, r.SnapshotSeq)
	})
}

// say draws one request; a refusal is as good as any answer.
func say(ctx context.Context, t *rapid.T, svc *service.Service, id string) {
	who := &pb.Origin{Person: rapid.SampledFrom([]string{"wren", "mabel", "jonah", "U0STRANGER"}).Draw(t, "who"), Text: "as said"}
	material := rapid.SampledFrom([]string{"clearcoat", "thinner"}).Draw(t, "material")
	amount := rapid.Float64Range(-1, 9).Draw(t, "amount")
	job := rapid.SampledFrom([]string{"heron", "tern", "linnet"}).Draw(t, "job")
	check := rapid.Bool().Draw(t, "validate only")
	entry := rapid.Uint64Range(100, 130).Draw(t, "entry")
	var err error
	switch rapid.IntRange(0, 9).Draw(t, "what") {
	case 0, 1:
		_, err = svc.RecordUse(ctx, &pb.RecordUseRequest{Origin: who, RequestId: id, ValidateOnly: check, Material: material, Amount: &amount, Job: job})
	case 2:
		_, err = svc.RecordDelivery(ctx, &pb.RecordDeliveryRequest{Origin: who, RequestId: id, ValidateOnly: check, Material: material, Amount: &amount, Batch: "4471"})
	case 3:
		_, err = svc.RecordCount(ctx, &pb.RecordCountRequest{Origin: who, RequestId: id, ValidateOnly: check, Material: material, Amount: &amount})
	case 4:
		_, err = svc.LogHours(ctx, &pb.LogHoursRequest{Origin: who, RequestId: id, ValidateOnly: check, Job: job, Hours: &amount, People: []string{"mabel", "jonah"}})
	case 5:
		_, err = svc.CreateJob(ctx, &pb.CreateJobRequest{Origin: who, RequestId: id, ValidateOnly: check, Model: "Linnet"})
	case 6:
		_, err = svc.RecordFind(ctx, &pb.RecordFindRequest{Origin: who, RequestId: id, ValidateOnly: check, Job: job, Panel: "roof", Kind: pb.FindKind_FIND_KIND_RUST})
	case 7:
		_, err = svc.Amend(ctx, &pb.AmendRequest{Origin: who, RequestId: id, ValidateOnly: check, Entry: entry, Amount: &amount})
	case 8:
		_, err = svc.SetTorque(ctx, &pb.SetTorqueRequest{Origin: who, RequestId: id, ValidateOnly: check, Job: job, Fastener: "hub nut", TorqueNm: &amount})
	default:
		_, err = svc.Undo(ctx, &pb.UndoRequest{Origin: who, RequestId: id, ValidateOnly: check})
	}
	require.NotContains(t, []codes.Code{codes.Internal, codes.Unknown, codes.Unavailable}, status.Code(err), "%v", err)
}

func TestImportOnce(t *testing.T) {
	t.Parallel()
	store := ledger.NewMemory()
	events := demoEvents(t)
	svc := open(t, store, 1000)
	require.NoError(t, svc.Import(t.Context(), events))
	head, err := store.Head(t.Context())
	require.NoError(t, err)
	require.NoError(t, svc.Import(t.Context(), events), "the same again does nothing")
	again, err := store.Head(t.Context())
	require.NoError(t, err)
	assert.Equal(t, head, again)
	require.ErrorIs(t, svc.Import(t.Context(), events[:20]), service.ErrNotEmpty)
	require.NoError(t, svc.Close())

	fresh := open(t, ledger.NewMemory(), 1000)
	require.Error(t, fresh.Import(t.Context(), []shop.Event{shop.FindRecorded{Number: 1, Job: "nowhere"}}))
	require.NoError(t, fresh.Import(t.Context(), events), "nothing was kept of the other")
	require.NoError(t, fresh.Close())
}

// A snapshot that says other than the ledger is found out.
func TestVerifyFindsAWrongSnapshot(t *testing.T) {
	t.Parallel()
	store := ledger.NewMemory()
	svc := open(t, store, 1000)
	require.NoError(t, svc.Import(t.Context(), demoEvents(t)))
	require.NoError(t, svc.Close())
	snap, ok, err := store.Snapshot(t.Context())
	require.NoError(t, err)
	require.True(t, ok)

	other := open(t, ledger.NewMemory(), 1000)
	events := demoEvents(t)
	for i, e := range events {
		if m, ok := e.(shop.MaterialAdded); ok {
			m.OnHand++
			events[i] = m
		}
	}
	require.NoError(t, other.Import(t.Context(), events))
	data, err := other.Snapshot()
	require.NoError(t, err)
	require.NoError(t, other.Close())
	require.NoError(t, store.SaveSnapshot(t.Context(), ledger.Snapshot{Head: snap.Head, Data: data}))
	_, err = service.Verify(t.Context(), store)
	var corrupt *ledger.CorruptError
	require.ErrorAs(t, err, &corrupt)

	require.NoError(t, store.SaveSnapshot(t.Context(), ledger.Snapshot{Head: snap.Head, Data: []byte("of another version")}))
	again := open(t, store, 1000)
	stock, err := again.GetStock(t.Context(), &pb.GetStockRequest{Material: "clearcoat"})
	require.NoError(t, err)
	assert.InDelta(t, 6, stock.Stock.OnHand, 0, "the ledger is folded instead")
	require.NoError(t, again.Close())
}

// failing is a store whose disk gives up.
type failing struct {
	*ledger.Memory
	err error
}

func (f *failing) Append(ctx context.Context, head uint64, batches []ledger.Batch) error {
	if f.err != nil {
		return f.err
	}
	return f.Memory.Append(ctx, head, batches)
}

func (f *failing) Ready(ctx context.Context) error {
	if errors.Is(f.err, ledger.ErrDiskFull) {
		return f.err
	}
	return f.Memory.Ready(ctx)
}

func TestAStoreThatFails(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		err    error
		code   codes.Code
		reason string
	}{
		"a full disk":   {ledger.ErrDiskFull, codes.ResourceExhausted, "DISK_FULL"},
		"a broken disk": {errors.New("input/output error"), codes.Unavailable, "STORE_FAILED"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			store := &failing{Memory: ledger.NewMemory()}
			svc := open(t, store, 1000)
			require.NoError(t, svc.Import(t.Context(), demoEvents(t)))
			store.err = c.err
			_, err := svc.RecordUse(t.Context(), &pb.RecordUseRequest{Origin: &pb.Origin{Person: "mabel"}, RequestId: "r1", Material: "clearcoat", Amount: num(1.0)})
			assert.Equal(t, c.code, status.Code(err))
			assert.Equal(t, c.reason, info(t, err).Reason)
			failed := false
			select {
			case <-svc.Failed():
				failed = true
			default:
			}
			assert.Equal(t, c.reason == "STORE_FAILED", failed, "a full disk is no reason to stop")
			require.NoError(t, svc.Close())
			store.err = nil
			again := open(t, store.Memory, 1000)
			stock, err := again.GetStock(t.Context(), &pb.GetStockRequest{Material: "clearcoat"})
			require.NoError(t, err)
			assert.InDelta(t, 6, stock.Stock.OnHand, 0)
			require.NoError(t, again.Close())
		})
	}
}

// Many at once, reading and writing: each write is answered with its own figure,
// and together they make the sum.
func TestManyAtOnce(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	const people, each = 16, 20
	var wg sync.WaitGroup
	seen := make([][]float64, people)
	for p := range people {
		wg.Go(func() {
			for i := range each {
				r, err := b.stock.RecordUse(t.Context(), &pb.RecordUseRequest{
					Origin: &pb.Origin{Person: "mabel"}, RequestId: fmt.Sprintf("%d-%d", p, i), Material: "thinner", Amount: num(0.01),
				})
				if assert.NoError(t, err) {
					seen[p] = append(seen[p], r.Stock.OnHand)
				}
				_, err = b.stock.RecordUse(t.Context(), &pb.RecordUseRequest{
					Origin: &pb.Origin{Person: "mabel"}, ValidateOnly: true, Material: "thinner", Amount: num(1.0),
				})
				assert.NoError(t, err)
				_, err = b.jobs.GetStatus(t.Context(), &pb.GetStatusRequest{Job: "heron"})
				assert.NoError(t, err)
			}
		})
	}
	wg.Wait()
	figures := map[float64]bool{}
	for _, s := range seen {
		for _, f := range s {
			figures[f] = true
		}
	}
	assert.Len(t, figures, people*each, "no two uses were told the same figure")
	assert.InDelta(t, 7.5-people*each*0.01, b.onHand("thinner"), 1e-9)
}
