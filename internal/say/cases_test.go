package say_test

import (
	"slices"
	"time"

	"bayword/internal/say"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"
)

// The answers here are those of the demo shop on Tuesday 10 March 2026.

func at(hour, minute int) *timestamppb.Timestamp {
	return timestamppb.New(time.Date(2026, 3, 10, hour, minute, 0, 0, time.UTC))
}

func names() say.Names {
	n := say.NamesFrom(&pb.GetVocabularyResponse{
		Shop: "Millrace Coachworks", TimeZone: "Europe/London",
		Jobs: []*pb.JobName{{Id: "heron", Body: "two-door coupe"}, {Id: "osmere"}, {Id: "pilot"}, {Id: "tern"}},
		People: []*pb.PersonName{
			{Id: "wren", Name: "Wren", Role: "lead"}, {Id: "idris", Name: "Idris", Role: "tradesperson"},
			{Id: "mabel", Name: "Mabel", Role: "tradesperson"}, {Id: "tomasz", Name: "Tomasz", Role: "tradesperson"},
			{Id: "jonah", Name: "Jonah", Role: "apprentice"},
		},
		Materials: []*pb.MaterialName{
			{Id: "clearcoat", Name: "clearcoat", Unit: "L"}, {Id: "seam-sealer", Name: "seam sealer", Unit: "each"},
			{Id: "steel-12", Name: "1.2 mm steel sheet", Unit: "m2"},
		},
	})
	n.Examples = map[string][]string{
		"GetStock":     {"how much epoxy have we got", "what's left of the p80s"},
		"RecordUse":    {"used half a litre of clear on the osmere", "two of the tubes of sealer gone", "0.3 of the point nine on the heron", "and a fourth"},
		"LookUpTorque": {"wheel nut torque on the heron"},
	}
	return n
}

// Stocks of the shop.
func clear(onHand float64) *pb.Stock {
	return &pb.Stock{Material: "clearcoat", Name: "clearcoat", Unit: "L", Pack: 5, OnHand: onHand, ReorderAt: 5, Low: onHand <= 5}
}

func highBuild(onHand float64) *pb.Stock {
	return &pb.Stock{Material: "high-build", Name: "high-build primer", Unit: "L", Pack: 4, OnHand: onHand, ReorderAt: 2, Low: onHand <= 2}
}

func sealer(onHand float64) *pb.Stock {
	return &pb.Stock{Material: "seam-sealer", Name: "seam sealer", Unit: "each", Pack: 1, OnHand: onHand, ReorderAt: 4, Low: onHand <= 4}
}

func discs(onHand float64) *pb.Stock {
	return &pb.Stock{Material: "p80-discs", Name: "P80 discs", Unit: "each", Pack: 50, OnHand: onHand, ReorderAt: 50, Low: onHand <= 50}
}

func steel(onHand float64) *pb.Stock {
	return &pb.Stock{Material: "steel-12", Name: "1.2 mm steel sheet", Unit: "m2", Pack: 2, OnHand: onHand, ReorderAt: 2, Low: onHand <= 2}
}

func receipt(warnings ...string) *pb.Receipt { return &pb.Receipt{Entry: 41, Warnings: warnings} }

// References and records of the shop.
func wheelNut() *pb.TorqueReference {
	return &pb.TorqueReference{Job: "heron", Fastener: "wheel nut", Thread: "7/16-20 UNF", TorqueNm: 81, Source: "demo manual p. 12", SafetyCritical: true}
}

func rearEdge() *pb.GapReference {
	return &pb.GapReference{Job: "heron", Panel: "door", Edge: pb.Edge_EDGE_REAR, TargetMm: 4, ToleranceMm: 0.5, FlushToleranceMm: 0.5, Source: "shop standard agreed with customer"}
}

func anyDoor() *pb.GapReference {
	return &pb.GapReference{Panel: "door", TargetMm: 4.5, ToleranceMm: 1, FlushToleranceMm: 1, Source: "shop standard"}
}

func reading(gaps, flush []float64) *pb.GapReading {
	return &pb.GapReading{Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Edge: pb.Edge_EDGE_REAR, GapMm: gaps, FlushMm: flush, Person: "idris", At: at(10, 15)}
}

