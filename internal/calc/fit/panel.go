package fit

import "slices"

// Edge names an edge of a panel.
type Edge string

// The edges. Which four a panel has is a matter of its Plane.
const (
	Front  Edge = "front"
	Rear   Edge = "rear"
	Top    Edge = "top"
	Bottom Edge = "bottom"
	Left   Edge = "left"
	Right  Edge = "right"
)

// Plane is the way a panel lies in the vehicle. Left and right are as seen
// sitting in it.
type Plane string

// The planes.
const (
	Side Plane = "side" // a door: x forward, y up; edges front, rear, top, bottom
	Plan Plane = "plan" // a bonnet or boot lid: x forward, y left; edges front, rear, left, right
	Back Plane = "back" // a tailgate: x left, y up; edges left, right, top, bottom
)

// axes are a plane's words: its edges at greatest x, least x, greatest y and
// least y, and the ways along x, y and outward, positive first.
type axes struct {
	edges [4]Edge
	ways  [3][2]string
	latch string
}

func axesOf(p Plane) (axes, bool) {
	switch p {
	case Side:
		return axes{[4]Edge{Front, Rear, Top, Bottom}, [3][2]string{{"forward", "back"}, {"up", "down"}, {"out", "in"}}, "striker"}, true
	case Plan:
		return axes{[4]Edge{Front, Rear, Left, Right}, [3][2]string{{"forward", "back"}, {"left", "right"}, {"up", "down"}}, "latch"}, true
	case Back:
		return axes{[4]Edge{Left, Right, Top, Bottom}, [3][2]string{{"left", "right"}, {"up", "down"}, {"out", "in"}}, "latch"}, true
	}
	return axes{}, false
}

// Usual gives the plane of a panel by its name and the edge its hinges are
// usually on: door, bonnet, boot lid or tailgate. Any other is an *InputError.
func Usual(panel string) (Plane, Edge, error) {
	switch panel {
	case "door":
		return Side, Front, nil
	case "bonnet":
		return Plan, Rear, nil
	case "boot lid":
		return Plan, Front, nil
	case "tailgate":
		return Back, Top, nil
	}
	return "", "", refuse("panel", panel, "use door, bonnet, boot lid or tailgate: others do not hang on hinges")
}

// Panel is a panel's shape and where it hangs.
type Panel struct {
	Plane          Plane
	LengthMM       float64 // along x
	HeightMM       float64 // along y: up, or the width of a bonnet or boot lid
	HingeSpacingMM float64 // between the hinges, along the hinge edge
	HingeEdge      Edge
}

// Edges lists the panel's four edges, each beside its opposite.
func (p Panel) Edges() []Edge {
	ax, _ := axesOf(p.Plane)
	return ax.edges[:]
}

// frame is a panel made ready to compute with. Hinges and latch lie around the
// middle of their edges.
type frame struct {
	Panel
	axes
	acrossX  bool    // the hinge edge is crossed along x
	line     float64 // hinge edge, across
	latchAt  float64 // latch edge, across
	mid      float64 // middle of both, along
	opposite Edge    // where the latch is
}

func newFrame(p Panel) (frame, error) {
	ax, ok := axesOf(p.Plane)
	if !ok {
		return frame{}, refuse("plane", p.Plane, "use side, plan or back")
	}
	i := slices.Index(ax.edges[:], p.HingeEdge)
	if i < 0 {
		return frame{}, refuse("hinge_edge", p.HingeEdge, "use %s, %s, %s or %s", ax.edges[0], ax.edges[1], ax.edges[2], ax.edges[3])
	}
	if err := within("height_mm", p.HeightMM, leastPanelMM, mostPanelMM); err != nil {
		return frame{}, err
	}
	if err := within("length_mm", p.LengthMM, leastPanelMM, mostPanelMM); err != nil {
		return frame{}, err
	}
	f := frame{Panel: p, axes: ax, acrossX: i < 2, opposite: ax.edges[i^1]}
	across, along := p.LengthMM, p.HeightMM
	if !f.acrossX {
		across, along = along, across
	}
	// Closer than an eighth of the edge, a shim at a hinge tells nothing about the far corner.
	if err := within("hinge_spacing_mm", p.HingeSpacingMM, along/8, along); err != nil {
		return frame{}, err
	}
	f.mid = along / 2
	if i%2 == 0 {
		f.line = across
	} else {
		f.latchAt = across
	}
	return f, nil
}

// at gives the place of reading i of n on an edge: from one end to the other,
// top to bottom, front to rear or left to right; a single one is in the middle.
func (f frame) at(e Edge, i, n int) (x, y, nx, ny float64) {
	part := 0.5
	if n > 1 {
		part = 1 - float64(i)/float64(n-1)
	}
	switch slices.Index(f.edges[:], e) {
	case 0:
		return f.LengthMM, part * f.HeightMM, 1, 0
	case 1:
		return 0, part * f.HeightMM, -1, 0
	case 2:
		return part * f.LengthMM, f.HeightMM, 0, 1
	default:
		return part * f.LengthMM, 0, 0, -1
	}
}

// ends names the two ends of an edge in the order of readings.
func (f frame) ends(e Edge) (first, last Edge) {
	if slices.Index(f.edges[:], e) < 2 {
		return f.edges[2], f.edges[3]
	}
	return f.edges[0], f.edges[1]
}

// hinges names the two hinges; the first is the one at greater x or y.
func (f frame) hinges() (first, second string) {
	a, b := f.ends(f.HingeEdge)
	word := func(e Edge) string {
		switch e {
		case Top:
			return "upper hinge"
		case Bottom:
			return "lower hinge"
		}
		return string(e) + " hinge"
	}
	return word(a), word(b)
}

// Motion is a small rigid motion in plane about the origin.
type Motion struct {
	DXMM, DYMM float64
	ThetaRad   float64 // positive turns x towards y
}

// inPlane gives the motion for moves of the hinges: first and second across the
// hinge edge, both along it, in mm towards positive x and y.
func (f frame) inPlane(first, second, along float64) Motion {
	turn := (first - second) / f.HingeSpacingMM
	a := f.mid + f.HingeSpacingMM/2 // where the first hinge is
	if f.acrossX {
		return Motion{DXMM: first - turn*a, DYMM: along + turn*f.line, ThetaRad: -turn}
	}
	return Motion{DXMM: along + turn*f.line, DYMM: first - turn*a, ThetaRad: turn}
}

// outward gives how far a point comes out when the hinges come out by mid on
// average, the first by tilt more than the second, and the latch by latch.
func (f frame) outward(x, y, mid, tilt, latch float64) float64 {
	across, along := x, y
	if !f.acrossX {
		across, along = y, x
	}
	s := (across - f.line) / (f.latchAt - f.line)
	return mid*(1-s) + tilt*(along-f.mid)/f.HingeSpacingMM + latch*s
}
