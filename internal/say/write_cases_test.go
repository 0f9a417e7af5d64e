package say_test

import (
	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
)

func stockCases() []exchange {
	return []exchange{
		{"enough", &pb.GetStockRequest{}, &pb.GetStockResponse{Stock: &pb.Stock{Material: "epoxy-primer", Name: "epoxy primer", Unit: "L", Pack: 4, OnHand: 3.2, ReorderAt: 2, Batch: "4471", Expires: "2026-09-01"}, Basis: &pb.Basis{Sources: []string{"opening count"}}},
			[]string{"3.2 L epoxy primer", "Batch 4471", "1 Sep 2026"}, []string{"Low"}},
		{"low, by area", &pb.GetStockRequest{}, &pb.GetStockResponse{Stock: steel(1)}, []string{"1 m² of 1.2 mm steel sheet", "Low"}, nil},
		{"some", &pb.ListLowStockRequest{}, &pb.ListLowStockResponse{Stocks: []*pb.Stock{highBuild(1.1), steel(1),
			{Name: "cavity wax", Unit: "L", Pack: 5, OnHand: 2.5, ReorderAt: 5, Low: true}, {Name: "P320 sheets", Unit: "each", Pack: 50, OnHand: 22, ReorderAt: 25, Low: true}}},
			[]string{"high-build primer", "1.2 mm steel sheet", "P320 sheets: 22 left", "cavity wax"}, nil},
		{"more than a page", &pb.ListLowStockRequest{}, &pb.ListLowStockResponse{Stocks: []*pb.Stock{highBuild(1.1)}, NextPageToken: "1"}, []string{"… and more"}, nil},
		{"none", &pb.ListLowStockRequest{}, &pb.ListLowStockResponse{}, []string{"Nothing is low"}, nil},
		{"on a vehicle", &pb.RecordUseRequest{}, use(), []string{"0.5 L clearcoat used on the osmere, 5.5 L left"}, []string{"Low"}},
		{"on none, now low", &pb.RecordUseRequest{}, &pb.RecordUseResponse{Receipt: receipt(), Stock: sealer(3), Amount: 4}, []string{"4 seam sealer used, 3 left", "Low: reorder at 4"}, []string{" on the"}},
		{"without float noise", &pb.RecordUseRequest{}, &pb.RecordUseResponse{Receipt: receipt(), Stock: clear(6 - 0.1 - 0.1 - 0.1), Amount: 0.1}, []string{"0.1 L clearcoat used, 5.7 L left"}, nil},
		{"only checked", &pb.RecordUseRequest{ValidateOnly: true}, use(), []string{"nothing recorded yet"}, nil},
		{"with batch", &pb.RecordDeliveryRequest{}, &pb.RecordDeliveryResponse{Receipt: receipt(), Stock: func() *pb.Stock { s := highBuild(9.1); s.Batch, s.Expires = "4471", "2026-09-01"; return s }(), Amount: 8}, []string{"8 L high-build primer in", "9.1 L on the shelf", "batch 4471"}, nil},
		{"short", &pb.RecordCountRequest{}, &pb.RecordCountResponse{Receipt: receipt(), Stock: discs(38), Expected: 64}, []string{"38 P80 discs counted", "Expected 64: 26 short"}, nil},
		{"over", &pb.RecordCountRequest{}, &pb.RecordCountResponse{Receipt: receipt(), Stock: clear(6.5), Expected: 6}, []string{"0.5 L over"}, nil},
		{"agrees", &pb.RecordCountRequest{}, &pb.RecordCountResponse{Receipt: receipt(), Stock: clear(5.7), Expected: 6 - 0.1 - 0.1 - 0.1}, []string{"it agrees"}, nil},
		{"with reason", &pb.RecordWasteRequest{}, &pb.RecordWasteResponse{Receipt: receipt(), Stock: highBuild(0.8), Amount: 0.3, Why: "went off"}, []string{"0.3 L high-build primer binned (went off), 0.8 L left"}, nil},
		{"added", &pb.AddMaterialRequest{}, &pb.AddMaterialResponse{Receipt: receipt(), Stock: &pb.Stock{Material: "zinc-primer", Name: "zinc primer", Unit: "kg", Pack: 2, OnHand: 4, ReorderAt: 2}}, []string{"zinc primer (zinc-primer)", "4 kg"}, nil},
	}
}

