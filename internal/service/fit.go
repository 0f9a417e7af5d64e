package service

import (
	"context"
	"fmt"
	"strings"

	"bayword/internal/calc/fit"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

var fitStatuses = map[fit.Status]pb.FitStatus{
	fit.Measure: pb.FitStatus_FIT_STATUS_MEASURE,
	fit.Fits:    pb.FitStatus_FIT_STATUS_FITS,
	fit.Cured:   pb.FitStatus_FIT_STATUS_CURED,
	fit.Better:  pb.FitStatus_FIT_STATUS_BETTER,
	fit.Stuck:   pb.FitStatus_FIT_STATUS_STUCK,
}

// SolveFit finds the best rigid adjustment from the latest readings.
func (s *Service) SolveFit(_ context.Context, req *pb.SolveFitRequest) (*pb.SolveFitResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	h, err := s.state.Hung(shop.Where{Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), End: shop.End(req.End)})
	if err != nil {
		return nil, s.failure(err)
	}
	plane, hinges, err := fit.Usual(h.Panel)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	f := fitting{svc: s, Hung: h, resp: &pb.SolveFitResponse{
		Job: h.Job, Panel: h.Panel, Side: pb.Side(h.Side), Basis: &pb.Basis{Inputs: []string{"job " + h.Job, "panel " + h.Panel}},
	}}
	f.input(plane, hinges)
	if h.Size == nil {
		f.measureSize()
		return f.resp, nil
	}
	r, err := fit.Solve(f.in)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	f.answer(r)
	return f.resp, nil
}

// fitting is what goes into the calculation and what comes of it.
type fitting struct {
	svc *Service
	shop.Hung
	in    fit.Input
	used  []shop.HungEdge // beside in.Edges
	left  []string        // what cannot be used and why, as lines
	names []string        // of the edges that were read, used or not
	resp  *pb.SolveFitResponse
}

// input makes the calculation's input of what is on record.
func (f *fitting) input(plane fit.Plane, hinges fit.Edge) {
	basis := f.resp.Basis
	if f.Side != 0 {
		basis.Inputs = append(basis.Inputs, "side "+f.Side.String())
	}
	if f.End != 0 {
		basis.Inputs = append(basis.Inputs, "end "+f.End.String())
	}
	f.in.Panel = fit.Panel{Plane: plane, HingeEdge: hinges}
	if z := f.Size; z != nil {
		f.in.Panel.LengthMM, f.in.Panel.HeightMM, f.in.Panel.HingeSpacingMM = z.Length, z.Height, z.HingeSpacing
		if z.HingeEdge != 0 {
			f.in.Panel.HingeEdge = fit.Edge(z.HingeEdge.String())
		}
		f.resp.LengthMm, f.resp.HeightMm = z.Length, z.Height
		basis.Inputs = append(basis.Inputs, fmt.Sprintf("%s × %s mm, hinges %s mm apart on the %s edge",
			trimmed(z.Length), trimmed(z.Height), trimmed(z.HingeSpacing), f.in.Panel.HingeEdge))
	}
	for _, e := range f.Edges {
		f.edge(e)
	}
}

// edge takes an edge into the input, or says why it cannot be.
func (f *fitting) edge(e shop.HungEdge) {
	name := edgeName(e)
	f.names = append(f.names, string(name))
	switch {
	case e.Edge != 0 && e.Side != 0:
		f.left = append(f.left, fmt.Sprintf("The %s edge was read on the %s half only: read it from end to end.", e.Edge, e.Side))
		return
	case !hasEdge(f.in.Panel, name):
		f.left = append(f.left, fmt.Sprintf("A %s has no %s edge here: name one of %s.", f.Panel, name, edgeList(f.in.Panel)))
		return
	case e.Gaps != nil && e.Target == nil:
		f.left = append(f.left, fmt.Sprintf("No gap is set for the %s edge of the %s: its readings say nothing until the lead sets one.", name, f.Panel))
		return
	}
	r := fit.EdgeReading{Edge: name}
	basis := f.resp.Basis
	if e.Gaps != nil {
		r.GapMM = e.Gaps.Gaps
		basis.Inputs = append(basis.Inputs, fmt.Sprintf("%s edge gap %s mm", name, list(r.GapMM)))
		basis.Sources = appendNew(basis.Sources, f.read(string(name), e.Gaps))
	}
	if e.Flush != nil {
		r.FlushMM = e.Flush.Flush
		basis.Inputs = append(basis.Inputs, fmt.Sprintf("%s edge flush %s mm", name, list(r.FlushMM)))
		basis.Sources = appendNew(basis.Sources, f.read(string(name), e.Flush))
	}
	if t := e.Target; t != nil {
		r.TargetMM, r.ToleranceMM, r.FlushToleranceMM = t.Target, t.Tolerance, t.FlushTolerance
		basis.Inputs = append(basis.Inputs, fmt.Sprintf("%s edge target %s ±%s mm", name, trimmed(t.Target), trimmed(t.Tolerance)))
		basis.Sources = appendNew(basis.Sources, "target: "+f.svc.sourced(t.Source, t.Said))
	}
	f.in.Edges, f.used = append(f.in.Edges, r), append(f.used, e)
}

