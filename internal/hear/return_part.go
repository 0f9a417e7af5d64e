package hear

import (
	"slices"
	"strings"
)

// returnPart hears that a part went back.
var returnPart = kind{
	name:     "ReturnPart",
	write:    true,
	examples: []string{"sent the door seals back, wrong profile"},
	needs:    []string{"job", "part"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.denied() && !r.has("no good", "not right", "not straight", "doesnt fit", "didnt fit", "wont fit") || r.ahead() || !r.has("sent back", "sending back", "returned", "gone back", "went back", "sent", "sending") || !(r.has("back") || r.has("returned")) {
			return 0
		}
		if !r.named("part", c) && !r.partAgain(c.Last) {
			return 0
		}
		return 1.3
	},
	fill: func(r *reading, c Context, in *Intent) {
		from, to := r.namedPart()
		if from >= to && slices.Contains(in.Missing, "part") {
			from, to = r.partName(r.lo)
		}
		r.fillPart(from, to, in)
		if from >= to && r.partAgain(c.Last) {
			in.takeLastPart(c.Last)
		}
		delete(in.Fields, "quantity")
		for i := max(to, r.lo); i < r.hi; i++ {
			if i > r.lo && r.toks[i-1].stop || r.word(i-1) == "because" || r.word(i-1) == "as" || r.word(i-1) == "back" && i < r.hi {
				in.set("why", strings.TrimPrefix(r.textFrom(i, r.hi), "because "))
				break
			}
		}
		if job := r.partJob(from, to, c, in); job != "" {
			in.set("job", job)
		}
	},
}
