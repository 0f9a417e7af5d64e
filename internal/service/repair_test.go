package service_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// advise asks what to do about a panel.
func (b *bench) advise(job, panel string, side pb.Side) *pb.AdviseRepairResponse {
	b.t.Helper()
	resp, err := pb.NewRepairServiceClient(b.conn).AdviseRepair(b.t.Context(), &pb.AdviseRepairRequest{Origin: b.by("idris"), Job: job, Panel: panel, Side: side})
	require.NoError(b.t, err)
	return resp
}

// found records a find.
func (b *bench) found(r *pb.RecordFindRequest) *pb.Find {
	b.t.Helper()
	r.Origin, r.RequestId = b.by("idris"), b.id()
	resp, err := b.finds.RecordFind(b.t.Context(), r)
	require.NoError(b.t, err)
	return resp.Find
}

// ordered records a part.
func (b *bench) ordered(r *pb.RecordOrderRequest) {
	b.t.Helper()
	r.Origin, r.RequestId = b.by("wren"), b.id()
	_, err := pb.NewPartServiceClient(b.conn).RecordOrder(b.t.Context(), r)
	require.NoError(b.t, err)
}

// The rear wing was plated and filled over 420 by 200 mm, and a panel is on order at
// 410, due in two days. A panel of 0.9 m² is taken as 1341.6 by 670.8 mm.
func TestAdviseAnOldRepair(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	r := b.advise("heron", "rear wing", left)
	require.Len(t, r.Options, 3)
	patch, part, whole := r.Options[0], r.Options[1], r.Options[2]
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PATCH, patch.Way)
	assert.Contains(t, patch.RuledOut, "find 2 is at an old repair")
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PART_PANEL, part.Way)
	assert.Empty(t, part.RuledOut)
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PANEL, whole.Way)
	assert.InDelta(t, 410, whole.PanelPrice, 0)
	assert.Equal(t, "part 1, rear wing panel, left, Ketteridge Panels", whole.PanelPriceFrom)
	assert.EqualValues(t, 2, whole.LeadDays)
	assert.InDelta(t, 670.82, whole.WeldMm.Likely, 0.01)
	assert.InDelta(t, 52*whole.Hours.Likely+410, whole.Cost.Likely, 1e-6)
	for _, o := range r.Options {
		assert.LessOrEqual(t, o.Cost.Low, o.Cost.Likely)
		assert.LessOrEqual(t, o.Cost.Likely, o.Cost.High)
		assert.Positive(t, o.Hours.Low)
	}
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PART_PANEL, r.Advised)
	assert.Greater(t, r.Confidence, 0.5)
	assert.LessOrEqual(t, r.Confidence, 1.0)
	assert.Contains(t, r.Why, "Part panel costs less than panel")
	assert.Contains(t, r.Why, "patch is ruled out")
	assert.Contains(t, r.CheckFirst, "try the new panel on the car before the first cut, against its neighbours' gaps")
	assert.EqualValues(t, 1, r.PanelPart.Number)
	assert.Equal(t, "GBP", r.Currency)
	require.Len(t, r.Finds, 1)
	assert.EqualValues(t, 2, r.Finds[0].Number)
	assert.Contains(t, r.Basis.Inputs, "panel area 0.9 m²")
	assert.Contains(t, r.Basis.Sources, "find 2: imported, entry 94")
	assert.Contains(t, r.Basis.Sources, "the shop's labour rate, 52 GBP an hour")
	assert.Contains(t, r.Basis.Assumptions, "rates are common practice, no source")
	assert.True(t, proto.Equal(r, b.advise("heron", "rear wing", left)), "the same records, the same advice")
	assert.True(t, proto.Equal(r, b.advise("heron", "rear wing", 0)), "one side has finds, so it need not be said")
}

func TestAdviseStructure(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	r := b.advise("heron", "sill", left)
	assert.Contains(t, r.Basis.Assumptions, "find 1 is taken as at an earlier repair, for its note says «behind an old plate»")
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PART_PANEL, r.Advised)
	assert.Contains(t, r.Why, "panel of unknown price")
	assert.Zero(t, r.Options[2].PanelPrice)
	assert.Empty(t, r.Options[2].PanelPriceFrom)
	assert.True(t, r.Options[2].PriceUnknown)
	assert.Contains(t, r.Basis.Assumptions, "no price of the panel on record: the cost of replacing it is the labour alone")
	for _, want := range []string{"The sill is structural", "licensed", "roadworthiness", "sound metal", "Never patch over rust", "battery", "tank"} {
		assert.Contains(t, r.Basis.Caution, want)
	}
	assert.Nil(t, r.PanelPart)

	b.ordered(&pb.RecordOrderRequest{Job: "pilot", Part: "sill panel", Side: left, Quantity: num(uint32(2)), Price: num(240.0), Due: "2026-03-24"})
	r = b.advise("heron", "sill", left)
	assert.InDelta(t, 120, r.Options[2].PanelPrice, 0, "of one")
	assert.False(t, r.Options[2].PriceUnknown)
	assert.EqualValues(t, 14, r.Options[2].LeadDays, "as long as the other took")
	assert.Contains(t, r.Basis.Assumptions, "the price is that of part 5, sill panel, left, for pilot: ask for this one")
	assert.Nil(t, r.PanelPart, "it is another car's")

	// Found beside no old plate, it may be patched.
	b.found(&pb.RecordFindRequest{Job: "tern", Panel: "sill", Side: right, Kind: pb.FindKind_FIND_KIND_HOLE, WidthMm: num(60.0), HeightMm: num(40.0), Note: "no old repairs near it"})
	r = b.advise("tern", "sill", right)
	assert.Empty(t, r.Options[0].RuledOut)
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PATCH, r.Advised)
}

