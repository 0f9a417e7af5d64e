// Package slackfake is a chat platform for tests: its web API and its sockets,
// on the loopback, as far as this module uses them. It keeps conversations,
// sends events for what people do and for the bot's own posts, sends them again
// when they are not acknowledged, and refuses a post that breaks the platform's
// limits. Faults (too many calls, hung calls, lost answers, refused calls,
// dropped connections) are asked for by the test.
//
// It may import the websocket library alone. Written against the platform's
// public documentation; where that is silent, against what the client expects.
package slackfake

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"time"
)

// Who the bot is, and its tokens.
const (
	BotUser  = "U0BAYWORD"
	BotID    = "B0BAYWORD"
	AppToken = "xapp-fake"
	BotToken = "xoxb-fake"
)

// File is a file that came with a message.
type File struct {
	Name          string
	Title, Alt    string
	Type          string // such as image/jpeg
	Data          []byte // its content
	Small         []byte // the platform's own smaller copy, if it made one
	Transcription string // of a voice clip
}

// Message is one message of a conversation, as it is now.
type Message struct {
	Channel string
	TS      string
	Thread  string // ts of the message that began its thread, "" outside one
	User    string
	BotID   string
	Text    string
	Blocks  json.RawMessage
	Files   []File
	Edited  string // ts of the last edit
	Subtype string
	Client  string // client_msg_id
	Deleted bool
	Tick    []string // reactions
}

// Buttons gives the labels of the message's buttons, in order.
func (m Message) Buttons() []string {
	var out []string
	for _, b := range buttons(m.Blocks) {
		out = append(out, b.Text.Text)
	}
	return out
}

// Notice is a message that only one person sees.
type Notice struct{ Channel, User, Text string }

// Server is one workspace.
type Server struct {
	URL string
	// AckWait is how long an event may stay unacknowledged before it is sent again.
	AckWait time.Duration

	http *httptest.Server
	end  chan struct{}
	wg   sync.WaitGroup

	mu         sync.Mutex
	now        time.Time
	channels   map[string]*channel
	order      []string
	notices    []Notice
	views      []json.RawMessage
	uploads    map[string]*upload // by file id
	revoked    map[string]bool    // scopes taken from the bot
	violations []string
	calls      map[string]int
	faults     map[string][]fault
	limited    map[string]time.Time // method and channel → when calls are taken again
	links      []*link
	tickets    map[string]bool
	offline    bool
	mute       int // connections still to be left silent
	serial     int
	next       int               // which connection gets the next event
	acked      map[string]func() // by envelope id
	underway   int               // events not yet acknowledged
	lost       []string
	sent       []Envelope
}

type channel struct {
	id, name string
	direct   bool
	messages []*Message
}

// New starts a workspace whose clock stands at now. Close it.
func New(now time.Time) *Server {
	s := &Server{
		AckWait: 3 * time.Second, end: make(chan struct{}), now: now,
		channels: make(map[string]*channel), calls: make(map[string]int), faults: make(map[string][]fault),
		limited: make(map[string]time.Time),
		tickets: make(map[string]bool), acked: make(map[string]func()), uploads: make(map[string]*upload),
		revoked: make(map[string]bool),
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/link/{ticket}", s.serveLink)
	mux.HandleFunc("/upload/{file}", s.serveUpload)
	mux.HandleFunc("/file/{channel}/{ts}/{n}/{size}", s.serveFile)
	mux.HandleFunc("/signin", serveSignIn)
	mux.HandleFunc("/{method}", s.serveMethod)
	s.http = httptest.NewServer(mux)
	s.URL = s.http.URL
	return s
}

// Close ends every connection and waits for what is under way.
func (s *Server) Close() {
	close(s.end)
	s.Drop()
	s.http.CloseClientConnections()
	s.http.Close()
	s.wg.Wait()
}

// Now is the workspace's time. Every act moves it by a second.
func (s *Server) Now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now
}

// Advance moves the workspace's time.
func (s *Server) Advance(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.now = s.now.Add(d)
}

// Channel makes a channel that the bot is in.
func (s *Server) Channel(id, name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.channels[id] = &channel{id: id, name: name, direct: strings.HasPrefix(id, "D")}
	s.order = append(s.order, id)
}

