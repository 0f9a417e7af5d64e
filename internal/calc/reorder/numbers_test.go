package reorder

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
	quantity, expected, tolerance, source string
	in                                    map[string]string
}

// num reads an input as a number; a missing or unreadable one fails the test.
func (r row) num(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, r.in, key, "%s", r.quantity)
	return number(t, r.in[key])
}

// holds compares a value with the row's, within its tolerance.
func (r row) holds(t *testing.T, got float64) {
	t.Helper()
	r.near(t, number(t, r.expected), got)
}

func (r row) near(t *testing.T, want, got float64) {
	t.Helper()
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
	assert.InDelta(t, want, got, within, "%s %v, %s", r.quantity, r.in, r.source)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// table reads a CSV; every row must parse, have a source and a provenance, and
// there must be as many as the table is known to hold.
func table(t *testing.T, name string, count int) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "numbers", name+".csv"))
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"topic", "quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, lines[0])
	require.Len(t, lines, count+1, "rows of %s", name)
	var rows []row
	for _, l := range lines[1:] {
		require.NotEmpty(t, l[6], "source of %v", l)
		require.NotEmpty(t, l[7], "provenance of %v", l)
		r := row{quantity: l[0] + ": " + l[1], expected: l[3], tolerance: l[5], source: l[6], in: map[string]string{}}
		for pair := range strings.SplitSeq(l[2], ";") {
			k, v, ok := strings.Cut(pair, "=")
			require.True(t, ok, "input %q of %v", pair, l)
			r.in[k] = v
		}
		rows = append(rows, r)
	}
	return rows
}

func TestPublishedReorder(t *testing.T) {
	t.Parallel()
	for _, r := range table(t, "reorder", 17) {
		switch r.quantity {
		case "inventory: normal quantile z":
			z, err := Quantile(r.num(t, "p"))
			require.NoError(t, err)
			r.holds(t, z)
		case "inventory: safety stock":
			r.holds(t, SafetyStock(r.num(t, "z"), 0, r.num(t, "sigma_LT"), LeadTime{1, 0}))
		case "inventory: reorder point":
			f, lead, service := Forecast{Pattern: Smooth, Sure: Fair}, LeadTime{}, 0.0
			if _, given := r.in["mean_LT_demand"]; given {
				f.PerDay, f.SDPerDay, lead.Days, service = r.num(t, "mean_LT_demand"), r.num(t, "sigma_LT"), 1, 1-r.num(t, "stockout_risk")
			} else {
				f.PerDay, f.SDPerDay, lead.Days, service = r.num(t, "d"), r.num(t, "sigma_d"), r.num(t, "L"), r.num(t, "service")
			}
			a, err := Advise(Input{Forecast: f, Lead: lead, Service: service})
			require.NoError(t, err)
			r.holds(t, a.Point)
		case "inventory: reorder point, demand and lead time random":
			d, lead := r.num(t, "d"), LeadTime{r.num(t, "L"), r.num(t, "sigma_L")}
			r.holds(t, d*lead.Days+SafetyStock(r.num(t, "z"), d, r.num(t, "sigma_d"), lead))
		case "inventory: Student's t":
			z, err := Quantile(r.num(t, "p"))
			require.NoError(t, err)
			r.holds(t, studentT(z, r.num(t, "nu")))
		case "inventory: intermittent use a period":
			require.InDelta(t, smoothing, r.num(t, "alpha"), 0)
			var series []float64
			for s := range strings.SplitSeq(r.in["series"], "+") {
				series = append(series, number(t, s))
			}
			r.holds(t, croston(series))
		default:
			t.Errorf("no check for %q", r.quantity)
		}
	}
}
