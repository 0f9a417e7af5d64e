package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/ledger"
	"bayword/internal/surface"
	"bayword/internal/surface/slack/slackfake"
	"bayword/internal/talk"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

var opening = time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)

// desk is a NoticeService with notices lying on it, until they are marked.
type desk struct {
	mu      sync.Mutex
	lying   []*pb.Notice
	marked  []*pb.MarkNoticeRequest
	listErr error
	markErr error
}

func (d *desk) ListNotices(_ context.Context, r *pb.ListNoticesRequest, _ ...grpc.CallOption) (*pb.ListNoticesResponse, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	from, _ := strconv.Atoi(r.GetPageToken())
	to := min(from+int(r.GetPageSize()), len(d.lying))
	page := &pb.ListNoticesResponse{Notices: slices.Clone(d.lying[from:to])}
	if to < len(d.lying) {
		page.NextPageToken = strconv.Itoa(to)
	}
	return page, d.listErr
}

func (d *desk) MarkNotice(_ context.Context, r *pb.MarkNoticeRequest, _ ...grpc.CallOption) (*pb.MarkNoticeResponse, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.marked = append(d.marked, r)
	if d.markErr == nil {
		d.lying = slices.DeleteFunc(d.lying, func(n *pb.Notice) bool { return n.GetId() == r.GetId() })
	}
	return &pb.MarkNoticeResponse{}, d.markErr
}

// crier is a surface that shows notices at most places.
type crier struct {
	mu    sync.Mutex
	shown []surface.Notice
	tried []string
	err   map[string]error // by channel, or by person where that is a direct message
	slow  map[string]bool  // the same: it answers when nobody waits any more
}

