package hear

import (
	"slices"
	"strings"

	"bayword/internal/hear/words"
	pb "bayword/proto/bayword/v1"
)

// Vocabulary is what the shop calls things, made ready to be recognised. It is
// built once for each version the service sends, and then only read.
type Vocabulary struct {
	names   *pb.GetVocabularyResponse
	mender  *words.Mender
	phrases map[string][]phrase // by stem of the first word; numbers under "#"
	firsts  map[string][]string // first words of names by their second
	jobs    map[string]*pb.JobName
	mats    map[string]*pb.MaterialName
	kinds   map[string]bool // what the service takes
	things  []thing
}

// phrase is a run of stems that names something.
type phrase struct {
	words []string
	span  span
}

// NewVocabulary makes a vocabulary ready.
func NewVocabulary(names *pb.GetVocabularyResponse) *Vocabulary {
	v := &Vocabulary{names: names, phrases: map[string][]phrase{}, firsts: map[string][]string{}, jobs: map[string]*pb.JobName{}, mats: map[string]*pb.MaterialName{}, kinds: map[string]bool{}}
	for _, k := range names.GetKinds() {
		v.kinds[k] = true
	}
	v.addPlaces()
	v.addFasteners()
	v.addMaterials()
	v.addJobs()
	for _, p := range names.GetPeople() {
		for _, n := range []string{p.GetId(), p.GetName()} {
			v.add(n, span{kind: spanPerson, id: p.GetId()})
		}
	}
	for _, s := range names.GetSuppliers() {
		v.add(s, span{kind: spanSupplier, id: s})
		if first, _, ok := strings.Cut(s, " "); ok {
			v.add(first, span{kind: spanSupplier, id: s})
		}
	}
	v.addThings()
	for first := range v.phrases {
		slices.SortStableFunc(v.phrases[first], func(a, b phrase) int { return len(b.words) - len(a.words) })
	}
	v.mender = words.NewMender(v.listened())
	return v
}

// add makes name recognised as s. Later additions of the same words for the
// same kind are dropped.
func (v *Vocabulary) add(name string, s span) {
	var stems []string
	for _, t := range tokens(clean(name), func(w string) string { return w }) {
		stems = append(stems, stem(t.text))
	}
	if len(stems) > 1 && stems[0] == "the" {
		stems = stems[1:]
		if len(stems) == 1 && isDigit(stems[0][0]) {
			stems = append([]string{"the"}, stems...) // «the 1500» needs its article
		}
	}
	if len(stems) == 0 {
		return
	}
	first := stems[0]
	if _, ok := parseDigits(first); ok {
		first = "#"
	}
	for _, p := range v.phrases[first] {
		if p.span.kind == s.kind && slices.Equal(p.words, stems) {
			return
		}
	}
	v.phrases[first] = append(v.phrases[first], phrase{words: stems, span: s})
	if len(stems) > 1 {
		v.firsts[stems[1]] = append(v.firsts[stems[1]], stems[0])
	}
}

// containers are words for one pack of a material.
var containers = wordSet("tin tub reel hide box bottle sheet pack tube can bag drum roll carton packet pot spool cylinder cartridge disc jar")

