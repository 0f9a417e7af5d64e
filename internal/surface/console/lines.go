package console

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/chzyer/readline"
)

// plain reads lines from anything. The reading goes on beside, so that the end
// of a context is noticed while nobody types; it ends with its input.
type plain struct {
	mu      sync.Mutex // guards what is written, and whether a prompt stands
	out     io.Writer
	waiting string // the prompt that stands, "" when none does
	want    chan struct{}
	lines   chan result
	quit    chan struct{}
}

type result struct {
	text string
	err  error
}

func newPlain(in io.Reader, out io.Writer) *plain {
	p := &plain{out: out, want: make(chan struct{}), lines: make(chan result), quit: make(chan struct{})}
	go p.read(bufio.NewReader(in))
	return p
}

func (p *plain) read(in *bufio.Reader) {
	for {
		select {
		case <-p.want:
		case <-p.quit:
			return
		}
		text, err := readLine(in, maxPlain)
		select {
		case p.lines <- result{text, err}:
		case <-p.quit:
			return
		}
	}
}

// line prompts, waits for a line and writes it behind the prompt.
func (p *plain) line(ctx context.Context, prompt string) (string, error) {
	if err := p.ask(prompt); err != nil {
		return "", err
	}
	for asked := false; ; {
		want := p.want
		if asked {
			want = nil
		}
		select {
		case want <- struct{}{}:
			asked = true
		case r := <-p.lines:
			shown := safe(r.text)
			if r.err != nil {
				shown = ""
			}
			if err := p.answered(shown); err != nil {
				return "", err
			}
			return r.text, r.err
		case <-ctx.Done():
			_ = p.answered("")
			return "", ctx.Err()
		}
	}
}

// ask writes a prompt and leaves it standing.
func (p *plain) ask(prompt string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.waiting = prompt
	_, err := io.WriteString(p.out, prompt)
	return err
}

// answered ends the line of the prompt.
func (p *plain) answered(text string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.waiting = ""
	_, err := fmt.Fprintln(p.out, text)
	return err
}

func (p *plain) print(text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.waiting != "" {
		text = "\n" + text
	}
	// Nothing can be told where nothing can be shown.
	_, _ = fmt.Fprintln(p.out, text)
	_, _ = io.WriteString(p.out, p.waiting)
}

func (p *plain) Close() error {
	close(p.quit)
	return nil
}

// readLine reads one line without its end. A longer one is read to its end and
// gives a *TooLongError; the last line need not end.
func readLine(in *bufio.Reader, limit int) (string, error) {
	var text []byte
	long := false
	for {
		part, err := in.ReadSlice('\n')
		if !long {
			text = append(text, part...)
			long = len(text) > limit+1
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case long && (err == nil || errors.Is(err, io.EOF)):
			return "", &TooLongError{Limit: limit}
		case err == nil:
			return strings.TrimSuffix(string(text[:len(text)-1]), "\r"), nil
		case errors.Is(err, io.EOF) && len(text) > 0:
			return string(text), nil
		}
		return "", err
	}
}

// editor is the line editor on a terminal.
type editor struct {
	rl  *readline.Instance
	cap *capped
}

func newEditor(in *os.File, history string) (source, error) {
	if history != "" { // make it private before the library makes it for all to read
		f, err := os.OpenFile(history, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
		if err != nil {
			return nil, fmt.Errorf("the history file: %w", err)
		}
		_ = f.Close()
	}
	typed := &capped{in: in}
	rl, err := readline.NewEx(&readline.Config{
		HistoryFile: history, HistoryLimit: 1000, DisableAutoSaveHistory: true,
		InterruptPrompt: "\n", EOFPrompt: "\n",
		Stdin:        readline.NewCancelableStdin(typed),
		FuncGetWidth: width,
	})
	if err != nil {
		return nil, fmt.Errorf("the line editor: %w", err)
	}
	return &editor{rl: rl, cap: typed}, nil
}

// width is never nought, as some terminals have it: the library would loop for ever.
func width() int {
	if w := readline.GetScreenWidth(); w > 0 {
		return w
	}
	return 80
}

func (e *editor) line(ctx context.Context, prompt string) (string, error) {
	stop := context.AfterFunc(ctx, func() { _ = e.rl.Close() })
	defer stop()
	for {
		e.rl.SetPrompt(prompt)
		text, err := e.rl.Readline()
		switch {
		case ctx.Err() != nil:
			_, _ = fmt.Fprintln(os.Stdout)
			return "", ctx.Err()
		case e.cap.over.Swap(false):
			return "", &TooLongError{Limit: maxTyped}
		case errors.Is(err, readline.ErrInterrupt) && text != "":
			continue // Ctrl-C clears the line; on an empty one it leaves
		case errors.Is(err, readline.ErrInterrupt):
			return "", io.EOF
		case err == nil && text != "":
			_ = e.rl.SaveHistory(text) // losing history is no matter
		}
		return text, err
	}
}

// print leaves what is being typed as it is: the library draws it again below.
func (e *editor) print(text string) { _, _ = fmt.Fprintln(e.rl.Stdout(), text) }

func (e *editor) Close() error { return e.rl.Close() }

// capped lets through the first maxTyped bytes between two line ends: the
// editor draws a line anew for each key, and would take minutes for a
// megabyte.
type capped struct {
	in   io.Reader
	n    int
	over atomic.Bool
}

func (c *capped) Read(p []byte) (int, error) {
	for {
		n, err := c.in.Read(p)
		kept := 0
		for _, b := range p[:n] {
			if b == '\r' || b == '\n' || b == 3 { // 3 is Ctrl-C
				c.n = 0
			} else if c.n++; c.n > maxTyped {
				c.over.Store(true)
				continue
			}
			p[kept] = b
			kept++
		}
		if kept > 0 || err != nil || n == 0 {
			return kept, err
		}
	}
}
