package say_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"bayword/internal/say"
	pb "bayword/proto/bayword/v1"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// refusal is an error as the service sends it. Its message must never show.
func refusal(t require.TestingT, reason string, meta map[string]string) error {
	s, err := status.New(codes.FailedPrecondition, "INTERNAL TEXT").WithDetails(&errdetails.ErrorInfo{Reason: reason, Domain: "bayword", Metadata: meta})
	require.NoError(t, err)
	return s.Err()
}

func refusals() []struct {
	reason string
	meta   map[string]string
} {
	return []struct {
		reason string
		meta   map[string]string
	}{
		{"NOT_ALLOWED", map[string]string{"person": "jonah", "role": "apprentice", "needs": "tradesperson", "what": "sign off torque"}},
		{"NOT_ALLOWED", map[string]string{"person": "idris", "role": "tradesperson", "needs": "lead", "what": "set a book torque"}},
		{"UNKNOWN_PERSON", map[string]string{"person": "U7"}},
		{"MISSING_FIELD", map[string]string{"field": "side"}},
		{"OUT_OF_RANGE", map[string]string{"field": "torque_nm", "value": "9000", "accepted": "0.5 to 1000 N·m"}},
		{"OUT_OF_RANGE", map[string]string{"field": "amount", "value": "-2", "accepted": "more than 0"}},
		{"UNKNOWN_NAME", map[string]string{"field": "job", "value": "wren's van", "accepted": "heron,osmere,pilot,tern"}},
		{"NOT_ENOUGH_STOCK", map[string]string{"material": "clearcoat", "value": "9", "accepted": "6", "unit": "L"}},
		{"NOT_ENOUGH_STOCK", map[string]string{"material": "steel-12", "value": "2.5", "accepted": "1"}},
		{"ALREADY_EXISTS", map[string]string{"field": "id", "value": "heron"}},
		{"NOT_FOUND", map[string]string{"field": "find", "value": "99"}},
		{"ALREADY_DONE", map[string]string{"what": "find 4 is repaired"}},
		{"AMBIGUOUS", map[string]string{"field": "find", "options": "12,2,1,3", "option.1": "1 right sill hole", "option.2": "2 left sill hole", "option.12": "12 left sill rust", "option.3": "3 roof dent"}},
		{"NOT_FOUND", map[string]string{"field": "panel", "value": "right sill"}},
		{"NOT_FOUND", map[string]string{"field": "task", "value": "99"}},
		{"OUT_OF_RANGE", map[string]string{"field": "at", "value": "2026-03-09T16:00", "accepted": "after 2026-03-10T10:19, up to 2028-03-10T10:19"}},
		{"NOT_FOUND", map[string]string{"field": "part", "value": "propshaft"}},
		{"NOT_FOUND", map[string]string{"field": "part", "value": "rear wing panel, left", "due": "2026-03-12"}},
		{"NOT_FOUND", map[string]string{"field": "part", "value": "propshaft", "due": ""}},
		{"ALREADY_DONE", map[string]string{"what": "part 3, propshaft, is due 2026-03-19"}},
		{"UNKNOWN_NAME", map[string]string{"field": "supplier", "value": "fenwick", "accepted": "Ketteridge Panels,Northmoor Paints,Fenwright Fasteners,Amblecote Rubber"}},
		{"UNKNOWN_NAME", map[string]string{"field": "who", "value": "jack", "accepted": "wren,idris,mabel"}},
		{"OUT_OF_RANGE", map[string]string{"field": "who", "value": "jonah", "accepted": "wren,idris"}},
		{"NOT_ALLOWED", map[string]string{"person": "idris", "role": "tradesperson", "needs": "lead", "what": "decide extras"}},
		{"ALREADY_DONE", map[string]string{"what": "extra 1 is agreed"}},
		{"AMBIGUOUS", map[string]string{"field": "task", "options": "12,3", "option.3": "3 replace the right sill", "option.12": "12 strip the shell to bare metal"}},
		{"NOTHING_TO_CHANGE", map[string]string{"what": "nothing of yours stands on record"}},
		{"CANNOT_AMEND", map[string]string{"field": "torque_nm", "what": "record a use"}},
		{"SAFETY_CRITICAL", map[string]string{"fastener": "wheel nut"}},
		{"REQUEST_REUSED", map[string]string{"request_id": "x"}},
		{"DISK_FULL", map[string]string{"free_bytes": "52428800"}},
		{"IN_USE", map[string]string{"what": "job siskin", "records": "3"}},
		{"STORE_FAILED", nil},
	}
}

