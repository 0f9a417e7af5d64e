package say_test

import (
	"time"

	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"
)

// now is the origin of a request made at 10:15 that Tuesday.
func now() *pb.Origin { return &pb.Origin{Person: "mabel", SaidAt: at(10, 15)} }

// on is a time on a day of March 2026.
func on(day, hour, minute int) *timestamppb.Timestamp {
	return timestamppb.New(time.Date(2026, 3, day, hour, minute, 0, 0, time.UTC))
}

// The epoxy of the demo shop: flash 20 min, recoat 1 to 72 h, sand after 16 h, pot life 4 h.
func epoxy() *pb.Windows {
	return &pb.Windows{
		Coat:      &pb.Coat{Job: "heron", Material: "epoxy-primer", Name: "epoxy primer", Panels: []string{"bonnet"}, Coats: 2, At: "2026-03-10T09:30", Person: "mabel"},
		FlashedAt: on(10, 9, 50), RecoatFrom: on(10, 10, 30), RecoatUntil: on(13, 9, 30), SandFrom: on(11, 1, 30), PotLifeEnds: on(10, 13, 30), State: "too soon to recoat",
	}
}

func highBuildCoat() *pb.Windows {
	return &pb.Windows{
		Coat:      &pb.Coat{Job: "osmere", Material: "high-build", Name: "high-build primer", Panels: []string{"whole body"}, Coats: 3, At: "2026-03-09T15:30", TemperatureC: proto.Float64(18)},
		FlashedAt: on(9, 15, 40), RecoatFrom: on(9, 15, 48), RecoatUntil: on(10, 15, 30), SandFrom: on(9, 19, 30), PotLifeEnds: on(9, 16, 30), State: "window open", MaySand: true,
	}
}

const isocyanate = "Hardeners of two-pack paint can hold isocyanate: air-fed mask, extraction or booth, covered skin; a filter mask is not enough"

