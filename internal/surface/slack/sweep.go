package slack

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/slack-go/slack"

	"bayword/internal/inbox"
)

const (
	// overlap is read again before the cursor: messages can arrive out of order.
	overlap = young
	// threadsOpen is how old the beginning of a thread may be for its newer
	// replies to be found; history shows a reply only by the thread's beginning.
	threadsOpen = 24 * time.Hour
	pageSize    = 200
)

// sweeper reads what was said while nothing listened, whenever it is asked.
func (s *Surface) sweeper(ctx context.Context) {
	for {
		select {
		case <-s.links.sweep:
		case <-ctx.Done():
			return
		}
		for try := 0; ; try++ {
			err := s.sweepAll(ctx)
			if err == nil || ctx.Err() != nil {
				break
			}
			s.log.Warn("the history was not read to its end; trying again", "err", err)
			if !sleep(ctx, s.delay(err, try)) {
				return
			}
		}
	}
}

func (s *Surface) sweepAll(ctx context.Context) error {
	since, _, err := s.cfg.Inbox.Load(ctx, sinceKey)
	if err != nil {
		return err
	}
	return s.conversations(ctx, []string{"public_channel", "private_channel", "im", "mpim"}, func(c slack.Channel) error {
		if err := s.sweepOne(ctx, c.ID, string(since)); err != nil {
			return fmt.Errorf("history of %s: %w", c.ID, err)
		}
		return nil
	})
}

// conversations calls do for every conversation of some kinds that the bot is in,
// and remembers their names. An app without the scope of one kind still gets the
// others.
func (s *Surface) conversations(ctx context.Context, kinds []string, do func(slack.Channel) error) error {
	for _, kind := range kinds {
		cursor := ""
		for {
			var list []slack.Channel
			err := s.patiently(ctx, func() (err error) {
				list, cursor, err = s.api.GetConversationsForUserContext(ctx, &slack.GetConversationsForUserParameters{
					Types: []string{kind}, Limit: pageSize, Cursor: cursor, ExcludeArchived: true,
				})
				return err
			})
			var answer slack.SlackErrorResponse
			if errors.As(err, &answer) && answer.Err == "missing_scope" {
				s.log.Debug("conversations of a kind are not read", "kind", kind, "needs", answer.Needed)
				break
			}
			if err != nil {
				return fmt.Errorf("list the conversations: %w", err)
			}
			for _, c := range list {
				s.names.set(c.ID, c.Name, s.cfg.Clock())
				if err := do(c); err != nil {
					return err
				}
			}
			if cursor == "" {
				break
			}
		}
	}
	return nil
}

// sweepOne puts what is new in one conversation into the inbox, which knows
// what it has had before.
func (s *Surface) sweepOne(ctx context.Context, channel, since string) error {
	from, err := s.from(ctx, channel, since)
	if err != nil {
		return err
	}
	at, _ := instant(from)
	heads, err := s.page(ctx, func(cursor string) ([]slack.Message, string, error) {
		r, err := s.api.GetConversationHistoryContext(ctx, &slack.GetConversationHistoryParameters{
			ChannelID: channel, Oldest: stamp(at.Add(-threadsOpen)), Cursor: cursor, Limit: pageSize,
		})
		if err != nil {
			return nil, "", err
		}
		return r.Messages, r.ResponseMetaData.NextCursor, nil
	})
	if err != nil {
		return err
	}
	all := heads
	for _, m := range heads {
		if m.ReplyCount == 0 || m.LatestReply != "" && m.LatestReply <= from {
			continue
		}
		replies, err := s.page(ctx, func(cursor string) ([]slack.Message, string, error) {
			list, _, next, err := s.api.GetConversationRepliesContext(ctx, &slack.GetConversationRepliesParameters{
				ChannelID: channel, Timestamp: m.Timestamp, Oldest: from, Cursor: cursor, Limit: pageSize,
			})
			return list, next, err
		})
		if err != nil {
			return err
		}
		all = append(all, replies...)
	}
	slices.SortStableFunc(all, func(a, b slack.Message) int { return strings.Compare(a.Timestamp, b.Timestamp) })
	for _, m := range all {
		if err := s.recall(ctx, wire(channel, m), from); err != nil {
			return err
		}
	}
	return nil
}

// from gives the ts after which a channel is read.
func (s *Surface) from(ctx context.Context, channel, since string) (string, error) {
	cursor, ok, err := s.cfg.Inbox.Load(ctx, cursorKey+channel)
	if err != nil || !ok {
		return since, err
	}
	from := string(cursor)
	// Reading again is safe only as far back as the inbox remembers.
	if at, ok := instant(from); ok && s.cfg.Clock().Sub(at) < inbox.Remember/2 {
		from = stamp(at.Add(-overlap))
	}
	return max(from, since), nil
}

// recall takes one message of the history: as new, or as the edit of one that
// is known with other words.
func (s *Surface) recall(ctx context.Context, w wireMessage, from string) error {
	list := reader{self: s.self, zone: s.cfg.Clock().Location()}.message(w)
	if len(list) == 0 {
		return nil
	}
	m := list[0]
	_, known, err := s.cfg.Inbox.Reply(ctx, m.ID)
	switch {
	case err != nil:
		return err
	case known && w.Edited != nil:
		m.asEdit(w)
	case known || w.TS <= from:
		return nil
	case w.Edited != nil:
		// Heard first as it is now: the event of the edit, if it still comes, is no news.
		m.also = append(m.also, editID(w))
	}
	return s.take(ctx, []received{m})
}

// page reads all pages of a list.
func (s *Surface) page(ctx context.Context, get func(cursor string) ([]slack.Message, string, error)) (all []slack.Message, err error) {
	cursor := ""
	for {
		var list []slack.Message
		next := ""
		if err := s.patiently(ctx, func() (err error) {
			list, next, err = get(cursor)
			return err
		}); err != nil {
			return nil, err
		}
		all = append(all, list...)
		if next == "" {
			return all, nil
		}
		cursor = next
	}
}

// patiently makes a call that only reads, and waits when told to.
func (s *Surface) patiently(ctx context.Context, call func() error) error {
	for try := 0; ; try++ {
		err := call()
		if err == nil || judge(err) != overTime {
			return err
		}
		if !sleep(ctx, s.delay(err, try)) {
			return ctx.Err()
		}
	}
}

// wire gives the fields of a message of the history that count here.
func wire(channel string, m slack.Message) wireMessage {
	w := wireMessage{
		Type: "message", Subtype: m.SubType, Channel: channel, User: m.User, BotID: m.BotID, Text: m.Text,
		TS: m.Timestamp, ThreadTS: m.ThreadTimestamp, ClientMsgID: m.ClientMsgID,
	}
	if m.Edited != nil {
		w.Edited = &wireEdited{TS: m.Edited.Timestamp}
	}
	for _, f := range m.Files {
		file := wireFile{
			Name: f.Name, Title: f.Title, Mimetype: f.Mimetype, Size: f.Size, URL: f.URLPrivateDownload, Smaller: f.Thumb1024,
		}
		if f.Transcription != nil && f.Transcription.Preview != nil {
			file.Transcription = &wireTranscription{Preview: &wirePreview{Content: f.Transcription.Preview.Content}}
		}
		w.Files = append(w.Files, file)
	}
	return w
}
