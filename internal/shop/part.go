package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// States of a part. Late is one that is ordered, past its due day and not here.
const (
	Ordered  = "ordered"
	Late     = "late"
	Arrived  = "arrived"
	Fitted   = "fitted"
	Returned = "returned"
)

// Part is a part as it stands: its State, Due, Arrived, Condition and TrialFitted
// are those of now.
type Part struct {
	PartOrdered
	ArrivedQuantity int
	FitNote         string   // what was said of the last trial or fitting
	DaysLate        int      // 0 when it is not late
	NeededBy        []string // tasks that wait for it, while it is not here
	Entries         []uint64 // about it, oldest first
	Said
	words []string // of its name
	on    Side     // its side, or the one its name says
}

// Name says a part with its side: «rear wing panel, left».
func (e PartOrdered) Name() string { return e.Part + comma(e.Side.String()) }

// Here tells whether all of a part is in the shop or on the vehicle.
func (p Part) Here() bool { return p.State == Arrived || p.State == Fitted }

// open is how many are still to come.
func (p Part) open() int {
	if p.State == Ordered || p.State == Late {
		return max(p.Quantity-p.ArrivedQuantity, 0)
	}
	return 0
}

// ready orders what becomes of parts: here, on order, sent back.
func (p Part) ready() int {
	switch {
	case p.Here():
		return 2
	case p.open() > 0:
		return 1
	}
	return 0
}

// awaited says a part that is not here.
func (p Part) awaited() string {
	due := "no day given"
	if p.Due != 0 {
		due = "due " + p.Due.String()
	}
	if p.DaysLate > 0 {
		due += ", " + plural(p.DaysLate, "day") + " late"
	}
	return p.Name() + ": " + due + ", not here"
}

func plural(n int, unit string) string {
	if n == 1 {
		return "1 " + unit
	}
	return strconv.Itoa(n) + " " + unit + "s"
}

// partName gives the name of a standing part with its side, or its number.
func (s *State) partName(n int) string {
	if i, ok := s.things[thing{kind: recPart, number: n}]; ok {
		e, _ := s.details[i].(PartOrdered)
		return placeName(e.Part, e.Side, 0)
	}
	return "part " + strconv.Itoa(n)
}

// serving gives the parts that are what a task needs, by name: those of the very
// name before those of a longer or a shorter one. Their side, where they have one,
// must be the one that the task's title says.
func serving(t TaskAdded, all []Part) []Part {
	needs, side := partWords(t.NeedsPart)
	if _, on := wordsOf(t.Title); side == 0 {
		side = on
	}
	var fit []Part
	for _, p := range all {
		head := len(needs) > 0 && len(p.words) > 0 && needs[len(needs)-1] == p.words[len(p.words)-1]
		if head && (within(needs, p.words) || within(p.words, needs)) && (side == 0 || p.on == 0 || side == p.on) {
			fit = append(fit, p)
		}
	}
	return prefer(fit, func(p Part) bool { return same(p.words, needs) })
}

// partOf gives the part of a record, standing or not. now is in the shop's time
// zone.
func (s *State) partOf(i uint32, now time.Time) Part {
	e, _ := s.details[i].(PartOrdered)
	of := thing{kind: recPart, number: e.Number}
	p := Part{PartOrdered: e, Said: s.said(i), Entries: s.entriesOf(of)}
	p.words, p.on = partWords(e.Part)
	p.on = or(e.Side, p.on)
	if e.State != Ordered {
		p.ArrivedQuantity = e.Quantity
	}
	for _, k := range s.about[of] {
		day, _ := dayOf(s.said(k).At.In(now.Location()))
		p.follow(s.details[k], day)
	}
	today, _ := dayOf(now)
	if p.State == Ordered && p.Due != 0 && p.Due < today {
		p.State, p.DaysLate = Late, int(today-p.Due)
	}
	return p
}

// follow takes what became of a part: while some of an order is to come the rest
// is on order, whatever was done with what came.
func (p *Part) follow(e Event, day Day) {
	switch e := e.(type) {
	case PartArrived:
		p.ArrivedQuantity += e.Quantity
		p.Arrived, p.Condition = day, or(e.Condition, p.Condition)
		if p.ArrivedQuantity >= p.Quantity {
			p.State = Arrived
		}
	case PartFitted:
		p.FitNote = e.Note // the last word on how it fits, if any
		switch {
		case e.Trial:
			p.TrialFitted = true
		case p.ArrivedQuantity >= p.Quantity || p.ArrivedQuantity == 0:
			p.State = Fitted
		}
	case PartReturned:
		if p.ArrivedQuantity >= p.Quantity {
			p.State = Returned
		} else {
			p.ArrivedQuantity = 0
		}
	case PartDueChanged:
		p.Due = e.Due
	}
}

