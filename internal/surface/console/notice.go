package console

import (
	"context"

	"bayword/internal/surface"
)

// Announce prints a notice that is for the one who types or for the channel they
// are in. For others it is surface.ErrElsewhere: they may be here later.
func (c *chat) Announce(ctx context.Context, n surface.Notice) error {
	c.here.Lock()
	defer c.here.Unlock()
	switch {
	case c.told[n.ID]:
		return nil
	case n.Person == c.Person:
	case n.Channel == c.Channel && n.Channel != surface.DirectChannel:
	default:
		return surface.ErrElsewhere
	}
	reply := n.Reply
	reply.Choices = nil // a number would choose of the reply before
	c.show(ctx, &reply)
	c.told[n.ID] = true
	return nil
}
