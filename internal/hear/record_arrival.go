package hear

import (
	"slices"
	"strings"
)

// recordArrival hears that a part is here.
var recordArrival = kind{
	name:     "RecordArrival",
	write:    true,
	examples: []string{"rear wing panel's here, bit creased at the bottom", "propshaft turned up"},
	needs:    []string{"job", "part"},
	score: func(r *reading, c Context) float64 {
		at := r.arrivalVerb()
		if at < 0 || r.starts("whoever", "who", "whos", "somebody", "someone", "everybody", "everyone", "nobody") || r.orderVerb() >= 0 || r.asking() || r.upTo(at).denied() && !r.has("not right", "not straight", "no dents", "dont know who", "no idea who", "dont think anyone", "no damage", "not damaged", "no marks") || r.upTo(at).arrivesLater() || r.has("came and went") || r.has("lunch", "pizza", "food", "tea", "rain", "inspector", "milk", "bacon") {
			return 0
		}
		if len(r.all(spanMaterial)) > 0 && !r.named("part", c) && !r.materialIsPart() || r.has("batch") {
			return 0
		}
		if c.Last != nil && c.Last.Intent.Kind == "RecordOrder" && r.itArrived() {
			return 1.1
		}
		from, to := r.arrivedPart(at)
		switch {
		case from < to && r.part(from, to).named("part", c):
			return 1.2
		case from < to && r.isPart(from, to):
			return 1.1
		case r.named("part", c):
			return 1.05
		case r.starts("some parts have just arrived", "some parts have arrived", "some parts just arrived", "some parts arrived", "parts have just arrived", "parts are here", "parts arrived", "parts have arrived", "parts have come", "parts turned up", "parts are in") && r.hi-r.lo <= 8 && len(r.rest("parts", "some", "arrived", "have", "just", "this", "one", "for", "come", "are", "here", "in", "turned", "up")) == 0:
			return 1 // which, is to be asked
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		at := r.arrivalVerb()
		if c.Last != nil && c.Last.Intent.Kind == "RecordOrder" && r.itArrived() && !in.has("part") {
			for _, f := range []string{"job", "part", "side"} {
				if c.Last.Intent.has(f) {
					in.set(f, c.Last.Intent.Fields[f]) // «they've arrived»
				}
			}
			return
		}
		var from, to int
		switch {
		case at >= 0:
			from, to = r.arrivedPart(at)
			if from >= to || !r.part(from, to).named("part", c) && !r.isPart(from, to) {
				from, to = r.partName(r.lo)
			}
		case slices.Contains(in.Missing, "part"):
			from, to = r.partName(r.lo)
		}
		r.fillPart(from, to, in)
		if n := r.ofThem(); n > 0 {
			in.set("quantity", n)
		} else if text := r.condition(at, to, in); text != "" {
			in.set("condition", text)
		}
		if job := r.partJob(from, to, c, in); job != "" {
			in.set("job", job)
		}
	},
}

// materialIsPart reports a material's word that only says what a part is of: «gas
// struts».
func (r *reading) materialIsPart() bool {
	m, ok := r.first(spanMaterial)
	return ok && (partNouns[r.word(m.to)] || partNouns[r.stem(m.to)]) && !r.spanAt(m.to, spanPanel) && !containers[r.stem(m.to)]
}

// ofThem reads how many came, said behind: «pair of em», «two of them».
func (r *reading) ofThem() int {
	for i := r.lo; i+2 < r.hi; i++ {
		if r.word(i+1) != "of" || r.word(i+2) != "them" || i+3 < r.hi && !r.toks[i+2].stop && !r.toks[i+2].end {
			continue // «one of them has a split in it»
		}
		if r.word(i) == "pair" {
			return 2
		}
		if w := r.word(i - 1); w == "on" || w == "in" || w == "with" {
			continue // «split on 1 of them»
		}
		if v, _, ok := r.numberAt(i); ok && v >= 1 && v <= 500 && v == float64(int(v)) {
			return int(v)
		}
	}
	return 0
}

// itArrived reports that what was just spoken of is here: «they've arrived».
func (r *reading) itArrived() bool {
	return r.starts("its", "theyve", "theyre", "it", "they", "that", "those", "both") && len(r.rest("its", "theyve", "theyre", "they", "both", "arrived", "turned", "up", "here", "come", "landed", "has", "have", "now", "in", "today", "already")) == 0
}

// partJob is the job of the one part that the tokens name, when nobody says which
// job it is: a job spoken of before counts only if it has such a part.
func (r *reading) partJob(from, to int, c Context, in *Intent) string {
	if in.has("job") || c.ThreadJob != "" || c.ChannelJob != "" || from >= to {
		return ""
	}
	named := r.part(from, to)
	if c.RecentJob != "" && len(named.things("part", c.RecentJob)) > 0 {
		return ""
	}
	return oneJobOf(named.things("part", ""))
}

func oneJobOf(all []thing) string {
	if len(all) == 0 {
		return ""
	}
	return oneJob(all)
}

var arrivals = []string{"turned up", "has come", "have come", "has arrived", "have arrived", "just arrived", "arrived", "has landed", "landed", "just came", "came in", "came", "come in", "has turned up", "showed up", "shown up", "delivered", "is here", "are here", "here", "got here", "just in", "picked up", "dropped off", "received", "come", "has come in", "been delivered", "off the van", "in today", "has just come", "just dropped", "dropped", "brought", "in my hand", "in my hands", "parcel from", "delivery from", "box from", "is in", "are in", "in here"}

// arrivalVerb returns the token where a part is said to be here, or -1.
func (r *reading) arrivalVerb() int {
	for i := r.lo; i < r.hi; i++ {
		for _, p := range arrivals {
			if end, ok := r.phraseEnds(i, p); ok {
				if p == "dropped" && !r.has("off") || (p == "is in" || p == "are in" || p == "in here" || p == "dropped" || p == "brought") && len(r.things("part", "")) == 0 {
					continue
				}
				if p == "just in" && (r.word(end) == "front" || r.word(end) == "case") {
					continue
				}
				if p == "picked up" && r.findKind() != "" {
					continue // «the wing picked up a dent»
				}
				if (p == "came" || p == "come") && r.word(end) == "to" {
					continue // a price
				}
				if p == "here" && (r.word(end) == "is" || r.word(i-1) == "over" || r.word(i-1) == "in" || r.word(i-1) == "on" || r.word(i-1) == "around" || r.word(i-1) == "under" || r.word(i-1) == "round" || r.word(i-1) == "down" || r.word(i-1) == "up" || r.word(i-1) == "from") || p == "come" && (r.word(i-1) == "to" || r.word(end) == "to") {
					continue
				}
				return i
			}
		}
	}
	for i := r.lo + 2; i+2 < r.hi; i++ {
		if r.word(i) == "in" && r.word(i+1) == "for" && r.quantityStarts(r.lo) && (r.spanAt(i+2, spanJob) || r.word(i+2) == "the" && r.spanAt(i+3, spanJob)) && r.isPart(r.lo, i) {
			return i // «two heater hoses in for the tern»
		}
	}
	if last := r.hi - 1; last > r.lo && r.word(last) == "in" && last-r.lo <= 3 && strings.HasSuffix(strings.TrimSpace(r.source[:r.toks[last].from]), "s") && r.toks[last-1].to-r.toks[last-1].from > len(r.word(last-1)) && len(r.part(r.lo, last).things("part", "")) == 1 {
		return last // «propshaft's in»
	}
	return -1
}

// arrivesLater reports something that is on its way.
func (r *reading) arrivesLater() bool {
	return r.has("will", "ill", "should", "hopefully", "tomorrow", "next week", "due", "when", "if", "once", "still waiting", "waiting", "not here", "hasnt", "havent", "until", "before", "supposed to", "expecting", "hoping", "going to", "gonna", "on its way", "might", "yet", "could", "would", "come off the car", "come off the wing", "come off in", "came off the car", "came off in", "come out", "came out", "come up", "came up", "come apart", "came apart", "come loose", "came loose", "wrong address", "somebody else", "someone else", "came and went", "next door", "came back", "come back", "went to", "come round", "came round")
}

// parcels are what parts come in: the part is named behind.
var parcels = wordSet("parcel parcels package packages delivery box")

// arrivedPart returns the tokens of what came: before the verb, or behind it.
func (r *reading) arrivedPart(at int) (from, to int) {
	behind := parcels[r.word(at-1)] || r.word(at-1) == "just" && parcels[r.word(at-2)] || r.word(at) == "brought" || r.word(at) == "dropped" || r.word(at+1) == "dropped" || r.word(at+1) == "from" || r.word(at) == "received"
	if at > r.lo && !behind {
		if from, to = r.partBefore(at); from < to {
			return from, to
		}
	}
	i := at
	for _, p := range arrivals {
		if end, ok := r.phraseEnds(at, p); ok && end > i {
			i = end
		}
	}
	for behind && (r.word(i) == "its" || r.word(i) == "them" || r.word(i) == "the" || r.word(i) == "those" || r.word(i) == "for" || r.word(i) == "this" || r.word(i) == "one") {
		i++
	}
	return r.partName(i)
}

// condition is what is said of the part after its name and the verb: «bit creased
// at the bottom».
func (r *reading) condition(at, to int, in *Intent) string {
	start := max(to, r.lo)
	if at >= 0 {
		end := at
		for _, p := range arrivals {
			if e, ok := r.phraseEnds(at, p); ok && e > end {
				end = e
			}
		}
		start = max(start, end)
	} else if !slices.Contains(in.Missing, "condition") && !r.has("dent", "dented", "creased", "bent", "scratched", "cracked", "condition", "damaged", "perfect", "good", "bad", "missing", "wrong") {
		return ""
	}
	for start < r.hi {
		switch w := r.word(start); {
		case w == "from" || w == "off" || w == "for" || w == "the" || w == "in" || w == "post" || w == "today" || w == "this" || w == "morning" || w == "at" || w == "last" || w == "but" || w == "and" || w == "though" || w == "now" || w == "just" || w == "finally" || w == "by" || w == "courier" || w == "van" || w == "with" || w == "its" || w == "theyre" || w == "looks" || w == "on":
			start++
			continue
		case r.spanAt(start, spanSupplier) || r.spanAt(start, spanJob) || r.spanAt(start, spanDay):
			start++
			continue
		}
		break
	}
	text := r.textFrom(start, r.hi)
	if rest := r.part(min(start, r.hi-1), r.hi); rest.starts("starting", "start", "fitting", "when", "can we", "so") {
		return "" // another matter
	}
	if at >= 0 && len(r.part(start, r.hi).things("part", "")) > 0 && !strings.Contains(text, "but") {
		return "" // another part that came
	}
	switch text {
	case "all", "too", "as well", "an all", "has arrived", "have arrived", "has come", "have come":
		return ""
	}
	return strings.TrimSuffix(strings.TrimSuffix(text, " by the way"), " btw")
}

// upTo returns the reading up to the end of the clause that token i stands in, or all
// of it when there is none.
func (r *reading) upTo(i int) *reading {
	for j := max(i, r.lo); i >= 0 && j < r.hi; j++ {
		if r.toks[j].end || j > i+2 && r.word(j) == "and" {
			return r.part(r.lo, j+1)
		}
	}
	return r
}
