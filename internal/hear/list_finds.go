package hear

// listFinds hears the question what was found.
var listFinds = kind{
	name:     "ListFinds",
	examples: []string{"what finds are open on the heron", "any rust left on this?"},
	needs:    []string{},
	score: func(r *reading, c Context) float64 {
		if !r.asking() && !r.starts("run me through every find", "run me through the finds", "run me through all the finds", "finds", "open finds", "open rust", "open damage", "rust and damage", "damage list") {
			return 0
		}
		if r.has("patch", "repair or", "worth", "replace", "extra", "extras", "snag", "snags", "parts", "suppliers", "supplier", "tasks", "delete", "history", "order") {
			return 0.2
		}
		switch {
		case r.has("still to repair", "left to repair", "needs repairing", "need repairing", "still to weld", "left to weld", "still to fix"):
			return 1
		case r.starts("open rust", "open damage", "rust and damage", "damage list"):
			return 1
		case r.findKind() != "" && r.has("is it still", "still down as", "still open", "still on the list"):
			return 1
		case r.has("whats open", "whats still open", "what is open", "whats outstanding", "what is still open", "anything still open", "anything open", "anything else open", "whats left open") || c.spokenOf("CloseFind", "RecordFind", "ListFinds") && r.has("open ones", "which are open", "whats left then"):
			return 0.95
		case r.has("leave open", "still open", "left open") && (len(r.all(spanSide)) > 0 || len(r.all(spanPanel)) > 0 || c.Last.isFind()) && !r.has("window", "tin", "door open"):
			return 1
		case r.has("got against", "down against", "got open on", "open on the") && (len(r.all(spanPanel)) > 0 || r.jobNamed() && r.has("got open on the")), r.has("you turned up", "you two turned up", "you lot turned up", "you dug up", "you uncovered", "have you found", "you two found", "have we turned up", "weve turned up"):
			return 1
		case r.has("finds", "everything found", "all thats found", "whats found", "been found", "anything found", "was found", "were found", "have we found", "did we find", "find list", "found so far", "weve found", "we found", "open finds", "every find", "wants fixing on", "needs fixing on", "want fixing on", "need fixing on", "rust down against", "damage down against", "leave open on it", "leave open on here", "leave open on this"):
			return 1
		case r.has("repaired", "fixed") && r.has("have we", "whats been", "what have"):
			return 0.95
		case r.findKind() != "" && r.findKind() != "missing" && r.findKind() != "paint" && r.has("any", "what", "whats", "which", "how much", "how many", "where", "wheres", "list") && (r.has("open", "left", "still", "outstanding", "on", "have we", "got") || r.jobNamed()):
			if id, _, _ := r.material(false, nil); id != "" {
				return 0.5
			}
			return 0.9
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		fillPlace(r, in)
		c.preferSpoken(r, in)
		delete(in.Fields, "panel_choice")
		switch {
		case r.has("open", "still", "left", "outstanding", "to do", "not closed", "not repaired", "not fixed", "not done", "not sorted", "not welded"):
			in.set("state", "open")
		case r.has("repaired", "put right", "fixed", "closed", "sorted", "done so far"):
			in.set("state", "repaired")
		}
	},
}

func (r *reading) jobNamed() bool { _, ok := r.first(spanJob); return ok }
