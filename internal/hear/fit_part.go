package hear

import "slices"

// fitPart hears that a part was tried on the vehicle, or fitted.
var fitPart = kind{
	name:     "FitPart",
	write:    true,
	examples: []string{"trial fitted the rear wing panel, sits 3 mm low at the rear", "tailgate seal's fitted"},
	needs:    []string{"job", "part"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.denied() || r.ahead() || !r.has("fitted", "trial fit", "trial fitted", "test fitted", "test fit", "dry fitted", "offered up", "is on", "are on", "went on", "gone on", "tried") {
			return 0
		}
		if !r.named("part", c) || r.has("brief", "snag", "task") || r.hasHours() {
			return 0
		}
		return 1
	},
	fill: func(r *reading, c Context, in *Intent) {
		from, to := r.namedPart()
		if from >= to && slices.Contains(in.Missing, "part") {
			from, to = r.partName(r.lo)
		}
		r.fillPart(from, to, in)
		delete(in.Fields, "quantity")
		if r.has("trial", "test fitted", "test fit", "dry fitted", "offered up", "tried") {
			in.set("trial", true)
		}
		end := to
		for i := r.lo; i < r.hi; i++ {
			switch r.word(i) {
			case "fitted", "fit", "up", "on", "tried":
				end = max(end, i+1)
			}
			if r.toks[i].stop && i+1 >= to {
				break
			}
		}
		if text := r.textFrom(end, r.hi); text != "" {
			in.set("note", text)
		}
		if job := r.partJob(from, to, c, in); job != "" {
			in.set("job", job)
		}
	},
}

// namedPart returns the tokens that share words with parts on record.
func (r *reading) namedPart() (from, to int) {
	words := map[string]bool{}
	for _, t := range r.things("part", "") {
		for _, w := range t.words {
			words[w] = true
		}
	}
	for i := r.lo; i < r.hi; i++ {
		if !words[root(r.word(i))] {
			continue
		}
		if from == to {
			from = i
		} else if i > to+1 {
			break
		}
		to = i + 1
	}
	return from, to
}
