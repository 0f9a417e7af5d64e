package hear

import "slices"

// recordOrder hears that a part was ordered.
var recordOrder = kind{
	name:     "RecordOrder",
	write:    true,
	examples: []string{"ordered a propshaft from fenwright, 240 quid, due thursday week", "door seals on order from amblecote, due friday"},
	needs:    []string{"job", "part"},
	score: func(r *reading, c Context) float64 {
		if r.ordersMore(c) {
			return 1.15
		}
		at := r.orderVerb()
		if r.has("i thought", "you ordered", "did we", "thought we", "meant to have") {
			return 0
		}
		if at < 0 || r.asking() && !r.starts("can you", "could you", "can u") || r.has("we want", "i want", "we need", "need", "wants", "reckon", "they ordered", "ordered it in", "he ordered it", "apparently", "supposedly", "believe it", "says they", "say they") || r.denied() && !r.has("no charge", "no rush", "no invoice", "free of charge", "not cheap") || r.has("ill order", "will order", "to order", "need ordering", "order tomorrow", "going to order", "gonna order", "should order", "must order", "needs ordering", "order more", "reorder", "in order", "out of order", "order of", "we order", "want ordering", "havent ordered", "order some", "when we order", "if we order", "before we order", "ill get", "ill", "will", "once", "gonna", "going to", "need to", "must", "want to", "to get", "should get", "might", "meant to order", "forgot", "nearly ordered", "lunch", "pizza", "pizzas", "bacon", "rolls", "chips", "curry", "takeaway", "sandwiches", "sandwich", "butties", "cake", "beer", "pints", "tea", "brew") {
			return 0
		}
		if s, ok := r.first(spanPerson); ok && s.id != c.Speaker && r.has("off me", "told me", "says") {
			return 0
		}
		from, to := r.orderedPart(at)
		_, supplier := r.first(spanSupplier)
		_, due := r.dueDay()
		priced := len(r.prices()) > 0
		if r.word(at) == "order" && r.word(at-1) == "on" && !supplier && !due && !priced && r.named("part", c) {
			return 0 // it says what is known
		}
		switch {
		case from < to && (supplier || r.isPart(from, to)):
			return 1.2
		case from < to && priced && due:
			return 1.1
		case from < to && priced && c.ChannelJob != "" && r.starts("ordered", "ive ordered", "weve ordered", "bought", "ive bought") && r.hi-r.lo <= 12:
			return 0.95
		case from < to && (priced || due) && c.ChannelJob != "" && r.jobNamed():
			return 1
		case from >= to && supplier, from >= to && r.isOrderStart(), from >= to && r.word(at) == "order" && r.word(at-1) == "an":
			return 1 // what was ordered is to be asked
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		at := r.orderVerb()
		var from, to int
		switch {
		case at >= 0:
			from, to = r.orderedPart(at)
			from, to = r.namedLater(from, to)
		case slices.Contains(in.Missing, "part"), len(in.Missing) == 0 && !r.correcting() && !r.starts("same", "ditto", "and the", "what about"):
			from, to = r.partName(r.lo) // an answer, or the next one ordered
		}
		if at < 0 && r.ordersMore(c) {
			from, to = r.partName(r.lo + 1)
			for _, f := range []string{"job", "supplier"} {
				if c.Last.Intent.has(f) && (f == "job" || r.hi-r.lo <= 4 || r.has("same", "them", "off the same")) {
					in.set(f, c.Last.Intent.Fields[f])
				}
			}
		}
		r.fillPart(from, to, in)
		if s, ok := r.first(spanSupplier); ok {
			in.set("supplier", s.id)
		} else if c.Last != nil && c.Last.Intent.Kind == "RecordOrder" && r.has("same supplier", "same people", "same place", "same lot") {
			in.set("supplier", c.Last.Intent.text("supplier"))
		} else if name := r.unknownSupplier(to); name != "" && at >= 0 {
			in.set("supplier", name)
		}
		if day, ok := r.dueDay(); ok {
			in.set("due", day)
		}
		if p := r.prices(); len(p) > 0 {
			total := p[0].value
			if n, ok := number(in.Fields["quantity"]); ok && p[0].each {
				total = tidy(total * n)
			}
			in.set("price", total)
		} else if b := r.bare(); at < 0 && len(b) == 1 && r.has("price", "cost", "was") && !in.has("part") && !in.has("due") {
			in.set("price", b[0].value)
		}
		if n := r.countAfter(to); n > 0 && !in.has("quantity") {
			in.set("quantity", n)
		} else if n := r.countLast(from, to); n > 0 && !in.has("quantity") {
			in.set("quantity", n)
			in.set("part", singular(in.text("part")))
		}
		if p := r.provenance(); p != "" {
			in.set("provenance", p)
		}
		if b := r.bare(); at < 0 && len(b) == 1 && !in.has("price") && !in.has("due") && r.has("of them", "make that", "make it") {
			in.set("quantity", int(b[0].value))
		}
	},
}

// orderVerb returns the token of the word that says something was ordered, or -1.
func (r *reading) orderVerb() int {
	for i := r.lo; i < r.hi; i++ {
		switch r.word(i) {
		case "ordered":
			if r.word(i-1) == "who" || r.word(i-1) == "anyone" || r.word(i-1) == "nobody" {
				continue
			}
			return i
		case "bought":
			if _, supplier := r.first(spanSupplier); supplier || r.isPart(i, r.hi) {
				return i
			}
		case "coming":
			if _, supplier := r.first(spanSupplier); supplier && r.word(i+1) == "from" && r.has("got", "have", "weve") {
				return i
			}
		case "order":
			b, n := r.word(i-1), r.word(i+1)
			switch {
			case n == "of":
			case b == "on", n == "went" || n == "placed" || n == "is" && r.word(i+2) == "in" || n == "gone":
				return i
			case b == "an" || b == "the":
				switch r.word(i - 2) {
				case "in":
					if r.word(i-3) == "put" {
						return i
					}
				case "put", "pop", "stick", "placed", "got", "log", "record", "note", "book", "made", "sent", "raised", "down":
					return i
				}
			}
		}
	}
	return -1
}

// ordersMore reports that a message goes on with another part just ordered: «and a
// water pump off the same lot, 38 quid».
func (r *reading) ordersMore(c Context) bool {
	if c.Last == nil || c.Last.Intent.Kind != "RecordOrder" || r.lo != r.whole.lo || r.word(r.lo) != "and" && r.word(r.lo) != "plus" && r.word(r.lo) != "also" || r.asking() || r.ahead() {
		return false
	}
	from, to := r.partName(r.lo + 1)
	_, supplier := r.first(spanSupplier)
	_, due := r.dueDay()
	return from < to && r.isPart(from, to) && (supplier || due || len(r.prices()) > 0 || r.hi-r.lo <= 4 || r.has("off the same", "from the same", "off them", "from them"))
}

// namedLater returns the part that a later clause names, when the first says «the
// proper one» only.
func (r *reading) namedLater(from, to int) (int, int) {
	if from >= to || r.word(to-1) != "one" && r.word(to-1) != "ones" {
		return from, to
	}
	for i := to; i < r.hi; i++ {
		if !r.toks[i-1].stop {
			continue
		}
		if a, b := r.partName(i); a < b && r.isPart(a, b) {
			return a, b
		}
	}
	return from, to
}

func (r *reading) isOrderStart() bool {
	return r.starts("ordered", "ive ordered", "weve ordered", "i have ordered", "put an order in", "just ordered") && r.whole.hi-r.whole.lo <= 3
}

// orderedPart returns the tokens of what was ordered: behind the verb, or before it.
func (r *reading) orderedPart(at int) (from, to int) {
	i := at + 1
	for k := i; k < r.hi && k < i+7; k++ {
		if r.toks[k-1].stop && k > i {
			i = k // «ordered today from amblecote: …»
		}
		if w := r.word(k); !r.spanAt(k, spanDay) && !r.spanAt(k, spanSupplier) && w != "from" && w != "off" && w != "as" && w != "well" && w != "too" && w != "same" && w != "supplier" && w != "also" && w != "today" {
			break
		}
	}
	if r.word(at) == "order" {
		// «an order in with fenwright for a …», «order went in for a …»
		for k := i; k < r.hi && k < i+8; k++ {
			if r.word(k) == "for" && !r.spanAt(k+1, spanJob) && !r.spanAt(k+2, spanJob) {
				if from, to = r.partName(k + 1); from < to {
					return from, to
				}
			}
			if r.toks[k].stop {
				break
			}
		}
		for i < r.hi && (r.word(i) == "for" || r.word(i) == "the" || r.spanAt(i, spanJob)) && (r.spanAt(i, spanJob) || r.spanAt(i+1, spanJob) || r.spanAt(i+2, spanJob)) {
			i++
		}
		for i < r.hi && (r.word(i) == "in" || r.word(i) == "please" || r.word(i) == "down" || r.word(i) == "went" || r.word(i) == "placed" || r.word(i) == "is") {
			i++
		}
		if r.word(at-1) == "an" || r.word(at-1) == "the" {
			return r.partName(i)
		}
	}
	if w := r.word(at); w == "ordered" || w == "bought" {
		if r.word(i) == "up" || r.word(i) == "in" {
			i++
		}
		for (r.word(i) == "for" || r.word(i) == "the" || r.spanAt(i, spanJob)) && (r.spanAt(i, spanJob) || r.spanAt(i+1, spanJob) || r.spanAt(i+2, spanJob)) {
			i++
		}
		if from, to = r.partName(i); from < to && (r.isPart(from, to) || !r.before(at)) {
			return from, to
		}
	}
	if from, to = r.partName(i); r.word(at) == "order" && i > at+1 && from < to {
		return from, to // «on order for the heron: 12 clips»
	}
	end := at
	for end > r.lo && (r.word(end-1) == "on" || r.word(end-1) == "an" || r.word(end-1) == "put" || r.word(end-1) == "i" || r.word(end-1) == "we" || r.word(end-1) == "ive" || r.word(end-1) == "weve" || r.word(end-1) == "got") {
		end--
	}
	if end > r.lo {
		if a, b := r.partBefore(end); a < b {
			return a, b
		}
	}
	return r.partName(i)
}

// before reports that something but the speaker stands before token at.
func (r *reading) before(at int) bool {
	return len(r.part(r.lo, at).rest("ive", "weve", "have", "just", "got", "also", "now", "finally", "been")) > 0
}

// unknownSupplier reads a supplier that the shop does not have: «from hobbs glass».
func (r *reading) unknownSupplier(i int) string {
	for ; i < r.hi; i++ {
		if w := r.word(i); w != "from" && w != "off" {
			continue
		}
		to := i + 1
		for to < r.hi && to < i+4 && !r.spanAt(to, spanDay) && !r.priceAt(to) && !r.spanAt(to, spanJob) && r.word(to) != "for" && r.word(to) != "due" && r.word(to) != "at" && r.word(to) != "on" {
			to++
			if r.toks[to-1].stop || r.toks[to-1].end {
				break
			}
		}
		if name := r.textFrom(i+1, to); name != "" && r.word(i+1) != "the" && r.word(i+1) != "a" {
			return name
		}
	}
	return ""
}
