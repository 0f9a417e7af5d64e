package say

import (
	pb "bayword/proto/bayword/v1"
)

// reportMoney is agreed, spent, on order and to come, what that comes to, then the
// labour of each stage.
func reportMoney(r *pb.ReportMoneyResponse, n Names) Reply {
	price := func(v float64) string { return money(v, r.GetCurrency()) }
	head := upper(comma(n.job(r.GetJob()), price(r.GetAgreed())+" agreed", price(r.GetSpent())+" spent", onOrder(r.GetOnOrder(), price), price(r.GetToCome())+" to come")) + "."
	items := make([]string, len(r.GetStages()))
	for i, s := range r.GetStages() {
		items[i] = short(s.GetStage()) + ": " + stageMoney(s, price)
	}
	goods := ""
	if r.GetParts() != 0 {
		goods = "parts that came " + price(r.GetParts())
	}
	extras := ""
	if r.GetExtrasGoods() != 0 {
		extras = "parts and materials of agreed extras " + price(r.GetExtrasGoods())
	}
	waits := make([]string, len(r.GetWaiting()))
	for i, e := range r.GetWaiting() {
		waits[i] = comma(extraItem(e, false, n), price(e.GetPrice()))
	}
	rate := ""
	if r.GetLabourRate() > 0 {
		rate = "Labour at " + price(r.GetLabourRate()) + " an hour."
	}
	lines := append([]string{head, heading(r, price)}, listed(items, 0, false)...)
	return careful(warned(r.GetBasis()), append(lines, sentence(comma(goods, extras)), subject("Waiting for the customer", waits), rate)...)
}

// onOrder is «£506 on order», or nothing.
func onOrder(v float64, price func(float64) string) string {
	if v == 0 {
		return ""
	}
	return price(v) + " on order"
}

// heading is «Heading for £37,478, £1,078 over what is agreed; £506 of parts are in
// no agreed extra.»
func heading(r *pb.ReportMoneyResponse, price func(float64) string) string {
	const least = 1 // less is rounding
	over := r.GetHeading() - r.GetAgreed()
	if over < least {
		return ""
	}
	line := "Heading for " + price(r.GetHeading()) + ", " + price(over) + " over what is agreed"
	if parts := r.GetUnagreedParts(); parts != 0 {
		line += "; " + price(parts) + " of parts are in no agreed extra"
	}
	return line + "."
}

// stageMoney is «£3,692 of £3,120, £572 over» or, with nothing to be over of,
// «£2,652 spent, no estimate, £364 of agreed extras».
func stageMoney(s *pb.StageMoney, price func(float64) string) string {
	over := s.GetSpent() - s.GetAgreed()
	switch {
	case s.GetEstimateHours() == 0 && s.GetAgreed() != 0:
		return comma(price(s.GetSpent())+" spent", "no estimate", price(s.GetAgreed())+" of agreed extras")
	case s.GetEstimateHours() == 0:
		return comma(price(s.GetSpent())+" spent", "no estimate")
	case over > 0:
		return comma(price(s.GetSpent())+" of "+price(s.GetAgreed()), price(over)+" over")
	}
	return price(s.GetSpent()) + " of " + price(s.GetAgreed())
}
