package hear

import "slices"

// measured are the records of amounts, torques and gaps: a number that was half heard
// would make them wrong.
var measured = wordSet("RecordUse RecordDelivery RecordCount RecordWaste RecordTorque RecordGap SetTorque SetGap")

// fractionWords are number words beside those of whole numbers.
var fractionWords = wordSet("half quarter quarters third thirds eighth eighths sixteenth sixteenths point dozen hundred thousand")

// halfHeard reports a number of which a word was not understood: «a thrd of a tin»,
// «fofty eight», «tree and a half», «seven and tree quarter kgm».
func halfHeard(r *reading, all []Intent) bool {
	if !slices.ContainsFunc(all, func(in Intent) bool { return measured[in.Kind] || in.Kind == "LogHours" }) || r.asking() {
		return false
	}
	for _, s := range r.all(spanQuantity) {
		w := r.word(s.from - 1)
		if (units19[r.word(s.from)] > 0 || tens[r.word(s.from)] > 0) && r.unknown(s.from-1) {
			return true
		}
		if w == "and" && (s.unit == "" || s.unit == "h") && r.word(s.from+1) == "half" && !r.quantityEnds(s.from-1) {
			return true
		}
	}
	if !slices.ContainsFunc(all, func(in Intent) bool { return measured[in.Kind] }) {
		return r.looseLength()
	}
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		u, unit := unitWords[w]
		number := fractionWords[w] || tens[w] > 0 || units19[w] > 1
		over := r.spanOver(i)
		taken := over != "" && !(over == spanPanel && w == "quarters" && r.word(i+1) == "of")
		if (number || unit && u != "days" && u != "coats") && !taken {
			return true
		}
	}
	return false
}

// looseLength reports a unit of length behind hours, which is no work: «2 hours metre».
func (r *reading) looseLength() bool {
	h, ok := r.quantity("h")
	return ok && unitWords[r.word(h.to)] == "m" && r.spanOver(h.to) == ""
}

// besideUnknown reports a word that nobody knows where it may make the record another:
// «roof and bonwt», «done the binnet in clear», «the hole in the sill is wleedd».
func besideUnknown(r *reading, all []Intent) bool {
	for i := r.lo; i+1 < r.hi; i++ {
		w := r.word(i)
		for _, in := range all {
			matters := false
			switch in.Kind {
			case "RecordCoat":
				matters = w == "and" && (r.panelAt(i-1) && r.unknown(i+1) || r.panelAt(i+1) && r.unknown(i-1))
			case "RecordFind":
				matters = (w == "is" || w == "are" || w == "been" || w == "now") && r.unknown(i+1)
			case "FinishTask", "CloseFind":
				matters = len(all) == 1 && w == "the" && r.unknown(i+1)
			}
			if matters {
				return true
			}
		}
	}
	return false
}

// unknown reports that token i is no word that anybody knows.
func (r *reading) unknown(i int) bool {
	w := r.word(i)
	return len(w) > 2 && !isDigit(w[0]) && !r.v.mender.Known(w) && !r.v.mender.English(w) && r.spanOver(i) == ""
}