func sillHole() *pb.Find {
	return &pb.Find{Number: 5, Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT, Kind: pb.FindKind_FIND_KIND_HOLE,
		WidthMm: proto.Float64(120), HeightMm: proto.Float64(40), Note: "behind the jacking point", State: pb.FindState_FIND_STATE_OPEN, Person: "idris", At: at(10, 15)}
}

func heronFinds() []*pb.Find {
	return []*pb.Find{
		{Number: 1, Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT, Kind: pb.FindKind_FIND_KIND_HOLE, WidthMm: proto.Float64(180), HeightMm: proto.Float64(60), Note: "behind an old plate", State: pb.FindState_FIND_STATE_OPEN},
		{Number: 2, Job: "heron", Panel: "rear wing", Side: pb.Side_SIDE_LEFT, Kind: pb.FindKind_FIND_KIND_OLD_REPAIR, WidthMm: proto.Float64(420), HeightMm: proto.Float64(200), Note: "plated and filled", State: pb.FindState_FIND_STATE_OPEN},
		{Number: 3, Job: "heron", Panel: "front valance", Side: pb.Side_SIDE_CENTRE, Kind: pb.FindKind_FIND_KIND_DENT, DiameterMm: proto.Float64(90), Count: proto.Uint32(2), State: pb.FindState_FIND_STATE_REPAIRED},
	}
}

func use() *pb.RecordUseResponse {
	return &pb.RecordUseResponse{Receipt: receipt(), Stock: clear(5.5), Amount: 0.5, Job: "osmere"}
}

func heronHours(logged float64) *pb.LogHoursResponse {
	return &pb.LogHoursResponse{Receipt: receipt(), Job: "heron", People: []string{"idris"}, Hours: logged - 96.5, Day: "2026-03-10",
		Stage: &pb.StageHours{Stage: "metal", Logged: logged, Estimate: 180}}
}

func heronJob() *pb.Job {
	return &pb.Job{Id: "heron", Year: 1964, Make: "Tarrant", Model: "Heron", Body: "two-door coupe", Drive: "rhd", Customer: "Mrs Adeyemi", Stage: "metal", Bay: 2}
}

// exchange is one question or update with its answer.
type exchange struct {
	name      string
	req, resp proto.Message
	has       []string // what the text must hold whatever its wording
	lacks     []string
}

func cases() []exchange {
	return slices.Concat(askCases(), stockCases(), recordCases(), workedCases(), planCases(), partCases(), moneyCases(), shopCases(), mendCases())
}

