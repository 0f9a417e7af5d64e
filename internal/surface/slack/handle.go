package slack

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"sync"
	"time"

	"github.com/slack-go/slack"

	"bayword/internal/inbox"
	"bayword/internal/say"
	"bayword/internal/surface"
)

// Keys in the inbox's key-value part.
const (
	sinceKey  = "slack/since"   // ts: history before it is none of the bot's business
	cursorKey = "slack/cursor/" // + channel → ts of the newest message handled there
)

// nameTTL is how long a channel's name is believed.
const nameTTL = time.Hour

// names remembers the names of channels: events carry only ids.
type names struct {
	mu sync.Mutex
	by map[string]named
}

type named struct {
	name string
	at   time.Time
}

func (n *names) set(id, name string, now time.Time) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.by == nil {
		n.by = make(map[string]named)
	}
	n.by[id] = named{name: name, at: now}
}

func (n *names) get(id string, now time.Time) (string, bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	c, ok := n.by[id]
	return c.name, ok && now.Sub(c.at) < nameTTL
}

// find gives the id of a channel by its name; "" when it is not known.
func (n *names) find(name string, now time.Time) (id string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	for id, c := range n.by {
		if c.name == name && name != "" && now.Sub(c.at) < nameTTL {
			return id
		}
	}
	return ""
}

// channelName asks the platform for a name; "" if it will not say.
func (s *Surface) channelName(ctx context.Context, id string) (string, error) {
	now := s.cfg.Clock()
	if name, ok := s.names.get(id, now); ok {
		return name, nil
	}
	c, err := s.api.GetConversationInfoContext(ctx, &slack.GetConversationInfoInput{ChannelID: id})
	var refused slack.SlackErrorResponse
	switch {
	case errors.As(err, &refused) && !passing(refused):
		s.log.Warn("a channel's name cannot be read", "channel", id, "err", err)
		s.names.set(id, "", now)
		return "", nil
	case err != nil:
		return "", err
	}
	s.names.set(id, c.Name, now)
	return c.Name, nil
}

func (s *Surface) pending(ctx context.Context) ([]inbox.Entry, error) {
	list, err := s.cfg.Inbox.Pending(ctx)
	out := make([]inbox.Entry, len(list))
	for i, m := range list {
		out[i] = inbox.Entry{Message: m}
	}
	return out, err
}

// handle gives one pending message to the handler and stores what comes of it.
func (s *Surface) handle(ctx context.Context, e inbox.Entry, try int) error {
	m, listen, err := s.resolve(ctx, e.Message)
	if err != nil {
		return err
	}
	var reply *say.Reply
	if listen {
		if m, err = s.fetch(ctx, m, try); err != nil {
			return err
		}
		var fell any
		reply, fell, err = s.ask(ctx, m)
		if fell != nil {
			s.log.Error("the handler panicked; the message is put aside", "message", m.ID, "panic", fell)
			s.tell(ctx, e.Message, "Something went wrong with that message. Look whether it was recorded before you say it again.")
		}
		if err != nil {
			if try+1 == s.pace.tellAt {
				s.tell(ctx, e.Message, "I have your message and cannot reach the shop's records just now. It will be dealt with when they are back: no need to say it again.")
			}
			return fmt.Errorf("handle: %w", err)
		}
	}
	if reply != nil && reply.Text == "" && len(reply.Choices) == 0 {
		reply = nil
	}
	if err := s.cfg.Inbox.Done(ctx, m.ID, reply); err != nil {
		return err
	}
	if reply != nil {
		s.posted.wake()
	}
	if m.Act == surface.Said {
		return s.advance(ctx, channelOf(m.ID), tsOf(m.ID))
	}
	return nil
}

// ask calls the handler; fell is what it panicked with.
func (s *Surface) ask(ctx context.Context, m surface.Message) (reply *say.Reply, fell any, err error) {
	ctx, cancel := context.WithTimeout(ctx, s.pace.handle)
	defer cancel()
	defer func() {
		if fell = recover(); fell != nil {
			s.log.Debug("panic", "stack", string(debug.Stack()))
			reply, err = nil, nil
		}
	}()
	reply, err = s.cfg.Handler.Handle(ctx, m)
	return reply, nil, err
}

