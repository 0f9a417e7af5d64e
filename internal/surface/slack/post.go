package slack

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
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

// post shows one reply of the outbox: its words, then its files.
func (s *Surface) post(ctx context.Context, e inbox.Entry, try int) error {
	if s.attached(e) {
		return s.postBoth(ctx, e, try)
	}
	ts, err := s.say(ctx, e)
	if err != nil {
		return err
	}
	return s.cfg.Inbox.Sent(ctx, e.Message.ID, ts)
}

// say shows the words of a reply and gives the ts of the post; "" when the
// platform refuses them for good.
func (s *Surface) say(ctx context.Context, e inbox.Entry) (ts string, err error) {
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
			return "", err
		}
		if ok && first.Posted != "" {
			_, _, _, err := s.api.UpdateMessageContext(ctx, channel, first.Posted, show...)
			switch {
			case err == nil:
				return first.Posted, nil
			case judge(err) != refused: // doing it twice does no harm
				return "", fmt.Errorf("update the reply: %w", err)
			}
			s.log.Warn("the earlier reply cannot be changed; a new one is posted", "message", m.ID, "err", err)
		}
	}
	if s.doubt(m.ID) {
		ts, err := s.find(ctx, m)
		if err != nil {
			return "", fmt.Errorf("look for the reply: %w", err)
		}
		if ts != "" {
			s.unsure.Delete(m.ID)
			return ts, nil
		}
	}
	show = append(show, slack.MsgOptionDisableLinkUnfurl(), slack.MsgOptionDisableMediaUnfurl())
	if thread != "" {
		show = append(show, slack.MsgOptionTS(thread))
	}
	_, ts, err = s.api.PostMessageContext(ctx, channel, show...)
	if err != nil {
		switch judge(err) {
		case refused:
			s.log.Error("a reply is refused by the platform and dropped", "message", m.ID, "err", err)
			return "", nil
		case mayBe:
			s.unsure.Store(m.ID, true)
		case notYet, overTime:
			s.unsure.Delete(m.ID)
		}
		return "", fmt.Errorf("post the reply: %w", err)
	}
	s.unsure.Delete(m.ID)
	return ts, nil
}

// doubt reports whether the reply to a message may have been posted already.
func (s *Surface) doubt(id string) bool {
	_, doubt := s.unsure.Load(id)
	return doubt
}

// find looks for the bot's own post that answers a message. It gives "" when
// there is none.
func (s *Surface) find(ctx context.Context, m surface.Message) (ts string, err error) {
	return s.own(ctx, m, func(post slack.Message) bool {
		return slices.ContainsFunc(post.Blocks.BlockSet, func(b slack.Block) bool {
			return strings.TrimPrefix(b.ID(), answerBlock) == m.ID
		})
	})
}

// own gives the ts of the bot's first post that is the one wanted: in the thread
// of a message, or, for a notice, in its channel from about its time on.
func (s *Surface) own(ctx context.Context, m surface.Message, wanted func(slack.Message) bool) (ts string, err error) {
	channel, thread := place(m)
	page := func(cursor string) (list []slack.Message, next string, err error) {
		list, _, next, err = s.api.GetConversationRepliesContext(ctx, &slack.GetConversationRepliesParameters{
			ChannelID: channel, Timestamp: thread, Cursor: cursor, Limit: pageSize,
		})
		return list, next, err
	}
	if thread == "" {
		page = func(cursor string) ([]slack.Message, string, error) {
			r, err := s.api.GetConversationHistoryContext(ctx, &slack.GetConversationHistoryParameters{
				ChannelID: channel, Oldest: stamp(m.At.Add(-overlap)), Cursor: cursor, Limit: pageSize,
			})
			if err != nil {
				return nil, "", err
			}
			return r.Messages, r.ResponseMetaData.NextCursor, nil
		}
	}
	for cursor := ""; ; {
		list, next, err := page(cursor)
		var answer slack.SlackErrorResponse
		if errors.As(err, &answer) && answer.Err == "thread_not_found" {
			return "", nil
		}
		if err != nil {
			return "", err
		}
		for _, post := range list {
			if (post.BotID == s.self.bot || post.User == s.self.user) && wanted(post) {
				return post.Timestamp, nil
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
	switch {
	case m.Act == surface.Edited:
		ts = tsOf(m.Target)
	case m.Act != surface.Said, ownNotice(m.ID):
		return
	}
	err := s.api.AddReactionContext(ctx, tick, slack.NewRefToMessage(channel, ts))
	if err != nil && !strings.Contains(err.Error(), "already_reacted") {
		s.log.Debug("no tick", "message", m.ID, "err", err)
	}
}
