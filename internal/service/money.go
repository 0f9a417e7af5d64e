package service

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

var extraStates = map[string]pb.ExtraState{
	shop.Proposed: pb.ExtraState_EXTRA_STATE_PROPOSED,
	shop.Agreed:   pb.ExtraState_EXTRA_STATE_AGREED,
	shop.Declined: pb.ExtraState_EXTRA_STATE_DECLINED,
}

// ProposeExtra prices work beyond the brief. Hours that nobody said are those
// advised for the finds.
func (s *Service) ProposeExtra(ctx context.Context, req *pb.ProposeExtraRequest) (*pb.ProposeExtraResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		r := shop.NewExtra{Job: req.Job, Text: req.Text, Hours: req.Hours, Parts: req.PartsCost, Materials: req.MaterialsCost}
		for _, n := range req.Finds {
			r.Finds = append(r.Finds, int(n))
		}
		d, err := st.DecideProposal(by, r)
		if len(r.Finds) == 0 || !lacks(err, "hours") {
			return d, err
		}
		return s.proposeAdvised(st, by, r)
	}, recorded((*pb.Outcome).GetProposedExtra))
}

// proposeAdvised prices an extra whose finds are there and open by the hours
// advised for them.
func (s *Service) proposeAdvised(st *shop.State, by string, r shop.NewExtra) (shop.Decision, error) {
	var finds []shop.Find
	var unsized []string
	for _, n := range r.Finds {
		f, _ := st.FindNumber(n)
		finds = append(finds, f)
		if f.Width == 0 && f.Height == 0 && f.Diameter == 0 {
			unsized = append(unsized, fmt.Sprintf("Find %d has no size on record, so a usual one is taken for the hours: measure it before the customer is told.", n))
		}
	}
	hours, from, err := s.repairHours(st, finds)
	if err != nil {
		return shop.Decision{}, err
	}
	r.Hours, r.HoursFrom = &hours, from
	d, err := st.DecideProposal(by, r)
	d.Warnings = append(d.Warnings, unsized...)
	return d, err
}

// lacks tells whether an error is a refusal for want of a field.
func lacks(err error, field string) bool {
	var refusal *shop.Refusal
	return errors.As(err, &refusal) && refusal.Reason == shop.MissingField && refusal.Metadata["field"] == field
}

// DecideExtra keeps what the customer decided.
func (s *Service) DecideExtra(ctx context.Context, req *pb.DecideExtraRequest) (*pb.DecideExtraResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideDecision(by, shop.NewDecision{Job: req.Job, Number: intOf(req.Extra), Agreed: req.Agreed, Text: req.Text})
	}, recorded((*pb.Outcome).GetDecidedExtra))
}

// ListExtras lists extras by number.
func (s *Service) ListExtras(_ context.Context, req *pb.ListExtrasRequest) (*pb.ListExtrasResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	f := shop.ExtraFilter{Job: req.Job}
	for name, state := range extraStates {
		if state == req.State {
			f.State = name
		}
	}
	extras, err := s.state.Extras(f)
	if err != nil {
		return nil, s.failure(err)
	}
	from, to, next, err := page(req.PageToken, req.PageSize, len(extras))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListExtrasResponse{NextPageToken: next, Total: uint32(len(extras)), Currency: s.state.Shop().Currency, Basis: &pb.Basis{
		Steps:   []string{fmt.Sprintf("%d extras on record fit what was asked", len(extras))},
		Sources: []string{"the shop's ledger"},
	}}
	if req.Job != "" {
		resp.Basis.Inputs = []string{"job " + req.Job}
	}
	for _, x := range extras[from:to] {
		resp.Extras = append(resp.Extras, extraPB(x))
	}
	return resp, nil
}

// extraPB is an extra as it stands.
func extraPB(x shop.Extra) *pb.Extra {
	out := &pb.Extra{
		Number: uint32(x.Number), Job: x.Job, Text: x.Text, Hours: x.Hours, PartsCost: x.Parts, MaterialsCost: x.Materials,
		LabourRate: x.Rate, Price: x.Price, State: extraStates[x.State], HoursFrom: x.HoursFrom, Stage: x.Stage.String(),
	}
	if out.HoursFrom == "" {
		out.HoursFrom = "said"
	}
	for _, n := range x.Finds {
		out.Finds = append(out.Finds, uint32(n))
	}
	for _, h := range x.History {
		step := &pb.ExtraStep{State: extraStates[h.State], Person: h.By, Entry: h.Entry}
		if h.By != "" {
			step.At = timestamp(h.At)
		}
		out.History = append(out.History, step)
	}
	return out
}

func extrasPB(xs []shop.Extra) []*pb.Extra {
	var all []*pb.Extra
	for _, x := range xs {
		all = append(all, extraPB(x))
	}
	return all
}

