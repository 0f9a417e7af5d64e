package say_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bayword/internal/say"
	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
)

var update = flag.Bool("update", false, "write the golden files instead of comparing with them")

// asked are the services that the bot asks by itself: their RPCs are no kinds of message.
var asked = []string{"VocabularyService", "NoticeService", "PhotoService"}

// methods are the kinds of message: every RPC but those of the services asked.
func methods() []protoreflect.MethodDescriptor {
	var out []protoreflect.MethodDescriptor
	protoregistry.GlobalFiles.RangeFilesByPackage("bayword.v1", func(f protoreflect.FileDescriptor) bool {
		for i := range f.Services().Len() {
			s := f.Services().Get(i)
			for j := 0; j < s.Methods().Len() && !slices.Contains(asked, string(s.Name())); j++ {
				out = append(out, s.Methods().Get(j))
			}
		}
		return true
	})
	return out
}

func kind(m proto.Message) string {
	return strings.TrimSuffix(string(m.ProtoReflect().Descriptor().Name()), "Request")
}

// Every kind has its replies in testdata/KIND.golden, to be read as a person
// in the bay would. `go test -update` writes them.
func TestRepliesReadAsAgreed(t *testing.T) {
	t.Parallel()
	golden := map[string]*strings.Builder{}
	for _, c := range cases() {
		r, err := say.Response(c.req, c.resp, names())
		require.NoError(t, err, c.name)
		for _, want := range c.has {
			assert.Contains(t, r.Text, want, "%s, %s", kind(c.req), c.name)
		}
		for _, no := range c.lacks {
			assert.NotContains(t, r.Text, no, "%s, %s", kind(c.req), c.name)
		}
		b := golden[kind(c.req)]
		if b == nil {
			b = &strings.Builder{}
			golden[kind(c.req)] = b
		}
		mark := ""
		if r.Quiet {
			mark = " (quiet)"
		}
		if r.Picture != nil {
			mark += " (picture)"
		}
		fmt.Fprintf(b, "-- %s%s --\n%s\n", c.name, mark, r.Text)
	}
	for _, m := range methods() {
		name := string(m.Name())
		got := golden[name]
		if !assert.NotNil(t, got, "no case for %s", name) {
			continue
		}
		file := filepath.Join("testdata", name+".golden")
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(got.String()), 0o644))
			continue
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), got.String(), "%s; run with -update and read the difference", file)
	}
}

func TestEveryKindHasItsFile(t *testing.T) {
	t.Parallel()
	for _, m := range methods() {
		var name strings.Builder
		for i, r := range string(m.Name()) {
			if r >= 'A' && r <= 'Z' && i > 0 {
				name.WriteByte('_')
			}
			name.WriteRune(r)
		}
		file := strings.ToLower(name.String()) + ".go"
		if strings.HasSuffix(file, "_windows.go") { // the toolchain takes that ending for an operating system
			file = strings.TrimSuffix(file, ".go") + "_of_coats.go"
		}
		assert.FileExists(t, file)
	}
}

func TestAnswerMustBelongToTheQuestion(t *testing.T) {
	t.Parallel()
	_, err := say.Response(&pb.GetStockRequest{}, &pb.RecordUseResponse{}, say.Names{})
	require.ErrorContains(t, err, "does not answer")
	_, err = say.Response(&pb.GetVocabularyRequest{}, &pb.GetVocabularyResponse{}, say.Names{})
	require.ErrorContains(t, err, "no words for")
	_, err = say.Response(nil, nil, say.Names{})
	require.Error(t, err)
}

// The ledger gives a repeated request its first response, and the reply to it is
// the same, so that a message delivered twice does not look like two records.
func TestRepeatedRequestSaysTheSame(t *testing.T) {
	t.Parallel()
	first := use()
	again := proto.Clone(first).(*pb.RecordUseResponse)
	again.Receipt.RepeatedRequest = true
	a, err := say.Response(&pb.RecordUseRequest{}, first, names())
	require.NoError(t, err)
	b, err := say.Response(&pb.RecordUseRequest{}, again, names())
	require.NoError(t, err)
	assert.Equal(t, a, b)
}

func TestWarningsStandOnTheirOwnLinesAndAreNotQuiet(t *testing.T) {
	t.Parallel()
	r := use()
	r.Receipt.Warnings = []string{"batch 17 expired yesterday", "only Mabel sprays clear"}
	got, err := say.Response(&pb.RecordUseRequest{}, r, names())
	require.NoError(t, err)
	lines := strings.Split(got.Text, "\n")
	assert.Equal(t, []string{"Batch 17 expired yesterday.", "Only Mabel sprays clear."}, lines[1:])
	assert.False(t, got.Quiet)
}

// However much there is to say, the caution stays.
func TestCautionIsNeverCut(t *testing.T) {
	t.Parallel()
	many := make([]string, 60)
	for i := range many {
		many[i] = strings.Repeat("so it is assumed ", 20)
	}
	got, err := say.Response(&pb.LookUpTorqueRequest{}, &pb.LookUpTorqueResponse{References: []*pb.TorqueReference{wheelNut()}, SafetyCritical: true,
		Basis: &pb.Basis{Assumptions: many, Caution: "torque again after 50 miles"}}, names())
	require.NoError(t, err)
	assert.True(t, strings.HasSuffix(got.Text, "\nSafety-critical: torque again after 50 miles."), got.Text)
	assert.Contains(t, got.Text, "81 N·m")
}

// Times are shown on the shop's clock: noon UTC in July is one o'clock there.
func TestTimesAreTheShops(t *testing.T) {
	t.Parallel()
	summer := at(12, 0)
	summer.Seconds += 120 * 24 * 3600 // 8 July
	got, err := say.Response(&pb.HistoryRequest{}, &pb.HistoryResponse{Job: "heron", Events: []*pb.HistoryEvent{{At: summer, Text: "x"}}}, names())
	require.NoError(t, err)
	assert.Contains(t, got.Text, "Wed 8 Jul 2026 13:00")
}

// Without a vocabulary ids stand for names.
func TestZeroNamesWork(t *testing.T) {
	t.Parallel()
	got, err := say.Response(&pb.LogHoursRequest{}, heronHours(100), say.Names{})
	require.NoError(t, err)
	assert.Contains(t, got.Text, "3.5 h metal on the heron, idris, Tue 10 Mar: metal now 100 of 180 h")
}
