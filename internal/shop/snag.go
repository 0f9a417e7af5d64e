package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Snag is a small fault as it stands.
type Snag struct {
	SnagAdded
	Said
	Mended  Said     // who put it right; zero while it is open, and when it came in closed
	Entries []uint64 // about it, oldest first
}

// snagOf gives the snag of a record, standing or not.
func (s *State) snagOf(i uint32) Snag {
	e, _ := s.details[i].(SnagAdded)
	t := thing{kind: recSnag, number: e.Number}
	snag := Snag{SnagAdded: e, Said: s.said(i), Entries: s.entriesOf(t)}
	for _, k := range s.about[t] {
		snag.Closed, snag.Mended = true, s.said(k)
	}
	return snag
}

// SnagFilter says which snags are meant; zero values mean any.
type SnagFilter struct {
	Job          string
	Open, Closed bool // only those
}

// Snags gives the snags that fit, by number.
func (s *State) Snags(f SnagFilter) ([]Snag, error) {
	if f.Job != "" {
		if _, err := s.job(f.Job); err != nil {
			return nil, err
		}
	}
	var found []Snag
	for t, i := range s.things {
		if t.kind != recSnag {
			continue
		}
		n := s.snagOf(i)
		if (f.Job == "" || n.Job == f.Job) && (!f.Open || !n.Closed) && (!f.Closed || n.Closed) {
			found = append(found, n)
		}
	}
	slices.SortFunc(found, func(a, b Snag) int { return a.Number - b.Number })
	return found, nil
}

// Snag gives the standing snag of a number.
func (s *State) Snag(n int) (Snag, bool) {
	i, ok := s.things[thing{kind: recSnag, number: n}]
	if !ok {
		return Snag{}, false
	}
	return s.snagOf(i), true
}

// OpenSnags counts the snags of a job that were not put right.
func (s *State) OpenSnags(job string) int {
	n := 0
	for _, i := range s.jobs[s.jobAt[job]].recs {
		if s.recs[i].kind == recSnag && !s.snagOf(i).Closed {
			n++
		}
	}
	return n
}

// hurt is what can hurt someone on the road: one of its phrases, the longer before
// the shorter, beside one of the words with, where there are any, and beside none of
// but. now is to be minded at once, mended when it is put right.
type hurt struct {
	phrases, with, but []string
	now, mended        string
}

// What is to be minded when it is put right, by subject. Common practice, no source.
const (
	brakesMended   = "Brakes: look at every joint and hose for leaks with the pedal held down, check the fluid, and try them slowly off the road first."
	steeringMended = "Steering: every fastening to the maker's figure and locked as the book says; turn it from lock to lock with the weight on the wheels."
	wheelsMended   = "Wheels: tighten to the maker's figure with a torque wrench, and again after the first run as the book says."
	beltsMended    = "Belts and seats: anchors to the maker's figure, webbing whole, the belt locks when it is pulled sharply; have it looked at by a licensed inspector."
	springsMended  = "Suspension: fastenings to the maker's figure, at the height the book says; stand clear of anything held up by a jack alone."
	fuelMended     = "Fuel: run it and look for leaks at every joint, then once more with it stopped; no naked flame, no sparks, doors open, an extinguisher by."
	lampsMended    = "Lamps: try every one of them, with somebody looking from outside."
	wiringMended   = "Wiring: a fuse no bigger than the maker's diagram says; feel for heat with everything on."
)

