package talk

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"bayword/internal/hear"
	"bayword/internal/say"
	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/anypb"
)

// work carries out the requests of one message.
type work struct {
	t       *Talk
	m       surface.Message
	p       *place
	c       hear.Context
	n       int // requests sent so far
	lines   []string
	choices []say.Choice
	picture []byte // of the first answer that has one
	hand    string // job whose handover folder is to be handed over
	quiet   bool
	done    []Request
	tried   []Request
	asked   *hear.Intent
	records []hear.Done // newest first
	last    *hear.Done
	refused bool
	failed  error
	turn    Turn
}

func (t *Talk) work(m surface.Message, p *place, c hear.Context) *work {
	return &work{t: t, m: m, p: p, c: c, quiet: true}
}

// all carries out the intents in order and sums up the turn.
func (w *work) all(ctx context.Context, intents []hear.Intent) {
	var open []hear.Intent
	for _, in := range intents {
		if len(in.Missing) > 0 {
			if w.forbidden(ctx, in) {
				continue
			}
			open = append(open, in)
			continue
		}
		w.one(ctx, in)
		if w.failed != nil {
			return
		}
	}
	first := len(w.p.Pending)
	for _, in := range open {
		w.ask(in)
	}
	slices.Reverse(w.p.Pending[min(first, len(w.p.Pending)):]) // the first asked is answered first
	if w.turn.Outcome == "" {
		w.sum()
	}
}

// sum turns what happened into the turn.
func (w *work) sum() {
	switch {
	case recorded(w.done):
		w.turn.Outcome, w.turn.Requests = Recorded, w.done
	case len(w.done) > 0:
		w.turn.Outcome, w.turn.Requests = Answered, w.done
	case w.refused:
		w.turn.Outcome, w.turn.Requests = Refused, w.tried
	case w.asked != nil:
		w.turn.Outcome = Asked
	default:
		w.turn.Outcome = Silent
		return
	}
	text := strings.Join(w.lines, "\n")
	w.turn.Reply = &say.Reply{Text: text, Choices: w.choices, Picture: w.picture, Handover: w.hand, Quiet: w.quiet && len(w.choices) == 0}
}

// one sends one complete request.
func (w *work) one(ctx context.Context, in hear.Intent) {
	if in.Kind == "ExplainAnswer" {
		w.explain(ctx, in)
		return
	}
	if (in.Kind == "Undo" || in.Kind == "Amend") && in.Entry == 0 && in.Fields["snag"] == nil && in.Fields["find"] == nil && len(w.c.Records) > 0 {
		in.Entry = w.c.Records[0].Entry
	}
	req, err := hear.Request(in)
	if err != nil {
		w.failed = err
		return
	}
	w.send(ctx, in, req)
}

// send sends a request and takes up its answer.
func (w *work) send(ctx context.Context, in hear.Intent, req proto.Message) {
	setEnvelope(req, w.m, requestID(w.m.ID, w.n), false)
	w.n++
	resp, err := w.t.invoke(ctx, in.Kind, req)
	sent := Request{Kind: in.Kind, Fields: hear.FieldsOf(req)}
	if err != nil {
		reply, refusal := say.Refusal(err, w.t.said)
		if !refusal {
			w.failed = err
			w.turn = Turn{Outcome: Refused, Requests: []Request{sent}, Reply: &reply}
			return
		}
		if field, ok := ambiguous(err); ok {
			in.Missing = []string{field}
			in.Choices = reply.Choices
			w.lines = append(w.lines, reply.Text)
			w.choices = reply.Choices
			w.open(in)
			return
		}
		if field := missing(err); field != "" && in.Kind != "Amend" && in.Kind != "Undo" {
			in.Missing = []string{field} // the service knew better what is needed
			w.ask(in)
			return
		}
		w.refused, w.quiet = true, false
		w.tried = append(w.tried, sent)
		w.lines = append(w.lines, reply.Text)
		if in.Kind != "Amend" && in.Kind != "Undo" {
			w.p.Last = &hear.Done{Intent: in} // «what is it now» asks about the thing refused
		}
		if field := correctable(err); field != "" && in.Kind != "Amend" && in.Kind != "Undo" {
			// «no, 19» after an impossible 190 says the same thing again, right.
			again := in
			again.Fields = maps.Clone(in.Fields)
			delete(again.Fields, field)
			again.Missing = []string{field}
			w.p.Pending = append(w.p.Pending, pending{Intent: again, Message: w.m.ID, At: w.m.At, Again: true})
		}
		return
	}
	reply, err := say.Response(req, resp, w.t.said)
	if err != nil {
		w.failed = err
		return
	}
	w.done = append(w.done, sent)
	w.lines = append(w.lines, reply.Text)
	w.choices = append(w.choices, reply.Choices...)
	if w.picture == nil {
		w.picture = reply.Picture
	}
	if reply.Handover != "" {
		w.hand = reply.Handover
	}
	w.quiet = w.quiet && reply.Quiet
	w.remember(in, resp, reply.Text)
}

