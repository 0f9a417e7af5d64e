// Package console is the chat surface in a terminal: one person types, the
// replies are printed below. With a terminal it has line editing and history;
// without one it reads plain lines and writes them behind the prompt, so that
// what it prints reads like the session it was.
//
// It may import surface, say and the line editor.
package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/chzyer/readline"

	"bayword/internal/say"
	"bayword/internal/surface"
)

// Options of a terminal chat. Handler, Person and Channel must be given.
type Options struct {
	Handler     surface.Handler
	Person      string           // shop id of who types
	Channel     string           // shop channel id, or surface.DirectChannel
	In          io.Reader        // nil: standard input
	Out         io.Writer        // nil: standard output
	Clock       func() time.Time // the shop's time, in its zone; nil: time.Now
	HistoryFile string           // "" keeps no history beyond the session; used with a terminal only
	BotName     string           // what an @mention calls the bot; "": bayword
	PictureDir  string           // where pictures of replies are kept, as files of their own; "": the system's folder for temporary files
	HandoverDir string           // where what is handed over goes, each time into a new folder; "": the current folder
	Keep        surface.Keep     // keeps photographs; nil: none can be given
	Files       surface.Files    // gives what is to be handed over; nil: nothing is
	// Notices, if given, runs beside the chat and must return when its context
	// ends. What it announces is printed between two prompts.
	Notices func(context.Context, surface.Announcer)
}

// Longest lines taken. Pasting into the line editor is slow by the square.
const (
	maxTyped = 4_000  // characters typed into the line editor, keys for editing included
	maxPlain = 20_000 // bytes of a plain line
)

const help = `/in CHANNEL   go to another channel (/in dm speaks to the bot alone)
/as PERSON    speak as someone else
/photo FILE   give a photograph (JPEG or PNG, 3 MB at most) with the next message
/quit         leave (Ctrl-D does the same)
/?            this list
A number alone chooses, when the last reply offered choices. Everything else is said.`

// source gives lines. A line that was too long comes with a *TooLongError.
type source interface {
	line(ctx context.Context, prompt string) (string, error)
	// print shows a text, above the prompt if one is waiting. It may be called at any time.
	print(text string)
	io.Closer
}

// TooLongError is a line that was not taken.
type TooLongError struct{ Limit int }

func (e *TooLongError) Error() string {
	return fmt.Sprintf("That line is longer than %d characters, so nothing of it was said. Say it in parts.", e.Limit)
}

// Run chats until the input ends, /quit, or the end of ctx; none is an error.
func Run(ctx context.Context, o Options) error {
	if o.Handler == nil || o.Person == "" || o.Channel == "" {
		return errors.New("console: Handler, Person and Channel must be given")
	}
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	if o.Clock == nil {
		o.Clock = time.Now
	}
	if o.BotName == "" {
		o.BotName = "bayword"
	}
	src, err := open(o)
	if err != nil {
		return err
	}
	defer func() { _ = src.Close() }()
	c := &chat{
		Options: o, src: src, told: make(map[string]bool),
		session: strconv.FormatInt(o.Clock().UnixNano(), 36),
		mention: regexp.MustCompile(`(?i)(^|[^\pL\pN@._-])@` + regexp.QuoteMeta(o.BotName) + `\b[,:]?[ \t]*`),
	}
	if o.Notices != nil {
		beside, cancel := context.WithCancel(ctx)
		var wg sync.WaitGroup
		wg.Go(func() { o.Notices(beside, c) })
		defer wg.Wait()
		defer cancel()
	}
	return c.run(ctx)
}

// open chooses between the line editor and plain lines.
func open(o Options) (source, error) {
	in, isFile := o.In.(*os.File)
	if isFile && readline.IsTerminal(int(in.Fd())) && o.Out == io.Writer(os.Stdout) && readline.IsTerminal(int(os.Stdout.Fd())) {
		return newEditor(in, o.HistoryFile)
	}
	return newPlain(o.In, o.Out), nil
}

type chat struct {
	Options
	src     source
	session string // makes message IDs unique: when this chat began
	count   int
	mention *regexp.Regexp
	offered []say.Choice    // by the newest reply; empty when that offered none
	asked   string          // ID of the message which that reply answered
	given   []surface.Photo // photographs for the next message

	here sync.Mutex      // guards Person and Channel, which notices ask for
	told map[string]bool // notices shown; only Announce uses it, under here
}

func (c *chat) run(ctx context.Context) error {
	for {
		line, err := c.src.line(ctx, fmt.Sprintf("%s in %s> ", safe(c.Person), safe(c.Channel)))
		var long *TooLongError
		switch {
		case errors.As(err, &long):
			c.print(long.Error())
			continue
		case errors.Is(err, io.EOF) || ctx.Err() != nil:
			return nil
		case err != nil:
			return fmt.Errorf("read a line: %w", err)
		}
		line = strings.TrimSpace(strings.ToValidUTF8(line, "\uFFFD"))
		switch {
		case line == "":
		case strings.HasPrefix(line, "/"):
			if !c.command(ctx, line) {
				return nil
			}
		default:
			c.say(ctx, line)
		}
	}
}

