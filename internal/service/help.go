package service

import (
	"context"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// topic is one thing to ask help about.
type topic struct {
	name, summary string
	also          []string // what else it is asked as
	service       *grpc.ServiceDesc
}

func topics() []topic {
	return []topic{
		{"torque", "How tight: book values, computed values, and signing fasteners off.", []string{"torques", "bolts", "nuts", "fasteners"}, &pb.TorqueService_ServiceDesc},
		{"gaps", "Shut lines: the gap wanted, and what was measured.", []string{"gap", "doors", "shut lines"}, &pb.GapService_ServiceDesc},
		{"fit", "How to move a hung panel so that its gaps come right.", []string{"hanging", "adjusting", "alignment", "shims"}, &pb.FitService_ServiceDesc},
		{"finds", "What was found on a vehicle, and what became of it.", []string{"find", "rust", "holes", "dents"}, &pb.FindService_ServiceDesc},
		{"stock", "What is on the shelf, what was used, delivered, counted or wasted.", []string{"materials", "stores", "material"}, &pb.StockService_ServiceDesc},
		{"paint", "What to mix, whether it is enough, what was put on, and when to sand or recoat.", []string{"coats", "coat", "coating", "painting", "mixing", "spraying"}, &pb.CoatingService_ServiceDesc},
		{"hours", "Who worked on what for how long, against the estimate.", []string{"hour", "time"}, &pb.HoursService_ServiceDesc},
		{"jobs", "The vehicles in the shop and where they are.", []string{"job", "status", "vehicles"}, &pb.JobService_ServiceDesc},
		{"tasks", "What is to be done, what comes next, what holds it up, and when it will be done.", []string{"task", "plan", "planning", "forecast", "next", "holds"}, &pb.PlanService_ServiceDesc},
		{"parts", "What was ordered, what is late, what came, and what was fitted or sent back.", []string{"part", "orders", "ordering", "suppliers"}, &pb.PartService_ServiceDesc},
		{"brief", "What the customer wants, and how each line was met.", []string{"customer", "briefs"}, &pb.BriefService_ServiceDesc},
		{"snags", "Small faults to put right before handover.", []string{"snag", "snagging", "faults"}, &pb.SnagService_ServiceDesc},
		{"extras", "Work beyond the brief, priced for the customer to decide, and where the money stands.", []string{"extra", "money", "prices", "pricing", "budget"}, &pb.MoneyService_ServiceDesc},
		{"repairs", "Whether to patch, to let in a part panel or to replace the panel.", []string{"repair", "patch", "patching", "welding"}, &pb.RepairService_ServiceDesc},
		{"reminders", "What to be told in time.", []string{"reminder", "remind"}, &pb.ReminderService_ServiceDesc},
		{"handover", "The whole record of a job in one folder, for the customer.", []string{"hand over", "build record", "folder"}, &pb.HandoverService_ServiceDesc},
		{"sums", "A torque wrench behind an extension, air and metal for paint, cable and fuse, revs and road speed, units.", []string{"calculator", "calculations", "climate", "cable", "wiring", "gearing", "wrench", "units", "convert"}, &pb.CalculatorService_ServiceDesc},
		{"notes", "What somebody will want to know later.", []string{"note"}, &pb.NoteService_ServiceDesc},
		{"corrections", "Mending and taking back what was said, and what was done so far.", []string{"correction", "undo", "history", "mistakes"}, &pb.RecordService_ServiceDesc},
		{"shop", "Its people, which job a channel stands for, suppliers, and the sizes of panels.", []string{"people", "channels", "setup"}, &pb.ShopService_ServiceDesc},
		{"help", "What can be said, and where an answer comes from.", []string{"explain"}, &pb.HelpService_ServiceDesc},
	}
}

// Help lists what this service does.
func (s *Service) Help(_ context.Context, req *pb.HelpRequest) (*pb.HelpResponse, error) {
	resp := &pb.HelpResponse{}
	asked := strings.ToLower(strings.TrimSpace(req.Topic))
	for _, t := range topics() {
		if asked == "" || asked == t.name || slices.Contains(t.also, asked) {
			resp.Topics = append(resp.Topics, &pb.HelpTopic{Name: t.name, Summary: t.summary, Kinds: kindsOf(t.service)})
		}
	}
	if len(resp.Topics) == 0 {
		resp.UnknownTopic = req.Topic
	}
	return resp, nil
}

// ExplainAnswer answers the question anew and gives what the answer rests on. Of a
// request that writes, it explains the figures that its answer told.
func (s *Service) ExplainAnswer(ctx context.Context, req *pb.ExplainAnswerRequest) (*pb.ExplainAnswerResponse, error) {
	if req.Question == nil {
		return nil, s.failure(refusal(shop.MissingField, "field", "question"))
	}
	question, err := req.Question.UnmarshalNew()
	if err != nil {
		return nil, s.failure(refusal(shop.OutOfRange, "field", "question", "value", cut(req.Question.TypeUrl, 100), "accepted", "a request of this service"))
	}
	if err := clean(question); err != nil {
		return nil, s.failure(err)
	}
	kind := strings.TrimSuffix(string(question.ProtoReflect().Descriptor().Name()), "Request")
	basis, err := s.explain(ctx, question)
	if err != nil {
		return nil, err
	}
	return &pb.ExplainAnswerResponse{Kind: kind, Basis: basis}, nil
}

type based interface{ GetBasis() *pb.Basis }

// basisOf gives the basis of an answer.
func basisOf[R based](resp R, err error) (*pb.Basis, error) {
	if err != nil {
		return nil, err
	}
	return resp.GetBasis(), nil
}

func (s *Service) explain(ctx context.Context, question proto.Message) (*pb.Basis, error) {
	switch q := question.(type) {
	case *pb.LookUpTorqueRequest:
		return basisOf(s.LookUpTorque(ctx, q))
	case *pb.ComputeTorqueRequest:
		return basisOf(s.ComputeTorque(ctx, q))
	case *pb.RecordTorqueRequest:
		return basisOf(s.LookUpTorque(ctx, &pb.LookUpTorqueRequest{Job: q.Job, Fastener: q.Fastener}))
	case *pb.SetTorqueRequest:
		return basisOf(s.LookUpTorque(ctx, &pb.LookUpTorqueRequest{Job: q.Job, Fastener: q.Fastener}))
	case *pb.LookUpGapRequest:
		return basisOf(s.LookUpGap(ctx, q))
	case *pb.RecordGapRequest:
		return basisOf(s.LookUpGap(ctx, &pb.LookUpGapRequest{Job: q.Job, Panel: q.Panel, Side: q.Side, End: q.End, Edge: q.Edge}))
	case *pb.ListFindsRequest:
		return basisOf(s.ListFinds(ctx, q))
	case *pb.RecordFindRequest:
		return basisOf(s.ListFinds(ctx, &pb.ListFindsRequest{Job: q.Job, Panel: q.Panel, Side: q.Side}))
	case *pb.CloseFindRequest:
		return basisOf(s.ListFinds(ctx, &pb.ListFindsRequest{Job: q.Job, Panel: q.Panel, Side: q.Side}))
	case *pb.ListLowStockRequest:
		return basisOf(s.ListLowStock(ctx, q))
	case *pb.ReportHoursRequest:
		return basisOf(s.ReportHours(ctx, q))
	case *pb.LogHoursRequest:
		return basisOf(s.ReportHours(ctx, &pb.ReportHoursRequest{Job: q.Job, Work: q.Work}))
	case *pb.GetStatusRequest:
		return basisOf(s.GetStatus(ctx, q))
	case *pb.ListJobsRequest:
		return basisOf(s.ListJobs(ctx, q))
	case *pb.HistoryRequest:
		return basisOf(s.History(ctx, q))
	case *pb.SolveFitRequest:
		return basisOf(s.SolveFit(ctx, q))
	case *pb.AdjustWrenchRequest:
		return basisOf(s.AdjustWrench(ctx, q))
	case *pb.CheckClimateRequest:
		return basisOf(s.CheckClimate(ctx, q))
	case *pb.SizeCableRequest:
		return basisOf(s.SizeCable(ctx, q))
	case *pb.RoadSpeedRequest:
		return basisOf(s.RoadSpeed(ctx, q))
	case *pb.ConvertRequest:
		return basisOf(s.Convert(ctx, q))
	case *pb.AmendRequest:
		return s.explainRecord(ctx, q.Entry)
	case *pb.PlanMixRequest:
		return basisOf(s.PlanMix(ctx, q))
	case *pb.CheckEnoughRequest:
		return basisOf(s.CheckEnough(ctx, q))
	case *pb.ListWindowsRequest:
		return basisOf(s.ListWindows(ctx, q))
	case *pb.ListNextRequest:
		return basisOf(s.ListNext(ctx, q))
	case *pb.ListHoldsRequest:
		return basisOf(s.ListHolds(ctx, q))
	case *pb.ForecastRequest:
		return basisOf(s.Forecast(ctx, q))
	case *pb.ListPartsRequest:
		return basisOf(s.ListParts(ctx, q))
	case *pb.RecordOrderRequest:
		return basisOf(s.ListParts(ctx, &pb.ListPartsRequest{Job: q.Job}))
	case *pb.RecordArrivalRequest:
		return basisOf(s.ListParts(ctx, &pb.ListPartsRequest{Job: q.Job}))
	case *pb.ChangeDueRequest:
		return basisOf(s.ListParts(ctx, &pb.ListPartsRequest{Job: q.Job}))
	case *pb.GetBriefRequest:
		return basisOf(s.GetBrief(ctx, q))
	case *pb.ListSnagsRequest:
		return basisOf(s.ListSnags(ctx, q))
	case *pb.ListExtrasRequest:
		return basisOf(s.ListExtras(ctx, q))
	case *pb.ProposeExtraRequest:
		return basisOf(s.ListExtras(ctx, &pb.ListExtrasRequest{Job: q.Job}))
	case *pb.ReportMoneyRequest:
		return basisOf(s.ReportMoney(ctx, q))
	case *pb.AdviseRepairRequest:
		return basisOf(s.AdviseRepair(ctx, q))
	case *pb.ListRemindersRequest:
		return basisOf(s.ListReminders(ctx, q))
	case *pb.RecordCoatRequest:
		return basisOf(s.ListWindows(ctx, &pb.ListWindowsRequest{Job: q.Job}))
	case interface{ GetMaterial() string }: // GetStock, and all that moves stock
		return basisOf(s.GetStock(ctx, &pb.GetStockRequest{Material: q.GetMaterial()}))
	}
	return nil, s.unexplained(question)
}

func (s *Service) unexplained(question proto.Message) error {
	name := string(question.ProtoReflect().Descriptor().Name())
	return s.failure(refusal(shop.OutOfRange, "field", "question", "value", name, "accepted", "a request whose answer is a figure or a list"))
}

// explainRecord explains the figures that go with a record that was amended.
func (s *Service) explainRecord(ctx context.Context, entry uint64) (*pb.Basis, error) {
	s.mu.RLock()
	r, _ := s.state.Record(entry)
	s.mu.RUnlock()
	switch e := r.Event.(type) {
	case shop.StockMoved:
		return basisOf(s.GetStock(ctx, &pb.GetStockRequest{Material: e.Material}))
	case shop.HoursLogged:
		return basisOf(s.ReportHours(ctx, &pb.ReportHoursRequest{Job: e.Job, Work: e.Stage.String()}))
	case shop.TorqueRecorded:
		return basisOf(s.LookUpTorque(ctx, &pb.LookUpTorqueRequest{Job: e.Job, Fastener: e.Fastener}))
	case shop.TorqueSet:
		return basisOf(s.LookUpTorque(ctx, &pb.LookUpTorqueRequest{Job: e.Job, Fastener: e.Fastener}))
	case shop.GapRecorded:
		return basisOf(s.LookUpGap(ctx, &pb.LookUpGapRequest{Job: e.Job, Panel: e.Panel, Side: pb.Side(e.Side), Edge: pb.Edge(e.Edge)}))
	case shop.CoatRecorded:
		return basisOf(s.ListWindows(ctx, &pb.ListWindowsRequest{Job: e.Job}))
	case shop.FindRecorded:
		return basisOf(s.ListFinds(ctx, &pb.ListFindsRequest{Job: e.Job, Panel: e.Panel, Side: pb.Side(e.Side)}))
	}
	return nil, s.unexplained(&pb.AmendRequest{})
}

// GetVocabulary returns the names, if they are not those of the known version.
func (s *Service) GetVocabulary(_ context.Context, req *pb.GetVocabularyRequest) (*pb.GetVocabularyResponse, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	resp := &pb.GetVocabularyResponse{Version: s.version()}
	if req.KnownVersion == resp.Version {
		resp.Unchanged = true
		return resp, nil
	}
	resp.Shop, resp.TimeZone = s.state.Shop().Name, s.zone.String()
	resp.Suppliers, resp.Kinds = s.state.Suppliers(), s.kinds
	for _, j := range s.state.Jobs() {
		resp.Jobs = append(resp.Jobs, &pb.JobName{
			Id: j.ID, AlsoCalled: j.AlsoCalled, Drive: j.Drive, Customer: j.Customer, Stage: j.Stage.String(), Make: j.Make, Model: j.Model, Body: j.Body,
		})
	}
	for _, m := range s.state.Materials() {
		name := &pb.MaterialName{Id: m.ID, Name: m.Name, AlsoCalled: m.AlsoCalled, Unit: m.Unit, Pack: m.Pack.Float()}
		if m.Paint != nil {
			name.MixedWith = m.Paint.With
		}
		resp.Materials = append(resp.Materials, name)
	}
	for _, p := range s.state.People() {
		resp.People = append(resp.People, &pb.PersonName{Id: p.ID, Name: p.Name, Role: p.Role.String(), ChatUser: p.Chat})
	}
	for _, c := range s.state.Channels() {
		resp.Channels = append(resp.Channels, &pb.ChannelName{Id: c.ID, Job: c.Job, ChatChannel: c.Chat})
	}
	for _, t := range s.state.Things() {
		resp.Things = append(resp.Things, &pb.ThingName{Noun: t.Noun, Number: uint32(t.Number), Job: t.Job, Name: t.Name, Side: pb.Side(t.Side)})
	}
	for _, f := range s.state.Fasteners() {
		resp.Fasteners = append(resp.Fasteners, &pb.FastenerName{Name: f.Name, Jobs: f.Jobs})
	}
	return resp, nil
}

// version changes with every change of a name, and with the kinds there are; it is
// never zero. mu is held.
func (s *Service) version() uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(strconv.FormatUint(s.state.NamesSeq(), 10) + " " + strings.Join(s.kinds, " ")))
	return h.Sum64() | 1
}
