package say

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	pb "bayword/proto/bayword/v1"
)

// ways are the ways to repair: how to say what to do where the service does not, and
// what each is called.
var ways = map[pb.RepairWay]struct{ do, name string }{
	pb.RepairWay_REPAIR_WAY_PATCH:      {"patch it", "patches"},
	pb.RepairWay_REPAIR_WAY_PART_PANEL: {"let in a part panel", "part panel"},
	pb.RepairWay_REPAIR_WAY_PANEL:      {"replace the whole panel", "whole panel"},
}

// adviseRepair is what to do and what it takes, then the other ways, how sure that
// is, and what to look at before the first cut.
func adviseRepair(r *pb.AdviseRepairResponse, n Names) Reply {
	found := make([]uint32, len(r.GetFinds()))
	for i, f := range r.GetFinds() {
		found[i] = f.GetNumber()
	}
	head := upper(place(r.GetPanel(), r.GetSide(), r.GetEnd())) + n.on(r.GetJob())
	if finds := ofNumbers("find", "finds", found); finds != "" {
		head += " (" + finds + ")"
	}
	head += ": "
	if len(r.GetFinds()) == 0 && len(r.GetOptions()) == 0 {
		return careful(warned(r.GetBasis()), head+"nothing open to repair there.", checkFirst(r))
	}
	lines := []string{head + "too little is known to advise.", sentence(r.GetWhy())}
	for i, o := range ordered(r) {
		if i == 0 && advised(o, r) {
			lines = []string{head + todo(o) + ", " + takes(o, r.GetCurrency()) + "."}
			continue
		}
		lines = append(lines, way(o, r.GetCurrency()))
	}
	onOrder := ""
	if p := r.GetPanelPart(); p != nil {
		onOrder = "On record: " + comma(spaced(fmt.Sprintf("part %d", p.GetNumber()), partCalled(p)), partNow(p, n)) + "."
	}
	return careful(warned(r.GetBasis()), append(lines, onOrder, sure(r), checkFirst(r))...)
}

// ordered puts the way advised first and those ruled out last.
func ordered(r *pb.AdviseRepairResponse) []*pb.RepairOption {
	rank := func(o *pb.RepairOption) int {
		switch {
		case o.GetRuledOut() != "":
			return 2
		case o.GetWay() == r.GetAdvised():
			return 0
		}
		return 1
	}
	out := slices.Clone(r.GetOptions())
	slices.SortStableFunc(out, func(a, b *pb.RepairOption) int { return cmp.Compare(rank(a), rank(b)) })
	return out
}

// advised tells whether an option is the one that is advised.
func advised(o *pb.RepairOption, r *pb.AdviseRepairResponse) bool {
	return ways[o.GetWay()].do != "" && o.GetWay() == r.GetAdvised() && o.GetRuledOut() == ""
}

// todo is «dress it out, fill and block».
func todo(o *pb.RepairOption) string {
	return orElse(short(o.GetTodo()), orElse(ways[o.GetWay()].do, "do it another way"))
}

// way is «Part panel: £1,420 (£1,180–£1,900), 21 h (17–29), of it the panel £410.»
func way(o *pb.RepairOption, currency string) string {
	name := upper(orElse(ways[o.GetWay()].name, "another way"))
	if o.GetTodo() != "" && o.GetWay() == pb.RepairWay_REPAIR_WAY_PATCH {
		name = upper(todo(o))
	}
	if o.GetRuledOut() != "" {
		return name + ": no, " + stopped(o.GetRuledOut())
	}
	return name + ": " + takes(o, currency) + "."
}

// takes is what a way costs and how long it takes. What has no price says so, and
// is no cost beside the others'.
func takes(o *pb.RepairOption, currency string) string {
	h := o.GetHours()
	long := aboutHours(h.GetLikely()) + " h (" + hourSpan(h.GetLow(), h.GetHigh()) + ")"
	c := o.GetCost()
	switch {
	case o.GetPriceUnknown() && c.GetLikely() > 0:
		return "the panel's price is not on record, ask for it; labour alone " + comma(aboutMoney(c.GetLikely(), currency), long)
	case o.GetPriceUnknown():
		return comma("the panel's price is not on record", long)
	}
	cost, panel, lead := "", "", ""
	if c.GetLikely() > 0 {
		cost = "about " + aboutMoney(c.GetLikely(), currency) + " (" + aboutMoney(c.GetLow(), currency) + "–" + aboutMoney(c.GetHigh(), currency) + ")"
	}
	if o.GetPanelPrice() > 0 {
		panel = "of it the panel " + money(o.GetPanelPrice(), currency)
	}
	if o.GetLeadDays() > 0 {
		lead = plural(int(o.GetLeadDays()), "day", "days") + " to wait for it"
	}
	return comma(cost, long, panel, lead)
}

func checkFirst(r *pb.AdviseRepairResponse) string {
	return labelled("Check first", first(r.GetCheckFirst(), 3))
}

// sure is how often the way advised was the cheapest, and whether the shop's own
// work stands behind the figures.
func sure(r *pb.AdviseRepairResponse) string {
	return labelled("How sure", slices.DeleteFunc([]string{cheapest(r), rates(r)}, func(s string) bool { return s == "" }))
}

// cheapest is how the way advised stands to those that it was weighed against.
func cheapest(r *pb.AdviseRepairResponse) string {
	var best, unpriced *pb.RepairOption
	compared := 0
	for _, o := range r.GetOptions() {
		switch {
		case o.GetRuledOut() != "":
		case o.GetPriceUnknown():
			unpriced = o
		default:
			compared++
		}
		if advised(o, r) {
			best = o
		}
	}
	share := shareOf(r.GetConfidence())
	switch {
	case best == nil:
		return ""
	case compared > 1 && share == 100:
		return "cheapest in every case I worked through"
	case compared > 1:
		return fmt.Sprintf("cheapest in %.0f %% of the cases I worked through", share)
	case unpriced == nil || unpriced == best:
		return "it is the only way left"
	case unpriced.GetCost().GetLow() > best.GetCost().GetHigh():
		return "a whole panel is dearer by its labour alone"
	}
	return "it cannot be weighed against a whole panel without its price"
}

// rates says whether the shop's own work stands behind the figures.
func rates(r *pb.AdviseRepairResponse) string {
	most := uint32(0)
	for _, rate := range r.GetRates() {
		most = max(most, rate.GetClosedRepairs())
	}
	switch {
	case len(r.GetRates()) == 0:
		return ""
	case most == 0:
		return "the rates are common practice, none of the shop's own repairs yet"
	}
	return "the rates are common practice and " + plural(int(most), "closed repair", "closed repairs") + " of the shop's own"
}

// shareOf is a share as a whole percentage between 0 and 100.
func shareOf(share float64) float64 {
	if !(share > 0) { // not a number included
		return 0
	}
	return math.Round(100 * min(1, share))
}
