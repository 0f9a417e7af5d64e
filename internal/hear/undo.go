package hear

import "slices"

// undo hears that the last record is to be taken back.
var undo = kind{
	name:     "Undo",
	write:    true,
	examples: []string{"scrap that", "undo that, wrong tin"},
	score: func(r *reading, c Context) float64 {
		if _, _, ok := r.reopens(); ok {
			return 1.3
		}
		if len(c.Records) == 0 && !c.Addressed {
			return 0
		}
		end := r.takenBackAt()
		if p, ok := r.first(spanPerson); ok && p.id != c.Speaker && (end == 0 || p.from >= r.clauseOf(end) && p.from < end) {
			return 0
		}
		if r.has("every", "all", "everything") {
			return 0
		}
		object := r.undoObject(end)
		if len(c.Records) == 0 && object.namesRecordKind() {
			return 0 // nothing is in reach that it could be
		}
		if end > 0 && r.recordBehind(end) || end > 0 && r.takesBackNamed(object, c) {
			return 1.3
		}
		return 0
	},
	check: func(in *Intent) {
		if in.has("what") {
			in.Missing = append(in.Missing, "what") // it may be about what nobody took up
		}
	},
	fill: func(r *reading, c Context, in *Intent) {
		if noun, n, ok := r.reopens(); ok {
			in.set(noun, n)
			return
		}
		object := r.undoObject(r.takenBackAt())
		d, found, named := object.recordMeant(c.Records)
		switch {
		case found && r.takenBackAt() > 0:
			in.Entry = d.Entry
			return
		case found:
			in.Entry = d.Entry
			in.set("what", d.Told)
			return
		case named && len(c.Records) > 0:
			in.Unknown = object.textFrom(object.lo, object.hi)
			in.Entry = c.Records[0].Entry
			in.set("what", c.Records[0].Told)
			return
		}
		if (c.Unheard || c.PassedOver) && len(c.Records) > 0 && !r.namesRecord(c.Records[0]) {
			in.Entry = c.Records[0].Entry
			in.set("what", c.Records[0].Told)
		}
	},
}

// undoWords are how a record is taken back.
var undoWords = []string{
	"scrap that", "scrub that", "scrub it", "take mine off", "scrap it", "scrap", "undo", "undo it", "undo that", "undo this", "scratch that", "forget that", "take that back", "take it back", "delete that", "delete", "cancel that", "cancel", "strike that", "ignore that", "remove that",
	"forget my", "scrap my", "forget the", "bin that", "wipe that", "disregard that", "lose that", "take that off", "take that last one off", "take that one off", "take the last one off", "take it off", "rub that out", "knock that off", "drop that",
}

// takenBackAt returns the token behind the words that take a record back, or 0:
// they begin a short message, or stand in it behind «no» or «sorry».
func (r *reading) takenBackAt() int {
	best := 0
	for i := r.lo; i < r.hi && (i < r.lo+4 || r.hi-r.lo <= 14); i++ {
		if i > r.lo && !r.toks[i-1].stop && !r.toks[i-1].end && !filler[r.word(i-1)] && !beforeUndo[r.word(i-1)] {
			continue
		}
		for _, p := range undoWords {
			if end, ok := r.phraseEnds(i, p); ok && end > best && !(end == i+1 && i > r.lo && !r.toks[i-1].stop && !r.toks[i-1].end && filler[r.word(i-1)]) {
				best = end
			}
		}
		if best > 0 {
			return best
		}
	}
	return 0
}

// clauseOf returns where the clause begins that token i stands in.
func (r *reading) clauseOf(i int) int {
	for i--; i > r.lo && !r.toks[i-1].stop && !r.toks[i-1].end; i-- {
	}
	return i
}

var beforeUndo = wordSet("no nah nope yes sorry actually oh wait please ok right can could you so just and not that well hang on")

// recordBehind reports that what stands behind «scrap that» may be a record, and is
// no thing on the bench: «bin that rag».
func (r *reading) recordBehind(i int) bool {
	for r.word(i) == "the" || r.word(i) == "last" || r.word(i) == "my" || r.word(i) == "that" || r.word(i) == "previous" || r.word(i) == "second" || r.word(i) == "first" || r.word(i) == "other" {
		i++
	}
	if i >= r.hi || r.toks[i-1].stop || r.toks[i-1].end || afterUndo[r.word(i)] || filler[r.word(i)] {
		return true
	}
	for j := i + 1; j < min(i+3, r.hi); j++ {
		if undoNouns[r.word(j)] {
			return true // «scrap that headlining order»
		}
	}
	return slices.ContainsFunc(r.spans, func(s span) bool {
		return s.from >= i && (!s.weak || s.kind == spanFastener) && (s.kind == spanMaterial || s.kind == spanFind || s.kind == spanStage || s.kind == spanFastener || s.kind == spanEdge || s.kind == spanQuantity || s.kind == spanJob)
	})
}

var undoNouns = wordSet("order task snag note extra reminder find reading readings coat hours entry booking arrival delivery count sign")

var afterUndo = wordSet(`one ones entry record records i it its im ill ive weve theyve well theyll shes hes sorry wrong please mate was were will can we didnt not thing for again ta thanks cheers off lot bit mistake meant number reading readings from they he she reminder extra order
arrival delivery use booking note snag task coat coats gap gaps hours hour time torque find count waste sign signoff sum book target read update message last still again as altogether completely entirely because thats theres theyre there hes shes wasnt isnt never too would if all back out`)

// namesRecord reports that a message says which record it means: by its material,
// panel or fastener, or as the last one.
func (r *reading) namesRecord(d Done) bool {
	return r.namesThing(d) || r.has("last", "entry", "record", "booking")
}

func (r *reading) namesThing(d Done) bool {
	for _, f := range []string{"material", "panel", "fastener"} {
		if slices.ContainsFunc(r.spans, func(s span) bool { return s.id != "" && s.id == d.Intent.text(f) }) {
			return true
		}
	}
	return false
}

// reopens reads «reopen snag 2», «find 3 needs opening again».
func (r *reading) reopens() (noun string, n int, ok bool) {
	if r.asking() || r.denied() || !r.has("reopen", "re open", "reopened", "re opened", "open again", "opening again", "opened again", "back on the list", "back on the snag list", "open it again", "come back", "has come back", "is back") {
		return "", 0, false
	}
	for _, noun := range []string{"snag", "find"} {
		if n, ok := r.numberOf(noun); ok {
			return noun, n, true
		}
	}
	return "", 0, false
}
