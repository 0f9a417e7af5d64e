package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// GetStatus says where a job is.
func (s *Service) GetStatus(_ context.Context, req *pb.GetStatusRequest) (*pb.GetStatusResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	st, err := s.state.Status(req.Job, s.clock().In(s.zone))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.GetStatusResponse{
		Job: jobPB(st.JobCreated), Stages: stagesPB(st.Hours), Doing: st.Doing, LateParts: st.Late,
		WaitingExtras: st.Extras, OpenSnags: st.Snags,
		Basis: &pb.Basis{
			Inputs:  []string{"job " + req.Job},
			Steps:   []string{fmt.Sprintf("%d of %d tasks done, %d parts, %d coats on record", st.Counts.TasksDone, st.Counts.Tasks, st.Counts.Parts, st.Counts.Coats)},
			Sources: []string{"the shop's ledger"},
		},
	}
	for _, d := range st.Doors {
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("%s %s: %s × %s mm, hinges %s mm apart on the %s edge",
			d.Side, d.Panel, trimmed(d.Length), trimmed(d.Height), trimmed(d.HingeSpacing), d.HingeEdge))
	}
	for _, f := range st.Open {
		resp.OpenFinds = append(resp.OpenFinds, findPB(f))
	}
	return resp, nil
}

// ListJobs lists the jobs in the shop.
func (s *Service) ListJobs(_ context.Context, req *pb.ListJobsRequest) (*pb.ListJobsResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	jobs := s.state.Jobs()
	from, to, next, err := page(req.PageToken, req.PageSize, len(jobs))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListJobsResponse{NextPageToken: next, Basis: &pb.Basis{
		Steps:   []string{fmt.Sprintf("%d jobs are in the shop", len(jobs))},
		Sources: []string{"the shop's ledger"},
	}}
	for _, j := range jobs[from:to] {
		resp.Jobs = append(resp.Jobs, &pb.JobLine{
			Job: jobPB(j.JobCreated), Logged: j.LoggedAll.Float(), Estimate: j.AgreedAll.Float(), Extras: j.ExtrasAll.Float(), OpenFinds: uint32(j.OpenFinds),
		})
	}
	return resp, nil
}

// CreateJob takes a vehicle in.
func (s *Service) CreateJob(ctx context.Context, req *pb.CreateJobRequest) (*pb.CreateJobResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideJob(by, now, shop.NewJob{
			ID: req.Id, Year: intOf(req.Year), Make: req.Make, Model: req.Model, Body: req.Body, Drive: req.Drive, Customer: req.Customer,
		})
	}, recorded((*pb.Outcome).GetCreatedJob))
}

// AddNote keeps a note.
func (s *Service) AddNote(ctx context.Context, req *pb.AddNoteRequest) (*pb.AddNoteResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideNote(by, shop.NewNote{Job: req.Job, Text: req.Text, Panel: req.Panel, Side: shop.Side(req.Side)})
	}, recorded((*pb.Outcome).GetNote))
}
