// Package hear turns the text of a message into typed requests.
//
// A message is cleaned, cut into tokens and mended (token.go, mend.go, words); spans are
// recognised once (spans.go, quantity.go, place.go, fastening.go, lexicon.go);
// it is cut into the requests it holds (segment.go, goes_on.go), and for each the kinds
// compete (one file a kind, listed in kinds.go). What depends on what was said
// before is in answer.go (the answer to a question), correct.go with changes.go and
// named.go (which record is meant), and follow.go; what is not so is in denied.go,
// what a record would leave out in left_out.go and half_heard.go.
//
// It may import the generated API types, unit and say's Choice; it never sees
// a connection, a clock or a store.
package hear

import (
	"cmp"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"bayword/internal/say"
)

// longest is how many bytes of a message are listened to; nobody says more in
// one breath, and what is longer is no message.
const longest = 2000

// listed are the numbers and signs that part the things of a list: «1) … 2) …», «£18+vat».
var listed = regexp.MustCompile(`(^|\s)\d\)\s|\+(?:vat|VAT)`)

// leading is a fraction that begins with its point: «.8».
var leading = regexp.MustCompile(`(^|\s)\.(\d)`)

// decimal is an amount written with a comma: «1,5 l».
var decimal = regexp.MustCompile(`(^|[^\d,.])(\d+),(\d{1,2})(\s?(?:l|litre|litres|ltr|ml|kg|kilo|kilos|h|hrs?|hours?)\b)`)

// Heard is what a message was understood to say.
type Heard struct {
	Intents []Intent // in the order said; those with Missing are to be asked about
	Answers bool     // the first intent completes the pending question
	Partly  bool     // a record was told, but not all of it was understood
}

// Hear understands one message in its context. It never fails: a message that
// says nothing to the bot has no intents, and neither has one that a fault here
// chokes on, for it would stop the bot for everybody and be handed in again.
func (v *Vocabulary) Hear(text string, c Context) (heard Heard) {
	defer func() {
		if recover() != nil {
			heard = Heard{}
		}
	}()
	return v.hear(text, c)
}

func (v *Vocabulary) hear(text string, c Context) Heard {
	text = leading.ReplaceAllString(text, "${1}0.$2")
	text = decimal.ReplaceAllString(listed.ReplaceAllString(clean(text), "$1, "), "$1$2.$3$4")
	if len(text) > longest || strings.ContainsAny(text, "{}<>") {
		return Heard{}
	}
	r := v.read(text, c.Now)
	if r.hi == 0 {
		return Heard{}
	}
	r = r.beforeCourtesy()
	c.Continues = r.word(r.lo) == "and"
	// What is told in a person's own words may sound like a correction.
	if c.Pending != nil && c.Fresh && (r.word(r.lo) == "no" || r.word(r.lo) == "sorry") {
		if in, ok := v.answer(r, c); ok {
			return Heard{Intents: []Intent{in}, Answers: true}
		}
	}
	if in, ok := v.thatToo(r, c); ok {
		return Heard{Intents: []Intent{in}}
	}
	if in, ok := r.conditionOf(c); ok {
		return Heard{Intents: []Intent{in}}
	}
	if r.otherFigure(c) || r.clarifies(c) {
		if follow, ok := v.follow(r, c); ok {
			return Heard{Intents: follow}
		}
	}
	if c.Again && c.Pending != nil {
		if again, _ := v.intents(r, c); len(again) == 1 && complete(again[0]) && again[0].Kind == c.Pending.Kind && stockKinds[again[0].Kind] {
			return Heard{Intents: again, Answers: true} // «used 1.2 kilos on the osmere i meant», after 12 was refused
		}
	}
	if in, ok := v.correct(r, c); ok {
		return Heard{Intents: []Intent{in}}
	}
	intents, partly := v.intents(r, c)
	if c.Pending != nil && (len(intents) == 0 || !complete(intents[0]) || v.mostlyAnswer(r, c, intents)) {
		if in, ok := v.answer(r, c); ok {
			return Heard{Intents: []Intent{in}, Answers: true}
		}
	}
	if gap := c.lastGap(); gap != nil && len(intents) == 0 {
		if tail := r.lastEdge(); tail != nil {
			on := c
			on.Last = gap
			if follow, ok := v.follow(tail, on); ok {
				return Heard{Intents: follow} // «shimmed it, rear edge 4.5 4.5 4.5»
			}
		}
	}
	if len(intents) == 1 && !complete(intents[0]) || len(intents) == 0 {
		if follow, ok := v.follow(r, c); ok {
			return Heard{Intents: follow}
		}
	}
	return Heard{Intents: intents, Partly: partly}
}

func complete(in Intent) bool { return len(in.Missing) == 0 }

