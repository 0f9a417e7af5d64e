package hear

// completing reports that a message only adds to an order what it left out: «and
// it's due thursday», «they were 48 quid».
func (r *reading) completing(record Intent) bool {
	last := record.Kind
	if last == "RecordFind" && !record.has("width_mm") && !record.has("diameter_mm") && !record.has("height_mm") && r.hi-r.lo <= 8 && !r.asking() {
		_, size := r.first(spanSize)
		_, length := r.quantity("mm", "cm", "in", "thou")
		return (size || length) && len(r.all(spanPanel)) == 0 && r.findKind() == "" && len(r.rest("its", "about", "across", "deep", "wide", "high", "long", "by", "id", "say", "roughly", "size", "big")) == 0
	}
	if last == "RecordCoat" && r.starts("finished at", "done at", "finished about", "finished") && r.hi-r.lo <= 5 && !r.asking() {
		_, timed := r.timeSaid()
		return timed && len(r.rest("finished", "done", "at", "half", "past", "oclock", "quarter", "to")) == 0
	}
	if last == "RecordCoat" && len(r.all(spanQuantity)) == 1 && r.hi-r.lo <= 3 && !r.asking() {
		s, coats := r.quantity("coats")
		return coats && s.from == r.lo && len(r.rest()) == 0 // «2 coats»
	}
	if last == "RecordFind" && !record.has("depth_mm") && r.has("deep") && !r.asking() && len(r.all(spanPanel)) == 0 && r.findKind() == "" && r.hi-r.lo <= 9 {
		_, length := r.quantity("mm", "cm", "in", "thou")
		return length && len(r.rest("deep", "places", "worst", "part", "its", "well", "middle", "deepest", "there", "as")) == 0
	}
	if last == "AddTask" && r.hi-r.lo <= 5 && !r.asking() {
		if _, ok := r.hoursSaid(); ok && len(r.rest("hours", "hour", "about", "say", "call", "roughly")) == 0 {
			return true
		}
	}
	if _, timed := r.hoursSaid(); last == "ProposeExtra" && timed && r.starts("put", "allow", "say", "call it") && r.has("on it", "on that", "for it", "for that") && r.hi-r.lo <= 7 {
		return true // «put 6 hours on it»
	}
	if last != "RecordOrder" || r.orderVerb() >= 0 || r.asking() || r.hi-r.lo > 9 {
		return false
	}
	if p := r.prices(); len(p) == 1 && !record.has("price") && len(r.things("part", record.text("job"))) > 0 && r.hi-r.lo <= 6 {
		return true // «throttle cables 18 quid»
	}
	_, due := r.dueDay()
	if _, supplier := r.first(spanSupplier); supplier && r.has("from", "off") && len(r.rest("from", "off")) == 0 {
		return true
	}
	if b := r.bare(); len(b) == 1 && b[0].from == r.lo && r.hi-r.lo == 3 && r.has("of them") {
		return true // «2 of them»
	}
	if b := r.bare(); len(b) == 1 && b[0].from == r.lo && r.has("with the carriage", "with carriage", "with delivery", "delivered", "all in", "with the vat", "inc vat", "plus carriage") {
		return true // «65 with the carriage»
	}
	if !(due && r.has("due", "here", "coming") || len(r.prices()) > 0) {
		return false
	}
	return len(r.rest("due", "quid", "pounds", "was", "were", "they", "cost", "each", "price", "theyre", "all", "in", "week", "coming", "here", "next", "reckon", "say", "says", "apparently")) == 0
}

// notClosed returns the closing that is said not to be so: «its not fixed», «snag 2
// isnt fixed».
func (r *reading) notClosed(records []Done) (Done, bool) {
	if !r.has("not fixed", "isnt fixed", "aint fixed", "not sorted", "isnt sorted", "not cured", "isnt done", "not finished", "isnt finished", "still not right", "not mended", "wasnt fixed", "wasnt sorted") {
		return Done{}, false
	}
	for noun, kind := range map[string]string{"snag": "CloseSnag", "find": "CloseFind", "task": "FinishTask"} {
		n, numbered := r.numberOf(noun)
		for _, d := range records {
			if numbered && d.Intent.Kind == kind && d.Number == n {
				return d, true
			}
		}
		if numbered {
			return Done{}, false
		}
	}
	last := records[0]
	closes := last.Intent.Kind == "CloseSnag" || last.Intent.Kind == "CloseFind" || last.Intent.Kind == "FinishTask"
	return last, closes && len(r.spans) == 0 && len(r.rest("its", "it", "not", "isnt", "still", "fixed", "sorted", "right", "cured", "done", "finished", "no", "actually", "sorry", "that", "thats", "wasnt", "aint", "mended", "after", "all", "yet")) == 0
}

// takesBack reports that what was recorded is said not to be so.
func (r *reading) takesBack() bool {
	return r.starts("no it hasnt", "no they havent", "no it didnt", "no it isnt", "no its not", "no she hasnt", "no he hasnt", "no not yet", "no it wasnt", "it hasnt", "no she didnt", "no he didnt", "sorry it hasnt", "actually it hasnt", "sorry no it hasnt")
}
