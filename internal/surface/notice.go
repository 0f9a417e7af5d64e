package surface

import (
	"context"
	"errors"

	"bayword/internal/say"
)

// Notice is something that the shop says by itself.
type Notice struct {
	ID      string // unique for ever
	Channel string // shop channel id, or DirectChannel
	Person  string // shop id of who it is for: the one to write to when Channel is DirectChannel
	Reply   say.Reply
}

// Why a notice was not shown.
var (
	// ErrElsewhere means that it is not for who is here now. Another time it may be.
	ErrElsewhere = errors.New("the notice is for somewhere else")
	// ErrNowhere means that the surface has no such channel or person, or may not
	// write to them.
	ErrNowhere = errors.New("the notice has nowhere to go")
)

// Announcer shows notices.
type Announcer interface {
	// Announce shows a notice and returns when it stands there. However often it
	// is called for one notice, the notice is shown once; one that was shown
	// before gives nil. After an error that is neither ErrElsewhere nor ErrNowhere
	// it may still be shown, and is to be announced again.
	Announce(ctx context.Context, n Notice) error
}