func (v *Vocabulary) addMaterials() {
	heads := map[string][]string{}
	var order []string
	for _, m := range v.names.GetMaterials() {
		v.mats[m.GetId()] = m
		calls := append([]string{m.GetName(), m.GetId()}, m.GetAlsoCalled()...)
		for _, c := range calls {
			v.add(c, span{kind: spanMaterial, id: m.GetId()})
			if two := strings.FieldsFunc(strings.ToLower(c), func(r rune) bool { return r == ' ' || r == '-' }); len(two) == 2 && len(two[0])+len(two[1]) >= 7 && !isDigit(two[0][0]) && two[0] != "the" {
				v.add(two[0]+two[1], span{kind: spanMaterial, id: m.GetId()})
			}
			if done := putOn(strings.ToLower(c)); done != "" {
				v.add(done, span{kind: spanMaterial, id: m.GetId()}) // «epoxied the bonnet»
			}
			// «the point nine» names a sheet by its number alone.
			fields := strings.Fields(strings.ToLower(strings.TrimPrefix(c, "the ")))
			if n := len(fields); n >= 2 && containers[stem(fields[n-1])] && (isDigit(fields[0][0]) || units19[fields[0]] > 0 || fields[0] == "point") {
				v.add(strings.Join(fields[:n-1], " "), span{kind: spanMaterial, id: m.GetId(), weak: true})
			}
			// p80 is also «80s» and «80 grit».
			if len(fields) == 1 && len(fields[0]) > 1 && fields[0][0] == 'p' && isDigit(fields[0][1]) {
				v.add(fields[0][1:]+"s", span{kind: spanMaterial, id: m.GetId()})
				v.add(fields[0][1:]+" grit", span{kind: spanMaterial, id: m.GetId()})
				for _, noun := range []string{"sheet", "disc", "paper"} {
					if strings.Contains(strings.ToLower(m.GetName()), noun) {
						v.add(fields[0][1:]+" "+noun, span{kind: spanMaterial, id: m.GetId()})
						v.add(fields[0][1:]+" grit "+noun, span{kind: spanMaterial, id: m.GetId()})
						v.add(fields[0]+" "+noun, span{kind: spanMaterial, id: m.GetId()})
					}
				}
			}
		}
		// A word that is no English word names it alone: «oxblood».
		for _, w := range strings.Fields(strings.ToLower(m.GetName())) {
			if len(w) >= 6 && strings.Trim(w, "abcdefghijklmnopqrstuvwxyz") == "" && !words.IsEnglish(w) && v.materialsWith(w) == 1 {
				v.add(w, span{kind: spanMaterial, id: m.GetId()})
			}
		}
		all := tokens(clean(m.GetName()), func(w string) string { return w })
		if len(all) > 0 {
			h := stem(all[len(all)-1].text)
			if heads[h] == nil {
				order = append(order, h)
			}
			heads[h] = append(heads[h], m.GetId())
		}
	}
	for _, h := range order {
		if len(heads[h]) == 1 {
			v.add(h, span{kind: spanMaterial, id: heads[h][0]})
		} else {
			v.add(h, span{kind: spanMaterial, ids: heads[h]})
		}
	}
}

// putOn is what people call a coat of a material put on: «epoxied», «lacquered»; "" when
// its name makes no such word.
func putOn(name string) string {
	switch {
	case len(name) < 5 || strings.Trim(name, "abcdefghijklmnopqrstuvwxyz") != "":
		return ""
	case strings.HasSuffix(name, "y"):
		return strings.TrimSuffix(name, "y") + "ied"
	case strings.HasSuffix(name, "er"):
		return name + "ed"
	}
	return ""
}

// materialsWith counts the materials that have a word in their name.
func (v *Vocabulary) materialsWith(word string) int {
	n := 0
	for _, m := range v.names.GetMaterials() {
		if slices.Contains(strings.Fields(strings.ToLower(m.GetName())), word) {
			n++
		}
	}
	return n
}

func (v *Vocabulary) addJobs() {
	for _, j := range v.names.GetJobs() {
		v.jobs[j.GetId()] = j
		v.add(j.GetId(), span{kind: spanJob, id: j.GetId()})
		for _, c := range j.GetAlsoCalled() {
			v.add(c, span{kind: spanJob, id: j.GetId()})
			if strings.Contains(c, "-") {
				v.add(strings.ReplaceAll(c, "-", ""), span{kind: spanJob, id: j.GetId()})
			}
		}
		for _, c := range []string{j.GetMake(), j.GetModel()} {
			if c != "" && !isDigit(c[0]) {
				v.add(c, span{kind: spanJob, id: j.GetId()})
			}
		}
		if f := strings.Fields(j.GetCustomer()); len(f) > 0 {
			name := f[len(f)-1]
			if !titles[strings.ToLower(strings.Trim(f[0], "."))] {
				for _, word := range f {
					v.add(word, span{kind: spanJob, id: j.GetId(), weak: true})
				}
				name = f[0] // a firm goes by its first name
			}
			v.add(name, span{kind: spanJob, id: j.GetId(), weak: true})
		}
	}
}

