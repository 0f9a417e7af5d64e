package slack

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/slack-go/slack"

	"bayword/internal/inbox"
)

// wordsKey + message ID → ts of the post with a reply's words, while its
// picture is still to be uploaded.
const wordsKey = "slack/words/"

// pictureTries is how often a picture is tried. It stands beside its words, which
// say what counts, and must not hold up its channel for ever.
const pictureTries = 8

// postBoth shows a reply that has a picture. That its words are posted is noted
// in the inbox, so that a second try, in a later run too, goes on with the picture.
// A picture that may have been uploaded is looked for in the thread by its name
// first. It can still come twice: when its upload was carried out, its answer lost, and
// the thread does not show it yet at the next try.
func (s *Surface) postBoth(ctx context.Context, e inbox.Entry, try int) error {
	id := e.Message.ID
	note, again, err := s.cfg.Inbox.Load(ctx, wordsKey+id)
	if err != nil {
		return err
	}
	again = again || s.doubt(id)
	ts := string(note)
	if ts == "" {
		if ts, err = s.say(ctx, e); err != nil {
			return err
		}
		if ts == "" { // refused: a picture without its words says too little
			return s.cfg.Inbox.Sent(ctx, id, "")
		}
		if err := s.cfg.Inbox.Save(ctx, wordsKey+id, []byte(ts)); err != nil {
			return err
		}
	}
	if err := s.upload(ctx, e, again); err != nil {
		if ctx.Err() != nil || judge(err) != refused && !lacksScope(err) && try+1 < pictureTries {
			return fmt.Errorf("upload the picture: %w", err)
		}
		s.log.Error("a picture is not shown; the app needs the bot scope files:write", "message", id, "err", err)
	}
	if err := s.cfg.Inbox.Sent(ctx, id, ts); err != nil {
		return err
	}
	return s.cfg.Inbox.Save(ctx, wordsKey+id, nil)
}

// upload puts the picture of a reply into its thread, unless again is true and it
// stands there.
func (s *Surface) upload(ctx context.Context, e inbox.Entry, again bool) error {
	channel, thread := place(e.Message)
	name := pictureName(e.Message.ID)
	if again {
		ts, err := s.own(ctx, channel, thread, func(m slack.Message) bool {
			return slices.ContainsFunc(m.Files, func(f slack.File) bool { return f.Name == name })
		})
		if err != nil || ts != "" {
			return err
		}
	}
	title, _, _ := strings.Cut(e.Reply.Text, "\n")
	_, err := s.api.UploadFileContext(ctx, slack.UploadFileParameters{
		Channel: channel, ThreadTimestamp: thread, Filename: name, FileSize: len(e.Reply.Picture), Reader: bytes.NewReader(e.Reply.Picture),
		Title: cut(title, 80), AltTxt: cut(e.Reply.Text, 1000), // the words, for who cannot see it
	})
	return err
}

// pictureName is the file's name: it says which reply it belongs to.
func pictureName(id string) string { return "bayword-" + digest(id) + ".png" }

func lacksScope(err error) bool { return strings.Contains(err.Error(), "missing_scope") }
