package say

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	pb "bayword/proto/bayword/v1"
)

// ways are the ways to repair, as what to do and as what it is called.
var ways = map[pb.RepairWay]struct{ do, name string }{
	pb.RepairWay_REPAIR_WAY_PATCH:      {"patch it", "patches"},
	pb.RepairWay_REPAIR_WAY_PART_PANEL: {"let in a part panel", "part panel"},
	pb.RepairWay_REPAIR_WAY_PANEL:      {"replace the whole panel", "whole panel"},
}

// adviseRepair is what to do and how sure that is, then what each way costs, and
// what to look at before the first cut.
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
		return careful(warned(r.GetBasis()), head+"nothing open to repair there.", sentence(r.GetWhy()), checkFirst(r))
	}
	advised := ways[r.GetAdvised()].do
	sure := ""
	if advised != "" {
		sure = fmt.Sprintf("Cheapest in %.0f %% of the cases I worked through.", shareOf(r.GetConfidence()))
	}
	lines := []string{
		head + orElse(advised, "too little is known to advise") + ".",
		spaced(sentence(r.GetWhy()), sure),
	}
	for _, o := range ordered(r) {
		lines = append(lines, way(o, r.GetCurrency()))
	}
	onOrder := ""
	if p := r.GetPanelPart(); p != nil {
		onOrder = "On record: " + comma(spaced(fmt.Sprintf("part %d", p.GetNumber()), partCalled(p)), partNow(p, n)) + "."
	}
	return careful(warned(r.GetBasis()), append(lines, onOrder, checkFirst(r), rates(r))...)
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

// way is «Part panel: £1,420 (£1,180–£1,900), 21 h (17–29), the panel £410, 9 days
// until it is here.»
func way(o *pb.RepairOption, currency string) string {
	name := upper(orElse(ways[o.GetWay()].name, "another way")) + ": "
	if o.GetRuledOut() != "" {
		return name + "ruled out, " + stopped(o.GetRuledOut())
	}
	cost := ""
	if c := o.GetCost(); c.GetLikely() > 0 {
		cost = aboutMoney(c.GetLikely(), currency) + " (" + aboutMoney(c.GetLow(), currency) + "–" + aboutMoney(c.GetHigh(), currency) + ")"
	}
	h := o.GetHours()
	long := aboutHours(h.GetLikely()) + " h (" + hourSpan(h.GetLow(), h.GetHigh()) + ")"
	panel, lead := "", ""
	if o.GetPanelPrice() > 0 {
		panel = "panel " + money(o.GetPanelPrice(), currency)
	}
	if o.GetLeadDays() > 0 {
		lead = plural(int(o.GetLeadDays()), "day", "days") + " to wait for it"
	}
	return name + comma(cost, long, panel, lead) + "."
}

func checkFirst(r *pb.AdviseRepairResponse) string {
	return labelled("Check first", first(r.GetCheckFirst(), 4))
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
		return "Rates: common practice, none of the shop's own repairs yet."
	}
	return "Rates: common practice and " + plural(int(most), "closed repair", "closed repairs") + " of the shop's own."
}

// shareOf is a share as a whole percentage between 0 and 100.
func shareOf(share float64) float64 {
	if !(share > 0) { // not a number included
		return 0
	}
	return math.Round(100 * min(1, share))
}
