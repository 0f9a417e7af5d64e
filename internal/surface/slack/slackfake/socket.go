package slackfake

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

const pingEvery = time.Second

// Envelope is one delivery of an event.
type Envelope struct {
	ID      string
	Attempt int // 0 the first time
}

// link is one socket.
type link struct {
	ws *websocket.Conn
	mu sync.Mutex // one writer at a time
}

func (l *link) write(v any) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if err := l.ws.SetWriteDeadline(time.Now().Add(5 * time.Second)); err != nil {
		return err
	}
	return l.ws.WriteJSON(v)
}

// serveLink is the socket's side: hello, pings, and the reading of
// acknowledgements. A ticket is good once.
func (s *Server) serveLink(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	good := s.tickets[r.PathValue("ticket")] && !s.offline
	delete(s.tickets, r.PathValue("ticket"))
	mute := good && s.mute > 0
	if mute {
		s.mute--
	}
	s.mu.Unlock()
	if !good {
		http.Error(w, "no such ticket", http.StatusForbidden)
		return
	}
	up := websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}
	ws, err := up.Upgrade(w, r, nil)
	if err != nil {
		return
	}
	defer func() { _ = ws.Close() }()
	if mute {
		_, _, _ = ws.NextReader() // until the other side goes
		return
	}
	l := &link{ws: ws}
	s.mu.Lock()
	count := len(s.links) + 1
	s.mu.Unlock()
	if err := l.write(map[string]any{
		"type": "hello", "num_connections": count, "connection_info": map[string]any{"app_id": "A0BAYWORD"},
		"debug_info": map[string]any{"host": "fake", "approximate_connection_time": 18060},
	}); err != nil {
		return
	}
	s.mu.Lock()
	s.links = append(s.links, l)
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		s.links = slices.DeleteFunc(s.links, func(x *link) bool { return x == l })
		s.mu.Unlock()
	}()
	gone := make(chan struct{})
	defer close(gone)
	s.wg.Go(func() {
		for t := time.NewTicker(pingEvery); ; {
			select {
			case <-t.C:
				_ = ws.WriteControl(websocket.PingMessage, []byte("Ping from fake"), time.Now().Add(time.Second))
			case <-gone:
				t.Stop()
				return
			case <-s.end:
				t.Stop()
				return
			}
		}
	})
	for {
		var ack struct {
			EnvelopeID string `json:"envelope_id"`
		}
		if err := ws.ReadJSON(&ack); err != nil {
			return
		}
		s.mu.Lock()
		if acked, ok := s.acked[ack.EnvelopeID]; ok {
			acked()
			delete(s.acked, ack.EnvelopeID)
		}
		s.mu.Unlock()
	}
}

// Links counts the live connections.
func (s *Server) Links() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.links)
}

// Refresh asks the oldest connection to be made anew, as the platform does
// every few hours, and closes it.
func (s *Server) Refresh(reason string) {
	s.mu.Lock()
	var l *link
	if len(s.links) > 0 {
		l, s.links = s.links[0], s.links[1:]
	}
	s.mu.Unlock()
	if l == nil {
		return
	}
	_ = l.write(map[string]any{"type": "disconnect", "reason": reason, "debug_info": map[string]any{"host": "fake"}})
	s.wg.Go(func() { // the client may have gone by itself
		select {
		case <-time.After(200 * time.Millisecond):
		case <-s.end:
		}
		_ = l.ws.Close()
	})
}

// Drop cuts every connection without a word.
func (s *Server) Drop() {
	s.mu.Lock()
	links := s.links
	s.links = nil
	s.mu.Unlock()
	for _, l := range links {
		_ = l.ws.Close()
	}
}

// Offline cuts every connection and refuses new ones, until it is called again
// with false.
func (s *Server) Offline(off bool) {
	s.mu.Lock()
	s.offline = off
	s.mu.Unlock()
	if off {
		s.Drop()
	}
}

// Mute opens the next n connections and then says nothing on them, not even hello.
func (s *Server) Mute(n int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.mute = n
}

// Event sends an event under a new event id.
func (s *Server) Event(event map[string]any) { s.EventAs(s.eventID(), event) }

func (s *Server) eventID() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.serial++
	return fmt.Sprint("Ev", s.serial)
}

// EventAs sends an event under an event id.
func (s *Server) EventAs(id string, event map[string]any) {
	s.Send("events_api", map[string]any{
		"type": "event_callback", "event_id": id, "event_time": s.Now().Unix(), "team_id": "T0MILLRACE", "api_app_id": "A0BAYWORD",
		"event": event, "authorizations": []any{map[string]any{"user_id": BotUser, "is_bot": true}},
	})
}

// Send sends an envelope, and again (three times at most) while it is not
// acknowledged. The first delivery is on its way when Send returns.
func (s *Server) Send(kind string, payload any) {
	data, err := json.Marshal(payload)
	if err != nil {
		panic(fmt.Sprintf("slackfake: the test's payload: %v", err))
	}
	done := make(chan struct{})
	acked := sync.OnceFunc(func() { close(done) })
	s.mu.Lock()
	s.underway++
	s.mu.Unlock()
	s.deliver(kind, data, 0, acked)
	s.wg.Go(func() {
		lost := s.insist(kind, data, acked, done)
		s.mu.Lock()
		defer s.mu.Unlock()
		s.underway--
		if lost {
			s.lost = append(s.lost, string(data))
		}
	})
}

// insist sends an event again until it is acknowledged or given up.
func (s *Server) insist(kind string, data []byte, acked func(), done chan struct{}) (lost bool) {
	for attempt := 1; ; attempt++ {
		select {
		case <-done:
			return false
		case <-s.end:
			return false
		case <-time.After(s.AckWait):
		}
		if attempt == 4 {
			return true
		}
		s.deliver(kind, data, attempt, acked)
	}
}

// deliver writes one envelope to one of the connections, if there is any.
func (s *Server) deliver(kind string, payload json.RawMessage, attempt int, acked func()) {
	s.mu.Lock()
	s.serial++
	e := Envelope{ID: fmt.Sprint("envelope-", s.serial), Attempt: attempt}
	s.acked[e.ID] = acked
	s.sent = append(s.sent, e)
	var l *link
	if len(s.links) > 0 {
		s.next++
		l = s.links[s.next%len(s.links)]
	}
	s.mu.Unlock()
	if l == nil {
		return
	}
	frame := map[string]any{"type": kind, "envelope_id": e.ID, "payload": payload, "accepts_response_payload": false}
	if attempt > 0 {
		frame["retry_attempt"], frame["retry_reason"] = attempt, "timeout"
	}
	_ = l.write(frame)
}

// Unacked counts the events that wait for their acknowledgement.
func (s *Server) Unacked() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.underway
}

// Sent gives every delivery so far.
func (s *Server) Sent() []Envelope {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.sent)
}

// Lost gives the payloads that the platform has given up on.
func (s *Server) Lost() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.lost)
}
