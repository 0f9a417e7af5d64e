package console_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/say"
	"bayword/internal/surface"
	"bayword/internal/surface/console"
)

var tuesday = time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)

// echo says back what it hears.
type echo struct{ heard []surface.Message }

func (h *echo) Handle(_ context.Context, m surface.Message) (*say.Reply, error) {
	h.heard = append(h.heard, m)
	switch {
	case m.Act == surface.Pressed:
		return &say.Reply{Text: "Recorded."}, nil
	case m.Text == "chatter":
		return nil, nil
	case m.Text == "broken":
		return nil, errors.New("the service is away")
	case strings.HasPrefix(m.Text, "show"):
		return &say.Reply{Text: "There it is.", Picture: []byte("a picture")}, nil
	case m.Text == "hand over":
		return &say.Reply{Text: "The handover folder.", Handover: "heron"}, nil
	case strings.HasPrefix(m.Text, "which"):
		return &say.Reply{Text: "Which sill?", Choices: []say.Choice{{Label: "left", Say: "left"}, {Say: "right"}}}, nil
	}
	return &say.Reply{Text: "heard: " + m.Text}, nil
}

// chat runs a session of these lines and gives what was printed.
func chat(t *testing.T, input string) (printed string, heard []surface.Message) {
	t.Helper()
	var out bytes.Buffer
	h := &echo{}
	require.NoError(t, console.Run(t.Context(), console.Options{
		Handler: h, Person: "idris", Channel: "bay-2", In: strings.NewReader(input), Out: &out,
		Clock: func() time.Time { return tuesday },
	}))
	return out.String(), h.heard
}

func TestSessionReadsAsItWas(t *testing.T) {
	t.Parallel()
	printed, heard := chat(t, "ns sill has a hole\nchatter\n\nlast, without an end")
	assert.Equal(t, `idris in bay-2> ns sill has a hole
heard: ns sill has a hole
idris in bay-2> chatter
idris in bay-2> 
idris in bay-2> last, without an end
heard: last, without an end
idris in bay-2> 
`, printed)
	require.Len(t, heard, 3)
	assert.Equal(t, surface.Message{
		ID: heard[0].ID, Act: surface.Said, Person: "idris", Channel: "bay-2", Text: "ns sill has a hole", At: tuesday,
	}, heard[0])
	assert.NotEqual(t, heard[0].ID, heard[1].ID)
	assert.LessOrEqual(t, len(heard[0].ID), 36)
}

func TestNumberChoosesOnlyWhileChoicesAreOpen(t *testing.T) {
	t.Parallel()
	type act struct {
		act    surface.Act
		choice int
		text   string
	}
	for name, c := range map[string]struct {
		input string
		want  []act
	}{
		"nothing offered":              {"2\n", []act{{text: "2"}}},
		"the second":                   {"which\n2\n", []act{{text: "which"}, {surface.Pressed, 2, ""}}},
		"out of range is said":         {"which\n3\n", []act{{text: "which"}, {text: "3"}}},
		"nought is said":               {"which\n0\n", []act{{text: "which"}, {text: "0"}}},
		"other spellings are said":     {"which\n2.\n", []act{{text: "which"}, {text: "2."}}},
		"a leading nought is said":     {"which\n02\n", []act{{text: "which"}, {text: "02"}}},
		"open after chatter":           {"which\nchatter\n1\n", []act{{text: "which"}, {text: "chatter"}, {surface.Pressed, 1, ""}}},
		"closed by a press":            {"which\n1\n1\n", []act{{text: "which"}, {surface.Pressed, 1, ""}, {text: "1"}}},
		"closed by the next reply":     {"which\nother\n1\n", []act{{text: "which"}, {text: "other"}, {text: "1"}}},
		"closed by going elsewhere":    {"which\n/in bay-3\n1\n", []act{{text: "which"}, {text: "1"}}},
		"closed by being someone else": {"which\n/as mabel\n1\n", []act{{text: "which"}, {text: "1"}}},
		"open after a failure":         {"which\nbroken\n1\n", []act{{text: "which"}, {text: "broken"}, {surface.Pressed, 1, ""}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, heard := chat(t, c.input)
			got := []act{}
			for _, m := range heard {
				got = append(got, act{m.Act, m.Choice, m.Text})
				if m.Act == surface.Pressed {
					assert.Equal(t, heard[0].ID, m.Target)
				}
			}
			assert.Equal(t, c.want, got)
		})
	}
}

func TestChoicesAreNumbered(t *testing.T) {
	t.Parallel()
	printed, _ := chat(t, "which sill\n")
	assert.Contains(t, printed, "Which sill?\n  1  left\n  2  right\n")
}

func TestCommands(t *testing.T) {
	t.Parallel()
	printed, heard := chat(t, "/in #bay-3\none\n/as @mabel\ntwo\n/in dm\nthree\n/in\n/as two words\n/in \x1b[2J\n/dance\n/?\n/quit\nnot read\n")
	require.Len(t, heard, 3)
	assert.Equal(t, "bay-3", heard[0].Channel)
	assert.Equal(t, "mabel", heard[1].Person)
	assert.Equal(t, surface.DirectChannel, heard[2].Channel)
	for _, want := range []string{
		"idris in bay-3> ", "mabel in bay-3> ", "mabel in dm> ", "Which channel?", "As whom?", "There is no /dance", "/quit ",
	} {
		assert.Contains(t, printed, want)
	}
	assert.NotContains(t, printed, "not read")
	assert.NotContains(t, printed, "\x1b")
}

