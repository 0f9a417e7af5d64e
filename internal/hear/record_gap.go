package hear

import (
	"slices"
	"strings"
)

// recordGap hears readings along an edge.
var recordGap = kind{
	name:     "RecordGap",
	write:    true,
	examples: []string{"ns door rear edge 3.5 4 4.5 top to bottom", "bonnet rear edge gap 5 5.5 5, flush 0.5 proud"},
	needs:    []string{"job", "panel", "side", "edge", "gap_mm"},
	score: func(r *reading, c Context) float64 {
		if r.has("plus or minus", "plus minus", "plusminus", "target", "tolerance") || r.asking() {
			return 0
		}
		if _, ok := r.first(spanSize); ok || r.starts("set the", "set all", "set my") {
			return 0
		}
		_, panel := r.first(spanPanel)
		edge, edged := r.weakest(spanEdge)
		gap := r.has("gap", "gaps", "reading", "readings", "measured", "measures", "shut line")
		values := len(r.gapValues())
		if r.readEdges() > 1 || strings.Count(r.text, " edge ") > len(r.all(spanEdge)) {
			return 0 // two edges in one breath: which figure is whose?
		}
		if values == 0 || r.findKind() != "" && !gap && !(edged && !edge.weak) {
			return 0
		}
		if r.hasHours() || r.has("coat", "coats") {
			return 0
		}
		if _, side := r.first(spanSide); side && !panel && edged && !edge.weak && values >= 2 && c.Last.gapPanel() != "" && len(r.rest("edge", "gap", "gaps", "top", "bottom", "front", "rear", "back")) == 0 {
			return 1 // «ns 4 4 5 back edge», of the door just asked about
		}
		if !panel && values >= 2 && r.readsAsked(c, edged) {
			return 1
		}
		switch {
		case gap && panel && (edged || values >= 2 || r.hi-r.lo <= 10):
			return 1.1
		case gap && edged && !edge.weak:
			return 1.05
		case panel && edged && !edge.weak:
			return 1.05
		case edged && !edge.weak && c.Last != nil && c.Last.Intent.Kind == "RecordGap" && c.Continues:
			return 1
		case edged && values >= 2 && r.starts("bottom of it", "top of it", "front of it", "back of it", "rear of it", "along the bottom", "along the top") && c.Last.gapPanel() != "" && !panel:
			return 1
		case edged && r.nextEdge(c):
			return 1
		case edged && !edge.weak && values >= 2 && r.has("same door", "same panel", "same"):
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
		if _, chosen := in.Fields["panel_choice"]; !in.has("panel") && !chosen && len(in.Missing) == 0 && r.lo == r.whole.lo && c.Last.gapPanel() != "" {
			in.set("panel", c.Last.gapPanel())
		}
		fillEdge(r, in)
		if last := c.Last; last != nil && last.Intent.Kind == "LookUpGap" && !in.has("edge") && in.text("panel") == last.Intent.text("panel") {
			for _, f := range []string{"edge", "side", "end"} {
				if last.Intent.has(f) && !in.has(f) {
					in.set(f, last.Intent.Fields[f])
				}
			}
		}
		if g := r.gapValues(); len(g) > 0 {
			if r.reversed() {
				slices.Reverse(g)
			}
			in.set("gap_mm", g)
		}
		if f := r.flushValues(); len(f) > 0 {
			if r.reversed() {
				slices.Reverse(f)
			}
			in.set("flush_mm", f)
		}
	},
}

// nextEdge reports «front edge 5 4.5 4», right after the readings of another edge.
func (r *reading) nextEdge(c Context) bool {
	edge, ok := r.first(spanEdge)
	return ok && !edge.weak && c.Last != nil && c.Last.Intent.Kind == "RecordGap" && edge.from == r.lo && edge.id != c.Last.Intent.text("edge") && len(r.gapValues()) >= 2 && len(r.all(spanPanel)) == 0
}

// readsAsked reports «got 3 4 4» of the edge just asked about, or «its 5 6 at the back
// edge» of the panel.
func (r *reading) readsAsked(c Context, edged bool) bool {
	if c.Last == nil || c.Last.Intent.Kind != "LookUpGap" {
		return false
	}
	if edged {
		return r.starts("its", "i get", "im getting", "got", "ive got", "reads", "it reads")
	}
	plainly := r.starts("got", "i got", "ive got", "its at", "reads", "it reads", "measured", "i make it", "im getting") && len(r.rest("got", "reads", "measured", "make", "getting", "at", "top", "bottom", "to")) == 0
	return c.Last.Intent.has("edge") && (plainly || r.has("on it"))
}

// gapPanel is the panel whose gaps were asked about or measured last, or "".
func (d *Done) gapPanel() string {
	if d == nil {
		return ""
	}
	switch d.Intent.Kind {
	case "LookUpGap", "SolveFit", "RecordGap":
		return d.Intent.text("panel")
	}
	return ""
}

// reversed reports readings given bottom to top or back to front.
func (r *reading) reversed() bool {
	return r.has("bottom to top", "back to front", "rear to front", "right to left", "bottom up", "bottom upwards", "from the bottom", "from the back", "from the rear")
}

// flushFrom returns the token where readings turn to flush, or hi.
func (r *reading) flushFrom() int {
	for i := r.lo; i < r.hi; i++ {
		switch r.word(i) {
		case "flush", "step", "stands", "stand", "standing", "sits", "sitting", "sticks":
			return i
		}
	}
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i); w == "proud" || (w == "low" && r.word(i+1) != "on") {
			// «1 low at the bottom»: the number before it belongs to flush.
			for _, s := range r.spans {
				if s.kind == spanQuantity && s.to == i {
					return s.from
				}
			}
			if i > r.lo {
				return i - 1
			}
		}
	}
	return r.hi
}

