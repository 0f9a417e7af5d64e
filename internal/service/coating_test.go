package service_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/anypb"
	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/ledger"
	"bayword/internal/service"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

func (b *bench) coat(person string, r *pb.RecordCoatRequest) (*pb.RecordCoatResponse, error) {
	r.Origin, r.RequestId = b.by(person), b.id()
	return b.paint.RecordCoat(b.t.Context(), r)
}

func (b *bench) windows(job string) []*pb.Windows {
	b.t.Helper()
	resp, err := b.paint.ListWindows(b.t.Context(), &pb.ListWindowsRequest{Origin: b.by("mabel"), Job: job})
	require.NoError(b.t, err)
	return resp.Windows
}

// local is a moment of the demo shop, in winter time.
func local(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.Parse("2006-01-02T15:04", text)
	require.NoError(t, err)
	return at
}

// Arithmetic on the ratios of the demo shop's products; a UK pint is 0.568 L
// (Weights and Measures Act 1985, 0.56826125 dm³).
func TestAMixIsItsTotalDividedByTheRatio(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for _, c := range []struct {
		material      string
		total         float64
		names         []string
		parts, shorts []float64
		potLife       float64
		twoPack       bool
	}{
		{"high-build", 1.1, []string{"high-build primer", "primer hardener", "thinner"}, []float64{0.8, 0.2, 0.1}, []float64{0, 0, 0}, 60, true},
		{"epoxy-primer", 0.9, []string{"epoxy primer", "epoxy hardener"}, []float64{0.6, 0.3}, []float64{0, 0}, 240, true},
		{"epoxy-primer", 0.568, []string{"epoxy primer", "epoxy hardener"}, []float64{0.378667, 0.189333}, []float64{0, 0}, 240, true},
		{"basecoat-blue", 0.5, []string{"harbour blue basecoat", "thinner"}, []float64{0.25, 0.25}, []float64{0, 0}, 0, false},
		{"high-build", 6.6, []string{"high-build primer", "primer hardener", "thinner"}, []float64{4.8, 1.2, 0.6}, []float64{3.7, 0.3, 0}, 60, true},
	} {
		resp, err := b.paint.PlanMix(t.Context(), &pb.PlanMixRequest{Origin: b.by("jonah"), Material: c.material, AmountL: &c.total})
		require.NoError(t, err, c.material)
		assert.InDelta(t, c.total, resp.TotalL, 0)
		assert.Zero(t, resp.LowL)
		assert.InDelta(t, c.potLife, resp.PotLifeMin, 0)
		require.Len(t, resp.Parts, len(c.parts))
		for i, p := range resp.Parts {
			assert.Equal(t, c.names[i], p.Name)
			assert.InDelta(t, c.parts[i], p.AmountL, 1e-9, "%s of %s", p.Name, c.material)
			assert.InDelta(t, c.shorts[i], p.ShortL, 1e-9, "%s of %s", p.Name, c.material)
			assert.InDelta(t, b.onHand(p.Material), p.OnHandL, 0)
		}
		if c.twoPack {
			assert.Contains(t, resp.Basis.Caution, "isocyanate")
			assert.Contains(t, resp.Basis.Caution, "safety sheet comes first")
			assert.NotContains(t, resp.Basis.Caution, "no source", "a caution carries no note of where it comes from")
		} else {
			assert.Empty(t, resp.Basis.Caution)
		}
	}
}

// Limits ready for use of Directive 2004/42/EC Annex II B: primers 540 g/L, topcoats
// 420 g/L.
func TestTheSolventOfAMixIsSetBesideTheLaw(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for material, says := range map[string][]string{
		"epoxy-primer":  {"535 g/L ready for use, within the limit of 540 g/L", "Annex II B(c)", "primer by its name"},
		"high-build":    {"530 g/L ready for use, within the limit of 540 g/L", "Annex II B(c)"},
		"basecoat-blue": {"419 g/L ready for use, within the limit of 420 g/L", "Annex II B(d)", "taken as a topcoat"},
		"clearcoat":     {"418 g/L ready for use, within the limit of 420 g/L", "Annex II B(d)"},
	} {
		resp, err := b.paint.PlanMix(t.Context(), &pb.PlanMixRequest{Material: material, AmountL: num(1.0)})
		require.NoError(t, err)
		text := fmt.Sprint(resp.Basis.Steps, resp.Basis.Assumptions, resp.Basis.Sources)
		for _, s := range append(says, "historic interest", "check locally") {
			assert.Contains(t, text, s, material)
		}
	}
}

