package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"slices"
	"sync"
	"time"

	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/talk"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

const (
	noticesEvery = 15 * time.Second
	// noticeTime bounds one call of the server or the surface.
	noticeTime = 20 * time.Second
	// A notice that reached nobody, or whose place was too slow, is tried again after
	// a pause that doubles from the first to the longest.
	firstPause   = time.Minute
	longestPause = time.Hour
	noticePage   = 200 // the most that the server gives
	// roleLead is the role of who is told what nobody else can be told.
	roleLead = "lead"
)

// errNobody and errSlow say that a notice is tried again after a pause.
var (
	errNobody = errors.New("nobody can be reached")
	errSlow   = errors.New("it took too long")
)

// notices sends what the shop has to tell by itself. Each is marked as sent once
// the surface shows it; a crash in between is the surface's to bear, which shows a
// notice once however often it is announced.
type notices struct {
	service  pb.NoticeServiceClient
	talk     *talk.Talk
	to       surface.Announcer
	log      *slog.Logger
	clock    func() time.Time
	every    time.Duration
	patience time.Duration // with one post

	mu      sync.Mutex
	trouble map[string]*trouble // by notice, as long as it is due; "" is the asking for them
}

// trouble is what is the matter with a notice.
type trouble struct {
	said  map[string]string // what was logged of it, and with which error
	pause time.Duration     // the last one
	until time.Time         // the end of the last one
}

func newNotices(conn grpc.ClientConnInterface, t *talk.Talk, to surface.Announcer, log *slog.Logger, clock func() time.Time) *notices {
	return &notices{
		service: pb.NewNoticeServiceClient(conn), talk: t, to: to, log: log, clock: clock, every: noticesEvery, patience: noticeTime,
		trouble: make(map[string]*trouble),
	}
}

// run sends notices until ctx ends, or until it turns out that the server has none.
func (n *notices) run(ctx context.Context) {
	for {
		next, err := n.round(ctx)
		switch {
		case ctx.Err() != nil:
			return
		case status.Code(err) == codes.Unimplemented:
			n.log.Info("the server sends no notices")
			return
		case err != nil:
			n.once(slog.LevelWarn, "", "the notices cannot be asked for; trying again", err)
		default:
			n.settle("")
		}
		wait := n.every
		if d := next.Sub(n.clock()); !next.IsZero() && d < wait {
			wait = min(max(d, time.Second), wait)
		}
		select {
		case <-time.After(wait):
		case <-ctx.Done():
			return
		}
	}
}

// round sends what is due now and says when the next one is, if that is known.
func (n *notices) round(ctx context.Context) (next time.Time, err error) {
	asked, cancel := context.WithTimeout(ctx, noticeTime)
	defer cancel()
	due, next, err := n.due(asked)
	if err != nil {
		return next, err
	}
	n.forget(due)
	if len(due) == 0 {
		return next, nil
	}
	_, names, err := n.talk.Vocabulary(asked)
	if err != nil {
		return next, err
	}
	var places sync.WaitGroup
	for _, lane := range byPlace(due) {
		places.Go(func() { n.sendAll(ctx, lane, names) })
	}
	places.Wait()
	return next, nil
}

// due gives all that is due, so that what can reach nobody hides nothing else.
func (n *notices) due(ctx context.Context) (all []*pb.Notice, next time.Time, err error) {
	for token, more := "", true; more; more = token != "" {
		page, err := n.service.ListNotices(ctx, &pb.ListNoticesRequest{PageSize: noticePage, PageToken: token})
		if err != nil {
			return nil, next, err
		}
		if page.GetNextAt().IsValid() {
			next = page.GetNextAt().AsTime()
		}
		all, token = append(all, page.GetNotices()...), page.GetNextPageToken()
	}
	return all, next, nil
}

// byPlace parts notices by where they go, so that no place waits for another one.
func byPlace(due []*pb.Notice) map[string][]*pb.Notice {
	lanes := make(map[string][]*pb.Notice)
	for _, d := range due {
		place := "#" + d.GetChannel()
		if d.GetChannel() == surface.DirectChannel {
			place = d.GetPerson()
		}
		lanes[place] = append(lanes[place], d)
	}
	return lanes
}

// sendAll sends the notices of one place. When the place is too slow, the rest
// waits for the next round, and what it was slow with for longer.
func (n *notices) sendAll(ctx context.Context, lane []*pb.Notice, names *pb.GetVocabularyResponse) {
	for _, d := range lane {
		if n.paused(d.GetId()) {
			continue
		}
		err := n.send(ctx, d, names)
		switch {
		case ctx.Err() != nil:
			return
		case err == nil:
			continue
		case errors.Is(err, errNobody):
			n.pause(d.GetId())
			continue // logged with its text
		}
		n.once(slog.LevelWarn, d.GetId(), "a notice was not sent yet", err)
		if errors.Is(err, errSlow) {
			n.pause(d.GetId())
			return
		}
	}
}

