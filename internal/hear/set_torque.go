package hear

import "strings"

// setTorque hears a book value to keep.
var setTorque = kind{
	name:     "SetTorque",
	write:    true,
	examples: []string{"book says diff bolts 61 nm page 70"},
	needs:    []string{"job", "fastener", "torque_nm"},
	score: func(r *reading, _ Context) float64 {
		_, named := r.weakest(spanFastener)
		_, valued := r.torqueValue()
		if named && !valued && r.has("set the book", "put a reference in", "add a reference for", "put in a reference", "reference torque", "set the torque for", "change the book", "book torque for") && !r.has("what", "whats") {
			return 1.1
		}
		if !named || !valued {
			return 0
		}
		if r.has("set it", "change it", "book torque") && !r.reportsTorque() && !r.asking() {
			return 1.2
		}
		if r.has("book says", "book figure", "manual figure", "handbook figure", "sheet figure", "manual says", "manual gives", "book gives", "handbook says", "sheet says", "according to the", "torque list", "in the book as", "in the book at", "book value", "figure for the", "put that on the list", "put it on the list") {
			return 1.2
		}
		if r.has("page", "book", "manual", "handbook", "sheet") && !r.reportsTorque() && !r.asking() && !r.has("done", "torqued", "tightened", "checked", "clicked", "set to") {
			return 1.1 // «sump plug 31 nm page 16»
		}
		if r.has("set", "change", "make", "put") && r.has("to", "at") && !r.has("what do i set", "wrench") && !r.reportsTorque() && !r.asking() {
			if r.has("source", "page", "sheet", "from", "book", "manual", "torque", "nm") {
				return 1.15
			}
			return 0.8
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		fillJob(r, in)
		if s, ok := r.weakest(spanFastener); ok {
			in.set("fastener", s.id)
		}
		if s, ok := r.torqueValue(); ok {
			in.Unit = s.unit
			in.set("torque_nm", tidy(newtonMetres(s.value, s.unit)))
		}
		if src := r.sourceText(); src != "" {
			in.set("source", src)
		}
	},
}

// sourceText returns the words that name a source: «page 70», «kit sheet 5»,
// «page 44 of the book», with the book in front of it when one is named.
func (r *reading) sourceText() string {
	book := ""
	switch {
	case r.has("manual"):
		book = "manual"
	case r.has("book", "handbook"):
		book = "book"
	}
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		if len(w) > 1 && w[0] == 'p' && isDigit(w[1]) { // «p44»
			text := "p. " + w[1:]
			if book != "" {
				text = book + " " + text
			}
			return text
		}
		if w != "page" && w != "sheet" && w != "p" && w != "pg" && w != "section" && w != "bulletin" {
			continue
		}
		if _, n, ok := r.numberAt(i + 1); ok {
			from := i
			for from > r.lo && !r.used[from-1] && !r.toks[from-1].stop && !r.toks[from-1].end && !filler[r.word(from-1)] && r.word(from-1) != "source" && r.word(from-1) != "book" && r.word(from-1) != "manual" && i-from < 3 && !isDigit(r.word(from - 1)[0]) {
				from--
			}
			text := r.source[r.toks[from].from:r.toks[n-1].to]
			if book != "" && !strings.Contains(strings.ToLower(text), book) {
				text = book + " " + text
			}
			return text
		}
	}
	if _, valued := r.torqueValue(); !valued {
		return "" // the page may come with the value
	}
	return book
}
