package service_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/ledger"
	"bayword/internal/service"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
	pb "bayword/proto/bayword/v1"
)

func TestTheSameRequestIsCarriedOutOnce(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	req := &pb.RecordUseRequest{Origin: b.by("mabel"), RequestId: "use-1", Material: "clearcoat", Amount: num(0.5)}
	first, err := b.stock.RecordUse(t.Context(), req)
	require.NoError(t, err)
	assert.False(t, first.Receipt.RepeatedRequest)
	b.use("mabel", "clearcoat", 1)

	again, err := b.stock.RecordUse(t.Context(), req)
	require.NoError(t, err)
	assert.True(t, again.Receipt.RepeatedRequest)
	again.Receipt.RepeatedRequest = false
	assert.True(t, proto.Equal(first, again), "the first answer again, not today's")
	assert.InDelta(t, 4.5, b.onHand("clearcoat"), 1e-9)

	other := proto.CloneOf(req)
	other.Amount = num(0.6)
	_, err = b.stock.RecordUse(t.Context(), other)
	assert.Equal(t, codes.AlreadyExists, status.Code(err))
	assert.Equal(t, "REQUEST_REUSED", info(t, err).Reason)
	assert.Equal(t, "use-1", info(t, err).Metadata["request_id"])
}

// Every RPC that writes takes validate_only: it makes the same checks, gives the
// answer it would give, and writes nothing.
func TestValidateOnlyWritesNothing(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	own := b.use("wren", "clearcoat", 1)
	before, err := b.store.Head(t.Context())
	require.NoError(t, err)
	for _, req := range writes(own.Receipt.Entry) {
		m := req.ProtoReflect()
		fields := m.Descriptor().Fields()
		m.Set(fields.ByName("origin"), protoreflect.ValueOfMessage(b.by("wren").ProtoReflect()))
		m.Set(fields.ByName("validate_only"), protoreflect.ValueOfBool(true))
		resp := invoke(t, b, req)
		receipt := resp.(interface{ GetReceipt() *pb.Receipt }).GetReceipt()
		assert.Zero(t, receipt.Entry, "%T", req)

		// And without it, an id is needed.
		m.Set(fields.ByName("validate_only"), protoreflect.ValueOfBool(false))
		_, err := call(t, b, req)
		assert.Equal(t, "MISSING_FIELD", info(t, err).Reason, "%T", req)
		assert.Equal(t, "request_id", info(t, err).Metadata["field"], "%T", req)
	}
	after, err := b.store.Head(t.Context())
	require.NoError(t, err)
	assert.Equal(t, before, after)
	assert.InDelta(t, 5, b.onHand("clearcoat"), 0)

	// The same requests, in earnest, answer the same but for the entry.
	for _, req := range writes(own.Receipt.Entry) {
		m := req.ProtoReflect()
		fields := m.Descriptor().Fields()
		m.Set(fields.ByName("origin"), protoreflect.ValueOfMessage(b.by("wren").ProtoReflect()))
		m.Set(fields.ByName("validate_only"), protoreflect.ValueOfBool(true))
		preview := invoke(t, b, req)
		m.Clear(fields.ByName("validate_only"))
		m.Set(fields.ByName("request_id"), protoreflect.ValueOfString(b.id()))
		resp := invoke(t, b, req)
		receipt := resp.(interface{ GetReceipt() *pb.Receipt }).GetReceipt()
		assert.NotZero(t, receipt.Entry)
		receipt.Entry = 0
		assert.True(t, proto.Equal(preview, resp), "%T: preview %v, answer %v", req, preview, resp)
	}
}

