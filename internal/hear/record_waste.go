package hear

import "strings"

// recordWaste hears material thrown away.
var recordWaste = kind{
	name:     "RecordWaste",
	write:    true,
	examples: []string{"binned 300 ml of high build, went off", "spilt half a litre of thinners"},
	needs:    []string{"material", "amount"},
	score: func(r *reading, _ Context) float64 {
		if !r.has("binned", "bin", "scrapped", "had to scrap", "write it off", "wrote off", "written off", "knocked a", "knocked the", "chucked", "chuck", "threw", "thrown", "throw away", "wasted", "waste", "spilt", "spilled", "knocked over", "went off", "gone off", "going off", "tipped away", "tipped out", "tipped", "dumped", "ruined", "cured in the pot", "skinned over", "poured away", "went hard", "gone hard", "out of date") {
			return 0
		}
		return r.stockScore(0.4)
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillStock(r, c, in)
		if in.has("why") {
			return
		}
		// Why is what follows «because» or a comma, or the cue itself.
		for i := r.lo; i < r.hi; i++ {
			if w := r.word(i); (w == "because" || w == "cause" || w == "as" || w == "since") && i+1 < r.hi {
				in.set("why", strings.TrimPrefix(r.after(i+1), "it "))
				return
			}
		}
		for _, p := range []string{"went off in the pot", "gone off in the pot", "went off in the tin", "gone off in the tin", "went off", "gone off", "cured in the pot", "spilt", "spilled", "knocked over", "out of date", "went hard", "gone hard", "skinned over"} {
			if r.has(p) {
				in.set("why", p)
				return
			}
		}
		if at, ok := r.wasteVerb(); ok && at > r.lo+2 && r.toks[at-1].stop {
			in.set("why", r.textFrom(r.lo, at)) // «mice have been at it, bin …»
			return
		}
		for i := r.lo; i < r.hi-1; i++ {
			if rest := r.part(i+1, r.hi); (r.toks[i].stop || r.toks[i].end) && len(rest.spans) == 0 && rest.hi-rest.lo <= 8 {
				in.set("why", r.after(i+1))
				return
			}
		}
	},
}

// wasteVerb returns the token where «bin half a metre» begins.
func (r *reading) wasteVerb() (int, bool) {
	for i := r.lo; i < r.hi; i++ {
		switch r.word(i) {
		case "bin", "binned", "chuck", "chucked", "threw":
			return i, true
		}
	}
	return 0, false
}
