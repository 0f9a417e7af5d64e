package service

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"bayword/internal/calc/forecast"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// What is taken for granted of work to come. Common practice, no source.
const (
	hoursADay      = 7.5
	lastHour       = 12   // of the day, after which work begins tomorrow
	overshoot      = 0.05 // of a stage's estimate still to come once it is past it
	findsBelieved  = 2.0  // finds in
	findsStripping = 20.0 // hours of stripping
)

// hours of a find that is not found yet.
var findHours = [3]float64{1, 3, 12}

// lumpMean is the mean of work given by its likely hours alone.
const lumpMean = (shop.LowSpread + 1 + shop.HighSpread) / 3

// outlook gathers what is to come on a job.
func (s *Service) outlook(job string) (*outlook, error) {
	now := s.clock().In(s.zone)
	from := now
	if now.Hour() >= lastHour {
		from = now.AddDate(0, 0, 1)
	}
	o := &outlook{
		st: s.state, now: now, cal: forecast.From(from, days(s.state.Shop().DaysOff, s.zone)...), left: map[string][shop.Assembly + 1]shop.Remaining{}, tasks: map[string][]shop.Task{},
		basis: &pb.Basis{Inputs: []string{"job " + job}, Sources: []string{"the shop's ledger"}},
	}
	tasks, err := o.st.Upcoming(job, now)
	if err != nil {
		return nil, err
	}
	for _, j := range o.st.Jobs() {
		if j.ID == job {
			o.job = j
		}
	}
	if err := o.gather(); err != nil {
		return nil, err
	}
	for _, t := range tasks {
		o.task(t)
	}
	o.lumps()
	o.unfound()
	o.link()
	o.staff()
	o.assume("%g hours a working day, no holidays but the days off on record; work begins today before noon, else tomorrow", hoursADay)
	o.assume("stages go in their order, mechanical and trim side by side after paint, unless tasks say otherwise")
	o.assume("agreed extras are in the estimate, those that wait for the customer are not")
	return o, o.overrun()
}

func (o *outlook) assume(format string, args ...any) {
	o.basis.Assumptions = appendNew(o.basis.Assumptions, fmt.Sprintf(format, args...))
}

// gather takes the tasks and what is to come of the agreed hours of every job.
func (o *outlook) gather() error {
	tasks, err := o.st.Tasks("")
	if err != nil {
		return err
	}
	for _, t := range tasks {
		o.tasks[t.Job] = append(o.tasks[t.Job], t)
	}
	for _, j := range o.st.Jobs() {
		if o.left[j.ID], err = o.st.Remaining(j.ID); err != nil {
			return err
		}
	}
	return nil
}

// add adds work to the network.
func (o *outlook) add(t forecast.Task, b bar, st shop.Stage) {
	t.Stage = st.String()
	if t.Person == "" {
		t.Trade = t.Stage
	}
	o.in.Tasks, o.bars = append(o.in.Tasks, t), append(o.bars, b)
	o.last[st] = append(o.last[st], t.ID)
}

// task adds a task of the plan that is not done.
func (o *outlook) task(u shop.Upcoming) {
	t := forecast.Task{
		ID: strconv.Itoa(u.Number), Low: u.Low, Likely: u.Likely, High: u.High, Done: u.Logged.Float(), InHand: u.State == shop.Doing, Person: u.Who,
	}
	if u.Likely == 0 {
		t.Low, t.Likely, t.High = shop.UnsaidLow, shop.UnsaidLikely, shop.UnsaidHigh
		o.assume("task %s has no estimate: %g to %g hours taken, most likely %g (common practice, no source)", u.Name(), t.Low, t.High, t.Likely)
	}
	if took := o.left[o.job.ID][u.Stage].Taken[u.Number]; took > 0 {
		t.Done = took.Float()
		o.assume("%s of the %s hours in no task's name are taken as worked on task %s, for the estimate has no other room for them", took, u.Stage, t.ID)
	}
	if !t.InHand {
		for _, n := range u.After {
			if b, ok := o.st.TaskNumber(n); ok && b.State != shop.Done {
				t.After = append(t.After, strconv.Itoa(n))
			}
		}
	}
	b := bar{task: taskPB(u.Task)}
	var roots []string
	for _, h := range u.Causes {
		roots = append(roots, h.Root)
		if a := o.arrival(h); t.Part == nil || mean(a) > mean(*t.Part) {
			t.Part = &a
		}
	}
	b.hold = strings.Join(roots, "; ")
	o.add(t, b, u.Stage)
	o.basis.Sources = append(o.basis.Sources, taskSource(u.Task))
}

