package hear

// finishTask hears that a task is done.
var finishTask = kind{
	name:     "FinishTask",
	write:    true,
	examples: []string{"finished the blocking on the osmere", "task 2 done"},
	score: func(r *reading, c Context) float64 {
		if r.has("tick that job off", "tick that task off", "tick the job off", "tick that one off the plan") && r.named("task", c) && !r.denied() && !r.asking() {
			return 1.2
		}
		if r.asking() || r.denied() || r.has("finished me off", "for today", "for now", "for tonight", "says", "reckons", "tells me", "will", "ill", "going to", "gonna", "tomorrow", "need to", "want to", "when", "if", "once", "almost", "nearly", "half", "should", "hoping", "might", "finish date", "to finish", "finishing date", "until", "till", "mostly", "well tacked", "tacked", "before", "could", "would", "bar", "apart from", "except", "not quite", "by friday", "by then", "monday", "next week", "later", "tea", "lunch", "shift", "for the day", "done for", "done in", "my head in") || r.hasHours() {
			return 0
		}
		if len(r.all(spanMaterial)) > 0 && len(r.all(spanPanel)) > 0 && r.has("finished at", "on the") {
			return 0 // a coat
		}
		verb := r.has("finished", "done", "complete", "completed", "finish", "all done", "is done", "thats it for", "wrapped up", "sorted", "is in", "mark it finished", "mark it done", "mark that done", "tick it off", "tick off", "tick that off", "stripped", "sewn up", "polished off", "in the bag", "is out", "out of the way", "that task is finished", "done and dusted", "all in", "off the board", "off the list", "all wired", "wired in", "close off", "close", "closed", "welded in", "welded up", "fitted", "sign off", "signed off", "call it done")
		if !verb || r.has("snag", "coat", "coats") || len(r.all(spanFastener)) > 0 || len(r.all(spanMaterial)) > 0 && !r.named("task", c) {
			return 0
		}
		if _, ok := r.numberOf("find"); ok || r.findKind() != "" && !r.has("task") {
			return 0
		}
		if _, ok := r.numberOf("extra"); ok {
			return 0
		}
		if _, ok := r.numberOf("task"); ok {
			return 1.2
		}
		plainly := r.has("finished", "complete", "completed", "all done", "is done", "mark it", "mark that", "tick it off", "tick that off", "task", "done", "wrapped up", "done and dusted", "call it done", "thats it for", "sewn up", "is finish", "all in", "all wired", "off the board") || r.starts("thats the", "thats that", "thats")
		switch {
		case r.named("task", c) && r.has("task"):
			return 1.2
		case r.named("task", c) && plainly:
			return 1.06
		case r.starts("mark a task", "finish a task", "close a task", "tick off a task", "close off a task"):
			return 1 // which one, the service asks
		case r.has("that task", "this task", "the task") && plainly:
			return 1
		case c.Last != nil && !c.PassedOver && (c.Last.Intent.Kind == "StartTask" || c.Last.Intent.Kind == "AddTask") && r.has("that", "thats", "that one", "it", "its") && len(r.rest("finished", "done", "one", "all", "now", "complete", "is", "mark", "that")) == 0:
			return 1
		}
		return 0
	},
	fill:  fillTask,
	check: needsTaskJob,
}