func TestAdviseWhatIsNotCut(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	r := b.advise("heron", "front valance", pb.Side_SIDE_CENTRE)
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_PATCH, r.Advised)
	assert.Zero(t, r.Options[0].WeldMm.High)
	assert.Equal(t, "dress it out, fill and block", r.Options[0].Todo)
	assert.NotContains(t, r.Basis.Caution, "weld")
	assert.Positive(t, r.Options[0].BlockingHours.Likely)
	assert.Equal(t, "nothing is to be cut out", r.Options[1].RuledOut)

	r = b.advise("tern", "roof", 0)
	assert.Empty(t, r.Options)
	assert.Empty(t, r.CheckFirst)
	assert.Equal(t, pb.RepairWay_REPAIR_WAY_UNSPECIFIED, r.Advised)
	assert.Equal(t, "Nothing is open on it.", r.Why)
	assert.Empty(t, b.advise("osmere", "floor", right).Options, "what is repaired is not weighed")

	b.found(&pb.RecordFindRequest{Job: "tern", Panel: "a-post", Side: left, Kind: pb.FindKind_FIND_KIND_CRACK, WidthMm: num(40.0)})
	r = b.advise("tern", "a-post", left)
	assert.Contains(t, r.Basis.Assumptions, "the panel's area is not on record")
	assert.Contains(t, r.Options[2].RuledOut, "not on record")
}

func TestAdviceNeedsAPlace(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.found(&pb.RecordFindRequest{Job: "heron", Panel: "sill", Side: right, Kind: pb.FindKind_FIND_KIND_RUST})
	for name, c := range map[string]struct {
		req    *pb.AdviseRepairRequest
		reason string
		field  string
	}{
		"no job":      {&pb.AdviseRepairRequest{Panel: "sill"}, "MISSING_FIELD", "job"},
		"no panel":    {&pb.AdviseRepairRequest{Job: "heron"}, "MISSING_FIELD", "panel"},
		"two sides":   {&pb.AdviseRepairRequest{Job: "heron", Panel: "sill"}, "MISSING_FIELD", "side"},
		"unknown job": {&pb.AdviseRepairRequest{Job: "zephyr", Panel: "sill"}, "UNKNOWN_NAME", "job"},
		"no such":     {&pb.AdviseRepairRequest{Job: "heron", Panel: "cheese"}, "UNKNOWN_NAME", "panel"},
	} {
		_, err := pb.NewRepairServiceClient(b.conn).AdviseRepair(t.Context(), c.req)
		i := info(t, err)
		assert.Equal(t, c.reason, i.Reason, name)
		assert.Equal(t, c.field, i.Metadata["field"], name)
	}
}

// A sill that was to take 18 hours and took 24 moves all hours by
// exp(ln(24/18)/0.16 / (1/0.09 + 1/0.16)) = 1.109.
func TestTheShopsOwnRecordMovesTheRates(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	butt := func(r *pb.AdviseRepairResponse) *pb.RepairRate {
		for _, rate := range r.Rates {
			if rate.Name == "hours a metre of butt weld, dressed" {
				return rate
			}
		}
		require.Fail(t, "no such rate")
		return nil
	}
	before := b.advise("heron", "rear wing", left)
	assert.InDelta(t, 2.5, butt(before).Value.Likely, 1e-9)
	assert.Zero(t, butt(before).ClosedRepairs)
	for _, day := range []string{"2026-03-09", "2026-03-08"} {
		_, err := b.hours.LogHours(t.Context(), &pb.LogHoursRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Hours: num(12.0), Work: "2", Day: day})
		require.NoError(t, err)
	}
	_, err := pb.NewPlanServiceClient(b.conn).FinishTask(t.Context(), &pb.FinishTaskRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Task: "2"})
	require.NoError(t, err)
	after := b.advise("heron", "rear wing", left)
	factor := math.Exp(math.Log(24.0/18) / 0.16 / (1/0.09 + 1/0.16))
	assert.InDelta(t, 2.5*factor, butt(after).Value.Likely, 1e-9)
	assert.EqualValues(t, 1, butt(after).ClosedRepairs)
	assert.Greater(t, after.Options[1].Hours.Likely, before.Options[1].Hours.Likely)
	assert.Contains(t, after.Basis.Assumptions, "which hours went into which find is not on record: finished metal tasks, logged by likely hours, stand for closed repairs")
}

// An extra for finds with no hours said takes those of the way advised, each panel
// by itself, up to the next half hour.
func TestAnExtraTakesTheAdvisedHours(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	want := b.advise("heron", "rear wing", left).Options[1].Hours.Likely + b.advise("heron", "front valance", 0).Options[0].Hours.Likely
	resp, err := pb.NewMoneyServiceClient(b.conn).ProposeExtra(t.Context(), &pb.ProposeExtraRequest{Origin: b.by("wren"), RequestId: b.id(), Job: "heron", Finds: []uint32{2, 3}})
	require.NoError(t, err)
	assert.InDelta(t, math.Ceil(want*2)/2, resp.Extra.Hours, 1e-9)
	assert.Regexp(t, `^advised: let in a part panel for find 2, [\d.]+ hours \([\d.]+ to [\d.]+\); dress it out, fill and block for find 3, `, resp.Extra.HoursFrom)
}