// command carries out a line that begins with a slash; false means to leave.
func (c *chat) command(ctx context.Context, line string) bool {
	verb, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case verb == "/quit":
		return false
	case verb == "/?":
		c.print(help)
	case verb == "/in" && oneWord(rest):
		c.move(c.Person, strings.TrimPrefix(rest, "#"))
	case verb == "/as" && oneWord(rest):
		c.move(strings.TrimPrefix(rest, "@"), c.Channel)
	case verb == "/photo" && rest != "":
		c.give(ctx, rest)
	case verb == "/in":
		c.print("Which channel? Like this: /in bay-3")
	case verb == "/as":
		c.print("As whom? Like this: /as mabel")
	case verb == "/photo":
		c.print("Which file? Like this: /photo sill.jpg")
	default:
		c.print("There is no " + verb + "; /? lists what there is.")
	}
	return true
}

// move makes somebody speak somewhere; what was offered to the one before is gone.
func (c *chat) move(person, channel string) {
	c.here.Lock()
	defer c.here.Unlock()
	c.Person, c.Channel, c.offered = person, channel, nil
}

// oneWord accepts a name: one word, short, nothing in it that would spoil the prompt.
func oneWord(s string) bool {
	return s != "" && utf8.RuneCountInString(s) <= 60 && !strings.ContainsFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || !unicode.IsPrint(r)
	}) && strings.Trim(s, "#@") != ""
}

// say hands a line to the handler and prints what it says.
func (c *chat) say(ctx context.Context, line string) {
	c.count++
	m := surface.Message{
		ID: fmt.Sprintf("tty-%s-%d", c.session, c.count), Act: surface.Said,
		Person: c.Person, Channel: c.Channel, At: c.Clock(),
	}
	if n, ok := c.choice(line); ok {
		m.Act, m.Choice, m.Target = surface.Pressed, n, c.asked
	} else {
		m.Mention = c.mention.MatchString(line)
		m.Text = strings.TrimSpace(c.mention.ReplaceAllString(line, "$1"))
		m.Photos, c.given = c.given, nil
		for _, p := range m.Photos {
			m.Files = append(m.Files, p.Name)
		}
	}
	reply, err := c.Handler.Handle(ctx, m)
	switch {
	case ctx.Err() != nil:
	case err != nil:
		c.given = append(m.Photos, c.given...)
		c.print("That did not work, and may not be recorded: " + err.Error())
	case reply == nil: // not for the bot
	default:
		c.show(ctx, reply)
		c.offered, c.asked = reply.Choices, m.ID
	}
}

// choice reads a line that is just the number of a choice still open.
func (c *chat) choice(line string) (int, bool) {
	for i := range c.offered {
		if line == strconv.Itoa(i+1) {
			return i + 1, true
		}
	}
	return 0, false
}

func (c *chat) show(ctx context.Context, r *say.Reply) {
	lines := []string{}
	if r.Text != "" {
		lines = append(lines, r.Text)
	}
	for i, choice := range r.Choices {
		label := choice.Label
		if label == "" {
			label = choice.Say
		}
		lines = append(lines, fmt.Sprintf("  %d  %s", i+1, label))
	}
	if len(r.Picture) > 0 {
		if path, err := c.keep(r.Picture); err != nil {
			lines = append(lines, "The picture was not kept: "+err.Error())
		} else {
			lines = append(lines, "Picture: "+path)
		}
	}
	if r.Handover != "" && c.Files != nil {
		if path, err := c.handOver(ctx, r.Handover); err != nil {
			lines = append(lines, "Nothing was handed over: "+err.Error())
		} else {
			lines = append(lines, "Folder: "+path)
		}
	}
	c.print(strings.Join(lines, "\n"))
}

// keep writes a picture to a new file, for its owner alone, and gives its path.
func (c *chat) keep(picture []byte) (path string, err error) {
	f, err := os.CreateTemp(c.PictureDir, "bayword-*.png")
	if err != nil {
		return "", err
	}
	_, err = f.Write(picture)
	if err = errors.Join(err, f.Close()); err != nil {
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}

func (c *chat) print(text string) {
	if text != "" {
		c.src.print(safe(text))
	}
}

// safe shows control characters instead of letting them steer the terminal.
func safe(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r < 0x20:
			return '␀' + r // the picture of that control character
		case r == 0x7f:
			return '␡'
		case unicode.Is(unicode.Cc, r), unicode.Is(unicode.Bidi_Control, r):
			return '\uFFFD'
		}
		return r
	}, s)
}
