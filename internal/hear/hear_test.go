package hear

import (
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/encoding/protojson"
	"pgregory.net/rapid"
)

// shopNames is the demo shop's vocabulary, as its service sends it.
func shopNames(t testing.TB) *Vocabulary {
	t.Helper()
	data, err := os.ReadFile("testdata/vocabulary.json")
	require.NoError(t, err)
	var names pb.GetVocabularyResponse
	require.NoError(t, protojson.Unmarshal(data, &names))
	return NewVocabulary(&names)
}

// bay2 is a message of Idris in bay 2 on a Tuesday morning.
func bay2() Context {
	return Context{Now: time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC), Speaker: "idris", ChannelJob: "heron"}
}

func TestNumbersAsPeopleSayThem(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for said, want := range map[string][]float64{
		"3.5":                                   {3.5},
		"1,200":                                 {1200},
		"3/16":                                  {0.1875},
		"1 1/2":                                 {1.5},
		"2½":                                    {2.5},
		"three and a half":                      {3.5},
		"seven and three quarters":              {7.75},
		"one twenty":                            {120},
		"one twenty five":                       {125},
		"six hundred":                           {600},
		"one hundred and fifty":                 {150},
		"point nine":                            {0.9},
		"one point two":                         {1.2},
		"nought point two five":                 {0.25},
		"three point eight, four":               {3.8, 4},
		"thee and a half":                       {3.5},
		"seventy seven":                         {77},
		"a dozen":                               {12},
		"minus three":                           {-3},
		"three and a half four four and a half": {3.5, 4, 4.5},
		"four and a half four three and a half": {4.5, 4, 3.5},
		"3.5 4 4.5 5":                           {3.5, 4, 4.5, 5},
		"the last one":                          nil,
	} {
		var got []float64
		for _, s := range v.read(clean(said), bay2().Now).spans {
			if s.kind == spanQuantity {
				got = append(got, s.value)
			}
		}
		assert.Equal(t, want, got, said)
	}
}

func TestQuantities(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for said, want := range map[string]struct {
		value float64
		unit  string
	}{
		"120mm":                     {120, "mm"},
		"an inch and a half":        {1.5, "in"},
		"quarter inch":              {0.25, "in"},
		"20 thou":                   {20, "thou"},
		"half a litre":              {0.5, "l"},
		"six hundred mil":           {600, "mil"},
		"a pint":                    {1, "pint_uk"},
		"sixty foot pounds":         {60, "lbf_ft"},
		"77 n.m":                    {77, "nm"},
		"2.5 kgm":                   {2.5, "kgf_m"},
		"a tube":                    {1, "pack"},
		"half a tin":                {0.5, "pack"},
		"four one litre tins":       {4, "l"},
		"quarter of a square metre": {0.25, "m2"},
		"three quarters of an inch": {0.75, "in"},
		"40 mins":                   {40, "min"},
		"68F":                       {68, "f"},
	} {
		var got []span
		for _, s := range v.read(clean(said), bay2().Now).spans {
			if s.kind == spanQuantity {
				got = append(got, s)
			}
		}
		if assert.Len(t, got, 1, said) {
			assert.InDelta(t, want.value, got[0].value, 1e-9, said)
			assert.Equal(t, want.unit, got[0].unit, said)
		}
	}
}

func TestPlaces(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for said, want := range map[string]Fields{
		"hole in the nearside sill":                   {"panel": "sill", "side": "left"},
		"n/s rocker has a hole":                       {"panel": "sill", "side": "left"},
		"rust on the passenger side fender":           {"panel": "front wing", "side": "left"}, // right-hand drive
		"front left wing dented":                      {"panel": "front wing", "side": "left"},
		"hole in the left quarter":                    {"panel": "rear wing", "side": "left"},
		"osr door skin rusty":                         {"panel": "door skin", "side": "right", "end": "rear"},
		"osr wheelarch has a hole":                    {"panel": "rear arch", "side": "right"},
		"cowl is cracked":                             {"panel": "scuttle"},
		"right, ns sill is pitted at the front":       {"panel": "sill", "side": "left", "end": "front"},
		"crack in the os sill ahead of the rear arch": {"panel": "sill", "side": "right"},
	} {
		heard := v.Hear(said, bay2())
		if !assert.Len(t, heard.Intents, 1, said) {
			continue
		}
		for f, value := range want {
			assert.Equal(t, value, heard.Intents[0].Fields[f], "%s: %s", said, f)
		}
	}
}

func TestWhatIsNotSoIsNotHeard(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for _, said := range []string{
		"wheel nuts not torqued yet",
		"no rust in the os sill",
		"havent used any of the clear today",
		"gonna weld the ns sill up this afternoon",
		"i'll use 2 litres of clear tomorrow",
		"might be a hole in the ns sill, thinking about it",
		"epoxy's being delivered thursday, 2 tins",
		"3 hours in traffic last night",
		"hole in my sock",
		"if that os arch is rotten im going home",
		"at my last place they used ten litres of clear a week",
		"wheel nuts done bar the ns rear, 81",
		"half the engine mounts done 47",
		"torqued 5 of 6 flywheel bolts to 76",
		"caliper bolts done 45 or 47",
		"jonah torqued wheel nuts 95",
		"find 1 nearly done",
		"find 1 wasn't fixed properly",
		"ns sill hole to be welded up",
		"dont record this: hole in the roof 10mm",
		"check the roof for holes",
		"expected a hole in the ns sill but its clean",
		"drilled a 40 mm hole in the bulkhead for the loom",
		"used 2 or 3 p80",
		"have we used 2 l of clear",
		"half an hour",
		"idris 4, jonah 3 hours metal",
		"bonnet gap 2 mm too tight",
		"ns door rear edge 4 or 5",
	} {
		for _, in := range v.Hear(said, bay2()).Intents {
			assert.False(t, isWrite(in.Kind), "%q became %s %v", said, in.Kind, in.Fields)
		}
	}
}

