package service

import (
	"context"
	"fmt"
	"strings"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// RecordOrder keeps that a part was ordered.
func (s *Service) RecordOrder(ctx context.Context, req *pb.RecordOrderRequest) (*pb.RecordOrderResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideOrder(by, now, shop.NewOrder{
			Job: req.Job, Part: req.Part, Side: shop.Side(req.Side), Quantity: intOf(req.Quantity),
			Supplier: req.Supplier, Due: req.Due, Price: req.Price, Provenance: provenanceName(req.Provenance),
		})
	}, recorded((*pb.Outcome).GetOrderedPart))
}

// RecordArrival keeps that a part is here.
func (s *Service) RecordArrival(ctx context.Context, req *pb.RecordArrivalRequest) (*pb.RecordArrivalResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideArrival(by, now, shop.NewArrival{
			WhichPart: shop.WhichPart{Job: req.Job, Part: req.Part, Side: shop.Side(req.Side)}, Quantity: intOf(req.Quantity), Condition: req.Condition,
		})
	}, recorded((*pb.Outcome).GetArrivedPart))
}

// FitPart keeps that a part was fitted, or tried.
func (s *Service) FitPart(ctx context.Context, req *pb.FitPartRequest) (*pb.FitPartResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideFitting(by, now, shop.NewFitting{
			WhichPart: shop.WhichPart{Job: req.Job, Part: req.Part, Side: shop.Side(req.Side)}, Trial: req.Trial, Note: req.Note,
		})
	}, recorded((*pb.Outcome).GetFittedPart))
}

// ReturnPart keeps that a part went back.
func (s *Service) ReturnPart(ctx context.Context, req *pb.ReturnPartRequest) (*pb.ReturnPartResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideReturn(by, now, shop.NewReturn{
			WhichPart: shop.WhichPart{Job: req.Job, Part: req.Part, Side: shop.Side(req.Side)}, Why: req.Why,
		})
	}, recorded((*pb.Outcome).GetReturnedPart))
}

// ChangeDue keeps that an ordered part is due on another day.
func (s *Service) ChangeDue(ctx context.Context, req *pb.ChangeDueRequest) (*pb.ChangeDueResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideDueChange(by, now, shop.NewDue{
			WhichPart: shop.WhichPart{Job: req.Job, Part: req.Part, Side: shop.Side(req.Side)}, Due: req.Due, Why: req.Why,
		})
	}, recorded((*pb.Outcome).GetChangedDue))
}

// ListParts lists parts by number.
func (s *Service) ListParts(_ context.Context, req *pb.ListPartsRequest) (*pb.ListPartsResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	parts, err := s.state.Parts(shop.PartFilter{Job: req.Job, State: stateName(req.State), DueBy: req.DueBy, Part: req.Part}, s.clock().In(s.zone))
	if err != nil {
		return nil, s.failure(err)
	}
	from, to, next, err := page(req.PageToken, req.PageSize, len(parts))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListPartsResponse{
		NextPageToken: next, Total: uint32(len(parts)), Currency: s.state.Shop().Currency,
		Basis: &pb.Basis{
			Steps:   []string{fmt.Sprintf("%d parts on record fit what was asked", len(parts))},
			Sources: []string{"the shop's ledger"},
		},
	}
	if req.State == pb.PartState_PART_STATE_LATE {
		resp.Basis.Assumptions = append(resp.Basis.Assumptions, "late: ordered, not all here, and due before "+s.day(s.clock()))
	}
	for _, p := range parts[from:to] {
		resp.Parts = append(resp.Parts, partPB(p))
		resp.Basis.Sources = append(resp.Basis.Sources, recordedAs(fmt.Sprintf("part %d", p.Number), p.By, p.Entries))
	}
	return resp, nil
}

// recordedAs says who put a thing on record, and which entries are about it.
func recordedAs(name, by string, entries []uint64) string {
	if by == "" {
		by = "imported"
	}
	word := "entry"
	if len(entries) > 1 {
		word = "entries"
	}
	return fmt.Sprintf("%s: %s, %s %s", name, by, word, strings.ReplaceAll(strings.Trim(fmt.Sprint(entries), "[]"), " ", ", "))
}

// partOutcome is the outcome of an order, or of an arrival that nobody ordered.
func partOutcome(st *shop.State, p shop.Part, receipt *pb.Receipt, now time.Time) *pb.Outcome {
	if p.Unordered() {
		return &pb.Outcome{Outcome: &pb.Outcome_ArrivedPart{ArrivedPart: &pb.RecordArrivalResponse{
			Receipt: receipt, Part: partPB(p), NotOrdered: true, Freed: st.FreedByPart(p.Number, now.In(st.Location())),
		}}}
	}
	return &pb.Outcome{Outcome: &pb.Outcome_OrderedPart{OrderedPart: &pb.RecordOrderResponse{Receipt: receipt, Part: partPB(p), Currency: st.Shop().Currency}}}
}

// partNumbered is a standing part, or what little is known of one that is not.
func partNumbered(st *shop.State, n int, job string, now time.Time) *pb.Part {
	if p, ok := st.PartNumber(n, now.In(st.Location())); ok {
		return partPB(p)
	}
	return &pb.Part{Number: uint32(n), Job: job}
}

func partPB(p shop.Part) *pb.Part {
	return &pb.Part{
		Number: uint32(p.Number), Job: p.Job, Part: p.Part, Side: pb.Side(p.Side), Quantity: uint32(p.Quantity), Supplier: p.Supplier,
		Provenance: pb.Provenance(pb.Provenance_value[provenancePrefix+strings.ToUpper(p.Origin)]), Price: p.Price,
		Ordered: p.Ordered.String(), Due: p.Due.String(), Arrived: p.Arrived.String(), ArrivedQuantity: uint32(p.ArrivedQuantity),
		State:     pb.PartState(pb.PartState_value[partStatePrefix+strings.ToUpper(p.State)]),
		Condition: p.Condition, TrialFitted: p.TrialFitted, FitNote: p.FitNote, DaysLate: uint32(p.DaysLate), NeededBy: p.NeededBy,
		Entries: p.Entries, Person: p.By, At: timestamp(p.At),
	}
}

const (
	provenancePrefix = "PROVENANCE_"
	partStatePrefix  = "PART_STATE_"
)

// stateName is how the shop writes the state of a part; empty for any.
func stateName(state pb.PartState) string {
	if state == pb.PartState_PART_STATE_UNSPECIFIED {
		return ""
	}
	return strings.ToLower(strings.TrimPrefix(state.String(), partStatePrefix))
}
