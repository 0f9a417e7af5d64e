package hear

import (
	"reflect"
	"slices"
	"strings"
)

// correct reads a message as a correction of a record: «no, 150», «make it
// four», «that was on the tern, not the pilot», «wax was 4 not 5».
func (v *Vocabulary) correct(r *reading, c Context) (Intent, bool) {
	if len(c.Records) == 0 || r.asking() {
		return Intent{}, false
	}
	if r.notThat() && r.undoObject(r.takenBackAt()).namesRecordKind() {
		in := Intent{Kind: "Undo", Fields: Fields{}, Score: 1}
		undo.fill(r, c, &in) // the note in it is none to take down
		return v.finish(in, c)[0], true
	}
	if r.has("undo", "undo that", "undo it", "scrap that", "scrub it", "scrub that", "take that back", "delete that", "cancel that", "scratch that") {
		return Intent{}, false
	}
	if d, ok := r.notClosed(c.Records); ok {
		return Intent{Kind: "Undo", Fields: Fields{}, Entry: d.Entry, Score: 1}, true
	}
	r = r.beforeAside()
	if _, noted := r.noteText(); noted || !r.correcting() && !r.completing(c.Records[0].Intent) && !r.readsAnew(c.Records) && !v.measuresAnew(r, c.Records) {
		return Intent{}, false
	}
	if (r.takesBack() || r.starts("no wait", "wait no", "no hang on", "hang on no", "wait", "no") && r.has("still to do", "to do still", "to finish still", "still to finish", "still got", "isnt done", "not done", "not finished", "isnt finished") && len(r.bare()) == 0) && takenBack[c.Records[0].Intent.Kind] {
		return Intent{Kind: "Undo", Fields: Fields{}, Entry: c.Records[0].Entry, Score: 1}, true
	}
	whole := r
	if r.starts("wasnt", "it wasnt", "that wasnt", "werent", "they werent", "did i say") {
		r = r.behind("it was", "they were") // «wasnt one coat it was two»
	}
	target, ok := v.meant(r, c)
	if d, named := whole.kindNamed(c.Records); named {
		target, ok = d, true
	}
	if d, found, named := v.ofRecord(r, c.Records); named {
		target, ok = d, found
	}
	if !ok || c.Unheard && r.bareCorrection() && !r.sizeOf(target) {
		return Intent{}, false // it may be about what nobody took up
	}
	if in, ok := r.whichMeasure(target); ok {
		return in, true
	}
	changes, ok := v.changes(r, c, target)
	if first := r.firstWords(); (!ok || len(changes) == 0) && first.hi < r.hi {
		// «no, 47, missed a few under the bench»: the correction is said first.
		changes, ok = v.changes(first, c, target)
	}
	if head := r.beforeReason(); (!ok || len(changes) == 0) && head.hi < r.hi {
		changes, ok = v.changes(head, c, target) // «call it 4 hours by the time its filed»
	}
	if head := r.firstClause(); (!ok || len(changes) == 0) && head.hi < r.hi && (r.word(r.lo) == "no" || r.word(r.lo) == "sorry" || r.starts("make", "change")) {
		changes, ok = v.changes(head, c, target) // «no 10 hours, they're pitted»
	}
	if !ok || len(changes) == 0 {
		return Intent{}, false
	}
	return Intent{Kind: "Amend", Fields: changes, Entry: target.Entry, Score: 1}, true
}

// takenBack are the kinds that «no it hasn't» takes back.
var takenBack = wordSet("RecordArrival StartTask FinishTask FitPart ReturnPart CloseSnag CloseFind DecideExtra")

// bareCorrection reports a correction that names nothing it is about: «sorry, 34».
func (r *reading) bareCorrection() bool {
	for _, s := range r.spans {
		if s.kind != spanQuantity && s.kind != spanSize && !s.landmark {
			return false
		}
	}
	_, contrasted := r.contrasted()
	return !contrasted && len(r.things("part", "")) == 0
}

// sizeOf reports a size of which one measure is the record's: «sorry, 150 by 60» of the
// find of 150 by 90.
func (r *reading) sizeOf(d Done) bool {
	s, ok := r.first(spanSize)
	return ok && (d.Intent.says(s.value) || d.Intent.says(s.second))
}

