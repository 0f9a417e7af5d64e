package slack

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/surface"
	"bayword/internal/surface/slack/slackfake"
)

// records are a handover's files, not in order.
func records() []surface.File {
	return []surface.File{
		{Name: "record.pdf", Data: []byte("%PDF, the record")},
		{Name: "photos/a.jpg", Data: bytes.Repeat([]byte("a photograph "), 200_000)},
		{Name: "entries.csv", Data: []byte("entry,what\n")},
	}
}

func TestHandoverStandsInTheThreadBehindItsWords(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.hand.records = records()
	ts := r.say("hand over the heron")
	posts := r.posts(bay2, 3)
	assert.Equal(t, "heard: hand over the heron", posts[0].Text)
	pdf, all := posts[1].Files[0], posts[2].Files[0]
	assert.Equal(t, []byte("%PDF, the record"), pdf.Data)
	assert.Equal(t, "handover-heron-20260310-1015.pdf", pdf.Name)
	assert.Equal(t, "handover-heron-20260310-1015.zip", all.Name)
	for _, p := range posts {
		assert.Equal(t, ts, p.Thread)
	}
	z, err := zip.NewReader(bytes.NewReader(all.Data), int64(len(all.Data)))
	require.NoError(t, err)
	got := map[string]string{}
	for _, f := range z.File {
		in, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(in)
		require.NoError(t, err)
		got[f.Name] = string(data)
	}
	want := map[string]string{}
	for _, f := range records() {
		want["handover-heron-20260310-1015/"+f.Name] = string(f.Data)
	}
	assert.Equal(t, want, got)
}

// Whatever call fails once, words, record and the whole come, and come once.
func TestHandoverComesOnceWhateverFails(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]func(*slackfake.Server){
		"no upload URL":               func(f *slackfake.Server) { f.Hang("files.getUploadURLExternal", 1) },
		"sharing is hung":             func(f *slackfake.Server) { f.Hang("files.completeUploadExternal", 1) },
		"the answer to sharing lost":  func(f *slackfake.Server) { f.LoseAnswer("files.completeUploadExternal", 1) },
		"both answers lost":           func(f *slackfake.Server) { f.LoseAnswer("files.completeUploadExternal", 2) },
		"the answer to the post lost": func(f *slackfake.Server) { f.LoseAnswer("chat.postMessage", 1) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			r.hand.records = records()
			fault(r.fake)
			r.say("hand over the heron")
			words, files := pictures(r.posts(bay2, 3))
			assert.Len(t, words, 1)
			require.Len(t, files, 2)
			assert.NotEqual(t, files[0].Files[0].Name, files[1].Files[0].Name)
		})
	}
}

func TestRestartInTheMiddleOfAHandover(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.hand.records = records()
	r.fake.LoseAnswer("files.completeUploadExternal", 1)
	r.say("hand over the heron")
	r.eventually(func() bool { return r.fake.Calls("files.completeUploadExternal") == 1 }, "the record on its way")
	r.stop()
	r.start()
	words, files := pictures(r.posts(bay2, 3))
	assert.Len(t, words, 1)
	assert.Len(t, files, 2)
}

func TestHandoverThatCannotBeMadeIsSaid(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.say("hand over the heron") // there are no records
	r.say("one")
	posts := r.posts(bay2, 2)
	assert.Equal(t, "heard: one", posts[1].Text, "nobody is held up for ever")
	require.Len(t, r.fake.Notices(), 1)
	assert.Equal(t, idris, r.fake.Notices()[0].User)
	assert.Contains(t, r.fake.Notices()[0].Text, "Ask for them again")
}

func TestZipIsTheSameForTheSameFiles(t *testing.T) {
	t.Parallel()
	files := records()
	one, err := zipped("x", files, tuesday)
	require.NoError(t, err)
	files[0], files[2] = files[2], files[0]
	two, err := zipped("x", files, tuesday)
	require.NoError(t, err)
	assert.Equal(t, one, two)
	for _, bad := range []string{"", ".", "/etc/passwd", "../x", "a//b", "a/../../b"} {
		_, err := zipped("x", []surface.File{{Name: bad}}, tuesday)
		require.Error(t, err, bad)
	}
	_, err = zipped("x", nil, tuesday)
	require.Error(t, err)
	assert.Equal(t, "---etc-Heron-2", slug("../etc Heron.2"))
	assert.NotContains(t, slug("é/\\\x00"), "/")
	assert.Len(t, strings.Trim(slug("é/\\\x00"), "-"), 0)
}
