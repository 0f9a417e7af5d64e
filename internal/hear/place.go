package hear

import "strings"

// panelNames are the panels and what people call them. A name with several
// meanings is asked about.
var panelNames = []struct {
	id   string
	also []string
}{
	{"bonnet", []string{"hood", "bonnet skin"}},
	{"boot lid", []string{"bootlid", "trunk lid", "trunklid", "decklid", "deck lid", "trunk"}},
	{"tailgate", []string{"tail gate", "hatch lid"}},
	{"roof", []string{"roof skin", "roof panel"}},
	{"scuttle", []string{"cowl", "scuttle panel", "cowl panel"}},
	{"bulkhead", []string{"firewall", "bulk head"}},
	{"front wing", []string{"front fender", "wing", "fender"}},
	{"rear wing", []string{"quarter", "rear fender", "quarter panel", "rear quarter", "rear quarter panel", "back wing"}},
	{"inner wing", []string{"inner fender", "innerwing"}},
	{"front valance", []string{"front apron"}},
	{"rear valance", []string{"rear apron", "back valance"}},
	{"front panel", nil},
	{"rear panel", []string{"back panel"}},
	{"door skin", []string{"doorskin"}},
	{"door", nil},
	{"inner sill", []string{"inner rocker"}},
	{"outer sill", []string{"outer rocker"}},
	{"sill", []string{"rocker", "rocker panel", "sill panel"}},
	{"boot floor", []string{"trunk floor"}},
	{"floor", []string{"floor pan", "floorpan", "floor panel"}},
	{"spare wheel well", []string{"spare wheel tray", "wheel well"}},
	{"a-post", []string{"a pillar", "a post", "apost", "hinge post"}},
	{"b-post", []string{"b pillar", "b post", "bpost"}},
	{"c-post", []string{"c pillar", "c post", "cpost"}},
	{"windscreen surround", []string{"windshield surround", "front screen surround", "windscreen frame", "screen surround"}},
	{"rear screen surround", []string{"rear window surround", "back screen surround"}},
	{"front arch", []string{"front wheel arch", "front wheelarch"}},
	{"rear arch", []string{"rear wheel arch", "rear wheelarch", "back arch"}},
	{"inner arch", []string{"inner wheel arch", "inner wheelarch"}},
	{"chassis leg", []string{"chassis rail", "frame rail"}},
	{"crossmember", []string{"cross member"}},
	{"outrigger", nil},
	{"spring hanger", []string{"hanger"}},
	{"jacking point", []string{"jack point"}},
	{"battery tray", []string{"battery shelf"}},
	{"drip rail", []string{"gutter", "drip gutter", "roof gutter"}},
	{"load bed", []string{"pickup bed", "bed floor", "loadbed"}},
	{"cab corner", nil},
	{"cab back", []string{"back of the cab", "rear of the cab"}},
	{"whole body", []string{"whole car", "bodyshell", "whole shell", "body shell", "whole thing"}},
}

var ambiguousPanels = []struct {
	word string
	ids  []string
}{
	{"arch", []string{"front arch", "rear arch"}},
	{"wheel arch", []string{"front arch", "rear arch"}},
	{"wheelarch", []string{"front arch", "rear arch"}},
	{"valance", []string{"front valance", "rear valance"}},
	{"post", []string{"a-post", "b-post", "c-post"}},
	{"pillar", []string{"a-post", "b-post", "c-post"}},
}

// sided are the panels that have a left and a right.
var sided = map[string]bool{
	"front wing": true, "rear wing": true, "inner wing": true, "door": true, "door skin": true, "sill": true, "inner sill": true, "outer sill": true,
	"floor": true, "a-post": true, "b-post": true, "c-post": true, "front arch": true, "rear arch": true, "inner arch": true, "chassis leg": true,
	"outrigger": true, "spring hanger": true, "jacking point": true, "cab corner": true, "drip rail": true,
}