// readEdges counts the edges with a reading right behind them.
func (r *reading) readEdges() int {
	n := 0
	for _, s := range r.spans {
		i := s.to
		if r.word(i) == "edge" {
			i++
		}
		if s.kind == spanEdge && r.quantityStarts(i) {
			n++
		}
	}
	return n
}

// gapValues returns the readings said, in mm.
func (r *reading) gapValues() []float64 {
	var out []float64
	end := r.flushFrom()
	for _, s := range r.spans {
		if s.kind != spanQuantity || s.landmark || s.from >= end || r.word(s.from-1) == "all" && r.word(s.to) == "so" || !lengthUnit(s.unit) || (s.unit == "" && r.numberIsNoun(s)) {
			continue
		}
		unit := s.unit
		if unit == "" && strings.Contains(r.toks[s.from].text, "/") {
			unit = "in" // «3/16» is never millimetres
		}
		if unit == "" {
			// «3/16 3/16 1/4 inch»: a unit at the end counts for all.
			for _, t := range r.spans {
				if t.kind == spanQuantity && t.from > s.from && lengthUnit(t.unit) && t.unit != "" && t.from < end {
					unit = t.unit
				}
			}
		}
		out = append(out, tidy(millimetres(s.value, unit)))
	}
	return out
}

func (r *reading) numberIsNoun(s span) bool {
	// «three goes», «16 doors»: a number with a noun in the plural behind it.
	if next := r.word(s.to); len(next) > 3 && strings.HasSuffix(next, "s") && next != r.stem(s.to) && !r.toks[s.to-1].stop && !r.toks[s.to-1].end {
		return true
	}
	return r.word(s.from-1) == "bay" || r.word(s.from-1) == "the" && r.word(s.to) != "mm"
}

// flushValues returns the steps said, + proud, - low.
func (r *reading) flushValues() []float64 {
	var out []float64
	from := r.flushFrom()
	// «flush at the top and 1 proud at the bottom», «level, level» are steps of nothing.
	for i := from; i < r.hi; i++ {
		if w := r.word(i); w == "level" || w == "flush" && (r.word(i+1) == "at" || r.word(i+1) == "all" || i+1 == r.hi || r.toks[i].stop && i+1 < r.hi && !r.quantityFollows(i+1)) {
			r.spans = append(slices.Clone(r.spans), span{kind: spanQuantity, from: i, to: i + 1, unit: "mm"})
		}
	}
	slices.SortStableFunc(r.spans, func(a, b span) int { return a.from - b.from })
	for _, s := range r.spans {
		if s.kind != spanQuantity || s.from < from || !lengthUnit(s.unit) {
			continue
		}
		v := tidy(millimetres(s.value, s.unit))
		for j := s.to; j < r.hi && j <= s.to+2; j++ {
			w := r.word(j)
			if w == "low" || w == "in" || w == "shy" || w == "under" || w == "sunk" {
				v = -v
			}
			if w == "and" || w == "proud" || w == "low" {
				break
			}
		}
		if v == 0 {
			v = 0 // no negative zero
		}
		out = append(out, v)
	}
	return out
}

func (r *reading) quantityFollows(i int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return s.kind == spanQuantity && s.from == i && s.value != 0 })
}
