package say_test

import (
	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
)

// wingExtra is extra 2 of the heron: 22 h at £52 and a panel at £410.
func wingExtra(state pb.ExtraState) *pb.Extra {
	return &pb.Extra{Number: 2, Job: "heron", Text: "let in the left rear wing", Hours: 22, PartsCost: 410, LabourRate: 52, Price: 1554, State: state, Finds: []uint32{2}, HoursFrom: "said"}
}

func squeak(state pb.SnagState) *pb.Snag {
	return &pb.Snag{Number: 1, Job: "pilot", Text: "clutch pedal squeaks", State: state}
}

func roofReminder() *pb.Reminder {
	return &pb.Reminder{At: "2026-03-10T16:00", Text: "turn the roof panel", Channel: "bay-3", Person: "mabel", Entry: 41}
}

func briefLines() []*pb.BriefLine {
	return []*pb.BriefLine{
		{Number: 1, Text: "Body straight enough for dark green solid colour"},
		{Number: 2, Text: "Keep the original seats, retrimmed in oxblood hide"},
		{Number: 3, Text: "Disc brakes at the front", Met: true, How: "four-pot calipers, bled and bedded in", MetBy: "tomasz"},
		{Number: 4, Text: "Overdrive that works on third and top"},
	}
}

func moneyCases() []exchange {
	const proposed, agreed, declined = pb.ExtraState_EXTRA_STATE_PROPOSED, pb.ExtraState_EXTRA_STATE_AGREED, pb.ExtraState_EXTRA_STATE_DECLINED
	return []exchange{
		{"hours and parts", &pb.ProposeExtraRequest{}, &pb.ProposeExtraResponse{Receipt: receipt(), Currency: "GBP", Extra: wingExtra(proposed)},
			[]string{"Extra 2 on the heron: let in the left rear wing, £1,554.", "22 h × £52 + £410 parts = £1,554.", "For find 2.", "Waiting for the customer."}, []string{"Hours from"}},
		{"advised for finds", &pb.ProposeExtraRequest{}, &pb.ProposeExtraResponse{Receipt: receipt(), Currency: "EUR", Basis: &pb.Basis{Caution: "Structural: brace the shell before you cut"},
			Extra: &pb.Extra{Number: 3, Job: "osmere", Text: "hole, right floor", Hours: 6.25, LabourRate: 52, MaterialsCost: 31.5, Price: 356.5, Finds: []uint32{4, 7}, State: proposed, HoursFrom: "the advice on the right floor"}},
			[]string{"€356.50", "6.25 h × €52 + €31.50 materials = €356.50.", "For finds 4 and 7. Hours from: the advice on the right floor.", "brace"}, nil},
		{"agreed", &pb.DecideExtraRequest{}, &pb.DecideExtraResponse{Receipt: receipt(), Currency: "GBP", Extra: wingExtra(agreed), AgreedExtras: 2074}, []string{"Agreed: extra 2 on the heron: let in the left rear wing, £1,554.", "Agreed extras on the heron: £2,074."}, nil},
		{"declined", &pb.DecideExtraRequest{}, &pb.DecideExtraResponse{Receipt: receipt(), Currency: "GBP", Extra: wingExtra(declined), AgreedExtras: 12480}, []string{"Declined: extra 2", "£12,480"}, nil},
		{"of a job", &pb.ListExtrasRequest{Job: "heron"}, &pb.ListExtrasResponse{Currency: "GBP", Total: 2, Extras: []*pb.Extra{
			{Number: 1, Job: "heron", Text: "replace left sill rather than patch", Hours: 10, LabourRate: 52, Price: 520, State: agreed, Finds: []uint32{1, 3}, History: []*pb.ExtraStep{{State: proposed}, {State: agreed, Person: "wren", At: at(9, 0)}}}, wingExtra(proposed)}},
			[]string{"2 extras on the heron:\n1. replace left sill rather than patch: £520, agreed, Wren, 10 Mar 2026, finds 1 and 3\n2. let in the left rear wing: £1,554, waiting, find 2"}, nil},
		{"waiting, all jobs", &pb.ListExtrasRequest{State: proposed}, &pb.ListExtrasResponse{Currency: "GBP", Total: 1, Extras: []*pb.Extra{wingExtra(proposed)}}, []string{"1 extra waiting:\n2. let in the left rear wing, the heron: £1,554, find 2"}, nil},
		{"none declined", &pb.ListExtrasRequest{Job: "tern", State: declined}, &pb.ListExtrasResponse{}, []string{"No extras declined on the tern."}, nil},
		{"of a job", &pb.ReportMoneyRequest{}, heronMoney(), []string{"The heron, £8,806 spent of £36,400 agreed, £410 on order, £28,262 to come, so £1,078 over.\nLabour at £52 an hour: strip £3,692 of £3,120, £572 over; metal £5,018 of £9,880.\nNot begun: paint £8,320.\nParts that came £96, £506 of parts are in no agreed extra.\nWaiting for the customer (1): extra 2 let in the left rear wing, £1,554."}, nil},
		{"no estimate", &pb.ReportMoneyRequest{}, &pb.ReportMoneyResponse{Job: "tern", Currency: "GBP", Agreed: 364, Spent: 2808, ToCome: 364, LabourRate: 52,
			Stages: []*pb.StageMoney{{Stage: "strip", Agreed: 364, Spent: 2652, ToCome: 364}, {Stage: "paint", Spent: 156}}},
			[]string{"The tern, £2,808 spent, no estimate on record, £364 of extras agreed, £364 to come.\nLabour at £52 an hour: strip £2,652, £364 of agreed extras; paint £156."}, []string{"over"}},
		{"nothing yet", &pb.ReportMoneyRequest{}, &pb.ReportMoneyResponse{Job: "tern", Currency: "USD"}, []string{"The tern, $0 spent of $0 agreed, $0 to come."}, nil},
	}
}

