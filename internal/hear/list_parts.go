package hear

import "strings"

// listParts hears the question which parts there are.
var listParts = kind{
	name:     "ListParts",
	examples: []string{"what parts are late", "whats on order for the heron"},
	needs:    []string{},
	score: func(r *reading, c Context) float64 {
		if !r.asking() && r.word(r.hi-1) != "yet" && !(r.lo == r.whole.lo && (r.starts("parts") && (r.hi-r.lo <= 4 && !r.has("are here", "are in", "have come", "arrived", "turned up") || r.has("outstanding", "overdue", "on order")) && !r.denied() && len(r.bare()) == 0 || r.starts("parts list", "late parts", "list parts", "overdue parts", "whats on order", "check parts", "chase list", "parts still to come", "parts to come", "parts still due", "parts not here", "parts still coming"))) || len(r.all(spanMaterial)) > 0 && !r.has("parts", "part") {
			return 0
		}
		if r.has("torque", "gap", "hours", "coats", "low on", "running low", "reorder", "extra", "extras", "snag", "snags", "patch", "finish", "part exchange", "part panel or", "cost", "task") || r.whole.has("mix", "mixed", "knock me up", "make me up", "make up") {
			return 0
		}
		about := r.has("late", "overdue", "ordered", "on order", "arrived", "come in", "came in", "due", "turned up", "landed", "shown up", "here yet", "waiting for", "waiting on", "delivered", "fitted", "outstanding", "got in", "come", "arriving", "chase", "chasing", "missing", "still to come", "here", "order", "come yet", "in yet", "bought")
		switch {
		case r.has("parts", "part", "bits", "orders", "suppliers") && (about || r.starts("parts", "parts list", "list parts", "what parts", "which parts", "any parts", "whats the parts", "what bits", "show me the parts", "show me all the parts", "show all the parts", "all the parts")):
			return 1.1
		case r.has("am i chasing", "are we chasing", "needs chasing", "need chasing", "need to chase", "to chase up", "should i chase", "do i chase"):
			return 1.05
		case r.has("on order", "whats late", "whats overdue", "whats due", "anything due", "anything late", "anything else late", "anything else overdue", "anything else due", "anything else on order", "anything overdue", "anything on order", "whats ordered", "whats been ordered", "what have we ordered", "what have we got on order", "what did we order", "what has been ordered", "whats arrived", "whats turned up", "whats come in", "what have we got coming", "what have i got coming", "got coming", "anything turned up", "anything arrived", "whats coming", "whats still to come", "what has arrived", "what arrived", "what has come", "what came") && !r.whole.has("train", "bus", "you", "lunch"):
			return 1.05
		case r.isPart(r.lo, r.hi) && r.has("have we ordered", "did we order", "have you ordered", "did you order", "did anyone order", "has anyone ordered", "did anybody order", "has anybody ordered", "have i ordered", "is there one on order", "are they on order", "is it on order"):
			return 1
		case r.asking() && r.has("here yet", "come yet", "in yet", "arrived yet", "turned up yet", "landed yet") && (r.named("part", c) || r.isPart(r.lo, r.hi)):
			return 1
		case r.named("part", c) && r.asking() && r.has("how much was", "how much were", "what did we pay for", "what was", "what did") && r.has("how much", "pay", "cost"):
			return 1
		case r.named("part", c) && r.has("when are we meant to get", "when are we getting", "when do we get", "when will we get", "when are we supposed to get", "when do i get", "when am i getting"):
			return 1
		case c.Last != nil && c.Last.Intent.Kind == "ListParts" && r.asking() && r.has("waiting on", "waiting for"):
			return 1.1
		case r.word(r.hi-1) == "yet" && r.has("here yet", "come yet", "turned up yet") && r.hi-r.lo <= 7 && r.named("part", c) && !r.has("not here yet", "isnt here yet", "arent here yet", "hasnt come yet", "not come yet", "hasnt turned up yet", "havent turned up yet", "not turned up yet", "havent come yet", "still not here yet"):
			return 1
		case r.starts("is the", "are the", "is that", "are those") && r.has("late", "overdue", "here yet") && r.hi-r.lo <= 6 && (r.isPart(r.lo+2, r.hi) || partNouns[r.stem(r.hi-2)]):
			return 1
		case about && r.named("part", c) && r.has("has", "have", "is", "are", "when", "whens", "where", "wheres", "did", "hows", "any sign", "any news", "did anyone", "did we", "did you"):
			return 1
		case r.has("where have", "where has") && r.has("got to") && r.named("part", c), r.has("any sign of", "any word on", "any word of", "any news of", "any news on", "wheres my", "wheres the", "wheres that", "where is the", "where are the") && r.named("part", c):
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		switch {
		case r.has("late", "overdue", "chase", "chasing", "behind"):
			in.set("state", "late")
		case r.has("fitted"):
			in.set("state", "fitted")
		case r.has("waiting for", "waiting on", "still to come", "yet to come", "to come in", "not here", "not come", "still due"):
			in.set("state", "ordered")
		case r.has("arrived", "come in", "came in", "turned up", "delivered", "got in", "here", "had in") && !r.named("part", c):
			in.set("state", "arrived")
		case r.has("on order", "ordered", "outstanding", "coming", "orders", "arriving"):
			in.set("state", "ordered")
		}
		if day, ok := r.dueDay(); ok && r.has("due", "by", "before", "coming", "arriving") {
			in.set("due_by", day)
		} else if r.has("this week", "due this week") {
			in.set("due_by", r.weekEnd())
		}
		if from, to := r.namedPart(); from < to && !r.has("parts", "which", "what", "whats") {
			var name []string
			for i := from; i < to; i++ {
				name = append(name, r.asWritten(i))
			}
			in.set("part", strings.Join(name, " "))
		}
		r.fillListJob(c, in)
	},
}

// fillListJob sets the job that a list is about when none is named: none when all
// are asked for.
func (r *reading) fillListJob(c Context, in *Intent) {
	if job := c.fallbackJob(); !in.has("job") && job != "" &&
		!r.has("any of the jobs", "on any of", "across the shop", "all the jobs", "every job", "any job", "in the shop", "the whole shop", "whole workshop", "all of them", "everyones", "everybodys", "everything in", "all jobs", "any jobs") {
		in.set("job", job)
	}
}

// weekEnd is the last day of this week.
func (r *reading) weekEnd() string {
	days := (7 - int(r.now.Weekday())) % 7
	return r.now.AddDate(0, 0, days).Format(isoDay)
}
