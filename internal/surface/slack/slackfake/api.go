package slackfake

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
)

// fault is what goes wrong with one call.
type fault struct {
	retryAfter int    // seconds; 429
	hang       bool   // no answer, and nothing done
	lose       bool   // done, and no answer
	answer     string // ok is false, with this error
}

func (s *Server) fault(method string, n int, f fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for range n {
		s.faults[method] = append(s.faults[method], f)
	}
}

// RateLimit answers the next n calls of a method with 429. A caller that does
// not wait as told breaks a limit.
func (s *Server) RateLimit(method string, n, seconds int) {
	s.fault(method, n, fault{retryAfter: seconds})
}

// Hang leaves the next n calls of a method without effect and without answer.
func (s *Server) Hang(method string, n int) { s.fault(method, n, fault{hang: true}) }

// LoseAnswer carries out the next n calls of a method and does not answer.
func (s *Server) LoseAnswer(method string, n int) { s.fault(method, n, fault{lose: true}) }

// Refuse answers the next n calls of a method with an error.
func (s *Server) Refuse(method string, n int, err string) { s.fault(method, n, fault{answer: err}) }

type answer map[string]any

func fail(err string) answer { return answer{"ok": false, "error": err} }

func (s *Server) serveMethod(w http.ResponseWriter, r *http.Request) {
	method := r.PathValue("method")
	if err := r.ParseForm(); err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	f := s.called(method)
	s.mu.Lock()
	what, now := method+" "+r.Form.Get("channel"), time.Now()
	if early := s.limited[what].Sub(now); early > 0 {
		s.violations = append(s.violations, fmt.Sprintf("%s called %v before Retry-After", what, early))
	}
	if f.retryAfter > 0 {
		s.limited[what] = now.Add(time.Duration(f.retryAfter) * time.Second)
	}
	s.mu.Unlock()
	switch {
	case f.retryAfter > 0:
		w.Header().Set("Retry-After", strconv.Itoa(f.retryAfter))
		w.WriteHeader(http.StatusTooManyRequests)
		return
	case f.hang:
		s.wait(r)
		return
	case f.answer != "":
		write(w, fail(f.answer))
		return
	}
	a := s.call(method, r)
	if f.lose {
		s.wait(r)
		return
	}
	write(w, a)
}

// called counts a call and gives what goes wrong with it.
func (s *Server) called(method string) (f fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.calls[method]++
	if list := s.faults[method]; len(list) > 0 {
		f, s.faults[method] = list[0], list[1:]
	}
	return f
}

// wait holds a call until its caller or the test has gone.
func (s *Server) wait(r *http.Request) {
	select {
	case <-r.Context().Done():
	case <-s.end:
	}
}

func write(w http.ResponseWriter, a answer) {
	w.Header().Set("Content-Type", "application/json")
	if _, ok := a["ok"]; !ok {
		a["ok"] = true
	}
	_ = json.NewEncoder(w).Encode(a)
}