// resolve puts the shop's names into a message. listen is false when the
// message is not one for the handler.
func (s *Surface) resolve(ctx context.Context, m surface.Message) (_ surface.Message, listen bool, err error) {
	switch m.Act {
	case surface.Said:
		// It was deleted before it could arrive.
		_, gone, err := s.cfg.Inbox.Reply(ctx, deleteID(channelOf(m.ID), tsOf(m.ID)))
		if err != nil || gone {
			return m, false, err
		}
	case surface.Deleted:
		if m.Person == "" {
			known, ok, err := s.cfg.Inbox.Reply(ctx, m.Target)
			if err != nil || !ok {
				return m, false, err
			}
			m.Person, m.Thread = known.Message.Person, known.Message.Thread
		}
	}
	if err := s.cfg.Directory.Refresh(ctx); err != nil {
		return m, false, fmt.Errorf("the shop's names: %w", err)
	}
	m.Text, m.Mention = plain(m.Text, s.self.user, s.personNamed, s.channelNamed)
	if id, known := s.cfg.Directory.Person(m.Person, ""); known {
		m.Person = id
	}
	if m.Channel == surface.DirectChannel {
		return m, true, nil
	}
	name, err := s.channelName(ctx, m.Channel)
	if err != nil {
		return m, false, err
	}
	if id, ok := s.cfg.Directory.Channel(m.Channel, name); ok {
		m.Channel = id
		return m, true, nil
	}
	// A channel that the shop does not know: there the bot listens to what is
	// said to it, and to nothing else.
	listen = m.Mention || m.Act == surface.Pressed
	if !listen && m.Target != "" {
		first, _, err := s.cfg.Inbox.Reply(ctx, m.Target)
		if err != nil {
			return m, false, err
		}
		_, listen = plain(first.Message.Text, s.self.user, s.personNamed, s.channelNamed)
	}
	return m, listen, nil
}

func (s *Surface) personNamed(id, label string) string {
	if shop, known := s.cfg.Directory.Person(id, label); known {
		return shop
	}
	if label != "" {
		return label
	}
	return "@" + id
}

func (s *Surface) channelNamed(id, label string) string {
	name, _ := s.names.get(id, s.cfg.Clock())
	if label != "" {
		name = label
	}
	if shop, ok := s.cfg.Directory.Channel(id, name); ok {
		return shop
	}
	if name != "" {
		return name
	}
	return "#" + id
}

// advance moves a channel's cursor forward.
func (s *Surface) advance(ctx context.Context, channel, ts string) error {
	before, _, err := s.cfg.Inbox.Load(ctx, cursorKey+channel)
	if err != nil || string(before) >= ts {
		return err
	}
	return s.cfg.Inbox.Save(ctx, cursorKey+channel, []byte(ts))
}

// tell says something to one person alone. Such a notice may never arrive, so
// nothing that counts is told this way.
func (s *Surface) tell(ctx context.Context, m surface.Message, text string) {
	channel, thread := place(m)
	_, err := s.api.PostEphemeralContext(ctx, channel, m.Person, slack.MsgOptionText(text, true), slack.MsgOptionTS(thread))
	if err != nil {
		s.log.Warn("a notice was not shown", "person", m.Person, "err", err)
	}
}

// place gives where the answer to a message goes: its platform channel, and
// the ts of the thread it is in or begins; "" for a notice, which is in none.
func place(m surface.Message) (channel, thread string) {
	channel = channelOf(m.ID)
	switch {
	case ownNotice(m.ID):
		return channel, ""
	case m.Thread != "":
		return channel, tsOf(m.Thread)
	case m.Act == surface.Edited || m.Act == surface.Deleted:
		return channel, tsOf(m.Target)
	}
	return channel, tsOf(m.ID)
}