var titles = wordSet("mr mrs ms miss mx dr sir lady lord rev prof")

// listened returns every word that means something to hear, for the mender.
func (v *Vocabulary) listened() []string {
	set := map[string]bool{}
	for _, ps := range v.phrases {
		for _, p := range ps {
			for _, w := range p.words {
				if w != "" && !isDigit(w[0]) {
					set[w] = true
					set[w+"s"] = true
				}
			}
		}
	}
	for w := range strings.FieldsSeq(cueWords) {
		set[w] = true
	}
	for _, h := range leadHeads {
		for _, p := range h.phrases {
			for w := range strings.FieldsSeq(p) {
				if len(w) >= 5 && w != "shout" || w == "ping" {
					set[w] = true
				}
			}
		}
	}
	for _, t := range v.names.GetThings() {
		for w := range strings.FieldsSeq(strings.ToLower(t.GetName())) {
			if len(w) >= 4 && strings.Trim(w, "abcdefghijklmnopqrstuvwxyz") == "" {
				set[w] = true
			}
		}
	}
	for w := range findWords {
		set[w] = true
	}
	for w := range units19 {
		set[w] = true
	}
	for w := range tens {
		set[w] = true
	}
	for w := range unitWords {
		set[w] = true
	}
	for w := range containers {
		set[w] = true
		set[w+"s"] = true
	}
	out := make([]string, 0, len(set))
	for w := range set {
		out = append(out, w)
	}
	slices.Sort(out)
	return out
}

// cueWords are the words that kinds listen for beyond the names of things.
const cueWords = `about according actually adapter adjust adjustment after afternoon again against aiming aint alarm along already alright aluminium amount amps another anybody anyone
anything applied april arent arrive arrived arrives arriving asleep assembly august away axle back based batch been before being best binned block blocking blow bodge
body bolts book booked booth borrowed bother bottom brazed brief brought brushed bsf bsw burned burnt cable cables caliper calipers call called came cancel cant cars
change check chewed choice chuck chucked clean clear clicked clock clocked close closed closer closes coat coats colour come coming conductor contaminated copper
correction could couldnt count counted cover crack cracked creased create crow crowfoot crows cured customer damp date days december decided deep degrees delete delivered
delivery dent dented diameter diameters didnt diff dipped dirt dirty disregard ditto does doesnt doing done dont door down dressed drew drill drive driver drivers drop
dropped drove dry dumped each early ecord edge edges edit else emind emptied engaged engagement enough estimate evening every everything expires expiry extension extra
extras facing false fancy fast fastener february fence ferry figure filled filler film final find finds finger finished first fixed flat flatted flatting flush foot
forecast forget found friday from front ftlb full gap gaps gauge gelled getting give gives going gone gonna good grabbed grafting grease ground guide hadnt half hand
handbook hang happened hard hardener hasnt have havent height help here hes hinge hinges history holding hole holes home hoping hospital hour hours hows humid humidity
idea ignore into isnt item january job jobs july june just killer knock knocked know labeled labelled labour laid landed last late later leading leave left lefthand lets
level life like likewise line lines list litres load log logged long look looking loom lose lost lowdown lower lumpy made make manual many march mark match mate material
materials maybe mean meaning meant measured measures mechanical mended metal metals metalwork metre metres might millimetres mind mine minus minute minutes misread
missing mistake mix mixed mixing moly moment monday more morning motors move much muck must mustnt myself name nearer nearly nearside need needed neednt needs never
nevermind newton next nicked night nineteen nipped nope note notes november number nuts october offset offside oiled once ones only oops open opened order ordered
ordering other outstanding over page paint painting panel panels part parts passenger passengers patch patched people percent phone pinhole pinholes pitch pitted pitting
place plan plane planning plated please plugged plugs plus plusminus point pounds poured price probably projects proofing proper proud pull pulled pulling queue queued
quoted rack rather ratio rder read reading readings ready rear received reckon recon reconditioned refurb refurbished recoat record recount recounted regulator remaining remind reminder remove remover reorder
reordering repair repaired replace revs right righthand riveted road rotted rotten ruined rule rundown running rust rusted rusty safe said same sand sanded saturday says
scrap scratch scrub seal seamed second seen september setting sheet shelf shell shes shift shim shims shop shopping short shot should shouldnt show shut shutline
shutlines side sign signed size skinned slapped sleep slept slung snag snags some something sorry sort sorted source spec speed spent spilled spilt split spray sprayed
spraying spread squirted stand stands start started starting state status steel stick still stock stocktake stretch strike strip stripping stuck sunday supposed surface
swallowed sworn take taken talk tapped target task tasks tell telly temperature text that thats them there theres they theyre theyve thick thickness things thinking this
those thought thread threadlock three threw through throw thrown thursday tight tighten tightened till time times tipped today tolerance tomorrow tonight took topcoat
topic torque torqued torques total town traffic trailing train trim trimming tuesday turned twice typo tyre tyres unc under undo unf unit unless until update upper upside
upwards used using value vehicle vehicles wait walk walked want wants wasnt waste wasted wednesday week weekend weighed welded welding well went were werent weve what
whats wheel when whens where wheres which whit whitworth whole whoops whos whose width will winder window windows windscreen wing wipe wire wiring wish with wont work
worked working workshop worth would wouldnt wound wrench wrong years yesterday your youre youve zinc`

