package forecast

// Task is a piece of work. Hours are hours of work of one person.
type Task struct {
	ID    string
	Stage string // for sums alone

	Low, Likely, High float64  // hours it takes in all
	Done              float64  // hours of them worked already
	InHand            bool     // begun: it goes before what is not
	After             []string // ids of the tasks that must end first

	Part   *Arrival // it cannot begin before; nil for none
	Trade  string   // who may do it; empty for anybody
	Person string   // who does it; empty for anybody of the trade
}

// Arrival is when something comes, in working days from now.
type Arrival struct {
	Due                           float64
	SlipLow, SlipLikely, SlipHigh float64 // working days later than due, triangular
}

// Person works on one task at a time.
type Person struct {
	ID          string
	Trades      []string
	HoursPerDay float64
	Off         []int // working days from now on which they do not work, 0 the first
}

// Limits of what is sensible; not physics.
const (
	maxTasks  = 500
	maxHours  = 100_000.0
	maxDays   = 3650.0
	maxPeople = 100
)

// Mean is the PERT mean in hours, (a + 4m + b)/6.
func (t Task) Mean() float64 { return (t.Low + 4*t.Likely + t.High) / 6 }

// Variance is the PERT variance in hours², ((b − a)/6)².
func (t Task) Variance() float64 { return (t.High - t.Low) * (t.High - t.Low) / 36 }

// Expected is the mean of the triangular distribution in hours, (a + m + b)/3.
func (t Task) Expected() float64 { return (t.Low + t.Likely + t.High) / 3 }

func (t Task) check() error {
	if t.ID == "" {
		return refuse("id", t.ID, "give every task an id")
	}
	for _, h := range []struct {
		field string
		v     float64
	}{{"low_hours", t.Low}, {"likely_hours", t.Likely}, {"high_hours", t.High}, {"done_hours", t.Done}} {
		if err := within(h.field, h.v, 0, maxHours, "hours"); err != nil {
			return err
		}
	}
	if t.Low > t.Likely {
		return refuse("low_hours", t.Low, "give up to the likely %g", t.Likely)
	}
	if t.High < t.Likely {
		return refuse("high_hours", t.High, "give the likely %g or more", t.Likely)
	}
	if t.Part != nil {
		return t.Part.check()
	}
	return nil
}

func (a Arrival) check() error {
	if err := within("due_days", a.Due, 0, maxDays, "working days"); err != nil {
		return err
	}
	for _, v := range []float64{a.SlipLow, a.SlipLikely, a.SlipHigh} {
		if err := within("slip_days", v, 0, maxDays, "working days"); err != nil {
			return err
		}
	}
	if a.SlipLow > a.SlipLikely || a.SlipLikely > a.SlipHigh {
		return refuse("slip_days", a.SlipLikely, "give a slip from %g to %g, the low one first", a.SlipLow, a.SlipHigh)
	}
	return nil
}

// network is tasks in an order in which none comes before what it waits for.
type network struct {
	tasks []Task
	after [][]int // by index
	order []int
}

// link checks tasks and orders them. It fails with *InputError, *UnknownError or
// *CycleError.
func link(tasks []Task) (network, error) {
	if len(tasks) > maxTasks {
		return network{}, refuse("tasks", len(tasks), "give at most %d tasks", maxTasks)
	}
	at := make(map[string]int, len(tasks))
	for i, t := range tasks {
		if err := t.check(); err != nil {
			return network{}, err
		}
		if _, twice := at[t.ID]; twice {
			return network{}, refuse("id", t.ID, "give every task an id of its own")
		}
		at[t.ID] = i
	}
	n := network{tasks: tasks, after: make([][]int, len(tasks))}
	for i, t := range tasks {
		for _, id := range t.After {
			k, ok := at[id]
			if !ok {
				return network{}, &UnknownError{t.ID, id}
			}
			n.after[i] = append(n.after[i], k)
		}
	}
	return n, n.sort()
}

// sort orders the tasks depth first.
func (n *network) sort() error {
	const fresh, open, closed = 0, 1, 2
	state := make([]int, len(n.tasks))
	var path []int
	var visit func(i int) error
	visit = func(i int) error {
		switch state[i] {
		case closed:
			return nil
		case open:
			return n.circle(path, i)
		}
		state[i] = open
		path = append(path, i)
		for _, k := range n.after[i] {
			if err := visit(k); err != nil {
				return err
			}
		}
		path = path[:len(path)-1]
		state[i] = closed
		n.order = append(n.order, i)
		return nil
	}
	for i := range n.tasks {
		if err := visit(i); err != nil {
			return err
		}
	}
	return nil
}

// circle names the tasks of a path from one on.
func (n *network) circle(path []int, from int) error {
	var e CycleError
	for _, i := range path {
		if i == from || len(e.Tasks) > 0 {
			e.Tasks = append(e.Tasks, n.tasks[i].ID)
		}
	}
	return &e
}