func heronMoney() *pb.ReportMoneyResponse {
	return &pb.ReportMoneyResponse{
		Job: "heron", Currency: "GBP", Agreed: 36400, Spent: 8806, ToCome: 28262, Parts: 96, OnOrder: 410, Heading: 37478, UnagreedParts: 506, LabourRate: 52, Waiting: []*pb.Extra{wingExtra(pb.ExtraState_EXTRA_STATE_PROPOSED)},
		Stages: []*pb.StageMoney{{Stage: "strip", Agreed: 3120, Spent: 3692, EstimateHours: 60}, {Stage: "metal", Agreed: 9880, Spent: 5018, ToCome: 4862, EstimateHours: 180}, {Stage: "paint", Agreed: 8320, ToCome: 8320, EstimateHours: 160}},
	}
}

func shopCases() []exchange {
	const open, closed = pb.SnagState_SNAG_STATE_OPEN, pb.SnagState_SNAG_STATE_CLOSED
	return []exchange{
		{"a wish", &pb.AddBriefRequest{}, &pb.AddBriefResponse{Receipt: receipt(), Job: "heron", Line: &pb.BriefLine{Number: 5, Text: "heated rear screen"}}, []string{"Brief of the heron, line 5: “heated rear screen”"}, nil},
		{"one met", &pb.MeetBriefRequest{}, &pb.MeetBriefResponse{Receipt: receipt(), Job: "heron", Line: briefLines()[2], StillOpen: 3}, []string{"Brief of the heron, line 3 met: “Disc brakes at the front”.", "How: four-pot calipers, bled and bedded in.", "3 lines still to be met."}, nil},
		{"the last", &pb.MeetBriefRequest{}, &pb.MeetBriefResponse{Receipt: receipt(), Job: "heron", Line: &pb.BriefLine{Number: 1, Text: "straight"}}, []string{"All lines are met."}, []string{"How"}},
		{"some met", &pb.GetBriefRequest{}, &pb.GetBriefResponse{Job: "heron", Customer: "Mrs Adeyemi", Lines: briefLines()}, []string{"Brief of the heron, for Mrs Adeyemi, 1 of 4 met:\n1. Body straight", "2. Keep the original seats, retrimmed in oxblood hide", "3. ✓ Disc brakes at the front: four-pot calipers"}, nil},
		{"empty", &pb.GetBriefRequest{}, &pb.GetBriefResponse{Job: "tern"}, []string{"Brief of the tern: nothing in it yet."}, nil},
		{"harmless", &pb.AddSnagRequest{}, &pb.AddSnagResponse{Receipt: receipt(), Snag: &pb.Snag{Number: 2, Job: "osmere", Text: "passenger window rattles"}}, []string{"Snag 2 on the osmere: passenger window rattles."}, nil},
		{"that can hurt", &pb.AddSnagRequest{}, &pb.AddSnagResponse{Receipt: receipt(), Snag: &pb.Snag{Number: 3, Job: "pilot", Text: "brake pedal goes soft"}, Caution: "Brakes: not to be driven until this is put right and checked"}, []string{"Brakes: not to be driven"}, nil},
		{"some left", &pb.CloseSnagRequest{}, &pb.CloseSnagResponse{Receipt: receipt(), Snag: squeak(closed), StillOpen: 2}, []string{"Snag 1 on the pilot put right: clutch pedal squeaks. 2 still open."}, nil},
		{"what could hurt", &pb.CloseSnagRequest{}, &pb.CloseSnagResponse{Receipt: receipt(), Snag: &pb.Snag{Number: 4, Job: "tern", Text: "tank weeps"}, Caution: "fuel: look for leaks"}, []string{"put right: tank weeps. None left open.\nFuel: look for leaks."}, []string{"(quiet)"}},
		{"the last", &pb.CloseSnagRequest{}, &pb.CloseSnagResponse{Receipt: receipt(), Snag: squeak(closed)}, []string{"None left open."}, nil},
		{"open on one", &pb.ListSnagsRequest{Job: "pilot", State: open}, &pb.ListSnagsResponse{Snags: []*pb.Snag{squeak(open)}, Total: 1}, []string{"1 open snag on the pilot:\n1. clutch pedal squeaks"}, []string{", open"}},
		{"all", &pb.ListSnagsRequest{}, &pb.ListSnagsResponse{Snags: []*pb.Snag{squeak(closed), {Number: 2, Job: "osmere", Text: "passenger window rattles", State: open}}, Total: 4, NextPageToken: "2"},
			[]string{"4 snags:\n1. clutch pedal squeaks, the pilot, put right\n2. passenger window rattles, the osmere, open", "… and 2 more"}, nil},
		{"one that can hurt", &pb.ListSnagsRequest{Job: "pilot"}, &pb.ListSnagsResponse{Snags: []*pb.Snag{squeak(open)}, Total: 1, Basis: &pb.Basis{Caution: "do not drive it"}}, []string{"squeaks, open\nDo not drive it."}, nil},
		{"none open", &pb.ListSnagsRequest{Job: "tern", State: open}, &pb.ListSnagsResponse{}, []string{"No open snags on the tern."}, nil},
		{"today, in a bay", &pb.RemindRequest{Origin: now()}, &pb.RemindResponse{Receipt: receipt(), Reminder: roofReminder()}, []string{"Reminder set for 16:00 in bay-3: turn the roof panel."}, nil},
		{"tomorrow, direct", &pb.RemindRequest{Origin: now()}, &pb.RemindResponse{Receipt: receipt(), Reminder: &pb.Reminder{At: "2026-03-11T08:30", Text: "ring about the hides", Job: "heron", Channel: "dm"}}, []string{"Reminder set for Wed 11 Mar 08:30 in a direct message, the heron: ring about the hides."}, nil},
		{"two", &pb.ListRemindersRequest{Origin: now()}, &pb.ListRemindersResponse{Reminders: []*pb.Reminder{roofReminder(), {At: "2026-03-11T08:30", Text: "ring about the hides", Job: "heron", Channel: "dm", Person: "wren"}}},
			[]string{"2 reminders:\n16:00 in bay-3: turn the roof panel (Mabel)\nWed 11 Mar 08:30 in a direct message, the heron: ring about the hides (Wren)"}, nil},
		{"none of hers", &pb.ListRemindersRequest{Person: "mabel", Job: "osmere"}, &pb.ListRemindersResponse{}, []string{"No reminders on the osmere for Mabel."}, nil},
		{"new", &pb.AddPersonRequest{}, &pb.AddPersonResponse{Receipt: receipt(), Id: "petra", Name: "Petra", Role: "tradesperson", Trade: "trim", ChatUser: "U42"}, []string{"Petra (petra) is in the shop now: tradesperson, trim, on the chat as U42."}, nil},
		{"changed", &pb.AddPersonRequest{}, &pb.AddPersonResponse{Receipt: receipt(), Id: "jonah", Name: "Jonah", Role: "tradesperson", Changed: true}, []string{"Jonah (jonah) is changed: tradesperson."}, nil},
		{"another vehicle", &pb.LinkChannelRequest{}, &pb.LinkChannelResponse{Receipt: receipt(), Channel: "bay-2", Job: "heron", Before: "tern"}, []string{"bay-2 stands for the heron now, not for the tern."}, nil},
		{"none", &pb.LinkChannelRequest{}, &pb.LinkChannelResponse{Receipt: receipt(), Channel: "bay-4"}, []string{"bay-4 stands for no vehicle now."}, nil},
		{"new", &pb.AddSupplierRequest{}, &pb.AddSupplierResponse{Receipt: receipt(), Name: "Fenwright Fasteners"}, []string{"Supplier on the list: Fenwright Fasteners."}, nil},
		{"an area", &pb.SetPanelSizeRequest{}, &pb.SetPanelSizeResponse{Receipt: receipt(), Panel: "bonnet", AreaM2: proto.Float64(1.25)}, []string{"Size kept: bonnet, any vehicle: 1.25 m² outside."}, nil},
		{"for hanging", &pb.SetPanelSizeRequest{}, &pb.SetPanelSizeResponse{Receipt: receipt(), Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, LengthMm: 1080, HeightMm: 620, HingeSpacingMm: 380, HingeEdge: pb.Edge_EDGE_FRONT},
			[]string{"left door, the heron: 1080 mm long, 620 mm high, hinges 380 mm apart at the front."}, nil},
		{"much open", &pb.BuildRecordRequest{Origin: now(), Job: "heron"}, heronRecord(), []string{"Handover folder of the heron: 3 finds, 1 edge measured, 2 torque sign-offs, 5 coats, 2 parts, 167.5 h.", "Still open (7):\n- safety-critical: wheel nut", "- find 1", "- part 1 rear wing panel, left, due Thu 12 Mar", "… and 2 more, all in the folder", "Two-pack paint"}, []string{"snag 9"}},
		{"all closed", &pb.BuildRecordRequest{Job: "tern"}, &pb.BuildRecordResponse{Job: &pb.Job{Id: "tern"}}, []string{"Handover folder of the tern: 0 finds", "Nothing is open."}, nil},
	}
}

