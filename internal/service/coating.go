package service

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"bayword/internal/calc/coating"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// mostMixL is the most that is mixed at once, in L. Common practice, no source: it
// catches millilitres said as litres.
const mostMixL = 100

// PlanMix says what to pour, for an amount or for coats on panels.
func (s *Service) PlanMix(_ context.Context, req *pb.PlanMixRequest) (*pb.PlanMixResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp, err := s.planMix(req)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	return resp, nil
}

func (s *Service) planMix(req *pb.PlanMixRequest) (*pb.PlanMixResponse, error) {
	m, err := s.state.Mixable(req.Material)
	if err != nil {
		return nil, err
	}
	resp := &pb.PlanMixResponse{
		Material: m.ID, Name: m.Name, Ratio: m.Paint.Mix, PotLifeMin: m.Paint.PotLifeMin, Basis: &pb.Basis{Inputs: []string{"material " + m.ID}},
	}
	var total coating.Volume
	switch {
	case req.AmountL != nil:
		if v := *req.AmountL; !(v >= 0.001 && v <= mostMixL) {
			return nil, refusal(shop.OutOfRange, "field", "amount_l", "value", trimmed(v), "accepted", fmt.Sprintf("0.001 to %d L", mostMixL))
		}
		if total, err = coating.VolumeOf(*req.AmountL); err != nil {
			return nil, err
		}
		resp.Basis.Inputs = append(resp.Basis.Inputs, "amount "+litres(total))
	case len(req.Panels) > 0 && req.Coats != nil:
		n, err := s.need(req.Job, req.Material, req.Panels, *req.Coats, resp.Basis)
		if err != nil {
			return nil, err
		}
		total, resp.LowL = n.Plan, n.Low.Litres()
		if total > mostMixL*coating.Litre {
			return nil, refusal(shop.OutOfRange, "field", "coats", "value", strconv.Itoa(n.Job.Coats)+" (takes "+litres(total)+")",
				"accepted", fmt.Sprintf("what takes at most %d L at once", mostMixL))
		}
	default:
		return nil, refusal(shop.MissingField, "field", "amount_l")
	}
	resp.TotalL = total.Litres()

	ratio, stock, err := s.mixture(m)
	if err != nil {
		return nil, err
	}
	mix, err := coating.PlanMix(ratio, total)
	if err != nil {
		return nil, err
	}
	resp.Basis.Assumptions = append(resp.Basis.Assumptions, mix.Assumptions...)
	resp.Basis.Sources = append(resp.Basis.Sources, mix.Source)
	for i, v := range mix.Parts {
		resp.Parts = append(resp.Parts, mixPart(stock[i], v))
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("%s: %s, on the shelf %s %s", stock[i].Name, litres(v), stock[i].Now, stock[i].Unit))
	}
	if err := solvent(m, resp.Basis); err != nil {
		return nil, err
	}
	resp.Basis.Caution = coatCaution(s.state, m.ID)
	return resp, nil
}

// mixture gives the ratio of a material, 1 for one used as it comes, and the stock
// of each part.
func (s *Service) mixture(m shop.Stock) (coating.Ratio, []shop.Stock, error) {
	mix := m.Paint.Mix
	if mix == "" {
		mix = "1"
	}
	ratio, err := coating.ParseRatio(mix)
	if err != nil {
		return ratio, nil, err
	}
	stock, err := s.state.Components(m.MaterialAdded)
	if err != nil {
		return ratio, nil, err
	}
	if len(stock) != ratio.Parts() {
		return ratio, nil, refusal(shop.OutOfRange, "field", "mix", "value", mix,
			"accepted", fmt.Sprintf("a ratio of %d parts, for that is how many materials are on record for it", len(stock)))
	}
	for _, part := range stock {
		if part.Unit != "L" {
			return ratio, nil, refusal(shop.OutOfRange, "field", "unit", "value", part.Unit, "accepted", "L, for "+part.Name+" is mixed by volume")
		}
	}
	return ratio, stock, nil
}

func mixPart(st shop.Stock, v coating.Volume) *pb.MixPart {
	short := v - max(coating.Volume(st.Now), 0)
	return &pb.MixPart{Material: st.ID, Name: st.Name, AmountL: v.Litres(), OnHandL: st.Now.Float(), ShortL: max(short, 0).Litres()}
}

// need works out what coats on panels take, and says in the basis on what it rests.
func (s *Service) need(job, material string, panels []string, coats uint32, basis *pb.Basis) (coating.Need, error) {
	m, err := s.state.Filmed(material)
	if err != nil {
		return coating.Need{}, err
	}
	areas, err := s.state.Area(job, panels)
	if err != nil {
		return coating.Need{}, err
	}
	n := *intOf(&coats)
	if err := shop.CheckCoats(n); err != nil {
		return coating.Need{}, err
	}
	in := coating.Job{Coats: n, SolidsPct: m.Paint.SolidsPct, DFTUMPerCoat: m.Paint.DFTPerCoat}
	var oneSide []string
	for i, p := range panels {
		in.Panels = append(in.Panels, coating.Panel{Name: p, AreaM2: areas[i]})
		if shop.Sided(p) {
			oneSide = append(oneSide, p)
		}
	}
	need, err := coating.NeedOf(in)
	if err != nil {
		return coating.Need{}, err
	}
	basis.Inputs = append(basis.Inputs, "panels "+strings.Join(panels, ", "), "coats "+strconv.Itoa(n))
	if job != "" {
		basis.Inputs = append(basis.Inputs, "job "+job)
	}
	basis.Steps = append(basis.Steps,
		fmt.Sprintf("%.3g m² at %.3g m²/L a coat, %d coats: %s if nothing is lost", need.AreaM2, need.RateM2PerL, n, rounded(need.Theoretical)),
		fmt.Sprintf("lost %g to %g %%: %s to %s, planned with the most", need.Loss.LowPct, need.Loss.HighPct, rounded(need.Low), rounded(need.High)))
	if len(oneSide) > 0 {
		basis.Assumptions = append(basis.Assumptions, "one side of the vehicle only: "+strings.Join(oneSide, ", "))
	}
	basis.Assumptions = append(basis.Assumptions, need.Assumptions...)
	basis.Sources = append(basis.Sources, need.Source)
	return need, nil
}