// stem takes the plural off a word: «nuts» is nut, «arches» is arch.
func stem(w string) string {
	n := len(w)
	switch {
	case n < 4, isDigit(w[0]), strings.HasSuffix(w, "ss"), strings.HasSuffix(w, "us"), strings.HasSuffix(w, "is"):
		return w
	case strings.HasSuffix(w, "ies") && n > 5:
		return w[:n-3] + "y"
	case strings.HasSuffix(w, "ches"), strings.HasSuffix(w, "shes"), strings.HasSuffix(w, "xes"), strings.HasSuffix(w, "sses"):
		return w[:n-2]
	case w[n-1] == 's':
		return w[:n-1]
	}
	return w
}

// match returns the longest phrases that begin at token i, one a kind.
func (r *reading) match(i int) []span {
	if r.whole.matched[i] {
		return r.whole.matches[i]
	}
	out := r.matchAt(i)
	if r.lo == 0 && r.hi == len(r.toks) {
		r.matched[i], r.matches[i] = true, out
	}
	return out
}

func (r *reading) matchAt(i int) []span {
	var out []span
	try := func(list []phrase) {
		for _, p := range list {
			n, ok := r.phraseAt(p, i)
			if !ok {
				continue
			}
			s := p.span
			s.from, s.to = i, n
			taken := false
			for _, o := range out {
				if o.kind == s.kind {
					taken = true
				}
			}
			if !taken {
				s.plural = r.toks[n-1].text != r.stems[n-1]
				out = append(out, s)
			}
		}
	}
	try(r.v.phrases[r.stems[i]])
	if _, _, ok := r.numberAt(i); ok {
		try(r.v.phrases["#"])
	}
	return out
}

// phraseAt reports whether p stands at token i, and where it ends. A number in
// the phrase matches the same number however it is said.
func (r *reading) phraseAt(p phrase, i int) (int, bool) {
	for _, w := range p.words {
		if i >= r.hi {
			return 0, false
		}
		if r.stems[i] == w {
			i++
			continue
		}
		want, isNumber := parseDigits(w)
		if !isNumber {
			return 0, false
		}
		got, next, ok := r.numberAt(i)
		if !ok || got != want {
			return 0, false
		}
		i = next
	}
	return i, true
}
