package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/hear"
	"bayword/internal/ledger"
	"bayword/internal/talk"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

var update = flag.Bool("update", false, "write what the bot says now into the files that hold what it should say")

// said is a line of a conversation: «idris in bay-2> …», «mabel in stores (edit 0)> …».
var said = regexp.MustCompile(`^(\w+) in ([\w-]+)(?: \(([^)]*)\))?>(.*)$`)

// TestConversations replays every conversation under testdata/conversations
// against a fresh demo shop. A blank line begins a new one. After each message
// stand its outcome, its requests and the reply.
func TestConversations(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../testdata/conversations/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			got := replay(t, string(data))
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
				return
			}
			assert.Equal(t, string(data), got)
		})
	}
}

// TestEveryKindHasAConversation holds the fifth of the five places of a kind.
func TestEveryKindHasAConversation(t *testing.T) {
	t.Parallel()
	for kind := range hear.Examples() {
		name := snake(kind) + ".txt"
		data, err := os.ReadFile(filepath.Join("../testdata/conversations", name))
		require.NoError(t, err, "every kind needs a conversation of its own")
		assert.Contains(t, string(data), " "+kind+" {", "%s never reaches %s", name, kind)
	}
}

func snake(kind string) string {
	return strings.ToLower(regexp.MustCompile(`([a-z])([A-Z])`).ReplaceAllString(kind, "${1}_${2}"))
}

// replay returns the text with every outcome, request and reply as they are now.
func replay(t *testing.T, text string) string {
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	var out []string
	for n, block := range strings.Split(strings.TrimSpace(text), "\n\n") {
		if n > 0 {
			out = append(out, "")
		}
		c := conversation{ID: strconv.Itoa(n)}
		var lines []string // the kept lines, one for each turn, comments before it included
		var before []string
		for line := range strings.Lines(block) {
			line = strings.TrimRight(line, "\n")
			m := said.FindStringSubmatch(line)
			switch {
			case m != nil:
				c.Turns = append(c.Turns, turnOf(t, m))
				lines = append(lines, strings.Join(append(before, line), "\n"))
				before = nil
			case strings.HasPrefix(line, "#"):
				before = append(before, line)
			}
		}
		data, err := json.Marshal(c)
		require.NoError(t, err)
		result, err := converse(context.Background(), data, zone)
		require.NoError(t, err)
		var replies struct{ Turns []scriptReply }
		require.NoError(t, json.Unmarshal(result, &replies))
		for i, r := range replies.Turns {
			out = append(out, lines[i], "= "+string(r.Outcome))
			for _, q := range r.Requests {
				fields, err := json.Marshal(q.Fields)
				require.NoError(t, err)
				out = append(out, fmt.Sprintf("= %s %s %s", strings.Repeat(" ", 3), q.Kind, fields))
			}
			if r.Reply != "" {
				for l := range strings.SplitSeq(r.Reply, "\n") {
					out = append(out, "  "+l)
				}
			}
			for k, choice := range r.Choices {
				out = append(out, fmt.Sprintf("  [%d] %s", k+1, choice))
			}
		}
	}
	return strings.Join(out, "\n") + "\n"
}

func turnOf(t *testing.T, m []string) scriptTurn {
	turn := scriptTurn{Who: m[1], In: m[2], Say: strings.ReplaceAll(strings.TrimSpace(m[4]), `\n`, "\n")}
	for part := range strings.SplitSeq(m[3], ", ") {
		what, value, _ := strings.Cut(part, " ")
		number := func() *int {
			n, err := strconv.Atoi(value)
			require.NoError(t, err, m[0])
			return &n
		}
		switch what {
		case "":
		case "edit":
			turn.EditOf = number()
		case "delete":
			turn.DeleteOf = number()
		case "thread":
			turn.ThreadOf = number()
		case "press":
			turn.Press = *number()
		case "at":
			turn.At = value
		case "files":
			turn.Files = strings.Fields(value)
		default:
			t.Fatalf("%q: edit, delete, thread, press, at and files are known", part)
		}
	}
	return turn
}

// TestEveryRPCHasItsFivePlaces walks the kinds that the service takes: an RPC
// stands in proto and service, and needs its files in hear, say and testdata.
func TestEveryRPCHasItsFivePlaces(t *testing.T) {
	t.Parallel()
	conn, stop, err := inProcess(t.Context(), ledger.NewMemory(), "shop.yaml", demo.ShopYAML, time.Now)
	require.NoError(t, err)
	t.Cleanup(stop)
	names, err := pb.NewVocabularyServiceClient(conn).GetVocabulary(t.Context(), &pb.GetVocabularyRequest{})
	require.NoError(t, err)
	require.NotEmpty(t, names.GetKinds())
	assert.Len(t, hear.Examples(), len(names.GetKinds()), "hear listens for what the service takes, and for nothing else")
	for _, kind := range names.GetKinds() {
		file := snake(kind)
		if kind == "ListWindows" {
			file += "_of_coats" // a name that ends in _windows is built on one system alone
		}
		assert.NotEmpty(t, hear.Examples()[kind], "%s has no example sentence", kind)
		assert.FileExists(t, "../internal/hear/"+file+".go")
		assert.FileExists(t, "../internal/say/"+file+".go")
		assert.FileExists(t, "../testdata/conversations/"+snake(kind)+".txt")
	}
}

// TestNoTorqueIsComputedForWhatALifeHangsOn asks for every safety-critical word,
// and goes on from the refusal: no answer may come.
func TestNoTorqueIsComputedForWhatALifeHangsOn(t *testing.T) {
	t.Parallel()
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	words := hear.CriticalWords()
	require.NotEmpty(t, words)
	for _, word := range words {
		line, err := json.Marshal(conversation{ID: word, Turns: []scriptTurn{
			{Who: "tomasz", In: "dm", Say: "m10 8.8 dry for the " + word + ", what torque"},
			{Who: "tomasz", In: "dm", Say: "and for 10.9"},
		}})
		require.NoError(t, err)
		result, err := converse(t.Context(), line, zone)
		require.NoError(t, err)
		var got struct{ Turns []scriptReply }
		require.NoError(t, json.Unmarshal(result, &got))
		for _, turn := range got.Turns {
			assert.NotEqual(t, talk.Answered, turn.Outcome, "%s: %s", word, turn.Reply)
		}
		assert.Equal(t, talk.Refused, got.Turns[0].Outcome, word)
	}
}