// Two coats of clear, 50 % solids, 30 µm, on a bonnet of 1.25 m²: 16.7 m²/L a coat,
// 0.15 L if nothing is lost; 35 to 70 % lost with some spray gun (common practice,
// no source) makes it 0.231 to 0.5 L.
func TestAMixForPanelsIsPlannedWithTheMostThatIsLost(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	resp, err := b.paint.PlanMix(t.Context(), &pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"bonnet"}, Coats: num(uint32(2)), Job: "osmere"})
	require.NoError(t, err)
	assert.InDelta(t, 0.15/0.65, resp.LowL, 1e-6)
	assert.InDelta(t, 0.5, resp.TotalL, 1e-6)
	assert.InDelta(t, 0.333333, resp.Parts[0].AmountL, 1e-6)
	assert.InDelta(t, 0.166667, resp.Parts[1].AmountL, 1e-6)
	text := fmt.Sprint(resp.Basis.Inputs, resp.Basis.Steps, resp.Basis.Assumptions, resp.Basis.Sources)
	for _, says := range []string{"panels bonnet", "coats 2", "16.7 m²/L", "0.15 L if nothing is lost", "lost 35 to 70 %", "some spray gun", "common practice, no source"} {
		assert.Contains(t, text, says)
	}
	sided, err := b.paint.PlanMix(t.Context(), &pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"door", "roof"}, Coats: num(uint32(1))})
	require.NoError(t, err)
	assert.Contains(t, sided.Basis.Assumptions, "one side of the vehicle only: door")
}

func TestWhatCannotBeMixed(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	two := num(uint32(2))
	for name, c := range map[string]struct {
		req                     *pb.PlanMixRequest
		reason, field, accepted string
	}{
		"nothing said":         {&pb.PlanMixRequest{}, "MISSING_FIELD", "material", ""},
		"no amount":            {&pb.PlanMixRequest{Material: "clearcoat"}, "MISSING_FIELD", "amount_l", ""},
		"panels alone":         {&pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"roof"}}, "MISSING_FIELD", "amount_l", ""},
		"coats alone":          {&pb.PlanMixRequest{Material: "clearcoat", Coats: two}, "MISSING_FIELD", "amount_l", ""},
		"no ratio":             {&pb.PlanMixRequest{Material: "seam-sealer", AmountL: num(1.0)}, "OUT_OF_RANGE", "material", "epoxy-primer, high-build, basecoat-blue, clearcoat"},
		"no ratio, no amount":  {&pb.PlanMixRequest{Material: "seam-sealer"}, "OUT_OF_RANGE", "material", "clearcoat"},
		"unknown":              {&pb.PlanMixRequest{Material: "tar", AmountL: num(1.0)}, "UNKNOWN_NAME", "material", "clearcoat"},
		"none":                 {&pb.PlanMixRequest{Material: "clearcoat", AmountL: num(0.0)}, "OUT_OF_RANGE", "amount_l", "0.001 to 100 L"},
		"less than none":       {&pb.PlanMixRequest{Material: "clearcoat", AmountL: num(-1.0)}, "OUT_OF_RANGE", "amount_l", "0.001 to 100 L"},
		"no number":            {&pb.PlanMixRequest{Material: "clearcoat", AmountL: num(math.NaN())}, "OUT_OF_RANGE", "amount_l", "0.001 to 100 L"},
		"millilitres":          {&pb.PlanMixRequest{Material: "clearcoat", AmountL: num(900.0)}, "OUT_OF_RANGE", "amount_l", "0.001 to 100 L"},
		"no such panel":        {&pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"keel"}, Coats: two}, "UNKNOWN_NAME", "panels", "bonnet"},
		"a panel with no area": {&pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"c-post"}, Coats: two}, "OUT_OF_RANGE", "panels", "bonnet"},
		"no such job":          {&pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"roof"}, Coats: two, Job: "linnet"}, "UNKNOWN_NAME", "job", "heron"},
		"no coats":             {&pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"roof"}, Coats: num(uint32(0))}, "OUT_OF_RANGE", "coats", "1 to"},
		"far too many coats":   {&pb.PlanMixRequest{Material: "clearcoat", Panels: []string{"roof"}, Coats: num(^uint32(0))}, "OUT_OF_RANGE", "coats", "1 to"},
	} {
		_, err := b.paint.PlanMix(t.Context(), c.req)
		i := info(t, err)
		assert.Equal(t, c.reason, i.Reason, name)
		assert.Equal(t, c.field, i.Metadata["field"], name)
		assert.Contains(t, i.Metadata["accepted"], c.accepted, name)
	}
}

