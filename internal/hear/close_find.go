package hear

import (
	"slices"
	"strings"
)

// closeFind hears that a find was repaired.
var closeFind = kind{
	name:     "CloseFind",
	write:    true,
	examples: []string{"find 3 sorted", "ns sill hole welded up"},
	score: func(r *reading, c Context) float64 {
		if _, panel := r.first(spanPanel); panel && !r.asking() && r.findKind() != "" && r.has("cross that find off", "tick that find off", "close that find", "close the find", "close that find off") {
			return 1.3
		}
		if r.asking() || !r.repaired() && !r.has("zapped", "stitched up", "tapped up") {
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
		if _, panel := r.first(spanPanel); !panel && r.has("that find", "the find", "this find") && len(r.all(spanMaterial)) == 0 && !r.hasHours() {
			return 1 // which, is to be asked
		}
		if _, panel := r.first(spanPanel); panel && r.findKind() != "" && r.has("close it", "close that", "close it off", "close that one", "shut it", "tick it off") {
			return 1.3
		}
		_, panel := r.first(spanPanel)
		if !panel {
			if _, named := r.lastPanel(c.panelSpokenOf()); named && r.hi-r.lo <= 6 && len(r.all(spanSide)) == 0 && !r.hasHours() {
				return 1 // «trays done»
			}
		} else if c.foundOn(r) && r.findKind() == "" && !r.hasHours() && len(r.all(spanMaterial)) == 0 && r.hi-r.lo <= 12 && r.has("thats repaired", "its repaired", "done properly", "all done now", "thats sorted", "thats done", "thats fixed", "now repaired") {
			return 1
		} else if r.hi-r.lo <= 8 && c.foundOn(r) && r.findKind() == "" && !r.hasHours() && len(r.all(spanMaterial)) == 0 && len(r.rest("one", "ones", "sorted", "repaired", "fixed", "closed", "close", "welded", "patched", "mended", "finished", "done", "now", "up", "has", "been", "all")) == 0 {
			return 1 // «c post ones done»
		}
		switch {
		case panel && (r.findKind() != "" || r.has("find")):
			if _, size := r.first(spanSize); size {
				return 0.4
			}
			return 1.15
		case c.LastFind > 0 && r.has("that", "thats", "it", "its", "one") && !panel && r.has("welded", "repaired", "close it", "close that", "patched", "find", "hole") && len(r.rest("welded", "repaired", "close", "now", "find", "up", "sorted", "fixed", "done", "all", "hole", "patched", "been", "has", "off", "mark", "closed", "already")) <= 1:
			return 1
		case !panel && len(r.findsCalled(c)) > 0 && (r.has("welded", "patched", "repaired", "plugged", "dressed out", "tapped out", "pulled out", "knocked out", "plated and", "filled in", "tapped up", "zapped up", "zapped", "stitched up", "brazed up", "dressed", "dressed back", "cut out and") || r.starts("fixed the", "sorted the", "done the", "fixed that", "sorted that")) && len(r.all(spanMaterial)) == 0 && !r.hasHours():
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
		if in.has("panel") && !in.has("job") && c.ChannelJob == "" && c.ThreadJob == "" {
			for _, d := range c.findsHere() {
				if d.Intent.text("panel") == in.text("panel") && !in.has("job") && d.Intent.has("job") {
					in.set("job", d.Intent.text("job"))
				}
			}
		}
		if ids, _ := in.Fields["panel_choice"].([]string); len(ids) > 0 {
			for _, d := range c.findsHere() {
				if p := d.Intent.text("panel"); slices.Contains(ids, p) && !in.has("panel") {
					in.set("panel", p) // the arch that something was found on
					delete(in.Fields, "panel_choice")
				}
			}
		}
		if called := r.findsCalled(c); in.has("panel") && len(called) > 0 {
			called = slices.DeleteFunc(called, func(d Done) bool {
				return d.Intent.text("panel") != in.text("panel") || in.has("side") && d.Intent.text("side") != in.text("side")
			})
			others := slices.DeleteFunc(c.findsHere(), func(d Done) bool { return d.Intent.text("panel") != in.text("panel") })
			if len(called) == 1 && len(others) > 1 {
				in.set("find", called[0].Number) // the crack, of two finds on the wing
			}
			return
		}
		if called := r.findsCalled(c); !in.has("panel") && len(called) > 0 {
			if len(called) == 1 && called[0].Number > 0 {
				in.set("find", called[0].Number)
			}
			return // of several: which, is to be asked
		}
		if panel, ok := r.lastPanel(c.panelSpokenOf()); ok && !in.has("panel") && !in.has("panel_choice") {
			in.set("panel", panel)
			if side := c.panelSpokenOf().Intent.text("side"); side != "" && !in.has("side") {
				in.set("side", side)
			}
			return
		}
		if !in.has("panel") && c.LastFind > 0 {
			in.set("find", c.LastFind)
		}
	},
	check: func(in *Intent) {
		if !in.has("find") && !in.has("panel") && !in.has("job") {
			in.Missing = append(in.Missing, "find")
		}
	},
}

// lastPanel returns the panel of the last find when the reading names it by one of
// its words: «tray» after a find on the battery tray.
func (r *reading) lastPanel(last *Done) (string, bool) {
	if !last.hasPanel() || last.Intent.Kind != "RecordFind" && last.Intent.Kind != "AdviseRepair" {
		return "", false
	}
	panel := last.Intent.text("panel")
	for w := range strings.FieldsSeq(strings.ReplaceAll(panel, "-", " ")) {
		for i := r.lo; len(w) > 3 && i < r.hi; i++ {
			if r.stem(i) == stem(w) {
				return panel, true
			}
		}
	}
	return "", false
}

// foundOn reports that somebody recorded a find here on the panel that is named.
func (c Context) foundOn(r *reading) bool {
	p, ok := r.first(spanPanel)
	return ok && slices.ContainsFunc(c.findsHere(), func(d Done) bool {
		return d.Intent.text("panel") == p.id || p.id == "" && slices.Contains(p.ids, d.Intent.text("panel"))
	})
}

// repaired reports that something is mended.
func (r *reading) repaired() bool {
	if r.starts("get", "once", "when", "need") || r.has("once find", "when find", "until find", "get find") {
		return false
	}
	if r.denied() || r.ahead() {
		return false
	}
	return r.has("sorted", "repaired", "fixed", "closed", "close", "welded", "patched", "mended", "plugged", "plated and", "seamed", "shut that", "dressed out", "dressed it out", "is out", "pulled out", "tapped out", "knocked out", "let in", "ground back", "finished", "done", "flatted out", "flatted back", "filled in", "cured", "made good", "put right", "dealt with", "crack stopped", "stop drilled")
}
