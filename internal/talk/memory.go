package talk

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"bayword/internal/hear"
	"bayword/internal/say"
	"bayword/internal/surface"
)

// How long things are remembered.
const (
	recentTurns = 8                // turns after which a job named before no longer counts
	recentFor   = 45 * time.Minute // the same in time
	pendingFor  = 12 * time.Hour   // a question waits a working day
	againFor    = 10 * time.Minute // a refused value may be said again, right
	wordsFor    = 30 * time.Minute // a question that any words would answer
	beforeFor   = 5 * time.Minute  // «that» means what was said right before
	wordsTurns  = 3                // the same in messages of the person
	correctFor  = 12 * time.Hour   // a correction is about today's records
	recordsKept = 12
	pendingKept = 4
)

// hereFor is how long «that one» may mean what somebody else said in the channel.
const hereFor = 8 * time.Hour

// place is what one person has going on in one channel.
type place struct {
	Pending   []pending   `json:"pending,omitempty"` // questions that wait, the newest last
	Last      *hear.Done  `json:"last,omitempty"`
	Records   []hear.Done `json:"records,omitempty"`  // newest first
	RecordAt  time.Time   `json:"record_at,omitzero"` // when the newest record was made
	LastFind  int         `json:"last_find,omitempty"`
	UnheardAt time.Time   `json:"unheard_at,omitzero"` // when something with figures was said that nothing came of
	Before    string      `json:"before,omitempty"`    // the last message, when nothing came of it
	BeforeAt  time.Time   `json:"before_at,omitzero"`
	PassedAt  time.Time   `json:"passed_at,omitzero"` // when something that names things of the shop was said that nothing came of
	RecentJob string      `json:"recent_job,omitempty"`
	JobAt     time.Time   `json:"job_at,omitzero"`
	Turns     int         `json:"turns,omitempty"` // since the job was named
	Said      int         `json:"said,omitempty"`  // messages of the person here
}

type pending struct {
	Intent  hear.Intent `json:"intent"`
	Message string      `json:"message"`
	At      time.Time   `json:"at"`
	Again   bool        `json:"again,omitempty"` // nothing was asked: a value was refused
	Said    int         `json:"said,omitempty"`  // messages the person had said here
}

// waits reports whether an answer is still waited for, when the person has said so
// many messages here.
func (q pending) waits(now time.Time, said int) bool {
	passed := now.Sub(q.At)
	switch {
	case q.Again:
		return passed < againFor
	case hear.WantsWords(q.Intent):
		return passed < wordsFor && said-q.Said <= wordsTurns
	}
	return passed < pendingFor
}

// choicesOf names where the newest choices of a channel are kept; a direct
// channel is each person's own.
func choicesOf(m surface.Message) string {
	if m.Channel == surface.DirectChannel {
		return "choices/" + m.Channel + "/" + m.Person
	}
	return "choices/" + m.Channel
}

// message is what one message led to.
type message struct {
	Person   string       `json:"person"`
	Channel  string       `json:"channel"`
	Thread   string       `json:"thread,omitempty"`
	At       time.Time    `json:"at"`
	Context  hear.Context `json:"context"` // what it was heard in
	Outcome  Outcome      `json:"outcome"`
	Requests []Request    `json:"requests,omitempty"`
	Reply    *say.Reply   `json:"reply,omitempty"`
	Records  []hear.Done  `json:"records,omitempty"` // newest first; in a thread's first message the whole thread's
	Own      []hear.Done  `json:"own,omitempty"`     // those the message itself made, newest first
	Last     *hear.Done   `json:"last,omitempty"`
	Asks     *hear.Intent `json:"asks,omitempty"`    // the question it leaves open
	Pressed  bool         `json:"pressed,omitempty"` // one of its choices was taken
}

// offered points to the newest message of a channel whose reply has choices.
type offered struct {
	Message string `json:"message"`
	Person  string `json:"person"`
}

func (t *Talk) place(ctx context.Context, channel, person string) (*place, error) {
	p := &place{}
	_, err := t.load(ctx, "place/"+channel+"/"+person, p)
	return p, err
}

func (t *Talk) keepPlace(ctx context.Context, channel, person string, p *place) error {
	if n := len(p.Pending); n > pendingKept {
		p.Pending = p.Pending[n-pendingKept:]
	}
	if len(p.Records) > recordsKept {
		p.Records = p.Records[:recordsKept]
	}
	return t.save(ctx, "place/"+channel+"/"+person, p)
}

// message returns what is kept of a message; ok is false for "" and unknown ones.
func (t *Talk) message(ctx context.Context, id string) (message, bool, error) {
	var kept message
	if id == "" {
		return kept, false, nil
	}
	ok, err := t.load(ctx, "message/"+id, &kept)
	return kept, ok, err
}

// joinThread adds what a message led to to the message that began its thread.
func (t *Talk) joinThread(ctx context.Context, root string, kept message) error {
	first, ok, err := t.message(ctx, root)
	if err != nil || !ok {
		return err
	}
	if kept.Last != nil {
		first.Last = kept.Last
	}
	first.Records = append(append([]hear.Done{}, kept.Records...), first.Records...)
	if len(first.Records) > recordsKept {
		first.Records = first.Records[:recordsKept]
	}
	first.Asks = kept.Asks
	return t.save(ctx, "message/"+root, first)
}

// keepHere remembers what a message asked or recorded in its channel.
func (t *Talk) keepHere(ctx context.Context, m surface.Message, kept message) error {
	done := slices.DeleteFunc(slices.Clone(kept.Own), func(d hear.Done) bool { return d.Intent.Kind == "Amend" || d.Intent.Kind == "Undo" })
	if len(done) == 0 && kept.Last != nil {
		done = []hear.Done{*kept.Last}
	}
	if len(done) == 0 || m.Channel == surface.DirectChannel {
		return nil
	}
	before, err := t.here(ctx, m.Channel)
	if err != nil {
		return err
	}
	all := slices.Concat(done, before)
	return t.save(ctx, "here/"+m.Channel, all[:min(len(all), recordsKept)])
}

// here is what was asked and recorded in a channel, newest first.
func (t *Talk) here(ctx context.Context, channel string) ([]hear.Done, error) {
	var all []hear.Done
	_, err := t.load(ctx, "here/"+channel, &all)
	return all, err
}

func (t *Talk) load(ctx context.Context, name string, into any) (bool, error) {
	data, ok, err := t.memory.Load(ctx, name)
	if err != nil {
		return false, fmt.Errorf("recall %s: %w", name, err)
	}
	if !ok {
		return false, nil
	}
	if err := json.Unmarshal(data, into); err != nil {
		return false, fmt.Errorf("recall %s: %w", name, err)
	}
	return true, nil
}

func (t *Talk) save(ctx context.Context, name string, value any) error {
	data, err := json.Marshal(value)
	if err != nil {
		return fmt.Errorf("remember %s: %w", name, err)
	}
	if err := t.memory.Save(ctx, name, data); err != nil {
		return fmt.Errorf("remember %s: %w", name, err)
	}
	return nil
}

// ShortMemory is a Memory that lasts as long as the process.
type ShortMemory map[string][]byte

// Save keeps a value.
func (m ShortMemory) Save(_ context.Context, name string, value []byte) error {
	m[name] = value
	return nil
}

// Load returns a value.
func (m ShortMemory) Load(_ context.Context, name string) ([]byte, bool, error) {
	v, ok := m[name]
	return v, ok, nil
}
