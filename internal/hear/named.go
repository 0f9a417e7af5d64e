package hear

import (
	"slices"
	"strings"
)

// recordNouns are the nouns by which people name a record, with its kinds.
var recordNouns = map[string][]string{
	"note": {"AddNote"}, "snag": {"AddSnag", "CloseSnag"}, "hour": {"LogHours"}, "order": {"RecordOrder"}, "task": {"AddTask", "StartTask", "FinishTask"},
	"reminder": {"Remind"}, "coat": {"RecordCoat"}, "gap": {"RecordGap"}, "reading": {"RecordGap"}, "find": {"RecordFind", "CloseFind"}, "extra": {"ProposeExtra", "DecideExtra"},
	"arrival": {"RecordArrival"}, "delivery": {"RecordDelivery", "RecordArrival"}, "count": {"RecordCount"}, "waste": {"RecordWaste"}, "signoff": {"RecordTorque"}, "brief": {"AddBrief"},
}

// nounsSaid returns the kinds of the record nouns in the reading, or nil.
func (r *reading) nounsSaid() []string {
	var kinds []string
	for i := r.lo; i < r.hi; i++ {
		kinds = append(kinds, recordNouns[r.stem(i)]...)
	}
	return kinds
}

// nameless are words of a correction or a taking back that tell no record from another.
var nameless = wordSet(`no nope nah sorry actually wait hang oops whoops correction wrong but lot bit thing things last first second top bottom middle previous before other mine i ive im meant mean should have been make made change whole total
big small size amount torque batch temperature temp price cost due tolerance quantity quantities width depth height length number figure figures measure measurement hours hour entry record booking side edge end parts part materials labour work today now all both
extra note order time mistake again off out up back they theyre he she his her hers their theirs did do done got says said reckon tell lie which what there here same each every used use altogether completely entirely`)

// naming returns the tokens of the reading that name something: no figures, and no
// words that fit any record.
func (r *reading) naming() []int {
	var out []int
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		if filler[w] || quiet[w] && !r.spanAt(i, spanSide) || nameless[w] || recordNouns[r.stem(i)] != nil || r.spanAt(i, spanQuantity) || r.spanAt(i, spanSize) {
			continue
		}
		out = append(out, i)
	}
	return out
}

// named returns the newest of the records that the reading's words fit best, and none
// that is of another thing than they name.
func (v *Vocabulary) named(r *reading, records []Done) (Done, bool) {
	var found Done
	best := 0
	for i, d := range records {
		if n := v.fit(r, d, saidOf(records, i)); n > best {
			found, best = d, n
		}
	}
	return found, best > 0
}

// fit counts what the reading names that is the record's: 0 when something is
// another's.
func (v *Vocabulary) fit(r *reading, d Done, said string) int {
	seen, fits := map[spanKind]bool{}, map[spanKind]bool{}
	for _, s := range r.spans {
		if s.landmark {
			continue
		}
		same, told := v.agrees(s, d)
		fits[s.kind] = fits[s.kind] || same
		seen[s.kind] = seen[s.kind] || told && !s.weak
	}
	n := 0
	for kind := range seen {
		if seen[kind] && !fits[kind] {
			return 0
		}
	}
	for kind := range fits {
		if fits[kind] {
			n++
		}
	}
	in := d.Intent
	words := v.rootsOf(strings.Join([]string{in.text("text"), in.text("title"), in.text("part"), said}, " "))
	material := v.rootsOf(v.mats[in.text("material")].GetName())
	for _, i := range r.naming() {
		if s := r.spanOver(i); s != "" && fits[s] {
			continue
		}
		w := root(r.word(i))
		begins := func(name string) bool { return name == w || len(w) >= 3 && strings.HasPrefix(name, w) }
		if slices.Contains(words, w) || slices.ContainsFunc(material, begins) {
			n++ // «the base» is the basecoat
		}
	}
	return n
}

// spanOver returns the kind of the first span that token i is in, or "".
func (r *reading) spanOver(i int) spanKind {
	for _, s := range r.spans {
		if s.from <= i && i < s.to {
			return s.kind
		}
	}
	return ""
}

// agrees reports whether a span names what the record holds, and whether the record
// tells at all.
func (v *Vocabulary) agrees(s span, d Done) (same, told bool) {
	in := d.Intent
	is := func(field string) (bool, bool) {
		had := in.text(field)
		return had != "" && (s.id == had || slices.Contains(s.ids, had)), had != ""
	}
	switch s.kind {
	case spanMaterial, spanFastener, spanJob:
		return is(string(s.kind))
	case spanEdge:
		same, told = is("edge")
		return same, told && in.Kind == "RecordGap" && (s.id == "front" || s.id == "rear")
	case spanFind:
		same, told = is("kind")
		return same, told && in.Kind == "RecordFind"
	case spanStage:
		same, told = is("work")
		return same || !told && in.Kind == "LogHours", told // unsaid, it is the person's trade
	case spanSide:
		side := Intent{Fields: Fields{"side": s.id, "job": in.text("job")}}
		v.resolveSide(Context{}, &side)
		return side.text("side") != "" && side.text("side") == in.text("side"), in.has("side") && side.has("side")
	case spanPanel:
		if panels, ok := in.Fields["panels"].([]string); ok && len(panels) > 0 {
			return slices.ContainsFunc(panels, func(p string) bool { return p == s.id || slices.Contains(s.ids, p) }), true
		}
		return is("panel")
	case spanPerson:
		people, _ := in.Fields["people"].([]string)
		return slices.Contains(people, s.id), len(people) > 0
	case spanNumbered:
		kinds := recordNouns[s.id]
		return slices.Contains(kinds, in.Kind) && d.Number == int(s.value), len(kinds) > 0
	}
	return false, false
}

