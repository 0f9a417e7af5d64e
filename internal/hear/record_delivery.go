package hear

import (
	"slices"
	"strings"
)

// recordDelivery hears material put on the shelf.
var recordDelivery = kind{
	name:     "RecordDelivery",
	write:    true,
	examples: []string{"2 tins of high build in, batch 4471", "two bottles of welding gas delivered"},
	needs:    []string{"material", "amount"},
	score: func(r *reading, _ Context) float64 {
		cue := r.starts("in today", "in this morning") || r.has("delivered", "delivery", "received", "landed", "turned up", "dropped off", "arrived", "came in", "come in", "just come", "come", "came", "has come", "have come", "is here", "are here", "came this morning", "booked in", "batch", "got in", "in stock now") ||
			r.has("just in") && !r.has("just in front", "just in case") || strings.HasSuffix(r.text, " in ") || r.deliveredIn() || (r.has("left", "brought") && r.has("been", "man", "driver"))
		if !cue || r.without(spanMaterial).has("how much of each", "what parts", "mix", "coats", "coat", "enough") || r.has("used", "binned", "counted") || r.materialIsPart() || r.bagOfParts() {
			return 0
		}
		return r.stockScore(0.3)
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillStock(r, c, in)
		if s, ok := r.first(spanBatch); ok {
			in.set("batch", s.id)
		}
		if r.has("use by", "expires", "expiry", "exp", "best before", "good until", "use before", "out of date") {
			if s, ok := r.first(spanDay); ok {
				in.set("expires", s.ids[1])
			}
		}
	},
}

// batchToo gives a batch that is told behind, «blue is batch 4471», to the delivery of
// that material, or to the only one.
func (r *reading) batchToo(all []Intent) []Intent {
	batches := r.all(spanBatch)
	if len(batches) != 1 {
		return all
	}
	told := slices.IndexFunc(all, func(in Intent) bool { return in.has("batch") })
	if told >= 0 && (all[told].Kind != "RecordDelivery" || len(all[told].Missing) == 0) {
		return all
	}
	material := ""
	if told >= 0 {
		material = all[told].text("material")
		all = slices.Delete(all, told, told+1)
	}
	for i, in := range all {
		if in.Kind == "RecordDelivery" && (in.text("material") == material || len(all) == 1) {
			all[i].set("batch", batches[0].id)
		}
	}
	return all
}

// deliveredIn reports «2 tins of high build in, …»: an «in» that ends a part.
func (r *reading) deliveredIn() bool {
	for i := r.lo; i < r.hi; i++ {
		if r.word(i) == "in" && (r.toks[i].stop || r.toks[i].end) && i > r.lo {
			return true
		}
	}
	return false
}

// bagOfParts reports «a bag of clips» of no material that the shop keeps.
func (r *reading) bagOfParts() bool {
	if len(r.all(spanMaterial)) > 0 {
		return false
	}
	for i := r.lo; i < r.hi; i++ {
		if containers[r.stem(i)] && r.word(i+1) == "of" {
			return partNouns[r.word(i+2)] || partNouns[r.stem(i+2)] || partNouns[r.word(i+3)] || partNouns[r.stem(i+3)]
		}
	}
	return false
}
