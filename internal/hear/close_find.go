package hear

import "slices"

// closeFind hears that a find was repaired.
var closeFind = kind{
	name:     "CloseFind",
	write:    true,
	examples: []string{"find 3 sorted", "ns sill hole welded up"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || !r.repaired() {
			return 0
		}
		for _, s := range r.all(spanNumbered) {
			if s.id == "find" {
				return 1.2
			}
		}
		if len(r.all(spanNumbered)) > 0 || r.has("snag") {
			return 0
		}
		if _, panel := r.first(spanPanel); panel && r.findKind() != "" && r.has("close it", "close that", "close it off", "close that one", "shut it", "tick it off") {
			return 1.3
		}
		_, panel := r.first(spanPanel)
		switch {
		case panel && (r.findKind() != "" || r.has("find")):
			if _, size := r.first(spanSize); size {
				return 0.4
			}
			return 1.15
		case c.LastFind > 0 && r.has("that", "thats", "it", "its", "one") && !panel && r.has("welded", "repaired", "close it", "close that", "patched", "find", "hole") && len(r.rest("welded", "repaired", "close", "now", "find", "up", "sorted", "fixed", "done", "all", "hole", "patched", "been", "has", "off", "mark", "closed", "already")) <= 1:
			return 1
		case !panel && len(r.findsCalled(c.Records)) > 0 && (r.has("welded", "patched", "repaired", "plugged", "dressed out", "tapped out", "pulled out", "knocked out", "plated and", "filled in") || r.starts("fixed the", "sorted the", "done the", "fixed that", "sorted that")) && len(r.all(spanMaterial)) == 0 && !r.hasHours():
			return 1 // «welded the pinhole up»
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		for _, s := range r.all(spanNumbered) {
			if s.id == "find" {
				in.set("find", int(s.value))
				return
			}
		}
		if b := r.bare(); len(b) == 1 && slices.Contains(in.Missing, "find") {
			in.set("find", int(b[0].value)) // the answer to «which find?»
			return
		}
		fillPlace(r, in)
		if called := r.findsCalled(c.Records); !in.has("panel") && len(called) > 0 {
			if len(called) == 1 && called[0].Number > 0 {
				in.set("find", called[0].Number)
			}
			return // of several: which, is to be asked
		}
		if !in.has("panel") && c.LastFind > 0 {
			in.set("find", c.LastFind)
		}
	},
	check: func(in *Intent) {
		if !in.has("find") && !in.has("panel") {
			in.Missing = append(in.Missing, "find")
		}
	},
}

// repaired reports that something is mended.
func (r *reading) repaired() bool {
	if r.starts("get", "once", "when", "need") || r.has("once find", "when find", "until find", "get find") {
		return false
	}
	if r.denied() || r.ahead() {
		return false
	}
	return r.has("sorted", "repaired", "fixed", "closed", "close", "welded", "patched", "mended", "plugged", "plated and", "seamed", "shut that", "dressed out", "dressed it out", "is out", "pulled out", "tapped out", "knocked out", "let in", "ground back", "finished", "done", "filled in", "cured", "made good", "put right", "dealt with")
}
