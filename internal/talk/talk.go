// Package talk holds a conversation: it hears a message in its context, asks the
// service, and says what came of it. It decides nothing about the shop. It may
// import hear, say, surface and the generated API types; the connection to the
// service and the memory for its context are passed in.
package talk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"bayword/internal/hear"
	"bayword/internal/say"
	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/types/known/timestamppb"
)

// Memory keeps the context of conversations; what is saved must survive a restart.
type Memory interface {
	Save(ctx context.Context, name string, value []byte) error
	Load(ctx context.Context, name string) (value []byte, ok bool, err error)
}

// Outcome says what became of a message.
type Outcome string

// The outcomes of the contract.
const (
	Answered Outcome = "answered"
	Recorded Outcome = "done"
	Asked    Outcome = "asked"
	Refused  Outcome = "refused"
	Unsure   Outcome = "unsure"
	Silent   Outcome = "silent"
)

// Request is one request as it went to the service.
type Request struct {
	Kind   string      `json:"kind"`
	Fields hear.Fields `json:"fields"`
}

// Turn is what one message led to.
type Turn struct {
	Outcome  Outcome
	Requests []Request
	Reply    *say.Reply // nil when silent
}

// Talk is the conversation with a whole shop. It is safe for concurrent use;
// messages are handled one at a time.
type Talk struct {
	conn    grpc.ClientConnInterface
	methods map[string]method
	memory  Memory

	mu    sync.Mutex
	vocab *hear.Vocabulary
	names *pb.GetVocabularyResponse
	said  say.Names
	zone  *time.Location
}

// New returns a Talk over a connection to the service.
func New(conn grpc.ClientConnInterface, memory Memory) *Talk {
	return &Talk{conn: conn, memory: memory, methods: methods()}
}

// Handle implements surface.Handler. An error means that the service could not
// be reached: the same message may be handed in again and is not doubled.
func (t *Talk) Handle(ctx context.Context, m surface.Message) (*say.Reply, error) {
	turn, err := t.Turn(ctx, m)
	if err != nil && !passing(err) {
		// Trying again would fail again, and hold up everybody behind.
		if turn.Reply == nil {
			turn.Reply = &say.Reply{Text: "Something failed on my side with that message; look whether it was recorded before you say it again."}
		}
		return turn.Reply, nil
	}
	return turn.Reply, err
}

// passing reports an error that may be gone when the message is handed in again.
func passing(err error) bool {
	switch status.Code(err) {
	case codes.Unavailable, codes.DeadlineExceeded, codes.Canceled, codes.Aborted:
		return true
	}
	return errors.Is(err, context.DeadlineExceeded) || errors.Is(err, context.Canceled) || reason(err) == "STORE_FAILED"
}

// deadline bounds one message, all its requests together.
const deadline = 20 * time.Second

// Turn carries out one message. Given the same message again it has no further
// effect and returns the first reply.
func (t *Talk) Turn(ctx context.Context, m surface.Message) (Turn, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	ctx, cancel := context.WithTimeout(ctx, deadline)
	defer cancel()
	if err := t.refresh(ctx); err != nil {
		return Turn{Outcome: Silent}, fmt.Errorf("ask for the shop's names: %w", err)
	}
	if m.Act == surface.Said && len(m.Text) == 0 {
		return Turn{Outcome: Silent}, nil
	}
	if first, ok, err := t.message(ctx, m.ID); err != nil {
		return Turn{Outcome: Silent}, err
	} else if ok && m.Act != surface.Deleted {
		return Turn{Outcome: first.Outcome, Requests: first.Requests, Reply: first.Reply}, nil
	}
	switch m.Act {
	case surface.Said:
		return t.hearNew(ctx, m, m.ID)
	case surface.Edited:
		return t.edited(ctx, m)
	case surface.Deleted:
		return t.deleted(ctx, m)
	case surface.Pressed:
		return t.pressed(ctx, m)
	}
	return Turn{Outcome: Silent}, fmt.Errorf("act %d of message %q is none that is known", m.Act, m.ID)
}

