// Package surface says what a chat surface (a terminal, a chat platform) hands
// to the conversation and what it gets back. It holds the shapes alone; the
// surfaces themselves are its sub-packages. It may import say.
package surface

import (
	"context"
	"time"

	"bayword/internal/say"
)

// Act is what a person did.
type Act int

// The acts a surface can report.
const (
	Said    Act = iota // a new message
	Edited             // the text of Target was changed; Text is the new text
	Deleted            // Target was deleted
	Pressed            // choice number Choice (from 1) of the reply Target was pressed
)

// DirectChannel is the Channel of a direct message to the bot.
const DirectChannel = "dm"

// Message is one act of one person, in the shop's own names. Its ID is unique
// for ever on that surface: the same act delivered twice has the same ID.
type Message struct {
	ID      string    `json:"id"`
	Act     Act       `json:"act"`
	Person  string    `json:"person"`            // shop id, or the surface's own id when the shop does not know the person
	Channel string    `json:"channel"`           // shop channel id, or DirectChannel
	Thread  string    `json:"thread,omitempty"`  // ID of the message that began the thread, if said in one
	Target  string    `json:"target,omitempty"`  // for Edited, Deleted: ID of that message; for Pressed: ID of the message the reply answered ("" means the newest reply with choices)
	Choice  int       `json:"choice,omitempty"`  // for Pressed, from 1
	Text    string    `json:"text,omitempty"`    // plain text, mentions of the bot removed
	Files   []string  `json:"files,omitempty"`   // names of attached files, photographs among them
	Photos  []Photo   `json:"photos,omitempty"`  // the photographs among the attached files
	Mention bool      `json:"mention,omitempty"` // the message mentions the bot
	At      time.Time `json:"at"`                // when it was said, in the shop's time zone
}

// Most of photographs that a surface takes: a larger one, or one too many, is a
// name and nothing else.
const (
	MaxPhoto  = 3 << 20 // bytes of one
	MaxPhotos = 10      // of one message
)

// Photo is a photograph that came with a message.
type Photo struct {
	Name   string `json:"name"`             // file name as given
	SHA256 string `json:"sha256,omitempty"` // of its content, in hexadecimal; "" when the content was not kept
	URL    string `json:"url,omitempty"`    // where the surface still has to fetch it; "" for the handler
}

// Keep stores the content of a photograph that a person gives and names it by its
// SHA-256, in hexadecimal. Keeping it twice is keeping it once.
type Keep func(ctx context.Context, person string, data []byte) (sha256 string, err error)

// NotTaken says, to people, why a photograph is not kept. Trying again does not
// help.
type NotTaken string

func (e NotTaken) Error() string { return string(e) }

// File is one file to hand over. Its name may hold folders, with slashes.
type File struct {
	Name string
	Data []byte
}

// Files gives the files of a job to hand over, and a name for them together
// that can name a folder.
type Files func(ctx context.Context, job string) (name string, files []File, err error)

// Handler turns a message into a reply. A nil reply means: say nothing. It is
// called once or more for the same message; the second call has no further
// effect and gives the first reply.
type Handler interface {
	Handle(ctx context.Context, m Message) (*say.Reply, error)
}
