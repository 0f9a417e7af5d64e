package say_test

import (
	pb "bayword/proto/bayword/v1"
	"fmt"
)

// Tasks and parts of the heron.
func rightSill() *pb.Task {
	return &pb.Task{Number: 3, Job: "heron", Title: "replace the right sill", Stage: "metal", LowHours: 14, LikelyHours: 18, HighHours: 30, State: pb.TaskState_TASK_STATE_WAITING}
}

func leftSill() *pb.Task {
	return &pb.Task{Number: 2, Job: "heron", Title: "replace the left sill", Stage: "metal", LowHours: 14, LikelyHours: 18, HighHours: 30, After: []uint32{1}, State: pb.TaskState_TASK_STATE_DOING, Who: "idris", LoggedHours: 12}
}

func leftWing() *pb.Task {
	return &pb.Task{Number: 4, Job: "heron", Title: "let in the left rear wing", Stage: "metal", LowHours: 16, LikelyHours: 22, HighHours: 34, After: []uint32{2}, State: pb.TaskState_TASK_STATE_WAITING, NeedsPart: "rear wing panel"}
}

func theShell() *pb.Task {
	return &pb.Task{Number: 5, Job: "heron", Title: "epoxy the shell", Stage: "paint", LikelyHours: 10, After: []uint32{2, 3, 4}, State: pb.TaskState_TASK_STATE_WAITING}
}

func wingPanel() *pb.Part {
	return &pb.Part{Number: 1, Job: "heron", Part: "rear wing panel", Side: pb.Side_SIDE_LEFT, Quantity: 1, Supplier: "Ketteridge Panels", Provenance: pb.Provenance_PROVENANCE_NEW_OLD_STOCK,
		Price: 410, Ordered: "2026-03-02", Due: "2026-03-12", State: pb.PartState_PART_STATE_ORDERED, NeededBy: []string{"4 let in the left rear wing"}}
}

func doorSeals() *pb.Part {
	return &pb.Part{Number: 2, Job: "heron", Part: "door seal set", Quantity: 1, Supplier: "Amblecote Rubber", Price: 96, Ordered: "2026-02-20", Due: "2026-03-06", State: pb.PartState_PART_STATE_LATE, DaysLate: 4}
}

func tailgateSeal() *pb.Part {
	return &pb.Part{Number: 4, Job: "osmere", Part: "tailgate seal", Quantity: 1, Supplier: "Amblecote Rubber", Price: 38, State: pb.PartState_PART_STATE_ARRIVED, Arrived: "2026-03-02", ArrivedQuantity: 1, TrialFitted: true}
}

func arrivedPanel() *pb.Part {
	p := wingPanel()
	p.State, p.Arrived, p.ArrivedQuantity, p.Condition = pb.PartState_PART_STATE_ARRIVED, "2026-03-10", 1, "bit creased at the bottom"
	return p
}

func fitted(p *pb.Part, state pb.PartState, note string) *pb.Part {
	p.State, p.FitNote = state, note
	return p
}

