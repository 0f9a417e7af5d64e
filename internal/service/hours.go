package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// LogHours keeps hours.
func (s *Service) LogHours(ctx context.Context, req *pb.LogHoursRequest) (*pb.LogHoursResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideHours(by, now, shop.NewHours{Job: req.Job, People: req.People, Hours: req.Hours, Work: req.Work, Day: req.Day})
	}, recorded((*pb.Outcome).GetHours))
}

// ReportHours adds hours up.
func (s *Service) ReportHours(_ context.Context, req *pb.ReportHoursRequest) (*pb.ReportHoursResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	r, err := s.state.ReportHours(req.Job, req.Work, req.Person)
	if err != nil {
		return nil, s.failure(err)
	}
	basis := &pb.Basis{Sources: []string{"hours logged in the shop's ledger"}}
	for _, in := range [][2]string{{"job", req.Job}, {"work", req.Work}, {"person", req.Person}} {
		if in[1] != "" {
			basis.Inputs = append(basis.Inputs, in[0]+" "+in[1])
		}
	}
	for _, h := range r.Stages {
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s: %s logged, %s", h.Stage, h.Logged, agreedHours(h)))
	}
	if r.ToCome > 0 {
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s of the agreed hours to come: what is left of open tasks, and what of the agreed hours is in no task's name and not done", r.ToCome))
	}
	if r.Imported > 0 {
		basis.Sources = append(basis.Sources, r.Imported.String()+" hours of it came with the import")
	} else if req.Person != "" {
		basis.Assumptions = append(basis.Assumptions, "hours that came with the import are nobody's and are left out")
	}
	return &pb.ReportHoursResponse{
		Job: req.Job, Stages: stagesPB(r.Stages), Logged: r.Logged.Float(), Estimate: r.Agreed.Float(), Extras: r.Extras.Float(), ToCome: r.ToCome.Float(),
		Person: req.Person, Work: r.Work, Basis: basis,
	}, nil
}

// agreedHours is «180 hours estimated and 10 of agreed extras».
func agreedHours(h shop.StageHours) string {
	text := h.Estimate.String() + " hours estimated"
	if h.Estimate == 0 {
		text = "no estimate"
	}
	if h.Extras > 0 {
		text += " and " + h.Extras.String() + " of agreed extras"
	}
	return text
}
