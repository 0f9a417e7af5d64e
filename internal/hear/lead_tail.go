package hear

import "slices"

// target is a list of the shop's, as a person calls it, and the kind that adds to it.
type target struct{ kind, words string }

// targets are where a person wants a text put: «… on the snag list».
var targets = []target{
	{"AddSnag", "snag list"}, {"AddSnag", "snags"}, {"AddSnag", "snagging list"}, {"AddSnag", "list of snags"},
	{"AddTask", "task list"}, {"AddTask", "tasks"}, {"AddTask", "job list"}, {"AddTask", "jobs list"}, {"AddTask", "to do list"}, {"AddTask", "todo list"}, {"AddTask", "todo"}, {"AddTask", "plan"}, {"AddTask", "list of jobs"}, {"AddTask", "jobs"},
	{"AddBrief", "brief"},
}

// looseTargets also have the words that only count with a mark behind them: «pilot
// to do: …».
var looseTargets = append(slices.Clip(targets), target{"AddTask", "to do"}, target{"AddTask", "task"}, target{"AddSnag", "snag"})

// tailEnds reads «add that to the brief», «put it on the snag list», «one for the
// snags» at token i.
func (r *reading) tailEnds(i int) (kind string, end int, ok bool) {
	j := i
	switch w := r.word(j); {
	case (w == "one" || w == "thats") && r.word(j+1) == "for" && (w == "one" || r.word(j+2) == "the"):
		j += 2
	case w == "add" || w == "put" && !r.has("extra") || w == "stick" || w == "pop" || w == "get" || w == "chuck" || w == "bung" || w == "note" || w == "write" || w == "log":
		j++
		if p := r.word(j); p == "that" || p == "it" || p == "this" || p == "them" {
			j++
		}
		for p := r.word(j); p == "down" || p == "in" || p == "on" || p == "onto" || p == "to" || p == "into" || p == "under" || p == "as"; p = r.word(j) {
			j++
		}
	case (w == "price" || w == "quote" || w == "cost" || w == "propose" || w == "put") && (r.word(j+1) == "that" || r.word(j+1) == "it" || r.word(j+1) == "this" || r.word(j+1) == "up"):
		for j++; j < i+6; j++ {
			if r.word(j) == "extra" && !r.spanAt(j, spanNumbered) {
				return "ProposeExtra", j + 1, r.word(j-1) == "an" || r.word(j-1) == "as"
			}
		}
		j = i + 1
		if w != "put" {
			return "", 0, false
		}
		for p := r.word(j); p == "that" || p == "it" || p == "this" || p == "up" || p == "down" || p == "in" || p == "on" || p == "onto" || p == "to" || p == "into" || p == "under" || p == "as"; p = r.word(j) {
			j++
		}
	case (w == "that" || w == "it" || w == "this") && (r.word(j+1) == "go" || r.word(j+1) == "needs" || r.word(j+1) == "wants"):
		for r.word(j) != "on" && r.word(j) != "in" && r.word(j) != "to" && j < i+6 {
			j++
		}
		j++
	case w == "thats" && r.word(j+1) == "a" && r.word(j+2) == "snag" && j+3 == r.hi && j > r.lo:
		return "AddSnag", j + 3, true
	case (w == "call" || w == "thats" || w == "snag") && (r.word(j+1) == "that" || r.word(j+1) == "it" || r.word(j+1) == "a"):
		if w == "snag" {
			return "AddSnag", j + 2, true
		}
		j++
		if p := r.word(j); p == "that" || p == "it" {
			j++
		}
	default:
		return "", 0, false
	}
	for r.word(j) == "the" || r.word(j) == "a" || r.word(j) == "his" || r.word(j) == "her" || r.word(j) == "their" || r.spanAt(j, spanJob) {
		j++
	}
	if r.word(j) == "snag" || r.word(j) == "task" {
		end := j + 1
		kind := headNouns[r.word(j)]
		if r.word(end) == "list" {
			end++
		}
		return kind, end, r.word(j-1) == "a" || r.word(j-1) == "the" || r.word(j+1) == "list" || r.word(j-1) == "as"
	}
	for _, t := range targets {
		if end, fits := r.phraseEnds(j, t.words); fits {
			return t.kind, end, true
		}
	}
	return "", 0, false
}

// tailAt returns where a tail of a kind begins in [from, to), or to.
func (r *reading) tailAt(kind string, from, to int) int {
	for i := from + 1; i < to; i++ {
		if !r.clauseStart(i) {
			continue
		}
		if k, _, ok := r.tailEnds(i); ok && k == kind {
			for r.word(i-1) == "please" || r.word(i-1) == "and" || r.word(i-1) == "so" || r.word(i-1) == "can" || r.word(i-1) == "you" {
				i--
			}
			return i
		}
	}
	return to
}

// tail finds «…, add that to the brief» and takes the clause before it as text; an
// estimate may stand behind it.
func (r *reading) tail() (lead, bool) {
	for i := r.lo + 1; i < r.hi; i++ {
		if !r.clauseStart(i) && r.word(i) != "one" && r.word(i) != "thats" {
			continue
		}
		kind, end, ok := r.tailEnds(i)
		if !ok {
			continue
		}
		rest := r.part(end, r.hi)
		_, timed := rest.hoursSaid()
		if end < r.hi && !timed && len(rest.prices()) == 0 && len(rest.rest("please", "for", "this", "one", "will", "you", "on", "job", "them", "now", "too", "well")) > 0 {
			continue
		}
		from := r.lo
		for j := i - 2; j > r.lo; j-- {
			if r.toks[j].end {
				from = j + 1
				break
			}
		}
		stop := i
		for stop > from && (r.word(stop-1) == "please" || r.word(stop-1) == "can" || r.word(stop-1) == "you" || r.word(stop-1) == "and" || r.word(stop-1) == "so") {
			stop--
		}
		text := from
		if kind == "AddBrief" {
			text = r.pastWanting(from, stop)
		}
		if text < stop {
			return lead{kind: kind, from: from, to: r.hi, text: text, textEnd: stop}, true
		}
	}
	return lead{}, false
}

// between reads «put new brake hoses on the task list», with an estimate behind it.
func (r *reading) between() (lead, bool) {
	i := r.lo
	for w := r.word(i); w == "can" || w == "you" || w == "we" || w == "i" || w == "could" || w == "please" || w == "right" || w == "ok"; w = r.word(i) {
		i++
	}
	switch r.word(i) {
	case "add", "put", "get", "stick", "pop", "chuck", "bung":
	default:
		return lead{}, false
	}
	for j := i + 2; j < r.hi; j++ {
		if w := r.word(j); w != "on" && w != "onto" && w != "to" && w != "in" {
			continue
		}
		k := j + 1
		for r.word(k) == "the" || r.spanAt(k, spanJob) {
			k++
		}
		for _, t := range targets {
			end, fits := r.phraseEnds(k, t.words)
			if !fits {
				continue
			}
			rest := r.part(end, r.hi)
			if _, timed := rest.hoursSaid(); end < r.hi && !timed && len(rest.rest("please", "for", "this", "one", "will", "you", "on", "job")) > 0 {
				if !r.toks[end-1].stop {
					continue
				}
				j = r.hi // what is wrong with it stands behind
			}
			if len(r.part(i+1, j).rest("something", "thing", "line", "item", "another")) == 0 {
				return lead{kind: t.kind, from: r.lo, to: r.hi, text: r.hi, textEnd: r.hi}, true
			}
			return lead{kind: t.kind, from: r.lo, to: r.hi, text: i + 1, textEnd: j}, !r.part(i, r.hi).asking()
		}
	}
	return lead{}, false
}
