package hear

import (
	"math"
	"slices"
	"strings"
)

// logHours hears hours worked.
var logHours = kind{
	name:     "LogHours",
	write:    true,
	examples: []string{"3.5 hours on the ns sill", "me and jonah 4 hours each yesterday stripping"},
	needs:    []string{"job", "hours"},
	check: func(in *Intent) {
		if in.has("whose") && !in.has("people") {
			in.Missing = append(in.Missing, "people")
		}
	},
	score: func(r *reading, c Context) float64 {
		if r.whole.has("hang on", "hold on") || r.starts("price", "quote") || r.quantityStarts(r.lo) && r.whole.has("and im on it", "and ill be", "and im there", "and im done", "and im with you") || r.has("ran", "sat", "been here", "slept", "drove", "queued", "stuck", "traffic", "asleep", "bed", "train", "bus", "walk", "walked", "match", "film", "phone", "gym", "pitch", "ferry", "plane", "looking for", "searching for", "hunting for", "my arse", "well spent", "and then the", "wasted") || r.starts("give it", "give that", "nobody", "no one", "dont", "everyone", "everybody", "keep", "leave", "stay", "wait") || r.has("last night") && r.stage() == "" {
			return 0
		}
		put := r.has("hours for me", "hours for") && len(r.bare()) > 0 || r.has("put me down", "put me", "log me", "put my hours", "log my hours", "log my time", "put my time", "book my time", "put me down for", "book me", "my hours", "clock me", "log hours", "put down") || (r.has("put", "log", "book", "stick") && (r.has("down", "hours", "hour", "minutes") || len(r.all(spanPerson)) > 0))
		if len(r.all(spanFastener)) > 0 && !r.hasHours() {
			return 0
		}
		if r.asking() && !(put && r.starts("can you", "could you", "will you", "would you")) || r.has("remind", "new task", "add task", "add a task", "add a job", "ordered", "pot life", "reckon", "snag", "find", "task list", "to do", "todo", "job list", "jobs", "call it", "to do list", "onto the") || r.has("task") && len(r.all(spanNumbered)) == 0 || r.has("extra") && !r.has("extra hour", "extra hours", "extra half hour") {
			return 0
		}
		if len(r.bare()) == 1 && r.has("for me") && c.spokenOf("LogHours") && r.hi-r.lo <= 9 && len(r.all(spanMaterial)) == 0 && len(r.rest("for", "me", "today", "morning", "same", "as", "well", "too")) == 0 {
			return 1 // «and 2 for me this morning on it»
		}
		_, hours := r.quantity("h")
		_, minutes := r.quantity("min")
		hours = hours || minutes
		between := r.clockHours() > 0
		half := r.has("half a day", "all day", "a day", "the whole day", "full day") && !hours
		each := r.has("each") && len(r.bare()) > 0 && len(r.all(spanPerson)) > 0
		if !hours && r.has("log my time", "put my time", "book my time") {
			return 1.1
		}
		if !hours && !between && r.onlyWork() && r.has("log it", "log that", "book it", "book that", "put it down") && !r.asking() {
			return 1 // how long is to be asked
		}
		if !hours && !between && !put && !half && !each && !r.didOn() {
			return 0
		}
		stage := r.stage() != ""
		numbered := false
		for _, s := range r.all(spanNumbered) {
			numbered = numbered || s.id == "task"
		}
		_, panel := r.first(spanPanel)
		_, job := r.first(spanJob)
		_, day := r.first(spanDay)
		if r.hi-r.lo > 16 && !put && !stage && !job && !numbered {
			return 0 // a story, not a report
		}
		worked := stage || numbered || panel || r.working() || r.has("did", "worked", "spent", "put in", "on the loom", "had me", "took me", "all told", "all in on", "on the pair", "for me", "labour", "grafting", "here", "on this", "on here", "on it", "on that")
		switch {
		case r.has("ago", "late", "late by", "in an hour", "every hour", "away", "per hour", "hospital", "from now", "early", "sleep", "for the last", "queue", "old") && !put && !stage:
			return 0
		case put && (hours || r.has("hours") || len(r.bare()) > 0 && (job || stage || day || numbered) || between):
			return 1.1
		case hours && worked:
			return 1.1
		case hours && r.onPart() && r.hi-r.lo <= 8 && c.ChannelJob != "":
			return 0.95 // «half an hour on the horn»
		case each && (stage || day || job || r.has("on the") && len(r.all(spanPerson)) > 0 && c.ChannelJob != "" && len(r.all(spanMaterial)) == 0 && r.orderVerb() < 0):
			return 1.05
		case hours && (job || day && len(r.rest()) <= 4):
			return 1.05
		case between && (worked || day || job):
			return 1
		case len(r.bare()) == 1 && stage && r.didOn():
			return 1 // «mabel did 4 on paint friday»
		case half && worked:
			return 0.95
		case hours && len(r.rest()) == 0 && (c.Addressed || r.whole.hi-r.whole.lo > r.hi-r.lo), hours && r.v.anyWorkNoun(r):
			return 0.95
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		r.unknownJob(in)
		if s, ok := r.quantity("h"); ok {
			in.set("hours", s.value)
		} else if s, ok := r.quantity("min"); ok {
			in.set("hours", math.Round(100*s.value/60)/100)
		} else if h := r.clockHours(); h > 0 {
			in.set("hours", h)
		} else if b := r.bare(); len(b) > 0 && !in.has("hours") && !r.has("half a day", "all day") {
			in.set("hours", b[0].value)
		}
		var people []string
		for _, s := range r.all(spanPerson) {
			if w := r.word(s.from - 1); w == "helping" || w == "help" || w == "helped" || w == "assisting" {
				continue // «an hour helping idris» is the speaker's
			}
			if w := r.word(s.from - 1); (w == "for" || w == "with") && !(w == "for" && (r.quantityEnds(s.from-1) || stem(r.word(s.from-2)) == "hour")) && !r.has("log", "put", "book", "down", "same", "hours for", "each") {
				continue // «holding panels for idris»
			}
			if !slices.Contains(people, s.id) {
				people = append(people, s.id)
			}
		}
		if r.has("me and", "and me", "myself and", "and i", "and myself") && c.Speaker != "" {
			if r.firstWordIs("me", "myself") || len(people) == 0 || r.has("me and", "myself and") {
				people = append([]string{c.Speaker}, people...)
			} else if !slices.Contains(people, c.Speaker) {
				people = append(people, c.Speaker)
			}
		}
		if len(people) > 0 {
			in.set("people", people)
		} else if r.has("log him", "log her", "put him", "put her", "book him", "book her", "him down", "her down", "for him", "for her", "them down") && !in.has("people") {
			in.set("whose", "theirs") // who, is to be asked
		}
		for _, s := range r.all(spanNumbered) {
			if s.id == "task" {
				in.set("work", trimNumber(s.value))
			}
		}
		if st := r.stage(); st != "" && !in.has("work") {
			in.set("work", st)
		}
		if s, ok := r.first(spanDay); ok && s.ids[0] <= r.now.Format(isoDay) { // «ill do the rest tomorrow»
			in.set("day", s.ids[0])
		} else if day, from := r.headDay(); !ok && from && day <= r.now.Format(isoDay) {
			in.set("day", day)
		}
	},
}

// onlyWork reports a trade's work, with nothing else the shop keeps.
func (r *reading) onlyWork() bool {
	return r.stage() != "" && len(r.bare()) == 0 && len(r.all(spanMaterial)) == 0 && r.findKind() == ""
}

// didOn reports «mabel did 4 on paint»: a person, a bare figure and a trade.
func (r *reading) didOn() bool {
	b := r.bare()
	return len(b) == 1 && r.stage() != "" && r.word(b[0].from-1) == "did" && r.person(b[0].from-2) != "" && r.word(b[0].to) == "on" && b[0].value <= 14
}

// headDay returns the day that heads the whole message, when it is the only one: «last
// friday on the tern: idris 7 hours, mabel 2».
func (r *reading) headDay() (string, bool) {
	days := r.whole.all(spanDay)
	if len(days) != 1 || days[0].from != r.whole.lo || r.lo == r.whole.lo {
		return "", false
	}
	for i := days[0].to; i < r.whole.hi && i < days[0].to+4; i++ {
		if at := r.toks[i].to; r.toks[i].stop && at < len(r.source) && r.source[at] == ':' {
			return days[0].ids[0], true
		}
	}
	return "", false
}

func (r *reading) firstWordIs(words ...string) bool {
	return slices.Contains(words, r.word(r.lo))
}

// clockHours reads «8 till 12», «from nine to half one» as hours, or 0.
func (r *reading) clockHours() float64 {
	for i := r.lo; i+2 < r.hi; i++ {
		from, n, ok := r.clockAt(i)
		if !ok || (r.word(n) != "till" && r.word(n) != "until" && (r.word(n) != "to" || !r.has("from", "did"))) {
			continue
		}
		to, _, ok := r.clockAt(n + 1)
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

// clockAt reads a time of day at token i: «8», «half twelve», «quarter past nine», «12:30».
func (r *reading) clockAt(i int) (float64, int, bool) {
	if w := r.word(i); len(w) > 3 && strings.Contains(w, ":") {
		hours, minutes, _ := strings.Cut(w, ":")
		h, ok1 := parseDigits(hours)
		m, ok2 := parseDigits(minutes)
		return h + m/60, i + 1, ok1 && ok2
	}
	switch r.word(i) {
	case "half":
		j := i + 1
		if r.word(j) == "past" {
			j++
		}
		if v, n, ok := r.numberAt(j); ok {
			return v + 0.5, n, true
		}
	case "quarter":
		if v, n, ok := r.numberAt(i + 2); ok && r.word(i+1) == "past" {
			return v + 0.25, n, true
		} else if ok && r.word(i+1) == "to" {
			return v - 0.25, n, true
		}
	}
	// «ten past nine», «twenty to four»
	if m, n, ok := r.numberAt(i); ok && m < 60 && (r.word(n) == "past" || r.word(n) == "to") {
		if h, k, ok := r.numberAt(n + 1); ok && h >= 1 && h <= 12 && h == float64(int(h)) {
			if r.word(n) == "to" {
				m = -m
			}
			return h + m/60, k, true
		}
	}
	return r.numberAt(i)
}

// onPart reports «on the horn»: a part of the vehicle.
func (r *reading) onPart() bool {
	for i := r.lo; i+2 < r.hi; i++ {
		if r.word(i) == "on" && r.word(i+1) == "the" && (partNouns[r.word(i+2)] || r.workNoun(r.word(i+2))) {
			return true
		}
	}
	return false
}

// notWork are words in -ing that are no work.
var notWork = wordSet("morning evening nothing something anything everything during king thing things ring bring spring string sitting waiting talking sleeping queueing queuing listening arguing watching dreaming moaning driving coming going being having looking asking thinking saying telling missing running raining freezing wedding meeting")

// working reports a word for work in hand: «scraping underseal», «lifting the engine in».
func (r *reading) working() bool {
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i); len(w) > 5 && strings.HasSuffix(w, "ing") && !notWork[w] && !r.used[i] {
			return true
		}
	}
	return false
}

// anyWorkNoun reports a thing people work on, and nothing else unexplained.
func (v *Vocabulary) anyWorkNoun(r *reading) bool {
	rest := r.rest()
	return len(rest) <= 2 && slices.ContainsFunc(rest, r.workNoun)
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
