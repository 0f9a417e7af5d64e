package fit

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every row of the table is checked; a row that no case knows fails.
func TestEveryRowOfTheTable(t *testing.T) {
	t.Parallel()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "numbers", "fit.csv"))
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, lines[0])
	require.Len(t, lines, 1+7+3)
	for _, l := range lines[1:] {
		require.NotEmpty(t, l[5], "source of %v", l)
		require.Regexp(t, "^(read|computed|from memory)", l[6], "provenance of %v", l)
		in := map[string]string{}
		for _, pair := range strings.Split(l[1], ";") {
			k, v, _ := strings.Cut(pair, "=")
			in[k] = v
		}
		holds(t, l, rowValues(t, l[0], in))
	}
}

// rowValues computes what a row asks for.
func rowValues(t *testing.T, quantity string, in map[string]string) []float64 {
	t.Helper()
	switch quantity {
	case "dx/dy/theta from point displacements", "rms residual":
		var obs []Observation
		points, moved := pairs(t, in["points_mm"]), pairs(t, in["displ_mm"])
		require.Len(t, moved, len(points))
		for i, p := range points {
			obs = append(obs,
				Observation{XMM: p[0], YMM: p[1], NX: 1, NeededMM: moved[i][0]},
				Observation{XMM: p[0], YMM: p[1], NY: 1, NeededMM: moved[i][1]})
		}
		m, err := LeastSquares(obs)
		require.NoError(t, err)
		assertNormal(t, obs, m)
		if quantity == "rms residual" {
			return []float64{m.RMS(obs)}
		}
		return []float64{m.DXMM, m.DYMM, m.ThetaRad}
	case "dx/dy/theta so that outward edge motion = measured gap - target":
		var obs []Observation
		points, normals, needed := pairs(t, in["points_mm"]), pairs(t, in["outward_normals"]), strings.Fields(in["needed_mm"])
		require.Len(t, normals, len(points))
		require.Len(t, needed, len(points))
		for i, p := range points {
			obs = append(obs, Observation{p[0], p[1], normals[i][0], normals[i][1], number(t, needed[i])})
		}
		m, err := LeastSquares(obs)
		require.NoError(t, err)
		assertNormal(t, obs, m)
		return []float64{m.DXMM, m.DYMM, m.ThetaRad}
	case "paint closes a gap by, low":
		return []float64{PaintLowMM}
	case "paint closes a gap by, high":
		return []float64{PaintHighMM}
	case "flushness within, widest":
		return []float64{DefaultFlushToleranceMM}
	}
	require.Fail(t, "no check for this row", quantity)
	return nil
}

// assertNormal checks the motion by the normal equations, without the library: what is
// left undone is square to every column.
func assertNormal(t *testing.T, obs []Observation, m Motion) {
	t.Helper()
	var x, y, turn float64
	for _, o := range obs {
		left := o.NeededMM - (o.NX*(m.DXMM-m.ThetaRad*o.YMM) + o.NY*(m.DYMM+m.ThetaRad*o.XMM))
		x, y, turn = x+o.NX*left, y+o.NY*left, turn+(o.NY*o.XMM-o.NX*o.YMM)*left/1000
	}
	assert.InDelta(t, 0, x, 1e-9)
	assert.InDelta(t, 0, y, 1e-9)
	assert.InDelta(t, 0, turn, 1e-9)
}

// holds compares values with those of a row, within its tolerance.
func holds(t *testing.T, row []string, got []float64) {
	t.Helper()
	want := strings.Split(row[2], "/")
	require.Len(t, got, len(want), "%v", row)
	for i, w := range want {
		v, within := number(t, w), 1e-12
		if kind, tol, _ := strings.Cut(row[4], ":"); kind == "abs" {
			within = number(t, tol)
		} else {
			require.Equal(t, "exact", row[4])
		}
		if math.Abs(v) > 0 && math.Abs(v) < 0.1 {
			within = min(within, 1e-4*math.Abs(v)) // a rotation printed to 1e-5 would pass for any small one
		}
		assert.InDelta(t, v, got[i], within, "%v", row)
	}
}

// pairs reads «(0 1)(2 3)».
func pairs(t *testing.T, s string) [][2]float64 {
	t.Helper()
	var out [][2]float64
	for _, p := range strings.Split(strings.Trim(s, "()"), ")(") {
		two := strings.Fields(p)
		require.Len(t, two, 2, "%q", s)
		out = append(out, [2]float64{number(t, two[0]), number(t, two[1])})
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}