// Epoxy on 11.5 m²: 48 % solids at 40 µm is 12 m²/L, a coat 0.958 L if nothing is
// lost, 1.474 to 3.194 L as sprayed. The shelf's 3.2 L of primer make 4.8 L mixed 2:1,
// its 1.4 L of hardener 4.2 L: the hardener ends first.
func TestEveryPartOfAMixIsCounted(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for coats, want := range map[uint32]pb.Enough{1: pb.Enough_ENOUGH_YES, 2: pb.Enough_ENOUGH_TIGHT, 3: pb.Enough_ENOUGH_NO} {
		resp, err := b.paint.CheckEnough(t.Context(), &pb.CheckEnoughRequest{
			Origin: b.by("mabel"), Job: "heron", Material: "epoxy-primer", Panels: []string{"whole body"}, Coats: &coats,
		})
		require.NoError(t, err)
		assert.Equal(t, want, resp.Enough, "%d coats", coats)
		n := float64(coats)
		assert.InDelta(t, 11.5, resp.AreaM2, 0)
		assert.InDelta(t, n*11.5/12/0.65, resp.NeedLowL, 1e-5)
		assert.InDelta(t, n*11.5/12/0.30, resp.NeedHighL, 1e-5)
		assert.EqualValues(t, 1, resp.CoatsPossible)
		require.Len(t, resp.Parts, 2)
		for i, share := range []float64{2. / 3, 1. / 3} {
			p := resp.Parts[i]
			assert.InDelta(t, share*resp.NeedHighL, p.AmountL, 1e-5)
			assert.InDelta(t, max(p.AmountL-p.OnHandL, 0), p.ShortL, 1e-9)
		}
		assert.Contains(t, fmt.Sprint(resp.Basis.Steps), "epoxy hardener ends first")
		assert.Contains(t, resp.Basis.Assumptions, "no coats that other jobs plan are on record, so nothing is set aside for them")
		assert.Contains(t, resp.Basis.Caution, "isocyanate")
	}

	two := num(uint32(2))
	for name, c := range map[string]struct {
		req           *pb.CheckEnoughRequest
		reason, field string
	}{
		"no material":   {&pb.CheckEnoughRequest{Panels: []string{"roof"}, Coats: two}, "MISSING_FIELD", "material"},
		"no panels":     {&pb.CheckEnoughRequest{Material: "clearcoat", Coats: two}, "MISSING_FIELD", "panels"},
		"no coats":      {&pb.CheckEnoughRequest{Material: "clearcoat", Panels: []string{"roof"}}, "MISSING_FIELD", "coats"},
		"no film":       {&pb.CheckEnoughRequest{Material: "cavity-wax", Panels: []string{"roof"}, Coats: two}, "OUT_OF_RANGE", "material"},
		"no such panel": {&pb.CheckEnoughRequest{Material: "clearcoat", Panels: []string{"keel"}, Coats: two}, "UNKNOWN_NAME", "panels"},
		"no such job":   {&pb.CheckEnoughRequest{Material: "clearcoat", Panels: []string{"roof"}, Coats: two, Job: "linnet"}, "UNKNOWN_NAME", "job"},
		"too many":      {&pb.CheckEnoughRequest{Material: "clearcoat", Panels: []string{"roof"}, Coats: num(uint32(21))}, "OUT_OF_RANGE", "coats"},
	} {
		_, err := b.paint.CheckEnough(t.Context(), c.req)
		assert.Equal(t, c.reason, info(t, err).Reason, name)
		assert.Equal(t, c.field, info(t, err).Metadata["field"], name)
	}
}

