package hear

import "strings"

// linkChannel hears which job a channel stands for.
var linkChannel = kind{
	name:     "LinkChannel",
	write:    true,
	examples: []string{"this channel is for the tern", "link bay-4 to the osmere"},
	needs:    []string{"job"},
	score: func(r *reading, _ Context) float64 {
		if r.asking() || r.denied() || !r.jobNamed() {
			return 0
		}
		if r.has("this channel is", "this channel stands for", "this channel is for", "use this channel for", "make this channel", "this channel is now") || r.starts("link") && r.has("channel", "bay", "this") && r.has("to") {
			return 1.3
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		fillJob(r, in)
		for i := r.lo; i+1 < r.hi; i++ {
			if r.word(i) == "bay" && isDigitWord(r.word(i+1)) {
				in.set("channel", strings.ToLower(r.word(i)+"-"+r.word(i+1)))
				return
			}
			if r.word(i) == "link" && r.word(i+1) != "this" && r.word(i+1) != "the" && r.word(i+1) != "bay" && r.word(i+1) != "channel" {
				in.set("channel", strings.TrimPrefix(strings.ToLower(r.textFrom(i+1, i+2)), "#"))
				return
			}
		}
	},
}
