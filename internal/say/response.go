package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
)

// Response puts the answer resp to the request req into words. It fails when
// resp is no answer this package knows, or is not the answer to req's kind.
func Response(req, resp proto.Message, names Names) (Reply, error) {
	kind := kindOf(resp, "Response")
	if asked := kindOf(req, "Request"); asked != kind {
		return Reply{}, fmt.Errorf("say: a %T does not answer a %T", resp, req)
	}
	if o, ok := req.(interface{ GetOrigin() *pb.Origin }); ok && o.GetOrigin().GetSaidAt().IsValid() {
		names.now = o.GetOrigin().GetSaidAt().AsTime()
	}
	r, ok := answer(req, resp, names)
	if !ok {
		return Reply{}, fmt.Errorf("say: no words for %T", resp)
	}
	if v, ok := req.(interface{ GetValidateOnly() bool }); ok && v.GetValidateOnly() {
		r = text("Only checked, nothing recorded yet:", r.Text)
	}
	return r, nil
}

// kindOf is the RPC name a message belongs to: its name without the suffix.
func kindOf(m proto.Message, suffix string) string {
	if m == nil {
		return ""
	}
	return strings.TrimSuffix(string(m.ProtoReflect().Descriptor().Name()), suffix)
}

// answer has one case a kind.
func answer(req, resp proto.Message, n Names) (Reply, bool) {
	switch r := resp.(type) {
	case *pb.LookUpTorqueResponse:
		return lookUpTorque(r, n), true
	case *pb.ComputeTorqueResponse:
		q, _ := req.(*pb.ComputeTorqueRequest)
		return computeTorque(q, r, n), true
	case *pb.LookUpGapResponse:
		q, _ := req.(*pb.LookUpGapRequest)
		return lookUpGap(q, r, n), true
	case *pb.ListFindsResponse:
		q, _ := req.(*pb.ListFindsRequest)
		return listFinds(q, r, n), true
	case *pb.GetStockResponse:
		return getStock(r, n), true
	case *pb.ListLowStockResponse:
		return listLowStock(r), true
	case *pb.ReportHoursResponse:
		return reportHours(r, n), true
	case *pb.GetStatusResponse:
		return getStatus(r, n), true
	case *pb.ListJobsResponse:
		return listJobs(r), true
	case *pb.HistoryResponse:
		return history(r, n), true
	case *pb.AmendResponse:
		return amend(r, n), true
	case *pb.UndoResponse:
		return undo(r, n), true
	case *pb.ExplainAnswerResponse:
		return explainAnswer(r, n), true
	case *pb.HelpResponse:
		q, _ := req.(*pb.HelpRequest)
		return help(q, r, n), true
	}
	if r, ok := workedOut(req, resp, n); ok {
		return r, true
	}
	if r, ok := lookedUp(req, resp, n); ok {
		return r, true
	}
	return recorded(resp, n)
}

// lookedUp has one case a question about the plan, the parts, the brief, snags,
// money and reminders.
func lookedUp(req, resp proto.Message, n Names) (Reply, bool) {
	switch r := resp.(type) {
	case *pb.ListNextResponse:
		return listNext(r, n), true
	case *pb.ListHoldsResponse:
		return listHolds(r, n), true
	case *pb.ForecastResponse:
		return forecast(r, n), true
	case *pb.ListPartsResponse:
		q, _ := req.(*pb.ListPartsRequest)
		return listParts(q, r, n), true
	case *pb.GetBriefResponse:
		return getBrief(r, n), true
	case *pb.ListSnagsResponse:
		q, _ := req.(*pb.ListSnagsRequest)
		return listSnags(q, r, n), true
	case *pb.ListExtrasResponse:
		q, _ := req.(*pb.ListExtrasRequest)
		return listExtras(q, r, n), true
	case *pb.ReportMoneyResponse:
		return reportMoney(r, n), true
	case *pb.ListRemindersResponse:
		q, _ := req.(*pb.ListRemindersRequest)
		return listReminders(q, r, n), true
	case *pb.AdviseRepairResponse:
		return adviseRepair(r, n), true
	case *pb.BuildRecordResponse:
		q, _ := req.(*pb.BuildRecordRequest)
		return buildRecord(q, r, n), true
	}
	return Reply{}, false
}

// workedOut has one case a calculation.
func workedOut(req, resp proto.Message, n Names) (Reply, bool) {
	switch r := resp.(type) {
	case *pb.AdjustWrenchResponse:
		q, _ := req.(*pb.AdjustWrenchRequest)
		return adjustWrench(q, r), true
	case *pb.CheckClimateResponse:
		return checkClimate(r), true
	case *pb.SizeCableResponse:
		q, _ := req.(*pb.SizeCableRequest)
		return sizeCable(q, r), true
	case *pb.RoadSpeedResponse:
		q, _ := req.(*pb.RoadSpeedRequest)
		return roadSpeed(q, r), true
	case *pb.ConvertResponse:
		q, _ := req.(*pb.ConvertRequest)
		return convert(q, r), true
	case *pb.SolveFitResponse:
		q, _ := req.(*pb.SolveFitRequest)
		return solveFit(q, r, n), true
	case *pb.PlanMixResponse:
		q, _ := req.(*pb.PlanMixRequest)
		return planMix(q, r), true
	case *pb.CheckEnoughResponse:
		q, _ := req.(*pb.CheckEnoughRequest)
		return checkEnough(q, r, n), true
	case *pb.ListWindowsResponse:
		return listWindows(r, n), true
	}
	return Reply{}, false
}

