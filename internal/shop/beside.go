package shop

import (
	"bayword/internal/calc/fastener"
)

// skilled are words of tasks that an apprentice does not do alone, beside those that
// name what carries load or keeps people safe on the road. Common practice, no source.
var skilled = []string{"weld", "let in", "fuel tank", "fuel pipe", "fuel line", "petrol tank", "lift the engine", "engine out", "engine in"}

// alone tells whether an apprentice may do a task of this title alone.
func alone(title string) bool {
	words := plainWords(title)
	for p, is := range panels {
		if is.structural && at(words, p) >= 0 {
			return false
		}
	}
	return !says(words, skilled) && len(hurts(title)) == 0 && !fastener.Critical(title)
}

// Beside gives who is to be beside a person at a task: for an apprentice at what
// carries load, is welded or keeps people safe on the road, the tradespeople of its
// trade, and the lead where there are none. Needed is false where nobody has to be.
func (s *State) Beside(person string, t TaskAdded) (with []string, needed bool) {
	if s.Role(person) != Apprentice || alone(t.Title) {
		return nil, false
	}
	var leads []string
	for _, p := range s.people[1:] {
		trade, ok := ParseStage(p.Trade)
		switch {
		case p.Role == Tradesperson && ok && trade == t.Stage:
			with = append(with, p.ID)
		case p.Role == Lead:
			leads = append(leads, p.ID)
		}
	}
	if len(with) == 0 {
		with = leads
	}
	return with, true
}
