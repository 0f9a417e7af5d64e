package service

import (
	"context"
	"strconv"
	"strings"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// History says what was done on a job.
func (s *Service) History(_ context.Context, req *pb.HistoryRequest) (*pb.HistoryResponse, error) {
	before, err := before(req.PageToken)
	if err != nil {
		return nil, s.failure(err)
	}
	s.mu.RLock()
	defer s.mu.RUnlock()
	lines, more, err := s.state.History(shop.Where{Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side)}, before, pageSize(req.PageSize))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.HistoryResponse{Job: req.Job, Panel: req.Panel, Side: req.Side, Basis: &pb.Basis{
		Inputs: []string{"job " + req.Job}, Sources: []string{"the shop's ledger"},
	}}
	if more > 0 {
		resp.NextPageToken = pageToken(more)
	}
	for _, l := range lines {
		e := &pb.HistoryEvent{Person: l.By, Text: l.Text}
		if !l.Undated {
			e.At = timestamp(l.At)
		}
		if !l.Imported {
			e.Entry = l.Entry
		}
		resp.Events = append(resp.Events, e)
	}
	return resp, nil
}

// Amend changes fields of a record.
func (s *Service) Amend(ctx context.Context, req *pb.AmendRequest) (*pb.AmendResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideAmend(by, now, req.Entry, shop.Changes{
			Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), End: shop.End(req.End), Edge: shop.Edge(req.Edge), Kind: shop.FindKind(req.Kind),
			Width: req.WidthMm, Height: req.HeightMm, Diameter: req.DiameterMm, Depth: req.DepthMm, Count: intOf(req.Count), Note: req.Note,
			Fastener: req.Fastener, Torque: req.TorqueNm, Source: req.Source, Gaps: req.GapMm, Flush: req.FlushMm,
			Target: req.TargetMm, Tolerance: req.ToleranceMm, Material: req.Material, Amount: req.Amount,
			Batch: req.Batch, Expires: req.Expires, Why: req.Why, People: req.People, Hours: req.Hours,
			Work: req.Work, Day: req.Day, Text: req.Text, Find: intOf(req.Find),
			Panels: req.Panels, Coats: intOf(req.Coats), At: req.At, Temperature: req.TemperatureC,
			Title: req.Title, Task: req.Task, Who: req.Who, Low: req.LowHours, High: req.HighHours,
			Part: req.Part, Quantity: intOf(req.Quantity), Supplier: req.Supplier, Due: req.Due, Price: req.Price,
			Condition: req.Condition, Provenance: provenanceName(req.Provenance),
			PartsCost: req.PartsCost, MaterialsCost: req.MaterialsCost, Finds: intsOf(req.Finds),
			Extra: intOf(req.Extra), Snag: intOf(req.Snag), Agreed: req.Agreed,
		})
	}, func(st *shop.State, record uint64, receipt *pb.Receipt, d shop.Decision, now time.Time) *pb.AmendResponse {
		return &pb.AmendResponse{Receipt: receipt, Now: outcomeOf(st, record, now), Changes: d.Changes}
	})
}

// provenanceName is how the shop writes where a part comes from; empty when not
// said.
func provenanceName(p pb.Provenance) string {
	if p == pb.Provenance_PROVENANCE_UNSPECIFIED {
		return ""
	}
	return strings.ToLower(strings.TrimPrefix(p.String(), "PROVENANCE_"))
}

func intsOf(numbers []uint32) []int {
	out := make([]int, len(numbers))
	for i, n := range numbers {
		out[i] = int(n)
	}
	return out
}

// Undo takes a record back.
func (s *Service) Undo(ctx context.Context, req *pb.UndoRequest) (*pb.UndoResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		switch {
		case req.Snag > 0:
			return st.DecideSnagReopened(by, int(req.Snag))
		case req.Find > 0:
			return st.DecideFindReopened(by, int(req.Find))
		}
		return st.DecideUndo(by, req.Entry)
	}, func(st *shop.State, record uint64, receipt *pb.Receipt, _ shop.Decision, now time.Time) *pb.UndoResponse {
		return &pb.UndoResponse{Receipt: receipt, Undone: outcomeOf(st, record, now)}
	})
}

// outcomeOf is the outcome of a record with its own entry in the receipt, whichever
// amendment it is reached by.
func outcomeOf(st *shop.State, entry uint64, now time.Time) *pb.Outcome {
	r, _ := st.Record(entry)
	return outcome(st, entry, &pb.Receipt{Entry: r.Entry}, now)
}

// day writes a moment's day in the shop's time zone.
func (s *Service) day(t time.Time) string { return t.In(s.zone).Format("2006-01-02") }

// saidBy is who said something, and when: «mabel on 2026-03-10, entry 106».
func (s *Service) saidBy(said shop.Said) string {
	return said.By + " on " + s.day(said.At) + ", entry " + strconv.FormatUint(said.Entry, 10)
}

// sourced says where a value comes from and who set it when.
func (s *Service) sourced(source string, said shop.Said) string {
	if source == "" {
		source = "no source given"
	}
	if said.By == "" {
		return source + ", imported"
	}
	return source + ", set by " + said.By + " on " + s.day(said.At)
}

func trimmed(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func appendNew(list []string, text string) []string {
	for _, have := range list {
		if have == text {
			return list
		}
	}
	return append(list, text)
}
