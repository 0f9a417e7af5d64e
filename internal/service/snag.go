package service

import (
	"cmp"
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// AddSnag keeps a snag.
func (s *Service) AddSnag(ctx context.Context, req *pb.AddSnagRequest) (*pb.AddSnagResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideSnag(by, shop.NewSnag{Job: req.Job, Text: req.Text})
	}, recorded((*pb.Outcome).GetAddedSnag))
}

// CloseSnag marks a snag as put right.
func (s *Service) CloseSnag(ctx context.Context, req *pb.CloseSnagRequest) (*pb.CloseSnagResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideSnagClosed(by, shop.SnagClosing{Job: req.Job, Number: intOf(req.Snag), Text: req.Text})
	}, recorded((*pb.Outcome).GetClosedSnag))
}

// ListSnags lists snags by number.
func (s *Service) ListSnags(_ context.Context, req *pb.ListSnagsRequest) (*pb.ListSnagsResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	snags, err := s.state.Snags(shop.SnagFilter{
		Job: req.Job, Open: req.State == pb.SnagState_SNAG_STATE_OPEN, Closed: req.State == pb.SnagState_SNAG_STATE_CLOSED,
	})
	if err != nil {
		return nil, s.failure(err)
	}
	from, to, next, err := page(req.PageToken, req.PageSize, len(snags))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListSnagsResponse{NextPageToken: next, Total: uint32(len(snags)), Basis: &pb.Basis{
		Steps:   []string{fmt.Sprintf("%d snags on record fit what was asked", len(snags))},
		Sources: []string{"the shop's ledger"},
	}}
	if req.Job != "" {
		resp.Basis.Inputs = []string{"job " + req.Job}
	}
	for _, n := range snags[from:to] {
		resp.Snags = append(resp.Snags, snagPB(n))
		resp.Basis.Caution = cmp.Or(resp.Basis.Caution, openCaution(n))
	}
	return resp, nil
}

func openCaution(n shop.Snag) string {
	if n.Closed {
		return ""
	}
	return shop.SnagCaution(n.Text)
}

func snagPB(n shop.Snag) *pb.Snag {
	state := pb.SnagState_SNAG_STATE_OPEN
	if n.Closed {
		state = pb.SnagState_SNAG_STATE_CLOSED
	}
	return &pb.Snag{
		Number: uint32(n.Number), Job: n.Job, Text: n.Text, State: state, Person: n.By, At: timestamp(n.At),
		ClosedBy: n.Mended.By, ClosedAt: timestamp(n.Mended.At), Entries: n.Entries,
	}
}

func addedSnag(st *shop.State, r shop.Record, e shop.SnagAdded, receipt *pb.Receipt) *pb.AddSnagResponse {
	snag, ok := st.Snag(e.Number)
	if !ok {
		snag = shop.Snag{SnagAdded: e, Said: r.Said, Entries: []uint64{r.Entry}}
	}
	return &pb.AddSnagResponse{Receipt: receipt, Snag: snagPB(snag), Caution: shop.SnagCaution(e.Text)}
}

func closedSnag(st *shop.State, e shop.SnagClosed, receipt *pb.Receipt) *pb.CloseSnagResponse {
	resp := &pb.CloseSnagResponse{Receipt: receipt, Snag: &pb.Snag{Number: uint32(e.Number), Job: e.Job}}
	if snag, ok := st.Snag(e.Number); ok {
		resp.Snag, resp.Caution = snagPB(snag), shop.MendedCaution(snag.Text)
	}
	resp.StillOpen = uint32(st.OpenSnags(resp.Snag.Job))
	return resp
}
