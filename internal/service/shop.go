package service

import (
	"context"
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// AddPerson makes a person known, or changes what is known of one.
func (s *Service) AddPerson(ctx context.Context, req *pb.AddPersonRequest) (*pb.AddPersonResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecidePerson(by, shop.NewPerson{ID: req.Id, Name: req.Name, Role: req.Role, Trade: req.Trade, Chat: req.ChatUser})
	}, func(_ *shop.State, _ uint64, receipt *pb.Receipt, d shop.Decision, _ time.Time) *pb.AddPersonResponse {
		p, _ := d.Event.(shop.PersonAdded)
		return &pb.AddPersonResponse{
			Receipt: receipt, Id: p.ID, Name: p.Name, Role: p.Role.String(), Trade: p.Trade, ChatUser: p.Chat, Changed: len(d.Changes) > 0,
		}
	})
}

// LinkChannel says which job a channel stands for; the one it is said in, when
// none is named.
func (s *Service) LinkChannel(ctx context.Context, req *pb.LinkChannelRequest) (*pb.LinkChannelResponse, error) {
	channel, before := req.Channel, ""
	if channel == "" {
		channel = req.GetOrigin().GetChannel()
	}
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		before = st.JobOf(channel)
		return st.DecideChannel(by, channel, req.Job)
	}, func(_ *shop.State, _ uint64, receipt *pb.Receipt, _ shop.Decision, _ time.Time) *pb.LinkChannelResponse {
		return &pb.LinkChannelResponse{Receipt: receipt, Channel: channel, Job: req.Job, Before: before}
	})
}

// AddSupplier makes a supplier known.
func (s *Service) AddSupplier(ctx context.Context, req *pb.AddSupplierRequest) (*pb.AddSupplierResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecideSupplier(by, req.Name)
	}, func(_ *shop.State, _ uint64, receipt *pb.Receipt, d shop.Decision, _ time.Time) *pb.AddSupplierResponse {
		e, _ := d.Event.(shop.SupplierAdded)
		return &pb.AddSupplierResponse{Receipt: receipt, Name: e.Name}
	})
}

// SetPanelSize keeps the size of a panel.
func (s *Service) SetPanelSize(ctx context.Context, req *pb.SetPanelSizeRequest) (*pb.SetPanelSizeResponse, error) {
	return write(ctx, s, req, func(st *shop.State, by string, _ time.Time) (shop.Decision, error) {
		return st.DecidePanelSize(by, shop.NewPanelSize{
			Job: req.Job, Panel: req.Panel, Side: shop.Side(req.Side), Area: req.AreaM2, Height: req.HeightMm, Length: req.LengthMm,
			HingeSpacing: req.HingeSpacingMm, HingeEdge: shop.Edge(req.HingeEdge),
		})
	}, func(_ *shop.State, _ uint64, receipt *pb.Receipt, d shop.Decision, _ time.Time) *pb.SetPanelSizeResponse {
		switch e := d.Event.(type) {
		case shop.PanelAreaSet:
			return &pb.SetPanelSizeResponse{Receipt: receipt, Job: e.Job, Panel: e.Panel, AreaM2: &e.M2}
		case shop.DoorGeometrySet:
			return &pb.SetPanelSizeResponse{
				Receipt: receipt, Job: e.Job, Panel: e.Panel, Side: pb.Side(e.Side), HeightMm: e.Height, LengthMm: e.Length,
				HingeSpacingMm: e.HingeSpacing, HingeEdge: pb.Edge(e.HingeEdge),
			}
		}
		return &pb.SetPanelSizeResponse{Receipt: receipt}
	})
}
