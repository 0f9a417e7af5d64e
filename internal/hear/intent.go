package hear

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"bayword/internal/say"
)

// Fields are the fields of a request by their proto names: string, float64,
// int, bool, []string or []float64.
type Fields map[string]any

// Intent is one request as understood so far.
type Intent struct {
	Kind    string       `json:"kind"`
	Fields  Fields       `json:"fields"`
	Missing []string     `json:"missing,omitempty"` // needed fields that nobody filled
	Choices []say.Choice `json:"choices,omitempty"` // what may fill the first missing one
	Unit    string       `json:"unit,omitempty"`    // the unit its number was said in: a bare number later means the same
	Pack    string       `json:"pack,omitempty"`    // the container, when the unit is a pack
	Amount  float64      `json:"amount,omitempty"`  // as said, until the material is known
	Entry   uint64       `json:"entry,omitempty"`   // for Amend and Undo: the ledger entry meant
	Unknown string       `json:"unknown,omitempty"` // a name that the shop does not have
	Score   float64      `json:"score,omitempty"`

	inherited bool // Unit was that of the part before, not said here
}

// Done is a request that was carried out.
type Done struct {
	Intent Intent    `json:"intent"`
	Entry  uint64    `json:"entry,omitempty"`  // of a record
	Number int       `json:"number,omitempty"` // of a find
	Told   string    `json:"told,omitempty"`   // the first line that was answered
	Said   string    `json:"said,omitempty"`   // the message it comes from, cut to a line or two
	At     time.Time `json:"at,omitzero"`

	// What a question was answered with, when that is one figure: «in foot pounds?».
	Value float64 `json:"value,omitempty"`
	Unit  string  `json:"unit,omitempty"`
}

// Context is what was said before, and where this is said.
type Context struct {
	Now        time.Time // in the shop's time zone
	Speaker    string    // person id
	ChannelJob string    // job the channel stands for
	ThreadJob  string    // job the thread is about
	RecentJob  string    // job of the speaker's last turns, in a channel that stands for none
	Addressed  bool      // the bot must answer: a mention, a direct message, its own thread
	Pending    *Intent   // what it asked this speaker about and still waits for
	Again      bool      // the pending question only waits for a refused value said right
	Fresh      bool      // the pending question is newer than any record
	Last       *Done     // the speaker's last question or record here (in a thread: the thread's)
	Records    []Done    // records that stand, newest first, the speaker's own (in a thread: the thread's)
	Unit, Pack string    // the unit of the part before in the same message
	Continues  bool      // the message begins with «and»
	Here       []Done    // what anybody asked or recorded here not long ago, newest first
	LastFind   int       // number of the last find recorded or closed here
	Unheard    bool      // something with figures was said since the last record, and nothing came of it
	Before     string    // what the speaker said right before, when nothing came of it
	PassedOver bool      // something that names things of the shop was, and nothing came of it
}

// fallbackJob is the job when the message names none.
func (c Context) fallbackJob() string {
	switch {
	case c.ThreadJob != "":
		return c.ThreadJob
	case c.ChannelJob != "":
		return c.ChannelJob
	}
	return c.RecentJob
}

// kind is one kind of message: what it sounds like and what it needs.
type kind struct {
	name     string
	write    bool
	examples []string
	needs    []string
	// score says how much the reading sounds like this kind: below 0.5 not at
	// all, 1 and more for sure.
	score func(r *reading, c Context) float64
	// fill puts into the intent what the reading says. It may be called on an
	// answer, too, and then must not clear what is there.
	fill func(r *reading, c Context, in *Intent)
	// check names what is needed only sometimes, after fill.
	check func(in *Intent)
}

// clear margin and levels: a record needs more than an answer.
const (
	writeLevel = 0.9
	readLevel  = 0.75
	margin     = 0.15
)

func (in *Intent) set(field string, value any) { in.Fields[field] = value }

func (in *Intent) text(field string) string {
	s, _ := in.Fields[field].(string)
	return s
}

func (in *Intent) has(field string) bool {
	switch v := in.Fields[field].(type) {
	case nil:
		return false
	case string:
		return v != ""
	case []string:
		return len(v) > 0
	case []float64:
		return len(v) > 0
	}
	return true
}

