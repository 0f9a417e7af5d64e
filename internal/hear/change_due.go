package hear

import "slices"

// changeDue hears that an ordered part is due on another day.
var changeDue = kind{
	name:     "ChangeDue",
	write:    true,
	examples: []string{"propshaft's now due friday", "ketteridge say the wing panel's put back to the 20th"},
	needs:    []string{"job", "part", "due"},
	score: func(r *reading, c Context) float64 {
		if r.supplierSays(c.Last) {
			return 1.15
		}
		if r.asking() || r.orderVerb() >= 0 || !r.named("part", c) || r.has("if", "hopefully", "might", "maybe", "hoping", "i will chase", "to chase", "i will get", "i will ring", "i will phone", "i will call") {
			return 0
		}
		if _, due := r.dueDay(); !due {
			return 0
		}
		if r.has("now due", "due now", "put back to", "put back till", "put back until", "pushed back to", "pushed to", "moved to", "slipped to", "slipped till", "delayed to", "delayed till", "delayed until", "wont be here till", "wont be here until", "not coming till", "not coming until", "not here till", "not here until", "not till", "not until", "now not till", "now not until", "brought forward to", "chased", "new date", "due date is now", "coming now", "now coming", "still not here", "still not come", "still not arrived", "still not turned up", "not here yet", "not come yet", "still waiting", "now", "gone back to", "late till", "late until") {
			return 1.15
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		from, to := r.namedPart()
		if from >= to && slices.Contains(in.Missing, "part") {
			from, to = r.partName(r.lo)
		}
		r.fillPart(from, to, in)
		if from >= to && r.supplierSays(c.Last) {
			in.takeLastPart(c.Last)
		}
		delete(in.Fields, "quantity")
		if day, ok := r.dueDay(); ok {
			in.set("due", day)
		}
		if job := r.partJob(from, to, c, in); job != "" {
			in.set("job", job)
		}
	},
}

// supplierSays reports «fenwright reckon monday now» after talk of a part.
func (r *reading) supplierSays(last *Done) bool {
	_, supplier := r.first(spanSupplier)
	_, due := r.dueDay()
	if due && last != nil && last.Intent.text("part") != "" && !r.asking() && r.starts("move", "push", "put", "make") && r.hasAny("it that them those") && len(r.rest("move", "push", "put", "make", "them", "back", "to", "till", "until")) == 0 {
		return true // «move that to the 20th»
	}
	return supplier && due && last != nil && last.Intent.text("part") != "" && !r.asking() && !r.denied() && r.has("say", "says", "said", "reckon", "reckons", "promised", "promise") && len(r.rest("say", "says", "said", "reckon", "reckons", "promised", "promise", "now", "next", "itll", "it", "be", "here", "by", "on")) == 0
}
