package main

import (
	"context"
	"fmt"
	"path"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	"bayword/internal/ledger"
	"bayword/internal/surface"
	"bayword/internal/talk"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

// sitting is somebody at the bot, with the demo shop behind it.
type sitting struct {
	t     *testing.T
	conn  *wire
	album *album
	now   time.Time
	n     int
}

// wire is a connection that is cut after a request has gone over it, when it is told to.
type wire struct {
	grpc.ClientConnInterface
	cut string // the RPC
}

func (w *wire) Invoke(ctx context.Context, method string, args, reply any, opts ...grpc.CallOption) error {
	err := w.ClientConnInterface.Invoke(ctx, method, args, reply, opts...)
	if path.Base(method) == w.cut {
		proto.Reset(reply.(proto.Message))
		return status.Error(codes.DeadlineExceeded, "cut")
	}
	return err
}

func sit(t *testing.T) *sitting {
	t.Helper()
	s := &sitting{t: t, now: opening}
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", demo.ShopYAML, func() time.Time { return s.now })
	require.NoError(t, err)
	t.Cleanup(stop)
	s.conn = &wire{ClientConnInterface: conn}
	s.album = newAlbum(s.conn, talk.ShortMemory{})
	return s
}

func (s *sitting) message(who, in, text string, photos ...string) surface.Message {
	s.n++
	m := surface.Message{ID: fmt.Sprint("m", s.n), Person: who, Channel: in, Text: text, Files: photos, At: s.now}
	for _, name := range photos {
		m.Photos = append(m.Photos, surface.Photo{Name: name, SHA256: fmt.Sprintf("%064x", len(name))})
	}
	return m
}

func (s *sitting) turn(m surface.Message) talk.Turn {
	s.t.Helper()
	turn, err := s.album.Turn(s.t.Context(), m)
	require.NoError(s.t, err)
	reply, err := s.album.Handle(s.t.Context(), m) // once more has no further effect
	require.NoError(s.t, err)
	assert.Equal(s.t, turn.Reply, reply)
	return turn
}

func (s *sitting) say(who, in, text string, photos ...string) talk.Turn {
	s.t.Helper()
	return s.turn(s.message(who, in, text, photos...))
}

// photos are those of the heron's finds and of its record as a whole.
func (s *sitting) photos() map[string][]string {
	s.t.Helper()
	r, err := pb.NewHandoverServiceClient(s.conn.ClientConnInterface).BuildRecord(s.t.Context(), &pb.BuildRecordRequest{Origin: &pb.Origin{Person: "wren"}, Job: "heron"})
	require.NoError(s.t, err)
	all := map[string][]string{}
	add := func(of string, photos []*pb.Photo) {
		for _, p := range photos {
			assert.Equal(s.t, fmt.Sprintf("%064x", len(p.GetName())), p.GetSha256())
			all[of] = append(all[of], p.GetName())
		}
	}
	for _, f := range r.GetFinds() {
		add(fmt.Sprint("find ", f.GetFind().GetNumber()), f.GetPhotos())
	}
	add("", r.GetPhotos())
	return all
}

const dented = "there's a dent in the bonnet, about 40 by 30"

func TestPhotographAloneGoesWithTheNextRecord(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		then func(s *sitting)
		want map[string][]string
	}{
		"a find": {func(s *sitting) { s.say("idris", "bay-2", dented) }, map[string][]string{"find 5": {"a.jpg"}}},
		"a find that is asked about first": {func(s *sitting) {
			assert.Equal(s.t, talk.Asked, s.say("idris", "bay-2", "there's a hole in the inner sill, 55 by 25").Outcome)
			assert.Equal(s.t, talk.Recorded, s.say("idris", "bay-2", "left").Outcome)
		}, map[string][]string{"find 5": {"a.jpg"}}},
		"a note, after what cannot be seen": {func(s *sitting) {
			assert.Equal(s.t, talk.Recorded, s.say("idris", "bay-2", "used a litre of the thinner").Outcome)
			assert.Equal(s.t, talk.Answered, s.say("idris", "bay-2", "how much thinner is there now").Outcome)
			s.say("idris", "bay-2", "note: that badge is the old pattern")
		}, map[string][]string{"": {"a.jpg"}}},
		"two of them, once": {func(s *sitting) {
			s.now = s.now.Add(4 * time.Minute)
			s.say("idris", "bay-2", "", "bb.jpg")
			s.now = s.now.Add(4 * time.Minute)
			s.say("idris", "bay-2", dented)
			s.say("idris", "bay-2", "there's another dent in the roof, 20 by 20")
		}, map[string][]string{"find 5": {"a.jpg", "bb.jpg"}}},
		"one that has its own": {func(s *sitting) {
			s.say("idris", "bay-2", dented, "own.jpg")
			s.say("idris", "bay-2", "there's another dent in the roof, 20 by 20")
		}, map[string][]string{"find 5": {"own.jpg"}, "find 6": {"a.jpg"}}},
		"nobody else's": {func(s *sitting) { s.say("mabel", "bay-2", dented) }, map[string][]string{}},
		"none of another channel": {func(s *sitting) {
			assert.Equal(s.t, talk.Recorded, s.say("idris", "dm", "there's a dent in the heron's bonnet, about 40 by 30").Outcome)
		}, map[string][]string{}},
		"none that is said later": {func(s *sitting) {
			s.now = s.now.Add(photosWait + time.Second)
			s.say("idris", "bay-2", dented)
		}, map[string][]string{}},
		"none when it was deleted": {func(s *sitting) {
			m := s.message("idris", "bay-2", "")
			m.Act, m.Target = surface.Deleted, "m1"
			s.turn(m)
			s.say("idris", "bay-2", dented)
		}, map[string][]string{}},
		"one that is cut off and handed in again": {func(s *sitting) {
			m := s.message("idris", "bay-2", dented)
			s.conn.cut = "RecordFind"
			_, err := s.album.Handle(s.t.Context(), m)
			require.Error(s.t, err)
			s.conn.cut, s.now = "", s.now.Add(time.Hour)
			assert.Equal(s.t, talk.Recorded, s.turn(m).Outcome)
		}, map[string][]string{"find 5": {"a.jpg"}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := sit(t)
			assert.Equal(t, talk.Turn{Outcome: talk.Silent}, s.say("idris", "bay-2", "", "a.jpg"), "in a channel it is not for the bot")
			c.then(s)
			assert.Equal(t, c.want, s.photos())
		})
	}
}

