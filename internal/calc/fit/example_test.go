package fit_test

import (
	"fmt"

	"bayword/internal/calc/fit"
)

// A coupe's door hangs a millimetre too far forward and half a millimetre low.
func ExampleSolve() {
	r, err := fit.Solve(fit.Input{
		Panel: fit.Panel{Plane: fit.Side, LengthMM: 1080, HeightMM: 620, HingeSpacingMM: 380, HingeEdge: fit.Front},
		Edges: []fit.EdgeReading{
			{Edge: fit.Front, GapMM: []float64{3, 3, 3}, TargetMM: 4, ToleranceMM: 0.5},
			{Edge: fit.Rear, GapMM: []float64{5, 5, 5}, TargetMM: 4, ToleranceMM: 0.5},
			{Edge: fit.Bottom, GapMM: []float64{4.5, 4.5}, TargetMM: 5, ToleranceMM: 0.7},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range r.Moves {
		fmt.Println(m.At, m.MM, m.Way)
	}
	// Output:
	// upper hinge 1 back
	// upper hinge 0.5 up
	// lower hinge 1 back
	// lower hinge 0.5 up
	// striker 0.5 up
}

// Edges of a rectangle out by a shift of (0.5, −1) mm and a turn of 0.001 rad.
func ExampleLeastSquares() {
	m, err := fit.LeastSquares([]fit.Observation{
		{XMM: 0, YMM: 100, NX: -1, NeededMM: -0.4}, {XMM: 0, YMM: 500, NX: -1},
		{XMM: 1000, YMM: 100, NX: 1, NeededMM: 0.4}, {XMM: 1000, YMM: 500, NX: 1},
		{XMM: 200, YMM: 600, NY: 1, NeededMM: -0.8}, {XMM: 800, YMM: 600, NY: 1, NeededMM: -0.2},
		{XMM: 200, YMM: 0, NY: -1, NeededMM: 0.8}, {XMM: 800, YMM: 0, NY: -1, NeededMM: 0.2},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %.2f %.4f\n", m.DXMM, m.DYMM, m.ThetaRad)
	// Output: 0.50 -1.00 0.0010
}
