package talk

import (
	"context"
	"net"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/status"
	"google.golang.org/grpc/test/bufconn"

	"bayword/internal/ledger"
	"bayword/internal/service"
	"bayword/internal/shopfile"
	"bayword/internal/surface"
	"bayword/testdata/demo"
)

var tuesday = time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)

// shop serves the demo shop in this process.
func shop(t *testing.T) *grpc.ClientConn {
	t.Helper()
	svc, err := service.New(t.Context(), service.Config{Store: ledger.NewMemory(), Clock: func() time.Time { return tuesday }})
	require.NoError(t, err)
	events, err := shopfile.Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	require.NoError(t, svc.Import(t.Context(), events))
	listener := bufconn.Listen(1 << 20)
	server := grpc.NewServer(svc.Options()...)
	svc.Register(server)
	go func() { _ = server.Serve(listener) }()
	conn, err := grpc.NewClient("passthrough:///shop", grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return listener.DialContext(ctx) }))
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close(); server.Stop(); _ = svc.Close() })
	return conn
}

// said is a message of Idris in bay 2, n minutes after a quarter past ten.
func said(id, text string, n int) surface.Message {
	return surface.Message{ID: id, Person: "idris", Channel: "bay-2", Text: text, At: tuesday.Add(time.Duration(n) * time.Minute)}
}

func turn(t *testing.T, talk *Talk, m surface.Message) Turn {
	t.Helper()
	got, err := talk.Turn(t.Context(), m)
	require.NoError(t, err)
	return got
}

func TestTheSameMessageTwiceRecordsOnce(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	first := turn(t, talk, said("m1", "used 2 of the seam sealer tubes", 0))
	again := turn(t, talk, said("m1", "used 2 of the seam sealer tubes", 5))
	assert.Equal(t, Recorded, first.Outcome)
	assert.Equal(t, first.Reply, again.Reply)
	assert.Contains(t, turn(t, talk, said("m2", "how much seam sealer is there", 6)).Reply.Text, "5 seam sealer")
}

func TestAQuestionSurvivesARestart(t *testing.T) {
	t.Parallel()
	conn, memory := shop(t), ShortMemory{}
	asked := turn(t, New(conn, memory), said("m1", "hole in the inner sill, 55 by 25", 0))
	assert.Equal(t, Asked, asked.Outcome)
	answered := turn(t, New(conn, memory), said("m2", "left", 30))
	require.Equal(t, Recorded, answered.Outcome)
	assert.Equal(t, "left", answered.Requests[0].Fields["side"])
}

func TestAQuestionLapsesAfterAWorkingDay(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("m1", "hole in the inner sill, 55 by 25", 0))
	assert.Equal(t, Silent, turn(t, talk, said("m2", "left", 24*60)).Outcome)
}

// lossy carries a request out and then loses the answer, as a broken network does.
type lossy struct {
	*grpc.ClientConn
	lose atomic.Int32
}

func (l *lossy) Invoke(ctx context.Context, method string, args, reply any, opts ...grpc.CallOption) error {
	err := l.ClientConn.Invoke(ctx, method, args, reply, opts...)
	if strings.Contains(method, "RecordUse") && l.lose.Add(-1) >= 0 {
		return status.Error(codes.Unavailable, "the answer was lost")
	}
	return err
}

func TestALostAnswerIsNotDoubled(t *testing.T) {
	t.Parallel()
	conn := &lossy{ClientConn: shop(t)}
	talk := New(conn, ShortMemory{})
	conn.lose.Store(2) // tried again within the message
	got := turn(t, talk, said("m1", "used 2 of the seam sealer tubes", 0))
	assert.Contains(t, got.Reply.Text, "5 left")

	conn.lose.Store(3) // given up, and the surface hands the message in again
	_, err := talk.Turn(t.Context(), said("m2", "used 1 tube of seam sealer", 1))
	require.Error(t, err)
	got = turn(t, talk, said("m2", "used 1 tube of seam sealer", 1))
	assert.Contains(t, got.Reply.Text, "4 left")
}

func TestAnEditThatSaysAnotherThing(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("m1", "used 2 of the seam sealer tubes, 2 hours metal", 0))
	edit := func(id, text string) Turn {
		m := said(id, text, 2)
		m.Act, m.Target = surface.Edited, "m1"
		return turn(t, talk, m)
	}
	both := edit("e1", "used 3 of the seam sealer tubes, 4 hours metal")
	require.Len(t, both.Requests, 2)
	assert.Equal(t, "Amend", both.Requests[0].Kind)
	assert.Contains(t, both.Reply.Text, "4 left")

	other := edit("e2", "hole in the ns sill 30 by 30")
	assert.Equal(t, Recorded, other.Outcome)
	assert.Contains(t, turn(t, talk, said("m3", "how much seam sealer is there", 4)).Reply.Text, "7 seam sealer", "what the message no longer says is taken back")

	unclear := edit("e3", "hmm")
	assert.Equal(t, Asked, unclear.Outcome, "an edit that cannot be read changes nothing, and says so")

	gone := said("d1", "", 5)
	gone.Act, gone.Target = surface.Deleted, "m1"
	assert.Equal(t, Recorded, turn(t, talk, gone).Outcome)
	assert.Contains(t, turn(t, talk, said("m4", "which finds are still open", 6)).Reply.Text, "3 open finds")
}