func mean(a forecast.Arrival) float64 { return a.Due + (a.SlipLow+a.SlipLikely+a.SlipHigh)/3 }

// arrival says when a hold is likely to be over. How late parts come and customers
// answer is common practice, no source.
func (o *outlook) arrival(h shop.Hold) forecast.Arrival {
	const held = "a part due comes on its day or up to 8 working days later; a late one within %d days and as late again; one of no day in 2 to 30, one not ordered in 3 to 40; a customer decides within 15 (common practice, no source)"
	const lateWithin = 10
	o.assume(held, lateWithin)
	switch {
	case h.Kind == shop.HoldPart && h.Part.DaysLate > 0:
		return forecast.Arrival{Due: 1, SlipLikely: 2, SlipHigh: lateWithin + float64(h.Part.DaysLate)}
	case h.Kind == shop.HoldPart && h.Part.Due != 0:
		return forecast.Arrival{Due: o.morningAfter(h.Part.Due.String()), SlipHigh: 8}
	case h.Kind == shop.HoldPart:
		return forecast.Arrival{SlipLow: 2, SlipLikely: 7, SlipHigh: 30}
	case h.Kind == shop.HoldNotOrdered:
		return forecast.Arrival{SlipLow: 3, SlipLikely: 10, SlipHigh: 40}
	case h.Kind == shop.HoldConsent:
		return forecast.Arrival{SlipLikely: 3, SlipHigh: 15}
	}
	dry := h.Until.In(o.now.Location()) // of a coat: worked on that day, if it is dry by noon
	if dry.Hour() < lastHour {
		dry = dry.AddDate(0, 0, -1)
	}
	return forecast.Arrival{Due: o.cal.MorningAfter(dry)}
}

func (o *outlook) morningAfter(day string) float64 {
	at, err := time.ParseInLocation(time.DateOnly, day, o.now.Location())
	if err != nil {
		return 0 // no day of a record is like that
	}
	return o.cal.MorningAfter(at)
}

// lumps adds what of each stage's estimate no task names.
func (o *outlook) lumps() {
	for st := shop.Strip; st <= shop.Assembly; st++ {
		left := o.left[o.job.ID][st]
		if left.Left {
			if left.Agreed() > left.Logged {
				o.assume("what the %s estimate left over is not to come: the job has gone on to %s", st, o.job.Stage)
			}
			continue
		}
		likely, agreed := left.Unnamed.Float(), left.Agreed().Float()
		t := forecast.Task{ID: "rest of " + st.String(), Low: shop.LowSpread * likely, Likely: likely, High: shop.HighSpread * likely}
		switch {
		case likely > 0:
			o.assume("hours of a stage that no task names come after its tasks, by one person, %g to %g times what is left of the estimate (common practice, no source)", shop.LowSpread, shop.HighSpread)
		case st == o.job.Stage && len(o.last[st]) == 0 && left.Logged > 0 && agreed > 0:
			t.Low, t.Likely, t.High = 0, overshoot*agreed, 4*overshoot*agreed
			o.assume("%s is past its estimate and goes on: %g %% of the estimate more, up to %g %% (common practice, no source)", st, 100*overshoot, 400*overshoot)
		default:
			continue
		}
		t.After = slices.Clone(o.last[st])
		o.add(t, o.rest(t, "rest of "+st.String(), st), st)
	}
}

