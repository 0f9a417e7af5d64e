package hear

import (
	"slices"
	"strconv"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// partNouns are what vehicles are made of and shops order. Common practice, no
// source: the list only tells a part from a pizza.
var partNouns = wordSet(`panel seal seals kit bearing bearings matrix glass screen windscreen carpet carpets trim bumper bumpers lamp lamps light lights headlamp headlight loom pump tank
gasket gaskets bush bushes shaft propshaft driveshaft halfshaft joint joints hinge hinges handle handles badge badges chrome rubber rubbers disc discs caliper calipers cylinder cylinders hose hoses pipe
pipes belt belts spring springs damper dampers shocker shockers wheel wheels tyre tyres radiator alternator dynamo starter carb carbs carburettor injector injectors manifold exhaust silencer mirror mirrors stop stops horn horns stay stays wiper seat
seats headlining hood clip clips wing wings door doors sill sills skin valance floor arch arches bolt bolts nut nuts washer washers stud studs screw screws fastener fasteners
switch switches relay relays fuse fuses sensor sensors gauge gauges clock dial cable cables bonnet tailgate bootlid grille mount mounts mounting mountings bracket brackets clutch gearbox overdrive engine head piston pistons
ring rings valve valves cam camshaft crank crankshaft liner liners shell shells plug plugs lead leads coil distributor filter filters thermostat fan motor motors wiper wipers washer jet jets lock locks latch latches striker strikers
catch catches window windows regulator regulators runner runners channel channels moulding mouldings strip strips finisher finishers board boards dash dashboard console steering column rack box arm arms wishbone balljoint ends end rod rods
bezel bezels gaiter gaiters grommet grommets flange spacer spacers shim shims circlip circlips kingpin kingpins gasket sump dipstick condenser points dizzy flywheel
shoe shoes pads pad drum drums servo master slave reservoir cap caps cover covers slats slat ash timber tank sender senders float needle needles tow bar towbar hub hubs spindle spinner hubcap trims weatherstrip bulb bulbs lens lenses
outrigger crossmember hanger hangers spreader patch section repair aerial radio speaker heater blower vent ducts duct tray battery terminal terminals earth strap straps strut struts rubber rubbers chrome trims overrider overriders buckle buckles anchor`)

// afterPart are the words that end the name of a part in a sentence.
var afterPart = wordSet("from off at for due via through on with by coming arriving arrived here has have had is are was were came come turned landed showed shown been just finally today yesterday this though but which that should will be theyre its costs cost costing ordered fitted went gone going back in to goes not looks look all needs need bit slightly missing a an wrong damaged tried trial test sits sat fits fit")

// beforePart are the words before the name of a part.
var beforePart = wordSet("them the a an some our that this those these another new pair of set couple got please ok okay right thats me us my both two other of my only more replacement ive weve i we just finally and also it")

// partName returns the tokens of a part's name that begins at or after token i.
func (r *reading) partName(i int) (from, to int) {
	for i < r.hi && (beforePart[r.word(i)] || r.quantityStarts(i) && !r.nameNumber(i) || r.spanAt(i, spanSide) || r.spanAt(i, spanJob) || r.spanAt(i, spanSupplier) || r.spanAt(i, spanDay) || isCount(r.word(i))) && r.word(i) != "set" {
		i++
	}
	for q, ok := r.spanOf(i, spanQuantity); ok && q.unit == "" && i < r.hi; q, ok = r.spanOf(i, spanQuantity) {
		i = q.to // «a dozen»
	}
	if r.word(i) == "x" || (r.word(i) == "off" || r.word(i) == "of") && i > r.lo && r.spanAt(i-1, spanQuantity) {
		i++ // «12 off m8 bolts»
	}
	from = i
	for i < r.hi {
		w := r.word(i)
		if w == "for" && i > from && (r.spanAt(i+1, spanSide) || r.spanAt(i+2, spanSide) || r.spanAt(i+1, spanPanel) || r.spanAt(i+2, spanPanel)) {
			i++ // «the panel for the ns rear wing»
			continue
		}
		if w == "and" && i > from && !r.isPart(i+1, min(i+3, r.hi)) {
			break
		}
		if i > from && (afterPart[w] || r.spanAt(i, spanSupplier) || r.spanAt(i, spanJob) || r.spanAt(i, spanDay) || r.priceAt(i)) {
			break
		}
		if i == from && (afterPart[w] && w != "test" || r.spanAt(i, spanDay) || r.priceAt(i)) {
			break
		}
		i++
		if r.toks[i-1].stop || r.toks[i-1].end {
			break
		}
	}
	to = i
	for to > from && r.spanAt(to-1, spanSide) {
		to--
	}
	return from, to
}

func isCount(w string) bool { _, ok := units19[w]; return ok }

// nameNumber reports a number that belongs to a name («1.8 injectors» does not;
// «12 volt»), which this shop never says at the start of one.
func (r *reading) nameNumber(i int) bool { return r.word(i+1) == "volt" || r.word(i+1) == "v" }

func (r *reading) priceAt(i int) bool {
	return slices.ContainsFunc(r.prices(), func(p price) bool { return p.from <= i && i < p.to })
}

// partBefore returns the tokens of a part's name that ends before token i.
func (r *reading) partBefore(i int) (from, to int) {
	to = i
	for to > r.lo && (r.word(to-1) == "s" || r.word(to-1) == "is" || r.word(to-1) == "are" || r.word(to-1) == "has" || r.word(to-1) == "have" || r.word(to-1) == "was" || r.word(to-1) == "were" || r.word(to-1) == "been" || r.word(to-1) == "just" || r.word(to-1) == "finally" || r.word(to-1) == "now" || r.word(to-1) == "all" || r.word(to-1) == "got" || r.word(to-1) == "only" || r.word(to-1) == "at" || r.word(to-1) == "last" || r.word(to-1) == "both" || r.word(to-1) == "the" || r.word(to-1) == "already") {
		to--
	}
	from = to
	for from > r.lo && !r.toks[from-1].end && !r.toks[from-1].stop {
		from--
	}
	start, end := r.part(from, to).partName(from)
	return start, min(end, to)
}

// isPart reports that tokens name a part, by what is ordered in this shop.
func (r *reading) isPart(from, to int) bool {
	for i := from; i < to; i++ {
		if partNouns[r.word(i)] || partNouns[r.stem(i)] || r.spanAt(i, spanPanel) {
			return true
		}
	}
	return false
}

// fillPart sets part, side, quantity and job from the tokens of the part's name
// and what stands around it.
func (r *reading) fillPart(from, to int, in *Intent) {
	fillJob(r, in)
	if b := r.bare(); len(b) == 1 && slices.Contains(in.Missing, "part") && in.has("part") && b[0].value == float64(int(b[0].value)) {
		n := int(b[0].value) // the answer to «which part?»
		for _, t := range r.v.names.GetThings() {
			if t.GetNoun() == "part" && int(t.GetNumber()) == n {
				r.takePart(t, in)
				return
			}
		}
		in.set("part", trimNumber(b[0].value))
		return
	}
	for _, s := range r.spans {
		if s.kind == spanSide && !s.landmark && s.id != "both" && s.id != "other" {
			in.set("side", s.id)
			break
		}
	}
	if from >= to {
		return
	}
	if w := r.word(from - 1); (w == "left" || w == "right") && from-1 > r.lo {
		in.set("side", w)
	}
	var name []string
	for i := from; i < to; i++ {
		if r.spanAt(i, spanSide) || r.spanAt(i, spanJob) {
			continue
		}
		if w := r.word(i); len(name) == 0 && (w == "left" || w == "right") && i+1 < to {
			in.set("side", w)
			continue
		}
		name = append(name, r.asWritten(i))
	}
	name = slices.DeleteFunc(name, func(w string) bool { return strings.Trim(w, "£$€ ") == "" })
	for i := range name {
		name[i] = strings.TrimRight(name[i], "£$€ ")
	}
	for len(name) > 1 && provenanceWords[name[0]] {
		name = name[1:] // where it comes from is a field of its own
	}
	for n := len(name); n > 0 && (name[n-1] == "s" || name[n-1] == "the" || name[n-1] == "for" || name[n-1] == "of"); n = len(name) {
		name = name[:n-1]
	}
	if len(name) == 1 && unsaidParts[name[0]] {
		return // «ordered something from amblecote»
	}
	if len(name) == 0 {
		return
	}
	if n := r.countBefore(from); n > 0 {
		in.set("quantity", n)
		if n > 1 {
			name[len(name)-1] = singular(name[len(name)-1])
		}
	}
	in.set("part", r.onRecord(from, to, strings.Join(name, " "), in.text("job")))
}

// onRecord returns the name that the shop has for a part said short: «props» is the
// propshaft. Any other name is as it was said.
func (r *reading) onRecord(from, to int, said, job string) string {
	best := r.part(from, to).things("part", job)
	if len(best) != 1 {
		return said
	}
	for i := from; i < to; i++ {
		w := root(r.word(i))
		begins := slices.ContainsFunc(best[0].words, func(b string) bool { return strings.HasPrefix(b, w) })
		if slices.Contains(best[0].words, w) || !begins && !quiet[r.word(i)] && !r.spanAt(i, spanSide) && !r.spanAt(i, spanJob) {
			return said // «tail lamps» are no tailgate seal
		}
	}
	for _, t := range r.v.names.GetThings() {
		if t.GetNoun() == "part" && int(t.GetNumber()) == best[0].number {
			return t.GetName()
		}
	}
	return said
}

// takePart sets the part that was chosen: by its name and side where no other has
// them, else by its number.
func (r *reading) takePart(chosen *pb.ThingName, in *Intent) {
	for _, t := range r.v.names.GetThings() {
		if t != chosen && t.GetNoun() == "part" && t.GetJob() == chosen.GetJob() && t.GetName() == chosen.GetName() && t.GetSide() == chosen.GetSide() {
			in.set("part", strconv.Itoa(int(chosen.GetNumber())))
			return
		}
	}
	in.set("part", chosen.GetName())
	in.set("job", chosen.GetJob())
	switch chosen.GetSide() {
	case pb.Side_SIDE_LEFT:
		in.set("side", "left")
	case pb.Side_SIDE_RIGHT:
		in.set("side", "right")
	}
}

// asWritten is a word as it was typed, unless it was a slip for a word that names
// something on record: «speedo» stays, «propsahft» does not.
func (r *reading) asWritten(i int) string {
	w := r.word(i)
	typed := strings.TrimSuffix(strings.ToLower(r.textFrom(i, i+1)), "'s")
	if typed == w || strings.ContainsAny(typed, "'’ ") {
		return w
	}
	for _, t := range r.v.things {
		if slices.Contains(t.words, root(w)) {
			return w
		}
	}
	if partNouns[w] || r.spanAt(i, spanPanel) {
		return w
	}
	return typed
}

// singular is one of what a word names several of.
func singular(w string) string {
	if cut, ok := strings.CutSuffix(w, "lenses"); ok {
		return cut + "lens"
	}
	if strings.HasSuffix(w, "shes") || strings.HasSuffix(w, "ches") || strings.HasSuffix(w, "xes") {
		return w // «bushes» names them as well
	}
	return stem(w)
}

// countBefore reads how many, before a part's name.
func (r *reading) countBefore(from int) int {
	for i := from - 1; i >= r.lo && i >= from-5; i-- {
		switch r.word(i) {
		case "pair", "both":
			return 2
		case "dozen":
			if r.word(i-1) == "a" && r.word(i-2) == "half" {
				return 6
			}
			return 12
		case "a", "an", "the", "of", "off", "x", "new", "some", "set", "our", "ns", "os":
			continue
		}
		if r.spanAt(i, spanSide) || r.spanAt(i, spanJob) {
			continue
		}
		if m, _, ok := r.numberAt(i - 2); ok && r.word(i-1) == "of" && m >= 1 { // «2 of 3 hinges»
			return int(m)
		}
		if v, _, ok := r.numberAt(i); ok && v >= 1 && v <= 500 && v == float64(int(v)) && !r.spanAt(i, spanNumbered) {
			return int(v)
		}
		return 0
	}
	return 0
}

// countAfter reads how many, behind a part's name: «bed strips, eight of».
func (r *reading) countAfter(to int) int {
	for i := to; i < r.hi; i++ {
		v, n, ok := r.numberAt(i)
		if ok && (r.word(n) == "of" || r.word(n) == "off") && (i == to || n+1 >= r.hi || r.toks[n].stop || r.toks[n].end) && v >= 1 && v <= 500 && v == float64(int(v)) {
			return int(v)
		}
	}
	return 0
}

// countLast reads how many of what is named in the plural: «mounts, two».
func (r *reading) countLast(from, to int) int {
	if from >= to || to >= r.hi || r.stem(to-1) == r.word(to-1) {
		return 0
	}
	v, n, ok := r.numberAt(to)
	if !ok || n != r.hi || r.priceAt(to) || v < 2 || v > 12 || v != float64(int(v)) {
		return 0
	}
	return int(v)
}

var unsaidParts = wordSet("same another something stuff things bits some it that them parts bit thing")

var provenanceWords = wordSet("repro reproduction secondhand nos aftermarket remanufactured")

// provenance reads where a part comes from.
func (r *reading) provenance() string {
	switch {
	case r.has("nos", "new old stock", "genuine old stock", "old stock"):
		return "new_old_stock"
	case r.has("repro", "reproduction", "pattern", "remade", "remanufactured", "aftermarket"):
		return "reproduction"
	case r.has("second hand", "secondhand", "used one", "breaker", "breakers", "scrapyard", "off a donor", "donor"):
		return "used"
	case r.has("made up", "having made", "making one", "made to order", "made to measure", "having one made", "getting made"):
		return "made"
	}
	return ""
}