func heronRecord() *pb.BuildRecordResponse {
	return &pb.BuildRecordResponse{
		Job: heronJob(), Finds: []*pb.FindRecord{{}, {}, {}}, Gaps: []*pb.GapRecord{{}}, Torques: []*pb.TorqueRecord{{}, {}},
		Coats: []*pb.CoatRecord{{Coat: &pb.Coat{Coats: 2}}, {Coat: &pb.Coat{Coats: 3}}}, Parts: []*pb.Part{wingPanel(), doorSeals()},
		Hours:    []*pb.HoursRecord{{Stage: "strip", Imported: 71}, {Stage: "metal", Logged: 4, Imported: 92.5}},
		Open:     []string{"find 1 hole, left sill", "find 2 old repair, left rear wing", "part 1 rear wing panel, left, due 2026-03-12", "task 2 replace the left sill", "extra 2 waits", "snag 9", "safety-critical: wheel nut, book value 81 N·m, is not signed off (entry #3)"},
		Cautions: []string{"Two-pack paint: sand it with a mask on", "Have the wheel nuts checked again as the maker's book says", "a third"},
	}
}

// The records that Amend changes and Undo takes back.
func mendCases() []exchange {
	const agreed, proposed = pb.ExtraState_EXTRA_STATE_AGREED, pb.ExtraState_EXTRA_STATE_PROPOSED
	amended := func(o *pb.Outcome, changes ...string) *pb.AmendResponse {
		return &pb.AmendResponse{Receipt: receipt(), Changes: changes, Now: o}
	}
	back := func(name string, o *pb.Outcome, has ...string) exchange {
		return exchange{name, &pb.UndoRequest{Origin: now()}, undone(o), has, nil}
	}
	return []exchange{
		{"a part", &pb.AmendRequest{Origin: now()}, amended(&pb.Outcome{Outcome: &pb.Outcome_OrderedPart{OrderedPart: &pb.RecordOrderResponse{Part: wingPanel(), Currency: "GBP"}}}, "price 380 -> 410", "due 2026-03-11 -> 2026-03-12"), []string{"price 380 → 410", "due day Wed 11 Mar → Thu 12 Mar", "Part 1 on the heron ordered"}, nil},
		{"an extra", &pb.AmendRequest{Origin: now()}, amended(&pb.Outcome{Outcome: &pb.Outcome_ProposedExtra{ProposedExtra: &pb.ProposeExtraResponse{Extra: wingExtra(proposed), Currency: "GBP"}}}, "hours 20 -> 22", "parts_cost 400 -> 410"), []string{"hours 20 → 22; parts 400 → 410", "£1,554"}, nil},
		{"a task", &pb.AmendRequest{Origin: now()}, amended(&pb.Outcome{Outcome: &pb.Outcome_AddedTask{AddedTask: &pb.AddTaskResponse{Task: rightSill()}}}, "title sill -> replace the right sill"), []string{"task sill → replace", "Task 3 on the heron"}, nil},
		back("a task", &pb.Outcome{Outcome: &pb.Outcome_AddedTask{AddedTask: &pb.AddTaskResponse{Task: rightSill()}}}, "Taken back: task 3 on the heron: replace the right sill."),
		back("a start", &pb.Outcome{Outcome: &pb.Outcome_StartedTask{StartedTask: &pb.StartTaskResponse{Task: rightSill()}}}, "the start of task 3 on the heron", "It is not begun now."),
		back("an end", &pb.Outcome{Outcome: &pb.Outcome_FinishedTask{FinishedTask: &pb.FinishTaskResponse{Task: leftSill()}}}, "the end of task 2 on the heron", "It is in hand now."),
		back("an order", &pb.Outcome{Outcome: &pb.Outcome_OrderedPart{OrderedPart: &pb.RecordOrderResponse{Part: &pb.Part{Part: "rear wing panel", Job: "heron"}}}}, "the order of rear wing panel, the heron."),
		back("an arrival", &pb.Outcome{Outcome: &pb.Outcome_ArrivedPart{ArrivedPart: &pb.RecordArrivalResponse{Part: wingPanel()}}}, "the arrival of rear wing panel, left, the heron. Now: due Thu 12 Mar."),
		back("a fitting", &pb.Outcome{Outcome: &pb.Outcome_FittedPart{FittedPart: &pb.FitPartResponse{Part: tailgateSeal()}}}, "the fitting of tailgate seal, the osmere. Now: here since Mon 2 Mar"),
		back("an order of which the number is left", &pb.Outcome{Outcome: &pb.Outcome_OrderedPart{OrderedPart: &pb.RecordOrderResponse{Part: &pb.Part{Number: 5, Job: "pilot"}}}}, "the order of part 5 on the pilot."),
		back("a start of a task that is gone", &pb.Outcome{Outcome: &pb.Outcome_StartedTask{StartedTask: &pb.StartTaskResponse{Task: &pb.Task{Number: 13, Job: "tern"}}}}, "the start of task 13 on the tern."),
		back("a return", &pb.Outcome{Outcome: &pb.Outcome_ReturnedPart{ReturnedPart: &pb.ReturnPartResponse{Part: tailgateSeal()}}}, "return of tailgate seal"),
		back("a due day", &pb.Outcome{Outcome: &pb.Outcome_ChangedDue{ChangedDue: &pb.ChangeDueResponse{Part: wingPanel(), Before: "2026-03-12"}}}, "the new due day of rear wing panel, left, the heron. Now: due Thu 12 Mar."),
		back("a wish", &pb.Outcome{Outcome: &pb.Outcome_AddedBrief{AddedBrief: &pb.AddBriefResponse{Job: "heron", Line: &pb.BriefLine{Number: 5, Text: "heated rear screen"}}}}, "brief of the heron, line 5: “heated rear screen”."),
		back("a wish met", &pb.Outcome{Outcome: &pb.Outcome_MetBrief{MetBrief: &pb.MeetBriefResponse{Job: "heron", Line: briefLines()[2], StillOpen: 4}}}, "line 3 met", "4 lines still to be met."),
		back("a snag", &pb.Outcome{Outcome: &pb.Outcome_AddedSnag{AddedSnag: &pb.AddSnagResponse{Snag: squeak(0)}}}, "snag 1 on the pilot: clutch pedal squeaks."),
		back("a snag put right", &pb.Outcome{Outcome: &pb.Outcome_ClosedSnag{ClosedSnag: &pb.CloseSnagResponse{Snag: squeak(0), StillOpen: 1}}}, "put right", "1 still open."),
		back("an extra", &pb.Outcome{Outcome: &pb.Outcome_ProposedExtra{ProposedExtra: &pb.ProposeExtraResponse{Extra: wingExtra(proposed), Currency: "GBP"}}}, "extra 2 on the heron: let in the left rear wing, £1,554."),
		back("a decision", &pb.Outcome{Outcome: &pb.Outcome_DecidedExtra{DecidedExtra: &pb.DecideExtraResponse{Extra: wingExtra(proposed), Currency: "GBP", AgreedExtras: 520}}}, "decision on extra 2", "Waiting for the customer. Agreed extras on the heron: £520."),
		back("a reminder", &pb.Outcome{Outcome: &pb.Outcome_Reminder{Reminder: &pb.RemindResponse{Reminder: roofReminder()}}}, "reminder for 16:00 in bay-3: turn the roof panel."),
		{"a decision", &pb.AmendRequest{}, amended(&pb.Outcome{Outcome: &pb.Outcome_DecidedExtra{DecidedExtra: &pb.DecideExtraResponse{Extra: wingExtra(agreed), Currency: "GBP", AgreedExtras: 2074}}}, "agreed false -> true"), []string{"decision false → true", "Agreed: extra 2"}, nil},
	}
}
