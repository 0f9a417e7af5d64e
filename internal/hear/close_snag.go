package hear

import (
	"cmp"
	"slices"
)

// closeSnag hears that a snag was put right.
var closeSnag = kind{
	name:     "CloseSnag",
	write:    true,
	examples: []string{"snag 4 is put right", "clutch pedal squeak sorted, close it"},
	needs:    []string{},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.oneMoreSnag() || r.ahead() || !r.putRight() {
			return 0
		}
		if _, ok := r.numberOf("find"); ok {
			return 0
		}
		_, numbered := r.numberOf("snag")
		last := c.Last != nil && (c.Last.Intent.Kind == "ListSnags" || c.Last.Intent.Kind == "AddSnag")
		closing := r.has("snag off", "snag gone", "snags off", "close it", "close that", "close it off", "close that off", "close them off", "tick it off", "tick that off", "cross it off", "cross that off", "off the list", "knock it off the list", "close that one", "shut that one", "mark it done", "close it out", "sign it off", "strike it off", "snag is closed", "snag closed", "close the snag", "shut that snag", "shut the snag", "tick that snag", "off the snag list", "can go", "close that snag", "mark that snag", "snag is sorted", "snag is done")
		if r.denied() && !(closing && !r.has("not fixed", "not sorted", "not done", "isnt fixed", "isnt sorted", "hasnt been", "havent", "didnt", "cant", "couldnt", "yet")) {
			return 0
		}
		switch {
		case numbered:
			return 1.25
		case last && r.has("that snag", "the snag", "this snag"):
			return 1.2
		case r.has("snag", "snags") && (closing || r.named("snag", c)):
			return 1.2
		case closing && (last || r.named("snag", c)):
			return 1.1
		case last && r.named("snag", c):
			return 1.05
		case r.strongly("snag", c):
			return 0.95
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if n, ok := r.numberOf("snag"); ok {
			in.set("snag", n)
			if job := cmp.Or(c.ChannelJob, r.v.jobOf("snag", n)); !in.has("job") && job != "" {
				in.set("job", job)
			}
			return
		}
		if b := r.bare(); len(b) == 1 && slices.Contains(in.Missing, "snag") {
			in.set("snag", int(b[0].value))
			return
		}
		if t := r.things("snag", in.text("job")); slices.Contains(in.Missing, "snag") && len(t) == 1 {
			in.set("snag", t[0].number)
			return
		}
		if !in.has("job") {
			if job := c.fallbackJob(); job != "" {
				in.set("job", job)
			}
		}
		switch {
		case len(r.things("snag", in.text("job"))) > 0:
			in.set("text", r.textFrom(r.lo, r.hi))
		case c.Last != nil && c.Last.Intent.Kind == "AddSnag" && c.Last.Number > 0:
			in.set("snag", c.Last.Number)
			if job := c.Last.Intent.text("job"); job != "" {
				in.set("job", job)
			}
		}
	},
}

// oneMoreSnag reports «snag one connector missing»: a count of what is wrong, not a
// number of a snag.
func (r *reading) oneMoreSnag() bool {
	for i := r.lo; i+2 < r.hi; i++ {
		if r.word(i) == "snag" && (r.word(i+1) == "one" || r.word(i+1) == "two") && !r.toks[i+1].stop && !r.toks[i+1].end {
			switch r.word(i + 2) {
			case "is", "are", "was", "on", "done", "fixed", "sorted", "closed", "cleared", "now", "please", "and", "has", "can", "all", "off", "that":
			default:
				return true
			}
		}
	}
	return false
}

// putRight reports that a fault is said to be mended.
func (r *reading) putRight() bool {
	return r.has("sorted", "fixed", "done", "closed", "close", "mended", "cured", "put right", "gone", "tick", "cross", "off the list", "finished", "replaced", "greased", "adjusted", "shut", "sign", "strike", "silenced", "stopped", "cleared", "resolved", "shut that", "tick that", "off the snag list", "can go", "take it off", "works now", "working now", "snag off")
}

// strongly reports that at least two words of one thing are named.
func (r *reading) strongly(noun string, c Context) bool {
	job := r.onlyJob()
	if job == "" {
		job = c.fallbackJob()
	}
	best := r.things(noun, job)
	if len(best) != 1 {
		return false
	}
	n := 0
	for _, w := range best[0].words {
		for i := r.lo; i < r.hi; i++ {
			if root(r.word(i)) == w {
				n++
				break
			}
		}
	}
	return n >= 2
}