func planCases() []exchange {
	return []exchange{
		{"with a spread", &pb.AddTaskRequest{}, &pb.AddTaskResponse{Receipt: receipt(), Task: &pb.Task{Number: 13, Job: "tern", Title: "weld up the badge holes", Stage: "strip", LowHours: 1.5, LikelyHours: 2, HighHours: 3.5}},
			[]string{"Task 13 on the tern: weld up the badge holes, 2 h (1.5–3.5), strip."}, nil},
		{"hangs on others, no hours", &pb.AddTaskRequest{}, &pb.AddTaskResponse{Receipt: receipt(), Task: &pb.Task{Number: 14, Job: "pilot", Title: "fit the propshaft", Stage: "mechanical", After: []uint32{9, 11}, NeedsPart: "propshaft", Who: "tomasz"}},
			[]string{"no hours estimated", "for Tomasz", "After tasks 9 and 11, needs propshaft."}, nil},
		{"free to begin", &pb.StartTaskRequest{}, &pb.StartTaskResponse{Receipt: receipt(), Task: begun(rightSill())}, []string{"Task 3 on the heron begun, Jonah: replace the right sill, 18 h (14–30)."}, nil},
		{"before its turn", &pb.StartTaskRequest{}, &pb.StartTaskResponse{Receipt: receipt(), Task: begun(theShell()), NotDoneFirst: []string{"2 replace the left sill", "4 let in the left rear wing"}},
			[]string{"Not done before it, as planned: task 2 replace the left sill; task 4 let in the left rear wing."}, nil},
		{"frees one", &pb.FinishTaskRequest{}, &pb.FinishTaskResponse{Receipt: receipt(), Task: finished(leftSill()), Freed: []*pb.Task{leftWing()}},
			[]string{"Task 2 on the heron done, Idris: replace the left sill, 12 of 18 h.", "Can be started now: task 4 let in the left rear wing."}, nil},
		{"before what comes first", &pb.FinishTaskRequest{}, &pb.FinishTaskResponse{Receipt: receipt(), Task: finished(leftSill()), NotDoneFirst: []string{"1 check the door aperture against the drawing"}},
			[]string{"Task 2 on the heron done", "Not done before it, as planned: task 1 check the door aperture against the drawing."}, nil},
		{"to be checked", &pb.FinishTaskRequest{}, &pb.FinishTaskResponse{Receipt: receipt(), Task: finished(rightSill()), Caution: "it carries load: have it looked at"}, []string{"Task 3 on the heron done", "\nIt carries load: have it looked at."}, []string{"(quiet)"}},
		{"frees none", &pb.FinishTaskRequest{}, &pb.FinishTaskResponse{Receipt: receipt(), Task: &pb.Task{Number: 12, Job: "tern", Title: "strip the shell to bare metal", State: pb.TaskState_TASK_STATE_DONE, LikelyHours: 20, Who: "jonah"}},
			[]string{"Task 12 on the tern done, Jonah"}, []string{"Can be", "20 h"}},
		{"of a job", &pb.ListNextRequest{}, &pb.ListNextResponse{Job: "heron", Held: 3, ToDo: 5, Tasks: []*pb.NextTask{{Task: leftSill(), Why: "in hand, Idris"}, {Task: rightSill(), Why: "nothing is in its way"}}},
			[]string{"Next on the heron:\n2 replace the left sill, 12 of 18 h: in hand, Idris\n3 replace the right sill, 18 h (14–30): nothing is in its way", "Held: 3 of 5 tasks to do."}, nil},
		{"of a person", &pb.ListNextRequest{}, &pb.ListNextResponse{Person: "tomasz", ToDo: 2, Held: 1, Tasks: []*pb.NextTask{{Task: &pb.Task{Number: 10, Job: "pilot", Title: "wire the injection loom", Who: "tomasz", State: pb.TaskState_TASK_STATE_DOING}}}},
			[]string{"Next for Tomasz:\n10 wire the injection loom on the pilot: in hand"}, nil},
		{"of an apprentice", &pb.ListNextRequest{}, &pb.ListNextResponse{Person: "jonah", ToDo: 3, Tasks: []*pb.NextTask{{Task: rightSill(), Why: "nothing is in its way", NotAlone: true, Beside: []string{"idris", "wren"}}, {Task: leftSill(), NotAlone: true}}},
			[]string{"nothing is in its way, not alone: with Idris or Wren beside", "in hand, not alone: with somebody qualified beside"}, nil},
		{"all held", &pb.ListNextRequest{}, &pb.ListNextResponse{Job: "pilot", Held: 1, ToDo: 1}, []string{"Nothing can be started on the pilot now.", "Held: 1 of 1 task to do."}, nil},
		{"none to do", &pb.ListNextRequest{}, &pb.ListNextResponse{Job: "osmere"}, []string{"No tasks left to do on the osmere."}, nil},
		{"by root", &pb.ListHoldsRequest{Origin: now()}, &pb.ListHoldsResponse{Job: "heron", Late: []*pb.Part{doorSeals()}, Free: []*pb.Task{rightSill()}, Holds: []*pb.Hold{
			{Task: leftWing(), Kind: pb.HoldKind_HOLD_KIND_TASK, RootTask: leftSill(), Chain: []string{"4", "2"}},
			{Task: leftWing(), Kind: pb.HoldKind_HOLD_KIND_PART, Root: "rear wing panel, left: due 2026-03-12, not here", Part: wingPanel(), Chain: []string{"4", "panel"}},
			{Task: theShell(), Kind: pb.HoldKind_HOLD_KIND_PART, Root: "rear wing panel, left: due 2026-03-12, not here", Part: wingPanel(), Chain: []string{"5", "4", "panel"}}}},
			[]string{"The heron waits for 2 things, what holds most first:\nRear wing panel, left, due Thu 12 Mar, Ketteridge Panels: holds 4 let in the left rear wing, and 1 after.\nTask 2 replace the left sill, in hand, Idris: holds 4 let in the left rear wing.", "Late parts (1): door seal set, 4 days late (due Fri 6 Mar), Amblecote Rubber.", "Can go on (1): 3 replace the right sill."}, nil},
		{"of every kind, all jobs", &pb.ListHoldsRequest{Origin: now()}, &pb.ListHoldsResponse{Late: []*pb.Part{doorSeals()}, Holds: []*pb.Hold{
			{Task: leftWing(), Kind: pb.HoldKind_HOLD_KIND_CONSENT, Extra: wingExtra(pb.ExtraState_EXTRA_STATE_PROPOSED)},
			{Task: theShell(), Kind: pb.HoldKind_HOLD_KIND_COAT, Root: "high-build primer on the whole body", Until: on(10, 19, 30)},
			{Task: rightSill(), Kind: pb.HoldKind_HOLD_KIND_PART_NOT_ORDERED, Root: "sill, right: nobody ordered it"},
			{Task: theShell(), Kind: pb.HoldKind_HOLD_KIND_PART, Part: doorSeals()}}},
			[]string{"The customer's word on extra 2, let in the left rear wing: holds 4 let in the left rear wing on the heron.", "until 19:30", "Sill, right: nobody ordered it: holds 3", "Door seal set, 4 days late"}, []string{"Late parts"}},
		{"more than are told", &pb.ListHoldsRequest{}, &pb.ListHoldsResponse{Job: "tern", Holds: manyHolds(9)}, []string{"The tern waits for 9 things, what holds most first:", "… and 3 more: ask for its parts and its tasks to see them."}, []string{"part 7"}},
		{"one", &pb.ListHoldsRequest{}, &pb.ListHoldsResponse{Job: "tern", Holds: manyHolds(1)}, []string{"The tern waits for part 1: not on order: holds 4 let in the left rear wing."}, []string{"things"}},
		{"free", &pb.ListHoldsRequest{}, &pb.ListHoldsResponse{Job: "tern"}, []string{"Nothing holds the tern up."}, nil},
		{"a year ahead", &pb.ForecastRequest{Origin: now()}, heronForecast(),
			[]string{"The heron: done Fri 4 Sep as likely as not (50 %), by Mon 11 Jan 2027 fairly sure (80 %).\n412–487 h to come (metal 84–110; paint 140–165", "167.5 h logged of 690 estimated.", "Biggest hold: rear wing panel, left, due Thu 12 Mar, and 1 more, for task 4 let in the left rear wing.", "Assumed: Idris and Mabel share their days with other vehicles; 7.5 hours a working day, no holidays."}, []string{"strip", "stages follow"}},
		{"some stages of no estimate", &pb.ForecastRequest{}, &pb.ForecastResponse{Job: "tern", Logged: 35, Estimate: 7, Hours_50: 20, Hours_80: 24, Stages: []*pb.StageForecast{{Stage: "strip", Logged: 28, Estimate: 7}, {Stage: "metal", Logged: 7, ToCome_50: 20, ToCome_80: 24}}},
			[]string{"The tern: 20 h to come as likely as not (50 %), 24 h fairly sure (80 %).", "35 h logged, not every stage has an estimate."}, []string{"over"}},
		{"all done", &pb.ForecastRequest{}, &pb.ForecastResponse{Job: "tern", Logged: 280, Estimate: 290}, []string{"nothing on record is left to do, 280 h logged of 290 estimated."}, nil},
	}
}