func TestACoatLeadsToItsProductsOwnTimes(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	resp, err := b.coat("jonah", &pb.RecordCoatRequest{
		Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet"}, Coats: num(uint32(2)), At: "2026-03-10T09:30", TemperatureC: num(12.0),
	})
	require.NoError(t, err, "an apprentice may")
	w := resp.Windows
	assert.True(t, proto.Equal(&pb.Coat{
		Job: "heron", Material: "epoxy-primer", Name: "epoxy primer", Panels: []string{"bonnet"}, Coats: 2, At: "2026-03-10T09:30", TemperatureC: num(12.0), Person: "jonah",
	}, w.Coat), "%v", w.Coat)
	assert.Equal(t, local(t, "2026-03-10T09:50"), w.FlashedAt.AsTime())
	assert.Equal(t, local(t, "2026-03-10T10:30"), w.RecoatFrom.AsTime())
	assert.Equal(t, local(t, "2026-03-13T09:30"), w.RecoatUntil.AsTime())
	assert.Equal(t, local(t, "2026-03-11T01:30"), w.SandFrom.AsTime())
	assert.Nil(t, w.PotLifeEnds, "it counts from mixing, which nobody said")
	assert.Equal(t, "too soon to recoat", w.State)
	assert.False(t, w.MaySand)
	assert.Contains(t, resp.Caution, "isocyanate")

	list, err := b.paint.ListWindows(t.Context(), &pb.ListWindowsRequest{Job: "heron"})
	require.NoError(t, err)
	require.Len(t, list.Windows, 1)
	assert.True(t, proto.Equal(w, list.Windows[0]), "the temperature moves no figure")
	text := fmt.Sprint(list.Basis.Steps, list.Basis.Assumptions)
	assert.Contains(t, text, "epoxy primer on bonnet, finished 2026-03-10 09:30")
	assert.Contains(t, text, "sand from 2026-03-11 01:30")
	assert.Contains(t, text, "epoxy primer on bonnet: at 12 °C it is likely to take about twice as long")
	assert.Contains(t, text, "no time here is moved by it")

	for _, c := range []struct {
		now, state string
		maySand    bool
	}{
		{"2026-03-10T09:40", "flashing", false}, {"2026-03-10T10:30", "window open", false}, {"2026-03-11T01:29", "window open", false},
		{"2026-03-11T01:30", "window open", true}, {"2026-03-13T09:31", "window past", true},
	} {
		b.now = local(t, c.now)
		w := b.windows("heron")[0]
		assert.Equal(t, c.state, w.State, c.now)
		assert.Equal(t, c.maySand, w.MaySand, c.now)
	}
}

func TestTheImportedCoatHasItsTimes(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	w := b.windows("osmere")[0]
	assert.Equal(t, "high-build primer", w.Coat.Name)
	assert.Equal(t, "2026-03-09T15:30", w.Coat.At)
	assert.Empty(t, w.Coat.Person)
	assert.Equal(t, local(t, "2026-03-09T19:30"), w.SandFrom.AsTime())
	assert.Equal(t, local(t, "2026-03-10T15:30"), w.RecoatUntil.AsTime())
	assert.Equal(t, "window open", w.State)
	assert.True(t, w.MaySand)
	assert.Empty(t, b.windows("heron"))
	assert.Len(t, b.windows(""), 1, "of all jobs")
	_, err := b.paint.ListWindows(t.Context(), &pb.ListWindowsRequest{Job: "linnet"})
	assert.Equal(t, "UNKNOWN_NAME", info(t, err).Reason)
}

func TestACoatWithNoTimeIsFromNow(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.now = time.Date(2026, 7, 10, 9, 15, 30, 0, time.UTC)
	resp, err := b.coat("mabel", &pb.RecordCoatRequest{Job: "osmere", Material: "basecoat-blue", Panels: []string{"tailgate"}, Coats: num(uint32(3))})
	require.NoError(t, err)
	assert.Equal(t, "2026-07-10T10:15", resp.Windows.Coat.At, "summer time in the shop")
	assert.Nil(t, resp.Windows.Coat.TemperatureC)
	assert.Nil(t, resp.Windows.SandFrom, "the product names none")
	assert.Equal(t, "flashing", resp.Windows.State)
	assert.Empty(t, resp.Caution, "it is mixed with thinner alone")
}

