package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// rpcs calls fn with every RPC of the API and an empty request and response.
func rpcs(t *testing.T, fn func(method protoreflect.MethodDescriptor, req, resp proto.Message)) {
	t.Helper()
	protoregistry.GlobalFiles.RangeFilesByPackage("bayword.v1", func(f protoreflect.FileDescriptor) bool {
		for i := range f.Services().Len() {
			methods := f.Services().Get(i).Methods()
			for j := range methods.Len() {
				m := methods.Get(j)
				in, err := protoregistry.GlobalTypes.FindMessageByName(m.Input().FullName())
				require.NoError(t, err)
				out, err := protoregistry.GlobalTypes.FindMessageByName(m.Output().FullName())
				require.NoError(t, err)
				fn(m, in.New().Interface(), out.New().Interface())
			}
		}
		return true
	})
}

// Who may do what. What is not named here everybody the shop knows may do, and
// what writes nothing everybody may ask.
var lowest = map[string]string{
	"SetTorque": "lead", "SetGap": "lead", "CreateJob": "lead", "AddMaterial": "lead",
	"DecideExtra": "lead", "AddPerson": "lead", "LinkChannel": "lead", "AddSupplier": "lead", "SetPanelSize": "lead",
	"ProposeExtra": "tradesperson", "AddBrief": "tradesperson", "MeetBrief": "tradesperson",
	"RecordTorque": "tradesperson", "AddTask": "tradesperson", "RecordOrder": "tradesperson", "ReturnPart": "tradesperson", "ChangeDue": "tradesperson",
}

func TestWhoMayDoWhat(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	rank := map[string]int{"lead": 1, "tradesperson": 2, "apprentice": 3}
	people := map[string]string{"wren": "lead", "idris": "tradesperson", "jonah": "apprentice", "U0STRANGER": "", "": ""}
	before, err := b.store.Head(t.Context())
	require.NoError(t, err)

	rpcs(t, func(m protoreflect.MethodDescriptor, req, resp proto.Message) {
		kind := string(m.Name())
		fields := m.Input().Fields()
		writes := fields.ByName("request_id") != nil || kind == "PutPhoto"
		origin := fields.ByName("origin")
		if origin == nil {
			// The bot's own, which read and say nothing to anybody.
			require.Contains(t, []string{"GetVocabulary", "ListNotices", "GetPhoto"}, kind, "every request of a person says who asks")
			return
		}
		for person, role := range people {
			req := proto.Clone(req)
			req.ProtoReflect().Set(origin, protoreflect.ValueOfMessage((&pb.Origin{Person: person}).ProtoReflect()))
			// Nothing else is filled in: what a person may not do is refused first.
			err := b.conn.Invoke(t.Context(), "/"+string(m.Parent().FullName())+"/"+kind, req, resp)
			switch least := lowest[kind]; {
			case !writes:
				if err != nil {
					assert.NotContains(t, []string{"UNKNOWN_PERSON", "NOT_ALLOWED"}, info(t, err).Reason, "%s asks %s", person, kind)
				}
			case kind == "MarkNotice":
				// No person sends a notice: the bot does, when the clock says so, to whomever
				// it is for, and there is nobody to name. It can hide nothing that anybody
				// said: it takes only what the shop itself plans and what is due by now.
				assert.Equal(t, "MISSING_FIELD", info(t, err).Reason, "it is no person who sends")
			case role == "":
				i := info(t, err)
				assert.Equal(t, "UNKNOWN_PERSON", i.Reason, "%s tries %s", person, kind)
				assert.Equal(t, person, i.Metadata["person"])
			case least != "" && rank[role] > rank[least]:
				i := info(t, err)
				assert.Equal(t, "NOT_ALLOWED", i.Reason, "%s tries %s", person, kind)
				assert.Equal(t, map[string]string{"person": person, "role": role, "needs": least, "what": i.Metadata["what"]}, i.Metadata)
			default:
				assert.NotEqual(t, "NOT_ALLOWED", info(t, err).Reason, "%s may %s", person, kind)
			}
		}
	})
	after, err := b.store.Head(t.Context())
	require.NoError(t, err)
	assert.Equal(t, before, after, "nothing was recorded")
}

// A record belongs to who made it, and to the lead.
func TestOthersRecordsAreNotChanged(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	use := b.use("mabel", "clearcoat", 1)

	_, err := b.record.Amend(t.Context(), &pb.AmendRequest{Origin: b.by("idris"), RequestId: b.id(), Entry: use.Receipt.Entry, Amount: num(2.0)})
	assert.Equal(t, "NOT_ALLOWED", info(t, err).Reason)
	_, err = b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("jonah"), RequestId: b.id(), Entry: use.Receipt.Entry})
	assert.Equal(t, "NOT_ALLOWED", info(t, err).Reason)
	_, err = b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("idris"), RequestId: b.id()})
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason, "idris said nothing yet")
	assert.InDelta(t, 5, b.onHand("clearcoat"), 0)

	_, err = b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("wren"), RequestId: b.id(), Entry: use.Receipt.Entry})
	require.NoError(t, err)
	assert.InDelta(t, 6, b.onHand("clearcoat"), 0)
}
