package shop

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// HoldKind says what the root of a hold is.
type HoldKind uint8

// Kinds of hold.
const (
	HoldTask       HoldKind = iota + 1 // another task that is not done
	HoldPart                           // a part that is ordered and not here
	HoldNotOrdered                     // a part that nobody ordered
	HoldConsent                        // an extra the customer has not decided
	HoldCoat                           // a coat that may not be sanded yet
)

// Hold is one task that cannot begin, and one root of that.
type Hold struct {
	Task     *Task // nil when the root holds no task of the plan
	Kind     HoldKind
	Root     string   // in words
	Chain    []string // from the held task to the root, each in words; a long one without its middle
	RootTask *Task
	Part     *Part
	Extra    int // its number
	Until    time.Time
}

// plan is what a job's tasks and parts are at a moment.
type plan struct {
	s      *State
	tasks  map[int]Task
	order  []Task // by number
	parts  []Part
	extras []ExtraProposed // that wait for the customer
	coat   *Hold           // on anything that sands
	known  map[int][]Hold  // causes of tasks, once worked out
	first  map[int][]Task  // what must be done before tasks, once worked out
}

func (s *State) planOf(j *job, now time.Time) *plan {
	p := &plan{s: s, tasks: map[int]Task{}, parts: s.partsOf(j, now), known: map[int][]Hold{}, first: map[int][]Task{}}
	for _, i := range j.recs {
		switch e := s.details[i].(type) {
		case TaskAdded:
			t := s.taskOf(i)
			p.tasks[t.Number] = t
			p.order = append(p.order, t)
		case ExtraProposed:
			if s.extraOf(i).State == Proposed {
				p.extras = append(p.extras, e)
			}
		}
	}
	slices.SortStableFunc(p.order, func(a, b Task) int { return a.Number - b.Number })
	p.coat = s.wet(j.ID, now)
	return p
}

// wet gives the hold of a job's newest coat while it may not be sanded; nil when
// it may, or when its sheet does not say.
func (s *State) wet(jobID string, now time.Time) *Hold {
	coats, err := s.LatestCoats(jobID)
	coats = slices.DeleteFunc(coats, func(c Coat) bool { return !s.Paints(c.Material) })
	if err != nil || len(coats) == 0 || coats[0].At().IsZero() {
		return nil
	}
	m, err := s.material(coats[0].Material)
	if err != nil || m.Paint == nil || m.Paint.SandAfterH <= 0 {
		return nil
	}
	until := coats[0].At().Add(time.Duration(m.Paint.SandAfterH * float64(time.Hour)))
	if !until.After(now) {
		return nil
	}
	return &Hold{Kind: HoldCoat, Until: until, Root: fmt.Sprintf("%s on %s: not to be sanded before %s", m.Name, joined(coats[0].Panels), s.Local(until))}
}

// sands are words of a task that works on a coat of paint.
var sands = wordList("block", "flat", "sand", "rub")

func wordList(words ...string) []string {
	var plain []string
	for _, w := range words {
		plain = append(plain, plainWords(w)...)
	}
	return plain
}

// before gives the tasks that must be done before t and are not.
func (p *plan) before(t Task) []Task {
	first, ok := p.first[t.Number]
	if ok {
		return first
	}
	for _, n := range t.After {
		if b, ok := p.tasks[n]; ok && b.State != Done {
			first = append(first, b)
		}
	}
	p.first[t.Number] = first
	return first
}

// part gives the part that a task needs: one that is here before one that is on
// order, and that before one sent back; nil when there is none of that name.
func (p *plan) part(t TaskAdded) *Part {
	fit := serving(t, p.parts)
	if len(fit) == 0 {
		return nil
	}
	best := slices.MaxFunc(fit, func(a, b Part) int { return cmp.Compare(a.ready(), b.ready()) })
	return &best
}

// causes gives what keeps a task from beginning but other tasks.
func (p *plan) causes(t Task) []Hold {
	holds, ok := p.known[t.Number]
	if !ok {
		holds = p.find(t)
		p.known[t.Number] = holds
	}
	return holds
}

