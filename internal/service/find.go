package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// RecordFind keeps a find.
func (s *Service) RecordFind(ctx context.Context, req *pb.RecordFindRequest) (*pb.RecordFindResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideFind(by, shop.NewFind{
			Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), End: shop.End(req.End), Kind: shop.FindKind(req.Kind),
			Width: req.WidthMm, Height: req.HeightMm, Diameter: req.DiameterMm, Depth: req.DepthMm, Count: intOf(req.Count), Note: req.Note,
		})
	}, recorded((*pb.Outcome).GetFind))
}

// ListFinds lists finds by number.
func (s *Service) ListFinds(_ context.Context, req *pb.ListFindsRequest) (*pb.ListFindsResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	finds, err := s.state.Finds(shop.FindFilter{
		Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side),
		Open: req.State == pb.FindState_FIND_STATE_OPEN, Repaired: req.State == pb.FindState_FIND_STATE_REPAIRED,
	})
	if err != nil {
		return nil, s.failure(err)
	}
	from, to, next, err := page(req.PageToken, req.PageSize, len(finds))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListFindsResponse{NextPageToken: next, Total: uint32(len(finds)), Basis: &pb.Basis{
		Steps:   []string{fmt.Sprintf("%d finds on record fit what was asked", len(finds))},
		Sources: []string{"the shop's ledger"},
	}}
	for _, f := range finds[from:to] {
		resp.Finds = append(resp.Finds, findPB(f))
		who := f.By
		if who == "" {
			who = "imported"
		}
		resp.Basis.Sources = append(resp.Basis.Sources, fmt.Sprintf("find %d: %s, entry %d", f.Number, who, f.Entry))
	}
	return resp, nil
}

// CloseFind marks a find as repaired.
func (s *Service) CloseFind(ctx context.Context, req *pb.CloseFindRequest) (*pb.CloseFindResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideClosing(by, shop.Closing{Job: req.Job, Number: intOf(req.Find), Panel: req.Panel, Side: shop.Side(req.Side)})
	}, recorded((*pb.Outcome).GetClosedFind))
}
