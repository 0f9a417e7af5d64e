package handover

import (
	"fmt"
	"strconv"

	pb "bayword/proto/bayword/v1"
)

var partStates = map[pb.PartState]string{
	pb.PartState_PART_STATE_ORDERED: "ordered, not here", pb.PartState_PART_STATE_LATE: "late", pb.PartState_PART_STATE_ARRIVED: "here, not fitted",
	pb.PartState_PART_STATE_FITTED: "fitted", pb.PartState_PART_STATE_RETURNED: "sent back",
}

var provenances = map[pb.Provenance]string{
	pb.Provenance_PROVENANCE_NEW_OLD_STOCK: "new old stock", pb.Provenance_PROVENANCE_REPRODUCTION: "reproduction",
	pb.Provenance_PROVENANCE_USED: "used", pb.Provenance_PROVENANCE_MADE: "made for this job",
}

func (w *writer) parts() section {
	t := table{
		Empty:   "No parts are on record.",
		Columns: []column{{"Part", 1.4}, {"What", 3.6}, {"Where from", 3.2}, {"Price", 1.9}, {"What became of it", 4}},
	}
	for _, p := range w.r.GetParts() {
		from := provenances[p.GetProvenance()]
		if from == "" {
			from = "provenance not said"
		}
		ordered, due, came := dated(p.GetOrdered()), dated(p.GetDue()), dated(p.GetArrived())
		r := row{
			Cells: []string{
				numbered("part", p.GetNumber()), spaced(counted(p.GetQuantity()), sides[p.GetSide()], clean(p.GetPart())),
				lines(from, clean(p.GetSupplier())), price(w.r.GetCurrency(), p.GetPrice()),
				lines(partStates[p.GetState()], after("ordered ", ordered), after("due ", due), after("came ", came), arrivedOf(p),
					clean(p.GetCondition()), fitting(p), w.by(p.GetPerson(), p.GetAt())),
			},
			Entries: entriesOf(p.GetEntries()),
		}
		switch p.GetState() {
		case pb.PartState_PART_STATE_FITTED, pb.PartState_PART_STATE_RETURNED:
		default:
			r.Flag = "not fitted"
		}
		t.Rows = append(t.Rows, r)
	}
	return section{ID: "parts", Title: "Parts and where they come from", Tables: []table{t}}
}

// after puts a word before a text that is there.
func after(word, text string) string {
	if text == "" {
		return ""
	}
	return word + text
}

// arrivedOf says how many came when that is not what was ordered.
func arrivedOf(p *pb.Part) string {
	if n := p.GetArrivedQuantity(); n > 0 && n != p.GetQuantity() {
		return fmt.Sprintf("%d of %d came", n, p.GetQuantity())
	}
	return ""
}

func fitting(p *pb.Part) string {
	note := clean(p.GetFitNote())
	if p.GetTrialFitted() {
		return lines("tried on the vehicle", note)
	}
	return note
}

func (w *writer) hours() section {
	t := table{
		Empty:   "No hours are on record.",
		Columns: []column{{"Stage", 2.4}, {"Logged here", 2}, {"Brought in", 2}, {"In all", 2}, {"Agreed", 2}, {"Over", 1.6}},
	}
	var logged, imported, agreed, extras float64
	for _, h := range w.r.GetHours() {
		logged, imported = logged+h.GetLogged(), imported+h.GetImported()
		agreed, extras = agreed+h.GetEstimate(), extras+h.GetExtras()
		r := row{Cells: hoursCells(clean(h.GetStage()), h.GetLogged(), h.GetImported(), h.GetEstimate(), h.GetExtras()), Entries: w.withJob(h.GetEntries())}
		t.Rows = append(t.Rows, r)
	}
	if len(t.Rows) > 1 {
		t.Rows = append(t.Rows, row{Cells: hoursCells("in all", logged, imported, agreed, extras), Entries: total(t.Rows), Derived: true, Sum: true})
	}
	return section{ID: "hours", Title: "Hours by stage", Tables: []table{t}, Figures: w.figures(hoursPicture)}
}

// hoursCells holds hours against what is agreed; agreed extras alone are no estimate
// to be over of.
func hoursCells(stage string, logged, imported, agreed, extras float64) []string {
	cells := []string{stage, hours(logged), hours(imported), hours(logged + imported), hours(agreed), ""}
	switch over := logged + imported - agreed; {
	case agreed == 0:
		cells[4] = "none"
	case agreed <= extras:
		cells[4] = hours(agreed) + " of extras"
	case over > 0.0005: // less is not printed
		cells[5] = hours(over)
	}
	return cells
}

var taskStates = map[pb.TaskState]string{
	pb.TaskState_TASK_STATE_WAITING: "not begun", pb.TaskState_TASK_STATE_DOING: "in hand", pb.TaskState_TASK_STATE_DONE: "done",
}

