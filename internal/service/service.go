// Package service is the gRPC side of the shop: it cleans a request, lets the
// shop decide on the ledger's one writer, and answers. It is the only place where
// the API's messages meet the shop's rules, and where a refusal becomes a status.
//
// It may import internal/shop, internal/calc, internal/ledger and the generated
// code.
package service

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"bayword/internal/ledger"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// Config is what a Service needs.
type Config struct {
	Store         ledger.Store
	Clock         func() time.Time // nil means time.Now
	Log           *slog.Logger     // nil means slog.Default
	SnapshotEvery uint64           // entries between snapshots; 0 means 50,000
	Photos        PhotoStore       // nil: photographs are not kept
}

const snapshotEvery = 50_000

// Service answers every RPC from one State. All its methods may be called at the
// same time.
type Service struct {
	pb.UnimplementedTorqueServiceServer
	pb.UnimplementedGapServiceServer
	pb.UnimplementedFitServiceServer
	pb.UnimplementedFindServiceServer
	pb.UnimplementedStockServiceServer
	pb.UnimplementedCoatingServiceServer
	pb.UnimplementedHoursServiceServer
	pb.UnimplementedJobServiceServer
	pb.UnimplementedCalculatorServiceServer
	pb.UnimplementedNoteServiceServer
	pb.UnimplementedRecordServiceServer
	pb.UnimplementedHelpServiceServer
	pb.UnimplementedVocabularyServiceServer
	pb.UnimplementedPlanServiceServer
	pb.UnimplementedPartServiceServer
	pb.UnimplementedBriefServiceServer
	pb.UnimplementedSnagServiceServer
	pb.UnimplementedMoneyServiceServer
	pb.UnimplementedReminderServiceServer
	pb.UnimplementedNoticeServiceServer
	pb.UnimplementedRepairServiceServer
	pb.UnimplementedShopServiceServer
	pb.UnimplementedPhotoServiceServer
	pb.UnimplementedHandoverServiceServer

	store  ledger.Store
	writer *ledger.Writer
	clock  func() time.Time
	log    *slog.Logger
	kinds  []string
	photos PhotoStore

	mu      sync.RWMutex // guards what follows
	state   *shop.State
	zone    *time.Location
	head    ledger.Head   // of the last entry sealed; state is at most one batch ahead of it
	pending []shop.Change // of the batch being decided, oldest first

	snapshots snapshotter
	closing   sync.Once
	failed    chan struct{}
	failing   sync.Once
}

// New loads the state from the store: the snapshot, and the entries after it. The
// store checks their chain on the way. An error is a *ledger.CorruptError when
// the store's content cannot be trusted.
func New(ctx context.Context, c Config) (*Service, error) {
	s := &Service{store: c.Store, clock: c.Clock, log: c.Log, photos: c.Photos, failed: make(chan struct{})}
	if s.clock == nil {
		s.clock = time.Now
	}
	if s.log == nil {
		s.log = slog.Default()
	}
	s.kinds = kinds()
	var err error
	if s.state, s.head, err = s.load(ctx); err != nil {
		return nil, err
	}
	s.zone = s.state.Location()
	if s.writer, err = ledger.NewWriter(ctx, s.store, s.sealed); err != nil {
		return nil, err
	}
	every := c.SnapshotEvery
	if every == 0 {
		every = snapshotEvery
	}
	s.snapshots.start(s, every)
	return s, nil
}

// load gives the state that the store's ledger folds to.
func (s *Service) load(ctx context.Context) (*shop.State, ledger.Head, error) {
	state, head := shop.New(), ledger.Head{}
	snap, ok, err := s.store.Snapshot(ctx)
	var corrupt *ledger.CorruptError
	switch {
	case errors.As(err, &corrupt):
		s.log.Warn("the snapshot cannot be used, folding the whole ledger", "error", err)
	case err != nil:
		return nil, head, err
	case ok:
		if state, err = shop.Restore(snap.Data); err != nil || state.Seq() != snap.Seq {
			s.log.Warn("the snapshot is of another version, folding the whole ledger", "error", err)
			state = shop.New()
			break
		}
		head = snap.Head
	}
	head, err = fold(ctx, s.store, state, head)
	return state, head, err
}

// fold applies the entries after head to the state.
func fold(ctx context.Context, store ledger.Store, state *shop.State, head ledger.Head) (ledger.Head, error) {
	err := store.Scan(ctx, head.Seq+1, func(e ledger.Entry) error {
		meta, event, err := decode(e)
		if err != nil {
			return err
		}
		if _, err := state.Apply(meta, event); err != nil {
			return &ledger.CorruptError{Seq: e.Seq, What: err.Error()}
		}
		head = ledger.Head{Seq: e.Seq, Hash: e.Hash}
		return nil
	})
	return head, err
}

// sealed is what the writer calls with what was just decided: it is folded
// already, for the answer to tell the figures after it.
func (s *Service) sealed(entries []ledger.Entry) {
	last := entries[len(entries)-1]
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state.Seq() != last.Seq {
		panic(fmt.Sprintf("service: the state is at %d, the ledger at %d", s.state.Seq(), last.Seq))
	}
	s.head = ledger.Head{Seq: last.Seq, Hash: last.Hash}
	s.pending = s.pending[:0]
	s.snapshots.note(last.Seq)
}

// apply folds one event of the batch being decided. mu is held.
func (s *Service) apply(m shop.Meta, e shop.Event) error {
	change, err := s.state.Apply(m, e)
	if err == nil {
		s.pending = append(s.pending, change)
	}
	return err
}

// rewind takes back what was folded of a batch that came to nothing. mu is held.
func (s *Service) rewind() {
	for len(s.pending) > 0 {
		last := len(s.pending) - 1
		s.state.Revert(s.pending[last])
		s.pending = s.pending[:last]
	}
}

// Failed is closed once the store has failed: what was read since may not be
// durable, and nothing more is written until the program starts again.
func (s *Service) Failed() <-chan struct{} { return s.failed }

// Close ends the writer and saves a snapshot. The store stays open. A second
// Close does nothing.
func (s *Service) Close() error {
	var err error
	s.closing.Do(func() {
		s.writer.Close()
		s.snapshots.close()
		select {
		case <-s.failed: // the state is ahead of the store
		default:
			err = s.snapshot(context.Background())
		}
	})
	return err
}
