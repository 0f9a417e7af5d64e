package service_test

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/types/known/timestamppb"
	"pgregory.net/rapid"

	"bayword/internal/ledger"
	"bayword/internal/service"
	"bayword/internal/shop"
	"bayword/internal/shopfile"
	pb "bayword/proto/bayword/v1"
)

// folderOf is what a store's ledger exports to.
func folderOf(t require.TestingT, store ledger.Store, format shopfile.Format) fstest.MapFS {
	kept, err := service.Export(context.Background(), store)
	require.NoError(t, err)
	files, err := shopfile.Write(kept, format)
	require.NoError(t, err)
	folder := fstest.MapFS{}
	for _, f := range files {
		folder[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return folder
}

// moved imports a folder into a new store.
func moved(t require.TestingT, folder fstest.MapFS) (*service.Service, ledger.Store) {
	events, err := shopfile.ReadFolder("moved", folder)
	require.NoError(t, err)
	store := ledger.NewMemory()
	svc := open(t, store, 1000)
	require.NoError(t, svc.Import(context.Background(), events))
	return svc, store
}

// Whatever was said and mended, a shop that moves by a folder exports the same bytes
// again, in either format, and answers the same.
func TestAShopMovesByAFolder(t *testing.T) {
	t.Parallel()
	events := demoEvents(t)
	carriedOut := kinds{of: map[string]int{}}
	rapid.Check(t, func(t *rapid.T) {
		ctx := context.Background()
		store := ledger.NewMemory()
		here := talk(t, store, opened)
		require.NoError(t, here.svc.Import(ctx, events))
		for range rapid.IntRange(0, 60).Draw(t, "said") {
			carriedOut.count(here.say(t))
		}
		before := here.views(t)
		require.NoError(t, here.svc.Close())
		inJSON, inCSV := folderOf(t, store, shopfile.JSON), folderOf(t, store, shopfile.CSV)
		for _, folder := range []fstest.MapFS{inJSON, inCSV} {
			moved, err := shopfile.ReadFolder("moved", folder)
			require.NoError(t, err)
			kept := ledger.NewMemory()
			there := talk(t, kept, opened) // what nobody said is of the day of the import
			require.NoError(t, there.svc.Import(ctx, moved))
			there.now = here.now
			after := there.views(t)
			require.Len(t, after, len(before))
			for question, answer := range before {
				require.Equal(t, answer, after[question], question)
			}
			require.NoError(t, there.svc.Close())
			require.Equal(t, inJSON, folderOf(t, kept, shopfile.JSON))
			require.Equal(t, inCSV, folderOf(t, kept, shopfile.CSV))
			_, err = service.Verify(ctx, kept)
			require.NoError(t, err)
		}
	})
	carriedOut.every(t)
}

func TestWhoSaidWhatWhenMovesToo(t *testing.T) {
	t.Parallel()
	store := ledger.NewMemory()
	svc := open(t, store, 1000)
	require.NoError(t, svc.Import(t.Context(), demoEvents(t)))
	said := opened.Add(-26 * time.Hour)
	_, err := svc.AddNote(t.Context(), &pb.AddNoteRequest{
		Origin: &pb.Origin{
			Person: "mabel", SaidAt: timestamppb.New(said), Photos: []*pb.Photo{{Name: "seam.jpg"}},
		}, RequestId: "n1", Job: "heron", Text: "sealer is original",
	})
	require.NoError(t, err)
	require.NoError(t, svc.Close())

	there, kept := moved(t, folderOf(t, store, shopfile.CSV))
	h, err := there.History(t.Context(), &pb.HistoryRequest{Job: "heron", PageSize: 200})
	require.NoError(t, err)
	last := h.Events[len(h.Events)-1]
	assert.Equal(t, "mabel", last.Person)
	assert.Equal(t, said, last.At.AsTime())
	require.NoError(t, there.Close())

	var note ledger.Entry
	require.NoError(t, kept.Scan(t.Context(), 1, func(e ledger.Entry) error {
		if e.Kind == "note_added" {
			note = e
		}
		return nil
	}))
	assert.Equal(t, "mabel", note.Person)
	assert.Equal(t, opened, note.At, "the ledger itself says when the import was")
	assert.Equal(t, "import", note.Channel)
	again := open(t, kept, 1000)
	moved, err := again.History(t.Context(), &pb.HistoryRequest{Job: "heron", PageSize: 200})
	require.NoError(t, err)
	assert.Equal(t, said, moved.Events[len(moved.Events)-1].At.AsTime(), "also after a start")
	require.NoError(t, again.Close())
}

// A notice of whatever kind that was sent before a shop moved is not sent after it,
// and those that are to come do come.
func TestAMoveSendsNothingTwice(t *testing.T) {
	t.Parallel()
	ctx, now := t.Context(), opened
	at := func(store ledger.Store) *service.Service {
		svc, err := service.New(ctx, service.Config{Store: store, Clock: func() time.Time { return now }, Log: slog.New(slog.DiscardHandler)})
		require.NoError(t, err)
		return svc
	}
	store := ledger.NewMemory()
	svc := at(store)
	require.NoError(t, svc.Import(ctx, demoEvents(t)))
	by := &pb.Origin{Person: "mabel", Channel: "bay-2"}
	_, err := svc.RecordCoat(ctx, &pb.RecordCoatRequest{Origin: by, RequestId: "c1", Job: "heron", Material: "epoxy-primer", Panels: []string{"roof"}, Coats: num(uint32(2))})
	require.NoError(t, err)
	for i, when := range []string{"2026-03-11T07:00", "2026-03-14T07:00"} {
		_, err = svc.Remind(ctx, &pb.RemindRequest{Origin: by, RequestId: fmt.Sprint("r", i), At: when, Text: "turn the heater off"})
		require.NoError(t, err)
	}
	kinds := map[pb.NoticeKind]int{}
	send := func(svc *service.Service) (sent []string) {
		due, err := svc.ListNotices(ctx, &pb.ListNoticesRequest{})
		require.NoError(t, err)
		for _, n := range due.Notices {
			_, err := svc.MarkNotice(ctx, &pb.MarkNoticeRequest{RequestId: n.Id, Id: n.Id})
			require.NoError(t, err)
			kinds[n.Kind]++
			sent = append(sent, fmt.Sprint(n.Kind, n.At.AsTime(), n.Person, n.Job))
		}
		return sent
	}
	for ; now.Before(inLondon(t, "2026-03-13T09:30")); now = now.Add(15 * time.Minute) {
		send(svc)
	}
	assert.Len(t, kinds, len(pb.NoticeKind_name)-1, "one of every kind: %v", kinds)
	moving := now
	var there []*service.Service
	for _, format := range []shopfile.Format{shopfile.JSON, shopfile.CSV} {
		events, err := shopfile.ReadFolder("moved", folderOf(t, store, format))
		require.NoError(t, err)
		there = append(there, at(ledger.NewMemory()))
		require.NoError(t, there[len(there)-1].Import(ctx, events))
		assert.Empty(t, send(there[len(there)-1]), "as soon as it is there")
	}
	for ; now.Before(moving.Add(7 * 24 * time.Hour)); now = now.Add(15 * time.Minute) {
		want := send(svc)
		for _, moved := range there {
			require.Equal(t, want, send(moved), "%v", now)
		}
	}
	for _, svc := range append(there, svc) {
		require.NoError(t, svc.Close())
	}
}

// breaking is a store that gives up after some batches.
type breaking struct {
	*ledger.Memory
	left int
}

func (b *breaking) Append(ctx context.Context, head uint64, batches []ledger.Batch) error {
	if b.left--; b.left < 0 {
		return errors.New("power cut")
	}
	return b.Memory.Append(ctx, head, batches)
}

// An import that was broken off is carried on, and ends as one that was not.
func TestAnImportIsCarriedOn(t *testing.T) {
	t.Parallel()
	events := demoEvents(t)
	for i := range 250 {
		events = append(events, shop.Told{
			Event: shop.NoteAdded{Job: "heron", Text: fmt.Sprint("note ", i, strings.Repeat(" é", 2000))}, By: "wren", At: opened.Add(time.Duration(i) * time.Second),
		})
	}
	store := &breaking{Memory: ledger.NewMemory(), left: 2}
	svc := open(t, store, 1000)
	require.Error(t, svc.Import(t.Context(), events))
	head, err := store.Head(t.Context())
	require.NoError(t, err)
	require.Positive(t, head.Seq)
	require.Less(t, head.Seq, uint64(len(events)))

	store.left = 1000
	svc = open(t, store, 1000)
	require.NoError(t, svc.Import(t.Context(), events))
	head, err = store.Head(t.Context())
	require.NoError(t, err)
	assert.Equal(t, uint64(len(events)), head.Seq)
	require.NoError(t, svc.Close())

	told, ok := events[len(events)-1].(shop.Told)
	require.True(t, ok)
	told.By = "mabel"
	events[len(events)-1] = told
	svc = open(t, store, 1000)
	require.ErrorIs(t, svc.Import(t.Context(), events), service.ErrNotEmpty, "somebody else said it: another shop")
	require.NoError(t, svc.Close())

	fresh := open(t, ledger.NewMemory(), 1000)
	require.Error(t, fresh.Import(t.Context(), []shop.Event{shop.Told{Event: shop.NoteAdded{Text: "x"}, By: "nobody"}}))
	require.NoError(t, fresh.Close())
}