// writes is one whole request for each RPC that writes; own is an entry to amend
// and undo.
func writes(own uint64) []proto.Message {
	return []proto.Message{
		&pb.RecordTorqueRequest{Job: "heron", Fastener: "wheel nut", TorqueNm: num(81.0)},
		&pb.SetTorqueRequest{Job: "heron", Fastener: "wheel nut", TorqueNm: num(82.0), Source: "demo manual p. 13"},
		&pb.RecordGapRequest{Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Edge: pb.Edge_EDGE_REAR, GapMm: []float64{4, 4.5}},
		&pb.SetGapRequest{Job: "heron", Panel: "boot lid", TargetMm: num(4.0)},
		&pb.RecordFindRequest{Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT, Kind: pb.FindKind_FIND_KIND_HOLE},
		&pb.CloseFindRequest{Find: num(uint32(1))},
		&pb.RecordUseRequest{Material: "thinner", Amount: num(1.0)},
		&pb.RecordDeliveryRequest{Material: "thinner", Amount: num(5.0), Batch: "4471", Expires: "2027-01-31"},
		&pb.RecordCountRequest{Material: "thinner", Amount: num(4.0)},
		&pb.RecordWasteRequest{Material: "thinner", Amount: num(0.5), Why: "spilt"},
		&pb.AddMaterialRequest{Name: "etch primer", Unit: "L"},
		&pb.RecordCoatRequest{Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet"}, Coats: num(uint32(2)), At: "2026-03-10T09:30"},
		&pb.LogHoursRequest{Job: "heron", Hours: num(3.5)},
		&pb.AddNoteRequest{Job: "heron", Text: "sealer under the scuttle is original"},
		&pb.AddTaskRequest{Job: "tern", Title: "weld up the badge holes", Hours: num(2.0)},
		&pb.StartTaskRequest{Job: "heron", Task: "right sill"},
		&pb.FinishTaskRequest{Job: "osmere", Task: "blocking"},
		&pb.RecordOrderRequest{Job: "tern", Part: "heater matrix", Supplier: "fenwright", Due: "2026-03-19", Price: num(85.0)},
		&pb.RecordArrivalRequest{Job: "heron", Part: "rear wing panel", Condition: "creased"},
		&pb.FitPartRequest{Job: "osmere", Part: "tailgate seal"},
		&pb.ReturnPartRequest{Job: "osmere", Part: "tailgate seal", Why: "perished"},
		&pb.ChangeDueRequest{Job: "pilot", Part: "propshaft", Due: "2026-03-20", Why: "they are a day behind"},
		&pb.AddBriefRequest{Job: "osmere", Text: "a heated rear screen"},
		&pb.MeetBriefRequest{Job: "osmere", Line: num(uint32(1)), Text: "sills and floors made sound"},
		&pb.AddSnagRequest{Job: "tern", Text: "passenger window rattles"},
		&pb.CloseSnagRequest{Job: "pilot"},
		&pb.ProposeExtraRequest{Job: "heron", Text: "new carpets", Hours: num(6.0), PartsCost: num(180.0)},
		&pb.DecideExtraRequest{Extra: num(uint32(2)), Agreed: num(true)},
		&pb.RemindRequest{At: "2026-03-10T16:00", Text: "turn the roof panel"},
		&pb.MarkNoticeRequest{Id: "morning-2026-03-10-wren"},
		&pb.AddPersonRequest{Name: "Dag", Role: "apprentice"},
		&pb.LinkChannelRequest{Channel: "bay-2", Job: "tern"},
		&pb.AddSupplierRequest{Name: "Coldharbour Glass"},
		&pb.SetPanelSizeRequest{Panel: "bonnet", AreaM2: num(1.3)},
		&pb.CreateJobRequest{Model: "Siskin", Year: num(uint32(1968))},
		&pb.AmendRequest{Entry: own, Amount: num(2.0)},
		&pb.UndoRequest{Entry: own},
	}
}

func TestWritesNamesEveryWritingRPC(t *testing.T) {
	t.Parallel()
	have := map[protoreflect.Name]bool{}
	for _, req := range writes(1) {
		have[req.ProtoReflect().Descriptor().Name()] = true
	}
	rpcs(t, func(m protoreflect.MethodDescriptor, _, _ proto.Message) {
		if m.Input().Fields().ByName("request_id") != nil {
			assert.True(t, have[m.Input().Name()], "%s", m.Input().Name())
		}
	})
}

// call finds the RPC that takes a request and calls it.
func call(t *testing.T, b *bench, req proto.Message) (proto.Message, error) {
	t.Helper()
	var resp proto.Message
	var path string
	rpcs(t, func(m protoreflect.MethodDescriptor, _, out proto.Message) {
		if m.Input().FullName() == req.ProtoReflect().Descriptor().FullName() {
			path, resp = "/"+string(m.Parent().FullName())+"/"+string(m.Name()), out
		}
	})
	require.NotEmpty(t, path)
	return resp, b.conn.Invoke(t.Context(), path, req, resp)
}

func invoke(t *testing.T, b *bench, req proto.Message) proto.Message {
	t.Helper()
	resp, err := call(t, b, req)
	require.NoError(t, err, "%T", req)
	return resp
}

func TestWhatIsKeptOfAMessage(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	origin := b.by("idris")
	origin.Text = "note: \x00sealer\x07 " + strings.Repeat("ä", 5000)
	origin.SaidAt = timestamppb.New(opened.Add(-3 * time.Hour))
	resp, err := b.notes.AddNote(t.Context(), &pb.AddNoteRequest{Origin: origin, RequestId: b.id(), Job: "heron", Text: "sealer\x07 is original\nkeep it"})
	require.NoError(t, err)
	assert.Equal(t, "sealer is original\nkeep it", resp.Note.Text)
	assert.Equal(t, opened.Add(-3*time.Hour), resp.Note.At.AsTime(), "when it was said, not when it was written")

	var kept *ledgerv1.Event
	require.NoError(t, b.store.Scan(t.Context(), resp.Receipt.Entry, func(e ledger.Entry) error {
		assert.Equal(t, "idris", e.Person)
		assert.Equal(t, origin.Message, e.Message)
		assert.Equal(t, "note_added", e.Kind)
		assert.Equal(t, opened, e.At)
		kept = &ledgerv1.Event{}
		return proto.Unmarshal(e.Payload, kept)
	}))
	assert.Equal(t, 4000, len([]rune(kept.Text)))
	assert.True(t, strings.HasPrefix(kept.Text, "note: sealer ä"))
}

func TestBadInputIsRefusedAndLeavesTheLedgerAsItWas(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	before, err := b.store.Head(t.Context())
	require.NoError(t, err)

	for name, c := range map[string]struct {
		req    proto.Message
		reason string
		field  string
		code   codes.Code
	}{
		"a note too long":         {&pb.AddNoteRequest{Text: strings.Repeat("x", 2001)}, "OUT_OF_RANGE", "text", codes.InvalidArgument},
		"a name too long":         {&pb.RecordUseRequest{Material: strings.Repeat("x", 201), Amount: num(1.0)}, "OUT_OF_RANGE", "material", codes.InvalidArgument},
		"an id too long":          {&pb.RecordUseRequest{Material: "thinner", Amount: num(1.0), RequestId: strings.Repeat("x", 37)}, "OUT_OF_RANGE", "request_id", codes.InvalidArgument},
		"too many people":         {&pb.LogHoursRequest{Job: "heron", Hours: num(1.0), People: make([]string, 101)}, "OUT_OF_RANGE", "people", codes.InvalidArgument},
		"only control characters": {&pb.AddNoteRequest{Text: "\x00\x01 \x02"}, "MISSING_FIELD", "text", codes.InvalidArgument},
		"a side there is not":     {&pb.RecordFindRequest{Job: "heron", Panel: "sill", Side: 257, Kind: 1}, "OUT_OF_RANGE", "side", codes.InvalidArgument},
		"a kind there is not":     {&pb.RecordFindRequest{Job: "heron", Panel: "roof", Kind: 257}, "OUT_OF_RANGE", "kind", codes.InvalidArgument},
		"an unknown job":          {&pb.AddNoteRequest{Job: "linnet", Text: "x"}, "UNKNOWN_NAME", "job", codes.NotFound},
	} {
		t.Run(name, func(t *testing.T) {
			m := c.req.ProtoReflect()
			fields := m.Descriptor().Fields()
			m.Set(fields.ByName("origin"), protoreflect.ValueOfMessage(b.by("wren").ProtoReflect()))
			if id := fields.ByName("request_id"); !m.Has(id) {
				m.Set(id, protoreflect.ValueOfString(b.id()))
			}
			_, err := call(t, b, c.req)
			assert.Equal(t, c.code, status.Code(err))
			i := info(t, err)
			assert.Equal(t, "bayword", i.Domain)
			assert.Equal(t, c.reason, i.Reason)
			assert.Equal(t, c.field, i.Metadata["field"])
			violations := 0
			for _, d := range status.Convert(err).Details() {
				if bad, ok := d.(*errdetails.BadRequest); ok {
					violations++
					assert.Equal(t, c.field, bad.FieldViolations[0].Field)
				}
			}
			assert.Equal(t, 1, violations)
		})
	}
	_, err = b.notes.AddNote(t.Context(), &pb.AddNoteRequest{Origin: b.by("wren"), RequestId: b.id(), Text: strings.Repeat("x", service.MaxMessage)})
	assert.Equal(t, codes.ResourceExhausted, status.Code(err), "a megabyte is not even read")
	for _, token := range []string{"x", "MTo5OTk5OTk5OTk5OTk5OTk5", "!!"} {
		_, err := b.finds.ListFinds(t.Context(), &pb.ListFindsRequest{PageToken: token})
		assert.Equal(t, "page_token", info(t, err).Metadata["field"], token)
	}
	after, err := b.store.Head(t.Context())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}