// mostlyAnswer reports that a look-up was only heard because nothing better
// was there: a bare name that answers the pending question as well.
func (v *Vocabulary) mostlyAnswer(r *reading, c Context, intents []Intent) bool {
	if r.asking() || len(intents) > 1 {
		return false
	}
	if intents[0].Kind == "LogHours" && timed[c.Pending.Kind] && (wantsText(c.Pending.Missing) || c.Fresh && slices.Equal(c.Pending.Missing, []string{"hours"})) {
		return !r.has("did", "worked", "spent", "logged", "log", "put me", "book") // «rub down the rack, 2 hours» is the task
	}
	if fillsPending(intents[0], *c.Pending) {
		return true
	}
	if len(r.rest()) > 0 || r.hi-r.lo > 6 {
		return false
	}
	if intents[0].Kind != c.Pending.Kind {
		return !isWrite(intents[0].Kind)
	}
	for f, said := range intents[0].Fields {
		if f != "people" && f != "day" && c.Pending.has(f) && !slices.Contains(c.Pending.Missing, f) && !same(said, c.Pending.Fields[f]) {
			return false // it is about another thing
		}
	}
	return true
}

// fillsPending reports that a record says again what a question already has, and what
// it asks for, and nothing else: «the chassis leg hole is on the offside».
func fillsPending(in, q Intent) bool {
	if in.Kind != q.Kind || in.Kind != "RecordFind" {
		return false
	}
	for _, f := range q.Missing {
		if !in.has(f) {
			return false
		}
	}
	for _, f := range []string{"panel", "kind", "side", "width_mm", "height_mm", "diameter_mm", "depth_mm", "count"} {
		if in.has(f) && !slices.Contains(q.Missing, f) && !same(in.Fields[f], q.Fields[f]) {
			return false
		}
	}
	return true
}

// intents returns the requests a message makes by itself; none, and partly, when its
// records would leave something out.
func (v *Vocabulary) intents(r *reading, c Context) (all []Intent, partly bool) {
	var out []Intent
	carried := Intent{Fields: Fields{}}
	groups := v.split(r, c)
	for _, g := range groups {
		if g.kind == nil {
			carry(g.r, &carried)
			continue
		}
		if !v.kinds[g.kind.name] {
			continue
		}
		var prev *Intent
		if len(out) > 0 {
			prev = &out[len(out)-1]
		}
		for _, in := range v.build(g, c, prev, carried) {
			// «its sorted, shut that one» says one thing twice.
			if !slices.ContainsFunc(out, func(o Intent) bool { return o.Kind == in.Kind && reflect.DeepEqual(o.Fields, in.Fields) }) {
				out = append(out, in)
			}
		}
		carry(g.r, &carried)
	}
	out = r.batchToo(out)
	if leavesOut(r, groups, out) {
		return nil, slices.ContainsFunc(out, func(in Intent) bool { return in.Score >= 1 })
	}
	out = oneClosing(sameWork(r, v.startToo(r, v.finishToo(r, c, out))))
	if r.startsToo(out) {
		return nil, true
	}
	return out, false
}

// onlyJob returns the job that the message names, when it names one alone.
func (r *reading) onlyJob() string {
	job := ""
	for _, s := range r.all(spanJob) {
		if job != "" && s.id != job {
			return ""
		}
		job = s.id
	}
	return job
}

// carry remembers the place and job that a part names for the parts after it.
func carry(r *reading, in *Intent) {
	if s, ok := r.first(spanJob); ok {
		in.set("job", s.id)
	}
	panels := r.all(spanPanel)
	if len(panels) == 0 || panels[len(panels)-1].id == "" {
		return
	}
	at := 0
	if r.allIsWell() {
		at = len(panels) - 1 // «os sill: no holes. ns sill: …»
	}
	in.set("panel", panels[at].id)
	delete(in.Fields, "side")
	if sides := r.all(spanSide); len(sides) > 0 {
		in.set("side", sides[min(at, len(sides)-1)].id)
	}
}

