package say_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"bayword/internal/say"
	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"
)

type notice struct {
	name   string
	notice *pb.Notice
	has    []string
}

func notices() []notice {
	return []notice{
		{"a reminder", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_REMINDER, At: at(16, 0), Channel: "bay-3", Text: "turn the roof panel"}, []string{"Reminder: turn the roof panel."}},
		{"a reminder of a vehicle", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_REMINDER, At: at(16, 0), Job: "osmere", Text: "turn the roof panel"}, []string{"Reminder, the osmere: turn the roof panel."}},
		{"pot life", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_POT_LIFE, At: at(13, 15), Windows: epoxy()}, []string{"The mix goes off by 13:30.", "2 coats of epoxy primer on the bonnet, the heron, 09:30."}},
		{"recoat closes", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_RECOAT_CLOSES, At: on(13, 8, 30), Windows: epoxy()}, []string{"The recoat window closes at 09:30; after that, sand first.", "the heron, Tue 10 Mar 09:30."}},
		{"sand", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_SAND, At: on(11, 1, 30), Windows: epoxy()}, []string{"May be sanded now.", "epoxy primer on the bonnet", "Mask on"}},
		{"a part due", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_PART_DUE, At: on(12, 8, 0), Parts: []*pb.Part{wingPanel()}}, []string{"Due today (1): part 1 rear wing panel, left, the heron, Ketteridge Panels.", "Task 4 let in the left rear wing waits for it."}},
		{"the morning", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_MORNING, At: at(8, 0), Channel: "dm", Person: "wren", Parts: []*pb.Part{doorSeals()}, Due: []*pb.Part{{Number: 3, Job: "pilot", Part: "propshaft", Supplier: "Fenwright Fasteners"}}, Waiting: []*pb.Extra{wingExtra(pb.ExtraState_EXTRA_STATE_PROPOSED)}},
			[]string{"Morning, Wren.", "Late parts (1): door seal set, the heron, 4 days late (due Fri 6 Mar), Amblecote Rubber.", "Due today (1): part 3 propshaft, the pilot, Fenwright Fasteners.", "Extras waiting for the customer (1): extra 2 let in the left rear wing on the heron."}},
		{"a quiet morning", &pb.Notice{Kind: pb.NoticeKind_NOTICE_KIND_MORNING, At: at(8, 0), Person: "wren"}, []string{"Morning, Wren: no part is late or due today, and no extra waits."}},
	}
}

func TestNoticesReadAsAgreed(t *testing.T) {
	t.Parallel()
	var got strings.Builder
	seen := map[pb.NoticeKind]bool{}
	for _, c := range notices() {
		r, ok := say.Notice(c.notice, names())
		require.True(t, ok, c.name)
		assert.False(t, r.Quiet, "a notice must be seen")
		for _, want := range c.has {
			assert.Contains(t, r.Text, want, c.name)
		}
		seen[c.notice.GetKind()] = true
		fmt.Fprintf(&got, "-- %s --\n%s\n", c.name, r.Text)
	}
	for number := range pb.NoticeKind_name {
		assert.True(t, seen[pb.NoticeKind(number)] || number == 0, "no case for %s", pb.NoticeKind(number))
	}
	const file = "testdata/Notice.golden"
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got.String()), 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got.String(), "run with -update and read the difference")
}

func TestANoticeOfALaterServiceHasNoWords(t *testing.T) {
	t.Parallel()
	for _, v := range []*pb.Notice{nil, {}, {Kind: 99, Text: "x"}} {
		r, ok := say.Notice(v, names())
		assert.False(t, ok)
		assert.Empty(t, r.Text)
	}
}

func TestAnyNoticeFits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := &pb.Notice{}
		filled(t, v.ProtoReflect(), 2)
		if r, ok := say.Notice(proto.Clone(v).(*pb.Notice), names()); ok {
			fits(t, r)
		}
	})
}

// Only the answer that hands a folder over names its job.
func TestTheRecordNamesTheJobToHandOver(t *testing.T) {
	t.Parallel()
	r, err := say.Response(&pb.BuildRecordRequest{Job: "heron"}, heronRecord(), names())
	require.NoError(t, err)
	assert.Equal(t, "heron", r.Handover)
	for _, c := range cases() {
		r, err := say.Response(c.req, c.resp, names())
		require.NoError(t, err)
		assert.Equal(t, kind(c.req) == "BuildRecord", r.Handover != "", c.name)
	}
}
