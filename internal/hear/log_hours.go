package hear

import (
	"slices"
	"strings"
)

// logHours hears hours worked.
var logHours = kind{
	name:     "LogHours",
	write:    true,
	examples: []string{"3.5 hours on the ns sill", "me and jonah 4 hours each yesterday stripping"},
	needs:    []string{"job", "hours"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.has("remind", "new task", "add task", "add a task", "add a job", "extra", "ordered", "pot life", "reckon", "snag") {
			return 0
		}
		_, hours := r.quantity("h")
		between := r.clockHours() > 0
		put := r.has("put me down", "log me", "put my hours", "log my hours", "book me", "my hours", "clock me", "log hours", "put down") || (r.has("put", "log", "book") && r.has("down", "hours") && len(r.all(spanPerson)) > 0)
		day := r.has("half a day", "all day", "a day", "the whole day", "full day") && !hours
		if !hours && !between && !put && !day {
			return 0
		}
		stage := r.stage() != ""
		numbered := false
		for _, s := range r.all(spanNumbered) {
			numbered = numbered || s.id == "task"
		}
		_, panel := r.first(spanPanel)
		_, job := r.first(spanJob)
		worked := stage || numbered || panel || r.has("did", "worked", "spent", "working", "put in", "on the loom", "labour", "grafting")
		switch {
		case r.has("ago", "late", "late by", "half hour", "in an hour", "every hour", "hours sleep", "away", "per hour", "an hour", "hospital") && !put && !stage:
			return 0
		case put && (hours || r.has("hours")):
			return 1.1
		case hours && worked:
			return 1.1
		case hours && job:
			return 1.05
		case between && worked:
			return 1
		case day && worked:
			return 0.95
		case hours && c.Addressed && len(r.rest()) == 0:
			return 0.9
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		r.unknownJob(in)
		if s, ok := r.quantity("h"); ok {
			in.set("hours", s.value)
		} else if h := r.clockHours(); h > 0 {
			in.set("hours", h)
		} else if b := r.bare(); len(b) > 0 && !in.has("hours") && !r.has("half a day", "all day") {
			in.set("hours", b[0].value)
		}
		var people []string
		for _, s := range r.all(spanPerson) {
			if !slices.Contains(people, s.id) {
				people = append(people, s.id)
			}
		}
		if r.has("me and", "and me", "myself and", "and i", "and myself") && c.Speaker != "" {
			if r.firstWordIs("me", "myself") || len(people) == 0 {
				people = append([]string{c.Speaker}, people...)
			} else if !slices.Contains(people, c.Speaker) {
				people = append(people, c.Speaker)
			}
		}
		if len(people) > 0 {
			in.set("people", people)
		}
		for _, s := range r.all(spanNumbered) {
			if s.id == "task" {
				in.set("work", trimNumber(s.value))
			}
		}
		if st := r.stage(); st != "" && !in.has("work") {
			in.set("work", st)
		}
		if s, ok := r.first(spanDay); ok {
			in.set("day", s.ids[0])
		}
	},
}

func (r *reading) firstWordIs(words ...string) bool {
	return slices.Contains(words, r.word(r.lo))
}

// clockHours reads «8 till 12», «from 9 to 1» as hours, or 0.
func (r *reading) clockHours() float64 {
	for i := r.lo; i+2 < r.hi; i++ {
		from, n, ok := r.numberAt(i)
		if !ok || (r.word(n) != "till" && r.word(n) != "until" && !(r.word(n) == "to" && r.has("from", "did"))) {
			continue
		}
		to, _, ok := r.numberAt(n + 1)
		if !ok || from < 1 || from > 23 || to < 1 || to > 23 {
			continue
		}
		if to <= from {
			to += 12
		}
		if h := to - from; h > 0 && h <= 12 {
			return h
		}
	}
	return 0
}

// unknownJob notes a name after «on the» that the shop has no job for.
func (r *reading) unknownJob(in *Intent) {
	if in.has("job") {
		return
	}
	for i := r.lo; i+2 < r.hi; i++ {
		if w := r.word(i); (w == "on" || w == "for") && r.word(i+1) == "the" {
			name := r.word(i + 2)
			if !r.used[i+2] && name != "" && len(name) > 3 && !r.v.mender.Known(name) && strings.Trim(name, "abcdefghijklmnopqrstuvwxyz") == "" && (!r.v.mender.English(name) || (r.toks[i+2].stop || r.toks[i+2].end)) && stageWords[name] == "" && !r.workNoun(name) {
				in.Unknown = name
			}
		}
	}
}

// workNoun are things people work on that are not jobs.
func (r *reading) workNoun(w string) bool {
	return workNouns[w] || stageWords[w] != "" || findWords[stem(w)] != ""
}

var workNouns = wordSet("loom engine gearbox brakes brake wiring interior seats chassis body suspension diff axle clutch lathe bench stuff rest glass headlining hood carpets doors lights heater radiator dash exhaust tank steering hinges jig shell frame car van truck job floor paint primer")
