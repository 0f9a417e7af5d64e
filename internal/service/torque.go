package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/calc/fastener"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// LookUpTorque finds book values.
func (s *Service) LookUpTorque(_ context.Context, req *pb.LookUpTorqueRequest) (*pb.LookUpTorqueResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	l, err := s.state.LookUpTorque(req.Job, req.Fastener)
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.LookUpTorqueResponse{
		Job: req.Job, Fastener: req.Fastener, LastSignOff: signOffPB(l.LastDone), SafetyCritical: l.Critical,
		Basis: &pb.Basis{Inputs: []string{"job " + req.Job, "fastener " + req.Fastener}},
	}
	for i := range l.References {
		r := &l.References[i]
		resp.References = append(resp.References, torquePB(r))
		resp.Basis.Steps = append(resp.Basis.Steps, fmt.Sprintf("%s on %s: %s N·m on record", r.Fastener, r.Job, trimmed(r.Torque)))
		resp.Basis.Sources = append(resp.Basis.Sources, s.sourced(r.Source, r.Said))
	}
	if len(l.References) == 0 {
		resp.Basis.Steps = append(resp.Basis.Steps, "no book value is on record for it: look it up in the maker's manual")
	}
	if l.Critical {
		resp.Basis.Caution = shop.TorqueCaution
	}
	return resp, nil
}

// ComputeTorque works a torque out; never for a safety-critical fastener.
func (s *Service) ComputeTorque(_ context.Context, req *pb.ComputeTorqueRequest) (*pb.ComputeTorqueResponse, error) {
	if req.Fastener != "" && fastener.Critical(req.Fastener) {
		return nil, s.failure(refusal(shop.SafetyCritical, "fastener", req.Fastener))
	}
	for _, f := range [][2]string{{"thread", req.Thread}, {"grade", req.Grade}} {
		if f[1] == "" {
			return nil, s.failure(refusal(shop.MissingField, "field", f[0]))
		}
	}
	in, err := torqueInput(req)
	if err != nil {
		return nil, s.failure(err)
	}
	r, err := fastener.Tighten(in)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	resp := &pb.ComputeTorqueResponse{
		Thread: in.Thread.String(), Grade: in.Grade.String(),
		TorqueNm: r.TorqueNM, TorqueLowNm: r.TorqueLowNM, TorqueHighNm: r.TorqueHighNM,
		PreloadLowKn: r.PreloadLowKN, PreloadHighKn: r.PreloadHighKN,
		EngagementNeededMm: r.EngagementNeededMM, LimitedByHole: r.LimitedByHole,
		Basis: &pb.Basis{
			Inputs: []string{"thread " + in.Thread.String(), "grade " + in.Grade.String()},
			Steps: []string{
				fmt.Sprintf("friction %s to %s: 90 %% of yield is reached at %.3g to %.3g N·m", trimmed(r.Friction.Min), trimmed(r.Friction.Max), r.TorqueLowNM, r.TorqueHighNM),
				fmt.Sprintf("the low end is to be set, %.3g N·m: at the least friction it loads the bolt fully, at the most it gives %.3g kN of %.3g kN", r.TorqueNM, r.PreloadLowKN, r.PreloadHighKN),
			},
			Assumptions: r.Assumptions, Sources: []string{r.Source}, Caution: r.Caution,
		},
	}
	if in.Lubrication != fastener.Unsaid {
		resp.Basis.Inputs = append(resp.Basis.Inputs, "lubrication "+string(in.Lubrication))
	}
	if in.Into != fastener.Nut {
		resp.Basis.Inputs = append(resp.Basis.Inputs, "into "+string(in.Into))
	}
	if req.EngagedMm != nil {
		resp.Basis.Inputs = append(resp.Basis.Inputs, "engaged "+trimmed(*req.EngagedMm)+" mm")
	}
	return resp, nil
}

func torqueInput(req *pb.ComputeTorqueRequest) (fastener.Input, error) {
	var in fastener.Input
	var err error
	if in.Thread, err = fastener.ParseThread(req.Thread); err != nil {
		return in, inputRefusal(err)
	}
	if in.Grade, err = fastener.ParseGrade(req.Grade); err != nil {
		return in, inputRefusal(err)
	}
	var ok bool
	if in.Lubrication, ok = lubrications[req.Lubrication]; !ok {
		return in, refusal(shop.OutOfRange, "field", "lubrication", "value", req.Lubrication.String(), "accepted", "dry, oiled, moly, copper_grease, threadlock, zinc")
	}
	if in.Into, ok = intos[req.Into]; !ok {
		return in, refusal(shop.OutOfRange, "field", "into", "value", req.Into.String(), "accepted", "steel, aluminium, cast_iron")
	}
	if req.EngagedMm != nil {
		if v := *req.EngagedMm; !(v > 0 && v <= 200) {
			return in, refusal(shop.OutOfRange, "field", "engaged_mm", "value", trimmed(v), "accepted", "more than 0, up to 200 mm")
		}
		in.EngagedMM = *req.EngagedMm
	}
	return in, nil
}

// RecordTorque signs off a torque.
func (s *Service) RecordTorque(ctx context.Context, req *pb.RecordTorqueRequest) (*pb.RecordTorqueResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideSignOff(by, shop.NewTorque{Job: req.Job, Fastener: req.Fastener, Torque: req.TorqueNm, Count: intOf(req.Count)})
	}, recorded((*pb.Outcome).GetTorque))
}

// SetTorque sets a book value.
func (s *Service) SetTorque(ctx context.Context, req *pb.SetTorqueRequest) (*pb.SetTorqueResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideTorqueSet(by, shop.NewTorque{Job: req.Job, Fastener: req.Fastener, Torque: req.TorqueNm, Source: req.Source})
	}, recorded((*pb.Outcome).GetSetTorque))
}
