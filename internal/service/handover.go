package service

import (
	"context"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// BuildRecord puts all that is on record of a job together. It refuses no state a
// job can be in: what is open it says.
func (s *Service) BuildRecord(_ context.Context, req *pb.BuildRecordRequest) (*pb.BuildRecordResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp, err := s.buildRecord(s.state, req.Job)
	if err != nil {
		return nil, s.failure(err)
	}
	return resp, nil
}

// buildRecord gathers a record. mu is held.
func (s *Service) buildRecord(st *shop.State, job string) (*pb.BuildRecordResponse, error) {
	now := s.clock().In(s.zone)
	taken, err := st.TakenIn(job)
	if err != nil {
		return nil, err
	}
	status, err := st.Status(job, now)
	if err != nil {
		return nil, err
	}
	resp := &pb.BuildRecordResponse{
		Shop: st.Shop().Name, Job: jobPB(status.JobCreated), JobEntry: taken.Entry, At: timestamp(now), LastEntry: st.Seq(), Currency: st.Shop().Currency,
	}
	g := gathering{st: st, job: job, now: now, resp: resp}
	for _, part := range []func() error{g.torques, g.finds, g.gaps, g.brief, g.snags, g.parts, g.tasks, g.extras, g.coats, g.hours, g.rest} {
		if err := part(); err != nil {
			return nil, err
		}
	}
	if resp.Money, err = s.reportMoney(st, job); err != nil {
		return nil, err
	}
	return resp, nil
}

// gathering is a record being put together. Each part adds its own list, and its
// lines to what is open and to care, in the order they matter.
type gathering struct {
	st   *shop.State
	job  string
	now  time.Time // in the shop's time zone
	resp *pb.BuildRecordResponse
}

func (g *gathering) finds() error {
	finds, err := g.st.Finds(shop.FindFilter{Job: g.job})
	if err != nil {
		return err
	}
	for _, f := range finds {
		rec := &pb.FindRecord{Find: findPB(f), Entries: []uint64{f.Entry}, Photos: photosPB(g.st.Photos(f.Entry))}
		for _, c := range g.st.Closings(f.Number) {
			rec.Entries = append(rec.Entries, c.Entry)
			rec.RepairedBy, rec.RepairedAt = c.By, timestamp(c.At)
			rec.Photos = append(rec.Photos, photosPB(g.st.Photos(c.Entry))...)
		}
		g.resp.Finds = append(g.resp.Finds, rec)
		if !f.Repaired {
			g.open(rec.Entries, "find %d is open: %s", f.Number, f.Text())
		}
		if f.Structural() {
			g.caution(rec.Entries, "find %d is on a part that carries load (%s): have it looked at by a licensed inspector, and keep to your local roadworthiness rules",
				f.Number, f.Panel)
		}
	}
	return nil
}

func (g *gathering) gaps() error {
	spans, err := g.st.GapSpans(g.job)
	if err != nil {
		return err
	}
	for _, span := range spans {
		rec := &pb.GapRecord{Before: readingPB(span.First), Target: targetPB(span.Target), Entries: []uint64{span.First.Entry}}
		last := span.First
		if span.Last != nil {
			last = *span.Last
			rec.After, rec.Entries = readingPB(last), append(rec.Entries, last.Entry)
		}
		if span.Target != nil {
			rec.Entries = append(rec.Entries, span.Target.Entry)
		}
		g.resp.Gaps = append(g.resp.Gaps, rec)
		where := gapName(span.First)
		switch {
		case span.Target != nil && !last.Within(*span.Target):
			g.open(rec.Entries, "%s is out of tolerance: target %s ± %s mm", where, trimmed(span.Target.Target), trimmed(span.Target.Tolerance))
		case span.Last == nil:
			g.open(rec.Entries, "%s was measured once, there is no reading after the work", where)
		}
	}
	return nil
}

// gapName is «gap of the left door, front edge».
func gapName(g shop.GapReading) string {
	text := "gap of the"
	for _, word := range []string{g.Side.String(), g.End.String(), g.Panel} {
		if word != "" {
			text += " " + word
		}
	}
	if g.Edge != 0 {
		text += ", " + g.Edge.String() + " edge"
	}
	return text
}

func (g *gathering) brief() error {
	lines, err := g.st.Brief(g.job)
	if err != nil {
		return err
	}
	for _, l := range lines {
		g.resp.Brief = append(g.resp.Brief, briefPB(l))
		if !l.Met {
			g.open(l.Entries, "line %d of the brief is not on record as met: %s", l.Number, l.Text)
		}
	}
	return nil
}

func (g *gathering) snags() error {
	snags, err := g.st.Snags(shop.SnagFilter{Job: g.job})
	if err != nil {
		return err
	}
	for _, n := range snags {
		g.resp.Snags = append(g.resp.Snags, snagPB(n))
		if n.Closed {
			continue
		}
		g.open(n.Entries, "snag %d is open: %s", n.Number, n.Text)
		if c := shop.SnagCaution(n.Text); c != "" {
			g.caution(n.Entries, "snag %d, %s: %s", n.Number, n.Text, c)
		}
	}
	return nil
}

func (g *gathering) hours() error {
	stages, err := g.st.HoursRecords(g.job)
	if err != nil {
		return err
	}
	for _, h := range stages {
		g.resp.Hours = append(g.resp.Hours, &pb.HoursRecord{
			Stage: h.Stage.String(), Logged: h.Logged.Float(), Imported: h.Imported.Float(), Estimate: h.Agreed.Float(), Extras: h.Extras.Float(), Entries: h.Entries,
		})
	}
	return nil
}

// rest are the notes and all else, and the photographs that came with it.
func (g *gathering) rest() error {
	lines, err := g.st.Rest(g.job)
	if err != nil {
		return err
	}
	for _, l := range lines {
		event := &pb.HistoryEvent{Person: l.By, Text: l.Text, Entry: l.Entry}
		if !l.Undated {
			event.At = timestamp(l.At)
		}
		g.resp.Notes = append(g.resp.Notes, event)
	}
	g.resp.Photos = photosPB(g.st.OtherPhotos(g.job))
	return nil
}

func photosPB(photos []shop.Photo) []*pb.Photo {
	var all []*pb.Photo
	for _, p := range photos {
		all = append(all, &pb.Photo{Name: p.Name, Sha256: p.SHA256})
	}
	return all
}
