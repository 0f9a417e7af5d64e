package hear

import (
	"maps"
	"slices"
	"strings"

	"bayword/internal/hear/words"
)

// mendByNext mends English words that the word behind shows to be another: «thee and a
// half», «you bolts».
func (r *reading) mendByNext() {
	for i := range len(r.toks) - 1 {
		word, next := &r.toks[i].text, r.toks[i+1].text
		switch {
		case *word == "thee" && numberBehind(next):
			*word = "three"
		case *word == "an" && (next == "a" || len(next) > 2 && strings.ContainsRune("bcdfgjklnpqrstvwxz", rune(next[0]))):
			*word = "and" // «2 an a half», «an front edge»
		case *word == "tow" && next != "bar" && next != "and" && numberBehind(next):
			*word = "two" // «tow coats»
		case *word == "you" && stem(next) == "bolt":
			*word = "u"
		}
	}
}

// numberBehind reports a word that goes on from a number: «thee and a half» is three.
func numberBehind(w string) bool {
	_, unit := unitWords[w]
	return w == "and" || w == "point" || w == "hundred" || unit || containers[stem(w)] || units19[w] > 0 || isDigit(w[0])
}

// joinGrits makes a dictated grit one word: the «p eighties» are the p80s.
func (r *reading) joinGrits() {
	r.hi = len(r.toks)
	for i := 0; i+1 < r.hi; i++ {
		if r.word(i) != "p" {
			continue
		}
		if ten, ok := strings.CutSuffix(r.word(i+1), "ies"); ok {
			r.toks[i+1].text = ten + "y"
		}
		grit, next, ok := r.numberAt(i + 1)
		if !ok || len(r.v.phrases["p"+trimNumber(grit)]) == 0 {
			continue
		}
		r.toks[i].text, r.toks[i].to = "p"+trimNumber(grit), r.toks[next-1].to
		r.toks[i].stop, r.toks[i].end = r.toks[next-1].stop, r.toks[next-1].end
		r.toks = slices.Delete(r.toks, i+1, next)
		r.hi = len(r.toks)
	}
}

// workWords are the words of a trade's work, as it stands behind hours.
var workWords = slices.Sorted(maps.Keys(stageWords))

// mendNames mends a word that alone is like several, by the word beside it: the «weel»
// of «weel nut» is a wheel's, the «seel» of «door seel» a seal.
func (r *reading) mendNames() {
	for i := range r.toks {
		w := strings.ToLower(r.source[r.toks[i].from:r.toks[i].to]) // as typed: alone it may be mended to another
		if len(w) < 4 || strings.Trim(w, "abcdefghijklmnopqrstuvwxyz") != "" || r.v.mender.Known(w) || r.v.mender.English(w) {
			continue
		}
		var near []string
		if i+1 < len(r.toks) && !r.toks[i].stop && !r.toks[i].end {
			near = r.v.before[r.stems[i+1]]
		}
		if i > 0 && !r.toks[i-1].stop && !r.toks[i-1].end {
			near = slices.Concat(near, r.v.behind[r.stems[i-1]])
		}
		if i > 0 && (r.stems[i-1] == "hour" || r.toks[i-1].text == "h") {
			near = slices.Concat(near, workWords)
		}
		if meant, ok := words.Nearest(w, near); ok {
			r.toks[i].text, r.stems[i] = meant, stem(meant)
		}
	}
}
