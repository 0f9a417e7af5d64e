package shop

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// fillers say nothing about which thing is meant.
var fillers = map[string]bool{"task": true, "job": true, "part": true, "number": true, "one": true, "now": true, "just": true, "my": true, "our": true, "all": true}

// spelled are ways of writing that hide a word.
var spelled = strings.NewReplacer("n/s", "left", "o/s", "right", "'s ", " ", "’s ", " ")

// wordsOf gives the words of a text that name something, in their plainest form,
// and the side they say; none when they say both.
func wordsOf(text string) (words []string, side Side) {
	both := false
	for _, w := range plainWords(spelled.Replace(strings.ToLower(text) + " ")) {
		switch on, ok := ParseSide(w); {
		case fillers[w]:
		case ok && on != Centre:
			both = both || side != 0 && side != on
			side = on
		default:
			words = append(words, w)
		}
	}
	if both {
		return words, 0
	}
	return words, side
}

// several are words for how a part comes, not for what it is.
var several = map[string]bool{"set": true, "kit": true, "pair": true, "assembly": true}

// partWords gives the words of a part's name: «door seals» and «door seal set» are
// one.
func partWords(name string) (words []string, side Side) {
	all, side := wordsOf(name)
	if words = slices.DeleteFunc(slices.Clone(all), func(w string) bool { return several[w] }); len(words) == 0 {
		words = all
	}
	return words, side
}

// namesPart tells whether words name a part: they are all in its name, or they say
// it with something before it, as «new propshaft» does and «propshaft bearing»
// does not.
func namesPart(said, name []string) bool {
	return within(said, name) || within(name, said) && name[len(name)-1] == said[len(said)-1]
}

// hasWords tells whether a text names anything.
func hasWords(text string) bool {
	words, side := wordsOf(text)
	return len(words) > 0 || side != 0
}

// numberSaid reads a text that is nothing but a number: «3», «#3», «task 3».
func numberSaid(text string) (int, bool) {
	words, side := wordsOf(text)
	if len(words) != 1 || side != 0 {
		return 0, false
	}
	n, err := strconv.Atoi(words[0])
	return n, err == nil
}

// common counts the different words of a that b has.
func common(a, b []string) int {
	n := 0
	for i, w := range a {
		if !slices.Contains(a[:i], w) && slices.Contains(b, w) {
			n++
		}
	}
	return n
}

// within tells whether b has every word of a, and a has any.
func within(a, b []string) bool {
	return len(a) > 0 && !slices.ContainsFunc(a, func(w string) bool { return !slices.Contains(b, w) })
}

// sameWords tells whether two texts say the same, but for endings and small words.
func sameWords(a, b string) bool {
	x, xs := wordsOf(a)
	y, ys := wordsOf(b)
	return strings.EqualFold(a, b) || xs == ys && same(x, y)
}

// same tells whether two lists have the same words, and any.
func same(a, b []string) bool { return within(a, b) && within(b, a) }

// prefer keeps those that are better, if any is.
func prefer[T any](all []T, better func(T) bool) []T {
	if some := slices.DeleteFunc(slices.Clone(all), func(v T) bool { return !better(v) }); len(some) > 0 {
		return some
	}
	return all
}

// upper begins a sentence.
func upper(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
