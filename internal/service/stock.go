package service

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// GetStock says how much there is.
func (s *Service) GetStock(_ context.Context, req *pb.GetStockRequest) (*pb.GetStockResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	stock, err := s.state.Stock(req.Material)
	if err != nil {
		return nil, s.failure(err)
	}
	shelf, counted, last, err := s.state.Shelf(req.Material)
	if err != nil {
		return nil, s.failure(err)
	}
	basis := &pb.Basis{Inputs: []string{"material " + req.Material}}
	start, source := "opening count ", "opening count of the list of materials"
	if counted != nil {
		start, source = "counted ", "count by "+s.saidBy(*counted)
	}
	basis.Steps = append(basis.Steps, start+shelf.Base.String()+" "+stock.Unit)
	basis.Sources = append(basis.Sources, source)
	for _, m := range []struct {
		n    int
		sum  shop.Micro
		what string
	}{{shelf.Deliveries, shelf.In, "delivered"}, {shelf.Uses, shelf.Out, "used"}, {shelf.Waste, shelf.Binned, "wasted"}} {
		if m.n > 0 {
			basis.Steps = append(basis.Steps, m.sum.String()+" "+stock.Unit+" "+m.what+" since, in "+strconv.Itoa(m.n)+" entries")
		}
	}
	if last > 0 && (counted == nil || last != counted.Entry) {
		moved, _ := s.state.Record(last)
		basis.Sources = append(basis.Sources, "movements since, the last one by "+s.saidBy(moved.Said))
	}
	answer, err := s.forecast(stock, basis)
	if err != nil {
		return nil, s.failure(err)
	}
	return &pb.GetStockResponse{Stock: answer, Basis: basis}, nil
}

// ListLowStock lists what is low.
func (s *Service) ListLowStock(_ context.Context, req *pb.ListLowStockRequest) (*pb.ListLowStockResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	var low []shop.Stock
	all := s.state.Materials()
	for _, st := range all {
		if st.Low {
			low = append(low, st)
		}
	}
	from, to, next, err := page(req.PageToken, req.PageSize, len(low))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListLowStockResponse{NextPageToken: next, Basis: &pb.Basis{
		Steps:   []string{fmt.Sprintf("%d of %d materials are at or below their reorder level", len(low), len(all))},
		Sources: []string{"the shop's ledger", "reorder levels of the list of materials"},
	}}
	for _, st := range low[from:to] {
		stock, err := s.forecast(st, resp.Basis)
		if err != nil {
			return nil, s.failure(err)
		}
		resp.Stocks = append(resp.Stocks, stock)
	}
	return resp, nil
}

func move(m shop.Move) decider {
	return func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideMove(by, now, m)
	}
}

// RecordUse takes material off the shelf.
func (s *Service) RecordUse(ctx context.Context, req *pb.RecordUseRequest) (*pb.RecordUseResponse, error) {
	return write(ctx, s, req, move(shop.Move{Kind: shop.Use, Material: req.Material, Amount: req.Amount, Job: req.Job}),
		recorded((*pb.Outcome).GetUse))
}

// RecordDelivery puts material on the shelf.
func (s *Service) RecordDelivery(ctx context.Context, req *pb.RecordDeliveryRequest) (*pb.RecordDeliveryResponse, error) {
	return write(ctx, s, req, move(shop.Move{Kind: shop.Delivery, Material: req.Material, Amount: req.Amount, Batch: req.Batch, Expires: req.Expires}),
		recorded((*pb.Outcome).GetDelivery))
}

// RecordCount sets the shelf to what was counted.
func (s *Service) RecordCount(ctx context.Context, req *pb.RecordCountRequest) (*pb.RecordCountResponse, error) {
	return write(ctx, s, req, move(shop.Move{Kind: shop.Count, Material: req.Material, Amount: req.Amount}),
		recorded((*pb.Outcome).GetCounted))
}

// RecordWaste takes material off the shelf that served nothing.
func (s *Service) RecordWaste(ctx context.Context, req *pb.RecordWasteRequest) (*pb.RecordWasteResponse, error) {
	return write(ctx, s, req, move(shop.Move{Kind: shop.Waste, Material: req.Material, Amount: req.Amount, Why: req.Why}),
		recorded((*pb.Outcome).GetWaste))
}

// AddMaterial adds a material to the list.
func (s *Service) AddMaterial(ctx context.Context, req *pb.AddMaterialRequest) (*pb.AddMaterialResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideMaterial(by, shop.NewMaterial{
			ID: req.Id, Name: req.Name, Unit: req.Unit, Pack: req.Pack, ReorderAt: req.ReorderAt, OnHand: req.OnHand, AlsoCalled: req.AlsoCalled,
		})
	}, recorded((*pb.Outcome).GetAddedMaterial))
}
