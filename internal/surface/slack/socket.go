package slack

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"sync"
	"time"

	"github.com/gorilla/websocket"
	"github.com/slack-go/slack"
	"github.com/slack-go/slack/socketmode"

	"bayword/internal/surface"
)

const (
	readLimit = 8 << 20 // bytes of one frame
	// young is how long after it was said a message may still arrive for the
	// first time: the platform's last redelivery comes after five minutes.
	young = 10 * time.Minute
)

// links knows which connections are live. When the first one comes up after
// none was, something may have been missed.
type links struct {
	mu    sync.Mutex
	up    map[int]bool
	seen  time.Time     // the last hello or event on any of them
	sweep chan struct{} // asks for a look at the history
}

func (l *links) set(n int, up bool, now time.Time) (changed bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.up == nil {
		l.up = make(map[int]bool)
	}
	before := len(l.up)
	if up {
		l.up[n], l.seen = true, now
	} else {
		delete(l.up, n)
	}
	if up && before == 0 {
		select {
		case l.sweep <- struct{}{}:
		default:
		}
	}
	return (before == 0) != (len(l.up) == 0)
}

func (l *links) live(n int) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.up[n]
}

func (l *links) note(now time.Time) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.seen = now
}

func (l *links) last() time.Time {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.seen
}

// connect keeps connection n alive until ctx ends. It returns an error only
// for a token that is refused.
func (s *Surface) connect(ctx context.Context, n int) error {
	for try := 0; ; try++ {
		err := s.session(ctx, n)
		if ctx.Err() != nil {
			return nil
		}
		if isAuth(err) {
			return fmt.Errorf("the chat platform refuses the app token (%w): check SLACK_APP_TOKEN and its scope connections:write", err)
		}
		s.log.Warn("connection begins anew", "connection", n, "err", err)
		if !sleep(ctx, s.delay(err, try)) {
			return nil
		}
	}
}

// session runs the client of one connection, which reconnects by itself, until
// it gives up or has been without a hello for too long: its own waits grow to
// five minutes, which is long for a bay that waits.
func (s *Surface) session(ctx context.Context, n int) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	client := socketmode.New(s.api,
		socketmode.OptionReadLimit(readLimit),
		socketmode.OptionDialer(&websocket.Dialer{
			Proxy: http.ProxyFromEnvironment, HandshakeTimeout: s.pace.http,
			WriteBufferSize: 32 << 10, // an acknowledgement must be one frame
		}),
	)
	var wg sync.WaitGroup
	defer wg.Wait()
	defer s.down(n)
	wg.Go(func() { cancel(client.RunContext(ctx)) })
	silent := time.NewTicker(s.pace.quiet)
	defer silent.Stop()
	for {
		select {
		case e := <-client.Events:
			s.on(ctx, client, n, e)
		case <-silent.C:
			if !s.links.live(n) {
				s.log.Warn("no hello on a connection", "connection", n, "last heard anything", s.links.last())
				cancel(errors.New("no hello for too long"))
			}
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
}

func (s *Surface) down(n int) {
	if s.links.set(n, false, s.cfg.Clock()) {
		s.log.Warn("no connection to the chat platform is live")
	}
}

// on deals with one event of a connection. It must be quick: a consumer that
// blocks keeps the connection from answering pings.
func (s *Surface) on(ctx context.Context, client *socketmode.Client, n int, e socketmode.Event) {
	switch e.Type {
	case socketmode.EventTypeHello:
		if s.links.set(n, true, s.cfg.Clock()) {
			s.log.Info("connected to the chat platform")
		}
	case socketmode.EventTypeConnecting, socketmode.EventTypeConnectionError:
		s.down(n)
	case socketmode.EventTypeErrorBadMessage:
		// The client cannot parse it, and would leave it unacknowledged for ever.
		if bad, ok := e.Data.(*socketmode.ErrorBadMessage); ok {
			var r socketmode.Request
			if err := json.Unmarshal(bad.Message, &r); err != nil {
				s.log.Warn("unreadable frame", "err", bad.Cause)
				return
			}
			s.envelope(ctx, client, &r)
		}
	case socketmode.EventTypeErrorWriteFailed:
		s.log.Debug("an acknowledgement was not written; the event will come again")
	default:
		if e.Request != nil {
			s.envelope(ctx, client, e.Request)
		}
	}
}

// envelope stores what an envelope holds and then acknowledges it. What cannot
// be stored is not acknowledged, and comes again; what cannot be read is.
func (s *Surface) envelope(ctx context.Context, client *socketmode.Client, r *socketmode.Request) {
	if r.EnvelopeID == "" {
		return
	}
	ctx, cancel := context.WithTimeout(ctx, s.pace.ack)
	defer cancel()
	s.links.note(s.cfg.Clock())
	read := reader{self: s.self, zone: s.cfg.Clock().Location()}
	var list []received
	var err error
	switch r.Type {
	case socketmode.RequestTypeEventsAPI:
		list, err = read.event(r.Payload)
	case socketmode.RequestTypeInteractive:
		list, err = read.action(r.Payload)
	}
	if err != nil {
		s.log.Warn("an event that cannot be read is passed over", "envelope", r.EnvelopeID, "err", err)
	}
	if err := s.take(ctx, list); err != nil {
		s.log.Error("an event could not be stored; it will come again", "envelope", r.EnvelopeID, "err", err)
		return
	}
	if err := client.AckCtx(ctx, r.EnvelopeID, nil); err != nil {
		s.log.Warn("an event was stored and not acknowledged; it will come again", "envelope", r.EnvelopeID, "err", err)
	}
}

// take puts messages into the inbox and wakes the handler.
func (s *Surface) take(ctx context.Context, list []received) error {
	s.intake.Lock()
	defer s.intake.Unlock()
	for _, m := range list {
		if err := s.takeOne(ctx, m); err != nil {
			return err
		}
	}
	return nil
}

func (s *Surface) takeOne(ctx context.Context, m received) error {
	if m.Act == surface.Edited {
		known, ok, err := s.cfg.Inbox.Reply(ctx, m.Target)
		switch {
		case err != nil:
			return err
		case ok && m.previous == nil && known.Message.Text == m.Text:
			return nil // the words are as they were
		case !ok && m.previous != nil && s.cfg.Clock().Sub(m.previous.At) < young:
			// The edit has overtaken its message. As it was comes first, or the
			// late one would be taken for something said after.
			if err := s.put(ctx, received{Message: *m.previous}); err != nil {
				return err
			}
		}
	}
	return s.put(ctx, m)
}

func (s *Surface) put(ctx context.Context, m received) error {
	fresh, err := s.cfg.Inbox.Put(ctx, m.Message, m.also...)
	if fresh {
		s.handled.wake()
	}
	return err
}

// isAuth reports an answer that no waiting will change.
func isAuth(err error) bool {
	var answer slack.SlackErrorResponse
	var code slack.StatusCodeError
	switch {
	case errors.As(err, &answer):
		switch answer.Err {
		case "invalid_auth", "account_inactive", "not_authed", "token_revoked", "token_expired", "not_allowed_token_type":
			return true
		}
	case errors.As(err, &code):
		return code.Code == http.StatusNotFound
	}
	return false
}