// remember keeps what follow-ups and corrections go on from.
func (w *work) remember(in hear.Intent, resp proto.Message, told string) {
	d := hear.Done{Intent: in, At: w.m.At, Said: shortened(w.m.Text)}
	if hear.IsWrite(in.Kind) {
		d.Entry = entryOf(resp)
	}
	d.Value, d.Unit = figureOf(resp)
	d.Number = numberOf(resp)
	d.Told, _, _ = strings.Cut(told, "\n")
	if _, find := resp.(interface{ GetFind() *pb.Find }); find && d.Number > 0 {
		w.p.LastFind = d.Number
	}
	if job, _ := in.Fields["job"].(string); job != "" {
		w.p.RecentJob, w.p.JobAt, w.p.Turns = job, w.m.At, 0
	} else {
		w.p.Turns++
	}
	switch in.Kind {
	case "Undo":
		w.p.Records = drop(w.p.Records, in.Entry)
	case "Amend":
		// The record as it is now is what the next correction starts from.
		for i, r := range w.p.Records {
			if r.Entry == in.Entry {
				merged := r
				merged.Intent.Fields = hear.Fields{}
				for k, v := range r.Intent.Fields {
					merged.Intent.Fields[k] = v
				}
				for k, v := range in.Fields {
					merged.Intent.Fields[k] = v
				}
				w.p.Records[i] = merged
				w.p.Last = &merged
				w.last = &merged
			}
		}
		w.records = append([]hear.Done{{Intent: in, Entry: in.Entry, At: w.m.At}}, w.records...)
	case "ExplainAnswer", "Help":
	default:
		w.p.Last, w.last = &d, &d
		if hear.IsWrite(in.Kind) {
			w.p.Records = append([]hear.Done{d}, w.p.Records...)
			w.p.RecordAt = w.m.At
			w.records = append([]hear.Done{d}, w.records...)
		}
	}
}

// saidKept is how many characters of a message are kept with its record; a
// correction names its record by one of the first words.
const saidKept = 200

func shortened(text string) string {
	if r := []rune(text); len(r) > saidKept {
		return string(r[:saidKept])
	}
	return text
}

func drop(records []hear.Done, entry uint64) []hear.Done {
	return slices.DeleteFunc(slices.Clone(records), func(d hear.Done) bool { return d.Entry == entry })
}

// ask asks for what is missing.
func (w *work) ask(in hear.Intent) {
	got := map[string]string{}
	for k, v := range in.Fields {
		switch x := v.(type) {
		case string:
			got[k] = x
		case float64, int:
			if k != "amount" { // said in a unit that is not known yet
				got[k] = fmt.Sprint(x)
			}
		}
	}
	if m, ok := w.t.said.Materials[got["material"]]; ok {
		got["material"] = m.Name
	}
	if in.Unknown != "" {
		got["unknown"] = in.Unknown
	}
	reply := say.Ask(in.Kind, in.Missing, got, in.Choices)
	if in.Unknown != "" {
		unknown := "I know no " + in.Unknown + ". "
		if in.Kind == "Undo" {
			unknown = "None of your records here fits «" + in.Unknown + "». "
		}
		reply.Text = unknown + reply.Text
	}
	w.lines = append(w.lines, reply.Text)
	if len(w.choices) == 0 {
		w.choices = reply.Choices
	}
	w.open(in)
}

