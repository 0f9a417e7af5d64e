package hear

import (
	"slices"
	"strings"
)

// proposeExtra hears that work beyond the brief is to be priced.
var proposeExtra = kind{
	name:     "ProposeExtra",
	write:    true,
	examples: []string{"price an extra for finds 1 and 2", "extra for the tern: new headlining, 6 hours and 90 quid of parts"},
	needs:    []string{"job"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		from, to, headed := r.ownText("ProposeExtra")
		body := r
		if h, ok := body.hoursSaid(); ok {
			in.set("hours", h)
		} else if b := body.bare(); len(b) == 1 && !headed && (slices.Contains(in.Missing, "hours") || len(in.Missing) == 0 && len(body.prices()) == 0) {
			in.set("hours", b[0].value)
		}
		parts := 0.0
		for _, p := range body.prices() {
			near := r.part(max(r.lo, p.from-3), min(r.hi, p.to+4))
			if near.has("material", "materials", "paint") && !near.has("parts", "part") && r.has("parts", "part") {
				in.set("materials_cost", p.value)
				continue
			}
			parts += p.value
		}
		if parts > 0 {
			in.set("parts_cost", parts)
		} else if body.has("no parts", "nothing in parts", "no bits", "labour only") {
			delete(in.Fields, "parts_cost")
		}
		finds := r.numbersOf("find")
		if len(finds) == 0 && !in.has("finds") && !in.has("text") {
			finds = r.findsHere(c)
		}
		if len(finds) > 0 {
			in.set("finds", finds)
		} else if c.LastFind > 0 && !in.has("finds") && !in.has("text") && len(body.rest("find", "hours", "parts", "quid", "pounds", "and", "no", "in", "plus")) == 0 && r.has("for that", "for it", "for that find", "for this", "for that one") {
			in.set("finds", []float64{float64(c.LastFind)})
		}
		if !headed && in.has("text") || len(finds) > 0 && (r.has("as an extra", "as extra") || r.starts("find", "finds")) {
			return
		}
		if text := r.extraText(from, to); text != "" && (headed || len(finds) == 0 && slices.Contains(in.Missing, "text")) {
			in.set("text", text)
		}
		if last := c.Last; headed && !in.has("text") && !in.has("finds") && last != nil && r.has("it", "that", "this") {
			switch last.Intent.Kind {
			case "AddBrief":
				in.set("text", last.Intent.text("text"))
			case "AddTask":
				in.set("text", last.Intent.text("title"))
			}
		}
	},
	check: func(in *Intent) {
		if !in.has("text") && !in.has("finds") {
			in.Missing = append(in.Missing, "text")
		} else if !in.has("hours") && !in.has("finds") && !in.has("parts_cost") && !in.has("materials_cost") {
			in.Missing = append(in.Missing, "hours")
		}
	},
}

// findsHere are the finds recorded in the channel not long ago that the reading
// means by «both of those», «those two», «the new finds».
func (r *reading) findsHere(c Context) []float64 {
	found := c.findsHere()
	n := 0
	switch {
	case r.has("both of those", "both of them", "both of these", "both finds", "those two", "them two", "these two", "for both", "them both", "those both"):
		n = 2
	case r.has("all of those", "all of them", "all of these", "all those", "that lot", "the lot of them", "those finds", "these finds", "the new finds", "all three", "those three"):
		n = len(found)
	case r.starts("price it up", "price that up", "price this up"), r.has("that one up", "that up as", "it up as", "for that one", "for that find", "for that last one", "that find"):
		n = 1
	}
	if n > len(found) {
		return nil
	}
	var out []float64
	for _, d := range slices.Backward(found[:n]) {
		out = append(out, float64(d.Number))
	}
	return out
}

// extraText is what the extra is for, without its hours, prices and finds.
func (r *reading) extraText(from, to int) string {
	if from >= r.hi {
		return ""
	}
	for from < to && (r.word(from) == "for" || r.word(from) == "to" || r.word(from) == "on" || r.word(from) == "the" && r.spanAt(from+1, spanJob) || r.spanAt(from, spanJob)) {
		from++
	}
	if s, ok := r.spanOf(from, spanQuantity); ok && s.from == from && s.unit == "h" && s.to < to && r.toks[s.to-1].stop {
		from = s.to // «6 hours, remake the pipes»
	}
	end := to
	for i := from; i < to; i++ {
		first := i == from
		if r.hoursAhead(i) || r.priceAt(i) || (r.word(i) == "no" || r.word(i) == "nothing") && (r.stem(i+1) == "part" || r.word(i+1) == "in") || r.word(i) == "labour" && r.word(i+1) == "only" {
			end = i
			break
		}
		if r.spanAt(i, spanNumbered) && first {
			return ""
		}
	}
	for end > from {
		switch r.word(end - 1) {
		case "and", "plus", "about", "with", "at", "call", "it", "say", "roughly", "allow", "its", "is", "for", "parts", "her", "him", "up":
			end--
			continue
		}
		break
	}
	return strings.TrimRight(r.textFrom(from, end), " £$€,")
}

