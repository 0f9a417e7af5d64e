package service_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/anypb"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func TestLookUpGap(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	look := func(job, panel string, side pb.Side, edge pb.Edge) *pb.LookUpGapResponse {
		resp, err := b.gaps.LookUpGap(t.Context(), &pb.LookUpGapRequest{Job: job, Panel: panel, Side: side, Edge: edge})
		require.NoError(t, err)
		return resp
	}
	targets := func(r *pb.LookUpGapResponse) []float64 {
		var mm []float64
		for _, g := range r.References {
			mm = append(mm, g.TargetMm)
		}
		return mm
	}
	assert.Equal(t, []float64{4}, targets(look("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_REAR)))
	assert.Equal(t, []float64{4.5}, targets(look("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_TOP)), "the shop's own, where the job has none")
	assert.Equal(t, []float64{4, 4, 5}, targets(look("heron", "door", 0, 0)), "no edge asked: every one the job has")
	assert.Equal(t, []float64{4.5}, targets(look("osmere", "door", 0, 0)))
	assert.Empty(t, targets(look("osmere", "front wing", pb.Side_SIDE_LEFT, 0)))
	assert.Equal(t, []string{"shop standard agreed with customer, imported"}, look("heron", "door", 0, 0).Basis.Sources)

	set := func(r *pb.SetGapRequest) *pb.SetGapResponse {
		r.Origin, r.RequestId = b.by("wren"), b.id()
		resp, err := b.gaps.SetGap(t.Context(), r)
		require.NoError(t, err)
		return resp
	}
	tight := set(&pb.SetGapRequest{Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Edge: pb.Edge_EDGE_REAR, TargetMm: num(3.5)})
	assert.InDelta(t, 0.5, tight.Reference.ToleranceMm, 0, "the tolerance in force is kept")
	assert.Equal(t, []float64{3.5}, targets(look("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_REAR)), "this side before both")
	assert.Equal(t, []float64{4}, targets(look("heron", "door", pb.Side_SIDE_RIGHT, pb.Edge_EDGE_REAR)))
	again := set(&pb.SetGapRequest{Panel: "bonnet", TargetMm: num(6.0), ToleranceMm: num(0.5)})
	assert.InDelta(t, 5, again.Replaced.TargetMm, 0)
	assert.Equal(t, []float64{6}, targets(look("pilot", "bonnet", 0, 0)))

	reading, err := b.gaps.RecordGap(t.Context(), &pb.RecordGapRequest{
		Origin: b.by("jonah"), RequestId: b.id(), Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Edge: pb.Edge_EDGE_REAR, GapMm: []float64{3.5, 4, 4.5, 5},
	})
	require.NoError(t, err)
	assert.InDelta(t, 3.5, reading.Reference.TargetMm, 0)
	got := look("heron", "door", pb.Side_SIDE_LEFT, 0).Readings
	require.Len(t, got, 1)
	assert.Equal(t, []float64{3.5, 4, 4.5, 5}, got[0].GapMm)
	assert.Equal(t, "jonah", got[0].Person)
}

func TestFinds(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	find := func(panel string, side pb.Side) *pb.RecordFindResponse {
		resp, err := b.finds.RecordFind(t.Context(), &pb.RecordFindRequest{
			Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Panel: panel, Side: side, Kind: pb.FindKind_FIND_KIND_RUST, WidthMm: num(40.0),
		})
		require.NoError(t, err)
		return resp
	}
	closing := func(r *pb.CloseFindRequest) (*pb.CloseFindResponse, error) {
		r.Origin, r.RequestId = b.by("idris"), b.id()
		return b.finds.CloseFind(t.Context(), r)
	}
	first := find("sill", pb.Side_SIDE_LEFT)
	assert.EqualValues(t, 5, first.Find.Number, "the demo shop has four")
	assert.Contains(t, first.Caution, "never patch over rust")
	assert.Empty(t, find("bonnet", 0).Caution)

	_, err := closing(&pb.CloseFindRequest{Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT})
	i := info(t, err)
	assert.Equal(t, "AMBIGUOUS", i.Reason)
	assert.Equal(t, "1,5", i.Metadata["options"])
	assert.Equal(t, "find 1: hole in the left sill, 180 × 60 mm, behind an old plate", i.Metadata["option.1"])
	assert.NotEmpty(t, i.Metadata["option.5"])

	one, err := closing(&pb.CloseFindRequest{Find: num(uint32(1))})
	require.NoError(t, err)
	assert.Equal(t, pb.FindState_FIND_STATE_REPAIRED, one.Find.State)
	assert.EqualValues(t, 4, one.StillOpen)
	five, err := closing(&pb.CloseFindRequest{Job: "heron", Panel: "sill"})
	require.NoError(t, err, "one open at the sill, so the side need not be said")
	assert.EqualValues(t, 5, five.Find.Number)

	for name, c := range map[string]struct {
		req    *pb.CloseFindRequest
		reason string
	}{
		"closed already":        {&pb.CloseFindRequest{Find: num(uint32(5))}, "ALREADY_DONE"},
		"closed already, place": {&pb.CloseFindRequest{Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT}, "ALREADY_DONE"},
		"imported as repaired":  {&pb.CloseFindRequest{Find: num(uint32(4))}, "ALREADY_DONE"},
		"no such number":        {&pb.CloseFindRequest{Find: num(uint32(99))}, "NOT_FOUND"},
		"of another job":        {&pb.CloseFindRequest{Job: "tern", Find: num(uint32(2))}, "NOT_FOUND"},
		"nothing there":         {&pb.CloseFindRequest{Job: "heron", Panel: "roof"}, "NOT_FOUND"},
		"nothing said":          {&pb.CloseFindRequest{}, "MISSING_FIELD"},
	} {
		_, err := closing(c.req)
		assert.Equal(t, c.reason, info(t, err).Reason, name)
	}

	// The closing was of the wrong one: amended by number, then taken back.
	amended, err := b.record.Amend(t.Context(), &pb.AmendRequest{Origin: b.by("idris"), RequestId: b.id(), Entry: five.Receipt.Entry, Find: num(uint32(2))})
	require.NoError(t, err)
	assert.EqualValues(t, 2, amended.Now.GetClosedFind().Find.Number)
	assert.Equal(t, []string{"find 5 -> 2"}, amended.Changes)
	_, err = b.record.Undo(t.Context(), &pb.UndoRequest{Origin: b.by("idris"), RequestId: b.id(), Entry: amended.Receipt.Entry})
	require.NoError(t, err)
	list, err := b.finds.ListFinds(t.Context(), &pb.ListFindsRequest{Job: "heron", State: pb.FindState_FIND_STATE_OPEN})
	require.NoError(t, err)
	var numbers []uint32
	for _, f := range list.Finds {
		numbers = append(numbers, f.Number)
	}
	assert.Equal(t, []uint32{2, 3, 5, 6}, numbers)
}

func TestPages(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for range 7 {
		_, err := b.finds.RecordFind(t.Context(), &pb.RecordFindRequest{
			Origin: b.by("jonah"), RequestId: b.id(), Job: "tern", Panel: "roof", Kind: pb.FindKind_FIND_KIND_DENT,
		})
		require.NoError(t, err)
	}
	var numbers []uint32
	pages, token := 0, ""
	for {
		resp, err := b.finds.ListFinds(t.Context(), &pb.ListFindsRequest{Job: "tern", PageSize: 3, PageToken: token})
		require.NoError(t, err)
		assert.EqualValues(t, 7, resp.Total)
		for _, f := range resp.Finds {
			numbers = append(numbers, f.Number)
		}
		pages++
		if token = resp.NextPageToken; token == "" {
			break
		}
	}
	assert.Equal(t, 3, pages)
	assert.Equal(t, []uint32{5, 6, 7, 8, 9, 10, 11}, numbers)

	var texts []string
	token = ""
	for {
		resp, err := b.record.History(t.Context(), &pb.HistoryRequest{Job: "tern", Panel: "roof", PageSize: 4, PageToken: token})
		require.NoError(t, err)
		var page []string
		for _, e := range resp.Events {
			page = append(page, e.Text)
		}
		texts = append(page, texts...)
		if token = resp.NextPageToken; token == "" {
			break
		}
	}
	require.Len(t, texts, 7)
	assert.True(t, strings.HasPrefix(texts[0], "find 5") && strings.HasPrefix(texts[6], "find 11"), "the first page is the newest: %v", texts)
}

func TestHours(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	log := func(r *pb.LogHoursRequest) (*pb.LogHoursResponse, error) {
		r.Origin, r.RequestId = b.by("idris"), b.id()
		return b.hours.LogHours(t.Context(), r)
	}
	resp, err := log(&pb.LogHoursRequest{Job: "heron", Hours: num(4.0), Work: "metal"})
	require.NoError(t, err)
	assert.Equal(t, []string{"idris"}, resp.People, "the speaker")
	assert.Equal(t, "2026-03-10", resp.Day, "today")
	assert.InDelta(t, 100.5, resp.Stage.Logged, 1e-9)
	both, err := log(&pb.LogHoursRequest{Job: "heron", Hours: num(3.0), People: []string{"idris", "jonah"}, Work: "2", Day: "2026-03-09"})
	require.NoError(t, err)
	assert.Equal(t, "2 replace the left sill", both.Task)
	assert.InDelta(t, 106.5, both.Stage.Logged, 1e-9, "a task's hours count to its stage")

	for name, c := range map[string]struct {
		req             *pb.LogHoursRequest
		reason, field   string
		acceptedHasThis string
	}{
		"too long a day":     {&pb.LogHoursRequest{Job: "heron", Hours: num(16.5)}, "OUT_OF_RANGE", "hours", "up to 16"},
		"none":               {&pb.LogHoursRequest{Job: "heron", Hours: num(0.0)}, "OUT_OF_RANGE", "hours", "more than 0"},
		"a day over 24":      {&pb.LogHoursRequest{Job: "heron", Hours: num(15.0), People: []string{"idris"}, Day: "2026-03-10"}, "", "", ""},
		"tomorrow":           {&pb.LogHoursRequest{Job: "heron", Hours: num(1.0), Day: "2026-03-11"}, "OUT_OF_RANGE", "day", "2026-03-10"},
		"two years ago":      {&pb.LogHoursRequest{Job: "heron", Hours: num(1.0), Day: "2024-03-11"}, "OUT_OF_RANGE", "day", "2025-03-09"},
		"no such person":     {&pb.LogHoursRequest{Job: "heron", Hours: num(1.0), People: []string{"bo"}}, "UNKNOWN_NAME", "people", "mabel"},
		"one person twice":   {&pb.LogHoursRequest{Job: "heron", Hours: num(1.0), People: []string{"jonah", "jonah"}}, "OUT_OF_RANGE", "people", "once"},
		"another job's task": {&pb.LogHoursRequest{Job: "heron", Hours: num(1.0), Work: "7"}, "UNKNOWN_NAME", "work", "strip"},
		"no hours":           {&pb.LogHoursRequest{Job: "heron"}, "MISSING_FIELD", "hours", ""},
		"no job":             {&pb.LogHoursRequest{Hours: num(1.0)}, "MISSING_FIELD", "job", ""},
	} {
		_, err := log(c.req)
		if c.reason == "" {
			assert.NoError(t, err, name)
			continue
		}
		i := info(t, err)
		assert.Equal(t, c.reason, i.Reason, name)
		assert.Equal(t, c.field, i.Metadata["field"], name)
		assert.Contains(t, i.Metadata["accepted"], c.acceptedHasThis, name)
	}
	_, err = log(&pb.LogHoursRequest{Job: "tern", Hours: num(6.0)})
	assert.Equal(t, "up to 5 (idris has 19 on 2026-03-10)", info(t, err).Metadata["accepted"], "24 hours are in a day")

	for _, c := range []struct {
		req              *pb.ReportHoursRequest
		logged, estimate float64
		work             string
		toCome           float64
	}{
		{&pb.ReportHoursRequest{Job: "osmere", Work: "paint"}, 37, 140, "paint", 103},
		{&pb.ReportHoursRequest{Job: "pilot"}, 259, 420, "", 179},
		{&pb.ReportHoursRequest{Job: "heron", Work: "2"}, 6, 18, "2 replace the left sill", 12},
		{&pb.ReportHoursRequest{Person: "jonah"}, 3, 0, "", 0},
		{&pb.ReportHoursRequest{Job: "heron", Person: "idris"}, 22, 0, "", 0},
		{&pb.ReportHoursRequest{Job: "tern", Person: "idris"}, 0, 0, "", 0},
		{&pb.ReportHoursRequest{Job: "heron", Person: "idris", Work: "metal"}, 22, 0, "metal", 0},
	} {
		got, err := b.hours.ReportHours(t.Context(), c.req)
		require.NoError(t, err)
		assert.InDelta(t, c.logged, got.Logged, 1e-9, "%v", c.req)
		assert.InDelta(t, c.estimate, got.Estimate, 1e-9, "%v", c.req)
		assert.Equal(t, c.work, got.Work)
		assert.InDelta(t, c.toCome, got.ToCome, 1e-9, "%v", c.req)
	}
}

func TestStatusAndJobs(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	st, err := b.jobs.GetStatus(t.Context(), &pb.GetStatusRequest{Job: "heron"})
	require.NoError(t, err)
	assert.Equal(t, "metal", st.Job.Stage)
	assert.Len(t, st.OpenFinds, 3)
	assert.Equal(t, []string{"replace the left sill, Idris"}, st.Doing)
	assert.Equal(t, []string{"door seal set, due 2026-03-06"}, st.LateParts)
	assert.Equal(t, []string{"extra 2: let in the left rear wing, 22 hours"}, st.WaitingExtras)
	assert.Empty(t, st.OpenSnags)
	assert.Len(t, st.Basis.Steps, 3, "what is on record, and the two doors")

	made, err := b.jobs.CreateJob(t.Context(), &pb.CreateJobRequest{
		Origin: b.by("wren"), RequestId: b.id(), Year: num(uint32(1970)), Make: "Varrick", Model: "Linnet", Drive: "RHD", Customer: "Mr Bassett",
	})
	require.NoError(t, err)
	assert.Equal(t, "linnet", made.Job.Id)
	assert.Equal(t, "rhd", made.Job.Drive)
	list, err := b.jobs.ListJobs(t.Context(), &pb.ListJobsRequest{})
	require.NoError(t, err)
	var ids []string
	for _, j := range list.Jobs {
		ids = append(ids, j.Job.Id)
	}
	assert.Equal(t, []string{"heron", "osmere", "pilot", "tern", "linnet"}, ids)
	assert.InDelta(t, 167.5, list.Jobs[0].Logged, 1e-9)
	assert.EqualValues(t, 3, list.Jobs[0].OpenFinds)

	for name, c := range map[string]struct {
		req    *pb.CreateJobRequest
		reason string
	}{
		"taken":         {&pb.CreateJobRequest{Model: "Linnet"}, "ALREADY_EXISTS"},
		"too old":       {&pb.CreateJobRequest{Model: "Steamer", Year: num(uint32(1879))}, "OUT_OF_RANGE"},
		"not built yet": {&pb.CreateJobRequest{Model: "Steamer", Year: num(uint32(2028))}, "OUT_OF_RANGE"},
		"odd id":        {&pb.CreateJobRequest{Id: "The Linnet!"}, "OUT_OF_RANGE"},
		"odd drive":     {&pb.CreateJobRequest{Model: "Steamer", Drive: "middle"}, "UNKNOWN_NAME"},
		"nothing":       {&pb.CreateJobRequest{}, "MISSING_FIELD"},
	} {
		c.req.Origin, c.req.RequestId = b.by("wren"), b.id()
		_, err := b.jobs.CreateJob(t.Context(), c.req)
		assert.Equal(t, c.reason, info(t, err).Reason, name)
	}
}

func TestNamesChangeTheVocabularysVersion(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	get := func(known uint64) *pb.GetVocabularyResponse {
		v, err := b.names.GetVocabulary(t.Context(), &pb.GetVocabularyRequest{KnownVersion: known})
		require.NoError(t, err)
		return v
	}
	v := get(0)
	assert.Equal(t, "Millrace Coachworks", v.Shop)
	assert.Equal(t, "Europe/London", v.TimeZone)
	assert.Len(t, v.Jobs, 4)
	assert.Len(t, v.Materials, 20)
	assert.Len(t, v.People, 6)
	assert.Len(t, v.Channels, 6)
	assert.Len(t, v.Suppliers, 4)
	assert.Equal(t, []string{"primer-hardener", "thinner"}, v.Materials[2].MixedWith)
	var wheel *pb.FastenerName
	for _, f := range v.Fasteners {
		if f.Name == "wheel nut" {
			wheel = f
		}
	}
	assert.Equal(t, []string{"heron", "osmere", "tern"}, wheel.GetJobs())
	var all []string
	rpcs(t, func(m protoreflect.MethodDescriptor, _, _ proto.Message) {
		switch m.Parent().Name() {
		case "VocabularyService", "NoticeService", "PhotoService": // people never say those
		default:
			all = append(all, string(m.Name()))
		}
	})
	assert.ElementsMatch(t, all, v.Kinds)

	same := get(v.Version)
	assert.True(t, same.Unchanged)
	assert.Empty(t, same.Jobs)
	b.use("mabel", "thinner", 1)
	_, err := b.torque.SetTorque(t.Context(), &pb.SetTorqueRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "heron", Fastener: "wheel nut", TorqueNm: num(82.0),
	})
	require.NoError(t, err)
	assert.True(t, get(v.Version).Unchanged, "a new value under an old name")
	_, err = b.torque.SetTorque(t.Context(), &pb.SetTorqueRequest{
		Origin: b.by("wren"), RequestId: b.id(), Job: "tern", Fastener: "hub nut", TorqueNm: num(180.0),
	})
	require.NoError(t, err)
	assert.False(t, get(v.Version).Unchanged, "a new name")
}

func TestHelp(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	all, err := b.help.Help(t.Context(), &pb.HelpRequest{})
	require.NoError(t, err)
	kinds := map[string]string{}
	for _, topic := range all.Topics {
		for _, k := range topic.Kinds {
			kinds[k] = topic.Name
		}
	}
	v, err := b.names.GetVocabulary(t.Context(), &pb.GetVocabularyRequest{})
	require.NoError(t, err)
	for _, k := range v.Kinds {
		assert.NotEmpty(t, kinds[k], "%s has a topic", k)
	}
	stock, err := b.help.Help(t.Context(), &pb.HelpRequest{Topic: "Stock"})
	require.NoError(t, err)
	require.Len(t, stock.Topics, 1)
	assert.Contains(t, stock.Topics[0].Kinds, "RecordUse")
	none, err := b.help.Help(t.Context(), &pb.HelpRequest{Topic: "astrology"})
	require.NoError(t, err)
	assert.Equal(t, "astrology", none.UnknownTopic)
	assert.Empty(t, none.Topics)
}

func TestExplainAnswer(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.use("mabel", "clearcoat", 0.5)
	counted, err := b.stock.RecordCount(t.Context(), &pb.RecordCountRequest{Origin: b.by("mabel"), RequestId: b.id(), Material: "thinner", Amount: num(7.0)})
	require.NoError(t, err)
	assert.InDelta(t, 7.5, counted.Expected, 0)
	for _, c := range []struct {
		question proto.Message
		says     []string
	}{
		{&pb.LookUpTorqueRequest{Job: "osmere", Fastener: "seat belt anchor"}, []string{"demo manual p. 120, imported"}},
		{&pb.LookUpGapRequest{Job: "heron", Panel: "door", Edge: pb.Edge_EDGE_REAR}, []string{"shop standard agreed with customer"}},
		{&pb.GetStockRequest{Material: "clearcoat"}, []string{"opening count 6 L", "0.5 L used since, in 1 entries", "entry 105"}},
		{&pb.GetStockRequest{Material: "thinner"}, []string{"counted 7 L", "count by mabel on 2026-03-10, entry 106"}},
		{&pb.RecordUseRequest{Material: "clearcoat", Amount: num(0.5)}, []string{"opening count 6 L"}},
		{&pb.ReportHoursRequest{Job: "osmere", Work: "paint"}, []string{"paint: 37 logged, 140 hours estimated", "came with the import"}},
		{&pb.ComputeTorqueRequest{Thread: "M8x1.25", Grade: "8.8"}, []string{"VDI 2230"}},
		{&pb.ListFindsRequest{Job: "heron"}, []string{"3 finds", "find 1: imported"}},
		{&pb.GetStatusRequest{Job: "heron"}, []string{"1 of 6 tasks done"}},
		{&pb.ListJobsRequest{}, []string{"4 jobs"}},
		{&pb.ListLowStockRequest{}, []string{"materials are at or below"}},
		{&pb.RecordTorqueRequest{Job: "heron", Fastener: "wheel nut"}, []string{"demo manual p. 12"}},
		{&pb.HistoryRequest{Job: "heron"}, []string{"ledger"}},
		{&pb.AmendRequest{Entry: 105, Amount: num(0.5)}, []string{"opening count 6 L"}},
	} {
		question, err := anypb.New(c.question)
		require.NoError(t, err)
		resp, err := b.help.ExplainAnswer(t.Context(), &pb.ExplainAnswerRequest{Origin: b.by("idris"), Question: question})
		require.NoError(t, err, "%T", c.question)
		assert.Equal(t, strings.TrimSuffix(string(c.question.ProtoReflect().Descriptor().Name()), "Request"), resp.Kind)
		text := fmt.Sprint(resp.Basis.Inputs, resp.Basis.Steps, resp.Basis.Assumptions, resp.Basis.Sources)
		for _, says := range c.says {
			assert.Contains(t, text, says, "%T", c.question)
		}
	}
	_, err = b.help.ExplainAnswer(t.Context(), &pb.ExplainAnswerRequest{})
	assert.Equal(t, "question", info(t, err).Metadata["field"])
	undo, err := anypb.New(&pb.UndoRequest{})
	require.NoError(t, err)
	_, err = b.help.ExplainAnswer(t.Context(), &pb.ExplainAnswerRequest{Question: undo})
	assert.Equal(t, "OUT_OF_RANGE", info(t, err).Reason)
	_, err = b.help.ExplainAnswer(t.Context(), &pb.ExplainAnswerRequest{Question: &anypb.Any{TypeUrl: "type.googleapis.com/no.Such"}})
	assert.Equal(t, "OUT_OF_RANGE", info(t, err).Reason)
}

func TestHistory(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.now = opened.Add(time.Hour)
	_, err := b.notes.AddNote(t.Context(), &pb.AddNoteRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Text: "cut back to sound metal", Panel: "sill", Side: pb.Side_SIDE_LEFT})
	require.NoError(t, err)
	closed, err := b.finds.CloseFind(t.Context(), &pb.CloseFindRequest{Origin: b.by("idris"), RequestId: b.id(), Find: num(uint32(1))})
	require.NoError(t, err)
	assert.Contains(t, closed.Caution, "licensed inspector before it is painted or closed up")
	resp, err := b.record.History(t.Context(), &pb.HistoryRequest{Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT})
	require.NoError(t, err)
	var texts []string
	for _, e := range resp.Events {
		texts = append(texts, e.Text)
	}
	assert.Equal(t, []string{
		"find 1: hole in the left sill, 180 × 60 mm, behind an old plate",
		"note: cut back to sound metal",
		"find 1 repaired: hole in the left sill, 180 × 60 mm, behind an old plate",
	}, texts)
	assert.Nil(t, resp.Events[0].At, "imported without a date")
	assert.Zero(t, resp.Events[0].Entry)
	assert.Equal(t, closed.Receipt.Entry, resp.Events[2].Entry)
	assert.Equal(t, opened.Add(time.Hour), resp.Events[2].At.AsTime())

	right, err := b.record.History(t.Context(), &pb.HistoryRequest{Job: "heron", Panel: "sill", Side: pb.Side_SIDE_RIGHT})
	require.NoError(t, err)
	assert.Empty(t, right.Events)
	b.use("mabel", "thinner", 1)
	all, err := b.record.History(t.Context(), &pb.HistoryRequest{Job: "heron"})
	require.NoError(t, err)
	assert.NotContains(t, fmt.Sprint(all.Events), "thinner", "that was for no job")
}
