package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Unfound is work that is not found yet: it comes to light while some tasks go on.
type Unfound struct {
	While   []string // ids of the tasks that bring it to light
	Into    string   // id of the task that it adds to
	PerHour float64  // how often, per hour of While still to come

	Low, Likely, High float64 // hours each takes, triangular
}

// Input is what a forecast is made of.
type Input struct {
	Tasks   []Task
	People  []Person // none means a person for every task, with HoursPerDay
	Overrun Overrun
	Unfound *Unfound // nil for none

	HoursPerDay float64 // of a working day for whom it is not said; DefaultHours when 0
	Runs        int     // DefaultRuns when 0
}

// What is taken when it is not said (common practice, no source).
const (
	DefaultHours = 7.5
	DefaultRuns  = 2000
	maxRuns      = 100_000
)

// Share is what half of the cases and four in five of them keep to.
type Share struct{ P50, P80 float64 }

// StageHours is what is to come in one stage.
type StageHours struct {
	Stage string
	Hours Share
}

// Times is when a task is worked on, in working days from now.
type Times struct {
	ID           string
	Start50      float64
	End50, End80 float64
	Critical     float64 // share of the cases in which the finish hangs on it, 0 to 1
}

// Result is a forecast.
type Result struct {
	Input  Input // as understood
	Hours  Share // of work to come
	Stages []StageHours
	Finish Share   // working days from now
	Tasks  []Times // as given

	Assumptions []string
	Source      string
	Caution     string
}

// Simulate makes a forecast. The same source of random numbers in the same state
// gives the same result. It fails with *InputError, *UnknownError or *CycleError.
func Simulate(in Input, random *rand.PCG) (Result, error) {
	if in.Runs == 0 {
		in.Runs = DefaultRuns
	}
	if in.HoursPerDay == 0 {
		in.HoursPerDay = DefaultHours
	}
	s, err := prepare(in)
	if err != nil {
		return Result{}, err
	}
	t := newTally(len(in.Tasks), len(s.stages), in.Runs)
	// A stream for each run: however many numbers one takes, the next has its own.
	var stream rand.PCG
	r := rand.New(&stream)
	for run := range in.Runs {
		stream.Seed(random.Uint64(), random.Uint64())
		s.draw(r)
		s.place()
		t.take(s, run)
	}
	return s.result(in, t), nil
}

// result sums a simulation up.
func (s *sim) result(in Input, t *tally) Result {
	res := Result{
		Input: in, Hours: shares(t.hours), Finish: shares(t.finish),
		Assumptions: []string{
			fmt.Sprintf("%d simulated cases; each task's hours triangular between its low and high estimate, tasks independent but for the shop's common overrun", in.Runs),
			"one person works on one task at a time, on weekdays, and takes what can begin first; no illness or other work",
		},
		Source:  source + "; simulation: triangular hours (Kotz and van Dorp, Beyond Beta, chapter 1), parallel schedule by earliest late start (Kolisch, 1996)",
		Caution: "It is no promise: what nobody thought of is not in it, and the last fifth of the cases ends later.",
	}
	res.Assumptions = append(res.Assumptions, in.Overrun.Assumptions...)
	if in.Overrun.Source != "" {
		res.Source += "; " + in.Overrun.Source
	}
	if u := in.Unfound; u != nil {
		res.Assumptions = append(res.Assumptions, fmt.Sprintf("%.2g finds to come an hour of stripping, each %g to %g hours, most likely %g", u.PerHour, u.Low, u.High, u.Likely))
	}
	for i, name := range s.stages {
		res.Stages = append(res.Stages, StageHours{name, shares(t.byStage[i])})
	}
	for i, task := range in.Tasks {
		end := shares(t.ends[i])
		res.Tasks = append(res.Tasks, Times{
			ID: task.ID, Start50: quantile(t.starts[i], 0.5), End50: end.P50, End80: end.P80,
			Critical: float64(t.critical[i]) / float64(in.Runs),
		})
	}
	return res
}

// sim is an input made ready to run, and the run at hand.
type sim struct {
	nodes  []node
	people []float64 // hours a day
	off    [][]int   // days off, by person, in their order
	stages []string

	overrun Overrun
	unfound *unfound

	hours      []float64 // to come, by task
	start, end []float64 // working days from now
	cause      []int     // task that a start waited for, -1 for none
	left       []int     // tasks before it that have not ended
	readyAt    []float64
	freeAt     []float64 // by person
	last       []int     // task that a person worked on, -1 for none
	ready      []int
}

// node is one task made ready.
type node struct {
	hours triangle
	done  float64
	stage int
	after int   // how many tasks come before
	next  []int // tasks that wait for it
	who   []int // people who may do it
	rank  int   // its turn among those that could begin at the same time
	slip  triangle
	due   float64
	part  bool
}

type unfound struct {
	while   []int
	into    int
	perHour float64
	each    triangle
}

