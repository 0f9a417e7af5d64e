package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// LookUpGap finds targets and the last readings.
func (s *Service) LookUpGap(_ context.Context, req *pb.LookUpGapRequest) (*pb.LookUpGapResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	refs, readings, err := s.state.LookUpGap(shop.Where{
		Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), End: shop.End(req.End), Edge: shop.Edge(req.Edge),
	})
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.LookUpGapResponse{Job: req.Job, Panel: req.Panel, Basis: &pb.Basis{Inputs: []string{"job " + req.Job, "panel " + req.Panel}}}
	if req.Side != 0 {
		resp.Basis.Inputs = append(resp.Basis.Inputs, "side "+shop.Side(req.Side).String())
	}
	if req.Edge != 0 {
		resp.Basis.Inputs = append(resp.Basis.Inputs, "edge "+shop.Edge(req.Edge).String())
	}
	for i := range refs {
		r := &refs[i]
		resp.References = append(resp.References, targetPB(r))
		where, edge := "the whole shop", "all round"
		if r.Job != "" {
			where = r.Job
		}
		if r.Edge != 0 {
			edge = r.Edge.String() + " edge"
		}
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("target for %s, %s, %s: %s ±%s mm", where, r.Panel, edge, trimmed(r.Target), trimmed(r.Tolerance)))
		resp.Basis.Sources = appendNew(resp.Basis.Sources, s.sourced(r.Source, r.Said))
	}
	if len(refs) == 0 {
		resp.Basis.Steps = append(resp.Basis.Steps, "no target is on record for it")
	}
	for _, r := range readings {
		resp.Readings = append(resp.Readings, readingPB(r))
	}
	return resp, nil
}

// RecordGap keeps readings.
func (s *Service) RecordGap(ctx context.Context, req *pb.RecordGapRequest) (*pb.RecordGapResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideGap(by, shop.NewGap{
			Where: shop.Where{Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), End: shop.End(req.End), Edge: shop.Edge(req.Edge)},
			Gaps:  req.GapMm, Flush: req.FlushMm,
		})
	}, recorded((*pb.Outcome).GetGap))
}

// SetGap sets a target.
func (s *Service) SetGap(ctx context.Context, req *pb.SetGapRequest) (*pb.SetGapResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideTarget(by, shop.NewTarget{
			Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), Edge: shop.Edge(req.Edge), Target: req.TargetMm, Tolerance: req.ToleranceMm,
		})
	}, recorded((*pb.Outcome).GetSetGap))
}