// partsOf gives the parts of a job by number. now is in the shop's time zone.
func (s *State) partsOf(j *job, now time.Time) []Part {
	var parts []Part
	for _, i := range j.recs {
		if _, ok := s.details[i].(PartOrdered); ok {
			parts = append(parts, s.partOf(i, now))
		}
	}
	slices.SortStableFunc(parts, func(a, b Part) int { return a.Number - b.Number })
	s.noteNeeds(j, parts)
	return parts
}

// noteNeeds notes in the parts that are to come which tasks wait for them.
func (s *State) noteNeeds(j *job, parts []Part) {
	for _, i := range j.tasks {
		e, _ := s.details[i].(TaskAdded)
		if e.NeedsPart == "" || s.taskOf(i).State == Done {
			continue
		}
		fit := serving(e, parts)
		if slices.ContainsFunc(fit, Part.Here) {
			continue
		}
		for k := range parts {
			if parts[k].open() > 0 && slices.ContainsFunc(fit, func(p Part) bool { return p.Number == parts[k].Number }) {
				parts[k].NeededBy = append(parts[k].NeededBy, e.Name())
			}
		}
	}
}

// PartAs gives the part of a record as it stands, or as it was when it was taken
// back. now is in the shop's time zone.
func (s *State) PartAs(r Record, now time.Time) Part { return s.partOf(r.index, now) }

// PartNumber gives the standing part of a number. now is in the shop's time zone.
func (s *State) PartNumber(n int, now time.Time) (Part, bool) {
	i, ok := s.things[thing{kind: recPart, number: n}]
	if !ok {
		return Part{}, false
	}
	for _, p := range s.partsOf(s.jobs[s.recs[i].job], now) {
		if p.Number == n {
			return p, true
		}
	}
	return Part{}, false
}

// PartFilter says which parts are meant; zero values mean any.
type PartFilter struct {
	Job, State string // a late part is ordered too
	DueBy      string // a day; those with no due day are left out
	Part       string // words of the name
}

// Parts gives the parts that fit, by number. now is in the shop's time zone.
func (s *State) Parts(f PartFilter, now time.Time) ([]Part, error) {
	jobs, err := s.jobsOf(f.Job)
	if err != nil {
		return nil, err
	}
	states := []string{"", Ordered, Late, Arrived, Fitted, Returned}
	if !slices.Contains(states, f.State) {
		return nil, refuse(UnknownName, "field", "state", "value", f.State, "accepted", joined(states[1:]))
	}
	by, ok := ParseDay(f.DueBy)
	if f.DueBy != "" && !ok {
		return nil, outOfRange("due_by", f.DueBy, "a day as 2026-03-10")
	}
	words, side := partWords(f.Part)
	var found []Part
	for _, j := range jobs {
		for _, p := range s.partsOf(j, now) {
			if (f.State == "" || f.State == p.State || f.State == Ordered && p.State == Late) &&
				(by == 0 || p.Due != 0 && p.Due <= by) && (len(words) == 0 || within(words, p.words)) && sameSide(side, p.on) {
				found = append(found, p)
			}
		}
	}
	slices.SortStableFunc(found, func(a, b Part) int { return a.Number - b.Number })
	return found, nil
}

// provenances are where a part may come from.
var provenances = []string{"new_old_stock", "reproduction", "used", "made"}

// What is accepted of an order. Common practice, no source.
var quantitySpan = span{"quantity", 1, 1000, ""}

const (
	maxPrice    = 1_000_000 // exclusive
	maxDueYears = 5
)

// NewOrder asks to record an order.
type NewOrder struct {
	Job, Part     string
	Side          Side
	Quantity      *int // nil means one
	Supplier, Due string
	Price         *float64 // in all
	Provenance    string
}

// DecideOrder decides the recording of an order. now is in the shop's time zone.
func (s *State) DecideOrder(by string, now time.Time, r NewOrder) (Decision, error) {
	if err := s.may(by, taskOrder); err != nil {
		return Decision{}, err
	}
	today, _ := dayOf(now)
	e := PartOrdered{Number: s.last[recPart] + 1, Ordered: today, State: Ordered, Quantity: 1}
	return s.decideOrder(now, r, e)
}

