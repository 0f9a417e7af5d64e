package service_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"bayword/internal/service"
	"bayword/internal/shop"
	"bayword/internal/shopfile"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
)

// unlisted are the events that no file of an export lists, and why.
var unlisted = map[protoreflect.Name]string{
	"amended": "the record says what it says now",
	"undone":  "the record is left out",
}

// unsaid are the fields that no column says, and why.
var unsaid = map[protoreflect.FullName]string{
	"bayword.ledger.v1.HoursLogged.stage": "hours of a task are of its stage",
}

// listed gives the file that an event is listed in, and its text.
func listed(t *testing.T, stored *ledgerv1.Event) (file, text string) {
	t.Helper()
	event, err := service.Load(stored)
	require.NoError(t, err)
	empty, err := shopfile.Write(nil, shopfile.JSON)
	require.NoError(t, err)
	files, err := shopfile.Write([]shop.Kept{{Told: shop.Told{Event: event}}}, shopfile.JSON)
	require.NoError(t, err, "%T", event)
	for i, f := range files {
		if string(f.Data) != string(empty[i].Data) {
			require.Empty(t, file, "%T is listed twice", event)
			file, text = f.Name, string(f.Data)
		}
	}
	require.NotEmpty(t, file, "%T is listed nowhere", event)
	return file, text
}

// fill sets every field to something.
func fill(m protoreflect.Message) {
	const n = 5
	texts := map[protoreflect.Name]string{"id": "part-5-2026-03-12"}
	for i := range m.Descriptor().Fields().Len() {
		f := m.Descriptor().Fields().Get(i)
		one := func() protoreflect.Value {
			switch f.Kind() {
			case protoreflect.StringKind:
				text, ok := texts[f.Name()]
				if !ok {
					text = "text"
				}
				return protoreflect.ValueOfString(text)
			case protoreflect.BoolKind:
				return protoreflect.ValueOfBool(true)
			case protoreflect.DoubleKind:
				return protoreflect.ValueOfFloat64(n)
			case protoreflect.Int32Kind:
				return protoreflect.ValueOfInt32(n)
			case protoreflect.Uint32Kind:
				return protoreflect.ValueOfUint32(1) // also of an enum
			case protoreflect.Uint64Kind:
				return protoreflect.ValueOfUint64(n)
			default:
				return protoreflect.ValueOfInt64(n)
			}
		}
		switch {
		case f.IsList():
			for range 7 { // hours by stage
				m.Mutable(f).List().Append(one())
			}
		case f.Kind() == protoreflect.MessageKind:
			fill(m.Mutable(f).Message())
		default:
			m.Set(f, one())
		}
	}
}

// fields calls fn with every field of a message and of those in it, the one it is in
// and all that it is in.
func fields(m protoreflect.Message, fn func(in protoreflect.Message, f protoreflect.FieldDescriptor)) {
	for i := range m.Descriptor().Fields().Len() {
		f := m.Descriptor().Fields().Get(i)
		if f.Kind() == protoreflect.MessageKind && !f.IsList() {
			fields(m.Mutable(f).Message(), fn)
		}
		fn(m, f)
	}
}

// Every event that a ledger may hold is listed in one file of an export, with all
// that it says: what a file leaves out is lost when a shop moves.
func TestAnExportHasANounForEveryEvent(t *testing.T) {
	t.Parallel()
	kinds := (&ledgerv1.Event{}).ProtoReflect().Descriptor().Oneofs().ByName("event").Fields()
	require.Positive(t, kinds.Len())
	of := map[string]protoreflect.Name{}
	for i := range kinds.Len() {
		kind := kinds.Get(i)
		if unlisted[kind.Name()] != "" {
			continue
		}
		stored := &ledgerv1.Event{}
		event := stored.ProtoReflect().Mutable(kind).Message()
		fill(event)
		file, whole := listed(t, stored)
		assert.Empty(t, of[file], "%s and %s share %s", of[file], kind.Name(), file)
		of[file] = kind.Name()
		fields(event, func(in protoreflect.Message, f protoreflect.FieldDescriptor) {
			if unsaid[f.FullName()] != "" {
				return
			}
			was := in.Get(f)
			if f.IsList() {
				was = protoreflect.ValueOfList(proto.Clone(in.Interface()).ProtoReflect().Get(f).List())
			}
			in.Clear(f)
			_, without := listed(t, stored)
			assert.NotEqual(t, whole, without, "%s is not in %s", f.FullName(), file)
			in.Set(f, was)
		})
	}
}