func (s *Server) call(method string, r *http.Request) answer {
	token := strings.TrimPrefix(r.Header.Get("Authorization"), "Bearer ")
	if token == "" {
		token = r.Form.Get("token")
	}
	if want := map[bool]string{true: AppToken, false: BotToken}[method == "apps.connections.open"]; token != want {
		return fail("invalid_auth")
	}
	v := r.Form
	if need := scopes[method]; need != "" && s.lacks(need) {
		return answer{"ok": false, "error": "missing_scope", "needed": need}
	}
	switch method {
	case "auth.test":
		return answer{"user_id": BotUser, "bot_id": BotID, "user": "bayword", "team": "Millrace", "team_id": "T0MILLRACE", "url": s.URL}
	case "apps.connections.open":
		return s.open()
	case "chat.postMessage":
		return s.postMessage(v)
	case "chat.update":
		return s.update(v)
	case "chat.postEphemeral":
		s.mu.Lock()
		defer s.mu.Unlock()
		s.notices = append(s.notices, Notice{Channel: v.Get("channel"), User: v.Get("user"), Text: v.Get("text")})
		return answer{"message_ts": s.tick()}
	case "chat.scheduleMessage":
		return s.schedule(v)
	case "reactions.add":
		return s.addReaction(v)
	case "conversations.history":
		return s.history(v)
	case "conversations.replies":
		return s.replies(v)
	case "conversations.info":
		s.mu.Lock()
		defer s.mu.Unlock()
		if c := s.channels[v.Get("channel")]; c != nil {
			return answer{"channel": c.json()}
		}
		return fail("channel_not_found")
	case "conversations.open":
		return s.openDirect(v)
	case "users.conversations":
		return s.conversations(v)
	case "users.info":
		return answer{"user": map[string]any{"id": v.Get("user"), "name": v.Get("user"), "profile": map[string]any{"display_name": "anybody"}}}
	case "views.open", "views.publish":
		s.mu.Lock()
		defer s.mu.Unlock()
		if broken := checkView([]byte(v.Get("view"))); len(broken) > 0 {
			s.violations = append(s.violations, broken...)
			return fail("invalid_arguments")
		}
		s.views = append(s.views, json.RawMessage(v.Get("view")))
		return answer{"view": map[string]any{"id": fmt.Sprint("V", len(s.views))}}
	case "files.getUploadURLExternal":
		return s.uploadURL(v)
	case "files.completeUploadExternal":
		return s.completeUpload(v)
	}
	return fail("unknown_method")
}

func (c *channel) json() map[string]any {
	return map[string]any{"id": c.id, "name": c.name, "is_im": c.direct, "is_channel": !c.direct, "is_member": true}
}

func (s *Server) open() answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.offline {
		return fail("internal_error")
	}
	s.serial++
	ticket := fmt.Sprint(s.serial)
	s.tickets[ticket] = true
	return answer{"url": "ws" + strings.TrimPrefix(s.URL, "http") + "/link/" + ticket}
}

func (s *Server) postMessage(v url.Values) answer {
	s.mu.Lock()
	c := s.channels[v.Get("channel")]
	if c == nil {
		s.mu.Unlock()
		return fail("channel_not_found")
	}
	if broken := Check(v); len(broken) > 0 {
		s.violations = append(s.violations, broken...)
		s.mu.Unlock()
		return fail("invalid_blocks")
	}
	m := &Message{
		Channel: c.id, TS: s.tick(), Thread: v.Get("thread_ts"), User: BotUser, BotID: BotID,
		Text: v.Get("text"), Blocks: raw(v.Get("blocks")),
	}
	c.messages = append(c.messages, m)
	event := s.event(c, m)
	s.mu.Unlock()
	s.Event(event) // the bot hears itself
	return answer{"channel": c.id, "ts": m.TS, "message": event}
}

func (s *Server) update(v url.Values) answer {
	s.mu.Lock()
	c := s.channels[v.Get("channel")]
	if c == nil {
		s.mu.Unlock()
		return fail("channel_not_found")
	}
	i := slices.IndexFunc(c.messages, func(m *Message) bool { return m.TS == v.Get("ts") && !m.Deleted })
	if i < 0 || c.messages[i].BotID != BotID {
		s.mu.Unlock()
		return fail(map[bool]string{true: "message_not_found", false: "cant_update_message"}[i < 0])
	}
	if broken := Check(v); len(broken) > 0 {
		s.violations = append(s.violations, broken...)
		s.mu.Unlock()
		return fail("invalid_blocks")
	}
	m := c.messages[i]
	before := s.event(c, m)
	m.Text, m.Blocks, m.Edited = v.Get("text"), raw(v.Get("blocks")), s.tick()
	event := s.changed(c, m, before)
	s.mu.Unlock()
	s.Event(event)
	return answer{"channel": c.id, "ts": m.TS, "text": m.Text}
}