// rest is the bar of work that no task names.
func (o *outlook) rest(t forecast.Task, title string, st shop.Stage) bar {
	return bar{task: &pb.Task{
		Job: o.job.ID, Title: title, Stage: st.String(), LowHours: t.Low, LikelyHours: t.Likely, HighHours: t.High, State: pb.TaskState_TASK_STATE_WAITING,
	}}
}

// afterStage are the stages that come before each.
var afterStage = [shop.Assembly + 1][]shop.Stage{
	shop.Metal: {shop.Strip}, shop.Paint: {shop.Metal}, shop.Mechanical: {shop.Paint}, shop.Trim: {shop.Paint},
	shop.Assembly: {shop.Mechanical, shop.Trim},
}

// before gives what is to come in the stages before one: of an empty stage, in
// those before that.
func (o *outlook) before(st shop.Stage) []string {
	var ids []string
	for _, b := range afterStage[st] {
		if len(o.last[b]) > 0 {
			ids = append(ids, o.last[b]...)
		} else {
			ids = append(ids, o.before(b)...)
		}
	}
	return ids
}

// link makes what the plan has wait for no task wait for the stages before it,
// unless these wait for it.
func (o *outlook) link() {
	at := map[string]int{}
	for i, t := range o.in.Tasks {
		at[t.ID] = i
	}
	for i := range o.in.Tasks {
		t := &o.in.Tasks[i]
		if t.InHand || o.planned(*t) {
			continue
		}
		st, _ := shop.ParseStage(t.Stage)
		waits := o.waiting(t.ID, at)
		for _, id := range o.before(st) {
			if !slices.Contains(t.After, id) && !waits(id) {
				t.After = append(t.After, id)
			}
		}
	}
}

// planned tells whether the plan has a task wait for others, done or not.
func (o *outlook) planned(t forecast.Task) bool {
	n, err := strconv.Atoi(t.ID)
	if err != nil {
		return false
	}
	task, _ := o.st.TaskNumber(n)
	return len(task.After) > 0
}

// waiting gives what tells whether a task waits for one, over others too.
func (o *outlook) waiting(other string, at map[string]int) func(id string) bool {
	known := map[string]bool{other: true}
	var waits func(id string) bool
	waits = func(id string) bool {
		if yes, ok := known[id]; ok {
			return yes
		}
		known[id] = false // of a circle, which is refused when it is foreseen
		known[id] = slices.ContainsFunc(o.in.Tasks[at[id]].After, waits)
		return known[id]
	}
	return waits
}

// unfound adds what stripping will bring to light. Its rate is what the shop found
// while it stripped by the hour of that, shrunk to common practice: with nothing on
// record it is common practice alone.
func (o *outlook) unfound() {
	strip := o.last[shop.Strip]
	if len(strip) == 0 {
		return
	}
	finds, hours := o.st.Stripping()
	rate := forecast.Rate{Shape: findsBelieved, Hours: findsStripping}.Seen(finds, hours.Float())
	const id = "not found yet"
	t := forecast.Task{ID: id, After: slices.Clone(strip)}
	o.add(t, o.rest(t, id, shop.Metal), shop.Metal)
	o.in.Unfound = &forecast.Unfound{While: strip, Into: id, PerHour: rate.PerHour(), Low: findHours[0], Likely: findHours[1], High: findHours[2]}
	o.assume("stripping brings finds to light: %d recorded in %s hours logged of it, with %g in %g (common practice, no source); what was imported says no day; each is metal work beyond the estimate", finds, hours, findsBelieved, findsStripping)
}