func (p *plan) find(t Task) []Hold {
	var holds []Hold
	if t.NeedsPart != "" {
		switch part := p.part(t.TaskAdded); {
		case part == nil || part.State == Returned:
			holds = append(holds, Hold{Kind: HoldNotOrdered, Root: t.NeedsPart + ": not on order"})
		case !part.Here():
			holds = append(holds, Hold{Kind: HoldPart, Root: part.awaited(), Part: part})
		}
	}
	for _, e := range p.extras {
		if sameWords(e.Text, t.Title) {
			holds = append(holds, Hold{Kind: HoldConsent, Root: fmt.Sprintf("extra %d waits for the customer: %s", e.Number, e.Text), Extra: e.Number})
		}
	}
	if words, _ := wordsOf(t.Title); p.coat != nil && t.Stage == Paint && common(sands, words) > 0 {
		holds = append(holds, *p.coat)
	}
	return holds
}

// free tells whether nothing keeps a task from beginning.
func (p *plan) free(t Task) bool {
	return t.State == Waiting && len(p.before(t)) == 0 && len(p.causes(t)) == 0
}

// step is a task on the way from a held one to its roots.
type step struct {
	task Task
	from *step
}

// most steps of a chain are told: of a longer one the first and the last.
const most = 8

// chain says the way to a step.
func (at *step) chain() []string {
	var names []string
	for ; at != nil; at = at.from {
		names = append(names, at.task.Name())
	}
	slices.Reverse(names)
	if left := len(names) - most; left > 0 {
		names = slices.Concat(names[:most/2], []string{fmt.Sprintf("%d tasks between", left)}, names[most/2+left:])
	}
	return names
}

// roots gives every root of a task's being held, each by the shortest way to it.
func (p *plan) roots(held Task) []Hold {
	var holds []Hold
	found := map[string]bool{}
	add := func(h Hold, at *step) {
		if key := fmt.Sprint(h.Kind, h.Root); !found[key] {
			found[key] = true
			h.Task, h.Chain = &held, append(at.chain(), h.Root)
			holds = append(holds, h)
		}
	}
	seen := map[int]bool{held.Number: true}
	for next := []*step{{task: held}}; len(next) > 0; next = next[1:] {
		at := next[0]
		for _, h := range p.causes(at.task) {
			add(h, at)
		}
		for _, b := range p.before(at.task) {
			switch {
			case b.State == Doing:
				add(Hold{Kind: HoldTask, RootTask: &b, Root: b.Name() + ": in hand" + comma(p.s.nameOf(b.Who))}, at)
			case p.free(b):
				add(Hold{Kind: HoldTask, RootTask: &b, Root: b.Name() + ": not begun"}, at)
			case !seen[b.Number]:
				seen[b.Number] = true
				next = append(next, &step{b, at})
			}
		}
	}
	if len(holds) == 0 { // only a plan that was imported can be like that
		b := p.before(held)[0]
		add(Hold{Kind: HoldTask, RootTask: &b, Root: b.Name() + ": it waits for itself"}, &step{task: held})
	}
	return holds
}

func comma(text string) string {
	if text == "" {
		return ""
	}
	return ", " + text
}

// Holds names every task of a job, or for an empty id of all jobs, that cannot
// begin, and each root of that; and the late parts that hold none. Those with one
// root come together, the root that holds most first. now is in the shop's time
// zone.
func (s *State) Holds(jobID string, now time.Time) ([]Hold, error) {
	jobs, err := s.jobsOf(jobID)
	if err != nil {
		return nil, err
	}
	var all []Hold
	for _, j := range jobs {
		p := s.planOf(j, now)
		var holds []Hold
		for _, t := range p.order {
			if t.State == Waiting && !p.free(t) {
				holds = append(holds, p.roots(t)...)
			}
		}
		for i, part := range p.parts {
			if part.State == Late && !slices.ContainsFunc(holds, func(h Hold) bool { return h.Part != nil && h.Part.Number == part.Number }) {
				holds = append(holds, Hold{Kind: HoldPart, Root: part.awaited(), Chain: []string{part.awaited()}, Part: &p.parts[i]})
			}
		}
		byRoot(holds)
		all = append(all, holds...)
	}
	return all, nil
}