// looseExtra reads «want an extra pricing up for find 3», «quote mr lindqvist an extra
// for …», «heron extra new carpet set».
func (r *reading) looseExtra(i int) (end int, ok bool) {
	if i != r.lo || r.asking() || r.denied() {
		return 0, false
	}
	for k := i; k < r.hi && k < i+12; k++ {
		if r.word(k) != "extra" || r.spanAt(k, spanNumbered) && len(r.numbersOf("find")) == 0 || stem(r.word(k+1)) == "hour" {
			continue
		}
		if k > i && r.spanAt(k-1, spanJob) && (r.spanAt(i, spanJob) || r.spanAt(i+1, spanJob)) {
			return k + 1, k+1 < r.hi
		}
		if _, timed := r.hoursSaid(); (k == i+1 || k == i+2 && r.word(i) == "and") && (r.word(k-1) == "an" || r.word(k-1) == "another") && r.word(k+1) == "for" && timed {
			return k + 2, k+2 < r.hi // «an extra for a new matrix, 3 hours»
		}
		if !r.hasAny("price pricing priced quote quoting quoted cost costing offer offering write propose proposing") {
			return 0, false
		}
		for m := k + 1; m < r.hi && m < k+7; m++ {
			if r.toks[m-1].stop && m > k || r.word(m-1) == "for" {
				return m, true
			}
			if r.spanAt(m, spanNumbered) {
				return m, true
			}
		}
		return r.hi, len(r.numbersOf("find")) > 0
	}
	return 0, false
}

// pricedWork reads «want to price something up for the customer, …»: work to be
// priced that nobody calls an extra.
func (r *reading) pricedWork(i int) (end int, ok bool) {
	if i != r.lo || r.asking() || r.deniedWork() {
		return 0, false
	}
	for w := r.word(i); w == "want" || w == "need" || w == "i" || w == "we" || w == "to" || w == "can" || w == "you" || w == "please" || w == "lets" || w == "id" || w == "like" || w == "ive" || w == "just"; w = r.word(i) {
		i++
	}
	if j, ok := r.priceAsked(i); ok {
		i = j
	} else if w := r.word(i); w != "price" && w != "quote" && w != "cost" && w != "priced" && w != "quoted" && w != "propose" {
		return 0, false
	}
	for i++; i < r.hi; i++ {
		_, timed := r.hoursSaid()
		if r.toks[i-1].stop {
			return i, timed || len(r.prices()) > 0
		}
		if r.word(i) == "to" && i+1 < r.hi {
			return i + 1, timed || len(r.prices()) > 0
		}
		switch r.word(i) {
		case "something", "up", "one", "this", "that", "will", "you", "me", "please", "out", "too", "another", "a", "job", "bit", "of", "work", "for", "customer", "client", "owner", "lady", "gent", "bloke", "her", "him", "them", "mr", "mrs", "ms", "the", "some", "more":
			continue
		}
		if r.spanAt(i, spanNumbered) && len(r.numbersOf("find")) > 0 {
			return r.hi, true // «price one for find 5»
		}
		if !r.spanAt(i, spanJob) && !r.spanAt(i, spanSide) {
			_, timed := r.hoursSaid()
			return i, timed && r.has("up for her", "up for him", "up for them", "up for the customer") && i > r.lo+1 // «price that inner sill up for her, 4 hours»
		}
	}
	return 0, false
}

// thatAsExtra reads «price that as an extra», «work that one up as an extra for her»:
// what, was said before.
func (r *reading) thatAsExtra(i int) (end int, ok bool) {
	switch r.word(i) {
	case "price", "quote", "cost", "work", "put":
	default:
		return 0, false
	}
	if w := r.word(i + 1); w != "that" && w != "it" && w != "this" && w != "them" && w != "up" {
		return 0, false
	}
	if end, ok := r.phraseEnds(i+2, "up"); ok && r.word(i) == "price" && i == r.whole.lo && (end >= r.whole.hi || r.word(end) == "then" && end+1 >= r.whole.hi || r.toks[end-1].stop) {
		return end, true // «price it up then»
	}
	for j := i + 2; j < i+6; j++ {
		if end, ok := r.phraseEnds(j, "as an extra"); ok {
			return end, true
		}
	}
	return 0, false
}

// deniedWork reports that the work is denied; «no parts» denies none.
func (r *reading) deniedWork() bool {
	return r.denied() && !r.has("no parts", "no bits", "nothing in parts", "no materials", "no paint")
}

// priceAsked reads «get me a price» and returns the token of the price.
func (r *reading) priceAsked(i int) (int, bool) {
	if w := r.word(i); w != "get" && w != "do" && w != "give" && w != "work" && w != "knock" {
		return 0, false
	}
	for j := i + 1; j < i+5; j++ {
		switch r.word(j) {
		case "me", "us", "a", "up", "out", "her", "him", "them", "together":
			continue
		case "price", "quote":
			return j, true
		}
		break
	}
	return 0, false
}

// plainExtra reports an extra of which nothing is told yet: no find, hours or price.
func (r *reading) plainExtra() bool {
	_, timed := r.hoursSaid()
	return !timed && len(r.numbersOf("find")) == 0 && len(r.prices()) == 0
}
