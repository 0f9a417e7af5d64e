package slack

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/surface"
	"bayword/internal/surface/slack/slackfake"
)

// shot is a photograph of n bytes, as the platform has it.
func shot(name string, n int) slackfake.File {
	return slackfake.File{Name: name, Type: "image/jpeg", Data: bytes.Repeat([]byte{7}, n)}
}

// share says a text as idris in bay-2, with files.
func (r *rig) share(text string, files ...slackfake.File) string {
	return r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: text, Subtype: "file_share", Files: files})
}

func TestPhotographsAreKeptBeforeTheMessageIsHandled(t *testing.T) {
	t.Parallel()
	r := run(t)
	png := shot("b.png", 12)
	png.Type = "image/png"
	r.share("ns sill has a hole", shot("a.jpg", 11), slackfake.File{Name: "notes.txt", Type: "text/plain", Data: []byte("x")}, png)
	r.posts(bay2, 1)
	m := r.hand.got()[0]
	assert.Equal(t, []string{"a.jpg", "notes.txt", "b.png"}, m.Files)
	assert.Equal(t, []surface.Photo{{Name: "a.jpg", SHA256: "kept-11"}, {Name: "b.png", SHA256: "kept-12"}}, m.Photos)
	assert.Equal(t, png.Data, r.hand.kept["kept-12"])
	assert.Equal(t, 2, r.fake.Calls(slackfake.Download), "only photographs are fetched")
}

func TestWhatCannotBeKeptIsAName(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		file  func() slackfake.File
		spoil func(*rig)
		want  surface.Photo
	}{
		"too large":                    {func() slackfake.File { return shot("a.jpg", surface.MaxPhoto+1) }, nil, surface.Photo{Name: "a.jpg"}},
		"too large, a smaller copy":    {func() slackfake.File { f := shot("a.jpg", surface.MaxPhoto+1); f.Small = []byte("small"); return f }, nil, surface.Photo{Name: "a.jpg", SHA256: "kept-5"}},
		"just not too large":           {func() slackfake.File { return shot("a.jpg", surface.MaxPhoto) }, nil, surface.Photo{Name: "a.jpg", SHA256: fmt.Sprint("kept-", surface.MaxPhoto)}},
		"elsewhere":                    {func() slackfake.File { f := shot("a.jpg", 0); f.Data = nil; return f }, nil, surface.Photo{Name: "a.jpg"}},
		"the scope is missing":         {func() slackfake.File { return shot("a.jpg", 9) }, func(r *rig) { r.fake.Revoke("files:read") }, surface.Photo{Name: "a.jpg"}},
		"refused once":                 {func() slackfake.File { return shot("a.jpg", 9) }, func(r *rig) { r.fake.Refuse(slackfake.Download, 1, "x") }, surface.Photo{Name: "a.jpg", SHA256: "kept-9"}},
		"refused again and again":      {func() slackfake.File { return shot("a.jpg", 9) }, func(r *rig) { r.fake.Refuse(slackfake.Download, 99, "x") }, surface.Photo{Name: "a.jpg"}},
		"hung once":                    {func() slackfake.File { return shot("a.jpg", 9) }, func(r *rig) { r.fake.Hang(slackfake.Download, 1) }, surface.Photo{Name: "a.jpg", SHA256: "kept-9"}},
		"the place for it fails twice": {func() slackfake.File { return shot("a.jpg", 9) }, func(r *rig) { r.hand.unkept = 2 }, surface.Photo{Name: "a.jpg", SHA256: "kept-9"}},
		"the place for it is gone":     {func() slackfake.File { return shot("a.jpg", 9) }, func(r *rig) { r.hand.unkept = 99 }, surface.Photo{Name: "a.jpg"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := run(t)
			if c.spoil != nil {
				c.spoil(r)
			}
			r.share("ns sill has a hole", c.file())
			r.posts(bay2, 1)
			require.Len(t, r.hand.got(), 1)
			assert.Equal(t, []surface.Photo{c.want}, r.hand.got()[0].Photos)
		})
	}
}

// What will never be kept holds up no answer.
func TestPhotographNotTakenIsTriedOnce(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.hand.refuse = surface.NotTaken("the shop does not know them")
	r.share("ns sill has a hole", shot("a.jpg", 9))
	r.posts(bay2, 1)
	assert.Equal(t, []surface.Photo{{Name: "a.jpg"}}, r.hand.got()[0].Photos)
	assert.Equal(t, 1, r.fake.Calls(slackfake.Download))
}

func TestOnlySoManyPhotographsOfOneMessage(t *testing.T) {
	t.Parallel()
	r := run(t)
	var files []slackfake.File
	for i := range surface.MaxPhotos + 2 {
		files = append(files, shot(fmt.Sprint(i, ".jpg"), 20+i))
	}
	r.share("ns sill has a hole", files...)
	r.posts(bay2, 1)
	photos := r.hand.got()[0].Photos
	require.Len(t, photos, surface.MaxPhotos+2)
	for i, p := range photos {
		assert.Equal(t, i < surface.MaxPhotos, p.SHA256 != "", "photograph %d", i)
	}
	assert.Len(t, r.hand.kept, surface.MaxPhotos)
}

func TestPhotographsWithoutWordsAndFromTheHistory(t *testing.T) {
	t.Parallel()
	r := run(t)
	r.fake.Offline(true)
	r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Subtype: "file_share", Files: []slackfake.File{shot("a.jpg", 8)}, Silent: true})
	r.fake.Offline(false)
	r.posts(bay2, 1)
	assert.Equal(t, []surface.Photo{{Name: "a.jpg", SHA256: "kept-8"}}, r.hand.got()[0].Photos)
}

// The token goes to the platform alone, whatever an event says.
func TestTokenIsNotGivenToOtherHosts(t *testing.T) {
	t.Parallel()
	elsewhere := slackfake.New(tuesday)
	t.Cleanup(elsewhere.Close)
	r := run(t)
	ts := r.fake.Say(slackfake.Said{Channel: bay2, User: idris, Text: "look", Files: []slackfake.File{shot("a.jpg", 8)}, Silent: true})
	event := r.fake.MessageEvent(bay2, ts)
	event["files"].([]any)[0].(map[string]any)["url_private_download"] = elsewhere.URL + "/file/C1/1.1/0/whole"
	r.fake.Event(event)
	r.posts(bay2, 1)
	assert.Equal(t, []surface.Photo{{Name: "a.jpg"}}, r.hand.got()[0].Photos)
	assert.Zero(t, elsewhere.Calls(slackfake.Download))
}