func (s *Server) schedule(v url.Values) answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	at, err := strconv.ParseInt(v.Get("post_at"), 10, 64)
	switch {
	case err != nil || at <= s.now.Unix():
		return fail("time_in_past")
	case at > s.now.Add(120*24*time.Hour).Unix():
		return fail("time_too_far")
	}
	if broken := Check(v); len(broken) > 0 {
		s.violations = append(s.violations, broken...)
		return fail("invalid_blocks")
	}
	return answer{"channel": v.Get("channel"), "scheduled_message_id": "Q1", "post_at": at}
}

func (s *Server) addReaction(v url.Values) answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.channels[v.Get("channel")]
	if c == nil {
		return fail("channel_not_found")
	}
	for _, m := range c.messages {
		if m.TS != v.Get("timestamp") || m.Deleted {
			continue
		}
		if slices.Contains(m.Tick, v.Get("name")) {
			return fail("already_reacted")
		}
		m.Tick = append(m.Tick, v.Get("name"))
		return answer{}
	}
	return fail("message_not_found")
}

// history gives what stands in the channel itself, newest first.
func (s *Server) history(v url.Values) answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.channels[v.Get("channel")]
	if c == nil {
		return fail("channel_not_found")
	}
	var list []*Message
	for _, m := range c.messages {
		inThread := m.Thread != "" && m.Thread != m.TS && m.Subtype != "thread_broadcast"
		if !inThread && !m.Deleted && m.TS > v.Get("oldest") {
			list = append(list, m)
		}
	}
	slices.Reverse(list)
	return s.listed(c, list, v)
}

// replies gives a thread's beginning and then its replies, oldest first.
func (s *Server) replies(v url.Values) answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.channels[v.Get("channel")]
	if c == nil {
		return fail("channel_not_found")
	}
	var list []*Message
	for _, m := range c.messages {
		if m.TS == v.Get("ts") && !m.Deleted {
			list = append(list, m)
		}
	}
	for _, m := range c.thread(v.Get("ts")) {
		if m.TS > v.Get("oldest") {
			list = append(list, m)
		}
	}
	if len(list) == 0 {
		return fail("thread_not_found")
	}
	return s.listed(c, list, v)
}

func (s *Server) listed(c *channel, list []*Message, v url.Values) answer {
	from, _ := strconv.Atoi(v.Get("cursor"))
	limit, err := strconv.Atoi(v.Get("limit"))
	if err != nil || limit <= 0 {
		limit = 100
	}
	to := min(from+limit, len(list))
	out := []any{}
	for _, m := range list[from:to] {
		e := inner(s.event(c, m))
		if replies := c.thread(m.TS); len(replies) > 0 {
			e["thread_ts"], e["reply_count"], e["latest_reply"] = m.TS, len(replies), replies[len(replies)-1].TS
		}
		out = append(out, e)
	}
	next := ""
	if to < len(list) {
		next = strconv.Itoa(to)
	}
	return answer{"messages": out, "has_more": next != "", "response_metadata": map[string]any{"next_cursor": next}}
}

// openDirect gives the direct conversation of the bot with a user U…, which is D….
func (s *Server) openDirect(v url.Values) answer {
	user, ok := strings.CutPrefix(v.Get("users"), "U")
	if !ok {
		return fail("user_not_found")
	}
	id := "D" + user
	s.mu.Lock()
	known := s.channels[id] != nil
	s.mu.Unlock()
	if !known {
		s.Channel(id, "")
	}
	return answer{"already_open": known, "channel": map[string]any{"id": id}}
}

func (s *Server) conversations(v url.Values) answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	list := []any{}
	for _, id := range s.order {
		c := s.channels[id]
		kind := map[bool]string{true: "im", false: "public_channel"}[c.direct]
		if slices.Contains(strings.Split(v.Get("types"), ","), kind) {
			list = append(list, c.json())
		}
	}
	return answer{"channels": list, "response_metadata": map[string]any{"next_cursor": ""}}
}

func raw(s string) json.RawMessage {
	if s == "" {
		return nil
	}
	return json.RawMessage(s)
}
