package fit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Lines tells the result in plain short English, one thing a line: what to do, what
// comes of it, what stays, what to measure. Assumptions, source and caution are
// not in it.
func (r Result) Lines() []string {
	var out []string
	switch r.Status {
	case Measure:
		if len(r.Points) == 0 {
			out = append(out, "Nothing is measured yet.")
		} else {
			out = append(out, "Too little is measured to say how to move it.")
		}
	case Fits:
		out = append(out, "All that was measured is within tolerance: leave it as it is.")
	case Stuck:
		out = append(out, "No move within travel makes it better: leave it as it is.")
	}
	for _, d := range doing(r.Moves) {
		out = append(out, upper(d)+".")
	}
	if r.Status != Measure {
		when := "as it is"
		if len(r.Moves) > 0 {
			when = "after that"
		}
		for _, k := range []Kind{Gap, Flush} {
			if s := r.spans(k); s != "" {
				out = append(out, fmt.Sprintf("%s %s: %s.", upper(string(k)), when, s))
			}
		}
	}
	out = append(out, r.staying()...)
	for _, c := range r.Culprits {
		out = append(out, c.String())
	}
	for _, d := range r.Drifts {
		if math.Round(d.FirstMM*10) != 0 || math.Round(d.LastMM*10) != 0 {
			out = append(out, fmt.Sprintf("Not measured: the %s edge %s. Check it before tightening.", d.Edge, d))
		}
	}
	return append(out, r.asking()...)
}

// staying tells what stays, those of one cause together.
func (r Result) staying() []string {
	var out []string
	var order []Cause
	by := map[Cause][]Residual{}
	for _, s := range r.Residuals {
		if by[s.Cause] == nil {
			order = append(order, s.Cause)
		}
		by[s.Cause] = append(by[s.Cause], s)
	}
	for _, cause := range order {
		if len(by[cause]) == 1 {
			out = append(out, by[cause][0].String())
			continue
		}
		var places []string
		for _, s := range by[cause] {
			places = append(places, fmt.Sprintf("%s %s, %s over", s.Place, s.off(), tenths(s.ExcessMM())))
		}
		out = append(out, fmt.Sprintf("Stays out in %d places, %s: %s.", len(places), causes[cause], strings.Join(places, "; ")))
	}
	return out
}

// causes says why a reading stays out.
var causes = map[Cause]string{
	Metal:      "that is metal, not hinges",
	NoTravel:   "there is not the travel left to cure it",
	ShimStep:   "finer shims would cure it",
	Unmeasured: "too few edges are measured to cure it",
}

// asking tells what to measure, one line for each reason.
func (r Result) asking() []string {
	var out []string
	for i := 0; i < len(r.Needs); {
		n, edges := r.Needs[i], []string{}
		for ; i < len(r.Needs) && r.Needs[i].Kind == n.Kind && r.Needs[i].Why == n.Why; i++ {
			edges = append(edges, string(r.Needs[i].Edge))
		}
		noun := "edge"
		if len(edges) > 1 {
			noun = "edges"
		}
		out = append(out, fmt.Sprintf("Measure the %s along the %s %s, in %d places, %s.", n.Kind, strings.Join(edges, " and "), noun, n.Readings, n.Why))
	}
	return out
}

// doing tells the moves, one string for each hinge and the latch.
func doing(moves []Move) []string {
	var out []string
	at := ""
	for _, m := range moves {
		words := plain(m.MM) + " mm " + m.Way
		if m.Follows {
			words += " to follow the panel"
		}
		if m.At == at {
			out[len(out)-1] += ", " + words
		} else {
			out, at = append(out, m.At+" "+words), m.At
		}
	}
	return out
}

// spans tells the range on each edge where something was measured.
func (r Result) spans(k Kind) string {
	var parts []string
	for _, e := range r.Input.Edges {
		if low, high, ok := r.Span(e.Edge, k); ok {
			parts = append(parts, fmt.Sprintf("%s %s", e.Edge, between(low, high, k)))
		}
	}
	return strings.Join(parts, ", ")
}

// Span gives the least and greatest reading on an edge after the moves, in mm; ok is
// false when nothing of the kind was measured there.
func (r Result) Span(e Edge, k Kind) (low, high float64, ok bool) {
	for _, p := range r.Points {
		if p.Edge != e || p.Kind != k {
			continue
		}
		if !ok {
			low, high, ok = p.AfterMM, p.AfterMM, true
		}
		low, high = min(low, p.AfterMM), max(high, p.AfterMM)
	}
	return low, high, ok
}

func between(low, high float64, k Kind) string {
	print := func(v float64) string {
		s := strings.Replace(strconv.FormatFloat(v, 'f', 1, 64), "-0.0", "0.0", 1)
		if k == Flush && s != "0.0" && v > 0 {
			s = "+" + s
		}
		return strings.Replace(s, "-", "−", 1)
	}
	a, b := print(low), print(high)
	switch {
	case a == b:
		return a
	case k == Flush:
		return a + " to " + b
	}
	return a + "–" + b
}

// off tells how far off target a reading stays: «1.1 tight».
func (p Point) off() string {
	d := p.DeviationMM()
	word := map[bool]string{true: "wide", false: "tight"}[d > 0]
	if p.Kind == Flush {
		word = map[bool]string{true: "proud", false: "low"}[d > 0]
	}
	return tenths(math.Abs(d)) + " " + word
}

// String tells what other moves would do, and what they leave.
func (c Culprit) String() string {
	do := strings.Join(doing(c.Moves), "; ")
	if do == "" {
		do = "leave it as it is"
	}
	return fmt.Sprintf("Or give up one place: %s. Then the %s stays %s, that is metal, and every other %s is within tolerance.", do, c.Place, c.off(), c.Kind)
}

// String tells what stays, where and why.
func (s Residual) String() string {
	return fmt.Sprintf("%s: stays %s, %s over tolerance: %s.", upper(s.Place), s.off(), tenths(s.ExcessMM()), causes[s.Cause])
}

// String tells how the edge moves.
func (d Drift) String() string {
	way := func(mm float64, at Edge) string {
		switch q := math.Round(mm * 10); {
		case q > 0:
			return fmt.Sprintf("opens %s at the %s", tenths(mm), at)
		case q < 0:
			return fmt.Sprintf("closes %s at the %s", tenths(-mm), at)
		}
		return fmt.Sprintf("is unchanged at the %s", at)
	}
	return way(d.FirstMM, d.FirstAt) + ", " + way(d.LastMM, d.LastAt)
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
