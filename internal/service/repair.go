package service

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"bayword/internal/calc/repair"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// What repairs of a panel ask about it. Common practice, no source.
var (
	hungPanels   = []string{"bonnet", "boot lid", "tailgate", "door"}
	hiddenPanels = []string{
		"floor", "boot floor", "spare wheel well", "chassis leg", "crossmember", "outrigger", "spring hanger", "jacking point",
		"inner sill", "inner wing", "inner arch", "battery tray", "bulkhead", "load bed",
	}
	noPanels = []string{"whole body"}
)

// Notes that tell of an earlier repair, and those that deny one.
var (
	oldWork = regexp.MustCompile(`(?i)\b(old|previous|earlier|bad|another) (plates?|patch(es)?|repairs?|welds?)\b|\b(re)?(plated|patched)\b`)
	denied  = regexp.MustCompile(`(?i)\b(no|not|not an?|never|without|without an?) (sign of )?(an? )?((old|previous|earlier|bad|another) |(re)?(plated|patched)\b)`)
)

// repairSeed makes advice repeatable: the same records, the same answer.
const repairSeed, repairStream = 20_260_310, 1

var repairWays = map[repair.Way]pb.RepairWay{
	repair.Patch: pb.RepairWay_REPAIR_WAY_PATCH, repair.PartPanel: pb.RepairWay_REPAIR_WAY_PART_PANEL, repair.Whole: pb.RepairWay_REPAIR_WAY_PANEL,
}

// AdviseRepair weighs patching what is open on a panel against a part panel and a
// whole one.
func (s *Service) AdviseRepair(_ context.Context, req *pb.AdviseRepairRequest) (*pb.AdviseRepairResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp, err := s.adviseRepair(req)
	if err != nil {
		return nil, s.failure(err)
	}
	return resp, nil
}

func (s *Service) adviseRepair(req *pb.AdviseRepairRequest) (*pb.AdviseRepairResponse, error) {
	if err := needs(needed{"job", req.Job != ""}, needed{"panel", req.Panel != ""}); err != nil {
		return nil, err
	}
	at := shop.Where{Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), End: shop.End(req.End)}
	finds, err := s.state.Finds(shop.FindFilter{Job: at.Job, Panel: at.Panel, Side: at.Side, End: at.End, Open: true})
	if err != nil {
		return nil, err
	}
	if at.Side == 0 && shop.Sided(at.Panel) && len(finds) > 0 {
		at.Side = finds[0].Side
		if slices.ContainsFunc(finds, func(f shop.Find) bool { return f.Side != at.Side }) {
			return nil, refusal(shop.MissingField, "field", "side")
		}
	}
	b, err := s.bodywork(s.state, at, finds)
	if err != nil {
		return nil, err
	}
	ad, err := repair.Weigh(b.in, rand.NewPCG(repairSeed, repairStream))
	if err != nil {
		return nil, weighRefusal(err)
	}
	return s.advice(b, ad), nil
}

// weighRefusal makes a refusal of an input that the weighing does not take.
func weighRefusal(err error) error {
	var odd *repair.InputError
	if errors.As(err, &odd) {
		return refusal(shop.OutOfRange, "field", odd.Field, "value", odd.Value, "accepted", odd.Accepted)
	}
	return err
}

// bodywork is what the weighing of a panel rests on.
type bodywork struct {
	at    shop.Where
	finds []shop.Find
	in    repair.Input
	panel *shop.PanelPart // on order or here, for this job and side

	inputs, assumptions, sources []string
}

// bodywork gathers what is on record about finds on one panel.
func (s *Service) bodywork(st *shop.State, at shop.Where, finds []shop.Find) (bodywork, error) {
	b := bodywork{at: at, finds: finds, in: repair.Input{LabourRate: st.Shop().LabourRate, Panel: repair.Panel{
		Name: at.Panel, Structural: shop.FindCaution(at.Panel) != "", Hidden: slices.Contains(hiddenPanels, at.Panel),
		Hung: slices.Contains(hungPanels, at.Panel), NoPanel: slices.Contains(noPanels, at.Panel),
	}}}
	areas, err := st.Area(at.Job, []string{at.Panel})
	var unknown *shop.Refusal
	switch {
	case errors.As(err, &unknown) && unknown.Reason == shop.OutOfRange:
		b.assumptions = append(b.assumptions, "the panel's area is not on record")
	case err != nil:
		return b, err
	default:
		b.in.Panel.AreaM2 = areas[0]
		b.inputs = append(b.inputs, "panel area "+trimmed(areas[0])+" m²")
	}
	for _, f := range finds {
		b.find(f)
	}
	if err := b.prices(st, s.clock().In(s.zone)); err != nil {
		return b, err
	}
	return b, b.learn(st)
}

