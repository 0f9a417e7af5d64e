package hear

import (
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// thing is a task, part, snag or extra on record, with the words of its name.
type thing struct {
	noun   string
	number int
	job    string
	side   string
	words  []string
}

func (v *Vocabulary) addThings() {
	for _, t := range v.names.GetThings() {
		name := thing{noun: t.GetNoun(), number: int(t.GetNumber()), job: t.GetJob(), words: v.rootsOf(t.GetName())}
		switch t.GetSide() {
		case pb.Side_SIDE_LEFT:
			name.side = "left"
		case pb.Side_SIDE_RIGHT:
			name.side = "right"
		}
		v.things = append(v.things, name)
		v.neighbours(name.words)
	}
}

// quiet are words that name nothing by themselves.
var quiet = wordSet("the a an to of on in and for with it that this is at up set new old from by job task part snag extra done now ns os left right")

func (v *Vocabulary) rootsOf(name string) []string {
	var out []string
	for _, t := range tokens(clean(name), func(w string) string { return w }) {
		if !quiet[t.text] {
			out = append(out, root(t.text))
		}
	}
	return out
}

// root takes off what makes «blocking», «blocked» and «blocks» other words than
// «block».
func root(w string) string {
	w = stem(w)
	for _, end := range []string{"ing", "ed"} {
		if cut, ok := strings.CutSuffix(w, end); ok && len(cut) >= 3 {
			w = cut
			break
		}
	}
	n := len(w)
	if n > 3 && w[n-1] == w[n-2] && w[n-1] != 's' && w[n-1] != 'l' || n > 3 && w[n-1] == 'e' {
		w = w[:n-1]
	}
	return w
}

// things returns the things of a noun that the reading's words name, best first:
// those that share the most words. job narrows them, if it is given.
func (r *reading) things(noun, job string) []thing {
	has := map[string]bool{}
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i); !quiet[w] {
			has[root(w)] = true
		}
	}
	best, most := []thing(nil), 0
	for _, t := range r.v.things {
		if t.noun != noun || job != "" && t.job != job {
			continue
		}
		n := 0
		for _, w := range t.words {
			if has[w] || len(w) >= 7 && (has[w[:4]] && noun == "part" || has[w[len(w)-5:]]) {
				n++ // «prop» and «shaft» are the propshaft
			}
		}
		switch {
		case n > most:
			best, most = []thing{t}, n
		case n == most && n > 0:
			best = append(best, t)
		}
	}
	return best
}

// named reports whether a thing of a noun on the job, or on any when none is
// known, is named.
func (r *reading) named(noun string, c Context) bool {
	job := r.onlyJob()
	if job == "" {
		job = c.fallbackJob()
	}
	return len(r.things(noun, job)) > 0
}

// number returns the number said with a noun: «task 3», «extra 2».
func (r *reading) numberOf(noun string) (int, bool) {
	for _, s := range r.all(spanNumbered) {
		if s.id == noun {
			return int(s.value), true
		}
	}
	return 0, false
}

// jobOf is the job of the thing with that number, or "".
func (v *Vocabulary) jobOf(noun string, number int) string {
	for _, t := range v.things {
		if t.noun == noun && t.number == number {
			return t.job
		}
	}
	return ""
}

// numbersOf returns all numbers said with a noun: «finds 1 and 2».
func (r *reading) numbersOf(noun string) []float64 {
	var out []float64
	for _, s := range r.all(spanNumbered) {
		if s.id == noun && !slices.Contains(out, s.value) {
			out = append(out, s.value)
		}
	}
	return out
}

// textFrom returns the message's own text of tokens [from, to), without the marks
// around it.
func (r *reading) textFrom(from, to int) string {
	if from >= to {
		return ""
	}
	end := r.toks[to-1].to
	return strings.Trim(r.source[r.toks[from].from:end], " \t\n,;:.-")
}

// clauseStart reports that a clause may begin at token i.
func (r *reading) clauseStart(i int) bool {
	if i <= r.lo || r.toks[i-1].stop || r.toks[i-1].end {
		return true
	}
	if s, ok := r.spanOf(r.lo, spanJob); ok && s.from == r.lo && s.to == i {
		return true // «heron snag: …»
	}
	if w := r.word(i - 2); r.word(i-1) == "to" && (w == "want" || w == "need" || w == "like" || w == "id") {
		return true
	}
	switch r.word(i - 1) {
	case "and", "also", "plus", "then", "please", "right", "ok", "so", "can", "could", "you", "just", "hi", "hey", "new":
		return true
	}
	return false
}

// phraseEnds returns where a phrase that begins at token i ends, or false.
func (r *reading) phraseEnds(i int, phrase string) (int, bool) {
	for w := range strings.FieldsSeq(phrase) {
		if r.word(i) != w {
			return 0, false
		}
		i++
	}
	return i, true
}
