// Package slack is the chat surface on the Slack platform, by Socket Mode: no
// public address is needed, two tokens are.
//
// What arrives goes event → inbox (durable) → acknowledgement → handler →
// outbox (durable) → post. So a message is never lost once acknowledged, and is
// handled in the order of its channel. A message is delivered once or more and
// in any order; its ID says which it is, and the inbox remembers. A post whose
// outcome is not known is looked for in its thread before it is tried again; a
// post that arrives there only after that look can be doubled, nothing else can.
// What the shop says by itself goes the same way from the outbox on.
//
// In the inbox a message carries the platform's ids and text. Names, channels
// and mentions are resolved when it is handled, because the shop's vocabulary
// may not be there yet when a message arrives.
//
// It may import surface, say, inbox and the platform's client.
package slack

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/slack-go/slack"

	"bayword/internal/inbox"
	"bayword/internal/surface"
)

// Directory maps the platform's ids to the shop's. It is asked often and must
// answer from memory.
type Directory interface {
	// Refresh brings the names up to date before they are asked for. An error
	// means that they cannot be known just now: the message waits.
	Refresh(ctx context.Context) error
	// Person gives the shop id of a platform user. known is true only for a
	// user id that the shop has on record; the display name, "" when the event
	// did not carry one, is for messages only: anyone can choose any name.
	Person(userID, displayName string) (id string, known bool)
	// Channel gives the shop id of a platform channel, by its id or its name.
	// The name is "" when it could not be found out.
	Channel(channelID, name string) (id string, ok bool)
	// ChatUser gives the platform user of a person of the shop.
	ChatUser(person string) (userID string, ok bool)
	// ChatChannel gives the platform channel of a channel of the shop: by its id,
	// or with the id "" by its name. ok is false when the shop has no such channel.
	ChatChannel(channel string) (channelID, name string, ok bool)
}

// Config is what the surface needs. AppToken, BotToken, Handler, Inbox and
// Directory must be given.
type Config struct {
	AppToken string // xapp-…, with connections:write
	BotToken string // xoxb-…
	APIURL   string // "" is the platform's own
	// Handler decides what to say. An error means «not decided, try again»: the
	// message stays first in its channel until the handler takes it.
	Handler   surface.Handler
	Inbox     *inbox.Inbox
	Directory Directory
	Keep      surface.Keep     // nil: photographs stay names
	Files     surface.Files    // nil: nothing is handed over
	Log       *slog.Logger     // nil: silent
	Clock     func() time.Time // gives the shop's time, in its zone; nil: time.Now
}

// Surface is one running chat surface.
type Surface struct {
	cfg Config
	api *slack.Client
	// files is the same client with more time, for what is large.
	files *slack.Client
	log   *slog.Logger
	self  identity
	pace  pace

	intake  sync.Mutex // one event at a time: order of two about the same message matters
	handled lanes
	posted  lanes
	unsure  sync.Map // message IDs whose reply may have been posted already
	names   names
	directs sync.Map // users → their direct conversations
	links   links
}

// identity is who the bot is on the platform.
type identity struct{ user, bot string }

// pace holds every wait, so that tests can hurry.
type pace struct {
	ack      time.Duration // to store and acknowledge; the platform redelivers after 3 s
	http     time.Duration // one call of the platform
	handle   time.Duration // one call of the handler
	photos   time.Duration // to fetch and keep the photographs of a message, once
	files    time.Duration // to put files together, or to send one
	retry    time.Duration // the first wait before trying again; doubles
	retryMax time.Duration
	quiet    time.Duration // a connection without hello for so long is begun anew
	settle   time.Duration // for messages to fall into order
	clean    time.Duration // between two sweeps of the inbox
	tellAt   int           // failed tries of the handler before the person is told
}

func usualPace() pace {
	return pace{
		ack: 2500 * time.Millisecond, http: 10 * time.Second, handle: 30 * time.Second,
		photos: 45 * time.Second, files: 2 * time.Minute,
		retry: 250 * time.Millisecond, retryMax: 30 * time.Second,
		quiet: time.Minute, clean: time.Hour, settle: 50 * time.Millisecond, tellAt: 4,
	}
}

