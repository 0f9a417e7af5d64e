package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"

	"bayword/internal/hear"
	"bayword/internal/ledger"
	"bayword/internal/photo"
	"bayword/internal/service"
	"bayword/internal/shop"
	"bayword/internal/surface"
	"bayword/internal/talk"
)

// storyDir holds one restoration told as three weeks of messages, a file a week.
// They are written as conversations are, with two things more: a number below 0
// counts back from the turn it stands in, and a comment «# chatter», «# refused»
// or «# asked» says that what follows is silent, refused or asked about. All else
// must be done or answered.
const storyDir = "../testdata/story"

var storyWeeks = []string{"week-1.txt", "week-2.txt", "week-3.txt"}

// marks are what the comments of a story promise of the turn they stand before.
var marks = map[string]talk.Outcome{"# chatter": talk.Silent, "# refused": talk.Refused, "# asked": talk.Asked}

// storyTurn is a turn with the lines it came from.
type storyTurn struct {
	scriptTurn
	lines []string
	mark  talk.Outcome // "" for done or answered
}

// readStory gives the turns of the story, and how many there are at the end of
// each week.
func readStory(t *testing.T) (turns []storyTurn, ends []int) {
	t.Helper()
	for _, week := range storyWeeks {
		data, err := os.ReadFile(filepath.Join(storyDir, week))
		require.NoError(t, err)
		var before []string
		var mark talk.Outcome
		for line := range strings.Lines(string(data)) {
			line = strings.TrimRight(line, "\n")
			m := said.FindStringSubmatch(line)
			switch {
			case m != nil:
				turn := storyTurn{scriptTurn: turnOf(t, m), lines: append(before, line), mark: mark}
				for _, n := range []*int{turn.EditOf, turn.DeleteOf, turn.ThreadOf} {
					if n != nil && *n < 0 {
						*n += len(turns)
					}
				}
				turns = append(turns, turn)
				before, mark = nil, ""
			case strings.HasPrefix(line, "#"):
				before, mark = append(before, line), marks[line]
			default:
				require.Empty(t, line, "%s: neither a message nor a comment", week)
			}
		}
		require.Empty(t, before, "%s ends in a comment", week)
		ends = append(ends, len(turns))
	}
	return turns, ends
}

// storyShop is the demo shop over a ledger and photographs that outlive its service.
type storyShop struct {
	store  ledger.Store
	photos *photo.Memory
	zone   *time.Location
	at     time.Time
	turns  []storyTurn
	told   []scriptReply
}

func newStoryShop(t *testing.T, turns []storyTurn) *storyShop {
	t.Helper()
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	return &storyShop{store: ledger.NewMemory(), photos: &photo.Memory{}, zone: zone, turns: turns}
}

// open starts a service on what was kept; the demo shop is loaded the first time.
func (s *storyShop) open(t *testing.T) (grpc.ClientConnInterface, func()) {
	t.Helper()
	var opening []shop.Event
	if len(s.told) == 0 {
		var err error
		opening, err = beginning(options{demo: true})
		require.NoError(t, err)
		s.at = s.time(t, s.turns[0].At)
	}
	conn, stop, err := serveInProcess(t.Context(), service.Config{Store: s.store, Clock: s.clock, Photos: s.photos}, opening)
	require.NoError(t, err)
	return conn, stop
}

// clock is read between turns alone, and while a turn waits for its answer.
func (s *storyShop) clock() time.Time { return s.at }

func (s *storyShop) time(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.ParseInLocation("2006-01-02T15:04", text, s.zone)
	require.NoError(t, err)
	return at
}

// tell carries the story on to before the turn end.
func (s *storyShop) tell(t *testing.T, conn grpc.ClientConnInterface, end int) {
	t.Helper()
	bot, kept := talk.New(conn, talk.ShortMemory{}), newPhotos(conn)
	for i := len(s.told); i < end; i++ {
		turn := s.turns[i]
		s.at = s.at.Add(time.Minute)
		if turn.At != "" {
			at := s.time(t, turn.At)
			require.False(t, at.Before(s.at.Add(-time.Minute)), "%q goes back in time", turn.lines)
			s.at = at
		}
		m, err := turn.message(i, s.at)
		require.NoError(t, err)
		for _, name := range m.Files {
			data, err := os.ReadFile(filepath.Join(storyDir, "photos", name))
			require.NoError(t, err)
			sum, err := kept.keep(t.Context(), m.Person, data)
			require.NoError(t, err)
			m.Photos = append(m.Photos, surface.Photo{Name: name, SHA256: sum})
		}
		got, err := bot.Turn(t.Context(), m)
		if got.Reply == nil {
			require.NoError(t, err, "%s", turn.lines)
		}
		s.told = append(s.told, replyOf(got))
	}
}