func (w *writer) tasks() section {
	t := table{
		Empty:   "No tasks are on record.",
		Columns: []column{{"Task", 1.4}, {"What", 4.6}, {"Stage", 1.8}, {"Estimate", 2.2}, {"Logged", 1.6}, {"State", 3}},
	}
	for _, k := range w.r.GetTasks() {
		estimate := hours(k.GetLikelyHours())
		if estimate != "" && (k.GetLowHours() > 0 || k.GetHighHours() > 0) {
			estimate = lines(estimate, figureOf(k.GetLowHours())+" to "+figureOf(k.GetHighHours())+" h")
		}
		r := row{
			Cells: []string{
				numbered("task", k.GetNumber()), lines(clean(k.GetTitle()), after("needs ", clean(k.GetNeedsPart())), taskAfter(k)), clean(k.GetStage()),
				estimate, hours(k.GetLoggedHours()),
				lines(comma(taskStates[k.GetState()], person(k.GetWho())), after("begun ", w.moment(k.GetStartedAt(), dayLayout)),
					after("done ", w.moment(k.GetFinishedAt(), dayLayout))),
			},
			Entries: w.withJob([]uint64{k.GetEntry()}),
		}
		if k.GetState() != pb.TaskState_TASK_STATE_DONE {
			r.Flag = "not done"
		}
		t.Rows = append(t.Rows, r)
	}
	return section{ID: "tasks", Title: "Tasks", Tables: []table{t}}
}

func taskAfter(k *pb.Task) string {
	var numbers []string
	for _, n := range k.GetAfter() {
		numbers = append(numbers, strconv.FormatUint(uint64(n), 10))
	}
	return after("after task ", comma(numbers...))
}

var extraStates = map[pb.ExtraState]string{
	pb.ExtraState_EXTRA_STATE_PROPOSED: "proposed", pb.ExtraState_EXTRA_STATE_AGREED: "agreed", pb.ExtraState_EXTRA_STATE_DECLINED: "declined",
}

func (w *writer) extras() section {
	t := table{
		Empty:   "No extras were proposed.",
		Columns: []column{{"Extra", 1.9}, {"What", 4.2}, {"How the price is made up", 4}, {"Price", 2}, {"Decision", 3}},
	}
	for _, x := range w.r.GetExtras() {
		r := row{
			Cells: []string{
				numbered("extra", x.GetNumber()), lines(clean(x.GetText()), extraFinds(x)), w.priced(x), money(w.r.GetCurrency(), x.GetPrice()),
				extraStates[x.GetState()],
			},
			Entries: w.withJob(stepEntries(x)),
		}
		if x.GetState() == pb.ExtraState_EXTRA_STATE_PROPOSED {
			r.Flag = "waits for the customer"
		}
		t.Rows = append(t.Rows, r)
		for _, h := range x.GetHistory() {
			t.Rows = append(t.Rows, row{
				Cells:   []string{"", "", "", "", spaced(extraStates[h.GetState()]+",", w.by(h.GetPerson(), h.GetAt()))},
				Entries: w.withJob([]uint64{h.GetEntry()}), Under: true,
			})
		}
	}
	return section{ID: "extras", Title: "Extras and what was decided", Tables: []table{t}}
}

func extraFinds(x *pb.Extra) string {
	var numbers []string
	for _, n := range x.GetFinds() {
		numbers = append(numbers, strconv.FormatUint(uint64(n), 10))
	}
	return after("from find ", comma(numbers...))
}

// priced is «10 h at £52.00», «parts £410.00», «materials £20.00».
func (w *writer) priced(x *pb.Extra) string {
	labour := ""
	if x.GetHours() > 0 {
		labour = hours(x.GetHours()) + " at " + money(w.r.GetCurrency(), x.GetLabourRate())
	}
	from := clean(x.GetHoursFrom())
	if from == "said" {
		from = ""
	}
	return lines(labour, after("hours from ", from), after("parts ", price(w.r.GetCurrency(), x.GetPartsCost())),
		after("materials ", price(w.r.GetCurrency(), x.GetMaterialsCost())))
}

func stepEntries(x *pb.Extra) []uint64 {
	var es []uint64
	for _, h := range x.GetHistory() {
		es = append(es, h.GetEntry())
	}
	return es
}

func (w *writer) snags() section {
	t := table{Empty: "No snags are on record.", Columns: []column{{"Snag", 1.4}, {"What", 6}, {"Reported", 3}, {"Put right", 3}}}
	for _, n := range w.r.GetSnags() {
		r := row{
			Cells: []string{
				numbered("snag", n.GetNumber()), clean(n.GetText()), w.by(n.GetPerson(), n.GetAt()), w.done("", n.GetClosedBy(), n.GetClosedAt()),
			},
			Entries: entriesOf(n.GetEntries()),
		}
		switch {
		case n.GetState() != pb.SnagState_SNAG_STATE_CLOSED:
			r.Flag = "open"
		case r.Cells[3] == "":
			r.Cells[3] = "put right"
		}
		t.Rows = append(t.Rows, r)
	}
	return section{ID: "snags", Title: "Snags", Tables: []table{t}}
}
