package slack

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/slack-go/slack"

	"bayword/internal/inbox"
	"bayword/internal/surface"
)

// received by the person, in a glance.
const tick = "white_check_mark"

// outcome is what is known of a call that failed.
type outcome int

const (
	refused  outcome = iota // not done, and never will be
	notYet                  // not done
	mayBe                   // perhaps done
	overTime                // not done: too many calls
)

// passing reports an answer that another try may change.
func passing(e slack.SlackErrorResponse) bool {
	switch e.Err {
	case "ratelimited", "rate_limited", "internal_error", "fatal_error", "service_unavailable", "request_timeout",
		"team_added_to_org", "accesslimited":
		return true
	}
	return false
}

func judge(err error) outcome {
	var answer slack.SlackErrorResponse
	var limited *slack.RateLimitedError
	var code slack.StatusCodeError
	switch {
	case errors.As(err, &limited):
		return overTime
	case errors.As(err, &answer):
		switch {
		case answer.Err == "ratelimited" || answer.Err == "rate_limited":
			return overTime
		case passing(answer):
			return mayBe
		case isAuth(err) || answer.Err == "missing_scope":
			return notYet // the set-up is wrong, not the message
		}
		return refused
	case errors.As(err, &code) && code.Code < http.StatusInternalServerError:
		return notYet
	}
	return mayBe
}

// post shows one reply of the outbox.
func (s *Surface) post(ctx context.Context, e inbox.Entry, _ int) error {
	m := e.Message
	channel, thread := place(m)
	blocks, text := render(m.ID, e.Reply)
	show := []slack.MsgOption{slack.MsgOptionText(text, false), slack.MsgOptionBlocks(blocks...)}

	if e.Reply.Quiet {
		s.react(ctx, m, channel)
	}
	if m.Act == surface.Edited || m.Act == surface.Deleted {
		first, ok, err := s.cfg.Inbox.Reply(ctx, m.Target)
		if err != nil {
			return err
		}
		if ok && first.Posted != "" {
			_, _, _, err := s.api.UpdateMessageContext(ctx, channel, first.Posted, show...)
			switch {
			case err == nil:
				return s.cfg.Inbox.Sent(ctx, m.ID, first.Posted)
			case judge(err) != refused: // doing it twice does no harm
				return fmt.Errorf("update the reply: %w", err)
			}
			s.log.Warn("the earlier reply cannot be changed; a new one is posted", "message", m.ID, "err", err)
		}
	}
	if _, doubt := s.unsure.Load(m.ID); doubt {
		ts, err := s.find(ctx, channel, thread, m.ID)
		if err != nil {
			return fmt.Errorf("look for the reply: %w", err)
		}
		if ts != "" {
			s.unsure.Delete(m.ID)
			return s.cfg.Inbox.Sent(ctx, m.ID, ts)
		}
	}
	_, ts, err := s.api.PostMessageContext(ctx, channel, append(show,
		slack.MsgOptionTS(thread), slack.MsgOptionDisableLinkUnfurl(), slack.MsgOptionDisableMediaUnfurl())...)
	if err != nil {
		switch judge(err) {
		case refused:
			s.log.Error("a reply is refused by the platform and dropped", "message", m.ID, "err", err)
			return s.cfg.Inbox.Sent(ctx, m.ID, "")
		case mayBe:
			s.unsure.Store(m.ID, true)
		case notYet, overTime:
			s.unsure.Delete(m.ID)
		}
		return fmt.Errorf("post the reply: %w", err)
	}
	s.unsure.Delete(m.ID)
	return s.cfg.Inbox.Sent(ctx, m.ID, ts)
}

// find looks for the bot's own post that answers the message id in a thread.
// It gives "" when there is none.
func (s *Surface) find(ctx context.Context, channel, thread, id string) (ts string, err error) {
	cursor := ""
	for {
		list, _, next, err := s.api.GetConversationRepliesContext(ctx, &slack.GetConversationRepliesParameters{
			ChannelID: channel, Timestamp: thread, Cursor: cursor, Limit: 200,
		})
		var answer slack.SlackErrorResponse
		if errors.As(err, &answer) && answer.Err == "thread_not_found" {
			return "", nil
		}
		if err != nil {
			return "", err
		}
		for _, m := range list {
			if m.BotID != s.self.bot && m.User != s.self.user {
				continue
			}
			for _, b := range m.Blocks.BlockSet {
				if strings.TrimPrefix(b.ID(), answerBlock) == id {
					return m.Timestamp, nil
				}
			}
		}
		if next == "" {
			return "", nil
		}
		cursor = next
	}
}

// react puts a tick on the message. It is a courtesy: failing is no matter.
func (s *Surface) react(ctx context.Context, m surface.Message, channel string) {
	ts := tsOf(m.ID)
	switch m.Act {
	case surface.Edited:
		ts = tsOf(m.Target)
	case surface.Deleted, surface.Pressed:
		return
	}
	err := s.api.AddReactionContext(ctx, tick, slack.NewRefToMessage(channel, ts))
	if err != nil && !strings.Contains(err.Error(), "already_reacted") {
		s.log.Debug("no tick", "message", m.ID, "err", err)
	}
}