// byRoot sorts the holds of a job.
func byRoot(holds []Hold) {
	n := map[string]int{}
	for _, h := range holds {
		if h.Task != nil {
			n[h.Root]++
		}
	}
	// What somebody outside the shop must be asked about comes before what is in
	// the shop's own hands.
	rank := map[HoldKind]int{HoldPart: 1, HoldNotOrdered: 2, HoldConsent: 3, HoldCoat: 4, HoldTask: 5}
	slices.SortStableFunc(holds, func(a, b Hold) int {
		return cmp.Or(cmp.Compare(n[b.Root], n[a.Root]), cmp.Compare(rank[a.Kind], rank[b.Kind]), cmp.Compare(a.Root, b.Root))
	})
}

// NextTask is a task to go on with, and why it is.
type NextTask struct {
	Task
	Why string
}

// NextTasks is what can be gone on with, in hand first.
type NextTasks struct {
	Tasks      []NextTask
	Held, ToDo int // of all tasks of the job, whoever's
}

// Next gives what comes next on a job, or for an empty id on all jobs: what is in
// hand, then what nothing is in the way of. With a person it is what they have in
// hand and what fits their trade and nobody else has. now is in the shop's time
// zone.
func (s *State) Next(jobID, person string, now time.Time) (NextTasks, error) {
	jobs, err := s.jobsOf(jobID)
	if err != nil {
		return NextTasks{}, err
	}
	if err := s.known("person", person); err != nil {
		return NextTasks{}, err
	}
	var next NextTasks
	var free []NextTask
	for _, j := range jobs {
		p := s.planOf(j, now)
		for _, t := range p.order {
			if t.State == Done {
				continue
			}
			next.ToDo++
			switch {
			case t.State == Doing && (person == "" || t.Who == person):
				next.Tasks = append(next.Tasks, NextTask{t, "in hand" + comma(s.nameOf(t.Who))})
			case t.State == Doing:
			case !p.free(t):
				next.Held++
			case person == "" || t.Who == person || t.Who == "" && s.fitsTrade(person, t.Stage):
				free = append(free, NextTask{t, "nothing is in its way"})
			}
		}
	}
	next.Tasks = append(next.Tasks, free...)
	return next, nil
}

// fitsTrade tells whether a stage is a person's work: the lead and apprentices
// take what there is, metal people strip too, and all assemble.
func (s *State) fitsTrade(person string, st Stage) bool {
	p := s.people[s.personAt[person]]
	trade, ok := ParseStage(p.Trade)
	return p.Role != Tradesperson || !ok || st == Assembly || st == trade || trade == Metal && st == Strip
}

// FreedBy gives the tasks that can begin now and had to wait for a task that is
// done.
func (s *State) FreedBy(n int, now time.Time) []Task {
	t, ok := s.TaskNumber(n)
	if !ok || t.State != Done {
		return nil
	}
	p := s.planOf(s.jobs[s.jobAt[t.Job]], now)
	return slices.DeleteFunc(slices.Clone(p.order), func(o Task) bool { return !slices.Contains(o.After, n) || !p.free(o) })
}

// NotDoneFirst names the tasks that should be done before a task and are not.
func (s *State) NotDoneFirst(n int, now time.Time) []string {
	t, ok := s.TaskNumber(n)
	if !ok {
		return nil
	}
	var names []string
	for _, b := range s.planOf(s.jobs[s.jobAt[t.Job]], now).before(t) {
		names = append(names, b.Name())
	}
	return names
}

// FreedByPart names the tasks that need a part which is here, and can begin now.
// now is in the shop's time zone.
func (s *State) FreedByPart(n int, now time.Time) []string {
	part, ok := s.PartNumber(n, now)
	if !ok || !part.Here() {
		return nil
	}
	p := s.planOf(s.jobs[s.jobAt[part.Job]], now)
	var names []string
	for _, t := range p.order {
		if best := p.part(t.TaskAdded); t.NeedsPart != "" && best != nil && best.Number == n && p.free(t) {
			names = append(names, t.Name())
		}
	}
	return names
}