// firstWords returns the reading up to its second mark.
func (r *reading) firstWords() *reading {
	marks := 0
	for i := r.lo; i < r.hi; i++ {
		if r.toks[i].stop || r.toks[i].end {
			if marks++; marks == 2 {
				return r.part(r.lo, i+1)
			}
		}
	}
	return r
}

// firstClause returns the reading up to its first mark behind a figure.
func (r *reading) firstClause() *reading {
	for i := r.lo + 1; i < r.hi; i++ {
		if (r.toks[i].stop || r.toks[i].end) && len(r.part(r.lo, i+1).all(spanQuantity)) > 0 {
			return r.part(r.lo, i+1)
		}
	}
	return r
}

// recordWords are the words by which a correction names the kind of its record.
var recordWords = []struct{ words, kind string }{
	{"coat coats temperature temp degrees", "RecordCoat"}, {"reminder", "Remind"}, {"task", "AddTask"}, {"readings reading gap gaps", "RecordGap"}, {"my hours", "LogHours"}, {"those hours", "LogHours"}, {"the hours", "LogHours"},
}

// kindNamed returns the newest record of the kind that the reading names.
func (r *reading) kindNamed(records []Done) (Done, bool) {
	for _, k := range recordWords {
		said := r.hasAny(k.words)
		if k.kind == "LogHours" {
			said = r.has(k.words)
		}
		for _, d := range records {
			if said && d.Intent.Kind == k.kind {
				return d, true
			}
		}
	}
	return Done{}, false
}

// behind returns the reading behind one of the phrases, or as it is.
func (r *reading) behind(phrases ...string) *reading {
	for i := r.lo; i < r.hi; i++ {
		for _, p := range phrases {
			if end, ok := r.phraseEnds(i, p); ok && end < r.hi {
				return r.part(end, r.hi)
			}
		}
	}
	return r
}

// beforeAside takes off what only rounds a correction off: «by the way».
func (r *reading) beforeAside() *reading {
	for _, p := range []string{"by the way", "btw", "in the end", "as it happens", "instead", "after all", "read the rule wrong", "read it wrong", "misread it", "measured it wrong", "put it in wrong"} {
		n := strings.Count(p, " ") + 1
		if r.hi-n > r.lo {
			if _, ok := r.phraseEnds(r.hi-n, p); ok {
				return r.part(r.lo, r.hi-n)
			}
		}
	}
	return r
}

// readsAnew reports that a figure said to be another than one on record is of that
// record: «roof dent's 80 not 60», «that sill hole is 95 by 35».
func (r *reading) readsAnew(records []Done) bool {
	if old, ok := r.contrasted(); ok && old.kind == spanQuantity && r.hi-r.lo <= 10 {
		return slices.ContainsFunc(records, func(d Done) bool { return d.Intent.says(old.value) || r.v.saysAmount(d.Intent, old) })
	}
	if old, ok := r.contrasted(); ok && r.hi-r.lo <= 6 && len(r.rest("not", "it", "its", "was", "the")) == 0 {
		d := records[0].Intent
		switch old.kind {
		case spanDay:
			return d.text("due") == old.ids[1] || d.text("due") == old.ids[0] || d.text("day") == old.ids[0]
		case spanPanel:
			panels, _ := d.Fields["panels"].([]string)
			return d.text("panel") == old.id || slices.Contains(panels, old.id)
		}
	}
	p, panel := r.first(spanPanel)
	_, size := r.first(spanSize)
	return r.word(r.lo) == "that" && panel && size && r.hi-r.lo <= 9 && slices.ContainsFunc(records, func(d Done) bool {
		return d.Intent.Kind == "RecordFind" && strings.HasSuffix(d.Intent.text("panel"), p.id)
	})
}

// beforeReason returns the reading up to where it begins to say why, behind a figure.
func (r *reading) beforeReason() *reading {
	for i := r.lo + 1; i < r.hi; i++ {
		switch r.word(i) {
		case "by", "because", "cos", "as", "since", "once", "with", "when", "if", "sorry", "being", "to", "this":
			if head := r.part(r.lo, i); len(head.all(spanQuantity)) > 0 {
				return head
			}
		}
	}
	return r
}

