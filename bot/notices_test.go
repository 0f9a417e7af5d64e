package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"slices"
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

func (d *desk) ListNotices(context.Context, *pb.ListNoticesRequest, ...grpc.CallOption) (*pb.ListNoticesResponse, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return &pb.ListNoticesResponse{Notices: slices.Clone(d.lying)}, d.listErr
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
	shown []surface.Notice
	err   map[string]error // by channel, or by person where that is a direct message
}

func (c *crier) Announce(_ context.Context, n surface.Notice) error {
	place := n.Channel
	if place == surface.DirectChannel {
		place = n.Person
	}
	if err := c.err[place]; err != nil {
		return err
	}
	c.shown = append(c.shown, n)
	return nil
}

func reminder(id, channel, person string) *pb.Notice {
	return &pb.Notice{
		Id: id, Kind: pb.NoticeKind_NOTICE_KIND_REMINDER, At: timestamppb.New(opening), Channel: channel, Person: person, Text: "check the oven",
	}
}

// round carries out one round of the bot's loop over the demo shop's names.
func round(t *testing.T, d *desk, c *crier) (n *notices, log *bytes.Buffer) {
	t.Helper()
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", demo.ShopYAML, func() time.Time { return opening })
	require.NoError(t, err)
	t.Cleanup(stop)
	log = &bytes.Buffer{}
	n = newNotices(conn, talk.New(conn, talk.ShortMemory{}), c, slog.New(slog.NewTextHandler(log, nil)), func() time.Time { return opening })
	n.service = d
	_, err = n.round(t.Context())
	require.NoError(t, err)
	return n, log
}

func TestNoticeIsShownAndThenMarked(t *testing.T) {
	t.Parallel()
	d, c := &desk{lying: []*pb.Notice{reminder("reminder-7", "bay-2", "idris"), reminder("reminder-8", "dm", "mabel")}}, &crier{}
	round(t, d, c)
	require.Len(t, c.shown, 2)
	assert.Contains(t, c.shown[0].Reply.Text, "check the oven")
	assert.Equal(t, "bay-2", c.shown[0].Channel)
	assert.Equal(t, "mabel", c.shown[1].Person)
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
			assert.Empty(t, d.lying, "it is marked all the same")
			assert.Equal(t, len(c.nowhere) > 0, log.Len() > 0)
			if c.to == "" {
				assert.Empty(t, s.shown)
				assert.Contains(t, log.String(), "reached nobody")
				return
			}
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