func TestACoatIsMendedAndTakenBack(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	req := &pb.RecordCoatRequest{Job: "osmere", Material: "high-build", Panels: []string{"tailgate"}, Coats: num(uint32(2)), At: "2026-03-10T10:00"}
	first, err := b.coat("mabel", req)
	require.NoError(t, err)
	again, err := b.paint.RecordCoat(t.Context(), req)
	require.NoError(t, err)
	assert.True(t, again.Receipt.RepeatedRequest, "the same request records once")

	amended, err := b.amend("mabel", &pb.AmendRequest{Coats: num(uint32(3)), Panels: []string{"tailgate", "roof"}, At: "2026-03-10T09:00", TemperatureC: num(17.0)})
	require.NoError(t, err)
	assert.Equal(t, []string{"panels tailgate -> tailgate, roof", "coats 2 -> 3", "at 2026-03-10T10:00 -> 2026-03-10T09:00", "temperature_c - -> 17"}, amended.Changes)
	now := amended.Now.GetCoat()
	assert.EqualValues(t, 3, now.Windows.Coat.Coats)
	assert.Equal(t, local(t, "2026-03-10T13:00"), now.Windows.SandFrom.AsTime())
	assert.Equal(t, first.Receipt.Entry, now.Receipt.Entry)
	_, err = b.amend("mabel", &pb.AmendRequest{Amount: num(1.0)})
	assert.Equal(t, "CANNOT_AMEND", info(t, err).Reason)
	_, err = b.amend("idris", &pb.AmendRequest{Entry: first.Receipt.Entry, Coats: num(uint32(1))})
	assert.Equal(t, "NOT_ALLOWED", info(t, err).Reason)
	assert.Len(t, b.windows("osmere"), 2)

	history, err := b.record.History(t.Context(), &pb.HistoryRequest{Job: "osmere", Panel: "roof"})
	require.NoError(t, err)
	var texts []string
	for _, e := range history.Events {
		texts = append(texts, e.Text)
	}
	assert.Equal(t, []string{"3 coats of high-build primer on whole body", "3 coats of high-build primer on tailgate, roof"}, texts)

	question, err := anypb.New(&pb.AmendRequest{Entry: first.Receipt.Entry})
	require.NoError(t, err)
	why, err := b.help.ExplainAnswer(t.Context(), &pb.ExplainAnswerRequest{Question: question})
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(why.Basis.Steps), "tailgate, roof, finished 2026-03-10 09:00")

	back, err := b.undo("mabel", 0)
	require.NoError(t, err)
	assert.EqualValues(t, 3, back.Undone.GetCoat().Windows.Coat.Coats)
	left := b.windows("osmere")
	require.Len(t, left, 1, "one taken back does not count")
	assert.Equal(t, []string{"whole body"}, left[0].Coat.Panels)
}

// Cavity wax comes with no times; it is told of nothing, and hides no coat below it.
func TestWaxHasNoTimes(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	_, err := b.coat("mabel", &pb.RecordCoatRequest{Job: "osmere", Material: "epoxy-primer", Panels: []string{"sill"}, Coats: num(uint32(1))})
	require.NoError(t, err)
	next := func() *timestamppb.Timestamp {
		due, err := pb.NewNoticeServiceClient(b.conn).ListNotices(t.Context(), &pb.ListNoticesRequest{})
		require.NoError(t, err)
		return due.NextAt
	}
	b.now = b.now.Add(time.Hour)
	before := next()
	got, err := b.coat("mabel", &pb.RecordCoatRequest{Job: "osmere", Material: "cavity-wax", Panels: []string{"sill"}, Coats: num(uint32(1))})
	require.NoError(t, err)
	w := got.Windows
	assert.Equal(t, "cavity wax", w.Coat.Name)
	assert.Empty(t, got.Caution)
	for _, at := range []*timestamppb.Timestamp{w.FlashedAt, w.RecoatFrom, w.RecoatUntil, w.SandFrom, w.PotLifeEnds} {
		assert.Nil(t, at)
	}
	assert.Equal(t, before, next())
}