// correcting reports that a message sounds like a correction.
func (r *reading) correcting() bool {
	if r.lo >= r.hi || r.has("half that", "twice that", "double that", "more to come", "more to go") || r.starts("other side") && len(r.gapValues()) > 1 {
		return false
	}
	first := r.word(r.lo)
	if first == "no" || first == "nope" || first == "nah" {
		_, _, number := r.numberAt(r.lo + 1)
		next := r.word(r.lo + 1)
		return r.toks[r.lo].stop || r.toks[r.lo].end || number || next == "its" || next == "it" || next == "that" || next == "make" || next == "sorry" || next == "wait" || next == "i" || next == "hang" || next == "the" || next == "was" || next == "call" || next == "due" || next == "say" || next == "only" || r.person(r.lo+1) != ""
	}
	if r.starts("make my", "make those", "make that", "make the", "make them", "make it", "change my", "change those", "change the", "change that", "change it") && len(r.all(spanQuantity))+len(r.all(spanSize)) > 0 && r.hi-r.lo <= 15 {
		return true
	}
	if r.starts("only") && r.hi-r.lo <= 4 && len(r.all(spanQuantity)) == 1 {
		return true // «only 1 bottle»
	}
	if r.starts("other side") && r.has("as well", "too", "same", "also", "likewise") {
		return false // one more of them
	}
	if r.starts("sorry", "actually", "make that", "make it", "should be", "should have been", "better say", "better make", "better call", "i misheard", "did i say", "i meant", "meant", "correction", "wrong", "misread", "oops", "whoops", "wait", "my mistake", "my bad", "that was", "that should", "thats wrong", "it was", "it should", "change that", "change it", "not", "scratch that its", "i misread", "misread it", "typo", "ignore that its", "edit", "that was for", "that one was", "those were", "they were", "tell a lie", "i tell a lie", "false alarm", "call it", "and call it", "hang on", "no hang on", "no wait", "rather", "i mean", "last one", "the last one", "top one", "top ones", "bottom one", "bottom ones", "first one", "the first one", "only did", "meant to say", "other side", "thats yesterday", "thats for", "thats on", "measured it", "nearer", "more like", "closer to", "its the") {
		return true
	}
	if _, day := r.first(spanDay); day && r.has("now they say", "they say now", "they now say", "now they reckon") && r.hi-r.lo <= 6 {
		return true
	}
	if r.starts("the batch is", "batch is", "the batch was", "batch was", "batch number is", "the batch number is", "the batch should") && len(r.all(spanBatch)) == 1 && r.hi-r.lo <= 8 {
		return true
	}
	if len(r.spans) > 0 && r.hi-r.lo <= 6 && r.endsWith("that should be", "it should be", "that should have been", "that was meant to be") {
		return true // «offside that should be»
	}
	if len(r.all(spanQuantity)) == 1 && r.hi-r.lo <= 8 && r.endsWith("so change it", "so change that", "change it to that") {
		return true
	}
	last := r.word(r.hi - 1)
	if last == "sorry" || last == "actually" || last == "oops" || last == "rather" || last == "better" && (r.hi-r.lo <= 4 || r.has("would be better") && r.hi-r.lo <= 6) || r.has("i meant", "i mean", "should say", "should read", "should have said", "was meant to be", "wrong side", "wrong way") {
		return true
	}
	if s, ok := r.contrasted(); ok && s.kind == spanQuantity && r.quantityStarts(r.lo) && r.hi-r.lo <= 4 {
		return true // «30 not 35»
	}
	if _, size := r.first(spanSize); size && r.starts("its") && r.has("now") && len(r.all(spanPanel)) == 0 && r.findKind() == "" {
		return true // «its 120 by 40 now»
	}
	if r.has("miscounted", "i miscounted") && r.quantityStarts(r.lo) && r.hi-r.lo <= 4 {
		return true
	}
	if _, ok := r.contrasted(); ok && r.hi-r.lo <= 9 && r.has("theres", "there are", "was", "were", "are", "is", "its", "should", "due", "it", "that", "came to") {
		return true
	}
	if r.hi-r.lo <= 5 && r.has("wants", "needs", "will be", "should be") && len(r.bare())+len(r.all(spanQuantity)) > 0 && len(r.things("task", "")) > 0 && !r.asking() {
		return true // «headlining wants 8»
	}
	if r.has("if im honest", "to be honest", "tbh", "if im fair", "being honest") && r.hi-r.lo <= 7 && len(r.all(spanQuantity)) > 0 {
		return true
	}
	if r.starts("mine was", "mine were", "mine is", "mine should") || r.word(r.lo+1) == "sorry" && len(r.all(spanQuantity)) > 0 || r.word(r.hi-1) == "was" && r.word(r.hi-2) == "it" && len(r.all(spanQuantity)) > 0 {
		return true
	}
	if r.starts("wasnt", "it wasnt", "that wasnt", "werent", "they werent") && r.has("it was", "they were") {
		return true
	}
	if r.has("more like") && len(r.all(spanQuantity)) > 0 && r.hi-r.lo <= 12 && !r.has("was more like", "looks more like") {
		return true
	}
	if r.starts("parts is", "parts are", "parts was", "parts were", "materials are", "materials is") && r.hi-r.lo <= 5 && len(r.prices())+len(r.bare()) > 0 {
		return true
	}
	if r.has("was", "were") && r.hi-r.lo <= 8 && len(r.prices()) == 1 && !r.has("find", "hole") && len(r.things("part", "")) > 0 {
		return true // «the alternator bracket was 84 quid»
	}
	// «the clear was 2»
	return r.has("was", "were", "should be", "should have been") && (r.hi-r.lo <= 6 || r.hi-r.lo <= 8 && r.has("was just", "was only", "were only")) && (len(r.spans) >= 2 || len(r.spans) == 1 && r.has("hours", "amount", "size", "torque", "gap", "batch", "temperature", "temp", "price", "quantity", "due"))
}

