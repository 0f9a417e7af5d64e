// Command bot is the chat front end: a terminal chat with the server embedded by
// default, a remote server with -server, scripts with -script, and the chat
// platform when its two tokens are set.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"path/filepath"
	"sync"
	"syscall"
	"time"
	_ "time/tzdata" // the shop's time zone, on machines without a list of them

	"bayword/internal/hear"
	"bayword/internal/inbox"
	"bayword/internal/surface"
	"bayword/internal/surface/console"
	"bayword/internal/surface/slack"
	"bayword/internal/talk"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
)

const usage = `bot: talk with the workshop's memory

  bot -demo                 a terminal chat with the invented demo shop, nothing kept
  bot -data DIR             a terminal chat; the shop's records are kept in DIR
  bot -server ADDR          the same against a running server
  bot -script FILE          carries out conversations, one JSON object a line (- is standard input)
  bot -why "TEXT"           shows how a message is understood
  SLACK_BOT_TOKEN and SLACK_APP_TOKEN set: serves the chat platform instead of the terminal

`

// settleIn is how long somebody who sits down has for the greeting, before the
// shop speaks up by itself. Lines that come from a file are done by then.
const settleIn = 2 * time.Second

// options are the command line.
type options struct {
	demo       bool
	data       string
	importFile string
	server     string
	script     string
	why        string
	as, in     string
	inbox      string
	botToken   string
	appToken   string
	apiURL     string
}

func main() {
	os.Exit(command(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// command runs the command line and returns the process's exit code.
func command(args []string, in io.Reader, out, errOut io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	o, err := parse(args, errOut)
	if err == nil {
		err = run(ctx, o, in, out)
	}
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.Is(err, errUsage):
		return 2
	}
	fmt.Fprintln(errOut, "bot:", err)
	return 1
}

// errUsage says that the flags were wrong and that was already said.
var errUsage = errors.New("wrong flags")

func parse(args []string, out io.Writer) (options, error) {
	var o options
	fs := flag.NewFlagSet("bot", flag.ContinueOnError)
	fs.SetOutput(out)
	fs.Usage = func() { fmt.Fprint(out, usage); fs.PrintDefaults() }
	fs.BoolVar(&o.demo, "demo", false, "load the demo shop into an empty record")
	fs.StringVar(&o.data, "data", "", "`folder` of the embedded server's records; without it they last as long as the session")
	fs.StringVar(&o.importFile, "import", "", "shop `file or folder` to load into an empty record")
	fs.StringVar(&o.server, "server", "", "`address` of a running server")
	fs.StringVar(&o.script, "script", "", "`file` of conversations, - for standard input")
	fs.StringVar(&o.why, "why", "", "`message` whose understanding is shown")
	fs.StringVar(&o.as, "as", "", "`person` who types (default: the first of the shop)")
	fs.StringVar(&o.in, "in", surface.DirectChannel, "`channel` to type in")
	fs.StringVar(&o.inbox, "inbox", "", "`folder` of the bot's own inbox on the chat platform (default: bayword-bot in the user's configuration folder)")
	o.botToken, o.appToken, o.apiURL = os.Getenv("SLACK_BOT_TOKEN"), os.Getenv("SLACK_APP_TOKEN"), os.Getenv("SLACK_API_URL")
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return o, err
		}
		return o, errUsage
	}
	switch {
	case fs.NArg() > 0:
		fmt.Fprintf(out, "bot: %q is not a flag; say bot -help for the flags\n", fs.Arg(0))
		return o, errUsage
	case o.server != "" && (o.data != "" || o.demo || o.importFile != ""):
		fmt.Fprintln(out, "bot: -server talks to a running server; give -data, -demo and -import to that server instead")
		return o, errUsage
	case (o.botToken == "") != (o.appToken == ""):
		fmt.Fprintln(out, "bot: the chat platform needs both SLACK_BOT_TOKEN (xoxb-…) and SLACK_APP_TOKEN (xapp-…); only one is set")
		return o, errUsage
	}
	return o, nil
}

