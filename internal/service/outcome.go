package service

import (
	"time"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// outcome is what the RPC that made a record answers as things are now. It is the
// one place where the answers of writing RPCs are made: the first answer, an
// amended one and that of a record taken back are the same but for the figures.
// nil when the record is of no kind that an RPC makes.
func outcome(st *shop.State, entry uint64, receipt *pb.Receipt, now time.Time) *pb.Outcome {
	r, ok := st.Record(entry)
	if !ok {
		return nil
	}
	switch e := r.Event.(type) {
	case shop.StockMoved:
		return moveOutcome(st, r, e, receipt)
	case shop.FindRecorded:
		find := shop.Find{FindRecorded: e, Said: r.Said}
		if standing, ok := st.FindNumber(e.Number); ok {
			find = standing
		}
		return &pb.Outcome{Outcome: &pb.Outcome_Find{Find: &pb.RecordFindResponse{
			Receipt: receipt, Find: findPB(find), Caution: shop.FindCaution(e.Panel),
		}}}
	case shop.FindClosed:
		resp := &pb.CloseFindResponse{Receipt: receipt, Find: &pb.Find{Number: uint32(e.Number), Job: e.Job}, StillOpen: uint32(st.OpenFinds(e.Job))}
		if find, ok := st.FindNumber(e.Number); ok {
			resp.Find, resp.Caution = findPB(find), shop.MendedFindCaution(find.Panel)
		}
		return &pb.Outcome{Outcome: &pb.Outcome_ClosedFind{ClosedFind: resp}}
	case shop.TorqueRecorded:
		return &pb.Outcome{Outcome: &pb.Outcome_Torque{Torque: &pb.RecordTorqueResponse{
			Receipt: receipt, SignOff: signOffPB(&shop.SignOff{TorqueRecorded: e, Said: r.Said}), Reference: torquePB(st.BookValue(e.Job, e.Fastener)),
		}}}
	case shop.TorqueSet:
		return &pb.Outcome{Outcome: &pb.Outcome_SetTorque{SetTorque: &pb.SetTorqueResponse{
			Receipt: receipt, Reference: torquePB(&shop.TorqueReference{TorqueSet: e, Said: r.Said}), Replaced: torquePB(st.ReplacedTorque(r)),
		}}}
	case shop.GapRecorded:
		where := shop.Where{Job: e.Job, Panel: e.Panel, Side: e.Side, End: e.End, Edge: e.Edge}
		return &pb.Outcome{Outcome: &pb.Outcome_Gap{Gap: &pb.RecordGapResponse{
			Receipt: receipt, Reading: readingPB(shop.GapReading{GapRecorded: e, Said: r.Said}), Reference: targetPB(st.Target(where)),
		}}}
	case shop.GapSet:
		return &pb.Outcome{Outcome: &pb.Outcome_SetGap{SetGap: &pb.SetGapResponse{
			Receipt: receipt, Reference: targetPB(&shop.GapReference{GapSet: e, Said: r.Said}), Replaced: targetPB(st.ReplacedTarget(r)),
		}}}
	case shop.HoursLogged:
		return &pb.Outcome{Outcome: &pb.Outcome_Hours{Hours: &pb.LogHoursResponse{
			Receipt: receipt, Job: e.Job, People: e.People, Hours: e.Hours.Float(), Day: e.Day.String(),
			Stage: stagePB(st.HoursOf(e.Job, e.Stage)), Task: st.TaskName(e.Job, e.Task),
		}}}
	case shop.NoteAdded:
		return &pb.Outcome{Outcome: &pb.Outcome_Note{Note: &pb.AddNoteResponse{Receipt: receipt, Note: &pb.Note{
			Job: e.Job, Text: e.Text, Panel: e.Panel, Side: pb.Side(e.Side), Person: r.By, At: timestamp(r.At),
		}}}}
	case shop.CoatRecorded:
		return &pb.Outcome{Outcome: &pb.Outcome_Coat{Coat: coatResponse(st, shop.Coat{CoatRecorded: e, Said: r.Said}, receipt, now)}}
	case shop.BriefAdded:
		return &pb.Outcome{Outcome: &pb.Outcome_AddedBrief{AddedBrief: addedBrief(st, r, e, receipt)}}
	case shop.BriefMet:
		return &pb.Outcome{Outcome: &pb.Outcome_MetBrief{MetBrief: metBrief(st, e, receipt)}}
	case shop.SnagAdded:
		return &pb.Outcome{Outcome: &pb.Outcome_AddedSnag{AddedSnag: addedSnag(st, r, e, receipt)}}
	case shop.SnagClosed:
		return &pb.Outcome{Outcome: &pb.Outcome_ClosedSnag{ClosedSnag: closedSnag(st, e, receipt)}}
	case shop.ExtraProposed:
		return &pb.Outcome{Outcome: &pb.Outcome_ProposedExtra{ProposedExtra: proposedExtra(st, r, e, receipt)}}
	case shop.ExtraDecided:
		return &pb.Outcome{Outcome: &pb.Outcome_DecidedExtra{DecidedExtra: decidedExtra(st, e, receipt)}}
	case shop.ReminderSet:
		reminder := shop.Reminder{ReminderSet: e, Said: r.Said}
		return &pb.Outcome{Outcome: &pb.Outcome_Reminder{Reminder: &pb.RemindResponse{Receipt: receipt, Reminder: reminderPB(st, reminder)}}}
	case shop.TaskAdded:
		return &pb.Outcome{Outcome: &pb.Outcome_AddedTask{AddedTask: &pb.AddTaskResponse{Receipt: receipt, Task: taskPB(st.TaskAs(r))}}}
	case shop.TaskStarted:
		return &pb.Outcome{Outcome: &pb.Outcome_StartedTask{StartedTask: startedTask(st, e, receipt, now)}}
	case shop.TaskFinished:
		return &pb.Outcome{Outcome: &pb.Outcome_FinishedTask{FinishedTask: finishedTask(st, e, receipt, now)}}
	case shop.PartOrdered:
		return partOutcome(st, st.PartAs(r, now.In(st.Location())), receipt, now)
	case shop.PartArrived:
		return &pb.Outcome{Outcome: &pb.Outcome_ArrivedPart{ArrivedPart: &pb.RecordArrivalResponse{
			Receipt: receipt, Part: partNumbered(st, e.Number, e.Job, now), Freed: st.FreedByPart(e.Number, now.In(st.Location())),
		}}}
	case shop.PartFitted:
		resp := &pb.FitPartResponse{Receipt: receipt, Part: partNumbered(st, e.Number, e.Job, now)}
		if resp.Part.State == pb.PartState_PART_STATE_FITTED {
			resp.Caution = shop.DoneCaution(resp.Part.Part, shop.Metal)
		}
		return &pb.Outcome{Outcome: &pb.Outcome_FittedPart{FittedPart: resp}}
	case shop.PartReturned:
		return &pb.Outcome{Outcome: &pb.Outcome_ReturnedPart{ReturnedPart: &pb.ReturnPartResponse{Receipt: receipt, Part: partNumbered(st, e.Number, e.Job, now)}}}
	case shop.PartDueChanged:
		return &pb.Outcome{Outcome: &pb.Outcome_ChangedDue{ChangedDue: &pb.ChangeDueResponse{
			Receipt: receipt, Part: partNumbered(st, e.Number, e.Job, now), Before: st.DueBefore(r).String(),
		}}}
	case shop.JobCreated:
		return &pb.Outcome{Outcome: &pb.Outcome_CreatedJob{CreatedJob: &pb.CreateJobResponse{Receipt: receipt, Job: jobPB(e)}}}
	case shop.MaterialAdded:
		stock := shop.Stock{MaterialAdded: e, Now: e.OnHand, Low: e.OnHand <= e.ReorderAt}
		if standing, err := st.Stock(e.ID); err == nil {
			stock = standing
		}
		return &pb.Outcome{Outcome: &pb.Outcome_AddedMaterial{AddedMaterial: &pb.AddMaterialResponse{Receipt: receipt, Stock: stockPB(stock)}}}
	}
	return nil
}

func moveOutcome(st *shop.State, r shop.Record, e shop.StockMoved, receipt *pb.Receipt) *pb.Outcome {
	var stock *pb.Stock
	if s, err := st.Stock(e.Material); err == nil {
		stock = stockPB(s)
	}
	amount := e.Amount.Float()
	switch e.Kind {
	case shop.Use:
		return &pb.Outcome{Outcome: &pb.Outcome_Use{Use: &pb.RecordUseResponse{Receipt: receipt, Stock: stock, Amount: amount, Job: e.Job}}}
	case shop.Delivery:
		return &pb.Outcome{Outcome: &pb.Outcome_Delivery{Delivery: &pb.RecordDeliveryResponse{Receipt: receipt, Stock: stock, Amount: amount}}}
	case shop.Count:
		return &pb.Outcome{Outcome: &pb.Outcome_Counted{Counted: &pb.RecordCountResponse{Receipt: receipt, Stock: stock, Expected: st.Expected(r).Float()}}}
	case shop.Waste:
		return &pb.Outcome{Outcome: &pb.Outcome_Waste{Waste: &pb.RecordWasteResponse{Receipt: receipt, Stock: stock, Amount: amount, Why: e.Why}}}
	}
	return nil
}

// recorded makes an answerer of the part of an outcome that an RPC answers.
func recorded[R writeResponse](part func(*pb.Outcome) R) answerer[R] {
	return func(st *shop.State, record uint64, receipt *pb.Receipt, _ shop.Decision, now time.Time) R {
		return part(outcome(st, record, receipt, now))
	}
}
