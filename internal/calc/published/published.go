// Package published reads the published values of testdata/numbers that the
// calculations are checked against. Tests alone import it; it imports nothing of
// the module.
package published

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Row is one published value. Its quantity has its topic before it, where the
// table has topics.
type Row struct {
	Quantity, Inputs, Expected, Unit, Tolerance, Source string
	In                                                  map[string]string // inputs by name; Table fills it
}

var columns = []string{"quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}

// Rows reads a table that a package two folders below internal names. Every row
// must have a source and a provenance, and there must be as many as it is known
// to hold.
func Rows(t *testing.T, name string, count int) []Row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "numbers", name+".csv"))
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	lines, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	topics := slices.Equal(lines[0], append([]string{"topic"}, columns...))
	if !topics {
		require.Equal(t, columns, lines[0])
	}
	require.Len(t, lines, count+1, "rows of %s", name)
	var rows []Row
	for _, l := range lines[1:] {
		topic := ""
		if topics {
			topic, l = l[0]+": ", l[1:]
		}
		require.NotEmpty(t, l[5], "source of %v", l)
		require.NotEmpty(t, l[6], "provenance of %v", l)
		rows = append(rows, Row{Quantity: topic + l[0], Inputs: l[1], Expected: l[2], Unit: l[3], Tolerance: l[4], Source: l[5]})
	}
	return rows
}

// Table reads a table whose every input has the form name=value;….
func Table(t *testing.T, name string, count int) []Row {
	t.Helper()
	rows := Rows(t, name, count)
	for i := range rows {
		rows[i].In = rows[i].Pairs(t)
	}
	return rows
}

// Pairs reads inputs of the form name=value;….
func (r Row) Pairs(t *testing.T) map[string]string {
	t.Helper()
	in := map[string]string{}
	for pair := range strings.SplitSeq(r.Inputs, ";") {
		k, v, ok := strings.Cut(pair, "=")
		require.True(t, ok, "input %q of %s", pair, r.Quantity)
		in[k] = v
	}
	return in
}

// Num reads an input as a number; a missing or unreadable one fails the test.
func (r Row) Num(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, r.In, key, "%s", r.Quantity)
	return Number(t, r.In[key])
}

// Want is the published value as a number.
func (r Row) Want(t *testing.T) float64 {
	t.Helper()
	return Number(t, r.Expected)
}

// Holds compares a value with the published one, within its tolerance.
func (r Row) Holds(t *testing.T, got float64) {
	t.Helper()
	r.Near(t, r.Want(t), got)
}

// Near compares two values within the row's tolerance.
func (r Row) Near(t *testing.T, want, got float64) {
	t.Helper()
	within := 1e-9 * math.Abs(want) // of floating point, not of the formula
	switch kind, v, _ := strings.Cut(r.Tolerance, ":"); kind {
	case "abs":
		within += Number(t, v)
	case "rel":
		within += Number(t, v) * math.Abs(want)
	default:
		require.Equal(t, "exact", r.Tolerance)
	}
	assert.InDelta(t, want, got, within, "%s %s, %s", r.Quantity, r.Inputs, r.Source)
}

// Number reads a number of a table; what is none fails the test.
func Number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}
