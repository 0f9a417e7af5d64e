package hear

// getStatus hears the question where a job is.
var getStatus = kind{
	name:     "GetStatus",
	examples: []string{"where are we with the pilot", "status of the tern"},
	needs:    []string{"job"},
	score: func(r *reading, c Context) float64 {
		if _, ok := r.first(spanPanel); ok {
			return 0
		}
		if r.whole.lo < r.lo && r.whole.stage() != "" && r.has("where are we on that") {
			return 0
		}
		if r.has("hours") || r.stage() != "" && r.has("meant to be", "supposed to be", "allowed") || len(r.all(spanFastener)) > 0 || len(r.all(spanMaterial)) > 0 {
			return 0
		}
		_, job := r.first(spanJob)
		switch {
		case r.hi-r.lo <= 4 && r.starts("where are we", "where we at", "where are we at", "where are we now", "hows it going then") && len(r.rest("where", "at", "now", "then", "up", "today")) == 0 && (c.ChannelJob != "" || c.ThreadJob != "" || c.Addressed):
			return 0.9
		case r.has("state of play", "wheres this one up to", "wheres this up to", "where is this one up to", "where are we with", "where are we up to", "where are we on", "where are we at on", "where are we at with", "where have we got to", "where we at with", "status", "rundown", "run down on", "how far along", "how far on", "update on", "lowdown", "whats the state of", "does this car stand", "does this one stand", "does it stand", "do we stand", "we stand with", "this one stand", "where is the", "wheres the"):
			if r.has("wheres the", "where is the") && !(job && len(r.rest("wheres", "where", "up", "got", "moment", "now", "are", "with", "at", "morning", "hi", "hello", "afternoon")) == 0) {
				return 0
			}
			if !job && !r.has("state of play", "up to", "status", "stand", "where are we", "where we at", "where have we got to", "how far along", "rundown") {
				return 0
			}
			return 1
		case job && r.has("hows", "how is", "hows the", "how are we", "how we") && (r.has("getting on", "coming on", "coming along", "going", "doing", "looking") || len(r.rest("hows", "how")) == 0):
			return 1
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) { fillJob(r, in) },
}
