package slack

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/surface/slack/slackfake"
)

// pictures are the bot's posts that hold a file, the others its words.
func pictures(posts []slackfake.Message) (words, files []slackfake.Message) {
	for _, p := range posts {
		if len(p.Files) > 0 {
			files = append(files, p)
		} else {
			words = append(words, p)
		}
	}
	return words, files
}

func TestPictureStandsInTheThreadBehindItsWords(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("show me the door")
	posts := r.posts(bay2, 2)
	assert.Equal(t, "heard: show me the door", posts[0].Text)
	require.Len(t, posts[1].Files, 1)
	file := posts[1].Files[0]
	assert.Equal(t, png, file.Data)
	assert.Equal(t, "heard: show me the door", file.Title)
	assert.Equal(t, "heard: show me the door", file.Alt, "its words, for who cannot see it")
	assert.Equal(t, ts, posts[1].Thread)
	assert.Equal(t, []string{"show me the door"}, r.hand.texts(), "its own picture is not heard")
	_, noted, err := r.box.Load(t.Context(), wordsKey+bay2+":"+ts)
	require.NoError(t, err)
	assert.False(t, noted, "nothing is left of the note")
}

// Whatever call fails once, words and picture come, and come once.
func TestPictureComesOnceWhateverFails(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]func(*slackfake.Server){
		"no upload URL":               func(f *slackfake.Server) { f.Hang("files.getUploadURLExternal", 1) },
		"too many uploads":            func(f *slackfake.Server) { f.RateLimit("files.getUploadURLExternal", 1, 1) },
		"sharing is hung":             func(f *slackfake.Server) { f.Hang("files.completeUploadExternal", 1) },
		"the answer to sharing lost":  func(f *slackfake.Server) { f.LoseAnswer("files.completeUploadExternal", 1) },
		"the answer to the post lost": func(f *slackfake.Server) { f.LoseAnswer("chat.postMessage", 1) },
		"the platform is unwell":      func(f *slackfake.Server) { f.Refuse("files.completeUploadExternal", 2, "internal_error") },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			fault(r.fake)
			r.say("show me the door")
			words, files := pictures(r.posts(bay2, 2))
			assert.Len(t, words, 1)
			assert.Len(t, files, 1)
		})
	}
}

// The bot is stopped while the picture is on its way; the next run goes on with it.
func TestRestartBetweenWordsAndPicture(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]func(*slackfake.Server, int){
		"before it was shared":           func(f *slackfake.Server, n int) { f.Hang("files.completeUploadExternal", n) },
		"after it was shared, not noted": func(f *slackfake.Server, n int) { f.LoseAnswer("files.completeUploadExternal", n) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			fault(r.fake, 1)
			r.say("show me the door")
			r.eventually(func() bool { return r.fake.Calls("files.completeUploadExternal") == 1 }, "the picture on its way")
			r.stop()
			r.start()
			words, files := pictures(r.posts(bay2, 2))
			assert.Len(t, words, 1)
			assert.Len(t, files, 1)
		})
	}
}

func TestWithoutItsScopeTheWordsComeAlone(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Revoke("files:write")
	r.say("show me the door")
	r.say("one")
	posts := r.posts(bay2, 2)
	assert.Equal(t, "heard: show me the door", posts[0].Text)
	assert.Equal(t, "heard: one", posts[1].Text, "nobody is held up")
	assert.Equal(t, 1, r.fake.Calls("files.getUploadURLExternal"), "not asked for again")
}

// A picture that never gets through is given up; the channel goes on.
func TestPictureIsGivenUpInTheEnd(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Refuse("files.completeUploadExternal", 1000, "internal_error")
	r.say("show me the door")
	r.say("one")
	words, files := pictures(r.posts(bay2, 2))
	assert.Len(t, words, 2)
	assert.Empty(t, files)
	assert.Equal(t, fileTries, r.fake.Calls("files.completeUploadExternal"))
}

func TestPictureOfAnEditIsShownToo(t *testing.T) {
	t.Parallel()
	r := run(t)
	ts := r.say("one")
	r.posts(bay2, 1)
	r.fake.Edit(bay2, ts, "show me the door")
	posts := r.posts(bay2, 2)
	assert.Equal(t, "heard: show me the door", posts[0].Text, "the words are changed")
	assert.Equal(t, png, posts[1].Files[0].Data)
	assert.Equal(t, ts, posts[1].Thread)
}
