package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"bayword/internal/ledger"
	"bayword/internal/surface"
	"bayword/internal/talk"
	"bayword/testdata/demo"
)

// conversation is one line of a script.
type conversation struct {
	ID    string       `json:"id"`
	Turns []scriptTurn `json:"turns"`
}

type scriptTurn struct {
	Who      string   `json:"who"`
	In       string   `json:"in"`
	Say      string   `json:"say"`
	EditOf   *int     `json:"edit_of"`
	DeleteOf *int     `json:"delete_of"`
	ThreadOf *int     `json:"thread_of"`
	Press    int      `json:"press"`
	Files    []string `json:"files"`
	At       string   `json:"at"`
}

type scriptReply struct {
	Outcome  talk.Outcome   `json:"outcome"`
	Requests []talk.Request `json:"requests"`
	Reply    string         `json:"reply,omitempty"`
	Choices  []string       `json:"choices,omitempty"`
}

// scriptStart is when every conversation of a script begins, in the demo shop's zone.
const scriptStart = "2026-03-10T10:15"

// runScript carries out the conversations of a file, each against a fresh demo
// shop, and writes one line for each in the same order.
func runScript(ctx context.Context, name string, in io.Reader, out io.Writer) error {
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return fmt.Errorf("cannot read the script: %w", err)
		}
		defer func() { _ = f.Close() }()
		in = f
	}
	zone, err := time.LoadLocation("Europe/London")
	if err != nil {
		return fmt.Errorf("the demo shop's time zone: %w", err)
	}
	// Two at a time: one may wait for its server while the other is heard.
	const workers = 2
	type job struct {
		line []byte
		n    int
		done chan []byte
	}
	jobs := make(chan job)
	order := make(chan chan []byte, 64)
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for j := range jobs {
				result, err := converse(ctx, j.line, zone)
				if err != nil {
					cancel(fmt.Errorf("line %d of the script: %w", j.n, err))
				}
				j.done <- result
			}
		})
	}
	go func() {
		defer close(order)
		defer close(jobs)
		lines := bufio.NewReaderSize(in, 1<<16)
		for n := 1; ctx.Err() == nil; n++ {
			line, err := lines.ReadBytes('\n')
			if line = bytes.TrimSpace(line); len(line) > 0 {
				j := job{line: line, n: n, done: make(chan []byte, 1)}
				order <- j.done
				jobs <- j
			}
			if err != nil {
				if err != io.EOF {
					cancel(fmt.Errorf("read the script: %w", err))
				}
				return
			}
		}
	}()
	w := bufio.NewWriter(out)
	for done := range order {
		result := <-done
		if len(result) > 0 {
			_, _ = w.Write(append(result, '\n'))
		}
	}
	group.Wait()
	if err := w.Flush(); err != nil {
		return err
	}
	return context.Cause(ctx)
}

// converse carries out one conversation.
func converse(ctx context.Context, line []byte, zone *time.Location) ([]byte, error) {
	var c conversation
	if err := json.Unmarshal(line, &c); err != nil {
		return nil, fmt.Errorf("not a conversation: %w", err)
	}
	at, err := time.ParseInLocation("2006-01-02T15:04", scriptStart, zone)
	if err != nil {
		return nil, err
	}
	var mu sync.Mutex
	clock := func() time.Time { mu.Lock(); defer mu.Unlock(); return at }
	conn, stop, err := inProcess(ctx, ledger.NewMemory(), "shop.yaml", demo.ShopYAML, clock)
	if err != nil {
		return nil, err
	}
	defer stop()
	t := newAlbum(conn, talk.ShortMemory{})
	replies := make([]scriptReply, 0, len(c.Turns))
	for i, turn := range c.Turns {
		mu.Lock()
		if i > 0 {
			at = at.Add(time.Minute)
		}
		if turn.At != "" {
			said, err := time.ParseInLocation("2006-01-02T15:04", turn.At, zone)
			if err != nil {
				mu.Unlock()
				return nil, fmt.Errorf("turn %d: at %q is not like 2026-03-10T14:00", i, turn.At)
			}
			at = said
		}
		now := at
		mu.Unlock()
		m, err := turn.message(i, now)
		if err != nil {
			return nil, err
		}
		got, err := t.Turn(ctx, m)
		if err != nil && got.Reply == nil {
			return nil, fmt.Errorf("turn %d: %w", i, err)
		}
		replies = append(replies, replyOf(got))
	}
	return json.Marshal(map[string]any{"id": c.ID, "turns": replies})
}

// message turns a script's turn into a surface's message.
func (s scriptTurn) message(i int, at time.Time) (surface.Message, error) {
	id := func(n int) string { return fmt.Sprintf("turn-%d", n) }
	earlier := func(n *int, what string) (string, error) {
		if n == nil {
			return "", nil
		}
		if *n < 0 || *n >= i {
			return "", fmt.Errorf("turn %d: %s %d names no earlier turn", i, what, *n)
		}
		return id(*n), nil
	}
	m := surface.Message{ID: id(i), Person: s.Who, Channel: s.In, Text: s.Say, Files: s.Files, At: at}
	if j := strings.Index(strings.ToLower(m.Text), "@bayword"); j >= 0 {
		m.Mention = true
		m.Text = strings.TrimSpace(m.Text[:j] + m.Text[j+len("@bayword"):])
	}
	thread, err := earlier(s.ThreadOf, "thread_of")
	if err != nil {
		return m, err
	}
	m.Thread = thread
	switch {
	case s.EditOf != nil:
		m.Act = surface.Edited
		m.Target, err = earlier(s.EditOf, "edit_of")
	case s.DeleteOf != nil:
		m.Act = surface.Deleted
		m.Target, err = earlier(s.DeleteOf, "delete_of")
	case s.Press != 0:
		m.Act, m.Choice = surface.Pressed, s.Press
	}
	return m, err
}

func replyOf(t talk.Turn) scriptReply {
	r := scriptReply{Outcome: t.Outcome, Requests: t.Requests}
	if r.Requests == nil {
		r.Requests = []talk.Request{}
	}
	if t.Reply != nil {
		r.Reply = t.Reply.Text
		for _, c := range t.Reply.Choices {
			r.Choices = append(r.Choices, c.Label)
		}
	}
	return r
}