// endsWith reports that the reading ends with one of the phrases.
func (r *reading) endsWith(phrases ...string) bool {
	return slices.ContainsFunc(phrases, func(p string) bool { return strings.HasSuffix(r.text, " "+p+" ") })
}

// meant returns the record that is corrected: the last, or the one of the
// thing that the correction names.
func (v *Vocabulary) meant(r *reading, c Context) (Done, bool) {
	if old, ok := r.contrasted(); ok && old.kind == spanQuantity {
		// «3 not 2» is about the record that says 2, and about no other; of several
		// about the one whose material is named.
		id, choose, _ := r.material(true, nil)
		for _, d := range c.Records {
			if m := d.Intent.text("material"); m != "" && (m == id || slices.Contains(choose, m)) && (d.Intent.says(old.value) || r.v.saysAmount(d.Intent, old)) {
				return d, true
			}
		}
		for _, d := range c.Records {
			if d.Intent.says(old.value) || d.Intent.says(tidy(millimetres(old.value, r.lengthSaid()))) {
				return d, true
			}
		}
		return Done{}, false
	}
	if p, ok := r.first(spanPerson); ok && p.id != "" {
		for _, d := range c.Records {
			if people, _ := d.Intent.Fields["people"].([]string); d.Intent.Kind == "LogHours" && slices.Contains(people, p.id) {
				return d, true // «no, jonahs was 3.5»
			}
		}
	}
	if t := r.things("task", ""); len(t) > 0 && r.has("wants", "needs", "will be") {
		for _, d := range c.Records {
			if d.Intent.Kind == "AddTask" && slices.ContainsFunc(t, func(k thing) bool { return k.number == d.Number }) {
				return d, true
			}
		}
		return Done{}, false
	}
	if t := r.things("part", ""); len(r.prices()) == 1 && len(t) > 0 {
		for _, d := range c.Records {
			if d.Intent.Kind == "RecordOrder" && d.Number > 0 && slices.ContainsFunc(t, func(p thing) bool { return p.number == d.Number }) {
				return d, true
			}
		}
	}
	valued := false
	for _, s := range r.spans {
		if (s.kind == spanQuantity || s.kind == spanSize) && !s.landmark {
			valued = true
		}
	}
	if valued || r.has("batch") {
		if id, choose, _ := r.material(true, nil); id != "" || len(choose) > 0 {
			for _, d := range c.Records {
				if m := d.Intent.text("material"); m != "" && (m == id || slices.Contains(choose, m)) {
					return d, true
				}
			}
		}
		if s, ok := r.weakest(spanFastener); ok {
			for _, d := range c.Records {
				if d.Intent.text("fastener") == s.id {
					return d, true
				}
			}
		}
		if s, ok := r.weakest(spanEdge); ok {
			for _, d := range c.Records {
				if d.Intent.Kind == "RecordGap" && d.Intent.text("edge") == s.id {
					return d, true
				}
			}
		}
		if _, ok := r.quantity("h"); ok || r.has("hours") {
			for _, d := range c.Records {
				if d.Intent.Kind == "LogHours" {
					return d, true
				}
			}
		}
		if s, ok := r.first(spanPanel); ok && s.id != "" {
			for _, d := range c.Records {
				if d.Intent.text("panel") == s.id {
					return d, true
				}
			}
		}
	}
	return c.Records[0], true
}

