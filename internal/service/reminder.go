package service

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// Remind keeps a reminder, to be sent where it was asked for.
func (s *Service) Remind(ctx context.Context, req *pb.RemindRequest) (*pb.RemindResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, now time.Time) (shop.Decision, error) {
		return st.DecideReminder(by, now, shop.NewReminder{At: req.At, Text: req.Text, Job: req.Job, Channel: req.GetOrigin().GetChannel(), Who: req.Who})
	}, recorded((*pb.Outcome).GetReminder))
}

// ListReminders lists what is still to be reminded of, the next one first.
func (s *Service) ListReminders(_ context.Context, req *pb.ListRemindersRequest) (*pb.ListRemindersResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp := &pb.ListRemindersResponse{Basis: &pb.Basis{Sources: []string{"the shop's ledger"}}}
	for _, in := range [][2]string{{"job", req.Job}, {"person", req.Person}} {
		if in[1] != "" {
			resp.Basis.Inputs = append(resp.Basis.Inputs, in[0]+" "+in[1])
		}
	}
	for _, r := range s.state.Reminders() {
		if (req.Job == "" || r.Job == req.Job) && (req.Person == "" || r.By == req.Person || r.Who == req.Person) {
			resp.Reminders = append(resp.Reminders, reminderPB(s.state, r))
		}
	}
	resp.Basis.Steps = []string{fmt.Sprintf("%d reminders stand and were not sent", len(resp.Reminders))}
	return resp, nil
}

func reminderPB(st *shop.State, r shop.Reminder) *pb.Reminder {
	return &pb.Reminder{At: st.Local(r.At()), Text: r.Text, Job: r.Job, Channel: r.Channel, Person: r.By, Entry: r.Entry, Who: r.Who}
}
