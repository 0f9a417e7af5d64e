package hear

// forecast hears the question when a job will be done.
var forecast = kind{
	name:     "Forecast",
	examples: []string{"when will the heron be done", "whats the finish date on the truck"},
	needs:    []string{"job"},
	score: func(r *reading, _ Context) float64 {
		if len(r.all(spanMaterial)) > 0 || len(r.all(spanFastener)) > 0 || r.has("coat", "coats", "recoat", "sand", "flat", "dry", "cure", "part", "parts", "panel", "panels", "arrive", "delivered", "due in", "song", "film", "match", "programme", "lunch", "break", "kettle", "meeting", "open", "youre done", "ready when", "done when", "finished when", "when its done", "when its ready", "when you are", "when youre", "when i", "if you") {
			return 0
		}
		if r.starts("forecast says", "the forecast says") {
			return 0
		}
		if len(r.things("task", "")) > 0 && !r.jobNamed() && r.has("start", "start the", "then") {
			return 0 // «when the loom's finished start the prop»
		}
		if r.starts("when", "whens") && r.has("done", "finished", "ready") && r.has("we", "be", "gonna", "it", "this", "she", "he") && !r.has("can i", "can we", "you done", "are you", "youre done", "tea", "you finished") {
			return 1.05
		}
		if r.asking() && r.has("due out", "due for handover", "due to go", "due to leave") || r.has("eta") && !r.has("part", "delivery") {
			return 1
		}
		if r.jobNamed() && r.has("for finishing", "for a finish", "for finish") {
			return 1.1
		}
		if r.has("asking when", "asks when", "wants to know when", "want to know when") && r.has("collect", "ready", "done", "finished", "back", "pick it up", "pick up", "have it") {
			return 1.02
		}
		if r.asking() && r.has("do to the finish", "do to our finish", "does to the finish", "push the finish", "move the finish", "change the finish", "put us back", "set us back") {
			return 1
		}
		asks := r.asking() || r.hasAny("when date weeks") || r.has("how long")
		if asks && r.hasAny("when whens weeks days date june july august september october november december january february april easter christmas") || asks && r.has("how long", "will the", "will it", "will this") {
			if r.hasAny("done finished finish ready complete completed") && !r.has("task", "sill", "find", "who", "hours did", "stripping", "welding", "paint") || r.has("out the door", "gets her car back", "gets his car back", "gets it back", "get it back", "get her car back", "have it back", "go home", "goes home", "going home", "her car back", "his car back", "his estate back", "get his", "get her", "get their", "left in the", "left on the") {
				return 1.02
			}
		}
		if r.starts("when", "whens") && r.jobNamed() && r.has("back") && r.hasAny("get gets have has") && !r.has("panel", "plate", "from") {
			return 1.02
		}
		switch {
		case r.has("finish date", "finishing date", "completion date", "end date", "forecast", "handover date", "delivery date", "done date", "ready date", "projected finish", "hand over date") && (r.asking() || r.jobNamed() || r.starts("forecast", "finish date") && !r.has("says", "looks", "weather", "rain", "snow", "sun", "saturday", "sunday", "weekend")):
			return 1.1
		case r.has("when do we reckon", "when will", "when is", "whens", "when are", "when do we", "when do you", "when does", "when can she", "when can he", "when can they", "when can mrs", "when can mr", "when should", "how long till", "how long until", "how long before", "how long have we got left", "how long to go", "how much longer", "how long will", "what date", "any idea when", "how many weeks", "how many more hours", "how many hours left", "how many hours to go", "hours to come", "hours to go", "how much work is left", "will the", "are we on for", "on track", "likely to finish", "what are the chances", "be ready by", "be done by", "be finished by", "when might", "how soon", "when would", "how far off", "how far away", "when roughly", "how long is left", "how much is left to do"):
			if r.has("done", "finished", "finish", "ready", "complete", "completed", "out the door", "out of the door", "leave", "leaving", "go home", "going home", "off the", "collect", "collected", "pick it up", "picked up", "have it back", "get it back", "to go", "left", "handover", "hand over", "handed over", "wrapped up", "done by", "longer", "on the road", "back on the road", "on track", "out of here", "till the", "until the", "off", "her car", "his car") {
				return 1.05
			}
			if r.jobNamed() && r.has("how far off", "on track", "how much longer") {
				return 1
			}
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) { fillJob(r, in) },
}