// build fills the intents of one group: one, or several when it names several
// fasteners, finds or sides.
func (v *Vocabulary) build(g group, c Context, prev *Intent, carried Intent) []Intent {
	in := Intent{Kind: g.kind.name, Fields: Fields{}, Score: g.score}
	local := c
	if prev == nil && c.Continues && c.Last != nil && c.Last.Intent.Kind == g.kind.name && stockKinds[g.kind.name] && c.Last.Intent.Unit == "pack" {
		local.Unit, local.Pack = "pack", c.Last.Intent.Pack // «and one of epoxy», after two tins
	}
	if prev != nil {
		local.Last = &Done{Intent: *prev}
		if prev.Kind == g.kind.name {
			local.Unit, local.Pack = prev.Unit, prev.Pack
		}
	}
	g.kind.fill(g.r, local, &in)
	if prev != nil && prev.Kind == "LogHours" && in.Kind == "LogHours" && !in.has("work") && !in.has("job") && prev.has("work") {
		in.set("work", prev.text("work")) // «2 hours strip today and 1.5 yesterday»
	}
	if prev != nil && prev.Kind == "RecordFind" && in.Kind == "RecordFind" && !in.has("kind") {
		in.set("kind", prev.text("kind")) // «holes: ns floor 40, os floor 60x30»
	}
	if _, chosen := in.Fields["material_choice"]; in.Kind == "RecordUse" && !in.has("material") && !chosen && in.Unknown == "" && prev != nil && prev.has("material") && g.r.has("used") {
		in.set("material", prev.text("material")) // «2 coats of clear on the bonnet and 1.5 litres used»
	}
	if !in.has("job") {
		if c.ChannelJob != "" && in.Kind == "LogHours" && g.r.has("here", "this one", "on this") && len(g.r.all(spanJob)) == 0 {
			in.set("job", c.ChannelJob) // «2 hours here, 3 on the tern»
		} else if carried.has("job") {
			in.set("job", carried.text("job"))
		} else if job := g.r.whole.onlyJob(); job != "" {
			in.set("job", job) // «1.5 litres of clear and half a litre of hardener on the osmere»
		}
	}
	if _, chosen := in.Fields["panel_choice"]; !in.has("panel") && !chosen && carried.has("panel") && slices.Contains(g.kind.needs, "panel") {
		in.set("panel", carried.text("panel"))
		if !in.has("side") && carried.has("side") {
			in.set("side", carried.text("side"))
		}
		fillEnd(g.r, &in)
	}
	if c.Last != nil && (c.ThreadJob != "" || c.Continues && c.Last.Intent.Kind == in.Kind && in.Kind == "RecordGap" || in.Kind == "RecordGap" && g.r.nextEdge(c) || g.r.has("same door", "same panel", "same one", "same side", "same job", "same wing", "same")) {
		for _, f := range []string{"panel", "side", "material", "fastener", "end"} {
			needed := slices.Contains(g.kind.needs, f) || f == "end"
			if _, chosen := in.Fields[f+"_choice"]; needed && !chosen && !in.has(f) && c.Last.Intent.has(f) && (f != "side" || c.Last.Intent.text("panel") == in.text("panel")) {
				in.set(f, c.Last.Intent.Fields[f])
			}
		}
	}
	if g.kind.name == "RecordUse" && !in.has("job") && c.ChannelJob == "" && c.ThreadJob == "" {
		other := Intent{Fields: Fields{}}
		if g.r.unknownJob(&other); other.Unknown != "" && in.Unknown == "" {
			in.Unknown = other.Unknown // «on the plover»: no job of that name
			in.set("job_unknown", other.Unknown)
		}
	}
	var list []Intent
	switch g.kind.name {
	case "LookUpTorque":
		for _, s := range g.r.all(spanFastener) {
			one := in.clone()
			one.set("fastener", s.id)
			list = append(list, one)
		}
	case "GetStock":
		for _, s := range g.r.all(spanMaterial) {
			if s.id != "" {
				one := in.clone()
				one.set("material", s.id)
				list = append(list, one)
			}
		}
	case "CloseFind":
		for _, s := range g.r.all(spanNumbered) {
			if s.id == "find" {
				one := in.clone()
				one.set("find", int(s.value))
				list = append(list, one)
			}
		}
	}
	if len(list) == 0 {
		list = []Intent{in}
	}
	var out []Intent
	for _, one := range list {
		out = append(out, v.finish(one, c)...)
	}
	return out
}

// finish resolves what depends on the shop (sides, units, the default job),
// notes what is missing, and makes «both» sides two intents.
func (v *Vocabulary) finish(in Intent, c Context) []Intent {
	k := kindNamed(in.Kind)
	in.Missing, in.Choices = nil, nil
	v.defaults(&in, c)
	v.resolveSide(c, &in)
	v.settleAmount(&in)
	for _, f := range k.needs {
		if f == "side" {
			if p := in.text("panel"); p != "" && !sided[p] {
				// A centre panel needs none; one that was said is kept.
				continue
			}
			if in.text("panel") == "" && in.has("panel_choice") {
				// Posts and arches have sides, valances none; ask for the panel first.
				if ids, _ := in.Fields["panel_choice"].([]string); len(ids) > 0 && !sided[ids[0]] {
					continue
				}
			}
		}
		if f == "edge" && in.Kind == "RecordGap" && in.has("edge") {
			continue
		}
		if !in.has(f) && !slices.Contains(in.Missing, f) {
			in.Missing = append(in.Missing, f)
		}
	}
	if k.check != nil {
		k.check(&in)
	}
	if in.Unknown != "" && len(in.Missing) == 0 && in.Kind == "LogHours" && c.ChannelJob == "" {
		in.Missing = append(in.Missing, "job")
		delete(in.Fields, "job")
	}
	if in.has("job_unknown") && !in.has("job") {
		in.Missing = append(in.Missing, "job")
	}
	in.Choices = v.choices(in)
	if in.text("side") == "both" {
		if k.write && in.Kind != "RecordFind" && in.Kind != "RecordGap" && in.Kind != "CloseFind" && in.Kind != "SetGap" {
			delete(in.Fields, "side")
			return []Intent{in}
		}
		left, right := in.clone(), in.clone()
		left.Choices, right.Choices = in.Choices, in.Choices
		left.set("side", "left")
		right.set("side", "right")
		if !complete(in) {
			return []Intent{in}
		}
		return []Intent{left, right}
	}
	return []Intent{in}
}

