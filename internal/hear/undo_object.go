package hear

import "slices"

// reasons are the words that begin why a record is taken back.
var reasons = wordSet("i im ive it its was were we weve they theyre he she wrong because cos as not please altogether completely entirely sorry again thanks ta cheers mate off out back never should that thats")

// undoObject returns what is to be taken back, as it is named behind token end: «the
// order» of «undo the order, wrong supplier»; the one that is meant of «not the note,
// the snag».
func (r *reading) undoObject(end int) *reading {
	from := max(end, r.lo)
	if end == 0 && r.notThat() {
		for r.word(from) != "not" {
			from++
		}
	}
	if r.word(from) == "not" {
		for from < r.hi && !r.toks[from].stop && !r.toks[from].end {
			from++
		}
		from = min(from+1, r.hi)
	} else if end == 0 || end > r.lo && (r.toks[end-1].stop || r.toks[end-1].end) {
		return r.part(r.lo, r.lo)
	}
	for r.word(from) == "the" || r.word(from) == "my" || r.word(from) == "that" {
		from++
	}
	to := from
	for to < r.hi && !reasons[r.word(to)] {
		to++
		if r.toks[to-1].stop || r.toks[to-1].end {
			break
		}
	}
	return r.part(from, to)
}

// notThat reports that one record is said not to be meant, before another: «not the
// note, the snag».
func (r *reading) notThat() bool {
	i := r.lo
	for w := r.word(i); w == "no" || w == "sorry"; w = r.word(i) {
		i++
	}
	if end := r.takenBackAt(); r.word(end) == "not" {
		i = max(i, end) // «scrap that, not the note, the snag»
	}
	article := r.word(i+1) == "the" || r.word(i+1) == "my" || r.word(i+1) == "that"
	return r.word(i) == "not" && article && recordNouns[r.stem(i+2)] != nil && (r.toks[i+2].stop || r.toks[i+2].end) && r.hi-i <= 7
}

// namesRecordKind reports that a noun of a record is said.
func (r *reading) namesRecordKind() bool { return len(r.nounsSaid()) > 0 }

// takesBackNamed reports that an object without a record's noun is a record in reach: the
// «one» of several, or what is cancelled or deleted. A thing on the bench is undone and
// scrapped as well, so each of its words must be the record's.
func (r *reading) takesBackNamed(object *reading, c Context) bool {
	d, found, _ := object.recordMeant(c.Records)
	if !found || object.hi < r.hi && !r.toks[object.hi-1].stop && !r.toks[object.hi-1].end {
		return false
	}
	if last := object.word(object.hi - 1); last != "one" && last != "ones" && len(object.nounsSaid()) == 0 {
		planned := d.Intent.Kind == "Remind" || d.Intent.Kind == "AddTask"
		if !r.starts("delete", "please delete") && !(planned && r.starts("cancel", "please cancel")) {
			return false
		}
	}
	words := r.v.rootsOf(d.Intent.text("text") + " " + d.Intent.text("title") + " " + d.Intent.text("part") + " " + d.Said)
	for _, i := range object.naming() {
		agreed := slices.ContainsFunc(r.spans, func(s span) bool {
			same, _ := r.v.agrees(s, d)
			return same && s.from <= i && i < s.to
		})
		if !agreed && !slices.Contains(words, root(r.word(i))) {
			return false
		}
	}
	return true
}

// recordMeant returns the newest record that the object of a taking back names. named
// reports that it names one, whether there is any or not.
func (r *reading) recordMeant(records []Done) (d Done, found, named bool) {
	within := records
	if nouns := r.nounsSaid(); len(nouns) > 0 {
		named = true
		within = slices.DeleteFunc(slices.Clone(records), func(d Done) bool { return !slices.Contains(nouns, d.Intent.Kind) })
	}
	if len(r.naming()) > 0 {
		d, found = r.v.named(r, within)
		return d, found, named || r.namesThingOfShop()
	}
	if r.has("first") && len(records) > 0 {
		if !named {
			within = sameKindRun(records)
		}
		if len(within) > 1 {
			return within[len(within)-1], true, true
		}
	}
	if named && len(within) > 0 {
		return within[0], true, true
	}
	return Done{}, false, named
}

// sameKindRun returns the newest records up to the first of another kind.
func sameKindRun(records []Done) []Done {
	n := slices.IndexFunc(records, func(d Done) bool { return d.Intent.Kind != records[0].Intent.Kind })
	if n < 0 {
		return records
	}
	return records[:n]
}

// namesThingOfShop reports that something is named that a record would be known by.
func (r *reading) namesThingOfShop() bool {
	return slices.ContainsFunc(r.spans, func(s span) bool {
		if s.landmark || s.weak {
			return false
		}
		switch s.kind {
		case spanMaterial, spanPanel, spanSide, spanFind, spanFastener, spanEdge, spanNumbered, spanStage, spanJob:
			return true
		}
		return false
	})
}
