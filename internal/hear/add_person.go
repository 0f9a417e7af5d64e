package hear

import (
	"slices"
	"unicode"
	"unicode/utf8"
)

// addPerson hears that somebody joins the shop, or changes their role.
var addPerson = kind{
	name:     "AddPerson",
	write:    true,
	examples: []string{"new starter: Ffion, apprentice, trim"},
	needs:    []string{"name", "role"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.denied() {
			return 0
		}
		if r.starts("new starter", "new person", "add person", "add a person", "new lad", "new apprentice", "new hand", "new tradesperson") && (r.role() != "" || c.Addressed || r.hi-r.lo > 2) {
			return 1.3
		}
		if r.starts("add") && r.role() != "" && r.has("as a", "as an", "as the") {
			return 1.3
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		if role := r.role(); role != "" {
			in.set("role", role)
		}
		if trade := r.trade(); trade != "" {
			in.set("trade", trade)
		}
		if in.has("name") && !slices.Contains(in.Missing, "name") {
			return
		}
		for i := r.lo; i < r.hi; i++ {
			switch r.word(i) {
			case "new", "starter", "person", "add", "a", "an", "as", "lad", "hand", "called", "is", "name", "apprentice", "lead", "tradesperson", "the":
				continue
			}
			if stageWords[r.word(i)] != "" || r.role() == r.word(i) {
				continue
			}
			name := r.textFrom(i, i+1)
			in.set("name", capital(name))
			return
		}
	},
}

func (r *reading) role() string {
	for _, role := range []string{"apprentice", "tradesperson", "lead"} {
		if r.has(role) {
			return role
		}
	}
	return ""
}

func (r *reading) trade() string {
	for _, trade := range []string{"metal", "paint", "mechanical", "trim"} {
		if r.has(trade) {
			return trade
		}
	}
	return r.stage()
}

// capital begins a name with a capital letter.
func capital(name string) string {
	first, size := utf8.DecodeRuneInString(name)
	return string(unicode.ToUpper(first)) + name[size:]
}