func askCases() []exchange {
	return []exchange{
		{"safety-critical", &pb.LookUpTorqueRequest{}, &pb.LookUpTorqueResponse{Job: "heron", Fastener: "wheel nut", SafetyCritical: true,
			References:  []*pb.TorqueReference{wheelNut()},
			LastSignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "wheel nut", TorqueNm: 81, Count: proto.Uint32(4), Person: "tomasz", At: at(9, 5)}},
			[]string{"81 N·m (59.7 lbf·ft)", "7/16-20 UNF", "demo manual p. 12", "Safety-critical"}, nil},
		{"in stages, set by hand", &pb.LookUpTorqueRequest{}, &pb.LookUpTorqueResponse{Job: "heron", Fastener: "cylinder head nut",
			References: []*pb.TorqueReference{{Job: "heron", Fastener: "cylinder head nut", Thread: "7/16-20 UNF", TorqueNm: 68, StagesNm: []float64{30, 50, 68}, Source: "demo manual p. 31", SetBy: "wren", SetAt: at(8, 0)}}},
			[]string{"30 → 50 → 68 N·m", "set by Wren, 10 Mar 2026"}, []string{"Safety-critical"}},
		{"two that fit", &pb.LookUpTorqueRequest{}, &pb.LookUpTorqueResponse{Job: "pilot", Fastener: "bolt", References: []*pb.TorqueReference{
			{Job: "pilot", Fastener: "engine mount bolt", Thread: "M10x1.5", TorqueNm: 47, Source: "conversion kit sheet 3"},
			{Job: "pilot", Fastener: "bellhousing bolt", Thread: "M10x1.5", TorqueNm: 45, Source: "conversion kit sheet 3"}}},
			[]string{"47 N·m", "45 N·m", "sheet 3"}, nil},
		{"nothing on record", &pb.LookUpTorqueRequest{}, &pb.LookUpTorqueResponse{Job: "tern", Fastener: "alternator bolt"},
			[]string{"No book torque on record for the alternator bolt", "Wren can set it"}, []string{"0 N·m"}},
		{"nothing on record, safety-critical", &pb.LookUpTorqueRequest{}, &pb.LookUpTorqueResponse{Job: "pilot", Fastener: "wheel nut", SafetyCritical: true},
			[]string{"maker's manual"}, []string{"work one out", "81", "88", "95"}},
		{"into aluminium", &pb.ComputeTorqueRequest{Lubrication: pb.Lubrication_LUBRICATION_OILED, Into: pb.Into_INTO_ALUMINIUM, EngagedMm: proto.Float64(12)},
			&pb.ComputeTorqueResponse{Thread: "M10x1.5", Grade: "10.9", TorqueNm: 47.52, TorqueLowNm: 40.1, TorqueHighNm: 55.83, PreloadLowKn: 21.96, PreloadHighKn: 31.2, EngagementNeededMm: 19.4, LimitedByHole: true,
				Basis: &pb.Basis{Inputs: []string{"thread M10x1.5"}, Assumptions: []string{"friction 0.10 to 0.16"}, Sources: []string{"VDI 2230-1:2015"}, Caution: "never for wheels, brakes, steering or belts"}},
			[]string{"M10x1.5 10.9", "47.5 N·m", "40.1–55.8 N·m", "22–31.2 kN", "19.5 mm", "hole sets", "VDI 2230"}, nil},
		{"into a nut, friction not said", &pb.ComputeTorqueRequest{}, &pb.ComputeTorqueResponse{Thread: "M6x1.0", Grade: "8.8", TorqueNm: 9.9, TorqueLowNm: 8.5, TorqueHighNm: 11.3, PreloadLowKn: 9, PreloadHighKn: 9},
			[]string{"oiled to dry", "9.9 N·m", "9 kN", "the maker gives a figure"}, nil},
		{"readings in and out", &pb.LookUpGapRequest{Edge: pb.Edge_EDGE_REAR}, &pb.LookUpGapResponse{Job: "heron", Panel: "door", References: []*pb.GapReference{rearEdge()},
			Readings: []*pb.GapReading{reading([]float64{3.5, 4, 4.5, 5}, []float64{0.5, 0, -0.7}), reading([]float64{3.6}, nil)}},
			[]string{"4 ± 0.5 mm, flush ± 0.5", "hop standard agreed with customer", "4th 5 mm is 0.5 mm too wide", "3rd -0.7 mm is 0.2 mm too low", "In tolerance"}, []string{"1st 3.5"}},
		{"all edges, the shop's", &pb.LookUpGapRequest{}, &pb.LookUpGapResponse{Job: "tern", Panel: "door", References: []*pb.GapReference{anyDoor()}},
			[]string{"4.5 ± 1 mm", "hop standard", "Nothing measured"}, nil},
		{"nothing on record", &pb.LookUpGapRequest{Edge: pb.Edge_EDGE_TOP}, &pb.LookUpGapResponse{Job: "pilot", Panel: "load bed"}, []string{"No target gap"}, nil},
		{"open on one", &pb.ListFindsRequest{Job: "heron"}, &pb.ListFindsResponse{Finds: heronFinds(), Total: 3}, []string{"left sill", "left rear wing", "front valance", "old repair"}, nil},
		{"more than a page, all vehicles", &pb.ListFindsRequest{State: pb.FindState_FIND_STATE_OPEN}, &pb.ListFindsResponse{Finds: heronFinds()[:2], Total: 7, NextPageToken: "3"}, []string{"7 open finds", "the heron", "… and 5 more"}, nil},
		{"none open", &pb.ListFindsRequest{Job: "osmere", State: pb.FindState_FIND_STATE_OPEN}, &pb.ListFindsResponse{}, []string{"No open finds on the osmere"}, nil},
		{"none at a panel", &pb.ListFindsRequest{Job: "osmere", Panel: "sill", Side: pb.Side_SIDE_RIGHT}, &pb.ListFindsResponse{}, []string{"No finds at the right sill on the osmere"}, nil},
		{"whole vehicle", &pb.ReportHoursRequest{}, &pb.ReportHoursResponse{Job: "heron", Logged: 167.5, Estimate: 690, Stages: []*pb.StageHours{
			{Stage: "strip", Logged: 71, Estimate: 60}, {Stage: "metal", Logged: 96.5, Estimate: 180}, {Stage: "paint", Estimate: 160}}, Basis: &pb.Basis{Sources: []string{"hours imported with the shop"}}},
			[]string{"167.5 h logged of 690 estimated", "strip 71 of 60 h, 11 over"}, nil},
		{"with agreed extras", &pb.ReportHoursRequest{}, &pb.ReportHoursResponse{Job: "heron", Work: "metal", Logged: 96.5, Estimate: 190, Extras: 10, ToCome: 93.5, Stages: []*pb.StageHours{{Stage: "metal", Logged: 96.5, Estimate: 190, Extras: 10}}}, []string{"96.5 h logged of 190 agreed (180 estimated, 10 of extras), 93.5 left, the heron, metal."}, nil},
		{"extras alone", &pb.ReportHoursRequest{}, &pb.ReportHoursResponse{Job: "tern", Logged: 35, Estimate: 7, Extras: 7, ToCome: 12, Stages: []*pb.StageHours{{Stage: "strip", Logged: 23, Estimate: 7, Extras: 7}, {Stage: "metal", Logged: 12}}}, []string{"35 h logged, no estimate, 7 h of agreed extras, 12 left, the tern.", "strip 23 h, no estimate, 7 h of agreed extras", "metal 12 h, no estimate"}, []string{"over"}},
		{"one stage", &pb.ReportHoursRequest{}, &pb.ReportHoursResponse{Job: "osmere", Work: "paint", Logged: 37, Estimate: 140, Stages: []*pb.StageHours{{Stage: "paint", Logged: 37, Estimate: 140}}}, []string{"37", "140", "paint"}, nil},
		{"one person", &pb.ReportHoursRequest{}, &pb.ReportHoursResponse{Person: "mabel", Logged: 12.25, Stages: []*pb.StageHours{{Stage: "paint", Logged: 12.25}}}, []string{"12.25 h", "Mabel"}, []string{"estimate"}},
		{"all there is", &pb.GetStatusRequest{}, &pb.GetStatusResponse{Job: heronJob(), Stages: []*pb.StageHours{{Stage: "strip", Logged: 71, Estimate: 60}, {Stage: "metal", Logged: 96.5, Estimate: 180}},
			OpenFinds: heronFinds()[:2], Doing: []string{"replace the left sill, Idris"}, LateParts: []string{"door seal set, due 6 Mar"}, WaitingExtras: []string{"2 let in the left rear wing"}},
			[]string{"in metal", "167.5 of 240 h", "replace the left sill", "door seal set"}, []string{"snags"}},
		{"hardly begun", &pb.GetStatusRequest{}, &pb.GetStatusResponse{Job: &pb.Job{Id: "tern", Model: "Tern", Stage: "strip"}}, []string{"strip"}, nil},
		{"the shop", &pb.ListJobsRequest{}, &pb.ListJobsResponse{Jobs: []*pb.JobLine{{Job: heronJob(), Logged: 167.5, Estimate: 690, OpenFinds: 3},
			{Job: &pb.Job{Id: "osmere", Year: 1973, Make: "Osmere", Model: "1500", Stage: "paint", Bay: 3}, Logged: 199, Estimate: 390},
			{Job: &pb.Job{Id: "pilot", Year: 1959, Make: "Delvane", Model: "Pilot", Stage: "mechanical", Bay: 1}, Logged: 259, Estimate: 420, OpenFinds: 1},
			{Job: &pb.Job{Id: "tern", Year: 1981, Make: "Brantwood", Model: "Tern", Stage: "strip", Bay: 4}, Logged: 19, Estimate: 290}}},
			[]string{"heron", "osmere", "pilot", "tern", "metal"}, nil},
		{"empty", &pb.ListJobsRequest{}, &pb.ListJobsResponse{}, []string{"No vehicles"}, nil},
		{"of a panel", &pb.HistoryRequest{}, &pb.HistoryResponse{Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT, Events: []*pb.HistoryEvent{
			{Text: "find 1: hole, left sill, 180 × 60 mm"}, {At: at(10, 15), Person: "idris", Text: "4 h metal", Entry: 41}}}, []string{"Left sill, the heron", "No date", "Tue 10 Mar 2026 10:15, Idris"}, nil},
		{"newest page of several", &pb.HistoryRequest{}, &pb.HistoryResponse{Job: "heron", NextPageToken: "30", Events: []*pb.HistoryEvent{{At: at(10, 15), Person: "idris", Text: "4 h metal", Entry: 41}}}, []string{"The heron:\n… and more\nTue 10 Mar"}, nil},
		{"nothing yet", &pb.HistoryRequest{}, &pb.HistoryResponse{Job: "tern"}, []string{"Nothing on record yet"}, nil},
		{"a book value", &pb.ExplainAnswerRequest{}, &pb.ExplainAnswerResponse{Kind: "LookUpTorque", Basis: &pb.Basis{Inputs: []string{"fastener seat belt anchor", "job osmere"}, Steps: []string{"looked up in the book values of the osmere"}, Sources: []string{"demo manual p. 120"}, Caution: "check the maker's book"}},
			[]string{"demo manual p. 120"}, nil},
		{"who, and no numbers of the ledger", &pb.ExplainAnswerRequest{Origin: now()}, &pb.ExplainAnswerResponse{Kind: "GetStock", Basis: &pb.Basis{
			Sources: []string{"find 6: idris, entry 139", "count by mabel on 2026-03-09, entry 106", "task 2: imported, entries 82, 90", "task 3: imported, entry 91", "task 4: wren, entry 92"}, Assumptions: []string{"0.8 mm wire (common practice, no source); steel 7850 kg/m³", "steel 7850 kg/m³", "each weld is dressed", "8 mm holes (common practice, no source): measure"}, Steps: []string{"due 2026-03-12"},
		}}, []string{"From: find 6: Idris; count by Mabel on Mon 9 Mar; tasks 2 and 3: imported; task 4: Wren.", "Assumed: each weld is dressed.\nCommon practice, no source: 0.8 mm wire; steel 7850 kg/m³; 8 mm holes: measure.", "- due Thu 12 Mar"}, []string{"entr", "139"}},
		{"nothing behind it", &pb.ExplainAnswerRequest{}, &pb.ExplainAnswerResponse{Kind: "Help"}, []string{"no more"}, nil},
		{"all topics", &pb.HelpRequest{}, &pb.HelpResponse{Topics: []*pb.HelpTopic{{Name: "torque", Summary: "how tight", Kinds: []string{"LookUpTorque"}}, {Name: "stock", Summary: "what there is", Kinds: []string{"GetStock", "RecordUse"}}, {Name: "hours", Summary: "who worked how long", Kinds: []string{"LogHours"}}}},
			[]string{"torque: «wheel nut torque on the heron»", "hours: who worked"}, nil},
		{"one topic", &pb.HelpRequest{Topic: "stock"}, &pb.HelpResponse{Topics: []*pb.HelpTopic{{Name: "stock", Summary: "what there is", Kinds: []string{"GetStock", "RecordUse"}}}}, []string{"what's left of the p80s", "two of the tubes"}, nil},
		{"no such topic", &pb.HelpRequest{Topic: "bacon"}, &pb.HelpResponse{UnknownTopic: "bacon", Topics: []*pb.HelpTopic{{Name: "stock", Summary: "what there is", Kinds: []string{"GetStock"}}}}, []string{"nothing under «bacon»", "stock"}, nil},
	}
}
