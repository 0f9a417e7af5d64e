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
	behind  map[string][]string // in names, the words behind a word
	before  map[string][]string // in names, the words before a word
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
	v := &Vocabulary{names: names, phrases: map[string][]phrase{}, behind: map[string][]string{}, before: map[string][]string{}, jobs: map[string]*pb.JobName{}, mats: map[string]*pb.MaterialName{}, kinds: map[string]bool{}}
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
	v.neighbours(stems)
}

// neighbours notes which words stand beside which in a name.
func (v *Vocabulary) neighbours(name []string) {
	for i := range len(name) - 1 {
		v.behind[name[i]] = append(v.behind[name[i]], name[i+1])
		v.before[name[i+1]] = append(v.before[name[i+1]], name[i])
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
					if !strings.HasSuffix(w, "s") {
						set[w+"s"] = true
					}
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
const cueWords = `about accept accepted accepts according across actually adapter address adjust adjusted adjustment advice advise after aftermarket afternoon again against
agreed agrees aiming aint alarm allowed almost along already alright altogether aluminium amount amps another answer answered antiroll anybody anyhow anyone
anything anyway apiece apparently applied apprentice approve approved approves approx approximately april arent arguing around arrival arrive arrived arrives
arriving asking asleep assemble assembling assembly assisting august awaiting away axle back based batch because been before beginning behind being believe
beneath beside best better between beyond bigger binder binned blasting block blocked blocker blockers blocking blocks blow bodge body bolts book booked booking
booth borrowed both bother bottleneck bottom bought bracket brazed breaker breakers brief bronze brother brought brushed bsf bsw buckled budget bulletin bundle
burned burnt buying cable cables caliper calipers call called came cancel cancelled cant capscrew carpet carpets carriage cars center centre chances
change changed channel charge chased chasing check checked cheers chewed chipped choice christmas chuck chucked clean clear cleared clicked clock clocked close
closed closer closes coarse coat coats coffee collect collected colour come coming complete completed completely completion condition conductor confirmed
contaminated content control convert copper coppergrease copperslip correct corrected correction costing could couldnt count counted couple courier cousin cover
crack cracked creased create crow crowfoot crows cured curing customer damage damaged damp damper date days december decide decided decline declined declines
deep deepest defect degrees delayed delete delivered delivery dent dented depends diameter diameters didnt diff dinner dipped direct dirt dirty discount
dismantle dismantling disregard ditto document documents does doesnt doing dollars dollop done dont door down dreaming dressed drew drill drilled drive driver
drivers driveshaft driving drop dropped drove dry dumped during dusted each earlier earliest early easter ecord edge edges edit eighteenth eighth eighths either
eleventh else emailed emind emptied engaged engagement enough entire entirely equals estimate estimated evening every everybody everybodys everyone everyones
everything except exchange exhaust expect expected expecting expires expiry extension extra extras fabricate fabricating fabrication facing false fancy fast
fastener february fence ferry fetched fibreglass fifteenth figure filled filler filling film final finally find finds finger finish finished finishing first
fitted fitting fixed fixing flat flatted flatting flush folder foot forecast forget forgot fortnight forward found fourteenth fourth freezing friday from front
ftlb full galvanised gap gaps garage garden gauge gelled genuine getting give gives going gone gonna good grabbed grafting grease greased grinding ground guide
hadnt half hand handbook handbrake handed handing handle handover hang happened happens hard hardener harness hasnt have havent having headlining heated heater
height help helped helping here hes hinge hinged hinges history holding holdup holdups hole holes home honest hopefully hoping hospital hour hours hows humid
humidity hundred hunting husband hygrometer idea ignore imagine inboard inspector instead interested interior into invoice isnt item january job jobs july june
just keeping kettle kicking killer kilogram kilowatts kingpin kitchen knackered knock knocked know labeled labelled labour laid landed last late later latest
leading leave leaves leaving left lefthand length lesson lets letting level life lights like likely likewise line lines lining list listening litres load
locating locker log logged logging long longer look looking loom lose lost lovely lowdown lower lubricated lubrication lumpy made magnesium make making manage
manual many march mark masking master match mate material materials maybe mean meaning meant measure measured measures mechanical mechanicals mechanics meeting
mended mending metal metals metalwork metre metres midday middle might millimetres mind mine minus minute minutes mirror miscounted misread missing missus
mistake mix mixed mixing moaning moly molyslip moment monday money more morning mostly motors motorway mounting move moving much muck must mustnt myself name
nearer nearly nearside need needed neednt needs negative neither never nevermind newton newtons next nicely nicked nicker night nineteen nineteenth nipped
nobody nope note notes nothing november nowhere number numbered nuts october offered offering offset offside oiled okayed once ones only oops open opened
opening opposite orange order ordered ordering orders originally other outboard outside outstanding over overdrive overdue package packages page paint painting
paintwork panel panelbeating panels panhard paperwork parcel parcels parking part parts passed passenger passengers patch patched patches patching pattern
paying pending people percent perfect perfectly person phone phoned photos picked picking picture pictures pinhole pinholes pitch pitted pitting place placed
places plan planning plastic plated plating please plugged plugs plumbing plus plusminus point polish polished polishing popped pounds poured pretend
previous price priced pricing priming probably programme progress projected projects promise promised proofing proper properly proposed proposing proud
provenance provided pull pulled pulling pushed quantity question queue queued queueing queuing quoted quoting rack radiator raining raised raising rather ratio
ratios rder read reading readings ready rear rearward received reckon reckons recoat recommend recon reconditioned record recorded records recount recounted
redone reference refitting refund refurb refurbished refuse refused regulator rehang reject rejected remade remaining remanufactured remind reminder reminders
remove remover renewing reopen reopened reorder reordering repair repairable repaired repairing repeating repeats replace replaced replacement replacing report
reproduction reskin reskinning resolved respray restoration retorqued retrim returned revs right righthand ringing riveted road rollcage rotted rotten roughly
rubbed ruined rule rundown running rust rusted rusty safe said salvage salvaging same sand sanded sanding sandwich sandwiches saturday savable saveable saving
saying says scrap scrapped scrapyard scratch scratched screwdriver scribble scrub scuffed seal seamed searching second secondhand seen sending september setting
seventeenth seventh shackle sheet shelf shell shes shift shim shims shivering shocker shooting shop shopping short shot should shoulders shouldnt show showed
shut shutline shutlines side sign signed signoff silenced single sister sitting sixteenth sixteenths size skinned slapped sleep sleeping slept slices slightly
slipped slung smaller snag snagged snags some somebody someone something sooner sorry sort sorted source spec speed spent spilled spilt split spray sprayed
spraying spread square squared squirt squirted stages stalled stand standing stands standstill start started starter starting starts state status steel steering
sterling stick sticks still stitched stock stocking stocktake stopped stopping straight stretch strike strip stripdown stripped stripping stuck sufficient
sunday supplier suppliers suppose supposed supposedly surface suspension swallowed switch swivel sworn tacked take takeaway taken taking talk talking tapped
target task tasks teacher tearoom tell telling telly temperature text texted thanks that thats theirs them there thereabouts theres they theyll theyre theyve
thick thickness things thinking thinks thirds thirteenth thirtieth this those though thought thousand thread threadlock threadlocked threadlocker three threw
through throw thrown thumbs thursday tight tighten tightened till time times tipped titanium today tolerance tomorrow tonight took topcoat topic torque torqued
torques total toward towards towbar town tractor tradesperson traffic trailing train treated trim trimming trunnion tuesday turned twelfth twentieth twice
twisted typo tyre tyres unable unanswered unc uncovered undecided under underneath underway undo unf unit unless until update upholster upholstery upper upside
upwards used using value values vehicle vehicles versus wait waiting walk walked want wanted wanting wants warped wasnt waste wasted watching weather wedding
wednesday week weekend weighed welded welding well went were werent weve what whats wheel when whens where wheres which whit whitworth whitworths whoever whole
whoops whos whose width will winder window windows windscreen wing winner wipe wire wiring wish wishbone wishes with within without wont work worked working
workshop worth would wouldnt wound wrapped wrench wrists writeup written wrong years yesterday your youre youve zapped zinc zinced`

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
