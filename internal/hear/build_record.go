package hear

// buildRecord hears that the handover folder is to be put together.
var buildRecord = kind{
	name:     "BuildRecord",
	examples: []string{"handover pack for the osmere", "put the build record together"},
	needs:    []string{"job"},
	score: func(r *reading, _ Context) float64 {
		if r.has("handover date", "hand over date", "before handover", "at handover", "snag", "remind", "note") {
			return 0
		}
		hand := r.has("handover", "hand over", "handing over", "hand-over")
		for i := r.lo; i+1 < r.hi; i++ {
			if r.word(i) == "hand" && r.word(i+1) == "over" {
				hand = true
			}
		}
		paper := r.hasAny("record document documents paperwork pack folder file pdf writeup binder") || r.has("write up", "write-up", "in one document")
		whole := r.hasAny("full whole complete completion entire everything all") || r.has("run off", "run it off", "to go out with", "go with it", "print")
		whose := hand || r.hasAny("owner customer customers client") || r.has("go out with", "goes out with", "to go with") || r.customerNamed()
		if paper && (whole && (whose || r.jobNamed() || r.has("this one", "this car", "this job")) || hand) && !r.has("torque", "hours", "find", "sill", "coat") {
			return 1.12
		}
		switch {
		case r.has("build record", "build records", "build folder", "build file", "build book", "build history", "build pack", "record of the build", "record of the job", "record of the whole job", "record pack", "restoration record", "restoration file", "job record", "history file", "history folder", "whole record"):
			return 1.15
		case hand && r.has("pack", "folder", "file", "book", "record", "document", "documents", "docs", "paperwork", "pdf", "stuff", "bundle", "binder"):
			return 1.15
		case r.has("customer pack", "customer folder", "customers folder", "customer file", "the paperwork") && r.has("make", "build", "do", "put", "give", "need", "can", "print", "get", "knock", "pull", "for"):
			return 1
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) { fillJob(r, in) },
}

// customerNamed reports that a customer is named.
func (r *reading) customerNamed() bool {
	for _, s := range r.spans {
		if s.kind == spanJob && s.weak {
			return true
		}
	}
	return false
}
