package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Observation is a point that should move by NeededMM along a direction of
// length 1: a point of an edge and its outward normal, or a point and an axis.
type Observation struct {
	XMM, YMM float64
	NX, NY   float64
	NeededMM float64
}

// Along gives how far the motion moves a point along a direction:
// n·(dx, dy) + θ·(ny·x − nx·y), in mm.
func (m Motion) Along(o Observation) float64 {
	return o.NX*m.DXMM + o.NY*m.DYMM + m.ThetaRad*(o.NY*o.XMM-o.NX*o.YMM)
}

// RMS is the root mean square of what the motion leaves undone, in mm; zero for
// no observations.
func (m Motion) RMS(obs []Observation) float64 {
	if len(obs) == 0 {
		return 0
	}
	var sum float64
	for _, o := range obs {
		d := o.NeededMM - m.Along(o)
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(obs)))
}

// LeastSquares gives the motion that meets the observations best in the mean
// (Arun, Huang and Blostein 1987; Horn 1987). It fails with *InputError when a
// number is not finite or when the observations leave part of the motion open.
func LeastSquares(obs []Observation) (Motion, error) {
	const open = "give points that fix all of dx, dy and θ, such as two points on one edge and one on the edge beside it"
	if len(obs) < 3 {
		return Motion{}, refuse("observations", len(obs), open)
	}
	size := 1.0 // so that the column of θ is as large as the others
	for _, o := range obs {
		for _, v := range []float64{o.XMM, o.YMM, o.NX, o.NY, o.NeededMM} {
			if math.IsNaN(v) || math.Abs(v) > mostSpanMM {
				return Motion{}, refuse("observations", v, "give finite numbers up to %g mm", float64(mostSpanMM))
			}
		}
		size = max(size, math.Abs(o.XMM), math.Abs(o.YMM))
	}
	rows := make([][3]float64, len(obs))
	needed := make([]float64, len(obs))
	for i, o := range obs {
		rows[i] = [3]float64{o.NX, o.NY, (o.NY*o.XMM - o.NX*o.YMM) / size}
		needed[i] = o.NeededMM
	}
	x, rank := leastSquares(rows, needed)
	if rank < 3 {
		return Motion{}, refuse("observations", len(obs), open)
	}
	return Motion{x[0], x[1], x[2] / size}, nil
}

// leastSquares gives the shortest x that minimises |A·x − b|², and the rank of A.
func leastSquares(a [][3]float64, b []float64) (x [3]float64, rank int) {
	flat := make([]float64, 0, 3*len(a))
	for _, r := range a {
		flat = append(flat, r[:]...)
	}
	var svd mat.SVD
	if !svd.Factorize(mat.NewDense(len(a), 3, flat), mat.SVDThin) {
		return x, 0
	}
	rank = svd.Rank(1e-9)
	if rank == 0 {
		return x, 0
	}
	var out mat.VecDense
	svd.SolveVecTo(&out, mat.NewVecDense(len(b), b), rank)
	for k := range x {
		x[k] = out.AtVec(k)
	}
	return x, rank
}