// recorded has one case a kind of record; Amend shows these again.
func recorded(resp proto.Message, n Names) (Reply, bool) {
	switch r := resp.(type) {
	case *pb.RecordTorqueResponse:
		return recordTorque(r, n), true
	case *pb.SetTorqueResponse:
		return setTorque(r, n), true
	case *pb.RecordGapResponse:
		return recordGap(r, n), true
	case *pb.SetGapResponse:
		return setGap(r, n), true
	case *pb.RecordFindResponse:
		return recordFind(r, n), true
	case *pb.CloseFindResponse:
		return closeFind(r, n), true
	case *pb.RecordUseResponse:
		return recordUse(r, n), true
	case *pb.RecordDeliveryResponse:
		return recordDelivery(r), true
	case *pb.RecordCountResponse:
		return recordCount(r), true
	case *pb.RecordWasteResponse:
		return recordWaste(r), true
	case *pb.AddMaterialResponse:
		return addMaterial(r), true
	case *pb.LogHoursResponse:
		return logHours(r, n), true
	case *pb.RecordCoatResponse:
		return recordCoat(r, n), true
	case *pb.CreateJobResponse:
		return createJob(r), true
	case *pb.AddNoteResponse:
		return addNote(r, n), true
	}
	if r, ok := planned(resp, n); ok {
		return r, true
	}
	return setUp(resp, n)
}

// planned has one case a record about the plan, the parts, the brief, snags,
// extras and reminders.
func planned(resp proto.Message, n Names) (Reply, bool) {
	switch r := resp.(type) {
	case *pb.AddTaskResponse:
		return addTask(r, n), true
	case *pb.StartTaskResponse:
		return startTask(r, n), true
	case *pb.FinishTaskResponse:
		return finishTask(r, n), true
	case *pb.RecordOrderResponse:
		return recordOrder(r, n), true
	case *pb.RecordArrivalResponse:
		return recordArrival(r, n), true
	case *pb.FitPartResponse:
		return fitPart(r, n), true
	case *pb.ReturnPartResponse:
		return returnPart(r, n), true
	case *pb.ChangeDueResponse:
		return changeDue(r, n), true
	case *pb.AddBriefResponse:
		return addBrief(r, n), true
	case *pb.MeetBriefResponse:
		return meetBrief(r, n), true
	case *pb.AddSnagResponse:
		return addSnag(r, n), true
	case *pb.CloseSnagResponse:
		return closeSnag(r, n), true
	case *pb.ProposeExtraResponse:
		return proposeExtra(r, n), true
	case *pb.DecideExtraResponse:
		return decideExtra(r, n), true
	case *pb.RemindResponse:
		return remind(r, n), true
	}
	return Reply{}, false
}

// setUp has one case a record about the shop itself; Undo takes none of these back.
func setUp(resp proto.Message, n Names) (Reply, bool) {
	switch r := resp.(type) {
	case *pb.AddPersonResponse:
		return addPerson(r), true
	case *pb.LinkChannelResponse:
		return linkChannel(r, n), true
	case *pb.AddSupplierResponse:
		return addSupplier(r), true
	case *pb.SetPanelSizeResponse:
		return setPanelSize(r, n), true
	}
	return Reply{}, false
}

// outcome is the answer a record's own RPC would give now; nil when there is none.
func outcome(o *pb.Outcome) proto.Message {
	switch r := o.GetOutcome().(type) {
	case *pb.Outcome_Find:
		return r.Find
	case *pb.Outcome_ClosedFind:
		return r.ClosedFind
	case *pb.Outcome_Torque:
		return r.Torque
	case *pb.Outcome_SetTorque:
		return r.SetTorque
	case *pb.Outcome_Gap:
		return r.Gap
	case *pb.Outcome_SetGap:
		return r.SetGap
	case *pb.Outcome_Use:
		return r.Use
	case *pb.Outcome_Delivery:
		return r.Delivery
	case *pb.Outcome_Counted:
		return r.Counted
	case *pb.Outcome_Waste:
		return r.Waste
	case *pb.Outcome_Hours:
		return r.Hours
	case *pb.Outcome_Note:
		return r.Note
	case *pb.Outcome_CreatedJob:
		return r.CreatedJob
	case *pb.Outcome_AddedMaterial:
		return r.AddedMaterial
	case *pb.Outcome_Coat:
		return r.Coat
	case *pb.Outcome_AddedTask:
		return r.AddedTask
	case *pb.Outcome_StartedTask:
		return r.StartedTask
	case *pb.Outcome_FinishedTask:
		return r.FinishedTask
	case *pb.Outcome_OrderedPart:
		return r.OrderedPart
	case *pb.Outcome_ArrivedPart:
		return r.ArrivedPart
	case *pb.Outcome_FittedPart:
		return r.FittedPart
	case *pb.Outcome_ReturnedPart:
		return r.ReturnedPart
	case *pb.Outcome_ChangedDue:
		return r.ChangedDue
	case *pb.Outcome_AddedBrief:
		return r.AddedBrief
	case *pb.Outcome_MetBrief:
		return r.MetBrief
	case *pb.Outcome_AddedSnag:
		return r.AddedSnag
	case *pb.Outcome_ClosedSnag:
		return r.ClosedSnag
	case *pb.Outcome_ProposedExtra:
		return r.ProposedExtra
	case *pb.Outcome_DecidedExtra:
		return r.DecidedExtra
	case *pb.Outcome_Reminder:
		return r.Reminder
	}
	return nil
}
