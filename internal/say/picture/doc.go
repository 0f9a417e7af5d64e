// Package picture draws what a person in the bay can see better than read: how
// a hung panel sits before and after its moves, the order to go round a ring or a
// head of fasteners, where on the vehicle the finds are, the hours of a job against
// their estimate, and its plan on a calendar. A picture is a PNG, 800 pixels wide,
// readable on a phone; what colour says is said in words as well. The same answer
// gives the same bytes.
//
// It may import the generated API types, the standard library's image packages
// and golang.org/x/image alone: kept by the Go team, it has a smooth rasterizer and
// an embedded font, so nothing has to be installed.
package picture

import "errors"

// Errors a caller may decide by.
var (
	ErrNothing = errors.New("nothing to draw: no finds, hours or tasks, or no gaps with their target")
	ErrNoOrder = errors.New("no usual order to draw for that fastener: use one on a wheel, flywheel, clutch, hub, head or manifold")
)