func workedCases() []exchange {
	mask := &pb.Basis{Caution: isocyanate}
	wrench := &pb.Basis{Caution: "The torque itself must come from the maker's book."}
	gauge := &pb.Basis{Caution: "The product's data sheet comes first"}
	return []exchange{
		{"a crowfoot ahead", &pb.AdjustWrenchRequest{TorqueNm: proto.Float64(60), WrenchMm: proto.Float64(300), ExtensionMm: proto.Float64(50)},
			&pb.AdjustWrenchResponse{SettingNm: 360.0 / 7, TorqueLowNm: 56.9, TorqueHighNm: 63.2, Basis: wrench}, []string{"Set 51.4 N·m", "60 N·m (44.3 lbf·ft) at the fastener", "56.9–63.2 N·m", "50 mm extension straight ahead on a 300 mm wrench", "maker's book"}, nil},
		{"at an angle", &pb.AdjustWrenchRequest{TorqueNm: proto.Float64(45), WrenchMm: proto.Float64(350), ExtensionMm: proto.Float64(70), AngleDeg: proto.Float64(90)},
			&pb.AdjustWrenchResponse{SettingNm: 45, TorqueLowNm: 43, TorqueHighNm: 47, Basis: wrench}, []string{"Set 45 N·m", "at 90°"}, []string{"straight"}},
		{"fit", &pb.CheckClimateRequest{}, &pb.CheckClimateResponse{Verdict: pb.ClimateVerdict_CLIMATE_VERDICT_OK, DewPointC: 11.57, MarginC: 8.43, SurfaceNeededC: 14.57, SurfaceC: 20, Basis: gauge},
			[]string{"OK: the metal at 20 °C is 8.4 °C above the dew point, 11.6 °C (14.6 °C would do)"}, []string{"measured"}},
		{"too humid", &pb.CheckClimateRequest{}, &pb.CheckClimateResponse{Verdict: pb.ClimateVerdict_CLIMATE_VERDICT_WAIT, DewPointC: 16.2, MarginC: 4, SurfaceNeededC: 19.2, HumidityOverPct: 3, SurfaceC: 20.2, WithinMeterError: true, Basis: gauge},
			[]string{"Wait: 3 % over the humidity limit", "measure again"}, nil},
		{"too near, nobody measured", &pb.CheckClimateRequest{}, &pb.CheckClimateResponse{Verdict: pb.ClimateVerdict_CLIMATE_VERDICT_NO, DewPointC: 13.51, MarginC: 2.49, SurfaceNeededC: 16.51, SurfaceC: 16, SurfaceAssumed: true, Basis: gauge},
			[]string{"No: ", "13.5 °C", "it needs 16.6 °C", "Nobody measured the metal"}, []string{"needs 16.5"}},
		{"below the dew point", &pb.CheckClimateRequest{}, &pb.CheckClimateResponse{Verdict: pb.ClimateVerdict_CLIMATE_VERDICT_NO, DewPointC: 10.08, MarginC: -2.08, SurfaceNeededC: 13.08, HumidityOverPct: 3, SurfaceC: 8, Basis: gauge},
			[]string{"No: the metal at 8 °C is 2.1 °C below the dew point", "Also 3 % over"}, nil},
		{"by the drop", &pb.SizeCableRequest{Amps: proto.Float64(20), LengthM: proto.Float64(3)}, &pb.SizeCableResponse{AreaMm2: 4, Awg: "10 AWG", DropV: 0.297, DropPct: 2.48, NextMm2: 6, NextDropV: 0.198, FuseA: 25, RatingA: 35, TwoWireMm2: 10, LimitedBy: "the drop",
			Basis: &pb.Basis{Assumptions: []string{"12 V", "insulation for at least 70 °C", "a drop of 3 %, as for lighting (common practice, no source)"}, Caution: "Fit the fuse at the source: it protects the wire"}},
			[]string{"4 mm² (10 AWG)", "20 A over 3 m", "0.297 V (2.48 %)", "Fuse 25 A", "coming back instead: 10 mm²", "a drop of 3 %"}, []string{"insulation"}},
		{"end of the table", &pb.SizeCableRequest{Amps: proto.Float64(300), LengthM: proto.Float64(5)}, &pb.SizeCableResponse{AreaMm2: 120, DropV: 0.3, DropPct: 2.5, RatingA: 310, LimitedBy: "the current"}, []string{"120 mm²", "No common fuse", "beyond my table"}, []string{"AWG", "Next size", "Fuse 0"}},
		{"revs at a speed", &pb.RoadSpeedRequest{SpeedMph: proto.Float64(60), Tyre: "175/65r14", FinalDrive: proto.Float64(4.1), GearRatio: proto.Float64(0.8)},
			&pb.RoadSpeedResponse{Rpm: 2935, RpmLow: 2880, RpmHigh: 2990, SpeedMph: 60, SpeedLowMph: 60, SpeedHighMph: 60, SpeedKph: 96.56, MphPer_1000: 20.44, Basis: &pb.Basis{Assumptions: []string{"no slip in clutch, coupling or tyre"}}},
			[]string{"2935 rpm at 60 mph (96.6 km/h), range 2880–2990.", "175/65r14, 4.1 axle, 0.8 gear: 20.4 mph per 1,000 rpm", "no slip"}, nil},
		{"speed at revs", &pb.RoadSpeedRequest{Rpm: proto.Float64(3000), Tyre: "185/70r14", FinalDrive: proto.Float64(4.3)},
			&pb.RoadSpeedResponse{Rpm: 3000, RpmLow: 3000, RpmHigh: 3000, SpeedMph: 48.9, SpeedLowMph: 48, SpeedHighMph: 49.8, SpeedKph: 78.7, MphPer_1000: 16.3}, []string{"48.9 mph (78.7 km/h) at 3000 rpm, range 48–49.8 mph", "1 gear"}, nil},
		{"asked in km/h", &pb.RoadSpeedRequest{SpeedKph: proto.Float64(100)}, &pb.RoadSpeedResponse{Rpm: 3100, RpmLow: 3100, RpmHigh: 3100, SpeedMph: 62.1, SpeedKph: 100}, []string{"3100 rpm at 100 km/h (62.1 mph)."}, nil},
		{"torque", &pb.ConvertRequest{Value: proto.Float64(80), From: "nm", To: "lbf_ft"}, &pb.ConvertResponse{Value: 59.005}, []string{"80 N·m = 59 lbf·ft"}, nil},
		{"pints", &pb.ConvertRequest{Value: proto.Float64(2), From: "pint_uk", To: "l"}, &pb.ConvertResponse{Value: 1.13652}, []string{"2 imperial pints = 1.14 L"}, nil},
		{"thou", &pb.ConvertRequest{Value: proto.Float64(60), From: "thou", To: "mm"}, &pb.ConvertResponse{Value: 1.524}, []string{"60 thou = 1.52 mm"}, nil},
		{"by its total", &pb.PlanMixRequest{}, &pb.PlanMixResponse{Material: "epoxy-primer", Name: "epoxy primer", Ratio: "2:1", TotalL: 0.9, PotLifeMin: 240, Basis: mask,
			Parts: []*pb.MixPart{{Material: "epoxy-primer", Name: "epoxy primer", AmountL: 0.6, OnHandL: 3.2}, {Material: "epoxy-hardener", Name: "epoxy hardener", AmountL: 0.3, OnHandL: 1.4}}},
			[]string{"600 ml epoxy primer + 300 ml epoxy hardener = 900 ml, 2:1 by volume", "Pot life 4 h", "isocyanate"}, []string{"Short"}},
		{"by panels, short", &pb.PlanMixRequest{Panels: []string{"bonnet", "roof"}, Coats: proto.Uint32(2)}, &pb.PlanMixResponse{Name: "high-build primer", Ratio: "4:1:0.5", TotalL: 2.2, LowL: 1.65, PotLifeMin: 60, Basis: mask,
			Parts: []*pb.MixPart{{Name: "high-build primer", AmountL: 1.6, OnHandL: 1.1, ShortL: 0.5}, {Name: "primer hardener", AmountL: 0.4, OnHandL: 0.9}, {Name: "thinner", AmountL: 0.2, OnHandL: 7.5}}},
			[]string{"1.6 L high-build primer + 400 ml primer hardener + 200 ml thinner = 2.2 L", "2 coats on the bonnet and roof", "If little is lost, 1.65 L does", "Short: 500 ml high-build primer (1.1 L there)", "60 min"}, nil},
		{"plenty", &pb.CheckEnoughRequest{Job: "osmere", Panels: []string{"whole body"}, Coats: proto.Uint32(3)}, &pb.CheckEnoughResponse{Enough: pb.Enough_ENOUGH_YES, Name: "clearcoat", NeedLowL: 2.76, NeedHighL: 4.14, AreaM2: 11.5, CoatsPossible: 5, Basis: mask,
			Parts: []*pb.MixPart{{Name: "clearcoat", AmountL: 2.76, OnHandL: 6}, {Name: "clear hardener", AmountL: 1.38, OnHandL: 2.6}}},
			[]string{"Yes: 2.76 L to 4.14 L ready to spray for 3 coats of clearcoat on the whole body, the osmere (11.5 m²)", "1.38 L clear hardener (2.6 L there)", "does 5 coats"}, []string{"short"}},
		{"only just", &pb.CheckEnoughRequest{Panels: []string{"bonnet"}, Coats: proto.Uint32(1)}, &pb.CheckEnoughResponse{Enough: pb.Enough_ENOUGH_TIGHT, Name: "clearcoat", NeedLowL: 0.5, NeedHighL: 0.7, AreaM2: 1.25, CoatsPossible: 1, Parts: []*pb.MixPart{{Name: "clearcoat", AmountL: 0.47, OnHandL: 0.4, ShortL: 0.07}},
			Basis: &pb.Basis{Assumptions: []string{"what other jobs' planned coats take is not counted as there"}}},
			[]string{"Only if little is lost: 500 ml to 700 ml", "1 coat of clearcoat", "470 ml clearcoat (400 ml there, 70 ml short)", "other jobs"}, nil},
		{"none of it", &pb.CheckEnoughRequest{Job: "tern", Panels: []string{"bonnet", "roof"}, Coats: proto.Uint32(2)}, &pb.CheckEnoughResponse{Enough: pb.Enough_ENOUGH_NO, Name: "high-build primer", NeedLowL: 1.65, NeedHighL: 2.2, AreaM2: 2.95}, []string{"No: 1.65 L to 2.2 L", "2 coats of high-build primer", "not enough for one coat"}, nil},
		{"two coats", &pb.RecordCoatRequest{Origin: now()}, &pb.RecordCoatResponse{Receipt: receipt(), Windows: epoxy()},
			[]string{"2 coats of epoxy primer on the bonnet, the heron, 09:30.", "Recoat 10:30 to Fri 13 Mar 09:30", "sand from Wed 11 Mar 01:30", "mix good until 13:30"}, []string{"lashed"}},
		{"just finished, with a caution", &pb.RecordCoatRequest{Origin: now()}, &pb.RecordCoatResponse{Receipt: receipt("the recoat window of the coat below had closed"), Caution: isocyanate, Windows: &pb.Windows{
			Coat: &pb.Coat{Job: "osmere", Material: "clearcoat", Name: "clearcoat", Panels: []string{"roof"}, Coats: 1, At: "2026-03-10T10:15"}, FlashedAt: on(10, 10, 25), RecoatFrom: on(10, 10, 27), RecoatUntil: on(11, 10, 15), SandFrom: on(10, 22, 15)}},
			[]string{"1 coat of clearcoat on the roof", "Flashed off 10:25", "sand from 22:15", "had closed", "isocyanate"}, nil},
		{"no times named", &pb.RecordCoatRequest{Origin: now()}, &pb.RecordCoatResponse{Receipt: receipt(), Windows: &pb.Windows{Coat: &pb.Coat{Job: "pilot", Material: "cavity-wax", Name: "cavity wax", Panels: []string{"sill"}, Coats: 1, At: "2026-03-10T10:00"}}}, []string{"names no times"}, nil},
		{"on all", &pb.ListWindowsRequest{Origin: now()}, &pb.ListWindowsResponse{Windows: []*pb.Windows{epoxy(), highBuildCoat()}, Basis: &pb.Basis{
			Assumptions: []string{"the latest coat of each material", "high-build primer on whole body: at 18 °C it is likely to dry somewhat slower"}, Caution: "The product's sheet comes first"}},
			[]string{"too soon to recoat. Recoat 10:30", "3 coats of high-build primer on the whole body, the osmere, Mon 9 Mar 15:30, 18 °C: window open", "Recoat until 15:30", "eady to sand since Mon 9 Mar 19:30", "somewhat slower"}, []string{"the latest coat of"}},
		{"window past", &pb.ListWindowsRequest{Origin: &pb.Origin{SaidAt: on(11, 9, 0)}}, &pb.ListWindowsResponse{Job: "osmere", Windows: []*pb.Windows{{Coat: highBuildCoat().Coat, RecoatUntil: on(10, 15, 30), SandFrom: on(9, 19, 30), State: "window past", MaySand: true}}},
			[]string{"window past", "Recoat window closed Tue 10 Mar 15:30, sand first"}, nil},
		{"none", &pb.ListWindowsRequest{}, &pb.ListWindowsResponse{Job: "tern"}, []string{"No coats on record on the tern yet"}, nil},
		{"moves that make it better", &pb.SolveFitRequest{}, leftDoor(), []string{"Left door on the heron: this makes it better, not right.", "Upper hinge 1.2 mm forward", "metal, not hinges", "travel was not said"}, []string{"rigid"}},
		{"nothing measured", &pb.SolveFitRequest{}, &pb.SolveFitResponse{Status: pb.FitStatus_FIT_STATUS_MEASURE, Job: "heron", Panel: "door", Side: pb.Side_SIDE_RIGHT, Lines: []string{"Nothing is measured yet.", "Measure the front and the rear edge, top to bottom."}},
			[]string{"Right door on the heron: measure first", "Measure the front"}, nil},
		{"coats", &pb.AmendRequest{Origin: now()}, &pb.AmendResponse{Receipt: receipt(), Changes: []string{"coats 2 -> 3", "at 2026-03-10T09:00 -> 2026-03-10T09:30"}, Now: &pb.Outcome{Outcome: &pb.Outcome_Coat{Coat: &pb.RecordCoatResponse{Windows: epoxy()}}}},
			[]string{"coats 2 → 3", "time Tue 10 Mar 09:00 → Tue 10 Mar 09:30", "epoxy primer on the bonnet", "sand from Wed 11 Mar 01:30"}, nil},
		{"a coat", &pb.UndoRequest{Origin: now()}, undone(&pb.Outcome{Outcome: &pb.Outcome_Coat{Coat: &pb.RecordCoatResponse{Windows: epoxy()}}}), []string{"Taken back: 2 coats of epoxy primer on the bonnet, the heron, 09:30."}, nil},
	}
}

func leftDoor() *pb.SolveFitResponse {
	return &pb.SolveFitResponse{
		Status: pb.FitStatus_FIT_STATUS_BETTER, Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, LengthMm: 1080, HeightMm: 620,
		Lines: []string{"Upper hinge 1.2 mm forward, lower hinge 0.4 mm back, both up 0.8 mm.", "Gaps after that: rear 3.8 to 4.3.", "Stays: bottom edge, front end, 1.1 mm too tight: that is metal, not hinges."},
		Edges: []*pb.FitEdge{{Edge: pb.Edge_EDGE_REAR, BeforeMm: []float64{3.5, 4, 5}, AfterMm: []float64{3.8, 4, 4.3}, TargetMm: 4, ToleranceMm: 0.5}},
		Basis: &pb.Basis{Assumptions: []string{"the panel is a rigid rectangle", "travel was not said: 5 mm each way taken"}, Caution: "Support the door before you loosen a hinge"},
	}
}