// solvent sets a mix beside the law on solvents, where its sheet gives a figure.
func solvent(m shop.Stock, basis *pb.Basis) error {
	voc := m.Paint.VOC
	if voc == 0 {
		return nil
	}
	category, taken := coating.Topcoat, "taken as a topcoat, for its name does not say primer"
	if m.Primer() {
		category, taken = coating.Primer, "taken as a primer by its name"
	}
	v, err := coating.CheckVOC(category, coating.Solvent{GPerL: voc, LessWaterGPerL: voc})
	if err != nil {
		return err
	}
	how := "within"
	if !v.Keeps {
		how = trimmed(v.OverGPerL) + " g/L over"
	}
	basis.Steps = append(basis.Steps, fmt.Sprintf("solvent: %g g/L ready for use, %s the limit of %g g/L", v.GPerL, how, v.LimitGPerL))
	basis.Assumptions = append(append(basis.Assumptions, v.Assumptions...), taken+"; the sheet's figure is that of the mix, without water")
	basis.Sources = append(basis.Sources, v.Source)
	return nil
}

// CheckEnough says whether the shelf is enough for coats on panels.
func (s *Service) CheckEnough(_ context.Context, req *pb.CheckEnoughRequest) (*pb.CheckEnoughResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp, err := s.checkEnough(req)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	return resp, nil
}

var enoughs = map[coating.Answer]pb.Enough{
	coating.Enough: pb.Enough_ENOUGH_YES, coating.Tight: pb.Enough_ENOUGH_TIGHT, coating.Short: pb.Enough_ENOUGH_NO,
}

func (s *Service) checkEnough(req *pb.CheckEnoughRequest) (*pb.CheckEnoughResponse, error) {
	err := needs(needed{"material", req.Material != ""}, needed{"panels", len(req.Panels) > 0}, needed{"coats", req.Coats != nil})
	if err != nil {
		return nil, err
	}
	m, err := s.state.Filmed(req.Material)
	if err != nil {
		return nil, err
	}
	basis := &pb.Basis{
		Inputs:      []string{"material " + m.ID},
		Assumptions: []string{"no coats that other jobs plan are on record, so nothing is set aside for them"},
	}
	need, err := s.need(req.Job, m.ID, req.Panels, *req.Coats, basis)
	if err != nil {
		return nil, err
	}
	ratio, stock, err := s.mixture(m)
	if err != nil {
		return nil, err
	}
	shelf := make([]coating.Component, len(stock))
	for i, st := range stock {
		shelf[i] = coating.Component{ID: st.ID, OnHand: max(coating.Volume(st.Now), 0)}
	}
	c, err := coating.CheckEnough(need, ratio, shelf)
	if err != nil {
		return nil, err
	}
	resp := &pb.CheckEnoughResponse{
		Enough: enoughs[c.Answer], Material: m.ID, Name: m.Name, NeedLowL: need.Low.Litres(), NeedHighL: need.High.Litres(),
		AreaM2: need.AreaM2, CoatsPossible: uint32(c.Coats), Basis: basis,
	}
	for i, part := range c.Components {
		resp.Parts = append(resp.Parts, mixPart(stock[i], part.High))
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s: %s to %s of %s on the shelf", stock[i].Name, rounded(part.Low), rounded(part.High), litres(part.OnHand)))
	}
	basis.Steps = append(basis.Steps, fmt.Sprintf("the shelf makes %s, %s ends first: %d whole coats at the highest loss", rounded(c.Makes), stock[c.Limit].Name, c.Coats))
	basis.Sources = append(basis.Sources, "the shop's ledger for what is on the shelf")
	if ratio.Parts() > 1 {
		basis.Sources = append(basis.Sources, "the product's own mix "+ratio.String())
	}
	basis.Caution = coatCaution(s.state, m.ID)
	return resp, nil
}

// RecordCoat keeps coats put on.
func (s *Service) RecordCoat(ctx context.Context, req *pb.RecordCoatRequest) (*pb.RecordCoatResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideCoat(by, now, shop.NewCoat{
			Job: req.Job, Material: req.Material, Panels: req.Panels, Coats: intOf(req.Coats), At: req.At, Temperature: req.TemperatureC,
		})
	}, recorded((*pb.Outcome).GetCoat))
}

// coatCaution is what to watch for when a material is mixed or sprayed; empty when
// it is not known to harden. Common practice, no source.
func coatCaution(st *shop.State, material string) string {
	if !st.TwoPack(material) {
		return ""
	}
	return coating.Isocyanate
}

// litres writes a volume as it is, and rounded to three digits.
func litres(v coating.Volume) string { return trimmed(v.Litres()) + " L" }

func rounded(v coating.Volume) string { return fmt.Sprintf("%.3g L", v.Litres()) }
