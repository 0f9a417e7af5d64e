package service_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestAnExtraIsPricedAndDecided(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	money := pb.NewMoneyServiceClient(b.conn)
	// Worked by hand: 6 × 52 + 180 + 24.5 = 516.5.
	got, err := money.ProposeExtra(t.Context(), &pb.ProposeExtraRequest{
		Origin: b.by("priya"), RequestId: b.id(), Job: "heron", Text: "new carpets", Hours: num(6.0), PartsCost: num(180.0), MaterialsCost: num(24.5),
	})
	require.NoError(t, err)
	assert.InDelta(t, 516.5, got.Extra.Price, 0)
	assert.InDelta(t, 52, got.Extra.LabourRate, 0)
	assert.Equal(t, "said", got.Extra.HoursFrom)
	assert.Equal(t, "GBP", got.Currency)
	assert.Equal(t, pb.ExtraState_EXTRA_STATE_PROPOSED, got.Extra.State)
	assert.Equal(t, []string{"6 hours × 52 + parts 180 + materials 24.5 = 516.5 GBP"}, got.Basis.Steps)

	list := func(state pb.ExtraState) []*pb.Extra {
		resp, err := money.ListExtras(t.Context(), &pb.ListExtrasRequest{Origin: b.by("jonah"), Job: "heron", State: state})
		require.NoError(t, err)
		assert.Equal(t, "GBP", resp.Currency)
		return resp.Extras
	}
	assert.Len(t, list(0), 3)
	assert.Len(t, list(pb.ExtraState_EXTRA_STATE_PROPOSED), 2)
	assert.Empty(t, list(pb.ExtraState_EXTRA_STATE_DECLINED))

	decide := func(r *pb.DecideExtraRequest) (*pb.DecideExtraResponse, error) {
		r.Origin, r.RequestId = b.by("wren"), b.id()
		return money.DecideExtra(t.Context(), r)
	}
	_, err = decide(&pb.DecideExtraRequest{Job: "heron", Agreed: num(true)})
	i := info(t, err)
	assert.Equal(t, "AMBIGUOUS", i.Reason)
	assert.Equal(t, "2,3", i.Metadata["options"])
	assert.Equal(t, "extra 3: new carpets", i.Metadata["option.3"])
	yes, err := decide(&pb.DecideExtraRequest{Job: "heron", Text: "the carpets", Agreed: num(true)})
	require.NoError(t, err)
	assert.Equal(t, pb.ExtraState_EXTRA_STATE_AGREED, yes.Extra.State)
	assert.InDelta(t, 520+516.5, yes.AgreedExtras, 0)
	require.Len(t, yes.Extra.History, 2)
	assert.Equal(t, "priya", yes.Extra.History[0].Person)
	assert.Equal(t, "wren", yes.Extra.History[1].Person)
	assert.Equal(t, yes.Receipt.Entry, yes.Extra.History[1].Entry)

	changed, err := b.amend("wren", &pb.AmendRequest{Agreed: num(false)})
	require.NoError(t, err)
	assert.Equal(t, pb.ExtraState_EXTRA_STATE_DECLINED, changed.Now.GetDecidedExtra().Extra.State)
	back, err := b.undo("wren", 0)
	require.NoError(t, err)
	assert.Equal(t, pb.ExtraState_EXTRA_STATE_PROPOSED, back.Undone.GetDecidedExtra().Extra.State)
	changed, err = b.amend("priya", &pb.AmendRequest{Hours: num(7.0)})
	require.NoError(t, err)
	assert.InDelta(t, 568.5, changed.Now.GetProposedExtra().Extra.Price, 0)
	back, err = b.undo("priya", 0)
	require.NoError(t, err)
	assert.InDelta(t, 568.5, back.Undone.GetProposedExtra().Extra.Price, 0)
	assert.Len(t, list(0), 2)
}

