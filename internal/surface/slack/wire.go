package slack

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"bayword/internal/surface"
)

// The events are read here by these few fields and not by the client's types:
// an unknown kind of block must not cost a message.

type wireEvent struct {
	EventID string      `json:"event_id"`
	Event   wireMessage `json:"event"`
}

type wireMessage struct {
	Type        string       `json:"type"`
	Subtype     string       `json:"subtype"`
	Channel     string       `json:"channel"`
	ChannelType string       `json:"channel_type"`
	User        string       `json:"user"`
	BotID       string       `json:"bot_id"`
	Text        string       `json:"text"`
	TS          string       `json:"ts"`
	ThreadTS    string       `json:"thread_ts"`
	EventTS     string       `json:"event_ts"`
	DeletedTS   string       `json:"deleted_ts"`
	ClientMsgID string       `json:"client_msg_id"`
	Edited      *wireEdited  `json:"edited"`
	Files       []wireFile   `json:"files"`
	Message     *wireMessage `json:"message"`
	Previous    *wireMessage `json:"previous_message"`
}

type wireEdited struct {
	TS string `json:"ts"`
}

type wireFile struct {
	Name          string             `json:"name"`
	Title         string             `json:"title"`
	Mimetype      string             `json:"mimetype"`
	Size          int                `json:"size"`
	URL           string             `json:"url_private_download"`
	Smaller       string             `json:"thumb_1024"`
	Transcription *wireTranscription `json:"transcription"`
}

type wireTranscription struct {
	Preview *wirePreview `json:"preview"`
}

type wirePreview struct {
	Content string `json:"content"`
}

type wireAction struct {
	Type string `json:"type"`
	User struct {
		ID string `json:"id"`
	} `json:"user"`
	Channel struct {
		ID string `json:"id"`
	} `json:"channel"`
	Container struct {
		MessageTS string `json:"message_ts"`
		ThreadTS  string `json:"thread_ts"`
	} `json:"container"`
	Message struct {
		TS       string `json:"ts"`
		ThreadTS string `json:"thread_ts"`
	} `json:"message"`
	Actions []struct {
		ActionID string `json:"action_id"`
		BlockID  string `json:"block_id"`
		ActionTS string `json:"action_ts"`
	} `json:"actions"`
}

// received is a message as it goes into the inbox.
type received struct {
	surface.Message
	also     []string         // other names it is known by
	previous *surface.Message // of an edit: the message as it was, if the event said so
}

// reader turns events into messages. It is pure.
type reader struct {
	self identity
	zone *time.Location
}

// event reads the payload of an events_api envelope. Nothing comes of what is
// not a person's message.
func (r reader) event(payload []byte) ([]received, error) {
	var w wireEvent
	if err := json.Unmarshal(payload, &w); err != nil {
		return nil, fmt.Errorf("event: %w", err)
	}
	if w.Event.Type != "message" && w.Event.Type != "app_mention" {
		return nil, nil
	}
	list := r.message(w.Event)
	for i := range list {
		if w.EventID != "" {
			list[i].also = append(list[i].also, "event:"+w.EventID)
		}
	}
	return list, nil
}

func (r reader) message(w wireMessage) []received {
	switch w.Subtype {
	case "", "file_share", "thread_broadcast", "me_message":
		if m, ok := r.said(w); ok {
			return []received{m}
		}
	case "message_changed":
		if w.Message == nil {
			return nil
		}
		now := *w.Message
		now.Channel, now.ChannelType = w.Channel, w.ChannelType
		if now.Subtype == "tombstone" { // a deleted message that others have answered
			before := w.Previous
			if before == nil {
				before = &now
			}
			return r.deleted(w, now.TS, before)
		}
		return r.edited(w, now)
	case "message_deleted":
		return r.deleted(w, w.DeletedTS, w.Previous)
	}
	return nil
}

// foreign reports a message that no person wrote. Both ids are looked at: a
// post of the bot carries either or both.
func (r reader) foreign(w wireMessage) bool {
	return w.BotID != "" || w.User == "" || w.User == r.self.user || w.User == "USLACKBOT"
}

func (r reader) said(w wireMessage) (received, bool) {
	at, ok := instant(w.TS)
	text := w.words()
	if !ok || r.foreign(w) || w.Channel == "" || text == "" && len(w.Files) == 0 {
		return received{}, false
	}
	m := received{Message: surface.Message{
		ID: messageID(w.Channel, w.TS), Act: surface.Said, Person: w.User, Channel: w.channel(),
		Text: text, At: at.In(r.zone),
	}}
	if w.ThreadTS != "" && w.ThreadTS != w.TS {
		m.Thread = messageID(w.Channel, w.ThreadTS)
	}
	for _, f := range w.Files {
		m.Files = append(m.Files, f.name())
		if p, ok := f.photo(); ok {
			m.Photos = append(m.Photos, p)
		}
	}
	if w.ClientMsgID != "" {
		m.also = append(m.also, "client:"+w.ClientMsgID)
	}
	return m, true
}

