package service_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestLookUpTorque(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for _, c := range []struct {
		job, asked string
		torques    []float64
		critical   bool
	}{
		{"heron", "wheel nut", []float64{81}, true},
		{"heron", "Wheel Nuts", []float64{81}, true},
		{"tern", "lug nuts", []float64{95}, true},
		{"heron", "caliper bolts", []float64{77}, true},
		{"heron", "hinge", []float64{22}, false},
		{"heron", "oil drain plug", []float64{34}, false},
		{"heron", "head bolts", []float64{68}, false},
		{"osmere", "seat belt anchor", []float64{41}, true},
		{"osmere", "front spring hanger bolts", []float64{78}, true},
		{"pilot", "bolt", []float64{45, 47, 76}, false}, // bellhousing, engine mount, flywheel
		{"tern", "hub nut", nil, true},
		{"tern", "rocker cover bolt", nil, false},
	} {
		t.Run(c.job+" "+c.asked, func(t *testing.T) {
			resp, err := b.torque.LookUpTorque(t.Context(), &pb.LookUpTorqueRequest{Job: c.job, Fastener: c.asked})
			require.NoError(t, err)
			var got []float64
			for _, r := range resp.References {
				got = append(got, r.TorqueNm)
			}
			assert.ElementsMatch(t, c.torques, got)
			assert.Equal(t, c.critical, resp.SafetyCritical)
			assert.Equal(t, c.critical, resp.Basis.Caution != "")
			assert.Equal(t, c.asked, resp.Fastener)
		})
	}
	staged, err := b.torque.LookUpTorque(t.Context(), &pb.LookUpTorqueRequest{Job: "heron", Fastener: "cylinder head nut"})
	require.NoError(t, err)
	assert.Equal(t, []float64{30, 50, 68}, staged.References[0].StagesNm)
	assert.Equal(t, []string{"demo manual p. 31, imported"}, staged.Basis.Sources)
}

func TestSignOffAndBookValue(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	sign := func(fastener string, nm float64) *pb.RecordTorqueResponse {
		resp, err := b.torque.RecordTorque(t.Context(), &pb.RecordTorqueRequest{
			Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Fastener: fastener, TorqueNm: &nm, Count: num(uint32(4)),
		})
		require.NoError(t, err)
		return resp
	}
	off := sign("wheel nuts", 110)
	assert.Equal(t, "wheel nut", off.SignOff.Fastener)
	assert.InDelta(t, 81, off.Reference.TorqueNm, 0)
	require.Len(t, off.Receipt.Warnings, 2)
	assert.Contains(t, off.Receipt.Warnings[0], "The book value is 81 N·m")
	assert.Contains(t, off.Receipt.Warnings[0], "36 % over")
	assert.Contains(t, off.Receipt.Warnings[1], "maker's book")
	assert.Len(t, sign("wheel nut", 84).Receipt.Warnings, 1, "within 5 % only the caution remains")
	assert.Empty(t, sign("sump plug", 34).Receipt.Warnings)
	assert.Len(t, sign("steering arm bolt", 50).Receipt.Warnings, 2, "critical, and not in the book")

	l, err := b.torque.LookUpTorque(t.Context(), &pb.LookUpTorqueRequest{Job: "heron", Fastener: "wheel nut"})
	require.NoError(t, err)
	assert.InDelta(t, 84, l.LastSignOff.TorqueNm, 0)
	assert.EqualValues(t, 4, *l.LastSignOff.Count)

	set, err := b.torque.SetTorque(t.Context(), &pb.SetTorqueRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "heron", Fastener: "caliper bolts", TorqueNm: num(79.0), Source: "demo manual p. 89",
	})
	require.NoError(t, err)
	assert.Equal(t, "brake caliper bolt", set.Reference.Fastener)
	assert.True(t, set.Reference.SafetyCritical)
	assert.Equal(t, "7/16-20 UNF", set.Reference.Thread)
	assert.InDelta(t, 77, set.Replaced.TorqueNm, 0)
	l, err = b.torque.LookUpTorque(t.Context(), &pb.LookUpTorqueRequest{Job: "heron", Fastener: "caliper"})
	require.NoError(t, err)
	assert.Equal(t, []string{"demo manual p. 89, set by wren on 2026-03-10"}, l.Basis.Sources)

	undo, err := b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("wren"), RequestId: b.id()})
	require.NoError(t, err)
	assert.InDelta(t, 79, undo.GetUndone().GetSetTorque().Reference.TorqueNm, 0)
	l, err = b.torque.LookUpTorque(t.Context(), &pb.LookUpTorqueRequest{Job: "heron", Fastener: "brake caliper bolt"})
	require.NoError(t, err)
	assert.InDelta(t, 77, l.References[0].TorqueNm, 0, "the value before is in force again")
}

func TestComputeTorque(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	resp, err := b.torque.ComputeTorque(t.Context(), &pb.ComputeTorqueRequest{Thread: "M10x1.5", Grade: "8.8", Lubrication: pb.Lubrication_LUBRICATION_OILED})
	require.NoError(t, err)
	assert.Greater(t, resp.TorqueNm, 20.0)
	assert.Less(t, resp.TorqueNm, 60.0)
	assert.Contains(t, strings.Join(resp.Basis.Sources, " "), "VDI 2230")
	assert.NotEmpty(t, resp.Basis.Caution)

	unsaid, err := b.torque.ComputeTorque(t.Context(), &pb.ComputeTorqueRequest{Thread: "M10x1.5", Grade: "8.8"})
	require.NoError(t, err)
	assert.LessOrEqual(t, unsaid.TorqueNm, resp.TorqueNm, "not said: the lowest safe one")
	assert.GreaterOrEqual(t, unsaid.TorqueHighNm, resp.TorqueHighNm)
	assert.Contains(t, strings.Join(unsaid.Basis.Assumptions, " "), "lubrication was not said")

	for name, c := range map[string]struct {
		req           *pb.ComputeTorqueRequest
		reason, field string
	}{
		"no grade":     {&pb.ComputeTorqueRequest{Thread: "M10x1.5"}, "MISSING_FIELD", "grade"},
		"no thread":    {&pb.ComputeTorqueRequest{Grade: "8.8"}, "MISSING_FIELD", "thread"},
		"odd grade":    {&pb.ComputeTorqueRequest{Thread: "M10x1.5", Grade: "99"}, "OUT_OF_RANGE", "grade"},
		"odd thread":   {&pb.ComputeTorqueRequest{Thread: "M1000x1", Grade: "8.8"}, "OUT_OF_RANGE", "thread"},
		"odd depth":    {&pb.ComputeTorqueRequest{Thread: "M10x1.5", Grade: "8.8", Into: pb.Into_INTO_ALUMINIUM, EngagedMm: num(-3.0)}, "OUT_OF_RANGE", "engaged_mm"},
		"odd material": {&pb.ComputeTorqueRequest{Thread: "M10x1.5", Grade: "8.8", Into: 77}, "OUT_OF_RANGE", "into"},
		"a wheel nut":  {&pb.ComputeTorqueRequest{Thread: "M12x1.5", Grade: "8.8", Fastener: "wheel nuts"}, "SAFETY_CRITICAL", ""},
	} {
		_, err := b.torque.ComputeTorque(t.Context(), c.req)
		assert.Equal(t, c.reason, info(t, err).Reason, name)
		assert.Equal(t, c.field, info(t, err).Metadata["field"], name)
	}
}