// Hours that nobody said are those that the advice on the same finds gives.
func TestHoursOfFindsAreAdvised(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	money := pb.NewMoneyServiceClient(b.conn)
	propose := func(person string, r *pb.ProposeExtraRequest) (*pb.ProposeExtraResponse, error) {
		r.Origin, r.RequestId, r.Job = b.by(person), b.id(), "heron"
		return money.ProposeExtra(t.Context(), r)
	}
	got, err := propose("idris", &pb.ProposeExtraRequest{Finds: []uint32{1}, PartsCost: num(60.0)})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"Find 1 may be in extra 1, replace left sill rather than patch, which is agreed.", "Find 1 may be in task 2 replace the left sill, which is not done.",
	}, got.Receipt.Warnings)
	x := got.Extra
	advice, err := pb.NewRepairServiceClient(b.conn).AdviseRepair(t.Context(), &pb.AdviseRepairRequest{
		Origin: b.by("idris"), Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT,
	})
	require.NoError(t, err)
	var likely []float64
	for _, o := range advice.Options {
		likely = append(likely, math.Ceil(o.Hours.Likely*2)/2)
	}
	assert.Contains(t, likely, x.Hours, "of one of the ways, to half an hour")
	assert.InDelta(t, x.Hours*52+60, x.Price, 0.005)
	assert.Equal(t, "hole in the left sill, 180 × 60 mm, behind an old plate", x.Text)
	assert.Contains(t, x.HoursFrom, "find 1")
	assert.Contains(t, got.Basis.Sources, "hours "+x.HoursFrom)
	assert.Contains(t, got.Basis.Inputs, "find 1")

	said, err := propose("idris", &pb.ProposeExtraRequest{Finds: []uint32{2}, Hours: num(9.0)})
	require.NoError(t, err)
	assert.Equal(t, "said", said.Extra.HoursFrom, "what was said counts before advice")
	assert.InDelta(t, 9, said.Extra.Hours, 0)

	_, err = propose("jonah", &pb.ProposeExtraRequest{Finds: []uint32{1}})
	assert.Equal(t, "NOT_ALLOWED", info(t, err).Reason, "before anything is advised")
	_, err = propose("idris", &pb.ProposeExtraRequest{Finds: []uint32{99}})
	assert.Equal(t, "NOT_FOUND", info(t, err).Reason)
	unsized, err := b.finds.RecordFind(t.Context(), &pb.RecordFindRequest{
		Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Panel: "roof", Kind: pb.FindKind_FIND_KIND_PAINT,
	})
	require.NoError(t, err)
	got, err = propose("idris", &pb.ProposeExtraRequest{Finds: []uint32{unsized.Find.Number}})
	require.NoError(t, err)
	require.Len(t, got.Receipt.Warnings, 1)
	assert.Contains(t, got.Receipt.Warnings[0], "has no size on record")
	assert.Equal(t, "paint fault in the roof", got.Extra.Text)
}

func TestMoneyWithNoEstimateSaysSo(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	_, err := b.jobs.CreateJob(t.Context(), &pb.CreateJobRequest{Origin: b.by("wren"), RequestId: b.id(), Id: "dunnock", Model: "Dunnock"})
	require.NoError(t, err)
	_, err = b.hours.LogHours(t.Context(), &pb.LogHoursRequest{Origin: b.by("jonah"), RequestId: b.id(), Job: "dunnock", Hours: num(6.0)})
	require.NoError(t, err)
	resp, err := pb.NewMoneyServiceClient(b.conn).ReportMoney(t.Context(), &pb.ReportMoneyRequest{Origin: b.by("wren"), Job: "dunnock"})
	require.NoError(t, err)
	assertProto(t, &pb.StageMoney{Stage: "strip", Spent: 312}, resp.Stages[0])
	assert.Contains(t, resp.Basis.Steps, "strip: no estimate, 6 logged, at 52 an hour")
	assert.Contains(t, resp.Basis.Assumptions,
		"a stage with no estimate is agreed as far as its agreed extras go, and to come as far as they and its open tasks go: which of its hours were theirs is not on record")
}

func TestWhereTheMoneyStands(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	money := pb.NewMoneyServiceClient(b.conn)
	resp, err := money.ReportMoney(t.Context(), &pb.ReportMoneyRequest{Origin: b.by("wren"), Job: "heron"})
	require.NoError(t, err)
	assert.Equal(t, "GBP", resp.Currency)
	assert.InDelta(t, 52, resp.LabourRate, 0)
	// Worked by hand from the demo shop, as the shop's own test is.
	assert.InDelta(t, 700*52, resp.Agreed, 0)
	assert.InDelta(t, 167.5*52, resp.Spent, 0)
	assert.InDelta(t, 506, resp.OnOrder, 0)
	assert.InDelta(t, 37478, resp.Heading, 0)
	assert.Contains(t, resp.Basis.Steps, "heading for 37,478 = 8,710 spent + 506 on order + 28,262 to come; agreed 36,400")
	assert.InDelta(t, 543.5*52, resp.ToCome, 0)
	require.Len(t, resp.Stages, 6)
	assert.Equal(t, "metal", resp.Stages[1].Stage)
	assert.InDelta(t, 180, resp.Stages[1].EstimateHours, 0)
	assert.InDelta(t, 190*52, resp.Stages[1].Agreed, 0)
	require.Len(t, resp.Waiting, 1)
	assert.Equal(t, uint32(2), resp.Waiting[0].Number)
	assert.Equal(t, "metal", resp.Waiting[0].Stage)
	assert.Contains(t, resp.Basis.Steps, "metal: 180 hours estimated and 10 of agreed extras, 96.5 logged, at 52 an hour")
	assert.Contains(t, resp.Basis.Assumptions, "material from the shelf has no price on record and is not counted")
	assert.Contains(t, resp.Basis.Assumptions, "extras that wait for the customer are not in the total")

	_, err = pb.NewPartServiceClient(b.conn).RecordOrder(t.Context(), &pb.RecordOrderRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Part: "badge"})
	require.NoError(t, err)
	resp, err = money.ReportMoney(t.Context(), &pb.ReportMoneyRequest{Origin: b.by("wren"), Job: "heron"})
	require.NoError(t, err)
	assert.Contains(t, resp.Basis.Assumptions, "1 of the parts on record have no price and count as nothing")
	_, err = money.ReportMoney(t.Context(), &pb.ReportMoneyRequest{Origin: b.by("wren")})
	assert.Equal(t, "job", info(t, err).Metadata["field"])
}