// tick moves the clock and gives a new ts; s.mu is held.
func (s *Server) tick() string {
	s.now = s.now.Add(time.Second)
	s.serial++
	return fmt.Sprintf("%010d.%06d", s.now.Unix(), s.serial)
}

// Said is a message about to be said; only Channel, User and Text need be set.
type Said struct {
	Channel, User, Text string
	Thread              string
	Client              string
	Subtype             string
	BotID               string
	Files               []File
	Silent              bool // no event is sent: it is found in the history alone
}

// Say says a message and sends its events: one, or two under different event
// ids if it mentions the bot. It gives the message's ts.
func (s *Server) Say(in Said) string {
	s.mu.Lock()
	m := &Message{
		Channel: in.Channel, TS: s.tick(), Thread: in.Thread, User: in.User, BotID: in.BotID, Text: in.Text,
		Files: in.Files, Subtype: in.Subtype, Client: in.Client,
	}
	if m.Client == "" && m.BotID == "" {
		m.Client = fmt.Sprint("client-", s.serial)
	}
	c := s.must(in.Channel)
	c.messages = append(c.messages, m)
	event := s.event(c, m)
	s.mu.Unlock()
	if in.Silent {
		return m.TS
	}
	s.Event(event)
	if strings.Contains(in.Text, "<@"+BotUser+">") {
		event["type"] = "app_mention"
		s.Event(event)
	}
	return m.TS
}

// Edit changes the text of a message.
func (s *Server) Edit(channel, ts, text string) { s.Event(s.EditSilently(channel, ts, text)) }

// EditSilently changes the text of a message and gives the event instead of
// sending it.
func (s *Server) EditSilently(channel, ts, text string) (event map[string]any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c, m := s.find(channel, ts)
	before := s.event(c, m)
	m.Edited, m.Text = s.tick(), text
	return s.changed(c, m, before)
}

// Transcribe adds what was said in the first file of a message.
func (s *Server) Transcribe(channel, ts, words string) {
	s.mu.Lock()
	c, m := s.find(channel, ts)
	before := s.event(c, m)
	m.Files = slices.Clone(m.Files)
	m.Files[0].Transcription = words
	event := s.changed(c, m, before)
	s.mu.Unlock()
	s.Event(event)
}

// Preview adds a link preview: a change that leaves the text as it was.
func (s *Server) Preview(channel, ts string) {
	s.mu.Lock()
	c, m := s.find(channel, ts)
	event := s.changed(c, m, s.event(c, m))
	event["message"].(map[string]any)["attachments"] = []any{map[string]any{"title": "a page", "id": 1}}
	s.mu.Unlock()
	s.Event(event)
}

// Delete deletes a message. One that others have answered leaves a tombstone.
func (s *Server) Delete(channel, ts string) {
	s.mu.Lock()
	c, m := s.find(channel, ts)
	before := s.event(c, m)
	m.Deleted = true
	now := s.tick()
	event := map[string]any{
		"type": "message", "channel": channel, "channel_type": c.kind(), "event_ts": now, "ts": now, "hidden": true,
		"previous_message": before,
	}
	if replies := c.thread(ts); len(replies) > 0 {
		event["subtype"] = "message_changed"
		event["message"] = map[string]any{
			"type": "message", "subtype": "tombstone", "user": "USLACKBOT", "hidden": true, "ts": ts, "thread_ts": ts,
			"text": "This message was deleted.", "reply_count": len(replies),
		}
	} else {
		event["subtype"] = "message_deleted"
		event["deleted_ts"] = ts
	}
	s.mu.Unlock()
	s.Event(event)
}

// Press presses button n (from 1) of one of the bot's posts.
func (s *Server) Press(user, channel, ts string, n int) {
	s.mu.Lock()
	c, m := s.find(channel, ts)
	b := buttons(m.Blocks)[n-1]
	at := s.tick()
	payload := map[string]any{
		"type": "block_actions", "user": map[string]any{"id": user, "username": user},
		"channel": map[string]any{"id": channel, "name": c.name}, "trigger_id": "1.2.3", "message": s.event(c, m),
		"container": map[string]any{"type": "message", "message_ts": ts, "channel_id": channel, "thread_ts": m.Thread},
		"actions": []any{map[string]any{
			"type": "button", "action_id": b.ActionID, "block_id": b.block, "value": b.Value, "action_ts": at,
			"text": map[string]any{"type": "plain_text", "text": b.Text.Text},
		}},
	}
	s.mu.Unlock()
	s.Send("interactive", payload)
}

