package service_test

import (
	"context"
	"fmt"
	"log/slog"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
	"bayword/internal/service"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// notices lists what is due at a moment of the tests' day.
func (b *bench) notices(at string) *pb.ListNoticesResponse {
	b.t.Helper()
	b.now = inLondon(b.t, at)
	resp, err := pb.NewNoticeServiceClient(b.conn).ListNotices(b.t.Context(), &pb.ListNoticesRequest{})
	require.NoError(b.t, err)
	return resp
}

func (b *bench) mark(id string) error {
	_, err := pb.NewNoticeServiceClient(b.conn).MarkNotice(b.t.Context(), &pb.MarkNoticeRequest{Origin: &pb.Origin{}, RequestId: b.id(), Id: id})
	return err
}

// ids are those of notices, without the entry, which depends on the demo shop.
func ids(resp *pb.ListNoticesResponse) []string {
	var all []string
	for _, n := range resp.Notices {
		id := n.Id
		if parts := strings.SplitN(id, "-", 3); parts[0] == "coat" {
			id = "coat-" + parts[2]
		}
		all = append(all, id)
	}
	return all
}

func inLondon(t testing.TB, text string) time.Time {
	t.Helper()
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	at, err := time.ParseInLocation("2006-01-02T15:04", text, zone)
	require.NoError(t, err)
	return at
}

func (b *bench) paintOn(material string, coats uint32, panels ...string) *pb.RecordCoatResponse {
	b.t.Helper()
	resp, err := b.paint.RecordCoat(b.t.Context(), &pb.RecordCoatRequest{
		Origin: b.by("mabel"), RequestId: b.id(), Job: "heron", Material: material, Panels: panels, Coats: &coats,
	})
	require.NoError(b.t, err)
	return resp
}

// The demo shop's one coat, high-build on the osmere, was finished on Monday at
// 15:30: sand after 4 h, recoat until 24 h later.
func TestAWindowThatClosesIsToldOfBefore(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	resp := b.notices("2026-03-10T10:15")
	assert.Equal(t, []string{"morning-2026-03-10-wren"}, ids(resp), "that it could be sanded last night is stale")
	assert.True(t, resp.NextAt.AsTime().Equal(inLondon(t, "2026-03-10T14:30")))
	require.NoError(t, b.mark(resp.Notices[0].Id))
	assert.Empty(t, b.notices("2026-03-10T14:29").Notices)

	resp = b.notices("2026-03-10T14:30")
	assert.Equal(t, []string{"coat-closes-2026-03-10T14:30"}, ids(resp))
	n := resp.Notices[0]
	assert.Equal(t, pb.NoticeKind_NOTICE_KIND_RECOAT_CLOSES, n.Kind)
	assert.Equal(t, []string{"bay-3", "", "osmere"}, []string{n.Channel, n.Person, n.Job})
	assert.Equal(t, "high-build", n.Windows.Coat.Material)
	assert.True(t, n.Windows.RecoatUntil.AsTime().Equal(inLondon(t, "2026-03-10T15:30")))
	assert.Equal(t, "window open", n.Windows.State)
	assert.Nil(t, n.Windows.PotLifeEnds)

	late := b.notices("2026-03-11T02:29")
	require.Len(t, late.Notices, 1)
	assert.Equal(t, "window past", late.Notices[0].Windows.State, "late, and it says so")
	assert.Empty(t, b.notices("2026-03-11T02:30").Notices, "twelve hours later it is stale")
}

// Epoxy primer: pot life 240 min, 20 min between coats, sand after 16 h, recoat
// until 72 h.
func TestTheTimesOfACoatAreToldOnceEach(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	made := b.paintOn("epoxy-primer", 2, "bonnet")
	at := func(when string) []string {
		var heron []string
		for i, n := range b.notices(when).Notices {
			if n.Job == "heron" && n.Windows != nil {
				heron = append(heron, ids(b.notices(when))[i])
			}
		}
		return heron
	}
	assert.Empty(t, at("2026-03-10T13:39"))
	assert.Equal(t, []string{"coat-pot-2026-03-10T13:40"}, at("2026-03-10T13:40"), "mixed before the first coat")
	for _, n := range b.notices("2026-03-10T13:40").Notices {
		if n.Kind == pb.NoticeKind_NOTICE_KIND_POT_LIFE {
			assert.True(t, n.Windows.PotLifeEnds.AsTime().Equal(inLondon(t, "2026-03-10T13:55")))
			assert.Equal(t, "bay-2", n.Channel)
			require.NoError(t, b.mark(n.Id))
		}
	}
	assert.Empty(t, at("2026-03-10T13:45"), "sent once")
	assert.Equal(t, []string{"coat-sand-2026-03-11T02:15"}, at("2026-03-11T02:15"))
	assert.Empty(t, at("2026-03-11T14:15"), "twelve hours later it is stale")
	assert.Equal(t, []string{"coat-closes-2026-03-13T09:15"}, at("2026-03-13T09:15"))

	// A coat that was finished earlier than was said has other times.
	b.now = inLondon(t, "2026-03-10T17:00")
	_, err := b.amend("mabel", &pb.AmendRequest{Entry: made.Receipt.Entry, At: "2026-03-10T08:15"})
	require.NoError(t, err)
	assert.Equal(t, []string{"coat-sand-2026-03-11T00:15"}, at("2026-03-11T00:15"))

	// What is coated over waits for nothing; neither does what was taken back.
	b.now = inLondon(t, "2026-03-10T18:00")
	over := b.paintOn("high-build", 1, "bonnet", "roof")
	assert.Equal(t, []string{"coat-sand-2026-03-10T22:00"}, at("2026-03-11T00:15"))
	b.now = inLondon(t, "2026-03-10T18:30")
	_, err = b.undo("mabel", over.Receipt.Entry)
	require.NoError(t, err)
	assert.Equal(t, []string{"coat-sand-2026-03-11T00:15"}, at("2026-03-11T00:15"))
	_, err = b.undo("mabel", made.Receipt.Entry)
	require.NoError(t, err)
	assert.Empty(t, at("2026-03-11T00:15"))
}

// A coat is told of no more when a later one of any material lies over all of it.
func TestWhatIsCoatedOverWaitsForNothing(t *testing.T) {
	t.Parallel()
	type coat struct {
		job, material, at string
		panels            []string
	}
	first := coat{"heron", "epoxy-primer", "2026-03-10T08:00", []string{"bonnet", "roof"}}
	for name, c := range map[string]struct {
		later coat
		told  bool
	}{
		"the same panels":       {coat{"heron", "high-build", "2026-03-10T09:00", []string{"roof", "bonnet"}}, false},
		"more panels":           {coat{"heron", "high-build", "2026-03-10T09:00", []string{"roof", "bonnet", "scuttle"}}, false},
		"the whole body":        {coat{"heron", "high-build", "2026-03-10T09:00", []string{"whole body"}}, false},
		"the material again":    {coat{"heron", "epoxy-primer", "2026-03-10T09:00", []string{"bonnet", "roof"}}, false},
		"some of the panels":    {coat{"heron", "high-build", "2026-03-10T09:00", []string{"roof"}}, true},
		"another vehicle":       {coat{"tern", "high-build", "2026-03-10T09:00", []string{"bonnet", "roof"}}, true},
		"in the same minute":    {coat{"heron", "high-build", "2026-03-10T08:00", []string{"bonnet", "roof"}}, true},
		"before it, said after": {coat{"heron", "high-build", "2026-03-10T07:00", []string{"bonnet", "roof"}}, true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := newBench(t, ledger.NewMemory())
			var entry uint64
			for _, x := range []coat{first, c.later} {
				resp, err := b.coat("mabel", &pb.RecordCoatRequest{Job: x.job, Material: x.material, Panels: x.panels, Coats: num(uint32(1)), At: x.at})
				require.NoError(t, err)
				if x.material == first.material && x.at == first.at {
					entry = resp.Receipt.Entry
				}
			}
			sand := fmt.Sprintf("coat-%d-sand-2026-03-11T00:00", entry)
			told := false
			for _, n := range b.notices("2026-03-11T00:00").Notices {
				told = told || n.Id == sand
			}
			assert.Equal(t, c.told, told)
		})
	}
}