func manyHolds(n int) []*pb.Hold {
	out := make([]*pb.Hold, n)
	for i := range out {
		out[i] = &pb.Hold{Kind: pb.HoldKind_HOLD_KIND_PART_NOT_ORDERED, Root: fmt.Sprintf("part %d: not on order", i+1), Task: leftWing(), Chain: []string{"4", "part"}}
	}
	return out
}

func begun(t *pb.Task) *pb.Task {
	t.State, t.Who = pb.TaskState_TASK_STATE_DOING, "jonah"
	return t
}

func finished(t *pb.Task) *pb.Task {
	t.State = pb.TaskState_TASK_STATE_DONE
	return t
}

func heronForecast() *pb.ForecastResponse {
	return &pb.ForecastResponse{Job: "heron", Hours_50: 412.4, Hours_80: 486.6, Finish_50: "2026-09-04", Finish_80: "2027-01-11", Logged: 167.5, Estimate: 690, Runs: 2000,
		Stages: []*pb.StageForecast{
			{Stage: "strip", Logged: 71, Estimate: 60}, {Stage: "metal", Logged: 96.5, Estimate: 180, ToCome_50: 84.2, ToCome_80: 109.7},
			{Stage: "paint", Estimate: 160, ToCome_50: 140, ToCome_80: 165}, {Stage: "mechanical", Estimate: 120, ToCome_50: 101, ToCome_80: 125},
			{Stage: "trim", Estimate: 90, ToCome_50: 60, ToCome_80: 75}, {Stage: "assembly", Estimate: 80, ToCome_50: 9.3, ToCome_80: 12},
		},
		Bars: []*pb.PlanBar{
			{Task: leftSill(), Start: "2026-03-10", End: "2026-03-12", End_80: "2026-03-16", Critical: 0.7},
			{Task: rightSill(), Start: "2026-03-12", End: "2026-03-17", End_80: "2026-03-23", Critical: 0.2},
			{Task: leftWing(), Start: "2026-03-17", End: "2026-03-24", End_80: "2026-04-02", Critical: 0.8, Hold: "rear wing panel, left, due 2026-03-12; extra 2 waits for the customer"},
			{Task: theShell(), Start: "2026-03-24", End: "2026-03-26", End_80: "2026-04-08", Critical: 1, Hold: ""},
			{Task: &pb.Task{Job: "heron", Stage: "trim"}, Start: "2026-06-01", End: "2026-09-04", End_80: "2027-01-11", Critical: 1},
		},
		Late:  []*pb.Part{doorSeals()},
		Basis: &pb.Basis{Assumptions: []string{"Idris shares the day evenly with tern", "Mabel shares the day evenly with osmere, tern", "7.5 hours a working day, no holidays", "stages follow one another", "nobody falls ill"}},
	}
}

