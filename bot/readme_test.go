package main

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/hear"
)

// TestREADMESession replays the session that README shows.
func TestREADMESession(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	m := regexp.MustCompile("(?s)<!-- session: go run ./bot ([^\n]*) -->\n```\n(.*?)\n```").FindSubmatch(readme)
	require.NotNil(t, m, "README needs its session")
	var typed []string
	prompt := regexp.MustCompile(`^\w+ in [\w-]+> (.*)$`)
	for line := range strings.Lines(string(m[2])) {
		if said := prompt.FindStringSubmatch(strings.TrimRight(line, "\n")); said != nil {
			typed = append(typed, said[1])
		}
	}
	var out, errOut bytes.Buffer
	code := command(strings.Fields(string(m[1])), strings.NewReader(strings.Join(typed, "\n")+"\n"), &out, &errOut)
	require.Zero(t, code, errOut.String())
	assert.Equal(t, string(m[2]), strings.TrimRight(out.String(), "\n"))
}

// TestREADMEListsEveryKind holds the table of what to say.
func TestREADMEListsEveryKind(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	var listed []string
	for _, m := range regexp.MustCompile(`(?m)\| (\w+) \|$`).FindAllSubmatch(readme, -1) {
		if string(m[1]) != "kind" {
			listed = append(listed, string(m[1]))
		}
	}
	var kinds []string
	for k := range hear.Examples() {
		kinds = append(kinds, k)
	}
	assert.ElementsMatch(t, kinds, listed)
}

// TestCommandLine holds what a wrong command line says: one line, and what to do.
func TestCommandLine(t *testing.T) {
	t.Setenv("SLACK_BOT_TOKEN", "")
	t.Setenv("SLACK_APP_TOKEN", "")
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"a word that is no flag": {[]string{"demo"}, 2, `"demo" is not a flag`},
		"an unknown flag":        {[]string{"-colour"}, 2, "colour"},
		"server and demo":        {[]string{"-server", "127.0.0.1:1", "-demo"}, 2, "give -data, -demo and -import to that server"},
		"no server there":        {[]string{"-server", "127.0.0.1:1", "-why", "hello"}, 1, "is it running"},
		"no such script":         {[]string{"-script", "nowhere.jsonl"}, 1, "cannot read the script"},
		"no such shop file":      {[]string{"-import", "nowhere.yaml"}, 1, "cannot read the shop file"},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errOut bytes.Buffer
			assert.Equal(t, c.code, command(c.args, strings.NewReader(""), &out, &errOut))
			assert.Contains(t, errOut.String(), c.says)
		})
	}
}

func TestWhyShowsTheCompetition(t *testing.T) {
	t.Parallel()
	var out, errOut bytes.Buffer
	require.Zero(t, command([]string{"-why", "ns sill hole 120 by 40", "-in", "bay-2"}, strings.NewReader(""), &out, &errOut), errOut.String())
	for _, part := range []string{`"sill" = sill`, "120 × 40 mm", "RecordFind", "job=heron"} {
		assert.Contains(t, out.String(), part)
	}
}

func TestAScriptLineThatIsNone(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	err := runScript(t.Context(), "-", strings.NewReader("{\"id\":\"a\",\"turns\":[]}\nnot json\n"), &out)
	require.ErrorContains(t, err, "line 2 of the script")
}
