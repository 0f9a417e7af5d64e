package hear

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// leavesOut reports that the records of a message leave something of it out: then it was
// not understood, and nothing of it is recorded.
func leavesOut(r *reading, groups []group, all []Intent) bool {
	if twoInOne(r, all) || unkeptUnit(r, all) || halfHeard(r, all) || besideUnknown(r, all) || leavesFigure(r, all) {
		return true
	}
	return onlyRecords(r, all) && (leavesClause(groups, all) || leavesBatch(r, all) || leavesName(r, all) || r.takenBackWithin(all))
}

// onlyRecords reports that a message tells records with nothing missing, and asks nothing.
func onlyRecords(r *reading, all []Intent) bool {
	return len(all) > 0 && !r.asking() && !slices.ContainsFunc(all, func(in Intent) bool { return !isWrite(in.Kind) || !complete(in) })
}

// figured are the records in which every figure said has a place of its own.
var figured = wordSet("RecordFind StartTask FinishTask LogHours RecordCoat RecordUse RecordDelivery RecordWaste CloseFind DecideExtra CloseSnag RecordTorque AddMaterial SetGap RecordCount RecordGap")

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
	if all[0].Kind == "RecordTorque" && r.countsEach() {
		return false
	}
	_, timed := r.timeSaid()
	if timed && all[0].Kind == "RecordCoat" || r.clockHours() > 0 || r.has("at half", "at quarter", "finished half", "on every") {
		return false
	}
	for _, s := range r.all(spanSize) {
		if !s.landmark && !(held(all, s.value, "") && held(all, s.second, "")) {
			return true
		}
	}
	for _, s := range r.all(spanQuantity) {
		if !unitHeld(all[0].Kind, s.unit) || s.landmark {
			continue
		}
		if s.unit == "h" && r.has("all in", "in all", "in total", "all told", "altogether") {
			continue // what it took in all is no entry of today's
		}
		if s.value == 1 || r.numberIsName(s) || r.word(s.from) == "half" && r.word(s.to) == "the" || r.word(s.from-1) == "the" || r.word(s.to) == "in" && r.word(s.to+1) == "all" || r.word(s.to) == "things" || r.word(s.to) == "finds" || r.word(s.to) == "for" && r.word(s.to+1) == "you" || r.word(s.to) == "till" || clockWords[r.word(s.from-1)] && all[0].Kind != "RecordTorque" {
			continue
		}
		if !held(all, s.value, cmp.Or(map[bool]string{true: s.unit}[lengthUnit(s.unit)], r.lengthSaid())) {
			return true
		}
	}
	return false
}

// unitHeld reports that a record of the kind holds every figure of that unit.
func unitHeld(kind, unit string) bool {
	switch unit {
	case "", "h":
		return true
	case "nm", "lbf_ft", "kgf_m":
		return kind == "RecordTorque"
	case "l", "ml", "kg", "g", "pack":
		return stockKinds[kind]
	case "c":
		return kind == "RecordCoat"
	}
	return kind == "SetGap" && lengthUnit(unit)
}