func proposedExtra(st *shop.State, r shop.Record, e shop.ExtraProposed, receipt *pb.Receipt) *pb.ProposeExtraResponse {
	x, ok := st.Extra(e.Number)
	if !ok {
		x = st.ExtraAs(r)
	}
	currency := st.Shop().Currency
	basis := &pb.Basis{
		Inputs:      []string{"job " + x.Job},
		Steps:       []string{priceStep(x, currency)},
		Assumptions: []string{"it counts in the job's total once the customer agrees"},
		Sources:     []string{rateSource(x.Rate, currency)},
	}
	if x.HoursFrom != "" {
		basis.Sources = append(basis.Sources, "hours "+x.HoursFrom)
	}
	for _, n := range x.Finds {
		basis.Inputs = append(basis.Inputs, fmt.Sprintf("find %d", n))
	}
	return &pb.ProposeExtraResponse{Receipt: receipt, Extra: extraPB(x), Currency: currency, Basis: basis}
}

func decidedExtra(st *shop.State, e shop.ExtraDecided, receipt *pb.Receipt) *pb.DecideExtraResponse {
	resp := &pb.DecideExtraResponse{Receipt: receipt, Extra: &pb.Extra{Number: uint32(e.Number), Job: e.Job}, Currency: st.Shop().Currency}
	if x, ok := st.Extra(e.Number); ok {
		resp.Extra = extraPB(x)
	}
	resp.AgreedExtras = st.AgreedExtras(resp.Extra.Job)
	return resp
}

// priceStep says how a price comes about: «10 hours × 52 + parts 410 = 930 GBP».
func priceStep(x shop.Extra, currency string) string {
	text := trimmed(x.Hours) + " hours × " + trimmed(x.Rate)
	if x.Parts > 0 {
		text += " + parts " + shop.Coins(x.Parts)
	}
	if x.Materials > 0 {
		text += " + materials " + shop.Coins(x.Materials)
	}
	return text + " = " + shop.Coins(x.Price) + " " + currency
}

func rateSource(rate float64, currency string) string {
	return "the shop's labour rate, " + trimmed(rate) + " " + currency + " an hour"
}

// ReportMoney says what is agreed, spent and to come.
func (s *Service) ReportMoney(_ context.Context, req *pb.ReportMoneyRequest) (*pb.ReportMoneyResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp, err := s.reportMoney(s.state, req.Job)
	if err != nil {
		return nil, s.failure(err)
	}
	return resp, nil
}

// reportMoney says where the money of a job stands. mu is held.
func (s *Service) reportMoney(st *shop.State, job string) (*pb.ReportMoneyResponse, error) {
	m, err := st.Money(job)
	if err != nil {
		return nil, err
	}
	resp := &pb.ReportMoneyResponse{
		Job: job, Currency: st.Shop().Currency, ExtrasGoods: m.Goods, Agreed: m.Agreed, Spent: m.Spent, ToCome: m.ToCome,
		Parts: m.Parts, OnOrder: m.OnOrder, UnagreedParts: m.Unagreed, Waiting: extrasPB(m.Waiting), LabourRate: m.Rate, Basis: &pb.Basis{
			Inputs: []string{"job " + job},
			Assumptions: []string{
				"material from the shelf has no price on record and is not counted",
				"extras that wait for the customer are not in the total",
				"spent is hours and parts that came; parts on order are beside it; to come is what the rest of the agreed work will still cost",
				"a part goes against the agreed extra whose words or task name it, and no other; goods of an extra that is done are not to come",
			},
			Sources: []string{"the shop's ledger", rateSource(m.Rate, st.Shop().Currency)},
		},
	}
	if m.Estimated {
		resp.Heading = m.Heading
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("heading for %s = %s spent + %s on order + %s to come; agreed %s",
			shop.Coins(m.Heading), shop.Coins(m.Spent), shop.Coins(m.OnOrder), shop.Coins(m.ToCome), shop.Coins(m.Agreed)))
	}
	for _, l := range m.Stages {
		resp.Stages = append(resp.Stages, &pb.StageMoney{Stage: l.Stage.String(), Agreed: l.Agreed, Spent: l.Spent, ToCome: l.ToCome, EstimateHours: l.Estimate.Float()})
		resp.Basis.Steps = append(resp.Basis.Steps, stageStep(l, m.Rate))
	}
	for _, x := range m.AgreedExtras {
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("agreed extra %d: %s", x.Number, priceStep(x, resp.Currency)))
	}
	resp.Basis.Assumptions = append(resp.Basis.Assumptions, unknowns(m)...)
	return resp, nil
}

// stageStep says how the labour of a stage adds up.
func stageStep(l shop.StageMoney, rate float64) string {
	return fmt.Sprintf("%s: %s, %s logged, at %s an hour", l.Stage, agreedHours(l.StageHours), l.Logged, trimmed(rate))
}

// unknowns says what the figures leave out for want of a price.
func unknowns(m shop.Money) []string {
	var out []string
	if slices.ContainsFunc(m.Stages, func(l shop.StageMoney) bool { return l.Estimate == 0 }) {
		out = append(out, "a stage with no estimate is agreed as far as its agreed extras go, and to come as far as they and its open tasks go: which of its hours were theirs is not on record")
	}
	if m.Unpriced > 0 {
		out = append(out, fmt.Sprintf("%d of the parts on record have no price and count as nothing", m.Unpriced))
	}
	if m.Rate == 0 {
		out = append(out, "the shop has no labour rate, so hours count as nothing")
	}
	return out
}