// staff gives who can work on the job, and how long a day. Who works for other jobs
// too shares the day evenly with those that are at their stage now.
func (o *outlook) staff() {
	people := o.st.People()
	covered := map[string]bool{}
	for _, p := range people {
		var trades []string
		for st := shop.Strip; st <= shop.Assembly; st++ {
			if p.Does(st) {
				trades = append(trades, st.String())
				covered[st.String()] = true
			}
		}
		share := 1.0
		if others := o.others(p); len(others) > 0 && o.works(p, trades) {
			share = 1 / float64(1+len(others))
			o.assume("%s shares the day evenly with %s", p.Name, strings.Join(others, ", "))
		}
		hours := hoursADay
		if p.HoursPerDay > 0 {
			hours = p.HoursPerDay
			o.assume("%s works %g hours a day", p.Name, hours)
		}
		o.in.People = append(o.in.People, forecast.Person{ID: p.ID, Trades: trades, HoursPerDay: hours * share, Off: o.off(p)})
	}
	for i := range o.in.Tasks {
		t := &o.in.Tasks[i]
		if t.Person != "" || covered[t.Trade] {
			continue
		}
		// Somebody must: the lead, or whoever there is.
		o.assume("nobody's trade is %s: it is taken as done by one more person", t.Trade)
		o.in.People = append(o.in.People, forecast.Person{ID: "for " + t.Trade, Trades: []string{t.Trade}, HoursPerDay: hoursADay})
		covered[t.Trade] = true
	}
}

// off counts the days off of a person that are to come.
func (o *outlook) off(p shop.PersonAdded) []int {
	var all []int
	for _, day := range days(p.DaysOff, o.now.Location()) {
		if n, ok := o.cal.Number(day); ok {
			all = append(all, n)
		}
	}
	return all
}

// days gives the midnights of some days.
func days(all []shop.Day, zone *time.Location) []time.Time {
	var out []time.Time
	for _, d := range all {
		if at, err := time.ParseInLocation(time.DateOnly, d.String(), zone); err == nil {
			out = append(out, at)
		}
	}
	return out
}

// works tells whether a person may have something to do on the job.
func (o *outlook) works(p shop.PersonAdded, trades []string) bool {
	return slices.ContainsFunc(o.in.Tasks, func(t forecast.Task) bool {
		return t.Person == p.ID || t.Person == "" && slices.Contains(trades, t.Trade)
	})
}

// others are the other jobs that are at a stage which is a person's, assembly
// aside, and has hours to come, or on which they have a task in hand.
func (o *outlook) others(p shop.PersonAdded) []string {
	var ids []string
	for _, j := range o.st.Jobs() {
		if j.ID == o.job.ID {
			continue
		}
		left := o.left[j.ID][j.Stage]
		busy := j.Stage != 0 && j.Stage != shop.Assembly && p.Does(j.Stage) && left.Logged < left.Agreed()
		if busy || slices.ContainsFunc(o.tasks[j.ID], func(t shop.Task) bool { return t.State == shop.Doing && t.Who == p.ID }) {
			ids = append(ids, j.ID)
		}
	}
	return ids
}

// overrun learns how the shop's work went beside what was expected of it: stages a
// job has left or is past the estimate of, and finished tasks of other stages.
func (o *outlook) overrun() error {
	var records []forecast.Record
	for _, j := range o.st.Jobs() {
		counted := map[shop.Stage]bool{}
		for st := shop.Strip; st <= shop.Assembly; st++ {
			left := o.left[j.ID][st]
			if left.Agreed() > 0 && left.Logged > 0 && (left.Left || left.Logged > left.Agreed()) {
				counted[st] = true
				records = append(records, forecast.Record{Expected: left.Agreed().Float() * lumpMean, Actual: left.Logged.Float()})
			}
		}
		for _, t := range o.tasks[j.ID] {
			if t.State == shop.Done && t.Logged > 0 && t.Likely > 0 && !counted[t.Stage] {
				records = append(records, forecast.Record{Expected: (t.Low + t.Likely + t.High) / 3, Actual: t.Logged.Float()})
			}
		}
	}
	learned, err := forecast.LearnOverrun(records)
	if err != nil {
		return foreseeRefusal(err)
	}
	o.in.Overrun = learned
	o.assume("records: stages that a job has left or gone past the estimate of, and finished tasks of others; expected is the mean of the estimate, %.2f times its likely hours where no spread was said", math.Round(lumpMean*100)/100)
	return nil
}