// endPanels are the panels of which a message may name an end.
var endPanels = map[string]bool{"door": true, "door skin": true, "sill": true, "inner sill": true, "outer sill": true, "floor": true}

func (v *Vocabulary) addPlaces() {
	for _, p := range panelNames {
		v.add(p.id, span{kind: spanPanel, id: p.id})
		for _, a := range p.also {
			v.add(a, span{kind: spanPanel, id: p.id})
		}
	}
	for _, p := range ambiguousPanels {
		v.add(p.word, span{kind: spanPanel, ids: p.ids})
	}
}

// notThePanel are words that, behind a panel's name, make it another thing.
var notThePanel = wordSet("seal hinge handle glass card lock latch mirror check stay rack switch bolt nut trim lining mat carpet rubber gutter aperture")

// landmarkWords come before a place that only says where the real one is.
var landmarkWords = wordSet("behind near by above below under underneath beside past opposite beneath towards toward")

// spanPlaces finds panels, sides, ends and edges.
func (r *reading) spanPlaces() {
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] {
			continue
		}
		for _, s := range r.match(i) {
			if s.kind != spanPanel {
				continue
			}
			if r.besideHardware(s) {
				r.take(s) // «rust round the tailgate lock»
				i = s.to
				break
			}
			if notThePanel[r.stem(s.to)] && s.id != "door skin" && !r.toks[s.to-1].stop && !r.toks[s.to-1].end {
				continue
			}
			if r.word(i) == "quarter" && s.to == i+1 && r.isSideWord(i-1) == "" {
				continue
			}
			if s.id == "a-post" && r.word(i) == "a" && i > r.lo && r.isSideWord(i-1) == "" && i+1 < r.hi && len(r.all(spanPanel)) > 0 {
				continue
			}
			s.landmark = r.isLandmark(i)
			s = r.frontRear(s)
			r.take(s)
			i = s.to - 1
			break
		}
	}
	r.spanSides()
	r.spanEnds()
}

// besideHardware reports a find that is told by the hardware on its panel: «round the
// tailgate lock».
func (r *reading) besideHardware(s span) bool {
	if w := r.stem(s.to); w != "lock" && w != "latch" && w != "handle" && w != "hinge" || len(s.ids) > 0 {
		return false
	}
	found := false
	for j := r.lo; j < s.from; j++ {
		_, kind := findWords[r.stem(j)]
		found = found || kind
	}
	w := r.word(s.from - 2)
	return found && r.word(s.from-1) == "the" && (w == "round" || w == "around" || w == "under" || w == "behind" || w == "by" || w == "near")
}

// isLandmark reports whether the place at token i follows «behind the», «by the», «ahead of».
func (r *reading) isLandmark(i int) bool {
	j := i - 1
	for j >= r.lo && (r.word(j) == "the" || r.isSideWord(j) != "" || r.word(j) == "rear" || r.word(j) == "front" || r.word(j) == "that" || r.word(j) == "where") {
		j--
	}
	w := r.word(j)
	if landmarkWords[w] {
		return !(w == "by" && j > r.lo && isDigit(r.toks[j-1].text[0]))
	}
	if w == "of" {
		switch r.word(j - 1) {
		case "front":
			return r.word(j-2) == "in"
		case "back":
			return r.word(j-2) == "just"
		case "ahead", "forward", "inside", "rearward", "inboard", "outboard":
			return true
		}
	}
	return w == "to" && (r.word(j-1) == "next" || r.word(j-1) == "close")
}

// frontRear makes «front left wing» and «left arch, the rear one» precise.
func (r *reading) frontRear(s span) span {
	base := r.stem(s.to - 1)
	if s.to-s.from != 1 || (base != "wing" && base != "fender" && len(s.ids) == 0) {
		return s
	}
	for j := s.from - 1; j >= r.lo && j >= s.from-3; j-- {
		w := r.word(j)
		if r.isSideWord(j) != "" || w == "hand" || w == "side" {
			continue
		}
		if w == "front" || w == "rear" || w == "back" {
			if w == "back" {
				w = "rear"
			}
			for _, p := range panelNames {
				if p.id == w+" "+base || (base == "fender" && p.id == w+" wing") {
					s.id, s.ids = p.id, nil
					r.used[j] = true
				}
			}
			return s
		}
		break
	}
	return s
}

