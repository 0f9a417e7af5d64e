package say

import (
	"slices"

	pb "bayword/proto/bayword/v1"
)

// reportMoney is spent, agreed and to come, then the labour of the stages that are
// begun and of those that are not.
func reportMoney(r *pb.ReportMoneyResponse, n Names) Reply {
	price := func(v float64) string { return money(v, r.GetCurrency()) }
	none := len(r.GetStages()) > 0 && !slices.ContainsFunc(r.GetStages(), func(s *pb.StageMoney) bool { return s.GetEstimateHours() > 0 })
	spent := price(r.GetSpent()) + " spent of " + price(r.GetAgreed()) + " agreed"
	if none {
		spent = price(r.GetSpent()) + " spent, no estimate on record, " + price(r.GetAgreed()) + " of extras agreed"
	}
	head := upper(comma(n.job(r.GetJob()), spent, onOrder(r.GetOnOrder(), price), price(r.GetToCome())+" to come", heading(r, price))) + "."
	var begun, waiting []string
	for _, s := range r.GetStages() {
		if s.GetSpent() == 0 && s.GetEstimateHours() > 0 {
			waiting = append(waiting, short(s.GetStage())+" "+price(s.GetAgreed()))
		} else {
			begun = append(begun, short(s.GetStage())+" "+stageMoney(s, price, none))
		}
	}
	label := "Labour"
	if r.GetLabourRate() > 0 {
		label += " at " + price(r.GetLabourRate()) + " an hour"
	}
	goods := ""
	if r.GetParts() != 0 {
		goods = "parts that came " + price(r.GetParts())
	}
	if parts := r.GetUnagreedParts(); parts != 0 {
		goods = comma(goods, price(parts)+" of parts are in no agreed extra")
	}
	extras := ""
	if r.GetExtrasGoods() != 0 {
		extras = "parts and materials of agreed extras " + price(r.GetExtrasGoods())
	}
	waits := make([]string, len(r.GetWaiting()))
	for i, e := range r.GetWaiting() {
		waits[i] = comma(extraItem(e, false, n), price(e.GetPrice()))
	}
	return careful(warned(r.GetBasis()), head, labelled(label, begun), labelled("Not begun", waiting), sentence(comma(goods, extras)), subject("Waiting for the customer", waits))
}

// heading is where it goes when the rest takes what is estimated; empty when a stage
// has no estimate, for then nobody knows.
func heading(r *pb.ReportMoneyResponse, price func(float64) string) string {
	for _, s := range r.GetStages() {
		if s.GetEstimateHours() == 0 {
			return ""
		}
	}
	switch over := r.GetHeading() - r.GetAgreed(); {
	case len(r.GetStages()) == 0:
		return ""
	case over >= 1:
		return "so " + price(over) + " over"
	case over <= -1:
		return "so " + price(-over) + " under"
	}
	return "so as agreed"
}

// onOrder is «£506 on order», or nothing.
func onOrder(v float64, price func(float64) string) string {
	if v == 0 {
		return ""
	}
	return price(v) + " on order"
}

// stageMoney is «£3,692 of £3,120, £572 over» or, with nothing to be over of,
// «£2,652, no estimate, £364 of agreed extras»; where no stage has an estimate the
// head says so.
func stageMoney(s *pb.StageMoney, price func(float64) string, none bool) string {
	if s.GetEstimateHours() == 0 {
		without, extras := "no estimate", ""
		if none {
			without = ""
		}
		if s.GetAgreed() != 0 {
			extras = price(s.GetAgreed()) + " of agreed extras"
		}
		return comma(price(s.GetSpent()), without, extras)
	}
	if over := s.GetSpent() - s.GetAgreed(); over > 0 {
		return comma(price(s.GetSpent())+" of "+price(s.GetAgreed()), price(over)+" over")
	}
	return price(s.GetSpent()) + " of " + price(s.GetAgreed())
}
