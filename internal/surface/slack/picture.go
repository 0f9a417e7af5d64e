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
// files are still to be uploaded.
const wordsKey = "slack/words/"

// fileTries is how often a reply's files are tried. They stand beside its words, which
// say what counts, and must not hold up their channel for ever.
const fileTries = 8

// large is from how many bytes on an upload is given more time.
const large = 1 << 20

// attachment is a file that stands beside the words of a reply.
type attachment struct {
	name       string // says which reply it belongs to
	title, alt string
	data       []byte
}

// attached reports whether a reply has files beside its words.
func (s *Surface) attached(e inbox.Entry) bool {
	return len(e.Reply.Picture) > 0 || e.Reply.Handover != "" && s.cfg.Files != nil
}

// attachments gives the files of a reply, in the order they are shown.
func (s *Surface) attachments(ctx context.Context, e inbox.Entry) (out []attachment, err error) {
	if len(e.Reply.Picture) > 0 {
		title, _, _ := strings.Cut(e.Reply.Text, "\n")
		out = append(out, attachment{
			name: pictureName(e.Message.ID), title: title, alt: e.Reply.Text, // the words, for who cannot see it
			data: e.Reply.Picture,
		})
	}
	if e.Reply.Handover == "" || s.cfg.Files == nil {
		return out, nil
	}
	files, err := s.handover(ctx, e)
	return append(out, files...), err
}

// postBoth shows a reply that has files. That its words are posted is noted
// in the inbox, so that a second try, in a later run too, goes on with the files.
// A file that may have been uploaded is looked for in the thread by its name
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
		if ts == "" { // refused: a file without its words says too little
			return s.cfg.Inbox.Sent(ctx, id, "")
		}
		if err := s.cfg.Inbox.Save(ctx, wordsKey+id, []byte(ts)); err != nil {
			return err
		}
	}
	if err := s.attach(ctx, e, again); err != nil {
		if ctx.Err() != nil || judge(err) != refused && !lacksScope(err) && try+1 < fileTries {
			return fmt.Errorf("upload the files: %w", err)
		}
		s.log.Error("files are not shown; the app needs the bot scope files:write", "message", id, "err", err)
		if e.Reply.Handover != "" && !ownNotice(id) {
			s.tell(ctx, e.Message, "The files could not be put here. Ask for them again later; nothing that is on record is touched.")
		}
	}
	if err := s.cfg.Inbox.Sent(ctx, id, ts); err != nil {
		return err
	}
	return s.cfg.Inbox.Save(ctx, wordsKey+id, nil)
}

// attach uploads the files of a reply.
func (s *Surface) attach(ctx context.Context, e inbox.Entry, again bool) error {
	list, err := s.attachments(ctx, e)
	for _, a := range list { // what there is, though another could not be made
		if err := s.upload(ctx, e, a, again); err != nil {
			return err
		}
	}
	return err
}

// upload puts a file into the thread of a reply, unless again is true and it
// stands there.
func (s *Surface) upload(ctx context.Context, e inbox.Entry, a attachment, again bool) error {
	if again {
		ts, err := s.own(ctx, e.Message, func(m slack.Message) bool {
			return slices.ContainsFunc(m.Files, func(f slack.File) bool { return f.Name == a.name })
		})
		if err != nil || ts != "" {
			return err
		}
	}
	channel, thread := place(e.Message)
	client := s.api
	if len(a.data) > large {
		client = s.files
	}
	_, err := client.UploadFileContext(ctx, slack.UploadFileParameters{
		Channel: channel, ThreadTimestamp: thread, Filename: a.name, FileSize: len(a.data), Reader: bytes.NewReader(a.data),
		Title: cut(a.title, 80), AltTxt: cut(a.alt, 1000),
	})
	return err
}

// pictureName is the name of a reply's picture.
func pictureName(id string) string { return "bayword-" + digest(id) + ".png" }

func lacksScope(err error) bool { return strings.Contains(err.Error(), "missing_scope") }