// transcript is what was said and what came of it, as conversations are written.
func (s *storyShop) transcript(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	day := ""
	for i, r := range s.told {
		if at := s.turns[i].At; at != "" && at[:len("2026-03-16")] != day {
			if day != "" {
				b.WriteString("\n")
			}
			day = at[:len("2026-03-16")]
		}
		fmt.Fprintf(&b, "%s\n= %s\n", strings.Join(s.turns[i].lines, "\n"), r.Outcome)
		for _, q := range r.Requests {
			fields, err := json.Marshal(q.Fields)
			require.NoError(t, err)
			fmt.Fprintf(&b, "=     %s %s\n", q.Kind, fields)
		}
		for l := range strings.SplitSeq(r.Reply, "\n") {
			if r.Reply != "" {
				fmt.Fprintf(&b, "  %s\n", l)
			}
		}
		for k, choice := range r.Choices {
			fmt.Fprintf(&b, "  [%d] %s\n", k+1, choice)
		}
	}
	return b.String()
}

// TestStory tells a whole restoration, from the day the vehicle comes in to the
// folder that goes with it, and compares every word of it.
func TestStory(t *testing.T) {
	t.Parallel()
	turns, _ := readStory(t)
	millrace := newStoryShop(t, turns)
	conn, stop := millrace.open(t)
	t.Cleanup(stop)
	millrace.tell(t, conn, len(turns))

	for i, turn := range turns {
		got := millrace.told[i].Outcome
		switch turn.mark {
		case "":
			assert.Contains(t, []talk.Outcome{talk.Recorded, talk.Answered}, got, "%q", turn.lines)
		default:
			assert.Equal(t, turn.mark, got, "%q", turn.lines)
		}
	}
	millrace.reachesEveryKind(t)
	endsAsCounted(t, conn)
	golden(t, "transcript.golden.txt", []byte(millrace.transcript(t)))
	name, files, err := handoverFiles(conn, func() time.Time { return millrace.at })(t.Context(), "dunnock")
	require.NoError(t, err)
	assert.Equal(t, "handover-dunnock-20260403-1200", name)
	compareFolder(t, files)
}

// reachesEveryKind holds the story to be a whole one: a kind it does not need is
// named here.
func (s *storyShop) reachesEveryKind(t *testing.T) {
	t.Helper()
	reached := map[string]bool{}
	for _, r := range s.told {
		for _, q := range r.Requests {
			reached[q.Kind] = reached[q.Kind] || r.Outcome != talk.Refused
		}
	}
	unneeded := []string{"AddPerson"} // all six have been there for years
	for kind := range hear.Examples() {
		if !slices.Contains(unneeded, kind) {
			assert.True(t, reached[kind], "nothing in the story is a %s", kind)
		}
	}
}

// TestStoryGoesOnAfterARestart stops the service at the end of the second week
// and opens another on the same ledger and photographs: nothing may differ.
func TestStoryGoesOnAfterARestart(t *testing.T) {
	t.Parallel()
	turns, ends := readStory(t)
	millrace := newStoryShop(t, turns)
	conn, stop := millrace.open(t)
	millrace.tell(t, conn, ends[1])
	stop()
	conn, stop = millrace.open(t)
	t.Cleanup(stop)
	millrace.tell(t, conn, len(turns))
	if *update {
		return // TestStory writes the files
	}
	golden(t, "transcript.golden.txt", []byte(millrace.transcript(t)))
	_, files, err := handoverFiles(conn, func() time.Time { return millrace.at })(t.Context(), "dunnock")
	require.NoError(t, err)
	compareFolder(t, files)
}