func (c *crier) Announce(ctx context.Context, n surface.Notice) error {
	place := n.Channel
	if place == surface.DirectChannel {
		place = n.Person
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.tried = append(c.tried, n.ID+" "+place)
	if c.slow[place] {
		c.mu.Unlock()
		<-ctx.Done()
		c.mu.Lock()
		return ctx.Err()
	}
	if err := c.err[place]; err != nil {
		return err
	}
	c.shown = append(c.shown, n)
	return nil
}

// ids are the notices shown, in alphabetical order.
func (c *crier) ids() []string {
	var ids []string
	for _, n := range c.shown {
		ids = append(ids, n.ID)
	}
	slices.Sort(ids)
	return ids
}

func reminder(id, channel, person string) *pb.Notice {
	return &pb.Notice{
		Id: id, Kind: pb.NoticeKind_NOTICE_KIND_REMINDER, At: timestamppb.New(opening), Channel: channel, Person: person, Text: "check the oven",
	}
}

// loop is the bot's loop over the demo shop's names.
func loop(t *testing.T, d *desk, c *crier) (n *notices, log *bytes.Buffer) {
	t.Helper()
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", demo.ShopYAML, func() time.Time { return opening })
	require.NoError(t, err)
	t.Cleanup(stop)
	log = &bytes.Buffer{}
	n = newNotices(conn, talk.New(conn, talk.ShortMemory{}), c, slog.New(slog.NewTextHandler(log, nil)), func() time.Time { return opening })
	n.service = d
	return n, log
}

// round carries out one round of the loop.
func round(t *testing.T, d *desk, c *crier) (n *notices, log *bytes.Buffer) {
	t.Helper()
	n, log = loop(t, d, c)
	again(t, n)
	return n, log
}

func again(t *testing.T, n *notices) {
	t.Helper()
	_, err := n.round(t.Context())
	require.NoError(t, err)
}

func TestNoticeIsShownAndThenMarked(t *testing.T) {
	t.Parallel()
	d, c := &desk{lying: []*pb.Notice{reminder("reminder-7", "bay-2", "idris"), reminder("reminder-8", "dm", "mabel")}}, &crier{}
	round(t, d, c)
	require.Equal(t, []string{"reminder-7", "reminder-8"}, c.ids())
	assert.Contains(t, c.shown[0].Reply.Text, "check the oven")
	assert.ElementsMatch(t, []string{"reminder-7 bay-2", "reminder-8 mabel"}, c.tried)
	assert.Empty(t, d.lying)
	require.Len(t, d.marked, 2)
	assert.LessOrEqual(t, len(d.marked[0].GetRequestId()), 36)
	assert.NotEqual(t, d.marked[0].GetRequestId(), d.marked[1].GetRequestId())
	assert.Empty(t, d.marked[0].GetOrigin().GetPerson())
}

func TestNoticeForSomebodyElsewhereIsLeft(t *testing.T) {
	t.Parallel()
	d, c := &desk{lying: []*pb.Notice{reminder("a", "bay-3", "mabel"), reminder("b", "bay-2", "idris")}}, &crier{err: map[string]error{"bay-3": surface.ErrElsewhere}}
	_, log := round(t, d, c)
	require.Len(t, d.lying, 1)
	assert.Equal(t, "a", d.lying[0].GetId())
	assert.Empty(t, log.String())
}

func TestNoticeWithNowhereToGoReachesTheLead(t *testing.T) {
	t.Parallel()
	nowhere := fmt.Errorf("notice: %w", surface.ErrNowhere)
	for name, c := range map[string]struct {
		n        *pb.Notice
		nowhere  []string
		to, text string // "" when it reaches nobody
	}{
		"an unknown channel":        {reminder("a", "bay-9", "idris"), []string{"bay-9"}, "wren", "Meant for #bay-9, where I cannot write:\n"},
		"a person without a chat":   {reminder("a", "dm", "idris"), []string{"idris"}, "wren", "Meant for idris, who cannot be reached here:\n"},
		"the lead is not there":     {reminder("a", "dm", "wren"), []string{"wren"}, "", ""},
		"neither is there":          {reminder("a", "dm", "idris"), []string{"idris", "wren"}, "", ""},
		"a channel, and no lead":    {reminder("a", "bay-9", "idris"), []string{"bay-9", "wren"}, "", ""},
		"nothing is wrong with it ": {reminder("a", "dm", "idris"), nil, "idris", ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d, s := &desk{lying: []*pb.Notice{c.n}}, &crier{err: map[string]error{}}
			for _, place := range c.nowhere {
				s.err[place] = nowhere
			}
			_, log := round(t, d, s)
			assert.Equal(t, len(c.nowhere) > 0, log.Len() > 0)
			if c.to == "" {
				assert.Empty(t, s.shown)
				assert.Empty(t, d.marked, "nobody was told")
				assert.Contains(t, log.String(), "reached nobody")
				return
			}
			assert.Empty(t, d.lying)
			require.Len(t, s.shown, 1)
			assert.Equal(t, c.to, s.shown[0].Person)
			assert.Equal(t, "a", s.shown[0].ID, "it is the same notice")
			assert.True(t, strings.HasPrefix(s.shown[0].Reply.Text, c.text), s.shown[0].Reply.Text)
		})
	}
}

func TestTroubleIsLoggedOnceAndTheOthersAreSent(t *testing.T) {
	t.Parallel()
	odd := reminder("c", "bay-2", "idris")
	odd.Kind = 99
	d := &desk{lying: []*pb.Notice{reminder("a", "attic", "idris"), odd, reminder("b", "bay-2", "idris")}}
	c := &crier{err: map[string]error{"attic": errors.New("the platform is away")}}
	n, log := round(t, d, c)
	for range 3 {
		_, err := n.round(t.Context())
		require.NoError(t, err)
	}
	assert.Len(t, c.shown, 1)
	assert.Len(t, d.lying, 2)
	assert.Equal(t, 1, strings.Count(log.String(), "the platform is away"))
	assert.Equal(t, 1, strings.Count(log.String(), "no words for its kind"))
	c.err = nil
	_, err := n.round(t.Context())
	require.NoError(t, err)
	assert.Len(t, c.shown, 2)
}