func TestMention(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in, text string
		mention  bool
	}{
		{"@bayword what's next", "what's next", true},
		{"hey @Bayword: what's next", "hey what's next", true},
		{"what's next @bayword", "what's next", true},
		{"@baywordy what's next", "@baywordy what's next", false},
		{"me@bayword", "me@bayword", false},
		{"bayword is down", "bayword is down", false},
	} {
		_, heard := chat(t, c.in+"\n")
		require.Len(t, heard, 1)
		assert.Equal(t, c.text, heard[0].Text)
		assert.Equal(t, c.mention, heard[0].Mention, c.in)
	}
}

func TestControlCharactersDoNotReachTheTerminal(t *testing.T) {
	t.Parallel()
	printed, heard := chat(t, "red \x1b[31m bell \x07 c1 \u009b2J over \u202e and \xff\r\n")
	assert.Equal(t, 2, strings.Count(printed, "red ␛[31m bell ␇ c1 \uFFFD2J over \uFFFD and \uFFFD\n"), "%q", printed)
	assert.NotContains(t, heard[0].Text, "\xff")
}

func TestVeryLongLineIsNotTaken(t *testing.T) {
	t.Parallel()
	printed, heard := chat(t, strings.Repeat("x", 1<<20)+"\nafter it\n"+strings.Repeat("y", 1<<20))
	require.Len(t, heard, 1)
	assert.Equal(t, "after it", heard[0].Text)
	assert.Equal(t, 2, strings.Count(printed, "longer than 20000 characters"))
	assert.Less(t, len(printed), 1000)
	_, heard = chat(t, strings.Repeat("z", 20_000)+"\n")
	require.Len(t, heard, 1)
	assert.Len(t, heard[0].Text, 20_000)
}

func TestFailureOfTheHandlerIsSaidAndTheChatGoesOn(t *testing.T) {
	t.Parallel()
	printed, heard := chat(t, "broken\nafter it\n")
	assert.Contains(t, printed, "the service is away")
	assert.Len(t, heard, 2)
}

func TestEndOfTheContextEndsTheChat(t *testing.T) {
	t.Parallel()
	in, w := io.Pipe() // nobody types
	defer func() { _ = w.Close() }()
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() {
		done <- console.Run(ctx, console.Options{Handler: &echo{}, Person: "idris", Channel: "bay-2", In: in, Out: io.Discard})
	}()
	cancel()
	require.NoError(t, <-done)
}

func TestFailingReaderIsAnError(t *testing.T) {
	t.Parallel()
	in, w := io.Pipe()
	_ = w.CloseWithError(errors.New("the wire is cut"))
	err := console.Run(t.Context(), console.Options{Handler: &echo{}, Person: "idris", Channel: "bay-2", In: in, Out: io.Discard})
	require.ErrorContains(t, err, "the wire is cut")
}

func TestMissingOptionsAreAnError(t *testing.T) {
	t.Parallel()
	require.Error(t, console.Run(t.Context(), console.Options{Handler: &echo{}, Person: "idris"}))
}

func FuzzRun(f *testing.F) {
	f.Add("which\n1\n/in x\n/as \x00\n/?\n")
	f.Fuzz(func(t *testing.T, input string) {
		var out bytes.Buffer
		if err := console.Run(context.Background(), console.Options{
			Handler: &echo{}, Person: "idris", Channel: "bay-2", In: strings.NewReader(input), Out: &out,
		}); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsFunc(out.String(), func(r rune) bool { return r < 0x20 && r != '\n' && r != '\t' }) {
			t.Errorf("%q prints a control character", input)
		}
	})
}

// A terminal shows no pictures: each goes to a file of its own, named on one line.
func TestPicturesAreKeptAsFiles(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var out bytes.Buffer
	require.NoError(t, console.Run(t.Context(), console.Options{
		Handler: &echo{}, Person: "idris", Channel: "bay-2", In: strings.NewReader("show me\nshow me\nno picture\n"), Out: &out,
		Clock: func() time.Time { return tuesday }, PictureDir: dir,
	}))
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	require.Len(t, files, 2)
	for _, f := range files {
		assert.Contains(t, out.String(), "There it is.\nPicture: "+f+"\n")
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		assert.Equal(t, "a picture", string(data))
	}
	assert.Equal(t, 2, strings.Count(out.String(), "Picture: "))
}

func TestPictureThatCannotBeKeptCostsNoWords(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	require.NoError(t, console.Run(t.Context(), console.Options{
		Handler: &echo{}, Person: "idris", Channel: "bay-2", In: strings.NewReader("show me\n"), Out: &out,
		PictureDir: filepath.Join(t.TempDir(), "nowhere"),
	}))
	assert.Contains(t, out.String(), "There it is.\nThe picture was not kept: ")
}