func partCases() []exchange {
	springs := &pb.Part{Number: 6, Job: "pilot", Part: "valve spring", Quantity: 8, ArrivedQuantity: 5, State: pb.PartState_PART_STATE_ARRIVED, Arrived: "2026-03-10"}
	return []exchange{
		{"with price and day", &pb.RecordOrderRequest{Origin: now()}, &pb.RecordOrderResponse{Receipt: receipt(), Currency: "GBP", Part: &pb.Part{Number: 5, Job: "pilot", Part: "propshaft", Quantity: 1, Supplier: "Fenwright Fasteners", Price: 240, Due: "2026-03-19", Provenance: pb.Provenance_PROVENANCE_MADE, NeededBy: []string{"11 shorten the propshaft"}, State: pb.PartState_PART_STATE_ORDERED}},
			[]string{"Part 5 on the pilot ordered: propshaft, £240, Fenwright Fasteners, made for it, due Thu 19 Mar.", "Task 11 shorten the propshaft waits for it."}, nil},
		{"the bare least", &pb.RecordOrderRequest{}, &pb.RecordOrderResponse{Receipt: receipt(), Part: &pb.Part{Number: 6, Job: "pilot", Part: "valve spring", Quantity: 8}}, []string{"valve spring × 8, no day named."}, []string{"£", "wait"}},
		{"frees a task", &pb.RecordArrivalRequest{}, &pb.RecordArrivalResponse{Receipt: receipt(), Part: arrivedPanel(), Freed: []string{"4 let in the left rear wing"}},
			[]string{"Part 1 on the heron is here: rear wing panel, left.", "Condition: bit creased at the bottom.", "Can be started now: task 4 let in the left rear wing."}, []string{"Nobody"}},
		{"not ordered, too few", &pb.RecordArrivalRequest{}, &pb.RecordArrivalResponse{Receipt: receipt(), NotOrdered: true, Part: springs}, []string{"valve spring × 8, 5 of 8 came.", "Nobody had ordered it."}, nil},
		{"for good", &pb.FitPartRequest{}, &pb.FitPartResponse{Receipt: receipt(), Part: fitted(doorSeals(), pb.PartState_PART_STATE_FITTED, "tight at the lock")}, []string{"Part 2 on the heron fitted: door seal set.", "Tight at the lock."}, nil},
		{"to be checked", &pb.FitPartRequest{}, &pb.FitPartResponse{Receipt: receipt(), Part: fitted(doorSeals(), pb.PartState_PART_STATE_FITTED, ""), Caution: "brakes: look for leaks"}, []string{"fitted: door seal set.\nBrakes: look for leaks."}, []string{"(quiet)"}},
		{"a trial", &pb.FitPartRequest{}, &pb.FitPartResponse{Receipt: receipt(), Part: fitted(arrivedPanel(), pb.PartState_PART_STATE_ARRIVED, "")}, []string{"tried on, not fitted yet: rear wing panel, left."}, nil},
		{"still needed", &pb.ReturnPartRequest{}, &pb.ReturnPartResponse{Receipt: receipt(), Part: fitted(arrivedPanel(), pb.PartState_PART_STATE_RETURNED, "")}, []string{"Part 1 on the heron sent back: rear wing panel, left, to Ketteridge Panels.", "Task 4 let in the left rear wing waits for it."}, nil},
		{"with the day before", &pb.ChangeDueRequest{Origin: now()}, &pb.ChangeDueResponse{Receipt: receipt(), Part: wingPanel(), Before: "2026-03-10"},
			[]string{"Part 1 on the heron is due Thu 12 Mar now, not Tue 10 Mar: rear wing panel, left, Ketteridge Panels.", "Task 4 let in the left rear wing waits for it."}, nil},
		{"no day before", &pb.ChangeDueRequest{Origin: now()}, &pb.ChangeDueResponse{Receipt: receipt(), Part: &pb.Part{Number: 5, Job: "pilot", Part: "bushes", Quantity: 4, Due: "2026-03-13", State: pb.PartState_PART_STATE_ORDERED}},
			[]string{"Part 5 on the pilot is due Fri 13 Mar now: bushes × 4."}, []string{"not"}},
		{"of a job", &pb.ListPartsRequest{Origin: now(), Job: "heron"}, &pb.ListPartsResponse{Currency: "GBP", Parts: []*pb.Part{wingPanel(), doorSeals()}, Total: 2},
			[]string{"2 parts on the heron:\n1. rear wing panel, left: due Thu 12 Mar, Ketteridge Panels, £410\n2. door seal set: 4 days late (due Fri 6 Mar), Amblecote Rubber, £96"}, nil},
		{"late, all jobs", &pb.ListPartsRequest{Origin: now(), State: pb.PartState_PART_STATE_LATE}, &pb.ListPartsResponse{Currency: "GBP", Parts: []*pb.Part{doorSeals()}, Total: 1}, []string{"1 part late:\n2. door seal set, the heron: 4 days late"}, nil},
		{"of every state, more than a page", &pb.ListPartsRequest{Origin: now()}, &pb.ListPartsResponse{Currency: "CHF", NextPageToken: "6", Total: 9, Parts: []*pb.Part{tailgateSeal(), fitted(doorSeals(), pb.PartState_PART_STATE_FITTED, ""), fitted(wingPanel(), pb.PartState_PART_STATE_RETURNED, ""), {Number: 5, Job: "pilot", Part: "bushes", Quantity: 4, State: pb.PartState_PART_STATE_ORDERED}}},
			[]string{"4. tailgate seal, the osmere: here since Mon 2 Mar, tried on, Amblecote Rubber, CHF 38", "fitted", "sent back", "5. bushes × 4, the pilot: ordered, no day named", "… and 5 more"}, nil},
		{"due by a day", &pb.ListPartsRequest{Origin: now(), Job: "pilot", DueBy: "2026-03-13", Part: "shaft"}, &pb.ListPartsResponse{}, []string{"No parts like «shaft» due by Fri 13 Mar on the pilot."}, nil},
		{"none", &pb.ListPartsRequest{Job: "tern"}, &pb.ListPartsResponse{}, []string{"No parts on record on the tern."}, nil},
		{"panel letting in", &pb.AdviseRepairRequest{Origin: now()}, wingAdvice(),
			[]string{"Left rear wing on the heron (finds 2 and 6): let in a part panel, about £1,560 (£1,350–£1,930), 22 h (18–29), of it the panel £410, 2 days to wait for it.\nPatch it: about £1,750 (£1,460–£2,310), 24 h (18–35).\nWhole panel: no, none is to be had.",
				"On record: part 1 rear wing panel, left, due Thu 12 Mar.", "How sure: cheapest in 83 % of the cases I worked through; the rates are common practice and 3 closed repairs of the shop's own.", "Check first: probe round the old plate; measure the door gap.", "Structural"}, nil},
		{"too little known", &pb.AdviseRepairRequest{}, &pb.AdviseRepairResponse{Job: "tern", Panel: "floor", Side: pb.Side_SIDE_RIGHT, Finds: []*pb.Find{{Number: 8}}, Why: "find 8 has no size", Rates: []*pb.RepairRate{{Name: "hours a metre of butt weld"}},
			CheckFirst: []string{"measure find 8"}}, []string{"Right floor on the tern (find 8): too little is known to advise.", "Find 8 has no size.", "Check first: measure find 8.", "none of the shop's own repairs yet"}, []string{"cheapest"}},
		{"a dent, a panel of no known price", &pb.AdviseRepairRequest{}, &pb.AdviseRepairResponse{Job: "tern", Panel: "front valance", Finds: []*pb.Find{{Number: 3}}, Currency: "GBP", Advised: pb.RepairWay_REPAIR_WAY_PATCH, Confidence: 1, Options: []*pb.RepairOption{
			{Way: pb.RepairWay_REPAIR_WAY_PATCH, Todo: "dress it out, fill and block", Hours: &pb.Spread{Low: 1.5, Likely: 2, High: 3}, Cost: &pb.Spread{Low: 77, Likely: 105, High: 140}},
			{Way: pb.RepairWay_REPAIR_WAY_PANEL, PriceUnknown: true, Hours: &pb.Spread{Low: 14, Likely: 19, High: 26}, Cost: &pb.Spread{Low: 730, Likely: 990, High: 1340}},
		}}, []string{"Front valance on the tern (find 3): dress it out, fill and block, about £110 (£77–£140), 2 h (1.5–3).\nWhole panel: the panel's price is not on record, ask for it; labour alone £990, 19 h (14–26).\nHow sure: a whole panel is dearer by its labour alone."}, []string{"patch", "cheapest"}},
		{"nothing there", &pb.AdviseRepairRequest{}, &pb.AdviseRepairResponse{Job: "tern", Panel: "roof"}, []string{"Roof on the tern: nothing open to repair there."}, nil},
	}
}