// A notice that reached nobody is tried again after a pause that grows, until it
// can be shown or is due no more. All the while it is logged once.
func TestNoticeThatReachedNobodyStaysDue(t *testing.T) {
	t.Parallel()
	nowhere := fmt.Errorf("notice: %w", surface.ErrNowhere)
	d := &desk{lying: []*pb.Notice{reminder("a", "dm", "idris"), reminder("b", "bay-9", "idris")}}
	c := &crier{err: map[string]error{"idris": nowhere, "wren": nowhere, "bay-9": nowhere}}
	n, log := loop(t, d, c)
	now := opening
	n.clock = func() time.Time { return now }
	var tries []time.Duration
	for ; now.Before(opening.Add(4 * time.Hour)); now = now.Add(30 * time.Second) {
		before := len(c.tried)
		again(t, n)
		if len(c.tried) > before {
			tries = append(tries, now.Sub(opening))
		}
	}
	const m = time.Minute
	assert.Equal(t, []time.Duration{0, 1 * m, 3 * m, 7 * m, 15 * m, 31 * m, 63 * m, 123 * m, 183 * m}, tries)
	assert.Equal(t, []string{"a idris", "a wren", "b bay-9", "b wren"}, slices.Sorted(slices.Values(c.tried[:4])), "a lead is tried too")
	assert.Empty(t, d.marked)
	assert.Equal(t, 2, strings.Count(log.String(), `msg="a notice has nowhere to go"`), log)
	assert.Equal(t, 2, strings.Count(log.String(), `msg="a notice reached nobody`))
	assert.Contains(t, log.String(), "check the oven", "whoever reads the log can tell them")

	d.lying = d.lying[:1] // the other one is out of date
	again(t, n)
	assert.Len(t, n.trouble, 1)
	c.err, now = nil, now.Add(time.Hour)
	again(t, n)
	assert.Equal(t, []string{"a"}, c.ids())
	assert.Empty(t, d.lying)
	assert.Empty(t, n.trouble)
}

// However much can reach nobody, it hides nothing that can.
func TestWhatReachesNobodyHidesNothing(t *testing.T) {
	t.Parallel()
	d, c := &desk{}, &crier{err: map[string]error{"idris": surface.ErrNowhere, "wren": surface.ErrNowhere}}
	for i := range 2*noticePage + 1 {
		d.lying = append(d.lying, reminder(fmt.Sprint("lost-", i), "dm", "idris"))
	}
	d.lying = append(d.lying, reminder("new", "bay-2", "idris"))
	round(t, d, c)
	assert.Equal(t, []string{"new"}, c.ids())
	assert.Len(t, d.lying, 2*noticePage+1)
}

// Nothing is remembered of a notice that was sent, or that is due no more.
func TestTroubleIsForgottenWithItsNotice(t *testing.T) {
	t.Parallel()
	away := errors.New("the platform is away")
	d := &desk{}
	c := &crier{err: map[string]error{"attic": away, "bay-2": away}}
	n, log := loop(t, d, c)
	for day := range 50 {
		d.lying = []*pb.Notice{reminder(fmt.Sprint("attic-", day), "attic", "idris"), reminder(fmt.Sprint("bay-", day), "bay-2", "idris")}
		again(t, n)
		again(t, n)
		require.Len(t, n.trouble, 2)
	}
	assert.Equal(t, 100, strings.Count(log.String(), "the platform is away"))
	delete(c.err, "bay-2")
	again(t, n)
	assert.Len(t, n.trouble, 1, "one was sent")
	d.lying = nil
	again(t, n)
	assert.Empty(t, n.trouble)
}

// A place that does not answer holds up its own notices, not those of others; and
// what one notice waits for there does not hold up the next for ever.
func TestSlowPlaceHoldsUpNoOther(t *testing.T) {
	t.Parallel()
	d := &desk{lying: []*pb.Notice{
		reminder("a", "attic", "idris"), reminder("b", "attic", "idris"), reminder("c", "dm", "mabel"),
		reminder("d", "bay-2", "idris"), reminder("e", "bay-2", "idris"), reminder("f", "bay-9", "idris"),
	}}
	c := &crier{slow: map[string]bool{"attic": true, "mabel": true, "wren": true}, err: map[string]error{"bay-9": surface.ErrNowhere}}
	n, log := loop(t, d, c)
	n.patience = 100 * time.Millisecond
	again(t, n)
	assert.Equal(t, []string{"d", "e"}, c.ids())
	assert.NotContains(t, c.tried, "b attic", "it would have waited as long")
	again(t, n)
	assert.Contains(t, c.tried, "b attic")
	assert.Equal(t, 4, strings.Count(log.String(), errSlow.Error()), log)

	c.slow, c.tried = nil, nil
	again(t, n)
	assert.Empty(t, c.tried, "each waits for its next try")
	n.clock = func() time.Time { return opening.Add(time.Minute) }
	again(t, n)
	assert.Equal(t, []string{"a", "b", "c", "d", "e", "f"}, c.ids())
	assert.Empty(t, d.lying)
	assert.Empty(t, n.trouble)
}