// defaults fills what nobody needs to say.
func (v *Vocabulary) defaults(in *Intent, c Context) {
	k := kindNamed(in.Kind)
	wantsJob := slices.Contains(k.needs, "job")
	if !in.has("job") {
		job := c.fallbackJob()
		switch in.Kind {
		case "RecordUse":
			if c.ChannelJob != "" || c.ThreadJob != "" {
				in.set("job", cmp.Or(c.ThreadJob, c.ChannelJob))
			} else if c.Continues && c.Last != nil && c.Last.Intent.text("job") != "" {
				in.set("job", c.Last.Intent.text("job"))
			}
		case "CloseFind":
			if in.has("find") {
				job = cmp.Or(c.ThreadJob, c.ChannelJob)
			}
			if job != "" {
				in.set("job", job)
			}
		case "ListFinds":
			if job != "" {
				in.set("job", job)
			}
		case "PlanMix", "CheckEnough":
			if job != "" {
				in.set("job", job)
			}
		default:
			if wantsJob && job != "" {
				in.set("job", job)
			}
		}
	}
	if in.Kind == "RecordCoat" && !in.has("at") {
		in.set("at", c.Now.Format(isoMinute))
	}
	if in.Kind == "StartTask" && !in.has("who") && c.Speaker != "" {
		in.set("who", c.Speaker)
	}
	if in.Kind == "LogHours" {
		if !in.has("people") && c.Speaker != "" && !in.has("whose") {
			in.set("people", []string{c.Speaker})
		}
		if !in.has("day") {
			in.set("day", c.Now.Format(isoDay))
		}
	}
}

// choices offers what may fill the missing field, when there are few.
func (v *Vocabulary) choices(in Intent) []say.Choice {
	if len(in.Missing) == 0 {
		return nil
	}
	switch in.Missing[0] {
	case "side":
		return []say.Choice{{Label: "left (nearside)", Say: "left"}, {Label: "right (offside)", Say: "right"}}
	case "panel":
		ids, _ := in.Fields["panel_choice"].([]string)
		var out []say.Choice
		for _, id := range ids {
			out = append(out, say.Choice{Label: id, Say: id})
		}
		return out
	case "material":
		ids, _ := in.Fields["material_choice"].([]string)
		var out []say.Choice
		for _, id := range ids {
			out = append(out, say.Choice{Label: v.mats[id].GetName(), Say: v.mats[id].GetName()})
		}
		return out
	case "amount":
		if in.Amount >= millilitres && in.Unit == "" {
			return []say.Choice{{Label: trimNumber(in.Amount) + " ml", Say: trimNumber(in.Amount) + " ml"}}
		}
		return nil
	case "what":
		return []say.Choice{{Label: "yes, take it back", Say: "yes"}}
	case "at":
		hour, ok := number(in.Fields["hour"])
		if !ok {
			return nil
		}
		said := trimNumber(hour)
		if hour > 12 {
			return []say.Choice{{Label: "tomorrow at " + said, Say: "tomorrow at " + said}}
		}
		return []say.Choice{{Label: "tonight at " + said, Say: "tonight at " + said}, {Label: "tomorrow at " + said, Say: "tomorrow at " + said}}
	case "edge":
		return []say.Choice{{Label: "front edge", Say: "front edge"}, {Label: "rear edge", Say: "rear edge"}, {Label: "top edge", Say: "top edge"}, {Label: "bottom edge", Say: "bottom edge"}}
	case "job":
		var out []say.Choice
		for _, j := range v.names.GetJobs() {
			out = append(out, say.Choice{Label: j.GetId(), Say: j.GetId()})
		}
		slices.SortFunc(out, func(a, b say.Choice) int { return strings.Compare(a.Say, b.Say) })
		if len(out) > 5 {
			return nil
		}
		return out
	}
	return nil
}