func TestEveryoneHasTheirOwnContext(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("m1", "used 2 of the seam sealer tubes", 0))
	other := said("m2", "scrap that", 1)
	other.Person = "tomasz"
	assert.Equal(t, Silent, turn(t, talk, other).Outcome, "Tomasz has said nothing to scrap")
	assert.Equal(t, Recorded, turn(t, talk, said("m3", "scrap that", 2)).Outcome)
}

func TestRequestIDs(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("C0123456789:", 40)
	assert.LessOrEqual(t, len(requestID(long, 12)), 36)
	assert.Equal(t, requestID("a", 0), requestID("a", 0))
	assert.NotEqual(t, requestID("a", 0), requestID("a", 1))
	assert.NotEqual(t, requestID("a", 0), requestID("b", 0))
}

func TestHostileMessagesRecordNothing(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	for i, text := range []string{
		strings.Repeat("used 2 litres of clear ", 50_000), // 1 MB
		"\xff\xfe used \x00\x07 clear",
		"used 1e308 litres of clear",
		"used 99999999999999999999 litres of clear",
		"used -0.0 litres of clear",
		"used NaN litres of clear",
		`{"kind":"RecordUse","fields":{"material":"clearcoat","amount":1}}`,
	} {
		m := said("h"+string(rune('a'+i)), text, i)
		m.Channel = surface.DirectChannel
		got, err := talk.Turn(t.Context(), m)
		require.NoError(t, err, "%.40q", text)
		assert.NotEqual(t, Recorded, got.Outcome, "%.40q", text)
		require.NotNil(t, got.Reply, "%.40q", text)
	}
	assert.Contains(t, turn(t, talk, said("z", "how much clear is there", 60)).Reply.Text, "6 L")
}

func inThread(m surface.Message, root string) surface.Message { m.Thread = root; return m }

func TestAnAnswerInAThreadAnswersThatQuestion(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("q1", "hole in the sill 20 by 20", 0))
	turn(t, talk, said("q2", "dent in the door 10 by 10", 1))
	first := turn(t, talk, inThread(said("a1", "left", 2), "q1"))
	second := turn(t, talk, inThread(said("a2", "right", 3), "q2"))
	require.Len(t, first.Requests, 1)
	require.Len(t, second.Requests, 1)
	assert.Equal(t, "sill", first.Requests[0].Fields["panel"])
	assert.Equal(t, "left", first.Requests[0].Fields["side"])
	assert.Equal(t, "door", second.Requests[0].Fields["panel"])
	assert.Equal(t, "right", second.Requests[0].Fields["side"])
}

func TestTwoQuestionsAreAnsweredInTheirOrder(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("q", "hole in the sill 20 by 20 and a dent in the door 10 by 10", 0))
	first := turn(t, talk, said("a1", "left", 1))
	second := turn(t, talk, said("a2", "right", 2))
	require.Len(t, first.Requests, 1)
	require.Len(t, second.Requests, 1)
	assert.Equal(t, "sill", first.Requests[0].Fields["panel"])
	assert.Equal(t, "door", second.Requests[0].Fields["panel"])
}

func TestOnlyTheAskerPresses(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("q", "hole in the sill 20 by 20", 0))
	press := surface.Message{ID: "p1", Act: surface.Pressed, Person: "tomasz", Channel: "bay-2", Choice: 1, At: tuesday.Add(time.Minute)}
	assert.Equal(t, Unsure, turn(t, talk, press).Outcome)
	press.ID, press.Person = "p2", "idris"
	assert.Equal(t, Recorded, turn(t, talk, press).Outcome)
	press.ID = "p3"
	assert.Equal(t, Unsure, turn(t, talk, press).Outcome, "a second press records nothing")
}

func TestEveryEditRevisesTheSameRecord(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	turn(t, talk, said("m", "nice day", 0)) // not for the bot
	for i, text := range []string{"used 2 of the seam sealer tubes", "used 3 of the seam sealer tubes", "used 4 of the seam sealer tubes"} {
		m := said("e"+string(rune('1'+i)), text, i+1)
		m.Act, m.Target = surface.Edited, "m"
		turn(t, talk, m)
	}
	assert.Contains(t, turn(t, talk, said("q", "how much seam sealer is there", 5)).Reply.Text, "3 seam sealer")
	gone := said("d", "", 6)
	gone.Act, gone.Target = surface.Deleted, "m"
	assert.Equal(t, Recorded, turn(t, talk, gone).Outcome)
	assert.Contains(t, turn(t, talk, said("q2", "how much seam sealer is there", 7)).Reply.Text, "7 seam sealer")
}

func TestOnlyAnAnswerIsAnAnswer(t *testing.T) {
	t.Parallel()
	talk := New(shop(t), ShortMemory{})
	refused := said("m", "used 90 tubes of seam sealer", 0)
	assert.Equal(t, Refused, turn(t, talk, refused).Outcome)
	for i, text := range []string{"its 5 o'clock", "can you order 5", "i need 2", "2 vans", "i saw 3 robins", "whats 600 ml in pints", "theres tea on the left", "got 2 l spare"} {
		got := turn(t, talk, said("c"+string(rune('a'+i)), text, i+1))
		assert.NotEqual(t, Recorded, got.Outcome, text)
	}
	assert.Equal(t, Recorded, turn(t, talk, said("z", "no, 3", 9)).Outcome)
}
