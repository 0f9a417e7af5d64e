package hear

// recordFind hears what was found on a vehicle.
var recordFind = kind{
	name:     "RecordFind",
	write:    true,
	examples: []string{"hole in the nearside sill, 120 by 40", "bonnet pitted, 20 thou deep", "crack in the os a post, 25 long"},
	needs:    []string{"job", "panel", "kind", "side"},
	score: func(r *reading, c Context) float64 {
		if r.asking() || r.has("my", "his", "her") && !r.has("my finger", "my thumb", "my hand", "my screwdriver", "my pick") || r.has("find sorted", "close that", "welded up", "thats welded", "ordered", "extra", "snag", "rust proofing", "rust killer", "rust remover") {
			return 0
		}
		_, panel := r.first(spanPanel)
		_, size := r.first(spanSize)
		_, side := r.first(spanSide)
		kind := r.findKind()
		found := r.has("found", "log a find", "record a find", "new find", "find on", "find in", "theres a", "there is a", "got a", "theres")
		if kind == "filler" && !panel && r.stockVerb() {
			return 0
		}
		if r.arrivalVerb() >= 0 && r.has("from", "off the van", "turned up", "arrived", "dropped", "landed") && len(r.things("part", "")) > 0 && !found {
			return 0 // it came with that
		}
		if r.has("price", "priced", "quote", "quoted", "pricing", "patch or", "or patch") {
			return 0
		}
		switch {
		case kind != "" && !panel && c.Last.isFind() && (r.besideIt() || side && r.has("one") || r.oneMore()):
			return 1.05
		case kind != "" && !panel && c.inThread() && (size || c.Continues || r.starts("and", "also", "theres", "found", "a", "plus")) && len(r.all(spanMaterial)) == 0:
			return 1.05
		case kind != "" && panel && r.has("used") && (kind == "filler" || kind == "paint"):
			return 0.3
		case kind != "" && panel && !size && !found && r.repaired():
			return 0.4 // it is mended, not found
		case kind != "" && panel:
			return 1.1
		case kind != "" && (size && (side || found)):
			return 1
		case kind != "" && found && side:
			return 0.95
		case kind != "" && r.has("found a", "found another", "found some") && !r.has("in", "on", "of"):
			return 0.95
		case kind != "" && found && r.has("in it", "on it", "in there", "on there", "under it", "along it", "all over it", "all along it", "through it", "round it"):
			return 0.95
		case kind == "" && panel && size && r.hi-r.lo <= 9 && r.lo == r.whole.lo && r.hi == r.whole.hi && len(r.bare()) == 0 && len(r.rest("about", "roughly", "deep")) == 0 && len(r.all(spanMaterial)) == 0 && len(r.all(spanFastener)) == 0 && c.Pending == nil && !c.Last.isFind():
			return 0.95 // «os b post 50 by 20»: what it is, is to be asked
		case r.has("log a find", "record a find", "new find", "a find on", "a find in"):
			return 0.95
		}
		return 0
	},
	fill: fillFind,
}

func (r *reading) stockVerb() bool {
	return r.has("used", "took", "had", "delivered", "received", "counted", "binned", "ordered", "mix")
}

// placeOfFind sets the panel that stands right behind the find, where others are named
// as well: «sill off, theres a hole in the inner sill».
func (r *reading) placeOfFind(in *Intent) {
	panels := r.all(spanPanel)
	if len(panels) < 2 {
		return
	}
	for _, f := range r.all(spanFind) {
		i := f.to
		if w := r.word(i); w != "in" && w != "on" && w != "at" {
			continue
		}
		for i++; r.word(i) == "the" || r.spanAt(i, spanSide); i++ {
		}
		for _, p := range panels {
			if p.from == i && p.id != "" {
				in.set("panel", p.id)
				return
			}
		}
	}
}

// besideIt reports a place told by the find before: «an inch up from it».
func (r *reading) besideIt() bool {
	return r.has("from it", "next to it", "beside it", "by it", "near it", "above it", "below it", "under it", "behind it", "in front of it", "same panel", "crack in it", "hole in it", "rust in it", "dent in it", "pitting in it", "in it too", "a crack in it", "along it", "all over it", "through it", "next to that", "above that", "below that", "beside that")
}

// oneMore reports «a crack too, 40 mm long»: where the find before was.
func (r *reading) oneMore() bool {
	return r.starts("a", "and a", "also a", "theres a", "plus a", "some") && r.has("too", "as well", "also") && r.hi-r.lo <= 9 && len(r.all(spanPanel)) == 0
}

// inThread reports that a thread is about a panel, which a find told there need not name.
func (c Context) inThread() bool { return c.ThreadJob != "" && c.Last.hasPanel() }

func (d *Done) isFind() bool { return d != nil && d.Intent.Kind == "RecordFind" }