// find takes a find into the input.
func (b *bodywork) find(f shop.Find) {
	name := fmt.Sprintf("find %d", f.Number)
	in := repair.Find{
		Name: name, Kind: repair.Kind(f.Kind.String()), Width: f.Width, Height: f.Height, Diameter: f.Diameter, Depth: f.Depth, Count: f.Count,
		OnOldRepair: oldWork.MatchString(f.Note) && !denied.MatchString(f.Note),
	}
	b.in.Finds = append(b.in.Finds, in)
	b.inputs = append(b.inputs, name+": "+f.Text())
	if in.OnOldRepair {
		b.assumptions = append(b.assumptions, name+" is taken as at an earlier repair, for its note says «"+f.Note+"»")
	}
	b.sources = append(b.sources, recordedAs(name, f.By, []uint64{f.Entry}))
}

// prices finds what the panel and a section of it cost, on this job or else on
// another.
func (b *bodywork) prices(st *shop.State, now time.Time) error {
	parts, err := st.PanelParts(b.at.Job, b.at.Panel, b.at.Side, now)
	if err != nil {
		return err
	}
	for _, p := range parts {
		to := &b.in.PanelPrice
		if p.Section {
			to = &b.in.PartPrice
		} else if p.Ours && b.panel == nil {
			b.panel = &p
		}
		if *to != nil || p.Price == 0 {
			continue
		}
		price := repair.Price{Amount: p.Price / float64(max(p.Quantity, 1)), From: priceFrom(p, b.at.Job), LeadDays: leadOf(p, now)}
		*to = &price
		b.sources = append(b.sources, recordedAs(fmt.Sprintf("part %d", p.Number), p.By, p.Entries))
		if !p.Ours {
			b.assumptions = append(b.assumptions, "the price is that of "+price.From+": ask for this one")
		}
	}
	if b.panel != nil {
		b.assumptions = append(b.assumptions, "the price of the panel counts, though it is "+b.panel.State+" already")
	}
	return nil
}

func priceFrom(p shop.PanelPart, job string) string {
	from := fmt.Sprintf("part %d, %s", p.Number, p.Name())
	if p.Supplier != "" {
		from += ", " + p.Supplier
	}
	if p.Job != job {
		from += ", for " + p.Job
	}
	return from
}

// leadOf is how many days a part takes: until it is due, or as one like it took.
func leadOf(p shop.PanelPart, now time.Time) int {
	switch today, _ := shop.ParseDay(now.Format(time.DateOnly)); {
	case p.Ours && p.Here():
		return 0
	case p.Ours && p.Due > today:
		return int(p.Due - today)
	case p.Arrived > p.Ordered && p.Ordered > 0:
		return int(p.Arrived - p.Ordered)
	case !p.Ours && p.Due > p.Ordered && p.Ordered > 0:
		return int(p.Due - p.Ordered)
	}
	return 0
}

// learn updates the rates by the shop's finished metal work.
func (b *bodywork) learn(st *shop.State) error {
	tasks, err := st.Tasks("")
	if err != nil {
		return err
	}
	var closed []repair.Closed
	for _, t := range tasks {
		if t.State == shop.Done && t.Stage == shop.Metal && t.Likely > 0 && t.Logged > 0 {
			closed = append(closed, repair.Closed{Predicted: t.Likely, Actual: t.Logged.Float()})
			b.sources = append(b.sources, taskSource(t))
		}
	}
	if len(closed) > 0 {
		b.assumptions = append(b.assumptions, "which hours went into which find is not on record: finished metal tasks, logged by likely hours, stand for closed repairs")
	}
	b.in.Factor, err = repair.Learn(closed)
	if err != nil {
		return weighRefusal(err)
	}
	return nil
}