// A window that is open for weeks is not told of when nobody thinks of it any more.
func TestAnOldCoatIsForgotten(t *testing.T) {
	t.Parallel()
	for days, want := range map[float64]int{14: 1, 15: 0} {
		now := opened
		svc, err := service.New(t.Context(), service.Config{Store: ledger.NewMemory(), Clock: func() time.Time { return now }, Log: slog.New(slog.DiscardHandler)})
		require.NoError(t, err)
		events := demoEvents(t)
		for _, e := range events {
			if m, ok := e.(shop.MaterialAdded); ok && m.ID == "clearcoat" {
				m.Paint.RecoatUntilH = days * 24
			}
		}
		require.NoError(t, svc.Import(t.Context(), events))
		_, err = svc.RecordCoat(t.Context(), &pb.RecordCoatRequest{
			Origin: &pb.Origin{Person: "mabel"}, RequestId: "r1", Job: "heron", Material: "clearcoat", Panels: []string{"roof"}, Coats: num(uint32(1)),
		})
		require.NoError(t, err)
		now = opened.Add(time.Duration(days)*24*time.Hour - 30*time.Minute)
		resp, err := svc.ListNotices(t.Context(), &pb.ListNoticesRequest{})
		require.NoError(t, err)
		closing := 0
		for _, n := range resp.Notices {
			if n.Kind == pb.NoticeKind_NOTICE_KIND_RECOAT_CLOSES {
				closing++
			}
		}
		assert.Equal(t, want, closing, "%g days", days)
		require.NoError(t, svc.Close())
	}
}

