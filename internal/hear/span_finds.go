package hear

import "strings"

// findWords maps words to kinds of find; the earlier kind wins in one message.
var findOrder = []string{"hole", "crack", "old_repair", "pitting", "dent", "filler", "missing", "rust", "paint"}

var findWords = map[string]string{
	"hole": "hole", "pinhole": "hole", "perforated": "hole", "perforation": "hole", "holed": "hole",
	"crack": "crack", "cracked": "crack", "cracking": "crack", "split": "crack", "torn": "crack", "tear": "crack", "fracture": "crack", "fractured": "crack",
	"pitting": "pitting", "pitted": "pitting", "pit": "pitting",
	"dent": "dent", "dented": "dent", "ding": "dent", "crease": "dent", "creased": "dent",
	"filler": "filler", "bog": "filler", "missing": "missing",
	"rust": "rust", "rusty": "rust", "rusted": "rust", "rot": "rust", "rotten": "rust", "rotted": "rust", "rusting": "rust", "corrosion": "rust", "corroded": "rust", "scabby": "rust", "crusty": "rust",
	"sag": "paint", "fisheye": "paint", "microblister": "paint", "blister": "paint", "blistering": "paint", "flaking": "paint", "dint": "dent", "dints": "dent", "lifting": "paint", "bubbling": "rust", "bubble": "rust", "peeling": "paint", "crazing": "paint", "crazed": "paint",
	"plated": "old_repair", "bodge": "old_repair", "bodged": "old_repair",
}

func (r *reading) spanFinds() {
	for i := r.lo; i < r.hi; i++ {
		if made := r.stem(i) == "hole" && madeHoles[r.word(i-1)]; made {
			continue
		}
		if k, ok := findWords[r.stem(i)]; ok && !((r.word(i) == "cracking" || r.word(i) == "crack" && !article[r.word(i-1)]) && r.word(i+1) == "on") {
			r.note(span{kind: spanFind, from: i, to: i + 1, id: k, plural: r.toks[i].text != r.stems[i]})
			continue
		}
		w, n := r.word(i), r.word(i+1)
		switch {
		case (w == "rotted" || w == "rotten" || w == "rusted" || w == "corroded") && (n == "through" || r.word(i+2) == "through"):
			r.note(span{kind: spanFind, from: i, to: i + 2, id: "hole"})
		case w == "pin" && (n == "hole" || n == "holes"):
			r.note(span{kind: spanFind, from: i, to: i + 2, id: "hole"})
		case (w == "old" || w == "previous" || w == "bad" || w == "earlier") && (n == "repair" || n == "patch" || n == "plate" || n == "weld"):
			r.note(span{kind: spanFind, from: i, to: i + 2, id: "old_repair"})
		case (w == "patch" || w == "plate") && (n == "over" || n == "welded"):
			r.note(span{kind: spanFind, from: i, to: i + 2, id: "old_repair"})
		case w == "paint" && (n == "defect" || n == "fault"):
			r.note(span{kind: spanFind, from: i, to: i + 2, id: "paint"})
		case w == "orange" && n == "peel", w == "lacquer" && n == "peel":
			r.note(span{kind: spanFind, from: i, to: i + 2, id: "paint"})
		}
	}
	for k := range r.spans {
		if s := &r.spans[k]; s.kind == spanFind {
			for j := s.from - 1; j >= r.lo && j >= s.from-4 && !r.toks[j].stop && !r.toks[j].end; j-- {
				if landmarkWords[r.word(j)] && (r.word(j+1) == "the" || r.word(j+1) == "a" || r.word(j+1) == "an") {
					s.landmark = true
				}
			}
		}
	}
	if r.has("brazed a patch", "welded a patch", "riveted a patch", "a patch on", "patched over", "patch on top", "patch brazed", "patch riveted", "had a patch") {
		r.note(span{kind: spanFind, from: r.lo, to: r.lo, id: "old_repair"})
	}
	if r.has("rotted clean through", "rotted right through", "rotten right through", "gone right through", "rusted right through", "rusted clean through", "rotted through", "rusted through", "rotten through") {
		r.note(span{kind: spanFind, from: r.lo, to: r.lo, id: "hole"})
	}
}

var article = wordSet("a an the another hairline small little big long fine 1")

// madeHoles are holes that are meant to be there.
var madeHoles = wordSet("bolt screw rivet drain stud locating mounting fixing plug")

// findKind returns the kind of find the reading names, or "".
func (r *reading) findKind() string {
	for _, k := range findOrder {
		for _, s := range r.spans {
			if s.kind == spanFind && s.id == k && !s.landmark {
				return k
			}
		}
	}
	return ""
}

// findWord returns what the reading calls a find of that kind: a pinhole is a hole,
// and yet another one than the hole.
func (r *reading) findWord(kind string) string {
	for _, s := range r.spans {
		if s.kind == spanFind && s.id == kind && !s.landmark && s.from < s.to {
			return strings.Join(r.stems[s.from:s.to], "")
		}
	}
	return ""
}

// findsCalled returns the finds recorded here before that the reading means by their
// kind: those called by the same word, or else those of the kind.
func (r *reading) findsCalled(c Context) []Done {
	kind := r.findKind()
	if kind == "" {
		return nil
	}
	var same, alike []Done
	for _, d := range c.findsHere() {
		if d.Intent.text("kind") != kind {
			continue
		}
		alike = append(alike, d)
		if d.Intent.text("find_word") == r.findWord(kind) {
			same = append(same, d)
		}
	}
	if len(same) > 0 {
		return same
	}
	return alike
}
