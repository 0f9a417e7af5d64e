package hear

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// leavesOut reports that the records of a message leave something of it out: then it was
// not understood, and nothing of it is recorded.
func leavesOut(r *reading, groups []group, all []Intent) bool {
	return halfHeard(r, all) || besideUnknown(r, all) || leavesFigure(r, all) || leavesClause(r, groups, all)
}

// figured are the records in which every figure said has a place of its own.
var figured = wordSet("RecordFind StartTask FinishTask LogHours RecordCoat RecordUse RecordDelivery RecordWaste CloseFind DecideExtra CloseSnag RecordTorque AddMaterial SetGap")

// clockWords stand before a time of day.
var clockWords = wordSet("at by since past to till until after before half")

// leavesFigure reports that the records of a message leave out a figure that was said.
func leavesFigure(r *reading, all []Intent) bool {
	if len(all) == 0 || r.asking() {
		return false
	}
	for _, in := range all {
		if !figured[in.Kind] || len(in.Missing) > 0 {
			return false
		}
	}
	_, timed := r.timeSaid()
	if timed && all[0].Kind == "RecordCoat" || r.clockHours() > 0 || r.has("at half", "at quarter", "finished half", "point", "on every") {
		return false
	}
	for _, s := range r.all(spanSize) {
		if !s.landmark && !(held(all, s.value) && held(all, s.second)) {
			return true
		}
	}
	for _, s := range r.all(spanQuantity) {
		if s.unit != "" && s.unit != "h" && !(all[0].Kind == "SetGap" && lengthUnit(s.unit)) || s.landmark {
			continue
		}
		if s.unit == "h" && r.has("all in", "in all", "in total", "all told", "altogether") {
			continue // what it took in all is no entry of today's
		}
		if s.value == 1 || r.numberIsName(s) || r.word(s.from) == "half" && r.word(s.to) == "the" || r.word(s.from-1) == "the" || r.word(s.to) == "in" && r.word(s.to+1) == "all" || r.word(s.to) == "things" || r.word(s.to) == "finds" || r.word(s.to) == "for" && r.word(s.to+1) == "you" || r.word(s.to) == "till" || clockWords[r.word(s.from-1)] {
			continue
		}
		if !held(all, s.value) {
			return true
		}
	}
	return false
}

// leavesClause reports that the records of a message leave out a clause or a batch of
// which something was to be recorded: «…, and a box of p80s».
func leavesClause(r *reading, groups []group, all []Intent) bool {
	if len(all) == 0 || r.asking() || slices.ContainsFunc(all, func(in Intent) bool { return !isWrite(in.Kind) || !complete(in) }) {
		return false
	}
	for _, g := range groups {
		if g.kind != nil || g.r.denied() || g.r.ahead() {
			continue
		}
		if len(g.r.bare()) > 1 {
			return true // «…, font edge 5 4 3»
		}
		for _, s := range g.r.spans {
			if (s.kind == spanMaterial || s.kind == spanFastener || s.kind == spanNumbered) && !heldName(all, s) {
				return true
			}
		}
	}
	return slices.ContainsFunc(all, func(in Intent) bool { return in.Kind == "RecordDelivery" }) &&
		slices.ContainsFunc(r.all(spanBatch), func(s span) bool { return !heldName(all, s) })
}

// heldName reports that a field of the intents holds the name that a span stands for.
func heldName(all []Intent, s span) bool {
	for _, in := range all {
		for _, v := range in.Fields {
			if strings.Contains(strings.ToLower(fmt.Sprint(v)), strings.ToLower(s.id)) || s.kind == spanNumbered && isFigure(v, s.value) {
				return true
			}
		}
	}
	return false
}

// held reports that a field of the intents holds a figure, in whatever unit.
func held(all []Intent, n float64) bool {
	for _, in := range all {
		if in.Amount == n {
			return true
		}
		for f, v := range in.Fields {
			if f != "day" && f != "at" && f != "due" && f != "expires" && isFigure(v, n) {
				return true
			}
		}
	}
	return false
}

// isFigure reports that a field is a figure, as said or turned into the unit that the
// field is kept in.
func isFigure(v any, n float64) bool {
	switch v := v.(type) {
	case int:
		return float64(v) == n
	case float64:
		lengths := []float64{millimetres(n, "in"), millimetres(n, "cm"), millimetres(n, "ft"), n / 10, millimetres(n, "thou")}
		for _, kept := range append(lengths, n, newtonMetres(n, "lbf_ft"), n*1000, n/1000, n*60, n/60) {
			if math.Abs(v-kept) < 0.01+0.001*math.Abs(v) {
				return true
			}
		}
		return math.Floor(v) == n // «3 and a half»
	case []float64:
		for _, x := range v {
			if isFigure(x, n) {
				return true
			}
		}
		return false
	}
	return strings.Contains(fmt.Sprint(v), trimNumber(n))
}