// decideOrder fills in what was ordered, on the day that e has.
func (s *State) decideOrder(now time.Time, r NewOrder, e PartOrdered) (Decision, error) {
	if err := missing(need{"job", r.Job != ""}, need{"part", hasWords(r.Part)}); err != nil {
		return Decision{}, err
	}
	j, err := s.job(r.Job)
	if err != nil {
		return Decision{}, err
	}
	if e.Quantity, err = quantity(r.Quantity, e.Quantity); err != nil {
		return Decision{}, err
	}
	if v := optional(r.Price); !(v >= 0 && v < maxPrice) {
		return Decision{}, outOfRange("price", number(v), "0 or more, less than "+number(maxPrice))
	}
	if r.Provenance != "" && !slices.Contains(provenances, r.Provenance) {
		return Decision{}, refuse(UnknownName, "field", "provenance", "value", r.Provenance, "accepted", joined(provenances))
	}
	if r.Side >= Side(len(sideNames)) {
		return Decision{}, outOfRange("side", number(float64(r.Side)), "left, right, centre")
	}
	if r.Due != "" {
		today, _ := dayOf(now)
		if e.Due, err = dueDay(r.Due, or(e.Ordered, today)); err != nil {
			return Decision{}, err
		}
	}
	e.Job, e.Part, e.Side, e.Origin, e.Price = r.Job, strings.TrimSpace(r.Part), r.Side, r.Provenance, optional(r.Price)
	d := Decision{}
	if e.Supplier, d.Warnings = s.supplier(r.Supplier); e.State == Ordered {
		ordered, side := partWords(e.Part)
		for _, p := range s.partsOf(j, now) {
			if p.open() > 0 && same(p.words, ordered) && p.on == or(e.Side, side) {
				d.Warnings = append(d.Warnings, fmt.Sprintf("Part %d is on order already: %s.", p.Number, p.awaited()))
			}
		}
	}
	d.Event = e
	return d, nil
}

func quantity(said *int, usual int) (int, error) {
	if said == nil {
		return usual, nil
	}
	return *said, quantitySpan.check(float64(*said))
}

// dueDay reads a day that a part is due, which is not before it was ordered.
func dueDay(text string, ordered Day) (Day, error) {
	first := firstDay.AddDate(0, 0, int(ordered))
	last, _ := dayOf(first.AddDate(maxDueYears, 0, 0))
	d, ok := ParseDay(text)
	if !ok || d < ordered || d > last {
		return 0, outOfRange("due", text, ordered.String()+" to "+last.String())
	}
	return d, nil
}

// supplier gives the shop's supplier that words mean; any other name is kept as it
// was said.
func (s *State) supplier(said string) (name string, warnings []string) {
	said = strings.TrimSpace(said)
	if said == "" {
		return "", nil
	}
	words, _ := wordsOf(said)
	var fit []string
	for _, known := range s.suppliers {
		if strings.EqualFold(known, said) {
			return known, nil
		}
		if all, _ := wordsOf(known); within(words, all) && !slices.Contains(fit, known) {
			fit = append(fit, known)
		}
	}
	switch len(fit) {
	case 0:
		return said, []string{said + " is none of the shop's suppliers."}
	case 1:
		return fit[0], nil
	}
	return said, []string{said + " may be " + strings.Join(fit, " or ") + "."}
}

// making is what making a record is: an arrival that nobody ordered is no order.
func (s *State) making(i uint32) task {
	if e, ok := s.details[i].(PartOrdered); ok && e.Unordered() {
		return taskArrival
	}
	return kindTasks[s.recs[i].kind]
}

// Unordered tells whether a part came that nobody had ordered.
func (e PartOrdered) Unordered() bool { return e.State != Ordered && e.Ordered == 0 }

// reorder changes an order, or an arrival that nobody ordered. A due day that
// nobody changes is not judged again.
func (s *State) reorder(e PartOrdered, c Changes, now time.Time) (Decision, error) {
	switch n := len(s.about[thing{kind: recPart, number: e.Number}]); {
	case c.Job != "" && c.Job != e.Job && n > 0:
		return Decision{}, refuse(InUse, "what", "part "+strconv.Itoa(e.Number), "records", strconv.Itoa(n))
	case c.Condition != "" && !e.Unordered():
		return Decision{}, refuse(CannotAmend, "field", "condition", "what", string(taskOrder))
	case c.Due != "" && e.Unordered():
		return Decision{}, refuse(CannotAmend, "field", "due", "what", string(taskArrival))
	}
	e.Condition = or(c.Condition, e.Condition)
	d, err := s.decideOrder(now, NewOrder{
		Job: or(c.Job, e.Job), Part: or(c.Part, e.Part), Side: or(c.Side, e.Side), Quantity: c.Quantity,
		Supplier: c.Supplier, Due: c.Due, Price: orSize(c.Price, e.Price), Provenance: or(c.Provenance, e.Origin),
	}, e)
	if next, ok := d.Event.(PartOrdered); ok && c.Supplier == "" {
		next.Supplier = e.Supplier
		d.Event = next
	}
	if due := s.laterDue(e.Number); c.Due != "" && due != 0 {
		d.Warnings = append(d.Warnings, "A later word has it due on "+due.String()+".")
	}
	return d, err
}