func TestDays(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	for said, want := range map[string][2]string{ // gone by, to come
		"today":         {"2026-03-10", "2026-03-10"},
		"yesterday":     {"2026-03-09", "2026-03-09"},
		"friday":        {"2026-03-06", "2026-03-13"},
		"on the 20th":   {"2026-02-20", "2026-03-20"},
		"27 march":      {"2025-03-27", "2026-03-27"},
		"31/01/2027":    {"2027-01-31", "2027-01-31"},
		"30 sept 2027":  {"2027-09-30", "2027-09-30"},
		"thursday week": {"2026-03-05", "2026-03-19"},
	} {
		s, ok := v.read(clean(said), bay2().Now).first(spanDay)
		if assert.True(t, ok, said) {
			assert.Equal(t, want[:], s.ids, said)
		}
	}
}

func TestRequestAndFieldsAreInverse(t *testing.T) {
	t.Parallel()
	in := Intent{Kind: "RecordGap", Fields: Fields{"job": "heron", "panel": "door", "side": "left", "edge": "rear", "gap_mm": []float64{3.5, 4}}, Entry: 7}
	req, err := Request(in)
	require.NoError(t, err)
	got := FieldsOf(req)
	assert.Equal(t, Fields{"job": "heron", "panel": "door", "side": "left", "edge": "rear", "gap_mm": []any{3.5, 4.0}}, got)
	_, err = Request(Intent{Kind: "Nothing"})
	assert.Error(t, err)
	_, err = Request(Intent{Kind: "RecordGap", Fields: Fields{"side": "upwards"}})
	assert.Error(t, err)
}

// TestHearingIsPure holds that the same words in the same context are heard
// alike, whatever is said in between, and that hearing changes no context.
func TestHearingIsPure(t *testing.T) {
	t.Parallel()
	v := shopNames(t)
	words := strings.Fields("used 300 ml of epoxy on the ns os sill hole 120 by 40 wheel nuts torqued 81 no make that both door rear edge gap 4 4.5 hours yesterday idris and not what torque m10 8.8 find 3 sorted note : , . ? scrap that clear hardener a half")
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 1, 16).Draw(t, "words"), " ")
		c := bay2()
		last := Done{Intent: Intent{Kind: "RecordUse", Fields: Fields{"material": "clearcoat", "amount": 0.5, "job": "heron"}, Amount: 500, Unit: "ml"}, Entry: 9}
		c.Last, c.Records = &last, []Done{last}
		first := v.Hear(text, c)
		v.Hear("used 2 of the sealer tubes", bay2())
		assert.Equal(t, first, v.Hear(text, c), text)
		assert.Equal(t, Fields{"material": "clearcoat", "amount": 0.5, "job": "heron"}, last.Intent.Fields)
		for _, in := range first.Intents {
			if len(in.Missing) == 0 {
				_, err := Request(in)
				assert.NoError(t, err, "%q: %s %v", text, in.Kind, in.Fields)
			}
		}
	})
}

func FuzzHear(f *testing.F) {
	for _, examples := range Examples() {
		for _, e := range examples {
			f.Add(e)
		}
	}
	f.Add("\x00\xff ½ n/s +/- 1e999 999999999999999999999999")
	f.Add(strings.Repeat("torque ", 400))
	for _, s := range []string{"used .9", "£ 40", "40 £", "£", "remind me at", "ordered", "snag:", "extra", "add to the brief", "1) a £18 2) b", "2 x", "brief 2"} {
		f.Add(s)
	}
	v := shopNames(f)
	f.Fuzz(func(t *testing.T, text string) {
		c := bay2()
		c.Addressed = true
		for _, in := range v.hear(text, c).Intents {
			for name, value := range in.Fields {
				if s, ok := value.(string); ok && !utf8.ValidString(s) {
					t.Errorf("%q: %s is not valid UTF-8: %q", text, name, s)
				}
			}
		}
		v.Nearest(text, c)
		v.Why(text, c)
	})
}

// BenchmarkHear measures one message of an ordinary mix.
func BenchmarkHear(b *testing.B) {
	v := shopNames(b)
	messages := []string{
		"torque for the wheel nuts?", "ns sill has a hole 120 by 40 behind the jacking point", "used half a litre of clear on the osmere",
		"who's having bacon rolls", "end of day for me. ns sill hole is welded up, 6 hours metal, used 0.5 of the one point two sheet",
		"bonet gpa at teh frnt edge wots it ment to be", "3.5 hours on the ns sill", "no, 150",
	}
	c := bay2()
	c.Records = []Done{{Intent: Intent{Kind: "RecordUse", Fields: Fields{"material": "clearcoat", "amount": 0.5}}, Entry: 3}}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		v.Hear(messages[i%len(messages)], c)
	}
}
