package forecast

import (
	"strings"
	"testing"

	"bayword/internal/calc/published"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// numbers reads inputs that are numbers by name.
func numbers(t *testing.T, r published.Row) map[string]float64 {
	t.Helper()
	in := map[string]float64{}
	for k, v := range r.Pairs(t) {
		in[k] = published.Number(t, v)
	}
	return in
}

// tasks reads the inputs of the form name:low-likely-high:first+second | ….
func tasks(t *testing.T, r published.Row) []Task {
	t.Helper()
	var all []Task
	for text := range strings.SplitSeq(r.Inputs, " | ") {
		f := strings.Split(text, ":")
		require.Len(t, f, 3, text)
		h := strings.Split(f[1], "-")
		require.Len(t, h, 3, text)
		task := Task{ID: f[0], Low: published.Number(t, h[0]), Likely: published.Number(t, h[1]), High: published.Number(t, h[2])}
		if f[2] != "" {
			task.After = strings.Split(f[2], "+")
		}
		all = append(all, task)
	}
	return all
}

func TestPublishedPlans(t *testing.T) {
	t.Parallel()
	plan := func(r published.Row) Plan {
		p, err := CriticalPath(tasks(t, r), 8)
		require.NoError(t, err)
		return p
	}
	earned := func(r published.Row) Earned {
		in := numbers(t, r)
		e, err := EarnedValue(Budget{BAC: in["BAC"], PV: in["PV"], EV: in["EV"], AC: in["AC"]})
		require.NoError(t, err)
		return e
	}
	for _, r := range published.Rows(t, "plan", 14) {
		switch r.Quantity {
		case "earned value: CV":
			r.Holds(t, earned(r).CV)
		case "earned value: SV":
			r.Holds(t, earned(r).SV)
		case "earned value: CPI":
			r.Holds(t, earned(r).CPI)
		case "earned value: SPI":
			r.Holds(t, earned(r).SPI)
		case "earned value: EAC=BAC/CPI":
			r.Holds(t, earned(r).EAC)
		case "earned value: EAC=AC+(BAC-EV)":
			r.Holds(t, earned(r).EACAsPlan)
		case "PERT/CPM: critical path":
			assert.Equal(t, strings.Split(r.Expected, "-"), plan(r).Path, r.Source)
		case "PERT/CPM: expected duration":
			r.Holds(t, plan(r).Duration)
		case "PERT/CPM: variance of critical path":
			r.Holds(t, plan(r).Variance)
		case "PERT/CPM: P(finish <= 20 weeks)":
			r.Holds(t, plan(r).Chance(20))
		case "PERT/CPM: expected time":
			in := numbers(t, r)
			r.Holds(t, Task{Low: in["a"], Likely: in["m"], High: in["b"]}.Mean())
		case "PERT/CPM: slack of F":
			p := plan(r)
			require.Equal(t, "F", p.Nodes[5].ID)
			r.Holds(t, p.Nodes[5].Float)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}