// Words that the bot has to ask about are no record yet: their photograph is for the
// one that the answer makes.
func TestPhotographOfWhatIsAskedAbout(t *testing.T) {
	t.Parallel()
	s := sit(t)
	asked := s.say("idris", "bay-2", "there's a hole in the inner sill, 55 by 25", "a.jpg")
	require.Equal(t, talk.Asked, asked.Outcome)
	s.say("jonah", "bay-2", dented)
	press := s.message("idris", "bay-2", "")
	press.Act, press.Choice, press.Target = surface.Pressed, 1, "m1"
	require.Equal(t, talk.Recorded, s.turn(press).Outcome)
	s.say("idris", "bay-2", "there's another dent in the roof, 20 by 20")
	assert.Equal(t, map[string][]string{"find 6": {"a.jpg"}}, s.photos())

	s.say("idris", "bay-2", "how much thinner is there now", "b.jpg")
	s.say("idris", "bay-2", "there's a dent in the scuttle, 20 by 20")
	assert.Equal(t, map[string][]string{"find 6": {"a.jpg"}}, s.photos(), "a question is answered, and done with")
}

func TestPhotographAloneIsAnsweredWhereTheBotIsSpokenTo(t *testing.T) {
	t.Parallel()
	s := sit(t)
	turn := s.say("idris", "dm", "", "a.jpg")
	assert.Equal(t, talk.Unsure, turn.Outcome)
	assert.Contains(t, turn.Reply.Text, "Photo is kept. Say within 5 minutes what can be seen")
	mentioned := s.message("idris", "tearoom", "", "a.jpg", "b.jpg")
	mentioned.Mention = true
	assert.Contains(t, s.turn(mentioned).Reply.Text, "2 photos are kept.")
	lost := s.message("idris", "dm", "")
	lost.Files = []string{"c.JPG"}
	assert.Contains(t, s.turn(lost).Reply.Text, "Photo noted, but could not be kept.")
	assert.Nil(t, s.say("idris", "tearoom", "", "a.jpg").Reply)
	sheet := s.message("idris", "bay-2", "")
	sheet.Files = []string{"hours.xlsx"}
	assert.Nil(t, s.turn(sheet).Reply, "no photograph")
}