func (f *fitting) read(edge string, r *shop.GapReading) string {
	return fmt.Sprintf("%s edge read by %s on %s, entry %d", edge, r.By, f.svc.day(r.At), r.Entry)
}

// measureSize answers that the panel's size must be told first.
func (f *fitting) measureSize() {
	f.resp.Status = pb.FitStatus_FIT_STATUS_MEASURE
	place := strings.TrimSpace(f.Side.String() + " " + f.Panel)
	across := "height"
	if f.in.Panel.Plane == fit.Plan {
		across = "width"
	}
	f.resp.Lines = append(f.resp.Lines,
		fmt.Sprintf("The size of the %s is not on record, so no move can be worked out.", place),
		fmt.Sprintf("Measure its length, its %s, and how far apart its hinges are, and have the lead put them on the shop's list.", across))
	switch {
	case len(f.names) == 0:
		f.resp.Lines = append(f.resp.Lines, fmt.Sprintf("No gap of it is on record either: measure along %s, in 3 places each.", edgeList(f.in.Panel)))
	default:
		f.resp.Lines = append(f.resp.Lines, "Gaps on record: "+strings.Join(f.names, ", ")+" edge.")
	}
	f.resp.Lines = append(f.resp.Lines, f.left...)
	for i, e := range f.in.Edges {
		f.resp.Edges = append(f.resp.Edges, fitEdge(f.used[i], e))
	}
	f.resp.Basis.Steps = []string{"nothing was worked out: the panel's size is missing"}
	f.resp.Basis.Sources = append(f.resp.Basis.Sources, "the shop's ledger")
}

// answer fills in what the calculation found.
func (f *fitting) answer(r fit.Result) {
	basis := f.resp.Basis
	f.resp.Status = fitStatuses[r.Status]
	f.resp.Lines = append(r.Lines(), f.left...)
	for i, e := range r.Input.Edges {
		edge := fitEdge(f.used[i], e)
		for _, p := range r.Points {
			if p.Edge == e.Edge && p.Kind == fit.Gap {
				edge.AfterMm = append(edge.AfterMm, p.AfterMM)
			}
		}
		f.resp.Edges = append(f.resp.Edges, edge)
	}
	for _, j := range []struct {
		name string
		fit.Judgement
	}{{"gap", r.Gaps}, {"flush", r.Flushes}} {
		if j.Readings == 0 {
			continue
		}
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s, worst over tolerance in %d readings: %.2f mm before, %.2f after the moves; least squares would leave %.2f",
			j.name, j.Readings, j.Before.WorstMM, j.After.WorstMM, j.Squares.WorstMM))
	}
	if len(r.Points) == 0 {
		basis.Steps = append(basis.Steps, "nothing was worked out: there are no readings")
	}
	basis.Assumptions = r.Assumptions
	if f.Stage == shop.Strip || f.Stage == shop.Metal {
		basis.Assumptions = append(basis.Assumptions, fmt.Sprintf(
			"no allowance is made for paint: in bare metal a gap is left %g to %g mm wider (common practice, no source)", fit.PaintLowMM, fit.PaintHighMM))
	}
	if f.End != 0 {
		basis.Assumptions = append(basis.Assumptions, "the size on record names no end: taken for the "+f.End.String()+" "+f.Panel)
	}
	basis.Sources = append(basis.Sources, r.Source)
	basis.Caution = r.Caution
}

func fitEdge(h shop.HungEdge, e fit.EdgeReading) *pb.FitEdge {
	return &pb.FitEdge{Edge: pb.Edge(h.Edge), Side: pb.Side(h.Side), BeforeMm: e.GapMM, TargetMm: e.TargetMM, ToleranceMm: e.ToleranceMM}
}

// edgeName is the calculation's name of an edge: at the sides of a bonnet or lid
// the side's.
func edgeName(e shop.HungEdge) fit.Edge {
	if e.Edge == 0 {
		return fit.Edge(e.Side.String())
	}
	return fit.Edge(e.Edge.String())
}

func hasEdge(p fit.Panel, e fit.Edge) bool {
	for _, have := range p.Edges() {
		if have == e {
			return true
		}
	}
	return false
}

// edgeList names the edges of a panel: «front, rear, top, bottom».
func edgeList(p fit.Panel) string {
	var names []string
	for _, e := range p.Edges() {
		names = append(names, string(e))
	}
	return strings.Join(names, ", ")
}

// list writes readings: «3.5, 4, 4.5».
func list(values []float64) string {
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = trimmed(v)
	}
	return strings.Join(texts, ", ")
}
