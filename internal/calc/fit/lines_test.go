package fit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLines(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		in   Input
		want string
	}{
		{"nothing measured", door(), `
Nothing is measured yet.
Measure the gap along the rear and front edges, in 3 places, to see how far it can go forward or back.
Measure the gap along the bottom edge, in 3 places, to see how far it can go up or down.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
		{"one edge", door(edge(Rear, 4, 0.2, gaps(4.5, 4, 3.5))), `
Too little is measured to say how to move it.
Stays out in 2 places, too few edges are measured to cure it: top rear corner (rear edge) 0.5 wide, 0.3 over; bottom rear corner (rear edge) 0.5 tight, 0.3 over.
Measure the gap along the front edge, in 3 places, to see how far it can go forward or back.
Measure the gap along the bottom edge, in 3 places, to see how far it can go up or down.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
		{"all well", door(edge(Rear, 4, 0.5, gaps(4.2, 4, 3.8)), edge(Front, 4, 0.5, gaps(3.9, 4.1)), edge(Bottom, 5, 0.7, gaps(5.2, 5))), `
All that was measured is within tolerance: leave it as it is.
Gap as it is: rear 3.8–4.2, front 3.9–4.1, bottom 5.0–5.2.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
		{"dropped and low", door(
			edge(Rear, 4, 0.5, gaps(3.4, 4, 4.7), flushes(-1.6, -1.2, -1)),
			edge(Front, 4, 0.5, gaps(4.5, 4.1, 3.4), flushes(0.1, 0.2, 0.2)),
			edge(Bottom, 5, 0.7, gaps(4.6, 3.8, 2.9))), `
Upper hinge 0.3 mm forward, 0.2 mm up, 0.1 mm in.
Lower hinge 0.4 mm back, 0.2 mm up, 0.3 mm in.
Striker 1.3 mm out, 2.2 mm up to follow the panel.
Gap after that: rear 3.9–4.1, front 4.0–4.1, bottom 4.8–5.1.
Flush after that: rear −0.1 to +0.1, front −0.2 to +0.1.
Not measured: the top edge closes 0.2 at the front, closes 2.2 at the rear. Check it before tightening.`},
		{"one corner proud of its line", door(
			edge(Rear, 4, 0.5, gaps(5.2, 5.1, 5.2)),
			edge(Front, 4, 0.5, gaps(2.9, 2.8, 1.3)),
			edge(Bottom, 5, 0.7, gaps(5, 5.1, 5))), `
Upper hinge 1.3 mm back, 0.7 mm down.
Lower hinge 1.8 mm back, 0.7 mm down.
Striker 0.7 mm up to follow the panel.
Gap after that: rear 3.2–4.1, front 3.3–4.3, bottom 4.3–5.7.
Stays out in 2 places, that is metal, not hinges: bottom rear corner (rear edge) 0.8 tight, 0.3 over; bottom front corner (front edge) 0.7 tight, 0.2 over.
Bottom rear corner (bottom edge): stays 0.7 wide, 0.02 over tolerance: finer shims would cure it.
Or give up one place: upper hinge 1.2 mm back; lower hinge 1.2 mm back. Then the bottom front corner (front edge) stays 1.5 tight, that is metal, and every other gap is within tolerance.
Not measured: the top edge opens 0.7 at the front, closes 0.7 at the rear. Check it before tightening.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
		{"too short", door(edge(Rear, 4, 0.5, gaps(5, 5)), edge(Front, 4, 0.5, gaps(5, 5)), edge(Bottom, 5, 0.7, gaps(5, 5))), `
No move within travel makes it better: leave it as it is.
Gap as it is: rear 5.0, front 5.0, bottom 5.0.
Stays out in 4 places, that is metal, not hinges: top rear corner (rear edge) 1.0 wide, 0.5 over; bottom rear corner (rear edge) 1.0 wide, 0.5 over; top front corner (front edge) 1.0 wide, 0.5 over; bottom front corner (front edge) 1.0 wide, 0.5 over.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
		{"two edges", door(edge(Rear, 4, 0.5, gaps(3, 4, 5)), edge(Front, 4, 0.5, gaps(5, 4, 3))), `
Upper hinge 0.6 mm forward.
Lower hinge 0.6 mm back.
Striker 3.4 mm up to follow the panel.
Gap after that: rear 4.0, front 4.0.
Not measured: the top edge is unchanged at the front, closes 3.4 at the rear. Check it before tightening.
Not measured: the bottom edge is unchanged at the front, opens 3.4 at the rear. Check it before tightening.
Measure the gap along the bottom edge, in 3 places, to see how far it can go up or down.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
		{"thick shims, little travel", func() Input {
			in := door(edge(Rear, 4, 0.2, gaps(5.5, 5.5)), edge(Front, 4, 0.2, gaps(2.5, 2.5)), edge(Bottom, 5, 0.7, gaps(5, 5)))
			in.StepMM, in.Travel = 0.8, &Travel{First: HingeTravel{Across: Range{-1, 1}}, Second: HingeTravel{Across: Range{-1, 1}}}
			return in
		}(), `
Upper hinge 0.8 mm back.
Lower hinge 0.8 mm back.
Gap after that: rear 4.7, front 3.3, bottom 5.0.
Stays out in 4 places, there is not the travel left to cure it: top rear corner (rear edge) 0.7 wide, 0.5 over; bottom rear corner (rear edge) 0.7 wide, 0.5 over; top front corner (front edge) 0.7 tight, 0.5 over; bottom front corner (front edge) 0.7 tight, 0.5 over.
Measure the flush along the rear and front edges, in 3 places, to see what to move out or in.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, strings.TrimSpace(c.want), strings.Join(solved(t, c.in).Lines(), "\n"))
		})
	}
}
