package slack

import (
	"context"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"time"

	"bayword/internal/inbox"
)

// lanes works through a durable list, one lane a channel: what belongs to one
// channel is done in the order of its time, and a channel that must wait holds
// up no other.
type lanes struct {
	list  func(context.Context) ([]inbox.Entry, error)
	do    func(ctx context.Context, e inbox.Entry, try int) error // nil: finished, and off the list
	delay func(err error, try int) time.Duration
	log   *slog.Logger
	more  chan struct{}
	// settle is waited before the list is looked at: two connections can hand
	// over two messages in the wrong order, a few milliseconds apart.
	settle time.Duration
}

func newLanes(
	list func(context.Context) ([]inbox.Entry, error),
	do func(context.Context, inbox.Entry, int) error,
	delay func(error, int) time.Duration,
	log *slog.Logger,
) lanes {
	return lanes{list: list, do: do, delay: delay, log: log, more: make(chan struct{}, 1)}
}

// wake says that the list has grown.
func (l *lanes) wake() {
	select {
	case l.more <- struct{}{}:
	default:
	}
}

// run works until ctx ends, and returns when every lane has stopped.
func (l *lanes) run(ctx context.Context) {
	var wg sync.WaitGroup
	defer wg.Wait()
	busy := make(map[string]bool)
	free := make(chan string)
	for fails := 0; ; {
		entries, err := l.list(ctx)
		if err != nil {
			if ctx.Err() != nil {
				return
			}
			l.log.Error("the inbox cannot be read", "err", err)
			if !sleep(ctx, l.delay(err, fails)) {
				return
			}
			fails++
			continue
		}
		fails = 0
		work := make(map[string][]inbox.Entry)
		for _, e := range entries {
			if c := channelOf(e.Message.ID); !busy[c] {
				work[c] = append(work[c], e)
			}
		}
		for c, list := range work {
			busy[c] = true
			slices.SortStableFunc(list, func(a, b inbox.Entry) int { return a.Message.At.Compare(b.Message.At) })
			wg.Go(func() {
				for _, e := range list {
					if !l.finish(ctx, e) {
						return
					}
				}
				select {
				case free <- c:
				case <-ctx.Done():
				}
			})
		}
		select {
		case c := <-free:
			delete(busy, c)
		case <-l.more:
			if !sleep(ctx, l.settle) {
				return
			}
		case <-ctx.Done():
			return
		}
	}
}

// finish does one entry, again and again if need be; false when ctx ended.
func (l *lanes) finish(ctx context.Context, e inbox.Entry) bool {
	for try := 0; ; try++ {
		err := l.do(ctx, e, try)
		if err == nil {
			return true
		}
		if ctx.Err() != nil {
			return false
		}
		wait := l.delay(err, try)
		l.log.Warn("not done yet; trying again", "message", e.Message.ID, "wait", wait, "err", err)
		if !sleep(ctx, wait) {
			return false
		}
	}
}

// channelOf gives the platform channel of a message ID.
func channelOf(id string) string {
	c, _, _ := strings.Cut(id, ":")
	return c
}