// MessageEvent gives the event of a message as it is now, to be sent by Event.
func (s *Server) MessageEvent(channel, ts string) map[string]any {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.event(s.find(channel, ts))
}

func (s *Server) event(c *channel, m *Message) map[string]any {
	e := map[string]any{
		"type": "message", "channel": m.Channel, "channel_type": c.kind(), "user": m.User, "text": m.Text,
		"ts": m.TS, "event_ts": m.TS, "team": "T0MILLRACE",
	}
	for k, v := range map[string]string{"thread_ts": m.Thread, "subtype": m.Subtype, "bot_id": m.BotID, "client_msg_id": m.Client} {
		if v != "" {
			e[k] = v
		}
	}
	if m.Edited != "" {
		e["edited"] = map[string]any{"user": m.User, "ts": wholeSeconds(m.Edited)}
	}
	if m.Blocks != nil {
		e["blocks"] = m.Blocks
	}
	var files []any
	for i, f := range m.Files {
		file := map[string]any{"id": "F1", "name": f.Name, "mimetype": f.Type, "size": len(f.Data)}
		if f.Data != nil {
			file["url_private_download"] = fmt.Sprintf("%s/file/%s/%s/%d/whole", s.URL, m.Channel, m.TS, i)
		}
		if f.Small != nil {
			file["thumb_1024"] = fmt.Sprintf("%s/file/%s/%s/%d/small", s.URL, m.Channel, m.TS, i)
		}
		if f.Transcription != "" {
			file["transcription"] = map[string]any{"status": "complete", "preview": map[string]any{"content": f.Transcription, "has_more": false}}
		}
		files = append(files, file)
	}
	if files != nil {
		e["files"] = files
	}
	return e
}

// wholeSeconds is how the time of an edit is given.
func wholeSeconds(ts string) string { return strings.Split(ts, ".")[0] + ".000000" }

func (s *Server) changed(c *channel, m *Message, before map[string]any) map[string]any {
	return map[string]any{
		"type": "message", "subtype": "message_changed", "hidden": true, "channel": m.Channel, "channel_type": c.kind(),
		"ts": s.tick(), "event_ts": s.tick(), "message": inner(s.event(c, m)), "previous_message": inner(before),
	}
}

// inner is a message inside an event: it does not say which channel it is in.
func inner(e map[string]any) map[string]any {
	out := make(map[string]any, len(e))
	for k, v := range e {
		if k != "channel" && k != "channel_type" && k != "event_ts" {
			out[k] = v
		}
	}
	return out
}

func (c *channel) kind() string {
	if c.direct {
		return "im"
	}
	return "channel"
}

// thread gives the messages that are not deleted in the thread of ts.
func (c *channel) thread(ts string) (out []*Message) {
	for _, m := range c.messages {
		if m.Thread == ts && m.TS != ts && !m.Deleted {
			out = append(out, m)
		}
	}
	return out
}

func (s *Server) must(id string) *channel {
	c := s.channels[id]
	if c == nil {
		panic(fmt.Sprintf("slackfake: the test made no channel %q", id))
	}
	return c
}

func (s *Server) find(channel, ts string) (*channel, *Message) {
	c := s.must(channel)
	for _, m := range c.messages {
		if m.TS == ts {
			return c, m
		}
	}
	panic(fmt.Sprintf("slackfake: no message %q in %s", ts, channel))
}

// Posts gives the bot's posts in a channel, in order.
func (s *Server) Posts(channel string) (out []Message) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, m := range s.must(channel).messages {
		if m.BotID == BotID && !m.Deleted {
			out = append(out, *m)
		}
	}
	return out
}

// Reactions gives the reactions on a message.
func (s *Server) Reactions(channel, ts string) []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, m := s.find(channel, ts)
	return slices.Clone(m.Tick)
}

// Notices gives what was shown to one person alone.
func (s *Server) Notices() []Notice {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.notices)
}

// Violations gives the limits that posts have broken.
func (s *Server) Violations() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.violations)
}

// Calls counts the calls of a method, failed ones too.
func (s *Server) Calls(method string) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.calls[method]
}