// isSideWord returns the side a single token names by itself, or "".
func (r *reading) isSideWord(i int) string {
	switch r.word(i) {
	case "nearside", "ns", "nsf", "nsr", "lh", "lhs", "lhf", "lhr":
		return "left"
	case "offside", "os", "osf", "osr", "rh", "rhs", "rhf", "rhr":
		return "right"
	case "left", "lefthand":
		return "left"
	case "right", "righthand":
		return "right"
	case "both":
		return "both"
	}
	return ""
}

func (r *reading) spanSides() {
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] {
			continue
		}
		w, n := r.word(i), r.word(i+1)
		s := span{kind: spanSide, from: i, to: i + 1}
		switch w {
		case "nearside", "ns", "lh", "lhs":
			s.id = "left"
		case "offside", "os", "rh", "rhs":
			s.id = "right"
		case "nsf", "lhf", "nsr", "lhr", "osf", "rhf", "osr", "rhr":
			s.id = "left"
			if w[0] == 'o' || w[0] == 'r' {
				s.id = "right"
			}
			end := map[byte]string{'f': "front", 'r': "rear"}[w[2]]
			r.endFromCode(i, end)
		case "near", "off":
			if n == "side" {
				s.id, s.to = map[string]string{"near": "left", "off": "right"}[w], i+2
			} else if r.word(i-1) == "the" && i+1 == r.hi {
				s.id = map[string]string{"near": "left", "off": "right"}[w]
			}
		case "passenger", "passengers", "driver", "drivers":
			if n == "side" {
				s.id, s.to = w[:6], i+2 // resolved by the vehicle's drive
				if w[0] == 'p' {
					s.id = "passenger"
				} else {
					s.id = "driver"
				}
			} else if r.panelAt(i+1) || n == "one" || r.hi-r.lo <= 3 {
				s.id = map[byte]string{'p': "passenger", 'd': "driver"}[w[0]]
			}
		case "left", "right":
			s.to = i + 1
			if n == "hand" || n == "side" {
				s.to++
				if r.word(i+2) == "side" {
					s.to++
				}
				s.id = w
				break
			}
			if n == "one" || n == "ones" {
				s.id = w
				break
			}
			if n == "of" || n == "in" {
				break
			}
			before := r.word(i - 1)
			switch {
			case r.panelAt(i + 1), r.panelAt(i+2) && (n == "front" || n == "rear" || n == "inner" || n == "outer" || n == "back"):
				s.id = w
			case (before == "the" || before == "front" || before == "rear" || before == "on") && (w == "left" || r.hi == i+1 || r.panelBefore(i)):
				s.id = w
			case r.hi-r.lo <= 2 && w == "left", r.hi-r.lo == 1:
				s.id = w
			case r.panelBefore(i):
				s.id = w
			}
		case "kerb":
			if n == "side" {
				s.id, s.to = "left", i+2
			}
		case "both", "each":
			if n == "sides" || n == "side" {
				s.id, s.to = "both", i+2
			} else if w == "both" && (r.panelAt(i+1) || r.panelAt(i+2)) {
				s.id = "both"
			}
		case "centre", "middle", "center":
			if r.word(i-1) == "the" || r.hi-r.lo == 1 {
				s.id = "centre"
			}
		case "other":
			if n == "side" || n == "one" || n == "sides" && r.word(i+2) != "are" {
				s.id, s.to = "other", i+2 // «other side's the same»
			}
		}
		if s.id == "" {
			continue
		}
		s.landmark = r.isLandmark(i) && r.panelIsLandmark(s.to)
		r.take(s)
		i = s.to - 1
	}
}