func fillFind(r *reading, c Context, in *Intent) {
	fillJob(r, in)
	fillPlace(r, in)
	r.placeOfFind(in)
	if _, side := r.first(spanSide); len(in.Missing) == 0 && !in.has("panel") && !in.has("panel_choice") && (c.Last.isFind() && (r.besideIt() || side && r.has("one") || r.oneMore()) || c.inThread()) {
		in.set("panel", c.Last.Intent.text("panel"))
		for _, f := range []string{"side", "end"} {
			if c.Last.Intent.has(f) && !in.has(f) && !(side && f == "end") {
				in.set(f, c.Last.Intent.Fields[f])
			}
		}
	}
	if spoken := c.panelSpokenOf(); !in.has("side") && spoken.hasPanel() && r.has("on that side", "on the same side", "same side", "on this side") {
		in.set("side", spoken.Intent.text("side"))
	}
	if !in.has("side") {
		for _, s := range r.spans {
			if s.kind == spanSide && s.landmark && s.id != "other" {
				in.set("side", s.id) // «rot behind the os jacking point»
				break
			}
		}
	}
	if r.bothSides() {
		in.set("side", "both")
	}
	if k := r.findKind(); k != "" {
		in.set("kind", k)
		in.set("find_word", r.findWord(k))
	}
	if s, ok := r.first(spanSize); ok {
		in.set("width_mm", tidy(s.value))
		in.set("height_mm", tidy(s.second))
	}
	for _, s := range r.spans {
		if s.kind != spanQuantity || !lengthUnit(s.unit) {
			continue
		}
		mm := tidy(millimetres(s.value, s.unit))
		after, before := r.word(s.to), r.word(s.from-1)
		switch {
		case after == "from" || after == "away" || after == "below" || after == "above" || after == "in" && (r.word(s.to+1) == "from" || r.word(s.to+1) == "front") || after == "ahead" || after == "behind" || after == "up" && r.word(s.to+1) == "from":
			// where it is, not how big
		case after == "of" && in.text("kind") == "filler":
			in.set("depth_mm", mm) // «3 mm of filler»
		case after == "deep" || after == "thick" || after == "depth" || before == "depth":
			in.set("depth_mm", mm)
		case after == "diameter" || after == "round" || after == "dia" || before == "diameter" || after == "across":
			in.set("diameter_mm", mm)
		case after == "wide" || after == "long" || after == "length" || after == "width":
			in.set("width_mm", mm)
		case after == "high" || after == "tall":
			in.set("height_mm", mm)
		case s.unit == "" && s.value == float64(int(s.value)) && s.value >= 2 && s.value <= 200 && r.findNounAt(s.to):
			in.set("count", int(s.value))
		case s.unit == "" && (after == "of" || before == "bay" || before == "bows"):
		case s.unit != "" || (in.text("kind") != "" && !in.has("width_mm") && !in.has("diameter_mm") && s.value >= 3 && r.to(s)):
			if in.has("width_mm") || in.has("diameter_mm") {
				continue
			}
			if in.text("kind") == "hole" || in.text("kind") == "dent" {
				in.set("diameter_mm", mm)
			} else {
				in.set("width_mm", mm)
			}
		}
	}
}

// findNounAt reports «3 pinholes», «two small cracks».
func (r *reading) findNounAt(i int) bool {
	for j := i; j < i+2; j++ {
		if r.word(j) == "of" && r.word(j+1) == "them" && r.findKind() != "" {
			return true // «pinholes, about five of them»
		}
		if _, ok := findWords[r.stem(j)]; ok || r.word(j) == "spots" || r.word(j) == "patches" {
			return true
		}
	}
	return false
}

// to reports that a bare number ends its part of the message, as a measure does.
func (r *reading) to(s span) bool {
	return s.to >= r.hi || r.toks[s.to-1].stop || r.toks[s.to-1].end
}

// bothSides reports one panel named on its two sides in one breath: «rust in the
// ns sill and the os sill».
func (r *reading) bothSides() bool {
	sides, panels := r.all(spanSide), map[string]bool{}
	for _, s := range r.all(spanPanel) {
		panels[s.id] = true
	}
	if len(sides) == 0 && len(panels) == 1 && r.has("both of them", "both missing", "both rotten", "both rusty", "both pitted", "both bent", "both split", "both cracked", "both gone") && len(r.bare()) == 0 {
		p, _ := r.first(spanPanel)
		return sided[p.id]
	}
	if len(sides) != 2 || sides[0].id == sides[1].id || len(panels) != 1 || r.has("fine", "ok", "okay", "good", "clean", "sound", "solid", "but") {
		return false
	}
	joined := false
	for i := sides[0].to; i < sides[1].from; i++ {
		if r.toks[i].stop || r.toks[i].end || r.quantityStarts(i) {
			return false
		}
		joined = joined || r.word(i) == "and"
	}
	return joined
}