// clone copies an intent so that changing the copy leaves the original.
func (in Intent) clone() Intent {
	f := make(Fields, len(in.Fields))
	for k, v := range in.Fields {
		f[k] = v
	}
	in.Fields = f
	in.Missing = slices.Clone(in.Missing)
	in.Choices = nil
	return in
}

// fillJob sets the job the reading names; it leaves one that is there.
func fillJob(r *reading, in *Intent) {
	if s, ok := r.first(spanJob); ok {
		in.set("job", s.id)
		return
	}
	if s, ok := r.weakest(spanJob); ok && !in.has("job") {
		in.set("job", s.id)
	}
}

// fillPlace sets panel, side and end.
func fillPlace(r *reading, in *Intent) {
	panels := r.all(spanPanel)
	for _, p := range panels {
		if p.id != "" {
			in.set("panel", p.id)
			delete(in.Fields, "panel_choice")
			break
		}
		if !in.has("panel") || slices.Contains(p.ids, "a-post") {
			delete(in.Fields, "panel")
			in.set("panel_choice", p.ids)
		}
	}
	if s, ok := r.first(spanSide); ok {
		in.set("side", s.id)
	}
	fillEnd(r, in)
	// The answer to «front or rear arch?»: «the rear one», «b».
	if ids, ok := in.Fields["panel_choice"].([]string); ok && len(panels) == 0 {
		for _, id := range ids {
			w, _, _ := strings.Cut(strings.ReplaceAll(id, "-", " "), " ")
			if r.has(w) || (w == "rear" && r.has("back")) {
				in.set("panel", id)
				delete(in.Fields, "panel_choice")
			}
		}
	}
}

// fillEnd sets which door, or which end of a sill or floor.
func fillEnd(r *reading, in *Intent) {
	if s, ok := r.first(spanEnd); ok && (in.text("panel") == "" || endPanels[in.text("panel")]) {
		in.set("end", s.id)
		return
	}
	if in.Kind == "RecordFind" && endPanels[in.text("panel")] && in.text("panel") != "door" {
		for _, s := range r.spans {
			if s.kind == spanEdge && (s.id == "front" || s.id == "rear") && !r.isLandmark(s.from) {
				in.set("end", s.id)
			}
		}
	}
}

// resolveSide turns «passenger», «driver» and «other» into left or right.
func (v *Vocabulary) resolveSide(c Context, in *Intent) {
	job := v.jobs[in.text("job")]
	lhd := job.GetDrive() == "lhd"
	switch in.text("side") {
	case "driver":
		in.set("side", map[bool]string{true: "left", false: "right"}[lhd])
	case "passenger":
		in.set("side", map[bool]string{true: "right", false: "left"}[lhd])
	case "other":
		delete(in.Fields, "side")
		if c.Last != nil {
			switch c.Last.Intent.text("side") {
			case "left":
				in.set("side", "right")
			case "right":
				in.set("side", "left")
			}
		}
	}
}

// fillMaterial sets the material, or what it may be.
func fillMaterial(r *reading, c Context, in *Intent) {
	fits := func(id string) bool {
		if in.Unit == "" || in.Unit == "pack" {
			return true
		}
		_, ok := r.v.amount(id, 1, in.Unit, in.Pack)
		return ok
	}
	id, choose, unknown := r.material(true, fits)
	// «its hardener»: the one that goes with the last material.
	if with := c.Last.lastMaterial(); with != "" && len(choose) > 1 && (r.has("its", "for it", "the hardener", "that") || stockKinds[in.Kind] && c.Last.Intent.Kind == in.Kind) {
		for _, m := range r.v.mats[with].GetMixedWith() {
			if slices.Contains(choose, m) && r.has("its", "for it") {
				id, choose = m, nil
				break
			}
		}
	}
	if old, ok := in.Fields["material_choice"].([]string); ok && id != "" && !slices.Contains(old, id) {
		id = "" // it names one of the choices by a word of another material
	}
	if id == "" && len(choose) == 0 && unknown == "" && r.has("of it", "of that") && !in.has("material") {
		id = c.Last.lastMaterial() // «used 0.9 of a litre of it»
	}
	switch {
	case id != "":
		in.set("material", id)
		delete(in.Fields, "material_choice")
		in.Unknown = ""
	case len(choose) > 0 && !in.has("material"):
		if old, ok := in.Fields["material_choice"].([]string); !ok || len(choose) < len(old) {
			in.set("material_choice", choose)
		}
	case unknown != "" && !in.has("material"):
		in.Unknown = unknown
	}
	if old, ok := in.Fields["material_choice"].([]string); ok {
		if m := r.oneOf(old); m != "" {
			in.set("material", m)
			delete(in.Fields, "material_choice")
		}
	}
}

