package forecast

import (
	"math"
)

// Node is one task on the critical path calculation. Times are in working hours
// from now.
type Node struct {
	ID                   string
	Mean, Variance       float64 // hours, hours²; PERT, of what is left
	EarlyStart, EarlyEnd float64
	LateStart, LateEnd   float64
	Float                float64 // how much later it may begin with the same end of all
}

// Plan is a network when there are people enough.
type Plan struct {
	Nodes    []Node   // as the tasks were given
	Path     []string // a critical path, first task first
	Duration float64  // working hours
	Variance float64  // hours², of the tasks on Path: independent, their path alone
	Source   string
}

// slack is below what a float can be told from zero: rounding, not work.
const slack = 1e-9

// CriticalPath computes early and late times with PERT means and people enough,
// hoursPerDay working hours being one working day of a part's arrival, which comes
// with its mean slip. It fails with *InputError, *UnknownError or *CycleError.
func CriticalPath(tasks []Task, hoursPerDay float64) (Plan, error) {
	if err := checkDay(hoursPerDay); err != nil {
		return Plan{}, err
	}
	n, err := link(tasks)
	if err != nil {
		return Plan{}, err
	}
	return n.plan(hoursPerDay), nil
}

func checkDay(hoursPerDay float64) error {
	return within("hours_a_day", hoursPerDay, 0.01, 24, "working hours a day")
}

func (n network) plan(hoursPerDay float64) Plan {
	p := Plan{Nodes: make([]Node, len(n.tasks)), Source: source}
	for _, i := range n.order {
		t := n.tasks[i]
		d := &p.Nodes[i]
		*d = Node{ID: t.ID, Mean: max(t.Mean()-t.Done, 0), Variance: t.Variance()}
		if a := t.Part; a != nil {
			d.EarlyStart = (a.Due + (a.SlipLow+a.SlipLikely+a.SlipHigh)/3) * hoursPerDay
		}
		for _, k := range n.after[i] {
			d.EarlyStart = max(d.EarlyStart, p.Nodes[k].EarlyEnd)
		}
		d.EarlyEnd = d.EarlyStart + d.Mean
		p.Duration = max(p.Duration, d.EarlyEnd)
	}
	for i := range p.Nodes {
		p.Nodes[i].LateEnd = p.Duration
	}
	for j := len(n.order) - 1; j >= 0; j-- {
		i := n.order[j]
		d := &p.Nodes[i]
		d.LateStart = d.LateEnd - d.Mean
		d.Float = d.LateStart - d.EarlyStart
		for _, k := range n.after[i] {
			p.Nodes[k].LateEnd = min(p.Nodes[k].LateEnd, d.LateStart)
		}
	}
	n.trace(&p)
	return p
}

// trace finds a critical path from its end.
func (n network) trace(p *Plan) {
	at := -1
	for i, d := range p.Nodes {
		if d.EarlyEnd >= p.Duration-slack && (at < 0 || d.EarlyEnd > p.Nodes[at].EarlyEnd) {
			at = i
		}
	}
	for at >= 0 {
		d := p.Nodes[at]
		p.Path = append([]string{d.ID}, p.Path...)
		p.Variance += d.Variance
		from := at
		at = -1
		for _, k := range n.after[from] {
			if p.Nodes[k].EarlyEnd >= d.EarlyStart-slack && (at < 0 || p.Nodes[k].EarlyEnd > p.Nodes[at].EarlyEnd) {
				at = k
			}
		}
	}
}

// Chance is the probability, 0 to 1, to be done within so many working hours: the
// normal distribution with the mean and variance of the critical path, as PERT has
// it. It is too hopeful where other paths are nearly as long.
func (p Plan) Chance(hours float64) float64 {
	if p.Variance == 0 {
		if hours >= p.Duration-slack {
			return 1
		}
		return 0
	}
	return math.Erfc((p.Duration-hours)/math.Sqrt(2*p.Variance)) / 2
}

const source = "PERT: Malcolm, Roseboom, Clark and Fazar, Operations Research 7(5):646, 1959; critical path: Kelley and Walker, 1959"