// contrasted returns what a correction says it is not: the 2 of «3 not 2».
func (r *reading) contrasted() (span, bool) {
	for i := r.lo; i < r.hi; i++ {
		if r.word(i) != "not" || !r.contrast(i) {
			continue
		}
		for _, s := range r.spans {
			if s.from > i && s.from <= i+3 {
				return s, true
			}
		}
	}
	return span{}, false
}

// lengthSaid returns the unit of the first length said: «14 cm not 12».
func (r *reading) lengthSaid() string {
	for _, s := range r.spans {
		if s.kind == spanQuantity && s.unit != "" && lengthUnit(s.unit) {
			return s.unit
		}
	}
	return ""
}

// saysAmount reports whether a record holds the amount in another unit.
func (v *Vocabulary) saysAmount(in Intent, s span) bool {
	got, ok := v.amount(in.text("material"), s.value, s.unit, s.id)
	had, _ := number(in.Fields["amount"])
	return ok && in.has("amount") && tidy(got) == had
}

// says reports whether a record holds the value, as said or as kept.
func (in *Intent) says(value float64) bool {
	if in.Amount == value && in.has("amount") {
		return true
	}
	for f, v := range in.Fields {
		switch x := v.(type) {
		case float64, int:
			if n, _ := number(x); n == value && f != "find" {
				return true
			}
		case []float64:
			if slices.Contains(x, value) {
				return true
			}
		}
	}
	return false
}

// about reports that the things a correction names are of the record's kind.
func (r *reading) about(kind string) bool {
	for _, s := range r.spans {
		if s.landmark || s.weak {
			continue
		}
		stock := stockKinds[kind]
		switch s.kind {
		case spanSize:
			if kind != "RecordFind" && kind != "SetPanelSize" {
				return false
			}
		case spanFind:
			if _, also := r.first(spanMaterial); kind != "RecordFind" && kind != "CloseFind" && !also {
				return false
			}
		case spanPanel, spanSide, spanEdge:
			if stock || kind == "LogHours" || kind == "RecordTorque" {
				return false
			}
		case spanFastener:
			if kind != "RecordTorque" && kind != "SetTorque" {
				return false
			}
		case spanMaterial:
			if !stock && kind != "RecordCoat" && !(kind == "RecordFind" && r.findKind() != "") {
				return false
			}
		case spanQuantity:
			if s.unit == "h" && !timed[kind] {
				return false
			}
		}
	}
	return !(r.has("hours", "hour") && !timed[kind])
}

// timed are the kinds of record that hold hours.
var timed = wordSet("LogHours AddTask ProposeExtra")

func same(a, b any) bool {
	if x, ok := number(a); ok {
		y, ok := number(b)
		return ok && x == y
	}
	return reflect.DeepEqual(a, b)
}

func number(v any) (float64, bool) {
	switch n := v.(type) {
	case int:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}