func TestMarkIsTheSameRequestEveryTime(t *testing.T) {
	t.Parallel()
	d, c := &desk{lying: []*pb.Notice{reminder("a", "bay-2", "idris")}, markErr: errors.New("the disk is full")}, &crier{}
	n, _ := round(t, d, c)
	d.markErr = nil
	_, err := n.round(t.Context())
	require.NoError(t, err)
	require.Len(t, d.marked, 2)
	assert.Equal(t, d.marked[0].String(), d.marked[1].String())
	assert.Empty(t, d.lying)
}

func TestServerWithoutNoticesIsNotAskedForEver(t *testing.T) {
	t.Parallel()
	d, c := &desk{}, &crier{}
	n, log := round(t, d, c)
	d.listErr = status.Error(codes.Unimplemented, "unknown service")
	n.run(t.Context()) // returns
	assert.Contains(t, log.String(), "sends no notices")
}

// unmarked is a connection over which no notice can be marked.
type unmarked struct {
	grpc.ClientConnInterface
	tried chan struct{}
}

func (u unmarked) Invoke(ctx context.Context, method string, args, reply any, opts ...grpc.CallOption) error {
	if strings.HasSuffix(method, "/MarkNotice") {
		select {
		case u.tried <- struct{}{}:
		default:
		}
		return status.Error(codes.Unavailable, "the server is away")
	}
	return u.ClientConnInterface.Invoke(ctx, method, args, reply, opts...)
}

// TestReminderIsSentOnceOverACrash has the bot die between the post and its note
// at the server; the next one does not post again, and makes the note.
func TestReminderIsSentOnceOverACrash(t *testing.T) {
	t.Parallel()
	fake := slackfake.New(opening)
	t.Cleanup(fake.Close)
	fake.Channel("C0BAY2", "bay-2")
	fake.Channel("D0IDRIS", "")
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", platformShop(), fake.Now)
	require.NoError(t, err)
	t.Cleanup(stop)
	for i, channel := range []string{"bay-2", surface.DirectChannel} {
		_, err = pb.NewReminderServiceClient(conn).Remind(t.Context(), &pb.RemindRequest{
			Origin:    &pb.Origin{Person: "idris", Channel: channel, Message: fmt.Sprint("m", i), SaidAt: timestamppb.New(fake.Now())},
			RequestId: fmt.Sprint("r", i), At: "2026-03-10T10:30", Text: "check the oven",
		})
		require.NoError(t, err)
	}
	fake.Advance(20 * time.Minute)
	box := t.TempDir()
	serve := func(conn grpc.ClientConnInterface) (end func()) {
		ctx, cancel := context.WithCancel(t.Context())
		done := make(chan error, 1)
		go func() {
			done <- serveSlack(ctx, options{botToken: slackfake.BotToken, appToken: slackfake.AppToken, apiURL: fake.URL, inbox: box}, conn)
		}()
		return func() { cancel(); assert.NoError(t, <-done) }
	}
	posted := func() bool {
		return len(fake.Posts("C0BAY2")) == 1 && len(fake.Posts("D0IDRIS")) == 1
	}
	left := func() int {
		r, err := pb.NewNoticeServiceClient(conn).ListNotices(t.Context(), &pb.ListNoticesRequest{})
		require.NoError(t, err)
		return len(slices.DeleteFunc(r.GetNotices(), func(n *pb.Notice) bool { return n.GetKind() != pb.NoticeKind_NOTICE_KIND_REMINDER }))
	}

	require.Equal(t, 2, left())
	u := unmarked{conn, make(chan struct{}, 8)}
	end := serve(u)
	require.Eventually(t, posted, 20*time.Second, 10*time.Millisecond)
	<-u.tried
	end()
	require.Equal(t, 2, left(), "nobody knows that they were sent")

	end = serve(conn)
	require.Eventually(t, func() bool { return left() == 0 }, 20*time.Second, 10*time.Millisecond)
	end()
	assert.True(t, posted(), "each is there once")
	assert.Contains(t, fake.Posts("C0BAY2")[0].Text, "check the oven")
	assert.Empty(t, fake.Violations())
}