func recordCases() []exchange {
	longNote := ""
	for range 80 {
		longNote += "sealer under the scuttle\n"
	}
	return []exchange{
		{"as the book has it", &pb.RecordTorqueRequest{}, &pb.RecordTorqueResponse{Receipt: receipt(), SignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "wheel nut", TorqueNm: 81, Count: proto.Uint32(5), Person: "tomasz"}, Reference: wheelNut()},
			[]string{"81 N·m (59.7 lbf·ft) × 5, Tomasz", "demo manual p. 12"}, []string{"over", "under"}},
		{"off the book", &pb.RecordTorqueRequest{}, &pb.RecordTorqueResponse{Receipt: receipt("The book value is 81 N·m (demo manual p. 12): 77 N·m is 5 % under it."), SignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "wheel nut", TorqueNm: 77, Person: "tomasz"}, Reference: wheelNut()},
			[]string{"5 % under it"}, nil},
		{"no book value", &pb.RecordTorqueRequest{}, &pb.RecordTorqueResponse{Receipt: receipt("No book value is on record for this: check it in the maker's manual."), SignOff: &pb.TorqueSignOff{Job: "tern", Fastener: "alternator bolt", TorqueNm: 25, Person: "wren"}}, []string{"No book value", "25 N·m"}, nil},
		{"replacing one", &pb.SetTorqueRequest{}, &pb.SetTorqueResponse{Receipt: receipt(), Reference: &pb.TorqueReference{Job: "heron", Fastener: "wheel nut", TorqueNm: 85, Source: "demo manual p. 13", SetBy: "wren", SetAt: at(10, 15), SafetyCritical: true}, Replaced: wheelNut()},
			[]string{"85 N·m", "Was 81 N·m", "p. 12", "Safety-critical"}, nil},
		{"new, no source", &pb.SetTorqueRequest{}, &pb.SetTorqueResponse{Receipt: receipt(), Reference: &pb.TorqueReference{Job: "pilot", Fastener: "diff bolt", TorqueNm: 61}}, []string{"61 N·m", "No source named"}, nil},
		{"some out", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: reading([]float64{3.5, 4, 4.5, 5}, nil), Reference: rearEdge()},
			[]string{"Left door, rear edge on the heron: 3.5, 4, 4.5, 5 mm (top to bottom)", "4th 5 mm is 0.5 mm too wide", "4 ± 0.5 mm"}, nil},
		{"all in, on the limit", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: reading([]float64{3.5, 4.5}, []float64{0.1 + 0.4, -0.5}), Reference: rearEdge()}, []string{"In tolerance"}, []string{"Out"}},
		{"across the bonnet", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: along("bonnet", 0, pb.Edge_EDGE_REAR)}, []string{"Bonnet, rear edge on the heron: 5, 5.5 mm (left to right)"}, nil},
		{"the bonnet's side", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: along("bonnet", pb.Side_SIDE_LEFT, 0)}, []string{"Bonnet, left edge on the heron: 5, 5.5 mm (front to rear)"}, nil},
		{"below a tailgate", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: along("tailgate", 0, pb.Edge_EDGE_BOTTOM)}, []string{"(left to right)"}, nil},
		{"the tailgate's side", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: along("tailgate", pb.Side_SIDE_RIGHT, 0)}, []string{"Tailgate, right edge on the heron: 5, 5.5 mm (top to bottom)"}, nil},
		{"behind a boot lid", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: along("boot lid", 0, pb.Edge_EDGE_FRONT)}, []string{"(left to right)"}, nil},
		{"below a door", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: along("door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_BOTTOM)}, []string{"(front to rear)"}, nil},
		{"no target", &pb.RecordGapRequest{}, &pb.RecordGapResponse{Receipt: receipt(), Reading: reading([]float64{19.05}, nil)}, []string{"19.05 mm", "No target"}, nil},
		{"shop-wide, replacing", &pb.SetGapRequest{}, &pb.SetGapResponse{Receipt: receipt(), Reference: &pb.GapReference{Panel: "bonnet", TargetMm: 5, ToleranceMm: 0.5, Source: "said by Wren", SetBy: "wren", SetAt: at(10, 15)}, Replaced: &pb.GapReference{Panel: "bonnet", TargetMm: 5, ToleranceMm: 1, FlushToleranceMm: 1, Source: "shop standard"}},
			[]string{"5 ± 0.5 mm", "Was 5 ± 1 mm"}, nil},
		{"structural", &pb.RecordFindRequest{}, &pb.RecordFindResponse{Receipt: receipt(), Find: sillHole(), Caution: "Structural: brace the shell before you cut"},
			[]string{"Find 5 on the heron: hole, left sill, 120 × 40 mm.", "Structural"}, nil},
		{"a crack, deep", &pb.RecordFindRequest{}, &pb.RecordFindResponse{Receipt: receipt(), Find: &pb.Find{Number: 6, Job: "tern", Panel: "door", Side: pb.Side_SIDE_RIGHT, End: pb.End_END_FRONT, Kind: pb.FindKind_FIND_KIND_CRACK, WidthMm: proto.Float64(60), DepthMm: proto.Float64(1.5), Count: proto.Uint32(2)}},
			[]string{"crack, right front door, 60 mm long, 1.5 mm deep, 2 of them"}, nil},
		{"one end", &pb.RecordFindRequest{}, &pb.RecordFindResponse{Receipt: receipt(), Find: &pb.Find{Number: 7, Job: "tern", Panel: "floor", Side: pb.Side_SIDE_LEFT, End: pb.End_END_REAR, Kind: pb.FindKind_FIND_KIND_RUST}}, []string{"rust, left floor, rear end."}, nil},
		{"some left", &pb.CloseFindRequest{}, &pb.CloseFindResponse{Receipt: receipt(), Find: heronFinds()[0], StillOpen: 2, Caution: "the sill is structural: have it looked at"}, []string{"Find 1 on the heron repaired", "2 still open.\nThe sill is structural: have it looked at."}, nil},
		{"the last", &pb.CloseFindRequest{}, &pb.CloseFindResponse{Receipt: receipt(), Find: heronFinds()[2]}, []string{"None left open"}, nil},
		{"one person", &pb.LogHoursRequest{}, heronHours(100.5), []string{"4 h metal on the heron, Idris, Tue 10 Mar: metal now 100.5 of 180 h"}, nil},
		{"two on a task, over", &pb.LogHoursRequest{}, &pb.LogHoursResponse{Receipt: receipt("metal is past its estimate"), Job: "osmere", People: []string{"wren", "jonah"}, Hours: 3.5, Day: "2026-03-09", Task: "7 block the high build", Stage: &pb.StageHours{Stage: "paint", Logged: 144, Estimate: 140}},
			[]string{"3.5 h each on task 7", "Wren and Jonah", "Mon 9 Mar", "144 of 140 h, 4 over"}, nil},
		{"taken in", &pb.CreateJobRequest{}, &pb.CreateJobResponse{Receipt: receipt(), Job: &pb.Job{Id: "siskin", Year: 1968, Make: "Quillon", Model: "Siskin", Body: "saloon", Drive: "lhd", Customer: "Mr Ode", Stage: "strip"}}, []string{"siskin", "1968 Quillon Siskin", "left-hand drive"}, nil},
		{"at a panel", &pb.AddNoteRequest{}, &pb.AddNoteResponse{Receipt: receipt(), Note: &pb.Note{Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Text: "hinge pins are original,\nkeep them\x1b[31m"}}, []string{"left door", "hinge pins are original, keep them"}, []string{"\x1b"}},
		{"long", &pb.AddNoteRequest{}, &pb.AddNoteResponse{Receipt: receipt(), Note: &pb.Note{Text: longNote}}, []string{"…"}, nil},
		{"an amount", &pb.AmendRequest{}, &pb.AmendResponse{Receipt: receipt(), Changes: []string{"amount 0.5 -> 2"}, Now: &pb.Outcome{Outcome: &pb.Outcome_Use{Use: &pb.RecordUseResponse{Stock: clear(4), Amount: 2, Job: "osmere"}}}},
			[]string{"amount 0.5 → 2", "2 L clearcoat used on the osmere, 4 L left", "Low"}, nil},
		{"sizes", &pb.AmendRequest{}, &pb.AmendResponse{Receipt: receipt(), Changes: []string{"width_mm 120 -> 150", "side left -> right"}, Now: &pb.Outcome{Outcome: &pb.Outcome_Find{Find: &pb.RecordFindResponse{Find: sillHole()}}}}, []string{"width 120 → 150; side left → right", "Find 5"}, nil},
		{"a use", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Use{Use: &pb.RecordUseResponse{Stock: sealer(7), Amount: 2}}}), []string{"2 seam sealer used", "7 left"}, nil},
		{"a delivery", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Delivery{Delivery: &pb.RecordDeliveryResponse{Stock: highBuild(1.1), Amount: 8}}}), []string{"8 L", "1.1 L left"}, nil},
		{"a count", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Counted{Counted: &pb.RecordCountResponse{Stock: discs(64)}}}), []string{"P80 discs", "64 left"}, nil},
		{"waste", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Waste{Waste: &pb.RecordWasteResponse{Stock: highBuild(1.1), Amount: 0.3}}}), []string{"1.1 L left"}, nil},
		{"hours", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Hours{Hours: &pb.LogHoursResponse{Job: "heron", People: []string{"idris"}, Hours: 4, Day: "2026-03-10", Stage: &pb.StageHours{Stage: "metal", Logged: 96.5, Estimate: 180}}}}), []string{"4 h metal", "Metal now 96.5 of 180 h"}, nil},
		{"a find", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Find{Find: &pb.RecordFindResponse{Find: sillHole()}}}), []string{"find 5 on the heron"}, nil},
		{"a closing", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_ClosedFind{ClosedFind: &pb.CloseFindResponse{Find: heronFinds()[0], StillOpen: 3}}}), []string{"3 still open"}, nil},
		{"a sign-off", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Torque{Torque: &pb.RecordTorqueResponse{SignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "wheel nut", TorqueNm: 81, Person: "tomasz"}}}}), []string{"sign-off of wheel nut on the heron"}, nil},
		{"a book value", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_SetTorque{SetTorque: &pb.SetTorqueResponse{Reference: &pb.TorqueReference{Job: "heron", Fastener: "wheel nut", TorqueNm: 85}, Replaced: wheelNut()}}}), []string{"Back to 81 N·m"}, nil},
		{"a first target", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_SetGap{SetGap: &pb.SetGapResponse{Reference: rearEdge()}}}), []string{"Nothing on record there now"}, nil},
		{"a reading", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Gap{Gap: &pb.RecordGapResponse{Reading: reading([]float64{4}, nil)}}}), []string{"left door, rear edge"}, nil},
		{"a note", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_Note{Note: &pb.AddNoteResponse{Note: &pb.Note{Job: "heron", Text: "keep it"}}}}), []string{"note on the heron"}, nil},
		{"a vehicle", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_CreatedJob{CreatedJob: &pb.CreateJobResponse{Job: &pb.Job{Id: "siskin", Model: "Siskin"}}}}), []string{"siskin"}, nil},
		{"a material", &pb.UndoRequest{}, undone(&pb.Outcome{Outcome: &pb.Outcome_AddedMaterial{AddedMaterial: &pb.AddMaterialResponse{Stock: steel(0)}}}), []string{"1.2 mm steel sheet"}, nil},
	}
}

// along is what was read in two places along an edge.
func along(panel string, side pb.Side, edge pb.Edge) *pb.GapReading {
	return &pb.GapReading{Job: "heron", Panel: panel, Side: side, Edge: edge, GapMm: []float64{5, 5.5}, Person: "idris", At: at(10, 15)}
}

func undone(o *pb.Outcome) *pb.UndoResponse {
	return &pb.UndoResponse{Receipt: receipt(), Undone: o}
}
