package slackfake

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strconv"
)

// scopes are what a method needs beyond what the tests always grant.
var scopes = map[string]string{
	"files.getUploadURLExternal":   "files:write",
	"files.completeUploadExternal": "files:write",
	"conversations.open":           "im:write",
}

// Revoke takes a scope from the bot, as an app that was never given it.
func (s *Server) Revoke(scope string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.revoked[scope] = true
}

func (s *Server) lacks(scope string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.revoked[scope]
}

// upload is a file on its way: announced, sent, then shared.
type upload struct {
	name, alt string
	length    int
	data      []byte
	shared    bool
}

// uploadURL is the first step: a name and a length are announced.
func (s *Server) uploadURL(v url.Values) answer {
	length, err := strconv.Atoi(v.Get("length"))
	if err != nil || length <= 0 || v.Get("filename") == "" {
		return fail("invalid_arguments")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	id := fmt.Sprint("F", len(s.uploads)+1)
	s.uploads[id] = &upload{name: v.Get("filename"), alt: v.Get("alt_txt"), length: length}
	return answer{"upload_url": s.URL + "/upload/" + id, "file_id": id}
}

// serveUpload is the second: the bytes, as many as announced.
func (s *Server) serveUpload(w http.ResponseWriter, r *http.Request) {
	file, _, err := r.FormFile("file")
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	data, err := io.ReadAll(io.LimitReader(file, 50<<20))
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	u := s.uploads[r.PathValue("file")]
	switch {
	case u == nil:
		http.Error(w, "no such upload", http.StatusNotFound)
	case len(data) != u.length:
		s.violations = append(s.violations, fmt.Sprintf("%s: %d bytes announced, %d sent", u.name, u.length, len(data)))
		http.Error(w, "length differs", http.StatusBadRequest)
	default:
		u.data = data
		_, _ = fmt.Fprintf(w, "OK - %d", len(data))
	}
}

// completeUpload is the third: the file becomes a message of a channel.
func (s *Server) completeUpload(v url.Values) answer {
	var files []struct {
		ID    string `json:"id"`
		Title string `json:"title"`
	}
	if err := json.Unmarshal([]byte(v.Get("files")), &files); err != nil || len(files) == 0 {
		return fail("invalid_arguments")
	}
	s.mu.Lock()
	c := s.channels[v.Get("channel_id")]
	if c == nil {
		s.mu.Unlock()
		return fail("channel_not_found")
	}
	m := &Message{
		Channel: c.id, TS: s.tick(), Thread: v.Get("thread_ts"), User: BotUser, BotID: BotID,
		Text: v.Get("initial_comment"), Subtype: "file_share",
	}
	for _, f := range files {
		u := s.uploads[f.ID]
		if u == nil || u.data == nil || u.shared {
			s.mu.Unlock()
			return fail("file_not_found")
		}
		u.shared = true
		m.Files = append(m.Files, File{Name: u.name, Title: f.Title, Alt: u.alt, Data: slices.Clone(u.data)})
	}
	c.messages = append(c.messages, m)
	event := s.event(c, m)
	s.mu.Unlock()
	s.Event(event) // the bot hears itself
	return answer{"files": files}
}