// New checks the configuration; it does not touch the network.
func New(cfg Config) (*Surface, error) {
	switch {
	case !strings.HasPrefix(cfg.AppToken, "xapp-"):
		return nil, errors.New("the app token must begin with xapp-: make one with the scope connections:write and set SLACK_APP_TOKEN")
	case !strings.HasPrefix(cfg.BotToken, "xoxb-"):
		return nil, errors.New("the bot token must begin with xoxb-: install the app and set SLACK_BOT_TOKEN")
	case cfg.Handler == nil || cfg.Inbox == nil || cfg.Directory == nil:
		return nil, errors.New("slack: Handler, Inbox and Directory must be given")
	}
	if cfg.Log == nil {
		cfg.Log = slog.New(slog.NewTextHandler(io.Discard, nil))
	}
	if cfg.Clock == nil {
		cfg.Clock = time.Now
	}
	return build(cfg, usualPace()), nil
}

func build(cfg Config, p pace) *Surface {
	s := &Surface{cfg: cfg, api: client(cfg, p.http), files: client(cfg, p.files), log: cfg.Log, pace: p}
	s.handled = newLanes(s.pending, s.handle, s.delay, cfg.Log)
	s.handled.settle = p.settle
	s.posted = newLanes(cfg.Inbox.Unsent, s.post, s.delay, cfg.Log)
	s.links.sweep = make(chan struct{}, 1)
	return s
}

// client gives up a call after a time; the library's own never does.
func client(cfg Config, timeout time.Duration) *slack.Client {
	options := []slack.Option{
		slack.OptionAppLevelToken(cfg.AppToken),
		slack.OptionHTTPClient(&http.Client{Timeout: timeout}),
	}
	if cfg.APIURL != "" {
		options = append(options, slack.OptionAPIURL(strings.TrimSuffix(cfg.APIURL, "/")+"/"))
	}
	return slack.New(cfg.BotToken, options...)
}

// Run serves until ctx ends, then returns nil. It returns an error only when
// going on is of no use: a token that the platform refuses.
func (s *Surface) Run(ctx context.Context) error {
	err := s.serve(ctx)
	if ctx.Err() != nil {
		return nil
	}
	return err
}

func (s *Surface) serve(ctx context.Context) error {
	if err := s.whoAmI(ctx); err != nil {
		return err
	}
	if err := s.begin(ctx); err != nil {
		return err
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var wg sync.WaitGroup
	for n := range 2 { // while one connection is refreshed the other one listens
		wg.Go(func() { cancel(s.connect(ctx, n)) })
	}
	wg.Go(func() { s.handled.run(ctx) })
	wg.Go(func() { s.posted.run(ctx) })
	wg.Go(func() { s.sweeper(ctx) })
	wg.Go(func() { s.cleaner(ctx) })
	wg.Wait()
	return context.Cause(ctx)
}

// whoAmI finds out the bot's own ids, and whether the token is good.
func (s *Surface) whoAmI(ctx context.Context) error {
	for try := 0; ; try++ {
		r, err := s.api.AuthTestContext(ctx)
		if err == nil {
			s.self = identity{user: r.UserID, bot: r.BotID}
			return nil
		}
		if isAuth(err) {
			return fmt.Errorf("the chat platform refuses the bot token (%w): check SLACK_BOT_TOKEN", err)
		}
		s.log.Warn("the chat platform does not answer; trying again", "err", err)
		if !sleep(ctx, s.delay(err, try)) {
			return ctx.Err()
		}
	}
}

// begin notes which replies an earlier run may have posted without noting it,
// and, the first time ever, from when on history counts.
func (s *Surface) begin(ctx context.Context) error {
	list, err := s.cfg.Inbox.Unsent(ctx)
	if err != nil {
		return fmt.Errorf("read the outbox: %w", err)
	}
	for _, e := range list {
		s.unsure.Store(e.Message.ID, true)
	}
	_, ok, err := s.cfg.Inbox.Load(ctx, sinceKey)
	if err == nil && !ok {
		err = s.cfg.Inbox.Save(ctx, sinceKey, []byte(stamp(s.cfg.Clock())))
	}
	return err
}

// cleaner forgets what the inbox need not remember any longer.
func (s *Surface) cleaner(ctx context.Context) {
	for {
		if n, err := s.cfg.Inbox.Sweep(s.cfg.Clock()); err != nil {
			s.log.Error("the inbox was not swept", "err", err)
		} else if n > 0 {
			s.log.Debug("inbox swept", "messages", n)
		}
		if !sleep(ctx, s.pace.clean) {
			return
		}
	}
}

// delay is how long to wait after a failed try, counted from 0.
func (s *Surface) delay(err error, try int) time.Duration {
	var limited *slack.RateLimitedError
	if errors.As(err, &limited) {
		return limited.RetryAfter
	}
	return min(s.pace.retry<<min(try, 16), s.pace.retryMax)
}

// sleep waits; it reports false when ctx ended first.
func sleep(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}
