package hear

import (
	"regexp"
	"strings"
)

// pennies is an amount with its pence, which needs no currency in an order.
var pennies = regexp.MustCompile(`^\d+\.\d\d$`)

// moneyWords follow a price.
var moneyWords = wordSet("quid quids pounds pound gbp sterling notes nicker squid euros euro eur dollars")

// price is an amount of money that the reading names.
type price struct {
	value    float64
	from, to int
	each     bool
}

// pricePlace reports a bare figure where an order names its price: behind the
// part, before the supplier, a mark or the end.
func (r *reading) pricePlace(i, n int) bool {
	switch r.word(i - 1) {
	case "ordered", "order", "bought", "got", "a", "an", "the", "of", "due", "x", "number", "no":
		return false
	}
	if r.spanAt(i, spanDay) || r.spanAt(i, spanNumbered) || r.spanAt(i, spanSize) || i > 0 && r.quantityWithUnit(i) {
		return false
	}
	return (r.word(n) == "from" || r.word(n) == "off") && r.spanAt(n+1, spanSupplier) || i > r.lo && r.toks[i-1].stop && (n >= r.hi || r.toks[n-1].stop || r.toks[n-1].end)
}

// twoPrices reports a price between two figures.
func (r *reading) twoPrices() bool {
	for i := r.lo; i < r.hi; i++ {
		if _, n, ok := r.numberAt(i); ok && (r.word(n) == "to" || r.word(n) == "or") {
			if _, k, ok := r.numberAt(n + 1); ok && moneyWords[r.word(k)] {
				return true
			}
		}
	}
	return false
}

// prices finds the amounts of money said: «£395», «240 quid», «at 12.50 each».
func (r *reading) prices() []price {
	var out []price
	if r.has("to", "or") && r.twoPrices() {
		return nil // «40 to 50 quid» is no price
	}
	for i := r.lo; i < r.hi; i++ {
		v, n, ok := r.numberAt(i)
		if !ok || v < 0 {
			continue
		}
		from := i
		signed := r.toks[i].from >= 2 && strings.HasSuffix(r.source[:r.toks[i].from], "£") || r.toks[i].from >= 1 && (r.source[r.toks[i].from-1] == '$' || r.source[r.toks[i].from-1] == '#')
		if strings.HasSuffix(r.word(i), "k") {
			continue
		}
		switch {
		case moneyWords[r.word(n)]:
			n++
			if pence, next, ok := r.numberAt(n); ok && pence > 0 && pence < 100 && pence == float64(int(pence)) && (next >= r.hi || r.toks[next-1].stop || r.toks[next-1].end || r.word(next) == "each" || r.word(next) == "due" || r.word(next) == "by") {
				v, n = v+pence/100, next // «eighteen pounds fifty»
			}
		case signed:
		case r.whole.orderVerb() >= 0 && v >= 10 && r.word(n) == "due" && i > r.lo && !r.spanAt(i, spanNumbered) && !r.spanAt(i, spanDay):
		case r.whole.orderVerb() >= 0 && v >= 10 && i > r.lo && r.pricePlace(i, n):
		case r.whole.orderVerb() >= 0 && pennies.MatchString(r.word(i)):
		case (stem(r.word(i-2)) == "part" || stem(r.word(i-2)) == "material") && (r.word(i-1) == "are" || r.word(i-1) == "is" || r.word(i-1) == "was" || r.word(i-1) == "were"):
		case r.word(i-1) == "be" && r.part(r.lo, i).has("parts are gonna be", "parts are going to be", "parts will be", "parts should be", "parts gonna be"):
		case (r.word(n) == "each" || r.word(n) == "apiece") && (r.word(i-1) == "at" || r.word(i-1) == "for"):
		case (r.word(n) == "the" || r.word(n) == "a") && (r.word(n+1) == "pair" || r.word(n+1) == "lot" || r.word(n+1) == "set"), r.whole.orderVerb() >= 0 && v >= 10 && r.word(n) == "for" && (r.word(n+1) == "the" || r.word(n+1) == "both") && (r.word(n+1) == "both" || r.word(n+2) == "two" || r.word(n+2) == "pair" || r.word(n+2) == "lot" || r.word(n+2) == "four"), (r.word(n) == "inc" || r.word(n) == "inch") && r.word(n+1) == "vat", r.word(n) == "plus" && r.word(n+1) == "vat", r.word(n) == "all" && r.word(n+1) == "in", r.word(n) == "delivered" && r.has("ordered", "order", "bought"):
		case r.word(i-1) == "for" && i-1 > r.lo && (r.word(n) == "all" || r.word(n) == "the" || r.word(n) == "in" || r.word(n) == ""):
		case (r.word(n) == "in" || r.word(n) == "of" || r.word(n) == "on" || r.word(n) == "for" || r.word(n) == "worth") && (r.stem(n+1) == "part" || r.stem(n+1) == "material" || r.word(n+1) == "bits" || r.word(n+1) == "of"):
			// «45 in parts»
		case r.word(n) == "for" && r.word(n+1) == "the" && r.whole.has("extra") && r.whole.hasHours() && v >= 10:
			// «140 for the hitch»
		case r.stem(n) == "part" || r.word(n) == "bits":
			// «180 parts»
		case r.word(i) == "one" && r.stem(i-1) == "price":
			continue
		case (r.stem(i-1) == "part" || r.word(i-1) == "bits" || r.stem(i-1) == "price" || r.stem(i-1) == "cost" || r.word(i-1) == "costing") && r.stem(n) != "hour" && r.word(n) != "h":
			// «parts 180»
		default:
			continue
		}
		each := r.word(n) == "each" || r.word(n) == "apiece" || r.word(n) == "a" && (r.word(n+1) == "piece" || r.word(n+1) == "pop" || r.word(n+1) == "go") || r.word(n) == "per"
		out = append(out, price{value: v, from: from, to: n, each: each})
		i = n - 1
	}
	return out
}
