package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/hear"
)

// want is what must come of a turn; outcome is one or several that will do.
type want struct {
	Outcome    json.RawMessage
	Requests   []wantRequest
	ReplyHas   []string `json:"reply_has"`
	ReplyLacks []string `json:"reply_lacks"`
}

type wantRequest struct {
	Kind   string
	Fields map[string]any
}

// TestCorpus holds the understanding to messages that were written before they
// were heard: at least 92 % of turns right, no wrong record, nothing said out of
// turn. The labels follow the contract's rules; each file's turns are counted.
func TestCorpus(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../testdata/corpus/*.jsonl")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			var out bytes.Buffer
			require.NoError(t, runScript(context.Background(), "-", bytes.NewReader(data), &out))
			turns, right := 0, 0
			results := bufio.NewScanner(&out)
			results.Buffer(nil, 1<<22)
			for line := range bytes.Lines(data) {
				var c struct {
					ID    string
					Turns []struct {
						Say  string
						Want want
					}
				}
				require.NoError(t, json.Unmarshal(line, &c))
				require.True(t, results.Scan(), "one line out for each line in")
				var got struct {
					ID    string
					Turns []scriptReply
				}
				require.NoError(t, json.Unmarshal(results.Bytes(), &got))
				require.Equal(t, c.ID, got.ID)
				require.Len(t, got.Turns, len(c.Turns))
				for i, turn := range c.Turns {
					turns++
					faults := turn.Want.faults(got.Turns[i])
					if len(faults) == 0 {
						right++
					} else {
						t.Logf("%s turn %d %q: %s", c.ID, i, turn.Say, strings.Join(faults, "; "))
					}
					assert.False(t, turn.Want.wronglyRecorded(got.Turns[i]), "%s turn %d %q recorded what was not said: %v", c.ID, i, turn.Say, got.Turns[i].Requests)
					if slices.Equal(turn.Want.outcomes(), []string{"silent"}) {
						assert.EqualValues(t, "silent", got.Turns[i].Outcome, "%s turn %d %q is not for the bot", c.ID, i, turn.Say)
					}
				}
			}
			require.NotZero(t, turns)
			share := 100 * float64(right) / float64(turns)
			t.Logf("%d of %d turns right, %.1f %%", right, turns, share)
			assert.GreaterOrEqual(t, share, 92.0)
		})
	}
}

func (w want) outcomes() []string {
	var one string
	if json.Unmarshal(w.Outcome, &one) == nil {
		return []string{one}
	}
	var several []string
	_ = json.Unmarshal(w.Outcome, &several)
	return several
}

// faults lists what differs; none means the turn is right.
func (w want) faults(got scriptReply) []string {
	var out []string
	outcome := string(got.Outcome)
	if !slices.Contains(w.outcomes(), outcome) {
		out = append(out, "outcome "+outcome+", wanted "+strings.Join(w.outcomes(), " or "))
	}
	carried := outcome == "done" || outcome == "answered"
	if carried || outcome == "refused" && len(w.Requests) > 0 {
		if carried && len(w.Requests) != len(got.Requests) {
			out = append(out, "another number of requests")
		}
		for i, r := range w.Requests {
			if i >= len(got.Requests) || !r.fits(got.Requests[i].Kind, got.Requests[i].Fields) {
				out = append(out, "request "+r.Kind+" differs")
			}
		}
	}
	reply := strings.ToLower(got.Reply)
	for _, h := range w.ReplyHas {
		if !slices.ContainsFunc(strings.Split(h, "|"), func(s string) bool { return strings.Contains(reply, strings.ToLower(s)) }) {
			out = append(out, "the reply lacks "+h)
		}
	}
	for _, h := range w.ReplyLacks {
		if strings.Contains(reply, strings.ToLower(h)) {
			out = append(out, "the reply has "+h)
		}
	}
	return out
}

// wronglyRecorded reports a record that nobody wanted.
func (w want) wronglyRecorded(got scriptReply) bool {
	if got.Outcome != "done" {
		return false
	}
	pool := slices.Clone(w.Requests)
	for _, r := range got.Requests {
		if !hear.IsWrite(r.Kind) {
			continue
		}
		i := slices.IndexFunc(pool, func(q wantRequest) bool { return q.fits(r.Kind, r.Fields) })
		if i < 0 {
			return true
		}
		pool = slices.Delete(pool, i, i+1)
	}
	return false
}

// loose fields hold free text: the wanted words must be in it.
var loose = []string{"text", "title", "note", "condition", "why", "source", "topic", "part", "supplier", "fastener", "task", "work"}

var wordPattern = regexp.MustCompile(`[a-z0-9]+`)

func (r wantRequest) fits(kind string, fields map[string]any) bool {
	if kind != r.Kind {
		return false
	}
	for name, value := range r.Fields {
		got := fields[name]
		if s, ok := value.(string); ok && s != "" && slices.Contains(loose, name) && got != nil {
			if !hasWords(s, got) {
				return false
			}
			continue
		}
		if !equal(value, got) {
			return false
		}
	}
	return true
}

func hasWords(wanted string, got any) bool {
	text, _ := json.Marshal(got)
	have := map[string]bool{}
	for _, w := range wordPattern.FindAllString(strings.ToLower(string(text)), -1) {
		have[strings.TrimRight(w, "s")] = true
	}
	for _, w := range wordPattern.FindAllString(strings.ToLower(wanted), -1) {
		if !have[strings.TrimRight(w, "s")] {
			return false
		}
	}
	return true
}

// equal compares numbers within 1 % and texts without case; nil wants nothing there.
func equal(wanted, got any) bool {
	switch w := wanted.(type) {
	case nil:
		return got == nil || got == ""
	case float64:
		g, ok := got.(float64)
		if s, isText := got.(string); isText {
			n, err := strconv.ParseFloat(s, 64) // a task by its number
			g, ok = n, err == nil
		}
		return ok && max(g-w, w-g) <= max(0.01*max(w, -w), 0.005)
	case string:
		g, ok := got.(string)
		return ok && strings.EqualFold(strings.TrimSpace(g), strings.TrimSpace(w))
	case bool:
		return got == w
	case []any:
		g, ok := got.([]any)
		if !ok {
			if texts, isTexts := got.([]string); isTexts {
				for _, s := range texts {
					g = append(g, s)
				}
			} else if numbers, isNumbers := got.([]float64); isNumbers {
				for _, n := range numbers {
					g = append(g, n)
				}
			}
		}
		if len(g) != len(w) {
			return false
		}
		for i := range w {
			if !equal(w[i], g[i]) {
				return false
			}
		}
		return true
	}
	return false
}
