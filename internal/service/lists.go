package service

import (
	"google.golang.org/grpc"

	"bayword/internal/calc/fastener"
	pb "bayword/proto/bayword/v1"
)

var lubrications = map[pb.Lubrication]fastener.Lubrication{
	pb.Lubrication_LUBRICATION_UNSPECIFIED:   fastener.Unsaid,
	pb.Lubrication_LUBRICATION_DRY:           fastener.Dry,
	pb.Lubrication_LUBRICATION_OILED:         fastener.Oiled,
	pb.Lubrication_LUBRICATION_MOLY:          fastener.Moly,
	pb.Lubrication_LUBRICATION_COPPER_GREASE: fastener.CopperGrease,
	pb.Lubrication_LUBRICATION_THREADLOCK:    fastener.Threadlock,
	pb.Lubrication_LUBRICATION_ZINC:          fastener.Zinc,
}

var intos = map[pb.Into]fastener.Material{
	pb.Into_INTO_UNSPECIFIED: fastener.Nut,
	pb.Into_INTO_STEEL:       fastener.Steel,
	pb.Into_INTO_ALUMINIUM:   fastener.Aluminium,
	pb.Into_INTO_CAST_IRON:   fastener.CastIron,
}

// offered are the services there are, in the order of Help's topics.
func offered() []*grpc.ServiceDesc {
	return []*grpc.ServiceDesc{
		&pb.TorqueService_ServiceDesc, &pb.GapService_ServiceDesc, &pb.FitService_ServiceDesc, &pb.FindService_ServiceDesc,
		&pb.StockService_ServiceDesc, &pb.CoatingService_ServiceDesc, &pb.HoursService_ServiceDesc, &pb.JobService_ServiceDesc,
		&pb.PlanService_ServiceDesc, &pb.PartService_ServiceDesc, &pb.BriefService_ServiceDesc, &pb.SnagService_ServiceDesc,
		&pb.MoneyService_ServiceDesc, &pb.RepairService_ServiceDesc, &pb.ReminderService_ServiceDesc, &pb.HandoverService_ServiceDesc,
		&pb.CalculatorService_ServiceDesc, &pb.NoteService_ServiceDesc, &pb.RecordService_ServiceDesc, &pb.ShopService_ServiceDesc,
		&pb.HelpService_ServiceDesc,
		&pb.VocabularyService_ServiceDesc, &pb.NoticeService_ServiceDesc, &pb.PhotoService_ServiceDesc,
	}
}

// unsaid are the services that the bot asks by itself: people never say their
// kinds.
func unsaid(d *grpc.ServiceDesc) bool {
	return d == &pb.VocabularyService_ServiceDesc || d == &pb.NoticeService_ServiceDesc || d == &pb.PhotoService_ServiceDesc
}

// Register makes every service answer on r.
func (s *Service) Register(r grpc.ServiceRegistrar) {
	for _, d := range offered() {
		r.RegisterService(d, s)
	}
}

// kindsOf lists the RPCs of a service.
func kindsOf(d *grpc.ServiceDesc) []string {
	names := make([]string, len(d.Methods))
	for i, m := range d.Methods {
		names[i] = m.MethodName
	}
	return names
}

// kinds lists the kinds of message there are: every RPC but those that people
// never say.
func kinds() []string {
	var all []string
	for _, d := range offered() {
		if !unsaid(d) {
			all = append(all, kindsOf(d)...)
		}
	}
	return all
}