func TestAShortWindowIsToldOfHalfWay(t *testing.T) {
	t.Parallel()
	now := opened
	svc, err := service.New(t.Context(), service.Config{Store: ledger.NewMemory(), Clock: func() time.Time { return now }, Log: slog.New(slog.DiscardHandler)})
	require.NoError(t, err)
	defer func() { require.NoError(t, svc.Close()) }()
	events := demoEvents(t)
	for _, e := range events {
		if m, ok := e.(shop.MaterialAdded); ok && m.ID == "clearcoat" {
			m.Paint.RecoatFromH, m.Paint.RecoatUntilH = 0.5, 1.5
		}
	}
	require.NoError(t, svc.Import(t.Context(), events))
	_, err = svc.RecordCoat(t.Context(), &pb.RecordCoatRequest{
		Origin: &pb.Origin{Person: "mabel"}, RequestId: "r1", Job: "heron", Material: "clearcoat", Panels: []string{"roof"}, Coats: num(uint32(1)),
	})
	require.NoError(t, err)
	for at, want := range map[string]int{"2026-03-10T11:14": 0, "2026-03-10T11:15": 1} { // it is open from 10:45 to 11:45
		now = inLondon(t, at)
		resp, err := svc.ListNotices(t.Context(), &pb.ListNoticesRequest{})
		require.NoError(t, err)
		closing := 0
		for _, n := range resp.Notices {
			if n.Kind == pb.NoticeKind_NOTICE_KIND_RECOAT_CLOSES && n.Job == "heron" {
				closing++
			}
		}
		assert.Equal(t, want, closing, at)
	}
}

func TestAPartIsDueInTheMorning(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	resp := b.notices("2026-03-12T08:00")
	require.Equal(t, []string{"part-1-2026-03-12", "morning-2026-03-12-wren"}, ids(resp))
	due, morning := resp.Notices[0], resp.Notices[1]
	assert.Equal(t, pb.NoticeKind_NOTICE_KIND_PART_DUE, due.Kind)
	require.Len(t, due.Parts, 1)
	assert.Equal(t, "rear wing panel", due.Parts[0].Part)
	assert.Equal(t, []string{"dm", "wren"}, []string{morning.Channel, morning.Person})
	require.Len(t, morning.Parts, 1)
	assert.Equal(t, uint32(6), morning.Parts[0].DaysLate)
	require.Len(t, morning.Due, 1)
	require.Len(t, morning.Waiting, 1)
	assert.Equal(t, uint32(2), morning.Waiting[0].Number)

	one, err := pb.NewNoticeServiceClient(b.conn).ListNotices(t.Context(), &pb.ListNoticesRequest{PageSize: 1})
	require.NoError(t, err)
	assert.Equal(t, []string{"part-1-2026-03-12"}, ids(one), "the oldest first")
}

