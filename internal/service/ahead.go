package service

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"time"

	"bayword/internal/calc/forecast"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// aheadSeed is the seed when none was asked for, aheadStream the stream of all.
const aheadSeed, aheadStream = 1, 2

// Forecast says how many hours are to come on a job, and when it will be done.
func (s *Service) Forecast(_ context.Context, req *pb.ForecastRequest) (*pb.ForecastResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp, err := s.foresee(req)
	if err != nil {
		return nil, s.failure(err)
	}
	return resp, nil
}

func (s *Service) foresee(req *pb.ForecastRequest) (*pb.ForecastResponse, error) {
	if err := needs(needed{"job", req.Job != ""}); err != nil {
		return nil, err
	}
	o, err := s.outlook(req.Job)
	if err != nil {
		return nil, err
	}
	seed := req.Seed
	if seed == 0 {
		seed = aheadSeed
	}
	r, err := forecast.Simulate(o.in, rand.NewPCG(seed, aheadStream))
	if err != nil {
		return nil, foreseeRefusal(err)
	}
	late, err := s.state.Parts(shop.PartFilter{Job: req.Job, State: shop.Late}, o.now)
	if err != nil {
		return nil, err
	}
	resp := o.answer(r)
	resp.Basis.Inputs = append(resp.Basis.Inputs, "seed "+strconv.FormatUint(seed, 10))
	for _, p := range late {
		resp.Late = append(resp.Late, partPB(p))
	}
	return resp, nil
}

// foreseeRefusal makes a refusal of a plan that cannot be foreseen.
func foreseeRefusal(err error) error {
	var (
		odd    *forecast.InputError
		circle *forecast.CycleError
	)
	switch {
	case errors.As(err, &odd):
		return refusal(shop.OutOfRange, "field", odd.Field, "value", odd.Value, "accepted", odd.Accepted)
	case errors.As(err, &circle):
		return refusal(shop.OutOfRange, "field", "after", "value", strings.Join(circle.Tasks, ", "), "accepted", "a plan in which no task waits for itself")
	}
	return err
}

// bar is a task of the network as it is answered.
type bar struct {
	task *pb.Task
	hold string
}

// outlook is what a job's forecast is made of.
type outlook struct {
	st    *shop.State
	job   shop.JobLine
	now   time.Time // in the shop's time zone
	cal   forecast.Calendar
	in    forecast.Input
	bars  []bar // as in.Tasks
	basis *pb.Basis

	tasks map[string][]shop.Task // by job

	left map[string][shop.Assembly + 1]shop.Remaining // of the agreed hours, by job
	last [shop.Assembly + 1][]string                  // ids of what is to come in a stage
}

// answer says what a simulation gave.
func (o *outlook) answer(r forecast.Result) *pb.ForecastResponse {
	resp := &pb.ForecastResponse{Job: o.job.ID, Hours_50: r.Hours.P50, Hours_80: r.Hours.P80, Runs: uint32(r.Input.Runs), Basis: o.basis}
	var logged, agreed, extras shop.Micro
	for st := shop.Strip; st <= shop.Assembly; st++ {
		left := o.left[o.job.ID][st]
		logged += left.Logged
		agreed += left.Agreed()
		extras += left.Extras
		f := &pb.StageForecast{Stage: st.String(), Logged: left.Logged.Float(), Estimate: left.Agreed().Float()}
		for _, h := range r.Stages {
			if h.Stage == f.Stage {
				f.ToCome_50, f.ToCome_80 = h.Hours.P50, h.Hours.P80
			}
		}
		if f.Logged > 0 || f.Estimate > 0 || f.ToCome_80 > 0 {
			resp.Stages = append(resp.Stages, f)
			o.basis.Steps = append(o.basis.Steps, stageAhead(f))
		}
	}
	resp.Logged, resp.Estimate, resp.Extras = logged.Float(), agreed.Float(), extras.Float()
	if len(r.Tasks) == 0 {
		o.basis.Steps = append(o.basis.Steps, "nothing that is planned or estimated is to come")
		return resp
	}
	resp.Finish_50, resp.Finish_80 = o.end(r.Finish.P50), o.end(r.Finish.P80)
	order := make([]int, len(r.Tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(r.Tasks[a].Start50, r.Tasks[b].Start50), cmp.Compare(r.Tasks[a].End50, r.Tasks[b].End50))
	})
	for _, i := range order {
		t := r.Tasks[i]
		resp.Bars = append(resp.Bars, &pb.PlanBar{
			Task: o.bars[i].task, Hold: o.bars[i].hold, Critical: t.Critical,
			Start: o.cal.Start(t.Start50).Format(time.DateOnly), End: o.end(t.End50), End_80: o.end(t.End80),
		})
	}
	o.earned(resp)
	o.basis.Assumptions = append(o.basis.Assumptions, r.Assumptions...)
	o.basis.Sources, o.basis.Caution = append(o.basis.Sources, r.Source), r.Caution
	return resp
}

func stageAhead(f *pb.StageForecast) string {
	text := fmt.Sprintf("%s: %s logged of %s, ", f.Stage, trimmed(f.Logged), trimmed(f.Estimate))
	if f.ToCome_80 == 0 {
		return text + "nothing to come"
	}
	return text + fmt.Sprintf("%.1f to come in half of the cases, %.1f in four of five", f.ToCome_50, f.ToCome_80)
}

func (o *outlook) end(days float64) string { return o.cal.End(days).Format(time.DateOnly) }

// earned sets what was logged beside what is done by the estimate.
func (o *outlook) earned(resp *pb.ForecastResponse) {
	left := 0.0
	for _, t := range o.in.Tasks {
		left += max(t.Likely-t.Done, 0)
	}
	e, err := forecast.EarnedValue(forecast.Budget{BAC: resp.Estimate, EV: resp.Estimate - left, AC: resp.Logged})
	if err != nil {
		return // nothing is done yet, or nothing estimated: no rate to go on
	}
	o.basis.Steps = append(o.basis.Steps, fmt.Sprintf("by the estimate %.1f hours are done for %s logged: cost index %.2f, at that rate %.0f in all", resp.Estimate-left, trimmed(resp.Logged), e.CPI, e.EAC))
	o.basis.Sources = append(o.basis.Sources, e.Source)
}