// oneOf returns the one of several materials that the words fit and the others
// do not: the answer «the clear one» to «which hardener?».
func (r *reading) oneOf(ids []string) string {
	count := map[string]int{} // how many of the materials have a word
	words := map[string][]string{}
	for _, id := range ids {
		seen := map[string]bool{}
		m := r.v.mats[id]
		for _, name := range append([]string{m.GetName()}, m.GetAlsoCalled()...) {
			for _, t := range tokens(clean(name), func(w string) string { return w }) {
				if w := stem(t.text); !seen[w] {
					seen[w] = true
					count[w]++
					words[id] = append(words[id], w)
				}
			}
		}
	}
	found := ""
	for _, id := range ids {
		fits := false
		for _, w := range words[id] {
			if count[w] < len(ids) && count[w] == 1 {
				for i := r.lo; i < r.hi; i++ {
					fits = fits || r.stems[i] == w
				}
			}
		}
		if fits {
			if found != "" {
				return ""
			}
			found = id
		}
	}
	return found
}

func (d *Done) lastMaterial() string {
	if d == nil {
		return ""
	}
	return d.Intent.text("material")
}

// fillAmount sets how much of the material; it is converted when the material
// is known.
func fillAmount(r *reading, c Context, in *Intent) {
	units := []string{"l", "ml", "mil", "pint_uk", "gal_uk", "kg", "g", "lb", "oz", "m2", "ft2", "pack"}
	if s, ok := r.quantity(units...); ok {
		in.Amount, in.Unit, in.Pack = s.value, s.unit, s.id
		in.set("amount", s.value)
		return
	}
	if m, ok := r.first(spanMaterial); ok && len(r.bare()) == 0 && (r.word(m.from-1) == "a" || r.word(m.from-1) == "another") && containers[stem(r.word(m.to-1))] && !in.has("amount") {
		in.Amount, in.Unit = 1, "pack" // «and a gas bottle»
		in.set("amount", 1.0)
		return
	}
	for _, s := range r.bare() {
		if r.numberIsName(s) {
			continue
		}
		in.Amount = s.value
		if m, ok := r.first(spanMaterial); ok && (m.from == s.to || r.word(s.to) == "of" && r.word(s.to+1) == "them" || m.to == s.from) && containers[stem(r.word(m.to-1))] && in.Unit == "" {
			in.Unit = "pack" // «one wire reel»: its name ends with the container
		}
		if c.Unit != "" && in.Unit == "" {
			in.Unit, in.Pack, in.inherited = c.Unit, c.Pack, true // «2 tins of epoxy and one of the activator»
		}
		in.set("amount", s.value)
		return
	}
}

// numberIsName reports whether a bare number is part of a material's name
// («the 0.9»), when the reading holds another one.
func (r *reading) numberIsName(s span) bool {
	for _, m := range r.spans {
		if m.kind == spanMaterial && m.weak && m.from == s.from && (r.word(s.from-1) == "the" || r.word(s.from-1) == "of") {
			return true
		}
	}
	return false
}

// settleAmount converts the amount into the material's unit.
func (v *Vocabulary) settleAmount(in *Intent) {
	if !in.has("amount") || in.text("material") == "" || v.mats[in.text("material")] == nil {
		return
	}
	got, ok := v.amount(in.text("material"), in.Amount, in.Unit, in.Pack)
	if !ok && in.inherited {
		in.Unit, in.Pack = "", ""
		got, ok = in.Amount, true
	}
	if !ok {
		delete(in.Fields, "amount")
		in.Missing = append(in.Missing, "amount")
		return
	}
	in.set("amount", tidy(got))
}

// tidy takes binary dust off a converted number.
func tidy(x float64) float64 {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	p := math.Pow(10, 8-math.Ceil(math.Log10(math.Abs(x))))
	return math.Round(x*p) / p
}

func trimNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
