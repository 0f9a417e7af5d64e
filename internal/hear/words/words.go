// Package words mends typing errors: an unknown word becomes the nearest word
// that hear listens for, and a word of ordinary English is never changed. It
// imports nothing of the module.
package words

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed english.txt
var english string

// loadEnglish reads the list once; it is constant.
var loadEnglish = sync.OnceValue(func() map[string]struct{} {
	set := make(map[string]struct{}, 42000)
	for w := range strings.Lines(english) {
		set[strings.TrimSpace(w)] = struct{}{}
	}
	return set
})

// IsEnglish reports whether w is an ordinary English word.
func IsEnglish(w string) bool { _, ok := loadEnglish()[w]; return ok }

// Mender mends words against the words listened for. It is safe for concurrent use.
type Mender struct {
	english map[string]struct{}
	known   map[string]struct{}
	// deletes maps a known word with up to two letters left out to that word;
	// an empty value means that several words share the form.
	deletes map[string]string
}

// NewMender builds a mender for the words listened for, all lower case.
func NewMender(listened []string) *Mender {
	m := &Mender{english: loadEnglish(), known: map[string]struct{}{}, deletes: map[string]string{}}
	for _, w := range listened {
		m.known[w] = struct{}{}
	}
	for w := range m.known {
		if len(w) < 4 {
			continue
		}
		for d := range deletions(w, reach(w)) {
			if old, ok := m.deletes[d]; ok && old != w {
				// Two words share this form: keep the decision for Mend's distance.
				m.deletes[d] = old + " " + w
				continue
			}
			m.deletes[d] = w
		}
	}
	return m
}

// Known reports whether w is listened for.
func (m *Mender) Known(w string) bool { _, ok := m.known[w]; return ok }

// English reports whether w is an ordinary English word.
func (m *Mender) English(w string) bool { _, ok := m.english[w]; return ok }

// Mend returns the word listened for that w was most likely meant to be, two words
// that were run together, or w itself: when it is known, an English word, shorter than three letters, or
// when no single word is nearest.
func (m *Mender) Mend(w string) string {
	if len(w) < 3 || len(w) > 24 || m.Known(w) || m.English(w) {
		return w
	}
	for i := 1; i < len(w); i++ {
		if once := w[:i] + w[i+1:]; w[i] == w[i-1] && len(once) >= 3 && m.Known(once) {
			return once // a letter typed twice
		}
	}
	best, bestDistance, tie := w, 99, false
	consider := func(candidate string) {
		d := distance(w, candidate)
		if d > allowed(w, candidate) && !scrambled(w, candidate) {
			return
		}
		if d *= 2; sameLetters(w, candidate) {
			d -= 3 // no letter is wrong, only its place: likelier than one wrong letter
		}
		switch {
		case candidate == best:
		case d < bestDistance:
			best, bestDistance, tie = candidate, d, false
		case d == bestDistance && strings.TrimSuffix(candidate, "s") == strings.TrimSuffix(best, "s"):
			// One word and its plural are no tie: take the one that ends as w does.
			if strings.HasSuffix(candidate, "s") == strings.HasSuffix(w, "s") {
				best = candidate
			}
		case d == bestDistance && len(candidate) > len(w) && len(best) <= len(w):
			best, tie = candidate, false // a letter is sooner left out than put in
		case d == bestDistance && len(candidate) <= len(w) && len(best) > len(w):
		case d == bestDistance && sameLetters(candidate, best):
			best = min(best, candidate) // «litres», «liters»
		case d == bestDistance:
			tie = true
		}
	}
	for form := range deletions(w, reach(w)) {
		if found, ok := m.deletes[form]; ok {
			for c := range strings.SplitSeq(found, " ") {
				consider(c)
			}
		}
	}
	if tie || best == w {
		return m.parted(w)
	}
	return best
}

// parted takes two words that were run together apart: «weldedup» is «welded up».
func (m *Mender) parted(w string) string {
	for _, tail := range []string{"up", "on", "off", "out", "the", "in", "down"} {
		head, ok := strings.CutSuffix(w, tail)
		if ok && len(head) >= 4 && (m.Known(head) || m.English(head)) {
			return head + " " + tail
		}
	}
	return w
}

// scrambled reports two words of the same letters that begin and end alike.
func scrambled(a, b string) bool {
	return len(a) >= 4 && a[0] == b[0] && a[len(a)-1] == b[len(b)-1] && sameLetters(a, b)
}

func sameLetters(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	var letters [256]int
	for i := range len(a) {
		letters[a[i]]++
		letters[b[i]]--
	}
	return letters == [256]int{}
}

// Nearest returns the one of a few words that w was most likely meant to be; false when
// none is near, or two are as near.
func Nearest(w string, candidates []string) (string, bool) {
	best, at, tie := "", 99, false
	for _, c := range candidates {
		d := distance(w, c)
		switch {
		case len(c) < 4 || d > allowed(w, c) || c == best:
		case d < at:
			best, at, tie = c, d, false
		case d == at:
			tie = true
		}
	}
	return best, best != "" && !tie
}

// reach is how many letters may be left out of a word when forms are made.
func reach(w string) int {
	if len(w) >= 7 {
		return 2
	}
	return 1
}

// allowed is how many slips a word of that length may hold; both must begin
// with the same letter or be a swap of the first two.
func allowed(w, candidate string) int {
	if w[0] != candidate[0] && (len(w) < 2 || w[0] != candidate[1] || w[1] != candidate[0]) {
		if len(candidate) < 6 {
			return 0
		}
		return 1
	}
	if len(candidate) >= 8 {
		return 2
	}
	return 1
}

// deletions returns w and every form of it with up to n letters left out.
func deletions(w string, n int) map[string]struct{} {
	out := map[string]struct{}{w: {}}
	level := []string{w}
	for range n {
		var next []string
		for _, s := range level {
			for i := range len(s) {
				d := s[:i] + s[i+1:]
				if _, ok := out[d]; !ok {
					out[d] = struct{}{}
					next = append(next, d)
				}
			}
		}
		level = next
	}
	return out
}

// distance is the optimal string alignment distance: insertions, deletions,
// substitutions and swaps of neighbours each count one.
func distance(a, b string) int {
	var rows [3][26]int
	if len(a) > 24 || len(b) > 24 {
		return 99
	}
	prev2, prev, cur := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}