func TestNoticesComeInPages(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	for range 6 {
		_, err := b.svc.Remind(t.Context(), &pb.RemindRequest{Origin: b.by("jonah"), RequestId: b.id(), At: "2026-03-10T11:00", Text: "stir it"})
		require.NoError(t, err)
	}
	whole := ids(b.notices("2026-03-10T11:00"))
	require.Len(t, whole, 7)
	var paged []string
	for token, more := "", true; more; more = token != "" {
		resp, err := b.svc.ListNotices(t.Context(), &pb.ListNoticesRequest{PageSize: 3, PageToken: token})
		require.NoError(t, err)
		assert.LessOrEqual(t, len(resp.Notices), 3)
		paged, token = append(paged, ids(resp)...), resp.NextPageToken
	}
	assert.Equal(t, whole, paged)
	_, err := b.svc.ListNotices(t.Context(), &pb.ListNoticesRequest{PageToken: "x"})
	assert.Equal(t, "page_token", info(t, err).Metadata["field"])
}

func TestANoticeIsMarkedOnce(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	require.NoError(t, b.mark("morning-2026-03-10-wren"))
	assert.Equal(t, "ALREADY_DONE", info(t, b.mark("morning-2026-03-10-wren")).Reason)
	assert.Equal(t, "NOT_FOUND", info(t, b.mark("morning-2026-03-11-wren")).Reason)
	assert.Equal(t, "MISSING_FIELD", info(t, b.mark("")).Reason)
	_, err := b.undo("wren", 0)
	assert.Equal(t, "NOTHING_TO_CHANGE", info(t, err).Reason, "it is nobody's record")
}

// A program that was down for the night sends nothing twice, and what became due
// meanwhile.
func TestARestartSendsNothingTwice(t *testing.T) {
	t.Parallel()
	for name, every := range map[string]uint64{"over a snapshot": 1, "over the ledger": 1 << 40} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			store, now := ledger.NewMemory(), opened
			start := func() *service.Service {
				svc, err := service.New(context.Background(), service.Config{
					Store: store, Clock: func() time.Time { return now }, Log: slog.New(slog.DiscardHandler), SnapshotEvery: every,
				})
				require.NoError(t, err)
				return svc
			}
			svc := start()
			require.NoError(t, svc.Import(t.Context(), demoEvents(t)))
			told := map[string]int{}
			send := func(svc *service.Service) {
				resp, err := svc.ListNotices(t.Context(), &pb.ListNoticesRequest{})
				require.NoError(t, err)
				for _, n := range resp.Notices {
					told[n.Id]++
					_, err := svc.MarkNotice(t.Context(), &pb.MarkNoticeRequest{RequestId: n.Id, Id: n.Id})
					require.NoError(t, err)
				}
			}
			r, err := svc.Remind(t.Context(), &pb.RemindRequest{
				Origin: &pb.Origin{Person: "jonah", Channel: "bay-3"}, RequestId: "r1", At: "2026-03-10T22:00", Text: "turn the heater off",
			})
			require.NoError(t, err)
			send(svc)
			send(svc)
			assert.Equal(t, map[string]int{"morning-2026-03-10-wren": 1}, told)
			if every == 1 { // else it goes down with no warning
				require.NoError(t, svc.Close())
			}

			now = inLondon(t, "2026-03-11T09:00")
			again := start()
			defer func() { require.NoError(t, again.Close()) }()
			send(again)
			send(again)
			reminder := fmt.Sprintf("reminder-%d-2026-03-10T22:00", r.Reminder.Entry)
			assert.Equal(t, map[string]int{"morning-2026-03-10-wren": 1, "morning-2026-03-11-wren": 1, reminder: 1}, told)
			left, err := again.ListReminders(t.Context(), &pb.ListRemindersRequest{})
			require.NoError(t, err)
			assert.Empty(t, left.Reminders)
			if every != 1 {
				require.NoError(t, svc.Close())
			}
		})
	}
}