// refresh follows the shop's vocabulary.
func (t *Talk) refresh(ctx context.Context) error {
	resp, err := pb.NewVocabularyServiceClient(t.conn).GetVocabulary(ctx, &pb.GetVocabularyRequest{KnownVersion: t.names.GetVersion()})
	if err != nil {
		return err
	}
	if resp.GetUnchanged() && t.vocab != nil {
		return nil
	}
	zone, err := time.LoadLocation(resp.GetTimeZone())
	if err != nil {
		zone = time.UTC
	}
	t.names, t.vocab, t.said, t.zone = resp, hear.NewVocabulary(resp), say.NamesFrom(resp), zone
	t.said.Examples = hear.Examples()
	return nil
}

// Vocabulary returns the shop's names as they are now.
func (t *Talk) Vocabulary(ctx context.Context) (*hear.Vocabulary, *pb.GetVocabularyResponse, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if err := t.refresh(ctx); err != nil {
		return nil, nil, err
	}
	return t.vocab, t.names, nil
}

// listens reports whether the bot hears everything in a channel: in a direct
// message, in a channel that stands for a job, and in the stores.
func (t *Talk) listens(channel string) bool {
	if channel == surface.DirectChannel || channel == "stores" {
		return true
	}
	return t.channelJob(channel) != ""
}

func (t *Talk) channelJob(channel string) string {
	for _, c := range t.names.GetChannels() {
		if c.GetId() == channel {
			return c.GetJob()
		}
	}
	return ""
}

// hearNew carries out a message said for the first time; what it leads to is
// kept under id.
func (t *Talk) hearNew(ctx context.Context, m surface.Message, id string) (Turn, error) {
	direct := m.Channel == surface.DirectChannel
	if !t.listens(m.Channel) && !m.Mention {
		return Turn{Outcome: Silent}, nil
	}
	p, err := t.place(ctx, m.Channel, m.Person)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	c, err := t.context(ctx, m, p)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	c.Addressed = direct || m.Mention
	return t.carryOut(ctx, m, id, p, c)
}

// carryOut hears the text in its context and carries out what it says. The
// result is kept under id.
func (t *Talk) carryOut(ctx context.Context, m surface.Message, id string, p *place, c hear.Context) (Turn, error) {
	p.Said++
	heard := t.vocab.Hear(m.Text, c)
	kept := message{Person: m.Person, Channel: m.Channel, Thread: m.Thread, Context: c, At: m.At}
	w := t.work(m, p, c)
	switch {
	case len(heard.Intents) > 0:
		if heard.Answers {
			p.Pending = p.Pending[:max(0, len(p.Pending)-1)]
		}
		w.all(ctx, heard.Intents)
	case heard.Partly:
		w.turn = Turn{Outcome: Unsure, Reply: ptr(say.Partly())}
	case c.Addressed:
		var near []string
		for _, k := range t.vocab.Nearest(m.Text, c) {
			if e := hear.Examples()[k]; len(e) > 0 {
				near = append(near, e[0])
			}
		}
		w.turn = Turn{Outcome: Unsure, Reply: ptr(say.Unsure(near))}
	default:
		w.turn = Turn{Outcome: Silent}
	}
	if w.failed != nil {
		// Nothing is kept: the same message, handed in again, is tried again.
		return w.turn, w.failed
	}
	kept.Outcome, kept.Requests, kept.Reply, kept.Records = w.turn.Outcome, w.turn.Requests, w.turn.Reply, w.records
	kept.Own, kept.Last, kept.Asks = w.records, w.last, w.asked
	p.Before, p.BeforeAt = "", m.At
	if kept.Outcome == Silent || kept.Outcome == Unsure {
		p.Before = m.Text
	}
	if kept.Outcome == Silent {
		p.Turns++
		if strings.ContainsAny(m.Text, "0123456789") {
			p.UnheardAt = m.At
		}
		if t.vocab.Concerns(m.Text, c) {
			p.PassedAt = m.At
		}
		return w.turn, t.keepPlace(ctx, m.Channel, m.Person, p)
	}
	return w.turn, t.keep(ctx, m, id, kept, p)
}

