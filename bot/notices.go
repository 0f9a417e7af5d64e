package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
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
	// noticeTime bounds one call of the server or the surface: what one notice must
	// wait for must not hold up the others for long.
	noticeTime = 20 * time.Second
	// noticePage is the most that the server gives: those for somebody who is not
	// here must not hide the others.
	noticePage = 200
	// roleLead is the role of who is told what nobody else can be told.
	roleLead = "lead"
)

// notices sends what the shop has to tell by itself. Each is marked as sent once
// the surface shows it; a crash in between is the surface's to bear, which shows a
// notice once however often it is announced.
type notices struct {
	service pb.NoticeServiceClient
	talk    *talk.Talk
	to      surface.Announcer
	log     *slog.Logger
	clock   func() time.Time
	every   time.Duration

	trouble map[string]string // notice id → what was logged of it, so that it is logged once
}

func newNotices(conn grpc.ClientConnInterface, t *talk.Talk, to surface.Announcer, log *slog.Logger, clock func() time.Time) *notices {
	return &notices{
		service: pb.NewNoticeServiceClient(conn), talk: t, to: to, log: log, clock: clock, every: noticesEvery,
		trouble: make(map[string]string),
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
			n.once("", "the notices cannot be asked for; trying again", err)
		default:
			delete(n.trouble, "")
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
	due, err := n.service.ListNotices(asked, &pb.ListNoticesRequest{PageSize: noticePage})
	if err != nil {
		return next, err
	}
	if due.GetNextAt().IsValid() {
		next = due.GetNextAt().AsTime()
	}
	if len(due.GetNotices()) == 0 {
		return next, nil
	}
	_, names, err := n.talk.Vocabulary(asked)
	if err != nil {
		return next, err
	}
	for _, d := range due.GetNotices() {
		if err := n.send(ctx, d, names); err != nil && ctx.Err() == nil {
			n.once(d.GetId(), "a notice was not sent yet", err)
		}
	}
	return next, nil
}

// send shows one notice and marks it. One for somebody who is elsewhere is left.
func (n *notices) send(ctx context.Context, d *pb.Notice, names *pb.GetVocabularyResponse) error {
	ctx, cancel := context.WithTimeout(ctx, noticeTime)
	defer cancel()
	reply, ok := say.Notice(d, say.NamesFrom(names))
	if !ok {
		return fmt.Errorf("there are no words for its kind, %v", d.GetKind())
	}
	err := n.to.Announce(ctx, surface.Notice{ID: d.GetId(), Channel: d.GetChannel(), Person: d.GetPerson(), Reply: reply})
	switch {
	case errors.Is(err, surface.ErrElsewhere):
		return nil
	case errors.Is(err, surface.ErrNowhere):
		if err = n.instead(ctx, d, reply, names, err); err != nil {
			return err
		}
	case err != nil:
		return err
	}
	if err := n.mark(ctx, d); err != nil {
		return fmt.Errorf("it was sent and could not be marked: %w", err)
	}
	delete(n.trouble, d.GetId())
	return nil
}

// instead sends a notice that has nowhere to go to a lead, if one can be reached.
// If none can, that is logged and nothing more can be done for it.
func (n *notices) instead(ctx context.Context, d *pb.Notice, reply say.Reply, names *pb.GetVocabularyResponse, why error) error {
	n.log.Warn("a notice has nowhere to go", "notice", d.GetId(), "channel", d.GetChannel(), "person", d.GetPerson(), "err", why)
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
		err := n.to.Announce(ctx, surface.Notice{ID: d.GetId(), Channel: surface.DirectChannel, Person: p.GetId(), Reply: told})
		if !errors.Is(err, surface.ErrNowhere) {
			return err
		}
	}
	n.log.Error("a notice reached nobody", "notice", d.GetId(), "text", reply.Text)
	return nil
}

// mark keeps that a notice was sent. The request is the same every time, so that
// the server may take it for the one it had.
func (n *notices) mark(ctx context.Context, d *pb.Notice) error {
	sum := sha256.Sum256([]byte(d.GetId()))
	_, err := n.service.MarkNotice(ctx, &pb.MarkNoticeRequest{
		Origin:    &pb.Origin{Channel: d.GetChannel(), Message: d.GetId(), SaidAt: d.GetAt()},
		RequestId: "n-" + hex.EncodeToString(sum[:16]), Id: d.GetId(),
	})
	return err
}

// once logs what is wrong with a notice, again only when it is something else.
func (n *notices) once(id, what string, err error) {
	if n.trouble[id] == err.Error() {
		return
	}
	n.trouble[id] = err.Error()
	n.log.Warn(what, "notice", id, "err", err)
}
