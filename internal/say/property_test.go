package say_test

import (
	"bytes"
	"image/png"
	"math"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"bayword/internal/say"

	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
	"pgregory.net/rapid"
)

// fits is what every reply promises, whatever it is made of.
func fits(t require.TestingT, r say.Reply) {
	require.NotEmpty(t, r.Text)
	require.True(t, utf8.ValidString(r.Text), "valid UTF-8")
	require.Less(t, utf8.RuneCountInString(r.Text), 3000)
	require.LessOrEqual(t, len(r.Choices), 5)
	if r.Picture != nil {
		img, err := png.DecodeConfig(bytes.NewReader(r.Picture))
		require.NoError(t, err)
		require.Equal(t, 800, img.Width)
		require.Less(t, len(r.Picture), 200<<10, "an inbox keeps it")
	}
	texts := []string{r.Text}
	for _, c := range r.Choices {
		require.LessOrEqual(t, utf8.RuneCountInString(c.Label), 75)
		texts = append(texts, c.Label, c.Say)
	}
	for _, s := range texts {
		for _, c := range s {
			require.False(t, unicode.IsControl(c) && c != '\n' || unicode.Is(unicode.Bidi_Control, c), "%q shows in %q", c, s)
		}
	}
}

// said draws texts as people and attackers write them: words, long ones,
// control and direction marks, broken UTF-8.
func said() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom([]string{"", "heron", "left", "door", "L", "each", "2026-03-10", "\x1b[2J", "\u202eevil", "a\nb\r\nc", "\xff\xfe", "12", "NaN"}),
		rapid.String(),
		rapid.Map(rapid.IntRange(100, 5000), func(n int) string { return strings.Repeat("long ", n/5) }),
		rapid.Map(rapid.IntRange(100, 5000), func(n int) string { return strings.Repeat("é", n) }),
	)
}

func number() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64(), rapid.Float64Range(-10, 500), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 1e-300}))
}

// filled sets fields of a message at random, absent ones included.
func filled(t *rapid.T, m protoreflect.Message, depth int) {
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		f := fields.Get(i)
		if rapid.IntRange(0, 4).Draw(t, "absent") == 0 || f.IsMap() {
			continue
		}
		if !f.IsList() {
			if v, ok := drawn(t, m.NewField(f), f, depth); ok {
				m.Set(f, v)
			}
			continue
		}
		list := m.Mutable(f).List()
		for range rapid.SampledFrom([]int{0, 1, 2, 9, 60}).Draw(t, "items") {
			if v, ok := drawn(t, element(list, f), f, depth); ok {
				list.Append(v)
			}
		}
	}
}

// element is a fresh value for a message list; other lists need none.
func element(list protoreflect.List, f protoreflect.FieldDescriptor) protoreflect.Value {
	if f.Message() == nil {
		return protoreflect.Value{}
	}
	return list.NewElement()
}

func drawn(t *rapid.T, fresh protoreflect.Value, f protoreflect.FieldDescriptor, depth int) (protoreflect.Value, bool) {
	switch f.Kind() {
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(said().Draw(t, "text")), true
	case protoreflect.DoubleKind:
		return protoreflect.ValueOfFloat64(number().Draw(t, "number")), true
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(rapid.Bool().Draw(t, "bool")), true
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(protoreflect.EnumNumber(rapid.Int32Range(0, 12).Draw(t, "enum"))), true
	case protoreflect.Uint32Kind:
		return protoreflect.ValueOfUint32(rapid.Uint32().Draw(t, "count")), true
	case protoreflect.Uint64Kind:
		return protoreflect.ValueOfUint64(rapid.Uint64().Draw(t, "entry")), true
	case protoreflect.Int32Kind:
		return protoreflect.ValueOfInt32(rapid.Int32().Draw(t, "size")), true
	case protoreflect.Int64Kind:
		return protoreflect.ValueOfInt64(rapid.Int64().Draw(t, "seconds")), true
	case protoreflect.MessageKind:
		if depth == 0 {
			return protoreflect.Value{}, false
		}
		filled(t, fresh.Message(), depth-1)
		return fresh, true
	}
	return protoreflect.Value{}, false
}

// Every kind keeps the promises for any response the wire can carry, and so
// does an empty one.
func TestAnyResponseFits(t *testing.T) {
	t.Parallel()
	for _, m := range methods() {
		t.Run(string(m.Name()), func(t *testing.T) {
			t.Parallel()
			req, resp := message(t, m.Input()), message(t, m.Output())
			empty, err := say.Response(req, resp, say.Names{})
			require.NoError(t, err)
			fits(t, empty)
			rapid.Check(t, func(t *rapid.T) {
				req, resp := proto.Clone(req), proto.Clone(resp)
				filled(t, req.ProtoReflect(), 1)
				filled(t, resp.ProtoReflect(), 3)
				r, err := say.Response(req, resp, names())
				require.NoError(t, err)
				fits(t, r)
			})
		})
	}
}

func message(t *testing.T, d protoreflect.MessageDescriptor) proto.Message {
	t.Helper()
	mt, err := protoregistry.GlobalTypes.FindMessageByName(d.FullName())
	require.NoError(t, err)
	return mt.New().Interface()
}

func TestAnyRefusalFits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(refusals()).Draw(t, "refusal")
		meta := map[string]string{"options": "1,2,3,4,5,6,7", "option.1": said().Draw(t, "label")}
		for _, k := range []string{"field", "value", "accepted", "what", "person", "role", "needs", "material", "unit", "fastener", "free_bytes", "options"} {
			if rapid.Bool().Draw(t, "has "+k) {
				// The wire carries valid UTF-8 alone.
				meta[k] = strings.ToValidUTF8(said().Draw(t, k), "")
			}
		}
		meta["option.1"] = strings.ToValidUTF8(meta["option.1"], "")
		r, _ := say.Refusal(refusal(t, c.reason, meta), names())
		fits(t, r)
	})
}

func TestAnyQuestionFits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.SliceOfN(said(), 0, 12)
		got := map[string]string{}
		for _, f := range []string{"job", "panel", "side", "kind", "width_mm", "height_mm", "material", "amount", "torque_nm", "note"} {
			got[f] = said().Draw(t, f)
		}
		var choices []say.Choice
		for _, s := range texts.Draw(t, "choices") {
			choices = append(choices, say.Choice{Label: s, Say: s})
		}
		fits(t, say.Ask(said().Draw(t, "kind"), texts.Draw(t, "missing"), got, choices))
		fits(t, say.Unsure(texts.Draw(t, "nearest")))
	})
}

// A text too long is cut between words, where it has any.
func TestALongTextIsCutBetweenWords(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,12}`), 80, 200).Draw(t, "words")
		line, _, _ := strings.Cut(say.Unsure([]string{strings.Join(words, " ")}).Text[len("I didn't get that, so nothing is recorded. I do things like:\n«"):], "»")
		kept, cut := strings.CutSuffix(line, "…")
		require.True(t, cut)
		require.Equal(t, strings.Join(words[:len(strings.Fields(kept))], " "), kept)
	})
}