func run(ctx context.Context, o options, in io.Reader, out io.Writer) error {
	if o.script != "" {
		return runScript(ctx, o.script, in, out)
	}
	conn, closeServer, err := connect(ctx, o)
	if err != nil {
		return err
	}
	defer closeServer()
	if o.botToken != "" && o.why == "" {
		return serveSlack(ctx, o, conn)
	}
	heard := newAlbum(conn, talk.ShortMemory{})
	t := heard.talk
	vocab, names, err := t.Vocabulary(ctx)
	if err != nil {
		return fmt.Errorf("the server does not answer (%w); is it running, and is the address right?", err)
	}
	zone, err := time.LoadLocation(names.GetTimeZone())
	if err != nil {
		zone = time.UTC
	}
	clock := func() time.Time { return time.Now().In(zone) }
	if o.why != "" {
		job := ""
		for _, c := range names.GetChannels() {
			if c.GetId() == o.in {
				job = c.GetJob()
			}
		}
		_, err := io.WriteString(out, vocab.Why(o.why, hear.Context{Now: clock(), Speaker: o.as, ChannelJob: job, Addressed: o.in == surface.DirectChannel}))
		return err
	}
	if o.as == "" && len(names.GetPeople()) > 0 {
		o.as = names.GetPeople()[0].GetId()
	}
	fmt.Fprintln(out, greeting(names, o))
	return console.Run(ctx, console.Options{
		Handler: heard, Person: o.as, Channel: o.in, In: in, Out: out, Clock: clock, HistoryFile: historyFile(),
		Keep: newPhotos(conn).keep, Files: handoverFiles(conn, clock),
		Notices: func(ctx context.Context, to surface.Announcer) {
			select {
			case <-time.After(settleIn):
				newNotices(conn, t, to, slog.New(slog.DiscardHandler), clock).run(ctx) // a log would spoil the prompt
			case <-ctx.Done():
			}
		},
	})
}

// connect reaches a server: a running one, or one of its own in this process.
func connect(ctx context.Context, o options) (*grpc.ClientConn, func(), error) {
	if o.server == "" {
		return embedded(ctx, o)
	}
	conn, err := grpc.NewClient(o.server, grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		return nil, nil, fmt.Errorf("server address %q: %w; an address is host:port, such as 127.0.0.1:7421", o.server, err)
	}
	return conn, func() { _ = conn.Close() }, nil
}

func serveSlack(ctx context.Context, o options, conn grpc.ClientConnInterface) error {
	dir := o.inbox
	if dir == "" {
		base, err := os.UserConfigDir()
		if err != nil {
			return fmt.Errorf("no folder for the bot's inbox (%w); name one with -inbox", err)
		}
		dir = filepath.Join(base, "bayword-bot")
	}
	box, err := inbox.Open(dir)
	if err != nil {
		return err
	}
	defer func() { _ = box.Close() }()
	heard := newAlbum(conn, box)
	t := heard.talk
	_, names, err := t.Vocabulary(ctx)
	if err != nil {
		return fmt.Errorf("the server does not answer (%w); is it running, and is the address right?", err)
	}
	zone, err := time.LoadLocation(names.GetTimeZone())
	if err != nil {
		zone = time.UTC
	}
	clock, log := func() time.Time { return time.Now().In(zone) }, slog.New(slog.NewTextHandler(os.Stderr, nil))
	s, err := slack.New(slack.Config{
		AppToken: o.appToken, BotToken: o.botToken, APIURL: o.apiURL, Handler: heard, Inbox: box, Directory: &directory{talk: t},
		Keep: newPhotos(conn).keep, Files: handoverFiles(conn, clock), Log: log, Clock: clock,
	})
	if err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(ctx)
	var beside sync.WaitGroup
	beside.Go(func() { newNotices(conn, t, s, log, clock).run(ctx) })
	defer beside.Wait()
	defer cancel()
	return s.Run(ctx)
}

// historyFile is where the terminal keeps what was typed, or "".
func historyFile() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	dir = filepath.Join(dir, "bayword")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return ""
	}
	return filepath.Join(dir, "history")
}