func (r *reading) panelAt(i int) bool {
	for _, s := range r.spans {
		if s.kind == spanPanel && s.from <= i && i < s.to {
			return true
		}
	}
	return false
}

func (r *reading) panelIsLandmark(i int) bool {
	for _, s := range r.spans {
		if s.kind == spanPanel && s.from == i {
			return s.landmark
		}
	}
	return false
}

func (r *reading) panelBefore(i int) bool {
	for _, s := range r.spans {
		if s.kind == spanPanel && s.to == i {
			return true
		}
	}
	return false
}

func (r *reading) endFromCode(i int, end string) {
	r.take(span{kind: spanEnd, from: i, to: i + 1, id: end})
	// «osr door skin» and «nsf wing»: the code also says which wing or arch.
	for k, s := range r.spans {
		if s.kind == spanPanel && s.from == i+1 {
			base := strings.TrimPrefix(r.stem(s.to-1), "wheel")
			for _, p := range panelNames {
				if p.id == end+" "+base && len(s.ids) > 0 || p.id == end+" "+base && s.to-s.from == 1 {
					r.spans[k].id, r.spans[k].ids = p.id, nil
				}
			}
		}
	}
}

// spanEnds finds edges («rear edge», «along the top») and ends («at the front», «front door»).
func (r *reading) spanEnds() {
	edges := map[string]string{"front": "front", "leading": "front", "rear": "rear", "back": "rear", "trailing": "rear", "top": "top", "upper": "top", "bottom": "bottom", "lower": "bottom"}
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] {
			continue
		}
		w := r.word(i)
		e, ok := edges[w]
		if !ok {
			continue
		}
		n := r.word(i + 1)
		switch {
		case n == "edge" || n == "edges" || (n == "gap" && r.panelNear()) || (n == "gaps" && r.panelNear()):
			s := span{kind: spanEdge, from: i, to: i + 1, id: e}
			if n == "edge" || n == "edges" {
				s.to++
			}
			r.take(s)
		case n == "to" && (edges[r.word(i+2)] != ""):
			// «top to bottom» is an order of reading, not an edge.
			r.take(span{kind: "order", from: i, to: i + 3, id: w})
			i += 2
		case (w == "front" || w == "rear" || w == "back") && r.doorAt(i+1):
			r.take(span{kind: spanEnd, from: i, to: i + 1, id: e})
		case n == "corner" || n == "half" || n == "seam" || n == "jack" || n == "mount":
		case r.twoNumbers(i + 1):
			r.take(span{kind: spanEdge, from: i, to: i + 1, id: e}) // «…, bottom 4.5 4.6 4.6»
		default:
			// «at the back», «along the top of the», «back of the door», «at the rear end».
			b := r.word(i - 1)
			if b == "the" || b == "at" || b == "along" || b == "and" || b == "not" && i+1 == r.hi || n == "of" || n == "end" || r.hi-r.lo <= 3 {
				s := span{kind: spanEdge, from: i, to: i + 1, id: e, weak: true}
				if n == "end" {
					s.to++
				}
				r.take(s)
			}
		}
	}
}

// twoNumbers reports two bare figures at token i.
func (r *reading) twoNumbers(i int) bool {
	a, n, ok := r.numberAt(i)
	if !ok || a > 40 || r.toks[n-1].stop {
		return false
	}
	b, k, ok := r.numberAt(n)
	return ok && b <= 40 && stem(r.word(k)) != "hour"
}

func (r *reading) doorAt(i int) bool {
	for _, s := range r.spans {
		if s.kind == spanPanel && s.from == i {
			return s.id == "door" || s.id == "door skin"
		}
	}
	return false
}

func (r *reading) panelNear() bool {
	for _, s := range r.spans {
		if s.kind == spanPanel && !s.landmark {
			return true
		}
	}
	return false
}
