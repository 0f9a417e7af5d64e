package service

import (
	"context"
	"errors"
	"sync"
	"time"

	"bayword/internal/ledger"
)

// snapshotter saves a snapshot every so many entries, in the background.
type snapshotter struct {
	every uint64
	last  uint64 // guarded by the service's mu
	due   chan struct{}
	stop  chan struct{}
	done  sync.WaitGroup
}

func (n *snapshotter) start(s *Service, every uint64) {
	n.every, n.last = every, s.head.Seq
	n.due, n.stop = make(chan struct{}, 1), make(chan struct{})
	n.done.Go(func() {
		for {
			select {
			case <-n.stop:
				return
			case <-n.due:
			}
			if err := s.snapshot(context.Background()); err != nil {
				s.log.Warn("no snapshot was saved, the next start will take longer", "error", err)
			}
		}
	})
}

// note says that the ledger has reached seq; it never waits.
func (n *snapshotter) note(seq uint64) {
	if seq-n.last < n.every {
		return
	}
	n.last = seq
	select {
	case n.due <- struct{}{}:
	default:
	}
}

func (n *snapshotter) close() {
	close(n.stop)
	n.done.Wait()
}

// snapshot saves the state. It may be ahead of the store by the commit under way,
// so a refusal of the store is tried again.
func (s *Service) snapshot(ctx context.Context) error {
	const tries, pause = 20, 50 * time.Millisecond
	var err error
	for range tries {
		s.mu.RLock()
		head, whole := s.head, s.state.Seq() == s.head.Seq
		var data []byte
		if whole && head.Seq > 0 {
			data, err = s.state.Snapshot()
		}
		s.mu.RUnlock()
		if err != nil || head.Seq == 0 {
			return err
		}
		if whole {
			err = s.store.SaveSnapshot(ctx, ledger.Snapshot{Head: head, Data: data})
			if !errors.Is(err, ledger.ErrNotInChain) {
				return err
			}
		}
		time.Sleep(pause)
	}
	return err
}