func TestWhatIsNoCoatIsNotRecorded(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	before, err := b.store.Head(t.Context())
	require.NoError(t, err)
	for name, c := range map[string]struct {
		change        func(*pb.RecordCoatRequest)
		reason, field string
	}{
		"no coats":       {func(r *pb.RecordCoatRequest) { r.Coats = nil }, "MISSING_FIELD", "coats"},
		"filler":         {func(r *pb.RecordCoatRequest) { r.Material = "body-filler" }, "OUT_OF_RANGE", "material"},
		"tomorrow":       {func(r *pb.RecordCoatRequest) { r.At = "2026-03-11T09:00" }, "OUT_OF_RANGE", "at"},
		"far too many":   {func(r *pb.RecordCoatRequest) { r.Coats = num(^uint32(0)) }, "OUT_OF_RANGE", "coats"},
		"an unknown one": {func(r *pb.RecordCoatRequest) { r.Panels = []string{"keel"} }, "UNKNOWN_NAME", "panels"},
	} {
		r := &pb.RecordCoatRequest{Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet"}, Coats: num(uint32(2))}
		c.change(r)
		_, err := b.coat("mabel", r)
		assert.Equal(t, c.reason, info(t, err).Reason, name)
		assert.Equal(t, c.field, info(t, err).Metadata["field"], name)
	}
	dry := &pb.RecordCoatRequest{Origin: b.by("mabel"), ValidateOnly: true, Job: "heron", Material: "epoxy-primer", Panels: []string{"roof"}, Coats: num(uint32(1))}
	preview, err := b.paint.RecordCoat(t.Context(), dry)
	require.NoError(t, err)
	assert.NotNil(t, preview.Windows.SandFrom)
	after, err := b.store.Head(t.Context())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestCoatsComeBackAfterARestart(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	_, err := b.coat("mabel", &pb.RecordCoatRequest{Job: "tern", Material: "clearcoat", Panels: []string{"roof"}, Coats: num(uint32(1)), TemperatureC: num(18.0)})
	require.NoError(t, err)
	_, err = b.amend("mabel", &pb.AmendRequest{Coats: num(uint32(2))})
	require.NoError(t, err)
	was := b.windows("tern")
	for _, how := range []string{"by folding", "by the snapshot"} {
		if how == "by the snapshot" {
			require.NoError(t, b.svc.Close())
		}
		svc, err := service.New(t.Context(), service.Config{Store: b.store, Clock: func() time.Time { return b.now }})
		require.NoError(t, err)
		resp, err := pb.NewCoatingServiceClient(serve(t, svc)).ListWindows(t.Context(), &pb.ListWindowsRequest{Job: "tern"})
		require.NoError(t, err)
		require.Len(t, resp.Windows, 1)
		assert.True(t, proto.Equal(was[0], resp.Windows[0]), "%s: %v", how, resp.Windows[0])
		require.NoError(t, svc.Close())
	}
}

// A sheet that a shop wrote itself may not go together; then the answer says so.
func TestPartsThatCannotBeCountedByVolume(t *testing.T) {
	t.Parallel()
	store := ledger.NewMemory()
	svc, err := service.New(t.Context(), service.Config{Store: store, Clock: func() time.Time { return opened }})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, svc.Close()) })
	paint := func(mix string, with ...string) *shop.PaintData { return &shop.PaintData{Mix: mix, With: with} }
	require.NoError(t, svc.Import(t.Context(), []shop.Event{
		shop.ShopOpened{Name: "Millrace Coachworks"},
		shop.MaterialAdded{ID: "flake", Name: "flake", Unit: "kg"},
		shop.MaterialAdded{ID: "lacquer", Name: "lacquer", Unit: "L", Paint: paint("10:1", "flake")},
		shop.MaterialAdded{ID: "enamel", Name: "enamel", Unit: "L", Paint: paint("4:1:1", "lacquer")},
		shop.MaterialAdded{ID: "tar", Name: "tar", Unit: "L", Paint: paint("a bit of each", "lacquer")},
	}))
	client := pb.NewCoatingServiceClient(serve(t, svc))
	for material, field := range map[string]string{"lacquer": "unit", "enamel": "mix", "tar": "mix"} {
		_, err := client.PlanMix(t.Context(), &pb.PlanMixRequest{Material: material, AmountL: num(1.0)})
		assert.Equal(t, "OUT_OF_RANGE", info(t, err).Reason, material)
		assert.Equal(t, field, info(t, err).Metadata["field"], material)
	}
}