// edited reads a change of a message. A change that leaves the words as they
// were (a link preview, a new reply in the thread) is none.
func (r reader) edited(w wireMessage, now wireMessage) []received {
	m, ok := r.said(now)
	if !ok {
		return nil
	}
	if w.Previous != nil {
		before := *w.Previous
		before.Channel, before.ChannelType = w.Channel, w.ChannelType
		before.TS, before.User = now.TS, now.User
		if before.words() == now.words() {
			return nil
		}
		if p, ok := r.said(before); ok {
			m.previous = &p.Message
		}
	}
	m.asEdit(now)
	if at, ok := instant(w.EventTS); ok {
		m.At = at.In(r.zone)
	}
	return []received{m}
}

// asEdit makes a message the edit of itself that w holds.
func (m *received) asEdit(w wireMessage) {
	m.Act, m.Target, m.also = surface.Edited, m.ID, nil
	m.ID = editID(w)
	if w.Edited != nil {
		if at, ok := instant(w.Edited.TS); ok {
			m.At = at.In(m.At.Location())
		}
	}
}

func (r reader) deleted(w wireMessage, ts string, before *wireMessage) []received {
	at, ok := instant(w.EventTS)
	if !ok {
		if at, ok = instant(ts); !ok {
			return nil
		}
	}
	if w.Channel == "" || ts == "" || before != nil && (before.BotID != "" || before.User == r.self.user) {
		return nil
	}
	m := received{Message: surface.Message{
		ID: deleteID(w.Channel, ts), Act: surface.Deleted, Target: messageID(w.Channel, ts),
		Channel: w.channel(), At: at.In(r.zone),
	}}
	if before != nil {
		m.Person = before.User
		if before.ThreadTS != "" && before.ThreadTS != ts {
			m.Thread = messageID(w.Channel, before.ThreadTS)
		}
	}
	return []received{m}
}

// action reads the payload of an interactive envelope: the press of a choice.
func (r reader) action(payload []byte) ([]received, error) {
	var w wireAction
	if err := json.Unmarshal(payload, &w); err != nil {
		return nil, fmt.Errorf("interaction: %w", err)
	}
	if w.Type != "block_actions" || w.Channel.ID == "" {
		return nil, nil
	}
	post, thread := w.Message.TS, w.Message.ThreadTS
	if post == "" {
		post = w.Container.MessageTS
	}
	if thread == "" {
		thread = w.Container.ThreadTS
	}
	if thread == "" {
		thread = post
	}
	var out []received
	for _, a := range w.Actions {
		target, ok := strings.CutPrefix(a.BlockID, choicesBlock)
		if !ok {
			continue
		}
		n, err := strconv.Atoi(strings.TrimPrefix(a.ActionID, choiceAction))
		at, ok := instant(a.ActionTS)
		if err != nil || !ok {
			continue
		}
		out = append(out, received{Message: surface.Message{
			ID:  w.Channel.ID + ":p" + digest(post, a.ActionID, w.User.ID, a.ActionTS),
			Act: surface.Pressed, Person: w.User.ID, Channel: wireMessage{Channel: w.Channel.ID}.channel(),
			Thread: messageID(w.Channel.ID, thread), Target: target, Choice: n, At: at.In(r.zone),
		}})
	}
	return out, nil
}

// channel gives the message's Channel: direct messages have ids that begin with D.
func (w wireMessage) channel() string {
	if w.ChannelType == "im" || strings.HasPrefix(w.Channel, "D") {
		return surface.DirectChannel
	}
	return w.Channel
}

// words are the text and what was said in voice clips.
func (w wireMessage) words() string {
	parts := []string{}
	if t := strings.TrimSpace(w.Text); t != "" {
		parts = append(parts, t)
	}
	for _, f := range w.Files {
		if f.Transcription != nil && f.Transcription.Preview != nil && f.Transcription.Preview.Content != "" {
			parts = append(parts, f.Transcription.Preview.Content)
		}
	}
	return strings.Join(parts, "\n")
}

func (f wireFile) name() string {
	if f.Name != "" {
		return f.Name
	}
	return f.Title
}

// Message IDs. A new message is channel:ts, at most 29 characters with the ids
// in use today; what is done to a message later has a digest of what makes it
// itself, since the parts side by side would be too long for a request id.

func messageID(channel, ts string) string { return channel + ":" + ts }

// editID tells two edits apart by text too: an edit's time has whole seconds.
func editID(w wireMessage) string {
	ts := ""
	if w.Edited != nil {
		ts = w.Edited.TS
	}
	return w.Channel + ":e" + digest(w.TS, ts, w.words())
}

func deleteID(channel, ts string) string { return channel + ":d" + digest(ts) }

func digest(parts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\x00")))
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}

// tsOf gives the platform's ts of a new message's ID.
func tsOf(id string) string {
	_, ts, _ := strings.Cut(id, ":")
	return ts
}

// instant reads a ts: seconds, a point, microseconds.
func instant(ts string) (time.Time, bool) {
	sec, frac, _ := strings.Cut(ts, ".")
	s, err := strconv.ParseInt(sec, 10, 64)
	if err != nil || s <= 0 {
		return time.Time{}, false
	}
	us, err := strconv.ParseInt((frac + "000000")[:6], 10, 64)
	if err != nil {
		return time.Time{}, false
	}
	return time.Unix(s, us*1000), true
}

// stamp writes a time as a ts. Two of them compare as text.
func stamp(t time.Time) string {
	return fmt.Sprintf("%010d.%06d", t.Unix(), t.Nanosecond()/1000)
}
