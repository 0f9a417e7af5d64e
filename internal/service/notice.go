package service

import (
	"context"
	"slices"
	"time"

	"bayword/internal/calc/coating"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// When the times of a coat are told. Common practice, no source.
const (
	beforePotLife = 15 * time.Minute    // before a mix goes off
	beforeCloses  = time.Hour           // before a window to recoat closes
	shortWindow   = 2 * time.Hour       // one that is told of half way
	staleAfter    = 12 * time.Hour      // later than that a window is told no more
	oldCoat       = 14 * 24 * time.Hour // said longer ago than that, a coat is told of no more
)

var noticeKinds = map[shop.NoticeKind]pb.NoticeKind{
	shop.NoticeReminder:     pb.NoticeKind_NOTICE_KIND_REMINDER,
	shop.NoticePotLife:      pb.NoticeKind_NOTICE_KIND_POT_LIFE,
	shop.NoticeRecoatCloses: pb.NoticeKind_NOTICE_KIND_RECOAT_CLOSES,
	shop.NoticeSand:         pb.NoticeKind_NOTICE_KIND_SAND,
	shop.NoticePartDue:      pb.NoticeKind_NOTICE_KIND_PART_DUE,
	shop.NoticeMorning:      pb.NoticeKind_NOTICE_KIND_MORNING,
}

// ListNotices lists what is due and was not sent, oldest first.
func (s *Service) ListNotices(_ context.Context, req *pb.ListNoticesRequest) (*pb.ListNoticesResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	now := s.clock().In(s.zone)
	due, next := s.state.Due(planned(s.state, now), now)
	from, to, more, err := page(req.PageToken, req.PageSize, len(due))
	if err != nil {
		return nil, s.failure(err)
	}
	resp := &pb.ListNoticesResponse{NextAt: timestamp(next), NextPageToken: more}
	for _, n := range due[from:to] {
		resp.Notices = append(resp.Notices, noticePB(s.state, n, now))
	}
	return resp, nil
}

// MarkNotice keeps that a notice was sent, so that it is never sent again.
func (s *Service) MarkNotice(ctx context.Context, req *pb.MarkNoticeRequest) (*pb.MarkNoticeResponse, error) {
	return write(ctx, s, req, func(st *shop.State, _ string, _ time.Time) (shop.Decision, error) {
		now := s.clock().In(s.zone) // whenever the sender says that it is
		return st.DecideSent(req.Id, planned(st, now), now)
	}, func(_ *shop.State, _ uint64, receipt *pb.Receipt, _ shop.Decision, _ time.Time) *pb.MarkNoticeResponse {
		return &pb.MarkNoticeResponse{Receipt: receipt}
	})
}

// planned gives all notices that are known of, sent or not.
func planned(st *shop.State, now time.Time) []shop.Notice {
	all := st.Planned(now)
	coats, _ := st.LatestCoats("") // of all jobs there are
	coats = slices.DeleteFunc(coats, func(c shop.Coat) bool { return !st.Paints(c.Material) })
	for i, c := range coats {
		// What is coated over waits for nothing.
		if c.At().IsZero() || now.Sub(c.Said.At) > oldCoat || slices.ContainsFunc(coats[:i], func(later shop.Coat) bool { return over(later, c) }) {
			continue
		}
		all = append(all, coatNotices(st, c)...)
	}
	return all
}

// over tells whether a later coat lies over all of an earlier one.
func over(later, earlier shop.Coat) bool {
	return later.Job == earlier.Job && later.At().After(earlier.At()) && !slices.ContainsFunc(earlier.Panels, func(p string) bool {
		return !slices.Contains(later.Panels, p) && !slices.Contains(later.Panels, "whole body")
	})
}

// coatNotices gives what there is to tell of a coat, each with its minute in the
// id: a coat that was amended is told of anew.
func coatNotices(st *shop.State, c shop.Coat) []shop.Notice {
	w, err := times(st, c)
	if err != nil {
		return nil // the product's sheet contradicts itself
	}
	n := shop.Notice{Job: c.Job, Coat: &c}
	if n.Channel, n.Person = st.Place(c.Job); n.Channel == shop.Direct && n.Person == "" {
		return nil
	}
	var all []shop.Notice
	add := func(kind shop.NoticeKind, at, until time.Time) {
		n.Kind, n.At, n.Until, n.ID = kind, at, until, shop.CoatNotice(c.Entry, shop.CoatTold(kind, st.Local(at)))
		all = append(all, n)
	}
	if ends := potLifeEnds(st, c); ends.After(c.At()) {
		add(shop.NoticePotLife, ends.Add(-beforePotLife), ends)
	}
	if at := closes(c, w); !at.IsZero() {
		add(shop.NoticeRecoatCloses, at, at.Add(staleAfter))
	}
	if !w.SandFrom.IsZero() {
		add(shop.NoticeSand, w.SandFrom, w.SandFrom.Add(staleAfter))
	}
	return all
}

// potLifeEnds is the latest that a coat's mix can be good for; zero when the
// product names no pot life. It counts from mixing, which is not on record: that
// was before the first of the coats, and each before the last took its flash time
// at least.
func potLifeEnds(st *shop.State, c shop.Coat) time.Time {
	m, err := st.Stock(c.Material)
	if err != nil || m.Paint == nil || m.Paint.PotLifeMin <= 0 {
		return time.Time{}
	}
	minutes := m.Paint.PotLifeMin - float64(c.Coats-1)*m.Paint.FlashMin
	return c.At().Add(time.Duration(minutes * float64(time.Minute)))
}

// closes is when it is told that a window to recoat closes; zero when it does not.
func closes(c shop.Coat, w coating.Windows) time.Time {
	if w.RecoatUntil.IsZero() {
		return time.Time{}
	}
	from := c.At()
	if !w.RecoatFrom.IsZero() {
		from = w.RecoatFrom
	}
	if open := w.RecoatUntil.Sub(from); open < shortWindow {
		return from.Add(open / 2)
	}
	return w.RecoatUntil.Add(-beforeCloses)
}

func noticePB(st *shop.State, n shop.Notice, now time.Time) *pb.Notice {
	out := &pb.Notice{
		Id: n.ID, Kind: noticeKinds[n.Kind], At: timestamp(n.At), Channel: n.Channel, Person: n.Person, Job: n.Job, Text: n.Text,
		Waiting: extrasPB(n.Waiting),
	}
	for _, p := range n.Parts {
		out.Parts = append(out.Parts, partPB(p))
	}
	for _, p := range n.Due {
		out.Due = append(out.Due, partPB(p))
	}
	if n.Coat == nil {
		return out
	}
	if w, err := times(st, *n.Coat); err == nil {
		out.Windows = windowsPB(st, *n.Coat, w, now)
		if n.Kind == shop.NoticePotLife {
			out.Windows.PotLifeEnds = timestamp(n.Until)
		}
	}
	return out
}
