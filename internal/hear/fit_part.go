package hear

import "slices"

// fitPart hears that a part was tried on the vehicle, or fitted.
var fitPart = kind{
	name:     "FitPart",
	write:    true,
	examples: []string{"trial fitted the rear wing panel, sits 3 mm low at the rear", "tailgate seal's fitted"},
	needs:    []string{"job", "part"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.denied() || r.ahead() || !r.has("fitted", "trial fit", "trial fitted", "test fitted", "test fit", "dry fitted", "offered up") && !r.wentOn() && !r.triedOn() {
			return 0
		}
		if !r.named("part", c) && !r.partAgain(c.Last) || r.has("brief", "snag", "task") || r.hasHours() {
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
		if from >= to && r.partAgain(c.Last) {
			in.takeLastPart(c.Last)
		}
		delete(in.Fields, "quantity")
		if r.has("trial", "test fitted", "test fit", "dry fitted", "offered up", "tried") {
			in.set("trial", true)
		}
		end := to
		for i := r.lo; i < r.hi; i++ {
			switch r.word(i) {
			case "fitted", "fit", "up", "on", "tried":
				end = max(end, i+1)
				if pronouns[r.word(i+1)] {
					end = max(end, i+2)
				}
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

// wentOn reports «the seals are on now», and not «… are on the shelf».
func (r *reading) wentOn() bool {
	for i := r.lo + 1; i < r.hi; i++ {
		w := r.word(i - 1)
		if r.word(i) != "on" || w != "is" && w != "are" && w != "went" && w != "gone" && w != "theyre" && w != "its" {
			continue
		}
		if i+1 >= r.hi || r.toks[i].stop || r.toks[i].end || onWell[r.word(i+1)] {
			return true
		}
	}
	return false
}

// onWell are words behind «went on» that say that it did.
var onWell = wordSet("now lovely ok okay fine nice nicely well sweet great straight and but today at first no with without good perfect perfectly finally")

// triedOn reports «tried the wing», and not «tried to fit it», «tried the supplier».
func (r *reading) triedOn() bool {
	for i := r.lo; i < r.hi; i++ {
		if r.word(i) != "tried" {
			continue
		}
		j := i + 1
		for r.word(j) == "the" || r.word(j) == "on" || r.word(j) == "new" || r.spanAt(j, spanSide) {
			j++
		}
		from, to := r.part(i, r.hi).namedPart()
		if pronouns[r.word(j)] || from < to && from <= j && (to >= r.hi || r.toks[to-1].stop || afterPart[r.word(to)] || r.word(to) == "up") {
			return true
		}
	}
	return false
}

// pronouns stand for the thing just spoken of.
var pronouns = wordSet("it them that those this these")

// partAgain reports that a message goes on about the part just spoken of: «fitted
// it», «trial fitted, sits low», «sent them back».
func (r *reading) partAgain(last *Done) bool {
	if last == nil || last.Intent.text("part") == "" || len(r.all(spanMaterial)) > 0 || len(r.all(spanFastener)) > 0 {
		return false
	}
	i := r.lo
	for w := r.word(i); w == "just" || w == "now" || w == "ive" || w == "weve" || w == "and" || w == "ok" || w == "right" || w == "i" || w == "we" || w == "trial" || w == "test" || w == "dry"; w = r.word(i) {
		i++
	}
	switch w := r.word(i); {
	case w == "fitted" || w == "tried" || w == "offered" || w == "sent" || w == "sending" || w == "returned":
		j := i + 1
		if r.word(j) == "up" {
			j++
		}
		return pronouns[r.word(j)] || j >= r.hi || r.toks[j-1].stop
	case pronouns[w] || w == "its" || w == "theyre" || w == "thats":
		return len(r.part(i, r.hi).rest("fitted", "its", "theyre", "thats", "now", "on", "gone", "back", "sent", "been", "is", "are", "went", "has", "have", "trial")) == 0
	}
	return false
}

// takeLastPart sets the part that was just spoken of.
func (in *Intent) takeLastPart(last *Done) {
	for _, f := range []string{"job", "part", "side"} {
		if last.Intent.has(f) && !in.has(f) {
			in.set(f, last.Intent.Fields[f])
		}
	}
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
