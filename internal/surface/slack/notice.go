package slack

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/slack-go/slack"

	"bayword/internal/surface"
)

// noticeKey + digest of a notice's ID → what became of it.
const noticeKey = "notice/"

// announced is what is stored there: when it was shown, or when it was tried last
// and as which message.
type announced struct {
	At  time.Time `json:"at"`
	As  string    `json:"as,omitempty"` // "" once it is shown
	Try int       `json:"try,omitempty"`
}

// Announce shows a notice in its channel, or to its person alone. It goes into
// the outbox first, under an ID of its own, and from there as every reply does:
// a crash at any point shows it once. Only what the platform has refused is tried
// afresh, or somewhere else.
func (s *Surface) Announce(ctx context.Context, n surface.Notice) error {
	key := noticeKey + digest(n.ID)
	was, before, err := s.announced(ctx, key)
	if err != nil || before && was.As == "" {
		return err
	}
	e, told, err := s.cfg.Inbox.Reply(ctx, was.As)
	if err != nil {
		return err
	}
	refused := told && !e.Unsent && e.Posted == ""
	if !told || refused {
		if refused {
			was.Try++
		}
		if was, err = s.tellNotice(ctx, key, n, was.Try); err != nil {
			return err
		}
	}
	s.posted.wake()
	if err := s.stands(ctx, was.As); err != nil {
		return fmt.Errorf("notice %s: %w", n.ID, err)
	}
	return s.keepAnnounced(ctx, key, announced{At: s.cfg.Clock()})
}

// tellNotice puts a notice into the outbox, for where it is to go now.
func (s *Surface) tellNotice(ctx context.Context, key string, n surface.Notice, try int) (as announced, err error) {
	if err := s.cfg.Directory.Refresh(ctx); err != nil {
		return as, fmt.Errorf("the shop's names: %w", err)
	}
	channel, err := s.destination(ctx, n)
	if err != nil {
		return as, fmt.Errorf("notice %s: %w", n.ID, err)
	}
	as = announced{At: s.cfg.Clock(), As: channel + ":n" + digest(n.ID), Try: try}
	if try > 0 {
		as.As += fmt.Sprint("-", try)
	}
	if err := s.keepAnnounced(ctx, key, as); err != nil {
		return as, err
	}
	_, err = s.cfg.Inbox.Tell(ctx, surface.Message{ID: as.As, Person: n.Person, Channel: n.Channel, At: as.At}, n.Reply)
	return as, err
}

func (s *Surface) announced(ctx context.Context, key string) (a announced, ok bool, err error) {
	stored, ok, err := s.cfg.Inbox.Load(ctx, key)
	if err != nil || !ok {
		return a, false, err
	}
	return a, true, json.Unmarshal(stored, &a)
}

func (s *Surface) keepAnnounced(ctx context.Context, key string, a announced) error {
	stored, err := json.Marshal(a)
	if err != nil {
		return err
	}
	return s.cfg.Inbox.Save(ctx, key, stored)
}

// stands waits until a notice has left the outbox.
func (s *Surface) stands(ctx context.Context, id string) error {
	for {
		e, ok, err := s.cfg.Inbox.Reply(ctx, id)
		switch {
		case err != nil:
			return err
		case ok && e.Posted != "":
			return nil
		case !ok || !e.Unsent:
			return fmt.Errorf("%w: the platform refuses it", surface.ErrNowhere)
		}
		if !sleep(ctx, s.pace.settle) {
			return ctx.Err()
		}
	}
}

// ownNotice reports whether a message ID is a notice's: nobody's message, and in
// no thread.
func ownNotice(id string) bool { return strings.HasPrefix(tsOf(id), "n") }

// destination gives the platform's channel for a notice.
func (s *Surface) destination(ctx context.Context, n surface.Notice) (channel string, err error) {
	if n.Channel == surface.DirectChannel {
		user, ok := s.cfg.Directory.ChatUser(n.Person)
		if !ok {
			return "", fmt.Errorf("%w: no user of the platform is known for %q", surface.ErrNowhere, n.Person)
		}
		return s.direct(ctx, user)
	}
	id, name, ok := s.cfg.Directory.ChatChannel(n.Channel)
	if !ok {
		return "", fmt.Errorf("%w: no channel %q is known", surface.ErrNowhere, n.Channel)
	}
	if id == "" {
		id, err = s.channelByName(ctx, name)
	}
	return id, err
}

// direct gives the conversation with one person.
func (s *Surface) direct(ctx context.Context, user string) (channel string, err error) {
	if known, ok := s.directs.Load(user); ok {
		return known.(string), nil
	}
	c, _, _, err := s.api.OpenConversationContext(ctx, &slack.OpenConversationParameters{Users: []string{user}, ReturnIM: true})
	var answer slack.SlackErrorResponse
	switch {
	case err != nil && errors.As(err, &answer) && judge(err) == refused:
		return "", fmt.Errorf("%w: no direct message to %s (%s)", surface.ErrNowhere, user, answer.Err)
	case err != nil:
		return "", fmt.Errorf("direct message to %s; the app needs the bot scope im:write: %w", user, err)
	}
	s.directs.Store(user, c.ID)
	return c.ID, nil
}

// channelByName looks among the channels that the bot is in.
func (s *Surface) channelByName(ctx context.Context, name string) (id string, err error) {
	if id := s.names.find(name, s.cfg.Clock()); id != "" {
		return id, nil
	}
	if err := s.conversations(ctx, []string{"public_channel", "private_channel"}, func(slack.Channel) error { return nil }); err != nil {
		return "", err
	}
	if id := s.names.find(name, s.cfg.Clock()); id != "" {
		return id, nil
	}
	return "", fmt.Errorf("%w: the bot is in no channel named %q", surface.ErrNowhere, name)
}
