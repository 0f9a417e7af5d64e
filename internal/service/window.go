package service

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"bayword/internal/calc/coating"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// ListWindows says when the latest coats may be sanded or recoated.
func (s *Service) ListWindows(_ context.Context, req *pb.ListWindowsRequest) (*pb.ListWindowsResponse, error) {
	now := s.clock()
	s.mu.RLock()
	defer s.mu.RUnlock()
	coats, err := s.state.LatestCoats(req.Job)
	if err != nil {
		return nil, s.failure(err)
	}
	coats = uncovered(coats)
	const most = 50
	basis := &pb.Basis{Sources: []string{"coats in the shop's ledger"}}
	resp := &pb.ListWindowsResponse{Job: req.Job, Basis: basis}
	if req.Job != "" {
		basis.Inputs = []string{"job " + req.Job}
	}
	if len(coats) == 0 {
		basis.Steps = []string{"no coats are on record"}
		return resp, nil
	}
	// What was said of one coat stands before what holds for all of them.
	var general []string
	if left := len(coats) - most; left > 0 {
		basis.Assumptions = append(basis.Assumptions, fmt.Sprintf("the newest %d; %d older ones are left out", most, left))
		coats = coats[:most]
	}
	for _, c := range coats {
		w, err := times(s.state, c)
		if err != nil {
			return nil, s.failure(inputRefusal(err))
		}
		resp.Windows = append(resp.Windows, windowsPB(s.state, c, w, now))
		basis.Steps = append(basis.Steps, s.windowStep(c, w))
		for _, a := range w.Assumptions {
			if c.Temperature != 0 && strings.HasPrefix(a, "at ") {
				basis.Assumptions = append(basis.Assumptions, coatName(s.state, c)+": "+a)
				continue
			}
			general = appendNew(general, a)
		}
		basis.Sources, basis.Caution = appendNew(basis.Sources, w.Source), w.Caution
	}
	basis.Assumptions = append(append(basis.Assumptions, general...), "the latest coat of each material on each set of panels",
		"pot life counts from mixing, and nobody said when that was")
	return resp, nil
}

// uncovered leaves out what a later coat lies over: it has no window left.
func uncovered(coats []shop.Coat) []shop.Coat {
	var open []shop.Coat
	for i, c := range coats { // newest first
		if !slices.ContainsFunc(coats[:i], func(later shop.Coat) bool { return over(later, c) }) {
			open = append(open, c)
		}
	}
	return open
}

// times counts a product's own times from the finish of a coat. Pot life counts
// from mixing, which is not on record: an end counted from the finish would be
// too late.
func times(st *shop.State, c shop.Coat) (coating.Windows, error) {
	in := coating.Coat{FinishedAt: c.At()}
	if c.Temperature != 0 {
		in.TemperatureC = &c.Temperature
	}
	if m, err := st.Stock(c.Material); err == nil && m.Paint != nil {
		p := m.Paint
		in.Times = coating.Times{
			FlashMin: p.FlashMin, RecoatFromH: p.RecoatFromH, RecoatUntilH: p.RecoatUntilH, SandAfterH: p.SandAfterH,
		}
	}
	return coating.WindowsOf(in)
}

// coatName names a coat by material and panels.
func coatName(st *shop.State, c shop.Coat) string {
	name := c.Material
	if m, err := st.Stock(c.Material); err == nil {
		name = m.Name
	}
	return name + " on " + strings.Join(c.Panels, ", ")
}

func (s *Service) windowStep(c shop.Coat, w coating.Windows) string {
	text := coatName(s.state, c) + ", finished " + s.minute(c.At())
	for _, t := range []struct {
		what string
		at   time.Time
	}{{"flashed off", w.FlashedAt}, {"recoat from", w.RecoatFrom}, {"recoat until", w.RecoatUntil}, {"sand from", w.SandFrom}} {
		if !t.at.IsZero() {
			text += "; " + t.what + " " + s.minute(t.at)
		}
	}
	return text
}

// minute writes a moment in the shop's time zone.
func (s *Service) minute(t time.Time) string { return t.In(s.zone).Format("2006-01-02 15:04") }

func windowsPB(st *shop.State, c shop.Coat, w coating.Windows, now time.Time) *pb.Windows {
	out := &pb.Windows{
		Coat: coatPB(st, c), FlashedAt: timestamp(w.FlashedAt), RecoatFrom: timestamp(w.RecoatFrom), RecoatUntil: timestamp(w.RecoatUntil),
		SandFrom: timestamp(w.SandFrom),
	}
	var phase coating.Phase
	phase, out.MaySand = w.At(now)
	switch phase {
	case coating.Flashing:
		out.State = "flashing"
	case coating.Closed:
		out.State = "too soon to recoat"
	case coating.Past:
		out.State = "window past"
	case coating.Open:
		if !w.RecoatFrom.IsZero() || !w.RecoatUntil.IsZero() {
			out.State = "window open"
		}
	}
	return out
}

func coatPB(st *shop.State, c shop.Coat) *pb.Coat {
	out := &pb.Coat{Job: c.Job, Material: c.Material, Name: c.Material, Panels: c.Panels, Coats: uint32(c.Coats), Person: c.By}
	if m, err := st.Stock(c.Material); err == nil {
		out.Name = m.Name
	}
	out.At = st.Local(c.At())
	if c.Temperature != 0 {
		out.TemperatureC = &c.Temperature
	}
	return out
}

// coatResponse answers a coat with its times as they stand now. Times that cannot
// be counted, for the product's sheet contradicts itself, are left out.
func coatResponse(st *shop.State, c shop.Coat, receipt *pb.Receipt, now time.Time) *pb.RecordCoatResponse {
	resp := &pb.RecordCoatResponse{Receipt: receipt, Windows: &pb.Windows{Coat: coatPB(st, c)}, Caution: coatCaution(st, c.Material)}
	if w, err := times(st, c); err == nil {
		resp.Windows = windowsPB(st, c, w, now)
	}
	return resp
}
