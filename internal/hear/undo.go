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
		if p, ok := r.first(spanPerson); ok && p.id != c.Speaker {
			return 0
		}
		if r.has("every", "all", "everything") {
			return 0
		}
		if r.starts("scrap that", "scrub that", "scrub it", "take mine off", "scrap it", "scrap the last", "scrap last", "undo", "scratch that", "forget that", "take that back", "take it back", "delete that", "delete the last", "cancel that", "strike that", "ignore that", "remove that", "bin that", "no scrap that", "actually scrap that", "wipe that", "disregard that", "sorry scrap that", "sorry undo", "lose that", "take that off", "take it off", "rub that out", "knock that off", "drop that", "no scrap", "oh scrap that", "cancel the last", "undo the last", "not that scrap it") {
			return 1.3
		}
		if r.hi-r.lo <= 10 && r.has("scrub it", "undo it", "undo that", "scrap that", "scrub that", "scratch that", "take that off", "take mine off", "take it off", "strike that") {
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
		if (c.Unheard || c.PassedOver) && len(c.Records) > 0 && !r.namesRecord(c.Records[0]) {
			in.Entry = c.Records[0].Entry
			in.set("what", c.Records[0].Told)
		}
		if noun, n, ok := r.reopens(); ok {
			in.set(noun, n)
		}
	},
}

// namesRecord reports that a message says which record it means: by its material,
// panel or fastener, or as the last one.
func (r *reading) namesRecord(d Done) bool {
	for _, f := range []string{"material", "panel", "fastener"} {
		if slices.ContainsFunc(r.spans, func(s span) bool { return s.id != "" && s.id == d.Intent.text(f) }) {
			return true
		}
	}
	return r.has("last", "entry", "record", "booking")
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
