package shop

import (
	"bayword/internal/calc/fastener"
)

// skilled are words of tasks that an apprentice does not do alone, beside those that
// name what carries load or keeps people safe on the road. Common practice, no source.
var skilled = []string{"weld", "let in", "fuel tank", "fuel pipe", "fuel line", "petrol tank", "lift the engine", "engine out", "engine in"}

// DoneCaution is what to check once work of these words is done, where it keeps people
// safe on the road or is metal work on what carries load; else empty. Common practice,
// no source.
func DoneCaution(text string, stage Stage) string {
	if c := MendedCaution(text); c != "" {
		return c
	}
	if stage == Metal && structural(plainWords(text)) {
		return "It carries load: have it looked at by a licensed inspector before it is painted or closed up."
	}
	return ""
}

// structural tells whether words name what carries load.
func structural(words []string) bool {
	for p, is := range panels {
		if is.structural && at(words, p) >= 0 {
			return true
		}
	}
	return false
}

// alone tells whether an apprentice may do a task of this title alone.
func alone(title string) bool {
	words := plainWords(title)
	return !structural(words) && !says(words, skilled) && len(hurts(title)) == 0 && !fastener.Critical(title)
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
