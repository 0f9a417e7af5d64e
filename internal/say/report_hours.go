package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/say/picture"
)

// reportHours is «167.5 h logged of 700 agreed (690 estimated, 10 of extras), 543.5 left, the heron.» and a line a stage; all of
// one vehicle are drawn, too.
func reportHours(r *pb.ReportHoursResponse, n Names) Reply {
	head := hours(r.GetLogged()) + " logged"
	switch {
	case r.GetPerson() != "":
	case r.GetEstimate() > r.GetExtras():
		head += " of " + agreedHours(r.GetEstimate(), r.GetExtras())
		if over := r.GetLogged() - r.GetEstimate(); over > 0 {
			head += ", " + figure(over) + " over"
		}
	default:
		head = agreedLogged(r.GetLogged(), 0, r.GetExtras())
	}
	if r.GetToCome() > 0 {
		head += ", " + figure(r.GetToCome()) + " left"
	}
	whose := n.job(r.GetJob())
	if whose == "" {
		whose = "all vehicles"
	}
	head = comma(head, whose, plain(r.GetWork()), n.person(r.GetPerson()))
	var stages []string
	for _, s := range r.GetStages() {
		// For one person there is no estimate to hold the hours against.
		if r.GetPerson() != "" {
			stages = append(stages, plain(s.GetStage())+" "+hours(s.GetLogged()))
		} else {
			stages = append(stages, ofStage(s, r.GetStages()))
		}
	}
	if len(stages) < 2 && r.GetWork() != "" {
		stages = nil // the head says it all
	}
	reply := text(append(append([]string{head + "."}, listed(stages, 0, false)...), assumed(r.GetBasis()), from(r.GetBasis(), n))...)
	if r.GetJob() == "" || r.GetPerson() != "" || r.GetWork() != "" {
		return reply
	}
	if png, err := picture.HoursByStage(r.GetJob(), againstEstimate(r.GetStages())); err == nil {
		reply.Picture = png
	}
	return reply
}

// agreedHours is «690 estimated», or «700 agreed (690 estimated, 10 of extras)».
func agreedHours(agreed, extras float64) string {
	if extras <= 0 {
		return figure(agreed) + " estimated"
	}
	return figure(agreed) + " agreed (" + figure(agreed-extras) + " estimated, " + figure(extras) + " of extras)"
}

// againstEstimate are stages with nothing forecast.
func againstEstimate(stages []*pb.StageHours) []*pb.StageForecast {
	out := make([]*pb.StageForecast, len(stages))
	for i, s := range stages {
		out[i] = &pb.StageForecast{Stage: s.GetStage(), Logged: s.GetLogged()}
		if s.GetEstimate() > s.GetExtras() { // extras alone are nothing to hold hours against
			out[i].Estimate = s.GetEstimate()
		}
	}
	return out
}
