package shop

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// thing is what further records are about: a task, a part, a snag or an extra by
// its number in the shop, or a line of a job's brief.
type thing struct {
	kind   recKind
	number int
	job    uint16 // of a line of a brief, which is numbered on its job
}

// numberOf gives the number that an event gives out, 0 for none.
func numberOf(e Event) int {
	switch e := e.(type) {
	case FindRecorded:
		return e.Number
	case TaskAdded:
		return e.Number
	case PartOrdered:
		return e.Number
	case SnagAdded:
		return e.Number
	case ExtraProposed:
		return e.Number
	}
	return 0
}

// thingOf gives the thing that a record makes or is about.
func thingOf(r rec, e Event) (t thing, makes, ok bool) {
	switch e := e.(type) {
	case TaskAdded, PartOrdered, SnagAdded, ExtraProposed:
		return thing{kind: r.kind, number: numberOf(e)}, true, true
	case BriefAdded:
		return thing{recBrief, e.Number, r.job}, true, true
	case BriefMet:
		return thing{recBrief, e.Number, r.job}, false, true
	case TaskStarted:
		return thing{kind: recTask, number: e.Number}, false, true
	case TaskFinished:
		return thing{kind: recTask, number: e.Number}, false, true
	case PartArrived:
		return thing{kind: recPart, number: e.Number}, false, true
	case PartFitted:
		return thing{kind: recPart, number: e.Number}, false, true
	case PartReturned:
		return thing{kind: recPart, number: e.Number}, false, true
	case PartDueChanged:
		return thing{kind: recPart, number: e.Number}, false, true
	case SnagClosed:
		return thing{kind: recSnag, number: e.Number}, false, true
	case ExtraDecided:
		return thing{kind: recExtra, number: e.Number}, false, true
	}
	return thing{}, false, false
}

func (s *State) linkThing(r rec, i uint32) {
	t, makes, ok := thingOf(r, s.details[i])
	switch {
	case !ok:
	case makes:
		s.things[t] = i
		s.names = s.seq
	default:
		s.about[t] = insert(s.about[t], i)
	}
}

func (s *State) unlinkThing(r rec, i uint32) {
	t, makes, ok := thingOf(r, s.details[i])
	switch {
	case !ok:
	case makes:
		delete(s.things, t)
		s.names = s.seq
	default:
		if s.about[t] = remove(s.about[t], i); len(s.about[t]) == 0 {
			delete(s.about, t)
		}
	}
}

// entriesOf gives the ledger entries of a thing and of what is about it, oldest
// first.
func (s *State) entriesOf(t thing) []uint64 {
	var entries []uint64
	if i, ok := s.things[t]; ok {
		entries = append(entries, uint64(s.recs[i].seq))
	}
	for _, i := range s.about[t] {
		entries = append(entries, uint64(s.recs[i].seq))
	}
	slices.Sort(entries)
	return entries
}

// Thing is what a task, a part, a snag or an extra is called.
type Thing struct {
	Noun      string // task, part, snag, extra
	Number    int
	Job, Name string
	Side      Side
}

// Things lists what goes by a number, in the order it came on record.
func (s *State) Things() []Thing {
	var at []uint32
	for t, i := range s.things {
		if t.kind != recBrief {
			at = insert(at, i)
		}
	}
	all := make([]Thing, 0, len(at))
	for _, i := range at {
		switch e := s.details[i].(type) {
		case TaskAdded:
			all = append(all, Thing{"task", e.Number, e.Job, e.Title, 0})
		case PartOrdered:
			all = append(all, Thing{"part", e.Number, e.Job, e.Part, e.Side})
		case SnagAdded:
			all = append(all, Thing{"snag", e.Number, e.Job, e.Text, 0})
		case ExtraProposed:
			all = append(all, Thing{"extra", e.Number, e.Job, e.Text, 0})
		}
	}
	return all
}

// Photos gives the photographs that came with a record's message.
func (s *State) Photos(entry uint64) []Photo {
	i, ok := s.find(entry)
	if !ok {
		return nil
	}
	return s.photos[i]
}

// Sent tells whether a notice was sent.
func (s *State) Sent(notice string) bool {
	_, ok := s.sent[notice]
	return ok
}

// candidate is a numbered thing that words may mean.
type candidate struct {
	number int
	side   Side
	words  string // what it is called
	label  string // how it is offered
}

// meant gives the one candidate that words mean: every word that says something
// must be in its name, or, failing that, the one that shares the most of them. A
// number means itself. field is for the refusal.
func meant(field, words string, all []candidate) (int, error) {
	if n, err := strconv.Atoi(strings.TrimPrefix(strings.TrimSpace(words), "#")); err == nil {
		for _, c := range all {
			if c.number == n {
				return n, nil
			}
		}
		return 0, refuse(NotFound, "field", field, "value", words)
	}
	best, most := []candidate(nil), 0
	for _, c := range all {
		n := shared(words, c.words)
		switch {
		case n > most:
			best, most = []candidate{c}, n
		case n == most && n > 0:
			best = append(best, c)
		}
	}
	switch len(best) {
	case 0:
		return 0, refuse(NotFound, "field", field, "value", words)
	case 1:
		return best[0].number, nil
	}
	return 0, ambiguous(field, best)
}

// ambiguous offers candidates, left before right, then by number.
func ambiguous(field string, all []candidate) error {
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Or(cmp.Compare(a.side, b.side), cmp.Compare(a.number, b.number)) })
	r := refuse(Ambiguous, "field", field)
	var options []string
	for _, c := range all {
		n := strconv.Itoa(c.number)
		options = append(options, n)
		r.Metadata["option."+n] = c.label
	}
	r.Metadata["options"] = strings.Join(options, ",")
	return r
}

// shared counts the words that two texts share, in their plainest form.
func shared(a, b string) int {
	has := map[string]bool{}
	for _, w := range plainWords(b) {
		has[w] = true
	}
	n := 0
	for _, w := range slices.Compact(slices.Sorted(slices.Values(plainWords(a)))) {
		if has[w] {
			n++
		}
	}
	return n
}

var silentWords = map[string]bool{
	"the": true, "a": true, "an": true, "to": true, "of": true, "on": true, "in": true, "and": true, "for": true, "with": true, "it": true,
	"that": true, "this": true, "is": true, "at": true, "up": true,
}

// plainWords are the words that say something, without their endings: «blocking»
// and «block» are one word, and so are «nearside» and «left».
func plainWords(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}) {
		if silentWords[w] {
			continue
		}
		switch w {
		case "nearside", "ns":
			w = "left"
		case "offside", "os":
			w = "right"
		}
		for next := ending(w); next != w; next = ending(w) {
			w = next
		}
		out = append(out, w)
	}
	return out
}

// ending takes one ending off a word, so that «bearings», «bearing» and «bear» come
// to one, and so do «wire», «wires» and «wiring».
func ending(w string) string {
	for _, end := range []string{"es", "s", "ing", "ed"} {
		if cut, ok := strings.CutSuffix(w, end); ok && len(cut) >= 3 {
			return cut
		}
	}
	if n := len(w); n > 3 && (w[n-1] == w[n-2] || w[n-1] == 'e') {
		return w[:n-1] // «stripp» of stripping, «replac» of replacing
	}
	return w
}