// advice is the answer.
func (s *Service) advice(b bodywork, ad repair.Advice) *pb.AdviseRepairResponse {
	currency := s.state.Shop().Currency
	resp := &pb.AdviseRepairResponse{
		Job: b.at.Job, Panel: b.at.Panel, Side: pb.Side(b.at.Side), End: pb.End(b.at.End), Advised: repairWays[ad.Advised], Confidence: ad.Confidence,
		Why: sentence(ad.Why), CheckFirst: ad.CheckFirst, Currency: currency,
		Basis: &pb.Basis{
			Inputs: append(inputs("job", b.at.Job, "panel", b.at.Panel, "side", b.at.Side.String()), b.inputs...),
			Steps:  ad.Steps, Assumptions: append(b.assumptions, ad.Assumptions...), Sources: append(b.sources, ad.Source), Caution: ad.Caution,
		},
	}
	if b.in.LabourRate > 0 {
		resp.Basis.Sources = append(resp.Basis.Sources, rateSource(b.in.LabourRate, currency))
	}
	for _, f := range b.finds {
		resp.Finds = append(resp.Finds, findPB(f))
	}
	for _, o := range ad.Options {
		resp.Options = append(resp.Options, optionPB(o))
	}
	for _, r := range ad.Rates {
		resp.Rates = append(resp.Rates, &pb.RepairRate{Name: r.Name, Value: spreadPB(r.Value), ClosedRepairs: uint32(r.Closed)})
	}
	if b.panel != nil {
		resp.PanelPart = partPB(b.panel.Part)
	}
	if ad.BreakEven > 0 {
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("a whole panel would be the cheaper way below %.0f %s", ad.BreakEven, currency))
	}
	return resp
}

func optionPB(o repair.Option) *pb.RepairOption {
	out := &pb.RepairOption{
		Way: repairWays[o.Way], CutMm: spreadPB(o.CutMM), WeldMm: spreadPB(o.WeldMM), PlugWelds: spreadPB(o.PlugWelds), SteelM2: spreadPB(o.SteelM2),
		WireKg: spreadPB(o.WireKG), GasL: spreadPB(o.GasL), FillerKg: spreadPB(o.FillerKG), MetalHours: spreadPB(o.MetalHours),
		BlockingHours: spreadPB(o.BlockingHours), Hours: spreadPB(o.Hours), Cost: spreadPB(o.Cost), RuledOut: o.RuledOut,
		Todo: o.Todo, PriceUnknown: o.CostPartly,
	}
	if p := o.Price; p != nil {
		out.PanelPrice, out.PanelPriceFrom, out.LeadDays = p.Amount, p.From, uint32(p.LeadDays)
	}
	return out
}

func spreadPB(v repair.Spread) *pb.Spread {
	return &pb.Spread{Low: v.Low, Likely: v.Likely, High: v.High}
}

// sentence begins a text with a capital and ends it with a stop.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[size:] + "."
}

// repairHours gives the hours that putting finds right is likely to take, each
// panel in the way that is advised for it, rounded up to half an hour; and in words
// where they come from.
func (s *Service) repairHours(st *shop.State, finds []shop.Find) (likely float64, from string, err error) {
	var texts []string
	for len(finds) > 0 {
		first := finds[0]
		var here, rest []shop.Find
		for _, f := range finds {
			if f.Job == first.Job && f.Panel == first.Panel && f.Side == first.Side {
				here = append(here, f)
			} else {
				rest = append(rest, f)
			}
		}
		finds = rest
		b, err := s.bodywork(st, shop.Where{Job: first.Job, Panel: first.Panel, Side: first.Side}, here)
		if err != nil {
			return 0, "", err
		}
		ad, err := repair.Weigh(b.in, rand.NewPCG(repairSeed, repairStream))
		if err != nil {
			return 0, "", weighRefusal(err)
		}
		hours, text := advised(ad, here)
		likely += hours
		texts = append(texts, text)
	}
	return math.Ceil(likely*2) / 2, "advised: " + strings.Join(texts, "; "), nil
}

// advised gives the hours of the way that is advised, failing one of patching.
func advised(ad repair.Advice, finds []shop.Find) (hours float64, text string) {
	i := max(slices.IndexFunc(ad.Options, func(o repair.Option) bool { return o.Way == ad.Advised }), 0)
	o := ad.Options[i]
	numbers := make([]string, len(finds))
	for k, f := range finds {
		numbers[k] = strconv.Itoa(f.Number)
	}
	text = fmt.Sprintf("%s for find %s, %.1f hours (%.1f to %.1f)", o.Todo, strings.Join(numbers, ", "), o.Hours.Likely, o.Hours.Low, o.Hours.High)
	if o.Way == repair.Whole {
		text += ", without the panel's price"
	}
	return o.Hours.Likely, text
}