// leavesClause reports that the records of a message leave out a clause of which
// something was to be recorded: «…, and a box of p80s».
func leavesClause(groups []group, all []Intent) bool {
	for _, g := range groups {
		if g.kind != nil || g.r.denied() || g.r.ahead() {
			continue
		}
		if g.r.starts("starting", "started", "and starting", "start") {
			return true // «finished the left sill, starting the right»
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
	return false
}

// leavesBatch reports that a delivery leaves out the batch that was said, or till when
// it is good.
func leavesBatch(r *reading, all []Intent) bool {
	if !slices.ContainsFunc(all, func(in Intent) bool { return in.Kind == "RecordDelivery" }) {
		return false
	}
	if r.has("best before", "use by", "expires", "expiry") && !slices.ContainsFunc(all, func(in Intent) bool { return in.has("expires") }) {
		return true
	}
	return slices.ContainsFunc(r.all(spanBatch), func(s span) bool { return !heldName(all, s) })
}

// startsToo reports «finished the left sill 3 hours, starting the right», of which the
// start was not heard.
func (r *reading) startsToo(all []Intent) bool {
	made := func(kind string) bool {
		return slices.ContainsFunc(all, func(in Intent) bool { return in.Kind == kind })
	}
	return made("FinishTask") && !made("StartTask") && r.has("starting", "started on")
}

// takenBackWithin reports «os sill hole. scrub that, ns sill hole»: what was told first is
// not so.
func (r *reading) takenBackWithin(all []Intent) bool {
	inside := r.has("scrap that", "scrub that", "scratch that") && !r.starts("scrap", "scrub", "scratch")
	return inside && slices.ContainsFunc(all, func(in Intent) bool { return in.Kind != "Undo" && in.Kind != "Amend" })
}

// twoInOne reports a record in which two things were put into one: a hole round and
// square, two sides, two parts, a vehicle named in the middle of two sign-offs.
func twoInOne(r *reading, all []Intent) bool {
	says := func(side string) bool {
		return slices.ContainsFunc(r.all(spanSide), func(s span) bool { return s.id == side && !s.landmark })
	}
	torques := 0
	for _, in := range all {
		switch in.Kind {
		case "RecordFind":
			if in.has("diameter_mm") && in.has("width_mm") {
				return true
			}
			fallthrough
		case "RecordGap":
			if len(all) == 1 && says("driver") && says("passenger") && in.text("side") != "both" {
				return true
			}
		case "RecordArrival":
			if strings.Contains(in.text("part"), " and ") && r.has("both") {
				return true
			}
		case "RecordTorque":
			torques++
		}
	}
	if jobs := r.all(spanJob); torques > 1 && len(jobs) == 1 {
		return jobs[0].from > r.lo+2 && jobs[0].to < r.hi-1
	}
	return false
}

// unkeptUnit reports an amount in a unit that the shop's books know nothing of.
func unkeptUnit(r *reading, all []Intent) bool {
	return r.hasAny("quart quarts") && slices.ContainsFunc(all, func(in Intent) bool { return stockKinds[in.Kind] })
}

// placed are the records that say on which panel they are, and mustHold, by kind of span,
// what else a record must not leave out.
var (
	placed   = wordSet("RecordFind RecordCoat")
	mustHold = map[spanKind]map[string]bool{
		spanPanel:    placed,
		spanSide:     wordSet("RecordFind RecordGap FinishTask"),
		spanEdge:     wordSet("RecordGap"),
		spanFastener: wordSet("RecordTorque"),
		spanNumbered: wordSet("LogHours CloseFind DecideExtra FinishTask StartTask CloseSnag"),
		spanMaterial: wordSet("RecordUse RecordDelivery RecordCount RecordWaste RecordCoat"),
		spanDay:      wordSet("LogHours"),
		spanJob:      wordSet("LogHours RecordUse RecordTorque"),
	}
)

// leavesName reports that the records of a message leave out a place, a fastener, a
// material, a day or a number that was named: «rust in the ns rear arch and os front arch».
func leavesName(r *reading, all []Intent) bool {
	for _, s := range r.spans {
		if s.kind == spanDay && s.id > r.now.Format(isoDay) || s.kind == spanPanel && (r.spanAt(s.from, spanQuantity) || r.spanAt(s.from, spanSize)) {
			continue // «ill do the rest tomorrow», «three quarters of an inch»
		}
		kinds := mustHold[s.kind]
		if kinds == nil || s.landmark || s.weak && s.kind != spanFastener || s.id == "" || s.kind == spanSide && s.id != "left" && s.id != "right" {
			continue
		}
		if w := r.word(s.from - 2); s.kind == spanMaterial && r.word(s.from-1) == "the" && (w == "on" || w == "over" || w == "under" || w == "for") {
			continue // «200 ml of thinner on the blue»
		}
		if clause := r.clauseAround(s); clause.allIsWell() || clause.has("fine", "sound", "solid", "clean", "good", "ok", "okay") && clause.findKind() == "" {
			continue // «crack in the ns sill, os sill fine»
		}
		if !slices.ContainsFunc(all, func(in Intent) bool { return !kinds[in.Kind] }) && !heldName(all, s) && !bothHeld(all, s) {
			return true
		}
	}
	return false
}

// clauseAround returns the clause between marks that a span is in.
func (r *reading) clauseAround(s span) *reading {
	lo, hi := s.from, max(s.to, s.from+1)
	for lo > r.lo && !r.toks[lo-1].stop && !r.toks[lo-1].end {
		lo--
	}
	for hi < r.hi && !r.toks[hi-1].stop && !r.toks[hi-1].end {
		hi++
	}
	return r.part(lo, hi)
}

// bothHeld reports that a side is held by a record of both.
func bothHeld(all []Intent, s span) bool {
	return s.kind == spanSide && slices.ContainsFunc(all, func(in Intent) bool { return in.text("side") == "both" })
}

// heldIn are the fields that hold what a kind of span names; any, when it is not here.
var heldIn = map[spanKind]string{
	spanPanel: "panel panels", spanSide: "side task", spanEdge: "edge", spanDay: "day", spanJob: "job",
	spanFastener: "fastener", spanMaterial: "material",
}

// heldName reports that a field of the intents holds the name that a span stands for.
func heldName(all []Intent, s span) bool {
	for _, in := range all {
		for f, v := range in.Fields {
			if fields := heldIn[s.kind]; fields != "" && !slices.Contains(strings.Fields(fields), f) {
				continue
			}
			if strings.Contains(strings.ToLower(fmt.Sprint(v)), strings.ToLower(s.id)) || s.kind == spanNumbered && isFigure(v, s.value, "") {
				return true
			}
		}
	}
	return false
}

// held reports that a field of the intents holds a figure, in whatever unit.
func held(all []Intent, n float64, length string) bool {
	for _, in := range all {
		if in.Amount == n {
			return true
		}
		for f, v := range in.Fields {
			if f != "day" && f != "at" && f != "due" && f != "expires" && isFigure(v, n, length) {
				return true
			}
		}
	}
	return false
}

// isFigure reports that a field is a figure, as said or turned into the unit that the
// field is kept in.
func isFigure(v any, n float64, length string) bool {
	switch v := v.(type) {
	case int:
		return float64(v) == n
	case float64:
		if length == "" && n < 1 {
			length = "in" // «3/16»
		}
		for _, kept := range []float64{n, millimetres(n, length), newtonMetres(n, "lbf_ft"), newtonMetres(n, "kgf_m"), n * 1000, n / 1000, n * 60, n / 60} {
			if math.Abs(v-kept) < 0.01+0.001*math.Abs(v) {
				return true
			}
		}
		return math.Floor(v) == n // «3 and a half»
	case []float64:
		for _, x := range v {
			if isFigure(x, n, length) {
				return true
			}
		}
		return false
	}
	return strings.Contains(fmt.Sprint(v), trimNumber(n))
}