// hurtful is what a snag has a caution for. Common practice, no source.
var hurtful = []hurt{
	{mended: lampsMended, phrases: []string{
		"head lamp", "head light", "tail lamp", "tail light", "rear lamp", "rear light", "side lamp", "side light",
		"brake lamp", "brake light", "stop lamp", "stop light", "main beam", "dipped beam",
		"headlamp", "headlight", "taillamp", "taillight", "sidelamp", "sidelight", "indicator", "hazard", "hazards",
	}},
	{mended: brakesMended, phrases: []string{"handbrake", "braking", "brake", "master cylinder", "wheel cylinder", "caliper"}, but: []string{"clutch master cylinder"}},
	{mended: steeringMended, phrases: []string{"steering wheel", "steering", "track rod", "ball joint"}},
	{mended: wheelsMended, phrases: []string{"wheel", "tyre", "tire"}, but: []string{"wheel arch", "wheel well", "wheel trim"}},
	{mended: wheelsMended, phrases: []string{"wheel nut", "wheel bolt", "wheel bearing", "wheel loose", "tyre", "tire"}},
	{mended: beltsMended, phrases: []string{"seat belt", "seatbelt", "belt webbing", "lap belt"}},
	{mended: springsMended, phrases: []string{"suspension", "axle", "road spring", "leaf spring", "coil spring", "spring hanger", "damper", "shock absorber"}},
	{mended: beltsMended, phrases: []string{"belt", "harness"}, but: []string{"fan belt", "drive belt", "timing belt", "alternator belt", "wiring harness"}},
	{mended: beltsMended, phrases: []string{"seat"}, with: []string{"mounting", "mount", "bolt", "runner", "rail", "anchor", "fixing", "loose", "rocks"}},
	{
		mended: fuelMended, now: "No naked flame, no sparks, an extinguisher by; do not start it. ",
		phrases: []string{"fuel", "petrol", "diesel"}, with: []string{"leak", "weep", "drip", "seep", "smell", "stink", "split", "perished"},
	},
	{
		mended: wiringMended, now: "Disconnect the battery. ",
		phrases: []string{"wiring", "loom", "wire", "cable", "fuse"}, with: []string{"hot", "burn", "burnt", "melt", "melted", "smoke", "spark", "bare", "short"},
	},
}

// at gives where a phrase stands in a snag's words; -1 for nowhere.
func at(words []string, phrase string) int {
	p := plainWords(phrase)
	for i := range len(words) - len(p) + 1 {
		if slices.Equal(words[i:i+len(p)], p) {
			return i
		}
	}
	return -1
}

func says(words, phrases []string) bool {
	return slices.ContainsFunc(phrases, func(phrase string) bool { return at(words, phrase) >= 0 })
}

// in tells whether a snag's words say it.
func (h hurt) in(words []string) bool {
	return says(words, h.phrases) && (len(h.with) == 0 || says(words, h.with)) && !says(words, h.but)
}

// strike takes the phrases out of the words: a brake lamp is no brake.
func (h hurt) strike(words []string) {
	for _, phrase := range h.phrases {
		for i := at(words, phrase); i >= 0; i = at(words, phrase) {
			for k := range plainWords(phrase) {
				words[i+k] = ""
			}
		}
	}
}

// hurts gives what a snag's words say that can hurt someone.
func hurts(text string) []hurt {
	var found []hurt
	words := slices.Clone(plainWords(text))
	for _, h := range hurtful {
		if h.in(words) {
			found = append(found, h)
			h.strike(words)
		}
	}
	return found
}

// SnagCaution is what to watch for when a snag is about what keeps people safe on
// the road; empty for other snags. Common practice, no source.
func SnagCaution(text string) string {
	found := hurts(text)
	if len(found) == 0 {
		return ""
	}
	var now string
	for _, h := range found {
		now += h.now
	}
	return now + "Do not drive it until it is put right; go by the maker's book, and have somebody competent look at it before it goes on the road."
}

// MendedCaution is what to check once such a snag is put right; empty for other
// snags. Common practice, no source.
func MendedCaution(text string) string {
	var check []string
	for _, h := range hurts(text) {
		if !slices.Contains(check, h.mended) {
			check = append(check, h.mended)
		}
	}
	if len(check) == 0 {
		return ""
	}
	return strings.Join(check, " ") + " The maker's book comes first; somebody competent looks at it before it goes on the road."
}

// NewSnag asks to keep a snag.
type NewSnag struct{ Job, Text string }

// DecideSnag decides the keeping of a snag.
func (s *State) DecideSnag(by string, r NewSnag) (Decision, error) {
	if err := s.may(by, taskAddSnag); err != nil {
		return Decision{}, err
	}
	return s.decideSnag(r, s.last[recSnag]+1)
}

func (s *State) decideSnag(r NewSnag, number int) (Decision, error) {
	text := strings.TrimSpace(r.Text)
	if err := missing(need{"job", r.Job != ""}, need{"text", text != ""}); err != nil {
		return Decision{}, err
	}
	open, err := s.Snags(SnagFilter{Job: r.Job, Open: true})
	if err != nil {
		return Decision{}, err
	}
	for _, n := range open {
		if sameText(n.Text, text) {
			return Decision{}, refuse(AlreadyExists, "field", "text", "value", fmt.Sprintf("%s (snag %d)", text, n.Number))
		}
	}
	return Decision{Event: SnagAdded{Number: number, Job: r.Job, Text: text}}, nil
}