// prepare checks an input.
func prepare(in Input) (*sim, error) {
	if in.Runs < 1 || in.Runs > maxRuns {
		return nil, refuse("runs", in.Runs, "give 1 to %d runs", maxRuns)
	}
	if err := checkDay(in.HoursPerDay); err != nil {
		return nil, err
	}
	if err := within("overrun", in.Overrun.LogMean, -3, 3, "the logarithm of a factor"); err != nil {
		return nil, err
	}
	if err := within("overrun", in.Overrun.LogSD, 0, 2, "the spread of the logarithm of a factor"); err != nil {
		return nil, err
	}
	net, err := link(in.Tasks)
	if err != nil {
		return nil, err
	}
	s := &sim{nodes: make([]node, len(in.Tasks)), overrun: in.Overrun}
	if err := s.staff(in); err != nil {
		return nil, err
	}
	rank := ranks(in.Tasks, net.plan(in.HoursPerDay))
	for i, t := range in.Tasks {
		n := &s.nodes[i]
		n.hours, n.done, n.rank, n.after = triangle{t.Low, t.Likely, t.High}, t.Done, rank[i], len(t.After)
		if n.stage = slices.Index(s.stages, t.Stage); n.stage < 0 {
			n.stage = len(s.stages)
			s.stages = append(s.stages, t.Stage)
		}
		if a := t.Part; a != nil {
			n.part, n.due, n.slip = true, a.Due, triangle{a.SlipLow, a.SlipLikely, a.SlipHigh}
		}
		for _, k := range net.after[i] {
			s.nodes[k].next = append(s.nodes[k].next, i)
		}
	}
	if err := s.expect(in); err != nil {
		return nil, err
	}
	n := len(in.Tasks)
	s.hours, s.start, s.end, s.readyAt = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	s.cause, s.left, s.ready = make([]int, n), make([]int, n), make([]int, 0, n)
	s.freeAt, s.last = make([]float64, len(s.people)), make([]int, len(s.people))
	return s, nil
}

// staff finds who may do each task.
func (s *sim) staff(in Input) error {
	if len(in.People) > maxPeople {
		return refuse("people", len(in.People), "give at most %d people", maxPeople)
	}
	if len(in.People) == 0 {
		for i := range in.Tasks {
			s.people, s.off = append(s.people, in.HoursPerDay), append(s.off, nil)
			s.nodes[i].who = []int{i}
		}
		return nil
	}
	for _, p := range in.People {
		if err := checkDay(p.HoursPerDay); err != nil {
			return err
		}
		off := slices.Clone(p.Off)
		slices.Sort(off)
		off = slices.Compact(off)
		for _, d := range off {
			if err := within("days_off", float64(d), 0, maxDays, "working days from now"); err != nil {
				return err
			}
		}
		s.people, s.off = append(s.people, p.HoursPerDay), append(s.off, off)
	}
	for i, t := range in.Tasks {
		for k, p := range in.People {
			if t.Person == p.ID || t.Person == "" && (t.Trade == "" || slices.Contains(p.Trades, t.Trade)) {
				s.nodes[i].who = append(s.nodes[i].who, k)
			}
		}
		switch {
		case len(s.nodes[i].who) > 0:
		case t.Person != "":
			return refuse("person", t.Person, "give one of the people, for task %s", t.ID)
		default:
			return refuse("trade", t.Trade, "give somebody who can do it, for task %s", t.ID)
		}
	}
	return nil
}

// expect takes what is not found yet.
func (s *sim) expect(in Input) error {
	u := in.Unfound
	if u == nil {
		return nil
	}
	if err := within("per_hour", u.PerHour, 0, 10, "finds an hour"); err != nil {
		return err
	}
	if err := (Task{ID: "each", Low: u.Low, Likely: u.Likely, High: u.High}).check(); err != nil {
		return err
	}
	find := func(id string) int { return slices.IndexFunc(in.Tasks, func(t Task) bool { return t.ID == id }) }
	out := unfound{into: find(u.Into), perHour: u.PerHour, each: triangle{u.Low, u.Likely, u.High}}
	if out.into < 0 {
		return &UnknownError{"unfound", u.Into}
	}
	for _, id := range u.While {
		k := find(id)
		if k < 0 {
			return &UnknownError{"unfound", id}
		}
		out.while = append(out.while, k)
	}
	s.unfound = &out
	return nil
}

// ranks orders tasks for those who are free: what is in hand, then what must begin
// first, then as given.
func ranks(tasks []Task, p Plan) []int {
	order := make([]int, len(tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch x, y := p.Nodes[a].LateStart, p.Nodes[b].LateStart; {
		case tasks[a].InHand != tasks[b].InHand:
			if tasks[a].InHand {
				return -1
			}
			return 1
		case x < y-slack:
			return -1
		case x > y+slack:
			return 1
		}
		return 0
	})
	rank := make([]int, len(tasks))
	for turn, i := range order {
		rank[i] = turn
	}
	return rank
}

// draw makes one case: the hours of each task and when it could begin.
func (s *sim) draw(r *rand.Rand) {
	factor := math.Exp(s.overrun.LogMean + s.overrun.LogSD*r.NormFloat64())
	for i := range s.nodes {
		n := &s.nodes[i]
		s.hours[i] = n.hours.left(n.done, factor, r.Float64())
		s.readyAt[i], s.cause[i] = 0, -1
		if n.part {
			s.readyAt[i] = n.due + n.slip.quantile(r.Float64())
		}
	}
	u := s.unfound
	if u == nil {
		return
	}
	mean := 0.0
	for _, k := range u.while {
		mean += s.hours[k] * u.perHour
	}
	for range poisson(mean, r.Float64()) {
		s.hours[u.into] += u.each.quantile(r.Float64())
	}
}
