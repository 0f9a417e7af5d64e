package hear

import (
	"slices"
	"strings"
)

// answer reads a message as the answer to the question that waits. What the
// question already knew stays as it was.
func (v *Vocabulary) answer(r *reading, c Context) (Intent, bool) {
	in := c.Pending.clone()
	r = r.beforeTail()
	if in.Kind == "Undo" {
		delete(in.Fields, "what")
		in.Missing = nil
		return in, r.has("yes", "aye", "please", "do", "take it back", "scrap it", "scrap that") && len(r.rest("yes", "aye", "please", "do", "take", "it", "back", "scrap", "that", "one")) == 0
	}
	if in.Kind == "Amend" {
		return r.answerSize(in)
	}
	k := kindNamed(in.Kind)
	before := c.Pending
	if r.has("never mind", "nevermind", "forget it", "dont bother") {
		return Intent{}, false
	}
	freeText := ownWordsKind[in.Kind] && wantsText(before.Missing) || in.Kind == "CreateJob" || in.Kind == "AddMaterial" || in.Kind == "AddNote" || in.Kind == "SetTorque"
	if freeText && (r.ordersElse(in.Kind) || r.hi-r.lo == 1 && noText[r.word(r.lo)]) {
		return Intent{}, false
	}
	if !freeText && !r.onlyAnswers(c, before) {
		return Intent{}, false
	}
	if r.asking() {
		return Intent{}, false
	}
	k.fill(r, c, &in)
	if in.Kind == "RecordGap" && slices.Contains(before.Missing, "edge") && !in.has("edge") {
		fillEdge(r, &in)
	}
	for f, old := range before.Fields {
		if before.has(f) && !slices.Contains(before.Missing, f) && f != "panel_choice" && f != "material_choice" {
			in.Fields[f] = old
		}
	}
	if before.has("amount") && !slices.Contains(before.Missing, "amount") {
		in.Amount, in.Unit, in.Pack = before.Amount, before.Unit, before.Pack
	}
	if in.has("job") {
		delete(in.Fields, "job_unknown")
	}
	done := v.finish(in, c)
	if len(done) != 1 {
		return Intent{}, false // «both» answers a question about a side
	}
	in = done[0]
	if len(in.Missing) >= len(before.Missing) && !narrower(in, *before) {
		return Intent{}, false
	}
	return in, true
}

// beforeTail takes off «i should have said».
func (r *reading) beforeTail() *reading {
	for _, p := range []string{"i should of said", "i should have said", "i meant to say", "i meant", "i mean"} {
		n := strings.Count(p, " ") + 1
		if r.hi-n > r.lo {
			if _, ok := r.phraseEnds(r.hi-n, p); ok {
				return r.part(r.lo, r.hi-n)
			}
		}
	}
	return r
}

// noText are single words that name nothing to be done or wanted.
var noText = wordSet("done sorted ok okay yes no yep nope ta thanks cheers right left both good great nice sure fine maybe later now today tomorrow")

// ordersElse reports words that are an order or a decision of their own, never the
// text that was asked for.
func (r *reading) ordersElse(kind string) bool {
	if kind == "ProposeExtra" {
		if _, decided := r.decision(); decided && !r.has("agreed") {
			return true
		}
	}
	return r.starts("close the", "close find", "close that", "undo", "scrap that", "list the", "show me")
}

// WantsWords reports a question that any words would answer.
func WantsWords(in Intent) bool { return ownWordsKind[in.Kind] && wantsText(in.Missing) }

// wantsText reports that a person's own words are what is missing.
func wantsText(missing []string) bool {
	return len(missing) > 0 && (missing[0] == "text" || missing[0] == "title")
}

// onlyAnswers reports that a message is nothing but an answer to the question:
// hardly a word that the answer does not need, no other figure, no other thing.
func (r *reading) onlyAnswers(c Context, q *Intent) bool {
	if _, timed := r.timeAhead(); timed && slices.Contains(q.Missing, "at") && q.Kind == "Remind" && len(r.rest("oclock")) == 0 {
		return true
	}
	if r.asking() || r.denied() && r.word(r.lo) != "no" || r.has("need", "order", "ordered", "spare", "should", "would", "could", "going", "want", "oclock") {
		return false
	}
	if _, timed := r.timeAhead(); timed && slices.Contains(q.Missing, "at") && q.Kind == "Remind" && len(r.rest()) <= 3 {
		return true
	}
	rest := r.rest("edge", "side", "hand", "job", "find", "hours", "hour", "left", "there", "no", "sorry", "meant", "make", "all", "old", "them", "end", "off", "under", "used", "torque", "grade", "counted", "came", "each", "wrench", "bar", "crowfoot", "extension", "long", "run", "panel", "steel", "metal", "humidity", "air", "top", "diff", "overdrive", "litres", "either", "way", "plus", "minus", "tyres")
	places := slices.Contains(q.Missing, "panel") || slices.Contains(q.Missing, "kind")
	switch {
	case len(rest) == 0:
	case len(rest) == 1 && !numericField(q.Missing):
	case len(rest) <= 4 && thingAsked(q.Missing) && len(r.bare()) == 0:
	case len(rest) <= 2 && places:
	default:
		return false
	}
	figures := 0
	for _, s := range r.spans {
		if s.kind == spanQuantity || s.kind == spanSize {
			figures++
		}
	}
	if figures > 1 && q.Kind != "RecordTorque" && q.Kind != "ProposeExtra" && q.Kind != "SetGap" && numericField(q.Missing) && !slices.Contains(q.Missing, "gap_mm") && len(q.Missing) == 1 {
		return false
	}
	if c.Again && r.word(r.lo) != "no" && r.word(r.lo) != "sorry" && (len(rest) > 0 || len(r.spans) > 1) {
		return false
	}
	// A thing that the question already has, named as another one, is another matter.
	said := Intent{Kind: q.Kind, Fields: Fields{}, Missing: q.Missing}
	kindNamed(q.Kind).fill(r, c, &said)
	for f, v := range said.Fields {
		now, isText := v.(string)
		if was := q.text(f); isText && was != "" && now != was && !slices.Contains(q.Missing, f) && f != "side" && f != "why" && f != "text" && f != "source" {
			return false
		}
	}
	return true
}

// thingAsked reports that it is asked which of several things is meant.
func thingAsked(missing []string) bool {
	return len(missing) == 1 && (missing[0] == "snag" || missing[0] == "extra" || missing[0] == "task" || missing[0] == "part")
}

// numericField reports that a figure is what is missing.
func numericField(missing []string) bool {
	for _, f := range missing {
		switch f {
		case "amount", "hours", "torque_nm", "gap_mm", "target_mm", "wrench_mm", "extension_mm", "amount_l", "coats", "find", "amps", "length_m", "extra", "snag", "line", "task":
			return true
		}
	}
	return false
}

// narrower reports that an answer left fewer meanings of an ambiguous name.
func narrower(in, before Intent) bool {
	if in.has("hour") && !before.has("hour") {
		return true
	}
	a, _ := in.Fields["material_choice"].([]string)
	b, _ := before.Fields["material_choice"].([]string)
	return len(a) > 0 && len(a) < len(b)
}
