package handover

import (
	"fmt"
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"
)

func (w *writer) money() section {
	m := w.r.GetMoney()
	s := section{ID: "money", Title: "Money"}
	t := table{
		Empty:   "Where the money stands is not on record.",
		Columns: []column{{"For", 4}, {"Agreed", 2}, {"Spent", 2}, {"On order", 2}, {"To come", 2}},
	}
	if m == nil {
		s.Tables = []table{t}
		return s
	}
	currency := m.GetCurrency()
	if currency == "" {
		currency = w.r.GetCurrency()
	}
	steps := m.GetBasis().GetSteps()
	for _, st := range m.GetStages() {
		var how string
		how, steps = taken(steps, st.GetStage()+": ")
		t.Rows = append(t.Rows, row{
			Cells: []string{
				lines("labour, "+clean(st.GetStage()), clean(how)), money(currency, st.GetAgreed()), money(currency, st.GetSpent()), "", money(currency, st.GetToCome()),
			},
			Entries: w.labour(st.GetStage()),
		})
	}
	if m.GetExtrasGoods() != 0 {
		t.Rows = append(t.Rows, row{
			Cells: []string{"parts and materials of agreed extras", money(currency, m.GetExtrasGoods()), "", "", ""}, Entries: w.withJob(w.agreed(goods)),
		})
	}
	if m.GetParts() != 0 || m.GetOnOrder() != 0 {
		t.Rows = append(t.Rows, row{
			Cells:   []string{"parts that were not sent back", "", money(currency, m.GetParts()), money(currency, m.GetOnOrder()), ""},
			Entries: w.withJob(w.kept()),
		})
	}
	all := total(t.Rows)
	if len(all) == 0 {
		all = w.asAt()
	}
	t.Rows = append(t.Rows, row{
		Cells: []string{"in all", money(currency, m.GetAgreed()), money(currency, m.GetSpent()), money(currency, m.GetOnOrder()), money(currency, m.GetToCome())}, Entries: all, Derived: true, Sum: true,
	})
	s.Tables = []table{t}
	if len(m.GetWaiting()) > 0 {
		s.Tables = append(s.Tables, w.waiting(m, currency))
	}
	if how := w.comesAbout(m, currency, steps); len(how.Rows) > 0 {
		s.Tables = append(s.Tables, how)
	}
	return s
}

// comesAbout says what the sums rest on that no row above says: each line with its
// own entries, and the last one where it has none.
func (w *writer) comesAbout(m *pb.ReportMoneyResponse, currency string, steps []string) table {
	how := table{Caption: "How this comes about", Columns: []column{{"Step", 1}}}
	add := func(text string, es entries) {
		how.Rows = append(how.Rows, row{Cells: []string{upper(clean(text))}, Entries: es, Derived: true})
	}
	if m.GetLabourRate() > 0 {
		how.Rows = append(how.Rows, row{Cells: []string{"An hour is " + money(currency, m.GetLabourRate()) + "."}, Entries: w.asAt()})
	}
	for _, x := range w.r.GetExtras() {
		name := fmt.Sprintf("agreed extra %d: ", x.GetNumber())
		var step string
		if step, steps = taken(steps, name); step != "" {
			add(name+step, w.withJob(stepEntries(x)))
		}
	}
	for _, line := range slices.Concat(steps, m.GetBasis().GetAssumptions(), m.GetBasis().GetSources()) {
		add(line, w.asAt())
	}
	return how
}

// taken takes the step that begins so out of the steps, without its beginning.
func taken(steps []string, head string) (step string, rest []string) {
	for i, s := range steps {
		if said, ok := strings.CutPrefix(s, head); ok {
			return said, slices.Concat(steps[:i], steps[i+1:])
		}
	}
	return "", steps
}

// waiting are the extras that are in no total yet.
func (w *writer) waiting(m *pb.ReportMoneyResponse, currency string) table {
	t := table{Caption: "Waiting for the customer, in no total above", Columns: []column{{"Extra", 1.5}, {"What", 6}, {"Price", 2}}}
	for _, x := range m.GetWaiting() {
		t.Rows = append(t.Rows, row{
			Cells:   []string{numbered("extra", x.GetNumber()), clean(x.GetText()), money(currency, x.GetPrice())},
			Entries: w.withJob(stepEntries(x)),
		})
	}
	return t
}

// labour are the entries of a stage's hours, and of the agreed extras whose hours
// count to it.
func (w *writer) labour(stage string) entries {
	own := w.agreed(func(x *pb.Extra) bool { return x.GetStage() == stage && x.GetHours() != 0 })
	for _, h := range w.r.GetHours() {
		if h.GetStage() == stage {
			own = append(own, h.GetEntries()...)
		}
	}
	return w.withJob(own)
}

// goods tells whether an extra needs more than hours.
func goods(x *pb.Extra) bool { return x.GetPartsCost() != 0 || x.GetMaterialsCost() != 0 }

// agreed are the entries of those of the extras that were agreed.
func (w *writer) agreed(is func(*pb.Extra) bool) []uint64 {
	var es []uint64
	for _, x := range w.r.GetExtras() {
		if x.GetState() == pb.ExtraState_EXTRA_STATE_AGREED && is(x) {
			es = append(es, stepEntries(x)...)
		}
	}
	return es
}

// kept are the entries of the parts that have a price and were not sent back.
func (w *writer) kept() []uint64 {
	var es []uint64
	for _, p := range w.r.GetParts() {
		if p.GetState() != pb.PartState_PART_STATE_RETURNED && p.GetPrice() != 0 {
			es = append(es, p.GetEntries()...)
		}
	}
	return es
}
