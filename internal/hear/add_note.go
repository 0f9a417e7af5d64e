package hear

import "strings"

// addNote hears a note.
var addNote = kind{
	name:     "AddNote",
	write:    true,
	examples: []string{"note: sealer under the scuttle is original, keep it"},
	needs:    []string{"job", "text"},
	score: func(r *reading, _ Context) float64 {
		if _, ok := r.noteText(); ok {
			return 1.4
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		i, ok := r.noteText()
		if !ok {
			fillJob(r, in)
			if text := r.after(r.lo); !in.has("text") && text != "" {
				in.set("text", text)
			}
			return
		}
		head := r.part(r.lo, i)
		fillJob(head, in)
		body := r.part(i, r.hi)
		if text := strings.TrimLeft(r.after(i), ":,- "); text != "" {
			in.set("text", text)
		}
		place := Intent{Kind: "AddNote", Fields: Fields{}}
		fillPlace(body, &place)
		if !place.has("panel") {
			fillPlace(head, &place) // «stick a note on the roof: …»
		}
		if p := place.text("panel"); p != "" {
			in.set("panel", p)
			if s := place.text("side"); s == "left" || s == "right" || s == "centre" {
				in.set("side", s)
			}
		}
	},
}

// jotted reads «jot down for the tern that …» at token i and returns where its text
// begins.
func (r *reading) jotted(i int) (int, bool) {
	if w := r.word(i); i != r.lo || w != "jot" && w != "scribble" {
		return 0, false
	}
	j, down := i+1, false
	for ; j < r.hi && j < i+8; j++ {
		switch w := r.word(j); {
		case w == "down":
			down = true
			continue
		case w == "that" && j > i+1:
			return j + 1, down && j+1 < r.hi
		case w == "it" || w == "this" || w == "that" || w == "for" || w == "on" || w == "the" || r.spanAt(j, spanJob):
			if j > i+1 && r.toks[j].stop {
				return j + 1, down && j+1 < r.hi
			}
			continue
		}
		break
	}
	return j, down && j < r.hi
}

// noteText returns the token where a note's text begins.
func (r *reading) noteText() (int, bool) {
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		if j, ok := r.jotted(i); ok {
			return j, true
		}
		if w != "note" && w != "notes" {
			continue
		}
		b := r.word(i - 1)
		if r.word(i+1) == "to" && r.word(i+2) == "self" {
			return 0, false
		}
		if r.word(i+1) == "for" && r.person(i+2) != "" && i == r.lo {
			return i + 1, true // «note for wren: …» keeps whom it is for
		}
		if r.word(i+1) == "it" && r.toks[i+1].stop && i+2 < r.hi {
			return i + 2, true // «note it: …»
		}
		starts := i == r.lo || r.toks[i-1].stop || r.toks[i-1].end
		switch {
		case r.toks[i].stop || r.toks[i].end:
			// «note: …», «make a note, …»
			return i + 1, true
		case starts && (r.word(i+1) == "that"):
			return i + 2, true
		case (starts || b == "a" || b == "add" || b == "and") && (r.word(i+1) == "for" || r.word(i+1) == "on"):
			j := i + 2
			for j < r.hi && j < i+6 {
				if r.word(j) == "the" || r.used[j] {
					j++
					continue
				}
				break
			}
			if r.word(j) == "that" {
				j++
			}
			return j, true
		case b == "a" && (r.word(i-2) == "make" || r.word(i-2) == "add" || r.word(i-2) == "take"):
			j := i + 1
			if r.word(j) == "that" || r.word(j) == "of" {
				j++
			}
			return j, true
		case starts && r.word(i+1) != "" && i == r.lo && w == "note":
			return i + 1, true
		}
	}
	return 0, false
}
