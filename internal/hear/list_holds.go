package hear

// listHolds hears the question what keeps a job from going on.
var listHolds = kind{
	name:     "ListHolds",
	examples: []string{"whats holding the heron up", "what is in the way on the osmere"},
	needs:    []string{},
	score: func(r *reading, c Context) float64 {
		if !r.asking() && !r.starts("holds", "hold ups", "list holds", "list") && !r.has("why") || r.has("torque", "gap", "paint hold", "that shelf", "the shelf", "in the way of finds", "stopping the night", "stopping late", "queue", "brew", "brews", "tea", "coffee", "kettle", "lunch", "dinner", "pub", "traffic", "wifi") || r.whole.has("mate", "tea breaks", "your tea") {
			return 0
		}
		if r.moreWaiting(c) {
			return 0
		}
		if r.mayBegin(c) {
			return 1
		}
		if len(r.all(spanMaterial)) > 0 || len(r.all(spanFastener)) > 0 {
			return 0
		}
		switch {
		case r.has("holding") && r.word(r.hi-1) == "on":
			return 0 // «whats holding this bracket on»
		case r.has("holding", "holding up", "hold up", "holdup", "holds up", "held up", "holding us", "hold us up", "hold it up", "hold this up", "hold things up", "hold ups", "holds", "whats the hold", "stopping us", "stopping the", "stopping this", "stopping me", "stopping you", "stopping them", "stopping it", "in the way", "held", "stalled", "holdups", "bottleneck", "whats stopping", "on hold"):
			return 1.05
		case r.has("after the blocking", "after blocking"):
			return 0
		case r.has("blocking", "blocked", "blocker", "blockers", "stuck", "stuck on", "waiting on", "waiting for", "wait on", "waiting") && r.has("whats", "what", "is anything", "anything", "are we", "why", "any", "is the") && !r.has("extra", "extras", "parts", "customer", "block the", "filler"):
			return 1
		case r.has("causing the delay", "whats the delay", "the delay", "causing delay", "what blocks", "whats blocking", "keeping this", "keeping the", "keeping it", "keeps the", "standing still", "at a standstill", "moving forward", "not moving", "isnt moving", "going nowhere", "in its way", "in our way") && !r.has("kettle", "rain"):
			return 1
		case r.has("why") && r.has("standing", "stopped", "stood", "waiting", "idle", "not started", "yet") && (r.jobNamed() || len(r.all(spanPanel)) > 0 || r.has("job")):
			return 1
		case r.has("why cant we start", "why cant i start", "why arent we", "why isnt the"):
			return 1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		r.fillListJob(c, in)
		if r.mayBegin(c) {
			in.set("task", r.taskWords(r.v.jobs[in.text("job")].GetDrive() == "lhd"))
			if n, ok := r.numberOf("task"); ok {
				in.set("task", trimNumber(float64(n)))
			}
		}
	},
}

// mayBegin reports «can i start the epoxy», said of a task on the plan.
func (r *reading) mayBegin(c Context) bool {
	if !r.starts("can i start", "can i begin", "can i crack on with", "can i get on with", "can i make a start on", "can we start", "can we begin", "can we crack on with", "can we get on with", "am i ok to start", "am i clear to start", "ok to start", "is it ok to start", "are we ok to start") {
		return false
	}
	_, numbered := r.numberOf("task")
	return numbered || r.named("task", c)
}
