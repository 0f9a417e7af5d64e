package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// plain prints mm for people: hundredths at most, no trailing zeros.
func plain(mm float64) string {
	s := strconv.FormatFloat(mm, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// tenths prints a predicted size: tenths, or hundredths when it is smaller.
func tenths(mm float64) string {
	if math.Abs(mm) < 0.095 {
		if math.Abs(mm) < 0.005 {
			return "0.0"
		}
		return strconv.FormatFloat(mm, 'f', 2, 64)
	}
	return strconv.FormatFloat(mm, 'f', 1, 64)
}

// place names where a reading was taken: a corner, the middle, or its number.
func (f frame) place(e Edge, i, n int) string {
	first, last := f.ends(e)
	corner := func(end Edge) string {
		a, b := e, end
		// «bottom front», «rear left»: the word for height, else for length, leads.
		if end == Top || end == Bottom || e == Left || e == Right {
			a, b = end, e
		}
		return fmt.Sprintf("%s %s corner (%s edge)", a, b, e)
	}
	switch {
	case n == 1, n%2 == 1 && i == n/2:
		return fmt.Sprintf("middle of the %s edge", e)
	case i == 0:
		return corner(first)
	case i == n-1:
		return corner(last)
	}
	return fmt.Sprintf("%s edge, reading %d of %d from the %s", e, i+1, n, first)
}

// moves puts an adjustment into words. The latch follows the panel along its
// edge, to the nearest step.
func moves(f frame, a Adjustment, step float64) []Move {
	first, second := f.hinges()
	across, along := f.ways[0], f.ways[1]
	if !f.acrossX {
		across, along = along, across
	}
	var out []Move
	add := func(at string, ways [2]string, mm float64, follows bool) {
		switch q := quantum(mm); {
		case q > 0:
			out = append(out, Move{at, ways[0], mm, follows})
		case q < 0:
			out = append(out, Move{at, ways[1], -mm, follows})
		}
	}
	add(first, across, a.FirstAcrossMM, false)
	add(first, along, a.AlongMM, false)
	add(first, f.ways[2], a.FirstOutMM, false)
	add(second, across, a.SecondAcrossMM, false)
	add(second, along, a.AlongMM, false)
	add(second, f.ways[2], a.SecondOutMM, false)
	add(f.latch, f.ways[2], a.LatchOutMM, false)

	o := Observation{XMM: f.latchAt, YMM: f.mid, NY: 1}
	if !f.acrossX {
		o = Observation{XMM: f.mid, YMM: f.latchAt, NX: 1}
	}
	carried := f.inPlane(a.FirstAcrossMM, a.SecondAcrossMM, a.AlongMM).Along(o)
	add(f.latch, along, math.Round(carried/step)*step, true)
	return out
}

// needs says what else to measure: the hinge edge and the one across from it, one of
// the two beside, and more than one reading where tilt cannot be seen.
func needs(in Input, f frame) []Need {
	const three = 3
	count := func(e Edge, k Kind) int {
		for _, m := range in.Edges {
			if m.Edge == e && k == Gap {
				return len(m.GapMM)
			} else if m.Edge == e {
				return len(m.FlushMM)
			}
		}
		return 0
	}
	// The last of the edges beside is the bottom one where there is a bottom one.
	beside := slices.DeleteFunc(slices.Clone(f.edges[:]), func(e Edge) bool { return e == f.HingeEdge || e == f.opposite })
	side := beside[1]
	if count(beside[0], Gap) > 0 {
		side = beside[0]
	}
	across, along := f.ways[0], f.ways[1]
	if !f.acrossX {
		across, along = along, across
	}
	var out []Need
	ask := func(e Edge, k Kind, why string, args ...any) {
		out = append(out, Need{e, k, three, fmt.Sprintf(why, args...)})
	}
	for _, e := range []Edge{f.opposite, f.HingeEdge} {
		if count(e, Gap) == 0 {
			ask(e, Gap, "to see how far it can go %s or %s", across[0], across[1])
		}
	}
	if count(side, Gap) == 0 {
		ask(side, Gap, "to see how far it can go %s or %s", along[0], along[1])
	}
	if len(out) == 0 && count(f.opposite, Gap) == 1 && count(f.HingeEdge, Gap) == 1 && count(side, Gap) == 1 {
		ask(f.opposite, Gap, "one reading an edge does not show tilt")
	}
	for _, e := range []Edge{f.opposite, f.HingeEdge} {
		if count(e, Flush) == 0 {
			ask(e, Flush, "to see what to move %s or %s", f.ways[2][0], f.ways[2][1])
		}
	}
	return out
}