// saidOf returns what was said of the record at i: its own part of the message when
// that made several, one for each part.
func saidOf(records []Done, i int) string {
	d := records[i]
	after, all := 0, 0
	for j, o := range records {
		if o.Said == d.Said && o.At.Equal(d.At) {
			all++
			if j > i {
				after++ // newest first: it was said before
			}
		}
	}
	parts := strings.FieldsFunc(strings.ReplaceAll(d.Said, " and ", ","), func(c rune) bool { return c == ',' || c == ';' || c == '\n' })
	if all > 1 && len(parts) == all {
		return parts[after]
	}
	return d.Said
}

// subject returns what a correction says its new figure of: «the wire» of «no, the wire
// was 40 not 4», or nothing.
func (r *reading) subject() *reading {
	from, to := r.lo, -1
	_, contrasted := r.contrasted()
	figures := r.all(spanQuantity)
	if len(figures) == 0 && r.has("that should be", "it should be", "that should have been", "that was not", "that was meant to be") {
		return r.part(from, from) // «front edge that was, not rear»: what stands before is what is so
	}
	if r.starts("make the", "change the", "make my", "change my") {
		for to = from; to < r.hi && r.word(to) != "to" && !r.spanAt(to, spanQuantity) && !r.toks[to].stop && !r.toks[to].end; to++ {
		}
		return r.part(from, to)
	}
	for i := r.lo; i < r.hi && to < 0; i++ {
		switch r.word(i) {
		case "was", "were", "is", "are", "should":
			to = i
		}
		if to < 0 && i+1 < r.hi && (r.toks[i].stop || r.toks[i].end) && len(r.part(from, i+1).all(spanQuantity)) == 0 {
			from = i + 1
		}
	}
	if to < 0 && contrasted && len(figures) > 0 && figures[0].from > from {
		to = figures[0].from
	}
	return r.part(from, max(from, to))
}

// ofRecord returns the record that a correction's subject names: of those that hold
// the figure said to be wrong, if one is. named reports that it names something.
func (v *Vocabulary) ofRecord(r *reading, records []Done) (d Done, ok, named bool) {
	subject := r.subject()
	if r.tellsDoing(subject) {
		return Done{}, false, true
	}
	loose := len(subject.naming()) == 0
	if figures := r.all(spanQuantity); loose && subject.hi == subject.lo && len(figures) > 0 && r.starts("no", "nope", "sorry", "actually", "correction") {
		subject = r.part(r.lo, figures[0].from) // «no, seats 4 hours»
	}
	if len(subject.naming()) == 0 {
		return Done{}, false, false
	}
	old, contrasted := r.contrasted()
	records = slices.DeleteFunc(slices.Clone(records), func(d Done) bool {
		return contrasted && old.kind == spanQuantity && !v.holds(d.Intent, old, r.lengthSaid()) || d.Intent.Kind == "RecordCoat" && r.tooManyCoats()
	})
	d, ok = v.named(subject, records)
	return d, ok, ok || !loose
}

// tellsDoing reports that the subject is said to be doing something, or to be late or
// old: «idris was asking for the heron».
func (r *reading) tellsDoing(subject *reading) bool {
	last := r.word(r.hi - 1)
	return last == "late" || last == "early" || last == "old" || subject.hi > subject.lo && strings.HasSuffix(r.word(subject.hi+1), "ing") && r.spanOver(subject.hi+1) == ""
}

// tooManyCoats reports a lone figure that can be no number of coats.
func (r *reading) tooManyCoats() bool {
	b := r.bare()
	_, volume := r.quantity("l", "ml", "mil")
	return volume || len(b) == 1 && b[0].value > 15
}

// measuresAnew reports that a gap or a find on record is named and measured again:
// «the ns one was 4 5 6».
func (v *Vocabulary) measuresAnew(r *reading, records []Done) bool {
	_, sized := r.first(spanSize)
	if !r.has("was", "were", "should be") || r.has("before", "originally", "at first", "once", "yesterday", "last time", "last week") || r.hi-r.lo > 9 || r.asking() || !sized && len(r.gapValues()) < 2 {
		return false
	}
	d, ok, _ := v.ofRecord(r, records)
	return ok && (d.Intent.Kind == "RecordGap" && !sized || d.Intent.Kind == "RecordFind" && sized && d.Intent.has("height_mm"))
}

// holds reports that a record holds a figure, as said or as kept.
func (v *Vocabulary) holds(in Intent, old span, length string) bool {
	return in.says(old.value) || v.saysAmount(in, old) || in.says(tidy(millimetres(old.value, length)))
}
