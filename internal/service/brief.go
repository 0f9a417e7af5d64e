package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// AddBrief adds a line to the brief.
func (s *Service) AddBrief(ctx context.Context, req *pb.AddBriefRequest) (*pb.AddBriefResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideBrief(by, shop.NewBrief{Job: req.Job, Text: req.Text})
	}, recorded((*pb.Outcome).GetAddedBrief))
}

// MeetBrief keeps how a line was met.
func (s *Service) MeetBrief(ctx context.Context, req *pb.MeetBriefRequest) (*pb.MeetBriefResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideBriefMet(by, shop.NewBriefMet{Job: req.Job, Line: intOf(req.Line), Text: req.Text})
	}, recorded((*pb.Outcome).GetMetBrief))
}

// GetBrief reads the brief.
func (s *Service) GetBrief(_ context.Context, req *pb.GetBriefRequest) (*pb.GetBriefResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	lines, err := s.state.Brief(req.Job)
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.GetBriefResponse{Job: req.Job, Customer: s.state.Customer(req.Job), Basis: &pb.Basis{
		Inputs: []string{"job " + req.Job}, Sources: []string{"the shop's ledger"},
	}}
	met := 0
	for _, l := range lines {
		resp.Lines = append(resp.Lines, briefPB(l))
		if l.Met {
			met++
		}
	}
	resp.Basis.Steps = []string{fmt.Sprintf("%d lines on record, %d of them met", len(lines), met)}
	return resp, nil
}

func briefPB(l shop.BriefLine) *pb.BriefLine {
	return &pb.BriefLine{
		Number: uint32(l.Number), Text: l.Text, Met: l.Met, How: l.How, Person: l.By, At: timestamp(l.At),
		MetBy: l.MetBy.By, MetAt: timestamp(l.MetBy.At), Entries: l.Entries,
	}
}

// briefLine finds a line as it stands, and counts those still to be met; nil when
// it was taken back.
func briefLine(st *shop.State, job string, number int) (line *pb.BriefLine, open uint32) {
	lines, err := st.Brief(job)
	if err != nil {
		return nil, 0
	}
	for _, l := range lines {
		if l.Number == number {
			line = briefPB(l)
		}
		if !l.Met {
			open++
		}
	}
	return line, open
}

func addedBrief(st *shop.State, r shop.Record, e shop.BriefAdded, receipt *pb.Receipt) *pb.AddBriefResponse {
	line, _ := briefLine(st, e.Job, e.Number)
	if line == nil || r.Undone {
		line = briefPB(shop.BriefLine{Number: e.Number, Text: e.Text, Said: r.Said, Entries: []uint64{r.Entry}})
	}
	return &pb.AddBriefResponse{Receipt: receipt, Job: e.Job, Line: line}
}

func metBrief(st *shop.State, e shop.BriefMet, receipt *pb.Receipt) *pb.MeetBriefResponse {
	line, open := briefLine(st, e.Job, e.Number)
	if line == nil {
		line = &pb.BriefLine{Number: uint32(e.Number)}
	}
	return &pb.MeetBriefResponse{Receipt: receipt, Job: e.Job, Line: line, StillOpen: open}
}