func TestRefusalsReadAsAgreed(t *testing.T) {
	t.Parallel()
	var got strings.Builder
	seen := map[string]bool{}
	for _, c := range refusals() {
		r, ok := say.Refusal(refusal(t, c.reason, c.meta), names())
		assert.Equal(t, c.reason != "STORE_FAILED", ok, c.reason)
		assert.NotContains(t, r.Text, "INTERNAL TEXT")
		assert.False(t, r.Quiet, "a refusal must be seen")
		seen[c.reason] = true
		fmt.Fprintf(&got, "-- %s --\n%s\n", c.reason, r.Text)
		// The service may leave a key out; the words still hold.
		bare, _ := say.Refusal(refusal(t, c.reason, nil), say.Names{})
		assert.NotEmpty(t, bare.Text, c.reason)
	}
	for name, number := range pb.RefusalReason_value {
		reason := strings.TrimPrefix(name, "REFUSAL_REASON_")
		assert.True(t, seen[reason] || number == 0, "no case for %s", reason)
	}
	const file = "testdata/Refusal.golden"
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got.String()), 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got.String(), "run with -update and read the difference")
}

// Choices are offered left before right, then by number, not by digits.
func TestAmbiguousOffersChoicesInOrder(t *testing.T) {
	t.Parallel()
	r, ok := say.Refusal(refusal(t, "AMBIGUOUS", map[string]string{"field": "find", "options": "12,2, 1,3", "option.1": "1 right sill hole",
		"option.2": "2 left sill hole", "option.12": "12 left sill rust", "option.3": "3 roof dent"}), names())
	assert.True(t, ok)
	assert.Equal(t, []say.Choice{{Label: "2 left sill hole", Say: "2"}, {Label: "12 left sill rust", Say: "12"}, {Label: "1 right sill hole", Say: "1"}, {Label: "3 roof dent", Say: "3"}}, r.Choices)

	r, _ = say.Refusal(refusal(t, "AMBIGUOUS", map[string]string{"field": "side", "options": "right,left"}), names())
	assert.Equal(t, []say.Choice{{Label: "left", Say: "left"}, {Label: "right", Say: "right"}}, r.Choices)
}

// What is not a refusal is said to be a failure, and nothing is claimed about
// the record that is not known.
func TestFailureIsHonestAboutTheRecord(t *testing.T) {
	t.Parallel()
	const unknown, known = "may or may not be recorded", "nothing was recorded"
	foreign, err := status.New(codes.InvalidArgument, "x").WithDetails(&errdetails.ErrorInfo{Reason: "NOT_ALLOWED", Domain: "elsewhere"})
	require.NoError(t, err)
	for _, c := range []struct {
		err  error
		want string
	}{
		{status.Error(codes.Unavailable, "x"), unknown},
		{status.Error(codes.DeadlineExceeded, "x"), unknown},
		{status.Error(codes.Internal, "x"), unknown},
		{fmt.Errorf("append: %w", status.Error(codes.Unavailable, "x")), unknown},
		{fmt.Errorf("append: %w", context.DeadlineExceeded), unknown},
		{errors.New("x"), unknown},
		{status.Error(codes.InvalidArgument, "x"), known},
		{status.Error(codes.Unimplemented, "x"), known},
		{foreign.Err(), known},
		{refusal(t, "A_REASON_OF_A_LATER_SERVICE", nil), known},
	} {
		r, ok := say.Refusal(c.err, names())
		assert.False(t, ok, c.err)
		assert.Contains(t, r.Text, c.want, c.err)
	}
	r, ok := say.Refusal(nil, names())
	assert.False(t, ok)
	assert.Empty(t, r.Text)
}