// send shows one notice and marks it. One for somebody who is elsewhere is left.
func (n *notices) send(ctx context.Context, d *pb.Notice, names *pb.GetVocabularyResponse) error {
	reply, ok := say.Notice(d, say.NamesFrom(names))
	if !ok {
		return fmt.Errorf("there are no words for its kind, %v", d.GetKind())
	}
	err := n.post(ctx, surface.Notice{ID: d.GetId(), Channel: d.GetChannel(), Person: d.GetPerson(), Reply: reply})
	if errors.Is(err, surface.ErrNowhere) {
		err = n.instead(ctx, d, reply, names, err)
	}
	switch {
	case errors.Is(err, surface.ErrElsewhere):
		return nil
	case err != nil:
		return err
	}
	if err := n.mark(ctx, d); err != nil {
		return fmt.Errorf("it was sent and could not be marked: %w", err)
	}
	n.settle(d.GetId())
	return nil
}

// post shows a notice in one place, if that takes no longer than a post may.
func (n *notices) post(ctx context.Context, s surface.Notice) error {
	ctx, cancel := context.WithTimeout(ctx, n.patience)
	defer cancel()
	err := n.to.Announce(ctx, s)
	if err != nil && errors.Is(ctx.Err(), context.DeadlineExceeded) && !errors.Is(err, surface.ErrNowhere) {
		return fmt.Errorf("%w: %w", errSlow, err)
	}
	return err
}

// instead sends a notice that has nowhere to go to a lead, if one can be reached.
func (n *notices) instead(ctx context.Context, d *pb.Notice, reply say.Reply, names *pb.GetVocabularyResponse, why error) error {
	n.once(slog.LevelWarn, d.GetId(), "a notice has nowhere to go", why, "channel", d.GetChannel(), "person", d.GetPerson())
	whom := "#" + d.GetChannel()
	if d.GetChannel() == surface.DirectChannel {
		whom = d.GetPerson()
	}
	for _, p := range names.GetPeople() {
		if p.GetRole() != roleLead || d.GetChannel() == surface.DirectChannel && p.GetId() == d.GetPerson() {
			continue
		}
		told := reply
		told.Text = fmt.Sprintf("Meant for %s, who cannot be reached here:\n%s", whom, reply.Text)
		if d.GetChannel() != surface.DirectChannel {
			told.Text = fmt.Sprintf("Meant for %s, where I cannot write:\n%s", whom, reply.Text)
		}
		err := n.post(ctx, surface.Notice{ID: d.GetId(), Channel: surface.DirectChannel, Person: p.GetId(), Reply: told})
		if !errors.Is(err, surface.ErrNowhere) {
			return err
		}
	}
	n.once(slog.LevelError, d.GetId(), "a notice reached nobody; it stays due", why, "text", reply.Text)
	return fmt.Errorf("%w: %w", errNobody, why)
}

// mark keeps that a notice was sent. The request is the same every time, so that
// the server may take it for the one it had.
func (n *notices) mark(ctx context.Context, d *pb.Notice) error {
	ctx, cancel := context.WithTimeout(ctx, noticeTime)
	defer cancel()
	sum := sha256.Sum256([]byte(d.GetId()))
	_, err := n.service.MarkNotice(ctx, &pb.MarkNoticeRequest{
		Origin:    &pb.Origin{Channel: d.GetChannel(), Message: d.GetId(), SaidAt: d.GetAt()},
		RequestId: "n-" + hex.EncodeToString(sum[:16]), Id: d.GetId(),
	})
	return err
}

// once logs what is wrong with a notice, again only when the error is another one.
func (n *notices) once(level slog.Level, id, what string, err error, more ...any) {
	n.mu.Lock()
	defer n.mu.Unlock()
	t := n.troubleOf(id)
	if t.said[what] == err.Error() {
		return
	}
	t.said[what] = err.Error()
	n.log.Log(context.Background(), level, what, append([]any{"notice", id, "err", err}, more...)...)
}

// pause puts the next try of a notice off, each time for longer.
func (n *notices) pause(id string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	t := n.troubleOf(id)
	t.pause = min(max(2*t.pause, firstPause), longestPause)
	t.until = n.clock().Add(t.pause)
}

func (n *notices) paused(id string) bool {
	n.mu.Lock()
	defer n.mu.Unlock()
	t, ok := n.trouble[id]
	return ok && n.clock().Before(t.until)
}

// troubleOf gives what is the matter with a notice, to be added to. The caller
// holds mu.
func (n *notices) troubleOf(id string) *trouble {
	t, ok := n.trouble[id]
	if !ok {
		t = &trouble{said: make(map[string]string)}
		n.trouble[id] = t
	}
	return t
}

// settle forgets what was the matter with a notice.
func (n *notices) settle(id string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	delete(n.trouble, id)
}

// forget forgets what was the matter with notices that are due no more.
func (n *notices) forget(due []*pb.Notice) {
	n.mu.Lock()
	defer n.mu.Unlock()
	maps.DeleteFunc(n.trouble, func(id string, _ *trouble) bool {
		return id != "" && !slices.ContainsFunc(due, func(d *pb.Notice) bool { return d.GetId() == id })
	})
}
