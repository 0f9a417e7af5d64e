package slackfake

import (
	"net/http"
	"net/url"
	"strconv"
)

// Download is the name by which faults are asked for, and calls are counted, of
// the fetching of a file. It is no method of the platform.
const Download = "download"

// serveFile gives the content of a file to who has the bot's token and the scope
// files:read, and shows everybody else the way to the sign-in page.
func (s *Server) serveFile(w http.ResponseWriter, r *http.Request) {
	f := s.called(Download)
	switch {
	case f.hang:
		s.wait(r)
		return
	case f.answer != "":
		http.Error(w, f.answer, http.StatusInternalServerError)
		return
	case r.Header.Get("Authorization") != "Bearer "+BotToken || s.lacks("files:read"):
		http.Redirect(w, r, "/signin?redir="+url.QueryEscape(r.URL.Path), http.StatusFound)
		return
	}
	n, err := strconv.Atoi(r.PathValue("n"))
	s.mu.Lock()
	var file File
	if c := s.channels[r.PathValue("channel")]; c != nil && err == nil {
		for _, m := range c.messages {
			if m.TS == r.PathValue("ts") && n < len(m.Files) {
				file = m.Files[n]
			}
		}
	}
	s.mu.Unlock()
	data := file.Data
	if r.PathValue("size") == "small" {
		data = file.Small
	}
	if data == nil {
		http.NotFound(w, r)
		return
	}
	_, _ = w.Write(data)
}

func serveSignIn(w http.ResponseWriter, _ *http.Request) {
	_, _ = w.Write([]byte("<!doctype html><title>Sign in</title>"))
}