// open keeps a question waiting.
func (w *work) open(in hear.Intent) {
	w.quiet = false
	w.asked = &in
	w.p.Pending = append(w.p.Pending, pending{Intent: in, Message: w.m.ID, At: w.m.At, Said: w.p.Said})
}

// forbidden reports whether the person may not do this at all: that is said
// before anything is asked.
func (w *work) forbidden(ctx context.Context, in hear.Intent) bool {
	if !hear.IsWrite(in.Kind) {
		return false
	}
	req, err := hear.Request(in)
	if err != nil {
		return false
	}
	setEnvelope(req, w.m, "", true)
	_, err = w.t.invoke(ctx, in.Kind, req)
	switch reason(err) {
	case "NOT_ALLOWED", "UNKNOWN_PERSON":
		reply, _ := say.Refusal(err, w.t.said)
		w.refused, w.quiet = true, false
		w.tried = append(w.tried, Request{Kind: in.Kind, Fields: hear.FieldsOf(req)})
		w.lines = append(w.lines, reply.Text)
		return true
	}
	return false
}

// explain asks where the last answer comes from.
func (w *work) explain(ctx context.Context, in hear.Intent) {
	if w.c.Last == nil {
		w.turn = Turn{Outcome: Unsure, Reply: &say.Reply{Text: "Ask me something first, then I can say where the answer comes from."}}
		return
	}
	question := w.c.Last.Intent
	if hear.IsWrite(question.Kind) {
		question = hear.Intent{Kind: hear.Lookup(question.Kind), Fields: question.Fields}
	}
	inner, err := hear.Request(question)
	if err != nil {
		inner, err = hear.Request(hear.Intent{Kind: "GetStatus", Fields: hear.Fields{"job": w.c.Last.Intent.Fields["job"]}})
		if err != nil {
			w.failed = err
			return
		}
	}
	setEnvelope(inner, w.m, "", false)
	packed, err := anypb.New(inner)
	if err != nil {
		w.failed = err
		return
	}
	req, err := hear.Request(in)
	if err != nil {
		w.failed = err
		return
	}
	m := req.ProtoReflect()
	m.Set(m.Descriptor().Fields().ByName("question"), valueOf(packed))
	w.send(ctx, in, req)
}

// correctable returns the field whose value was refused, when another would do.
func correctable(err error) string {
	for _, d := range status.Convert(err).Details() {
		if info, ok := d.(*errdetails.ErrorInfo); ok {
			switch info.GetReason() {
			case "NOT_ENOUGH_STOCK":
				return "amount"
			case "OUT_OF_RANGE":
				return info.GetMetadata()["field"]
			}
		}
	}
	return ""
}

// missing returns the needed field that a request left empty, or "".
func missing(err error) string {
	for _, d := range status.Convert(err).Details() {
		if info, ok := d.(*errdetails.ErrorInfo); ok && info.GetReason() == "MISSING_FIELD" {
			return info.GetMetadata()["field"]
		}
	}
	return ""
}

// reason returns the reason of a refusal, or "".
func reason(err error) string {
	for _, d := range status.Convert(err).Details() {
		if info, ok := d.(*errdetails.ErrorInfo); ok {
			return info.GetReason()
		}
	}
	return ""
}

// ambiguous returns the field that several records fit.
func ambiguous(err error) (string, bool) {
	for _, d := range status.Convert(err).Details() {
		if info, ok := d.(*errdetails.ErrorInfo); ok && info.GetReason() == "AMBIGUOUS" {
			return info.GetMetadata()["field"], true
		}
	}
	return "", false
}
