package service

import (
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"bayword/internal/ledger"
	"bayword/internal/shop"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
	pb "bayword/proto/bayword/v1"
)

// events is one of each event there is.
func events() []shop.Event {
	return []shop.Event{
		shop.ShopOpened{}, shop.PersonAdded{}, shop.ChannelAdded{}, shop.SupplierAdded{}, shop.PanelAreaSet{}, shop.JobCreated{},
		shop.MaterialAdded{}, shop.StockMoved{}, shop.FindRecorded{}, shop.FindClosed{}, shop.TorqueSet{}, shop.TorqueRecorded{},
		shop.GapSet{}, shop.GapRecorded{}, shop.HoursLogged{}, shop.NoteAdded{}, shop.TaskAdded{}, shop.PartOrdered{},
		shop.CoatRecorded{}, shop.ExtraProposed{}, shop.SnagAdded{}, shop.DoorGeometrySet{}, shop.Amended{}, shop.Undone{},
		shop.TaskStarted{}, shop.TaskFinished{}, shop.PartArrived{}, shop.PartFitted{}, shop.PartReturned{}, shop.BriefAdded{},
		shop.BriefMet{}, shop.SnagClosed{}, shop.ExtraDecided{}, shop.ReminderSet{}, shop.NoticeSent{}, shop.PartDueChanged{},
	}
}

// Every field of every event comes back from the ledger as it went in.
func TestEventsComeBackAsTheyWere(t *testing.T) {
	t.Parallel()
	for _, zero := range events() {
		full := reflect.New(reflect.TypeOf(zero)).Elem()
		fill(t, full, new(int))
		e, ok := full.Interface().(shop.Event)
		require.True(t, ok)
		t.Run(full.Type().Name(), func(t *testing.T) {
			said := time.Date(2026, 3, 10, 9, 0, 0, 0, time.UTC)
			photos := []shop.Photo{{Name: "sill.jpg", SHA256: "ab12"}}
			kind, payload, err := encode(e, words{"as said", said, photos})
			require.NoError(t, err)
			assert.NotEmpty(t, kind)
			m, back, err := decode(ledger.Entry{Seq: 7, Person: "mabel", Kind: kind, Payload: payload})
			require.NoError(t, err)
			assert.Equal(t, e, back)
			assert.Equal(t, shop.Meta{Seq: 7, Person: "mabel", At: said, Photos: photos}, m)
		})
	}
}

// fill gives every field another value than zero, each a different one.
func fill(t *testing.T, v reflect.Value, n *int) {
	t.Helper()
	*n++
	switch v.Kind() {
	case reflect.String:
		v.SetString("text" + strings.Repeat("x", *n))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n))
	case reflect.Uint8, reflect.Uint16, reflect.Uint64:
		v.SetUint(uint64(*n))
	case reflect.Float64:
		v.SetFloat(float64(*n) + 0.25)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(t, v.Index(0), n)
		fill(t, v.Index(1), n)
	case reflect.Array:
		for i := range v.Len() {
			fill(t, v.Index(i), n)
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(t, v.Elem(), n)
	case reflect.Interface:
		v.Set(reflect.ValueOf(shop.NoteAdded{Job: "heron", Text: "sealer is original"}))
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.UnixMilli(int64(*n) * 1000).UTC()))
			return
		}
		for i := range v.NumField() {
			fill(t, v.Field(i), n)
		}
	default:
		require.Fail(t, "a kind of field that fill does not know", "%s", v.Kind())
	}
}

// An event that is added to the shop must be added above.
func TestEveryEventIsTested(t *testing.T) {
	t.Parallel()
	file, err := parser.ParseFile(token.NewFileSet(), "../shop/event.go", nil, 0)
	require.NoError(t, err)
	var declared, tested []string
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "isEvent" {
			name, ok := f.Recv.List[0].Type.(*ast.Ident)
			require.True(t, ok)
			declared = append(declared, name.Name)
		}
	}
	for _, e := range events() {
		tested = append(tested, reflect.TypeOf(e).Name())
	}
	assert.ElementsMatch(t, declared, tested)

	oneof := (&ledgerv1.Event{}).ProtoReflect().Descriptor().Oneofs().ByName("event")
	assert.Equal(t, len(declared), oneof.Fields().Len(), "each has its stored form")
}

func TestAnEventOfANewerProgramIsNotSkipped(t *testing.T) {
	t.Parallel()
	payload, err := proto.Marshal(&ledgerv1.Event{Text: "something new"})
	require.NoError(t, err)
	_, _, err = decode(ledger.Entry{Seq: 9, Kind: "coat_sanded", Payload: payload})
	require.ErrorIs(t, err, errNewer)
	assert.ErrorContains(t, err, "coat_sanded")
}

// The enums of the API count as the shop's do.
func TestEnumsCountAlike(t *testing.T) {
	t.Parallel()
	for _, e := range []struct {
		enum   protoreflect.EnumDescriptor
		prefix string
		name   func(n uint8) string
	}{
		{pb.Side(0).Descriptor(), "SIDE_", func(n uint8) string { return shop.Side(n).String() }},
		{pb.End(0).Descriptor(), "END_", func(n uint8) string { return shop.End(n).String() }},
		{pb.Edge(0).Descriptor(), "EDGE_", func(n uint8) string { return shop.Edge(n).String() }},
		{pb.FindKind(0).Descriptor(), "FIND_KIND_", func(n uint8) string { return shop.FindKind(n).String() }},
	} {
		values := e.enum.Values()
		for i := range values.Len() {
			v := values.Get(i)
			want := strings.ToLower(strings.TrimPrefix(string(v.Name()), e.prefix))
			if want == "unspecified" {
				want = ""
			}
			assert.Equal(t, want, e.name(uint8(v.Number())))
		}
		assert.Empty(t, e.name(uint8(values.Len())), "there are no more")
	}
}

// Every reason of the shop has one of the API, and a code.
func TestEveryReasonHasItsStatus(t *testing.T) {
	t.Parallel()
	seen := map[pb.RefusalReason]bool{}
	for r := shop.NotAllowed; r <= shop.InUse; r++ {
		to, ok := refusals[r]
		require.True(t, ok, "reason %d", r)
		assert.False(t, seen[to.reason])
		seen[to.reason] = true
	}
}