// keep saves what a message led to, and the place it was said in.
func (t *Talk) keep(ctx context.Context, m surface.Message, id string, kept message, p *place) error {
	if kept.Reply != nil && len(kept.Reply.Choices) > 0 {
		if err := t.save(ctx, choicesOf(m), offered{Message: id, Person: m.Person}); err != nil {
			return err
		}
	}
	if err := t.save(ctx, "message/"+id, kept); err != nil {
		return err
	}
	if err := t.keepHere(ctx, m, kept); err != nil {
		return err
	}
	if m.Thread != "" {
		if err := t.joinThread(ctx, m.Thread, kept); err != nil {
			return err
		}
	}
	return t.keepPlace(ctx, m.Channel, m.Person, p)
}

// context puts together what the message is heard in.
func (t *Talk) context(ctx context.Context, m surface.Message, p *place) (hear.Context, error) {
	c := hear.Context{
		Now: m.At.In(t.zone), Speaker: t.known(m.Person), ChannelJob: t.channelJob(m.Channel),
		Last: p.Last, Records: p.Records, LastFind: p.LastFind, Unheard: p.UnheardAt.After(p.RecordAt), PassedOver: p.PassedAt.After(p.RecordAt),
	}
	if p.RecentJob != "" && p.Turns < recentTurns && m.At.Sub(p.JobAt) < recentFor {
		c.RecentJob = p.RecentJob
	}
	if i := slices.IndexFunc(p.Pending, func(q pending) bool { return q.Message == m.Thread }); m.Thread != "" && i >= 0 {
		// In the thread of a question, that question is the one answered.
		q := p.Pending[i]
		p.Pending = append(slices.Delete(p.Pending, i, i+1), q)
	}
	if n := len(p.Pending); n > 0 {
		if q := p.Pending[n-1]; q.waits(m.At, p.Said) {
			c.Pending, c.Again = &q.Intent, q.Again
			c.Fresh = !p.RecordAt.After(q.At)
		}
	}
	here, err := t.here(ctx, m.Channel)
	if err != nil {
		return c, err
	}
	c.Here = slices.DeleteFunc(here, func(d hear.Done) bool { return m.At.Sub(d.At) > hereFor })
	if m.At.Sub(p.BeforeAt) < beforeFor {
		c.Before = p.Before
	}
	c.Records = slices.DeleteFunc(slices.Clone(c.Records), func(d hear.Done) bool { return m.At.Sub(d.At) > correctFor })
	if m.Thread == "" {
		return c, nil
	}
	root, ok, err := t.message(ctx, m.Thread)
	if err != nil || !ok {
		return c, err
	}
	c.Last, c.Records = root.Last, root.Records
	if root.Last != nil {
		if job, _ := root.Last.Intent.Fields["job"].(string); job != "" {
			c.ThreadJob = job
		}
		if root.Last.Number > 0 {
			c.LastFind = root.Last.Number
		}
	}
	return c, nil
}

// known returns the person's id when the shop knows them, else "".
func (t *Talk) known(person string) string {
	for _, p := range t.names.GetPeople() {
		if p.GetId() == person {
			return person
		}
	}
	return ""
}

// origin says who asked, for the service.
func origin(m surface.Message) *pb.Origin {
	text := strings.ToValidUTF8(m.Text, "")
	if len(text) > 4000 {
		text = strings.ToValidUTF8(text[:4000], "")
	}
	o := &pb.Origin{Person: m.Person, Channel: m.Channel, Message: m.ID, Text: text, SaidAt: timestamppb.New(m.At)}
	for _, p := range m.Photos {
		o.Photos = append(o.Photos, &pb.Photo{Name: p.Name, Sha256: p.SHA256})
	}
	for _, name := range m.Files {
		if !slices.ContainsFunc(o.Photos, func(p *pb.Photo) bool { return p.GetName() == name }) {
			o.Photos = append(o.Photos, &pb.Photo{Name: name}) // its content was not kept
		}
	}
	return o
}

// requestID derives a request's id from the message it comes from, so that the
// same message never records twice. 36 characters at most.
func requestID(message string, n int) string {
	sum := sha256.Sum256([]byte(message))
	return fmt.Sprintf("%s-%d", hex.EncodeToString(sum[:14]), n)
}

func ptr(r say.Reply) *say.Reply { return &r }

// recorded reports whether a request list holds a record.
func recorded(requests []Request) bool {
	return slices.ContainsFunc(requests, func(r Request) bool { return hear.IsWrite(r.Kind) })
}