// resnag changes what a snag says.
func (s *State) resnag(e SnagAdded, c Changes) (Decision, error) {
	d, err := s.decideSnag(NewSnag{or(c.Job, e.Job), or(c.Text, e.Text)}, e.Number)
	if now, ok := d.Event.(SnagAdded); ok {
		now.Closed = e.Closed
		d.Event = now
	}
	return d, err
}

// SnagClosing asks to mark a snag as put right: by number, by its words, or the
// one open on the job.
type SnagClosing struct {
	Job    string
	Number *int
	Text   string
}

// DecideSnagClosed decides which snag is meant and whether it can be closed.
func (s *State) DecideSnagClosed(by string, r SnagClosing) (Decision, error) {
	if err := s.may(by, taskCloseSnag); err != nil {
		return Decision{}, err
	}
	return s.decideSnagClosed(r)
}

func (s *State) decideSnagClosed(r SnagClosing) (Decision, error) {
	if r.Number != nil {
		return s.mendNumber(r.Job, *r.Number)
	}
	if err := missing(need{"job", r.Job != ""}); err != nil {
		return Decision{}, err
	}
	all, err := s.Snags(SnagFilter{Job: r.Job})
	if err != nil {
		return Decision{}, err
	}
	var open, closed []candidate
	for _, n := range all {
		c := candidate{number: n.Number, words: n.Text, label: fmt.Sprintf("snag %d: %s", n.Number, n.Text)}
		if n.Closed {
			closed = append(closed, c)
		} else {
			open = append(open, c)
		}
	}
	switch {
	case strings.TrimSpace(r.Text) != "":
		n, err := meantFirst("snag", r.Text, open, closed)
		if err != nil {
			return Decision{}, err
		}
		return s.mendNumber(r.Job, n)
	case len(open) == 1:
		return s.mendNumber(r.Job, open[0].number)
	case len(open) > 1:
		return Decision{}, ambiguous("snag", open)
	case len(closed) > 0:
		return Decision{}, refuse(AlreadyDone, "what", "no snag of "+r.Job+" is open")
	}
	return Decision{}, refuse(NotFound, "field", "snag", "value", r.Job)
}

func (s *State) mendNumber(job string, n int) (Decision, error) {
	snag, ok := s.Snag(n)
	if !ok {
		return Decision{}, refuse(NotFound, "field", "snag", "value", strconv.Itoa(n))
	}
	if err := s.onJob("snag", n, job, snag.Job); err != nil {
		return Decision{}, err
	}
	if snag.Closed {
		return Decision{}, refuse(AlreadyDone, "what", fmt.Sprintf("snag %d is put right", n))
	}
	return Decision{Event: SnagClosed{n, snag.Job}}, nil
}

// DecideSnagReopened takes back that a snag was put right, whoever said it: a fault
// may come back under anybody's hands.
func (s *State) DecideSnagReopened(by string, n int) (Decision, error) {
	if err := s.may(by, taskCloseSnag); err != nil {
		return Decision{}, err
	}
	snag, ok := s.Snag(n)
	if !ok {
		return Decision{}, refuse(NotFound, "field", "snag", "value", strconv.Itoa(n))
	}
	return s.reopened(fmt.Sprintf("snag %d", n), snag.Closed, s.about[thing{kind: recSnag, number: n}])
}

// reopened takes back the last record that closed a thing.
func (s *State) reopened(name string, closed bool, closings []uint32) (Decision, error) {
	switch {
	case !closed:
		return Decision{}, refuse(AlreadyDone, "what", name+" is open")
	case len(closings) == 0:
		return Decision{}, refuse(NothingToChange, "what", name+" came in closed: say it anew")
	}
	return Decision{Event: Undone{uint64(s.recs[closings[len(closings)-1]].seq)}}, nil
}

// onJob refuses a number that belongs to another job than was said.
func (s *State) onJob(field string, n int, said, on string) error {
	if said == "" || said == on {
		return nil
	}
	if _, err := s.job(said); err != nil {
		return err
	}
	return refuse(NotFound, "field", field, "value", fmt.Sprintf("%d on %s (it is on %s)", n, said, on))
}

// remend changes which snag was put right.
func (s *State) remend(e SnagClosed, c Changes) (Decision, error) {
	n := or(deref(c.Snag), e.Number)
	return s.decideSnagClosed(SnagClosing{Number: &n})
}

// deref gives a number that may be missing; 0 for none.
func deref(n *int) int {
	if n == nil {
		return 0
	}
	return *n
}