func wingAdvice() *pb.AdviseRepairResponse {
	return &pb.AdviseRepairResponse{
		Job: "heron", Panel: "rear wing", Side: pb.Side_SIDE_LEFT, Finds: []*pb.Find{{Number: 2}, {Number: 6}}, Advised: pb.RepairWay_REPAIR_WAY_PART_PANEL, Confidence: 0.828, Currency: "GBP", PanelPart: wingPanel(),
		Why: "the old repair and its edges take more welding than one seam",
		Options: []*pb.RepairOption{
			{Way: pb.RepairWay_REPAIR_WAY_PANEL, RuledOut: "none is to be had"},
			{Way: pb.RepairWay_REPAIR_WAY_PATCH, Todo: "patch it", Hours: &pb.Spread{Low: 18.4, Likely: 24.1, High: 34.8}, Cost: &pb.Spread{Low: 1457, Likely: 1753, High: 2310}},
			{Way: pb.RepairWay_REPAIR_WAY_PART_PANEL, Hours: &pb.Spread{Low: 18, Likely: 22.2, High: 29.3}, Cost: &pb.Spread{Low: 1346, Likely: 1564, High: 1934}, PanelPrice: 410, LeadDays: 2},
		},
		CheckFirst: []string{"probe round the old plate", "measure the door gap"},
		Rates:      []*pb.RepairRate{{Name: "hours a metre of butt weld", ClosedRepairs: 3}, {Name: "gas"}},
		Basis:      &pb.Basis{Caution: "Structural: brace the shell before you cut"},
	}
}
