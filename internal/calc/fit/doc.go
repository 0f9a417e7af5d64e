// Package fit answers how a panel is to be moved: readings of gap and flush along the
// edges of a door, bonnet, boot lid or tailgate become the best rigid adjustment
// at its two hinges and its striker. It is pure and may import unit and gonum only.
//
// # Model
//
// The panel is a rigid rectangle; rotations are small. Coordinates have the lower
// rear corner as origin, x forward and y up, in mm; see Plane for panels that
// are not doors. A motion (dx, dy, θ) moves a point of the edge with outward
// normal n outward by
//
//	g = n·(dx, dy) + θ·(ny·x − nx·y)
//
// and closes the gap there by as much. In plane a person has three adjustments:
// each hinge across the hinge edge, and both together along it. Out of plane
// there are three more: each hinge and the striker in or out, which carry the
// panel as a plane through three points; flush changes by that plane's height.
//
// # What is best
//
// A reading's excess is |reading − target| − tolerance. Of all adjustments within
// travel, the one with the smallest worst excess is taken; among those the one
// whose next worst is smallest, and so on until nothing is free to move; what no
// reading determines stays as it is. Each step is a linear programme (minimise t
// subject to ±(d + a·x) − tolerance ≤ t), the Chebyshev form of the fit: Boyd and
// Vandenberghe, Convex Optimization (2004), section 6.1.1. Moves are then
// brought to the step that shims allow, by trying the steps around them, and
// everything is predicted again from the rounded moves.
//
// Least squares, the usual small-angle rigid fit (Arun, Huang and Blostein, IEEE
// PAMI 9(5):698, 1987; Horn, JOSA A 4(4):629, 1987), stands beside it for
// comparison. It minimises the mean, not the worst, and knows no tolerance.
//
// # What it never does
//
// It never moves what is within tolerance, never gives moves that leave the
// readings worse than they are, and never hides what stays: every reading still
// out of tolerance is a Residual with its place, size and cause.
package fit
