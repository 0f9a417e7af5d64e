package forecast

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

// row is one published value of testdata/numbers.
type row struct {
	quantity, inputs, expected, tolerance, source string
}

// in reads the inputs of the form name=value;….
func (r row) in(t *testing.T) map[string]float64 {
	t.Helper()
	in := map[string]float64{}
	for pair := range strings.SplitSeq(r.inputs, ";") {
		k, v, ok := strings.Cut(pair, "=")
		require.True(t, ok, "input %q", pair)
		in[k] = number(t, v)
	}
	return in
}

// tasks reads the inputs of the form name:low-likely-high:first+second | ….
func (r row) tasks(t *testing.T) []Task {
	t.Helper()
	var tasks []Task
	for text := range strings.SplitSeq(r.inputs, " | ") {
		f := strings.Split(text, ":")
		require.Len(t, f, 3, text)
		h := strings.Split(f[1], "-")
		require.Len(t, h, 3, text)
		task := Task{ID: f[0], Low: number(t, h[0]), Likely: number(t, h[1]), High: number(t, h[2])}
		if f[2] != "" {
			task.After = strings.Split(f[2], "+")
		}
		tasks = append(tasks, task)
	}
	return tasks
}

// holds compares a value with the row's, within its tolerance.
func (r row) holds(t *testing.T, got float64) {
	t.Helper()
	want := number(t, r.expected)
	within := 1e-9 * math.Abs(want) // of floating point, not of the formula
	kind, v, _ := strings.Cut(r.tolerance, ":")
	switch kind {
	case "abs":
		within += number(t, v)
	case "rel":
		within += number(t, v) * math.Abs(want)
	default:
		require.Equal(t, "exact", kind)
	}
	assert.InDelta(t, want, got, within, "%s %s, %s", r.quantity, r.inputs, r.source)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// table reads the CSV; every row must have a source and a provenance, and there
// must be as many as it is known to hold.
func table(t *testing.T, count int) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "numbers", "plan.csv"))
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"topic", "quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, lines[0])
	require.Len(t, lines, count+1)
	var rows []row
	for _, l := range lines[1:] {
		require.NotEmpty(t, l[6], "source of %v", l)
		require.NotEmpty(t, l[7], "provenance of %v", l)
		rows = append(rows, row{l[0] + ": " + l[1], l[2], l[3], l[5], l[6]})
	}
	return rows
}

func TestPublishedPlans(t *testing.T) {
	t.Parallel()
	plan := func(r row) Plan {
		p, err := CriticalPath(r.tasks(t), 8)
		require.NoError(t, err)
		return p
	}
	earned := func(r row) Earned {
		in := r.in(t)
		e, err := EarnedValue(Budget{BAC: in["BAC"], PV: in["PV"], EV: in["EV"], AC: in["AC"]})
		require.NoError(t, err)
		return e
	}
	for _, r := range table(t, 14) {
		switch r.quantity {
		case "earned value: CV":
			r.holds(t, earned(r).CV)
		case "earned value: SV":
			r.holds(t, earned(r).SV)
		case "earned value: CPI":
			r.holds(t, earned(r).CPI)
		case "earned value: SPI":
			r.holds(t, earned(r).SPI)
		case "earned value: EAC=BAC/CPI":
			r.holds(t, earned(r).EAC)
		case "earned value: EAC=AC+(BAC-EV)":
			r.holds(t, earned(r).EACAsPlan)
		case "PERT/CPM: critical path":
			assert.Equal(t, strings.Split(r.expected, "-"), plan(r).Path, r.source)
		case "PERT/CPM: expected duration":
			r.holds(t, plan(r).Duration)
		case "PERT/CPM: variance of critical path":
			r.holds(t, plan(r).Variance)
		case "PERT/CPM: P(finish <= 20 weeks)":
			r.holds(t, plan(r).Chance(20))
		case "PERT/CPM: expected time":
			in := r.in(t)
			r.holds(t, Task{Low: in["a"], Likely: in["m"], High: in["b"]}.Mean())
		case "PERT/CPM: slack of F":
			p := plan(r)
			require.Equal(t, "F", p.Nodes[5].ID)
			r.holds(t, p.Nodes[5].Float)
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}
