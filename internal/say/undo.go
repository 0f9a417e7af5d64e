package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
)

// undo is «Taken back: 0.5 L clearcoat used on the osmere. 6 L left.»
func undo(r *pb.UndoResponse, n Names) Reply {
	what, now := takenBack(r.GetUndone(), n)
	return receipt(r.GetReceipt(), spaced("Taken back: "+what+".", now))
}

// takenBack is what a record said, and the figure as it is without it.
func takenBack(o *pb.Outcome, n Names) (what, now string) {
	switch r := outcome(o).(type) {
	case *pb.RecordFindResponse:
		f := r.GetFind()
		return fmt.Sprintf("find %d%s, %s", f.GetNumber(), n.on(f.GetJob()), found(f)), ""
	case *pb.CloseFindResponse:
		return findClosed(r, n), stillOpen(r)
	case *pb.RecordTorqueResponse:
		return "sign-off of " + signedOff(r, n), ""
	case *pb.SetTorqueResponse:
		ref := r.GetReference()
		return comma("book torque of "+plain(ref.GetFastener())+n.on(ref.GetJob()), newtonMetres(ref.GetTorqueNm())), inForceTorque(r.GetReplaced(), n)
	case *pb.RecordGapResponse:
		return gapTaken(r, n), ""
	case *pb.SetGapResponse:
		return "target of " + gapSet(r.GetReference(), n), inForceGap(r.GetReplaced(), n)
	case *pb.RecordUseResponse:
		return used(r, n), left(r.GetStock()) + "."
	case *pb.RecordDeliveryResponse:
		return delivered(r), left(r.GetStock()) + "."
	case *pb.RecordCountResponse:
		return "count of " + stockName(r.GetStock()), left(r.GetStock()) + "."
	case *pb.RecordWasteResponse:
		return wasted(r), left(r.GetStock()) + "."
	case *pb.LogHoursResponse:
		return logged(r, n), sentence(stageNow(r.GetStage()))
	case *pb.RecordCoatResponse:
		return coated(r.GetWindows().GetCoat(), n), ""
	case *pb.AddNoteResponse:
		return "note" + noted(r.GetNote(), n), ""
	case *pb.CreateJobResponse:
		return "the vehicle " + takenIn(r.GetJob()), ""
	case *pb.AddMaterialResponse:
		return "the material " + materialAdded(r.GetStock()), ""
	}
	return unplanned(outcome(o), n)
}

// unplanned is takenBack for the plan, the parts, the brief, snags, extras and
// reminders.
func unplanned(m proto.Message, n Names) (what, now string) {
	switch r := m.(type) {
	case *pb.AddTaskResponse:
		return taskAdded(r.GetTask(), n), ""
	case *pb.StartTaskResponse:
		return "the start of " + taskAdded(r.GetTask(), n), taskNow(r.GetTask())
	case *pb.FinishTaskResponse:
		return "the end of " + taskAdded(r.GetTask(), n), taskNow(r.GetTask())
	case *pb.RecordOrderResponse:
		return "the order of " + partNamed(r.GetPart(), n), ""
	case *pb.RecordArrivalResponse:
		return "the arrival of " + partNamed(r.GetPart(), n), partLeft(r.GetPart(), n)
	case *pb.FitPartResponse:
		return "the fitting of " + partNamed(r.GetPart(), n), partLeft(r.GetPart(), n)
	case *pb.ReturnPartResponse:
		return "the return of " + partNamed(r.GetPart(), n), partLeft(r.GetPart(), n)
	case *pb.ChangeDueResponse:
		return "the new due day of " + partNamed(r.GetPart(), n), partLeft(r.GetPart(), n)
	case *pb.AddBriefResponse:
		return briefLine(r.GetJob(), r.GetLine(), n) + ": " + quoted(r.GetLine().GetText()), ""
	case *pb.MeetBriefResponse:
		return briefMet(r, n), unmet(r.GetStillOpen())
	case *pb.AddSnagResponse:
		return snagOn(r.GetSnag(), n) + ": " + plain(r.GetSnag().GetText()), ""
	case *pb.CloseSnagResponse:
		return snagClosed(r.GetSnag(), n), snagsOpen(r.GetStillOpen())
	case *pb.ProposeExtraResponse:
		return extraOn(r.GetExtra(), r.GetCurrency(), n), ""
	case *pb.DecideExtraResponse:
		return "decision on " + extraOn(r.GetExtra(), r.GetCurrency(), n), spaced(decision(r.GetExtra()), agreedNow(r, n))
	case *pb.RemindResponse:
		return "reminder for " + reminder(r.GetReminder(), n), ""
	}
	return "the record", ""
}

// partNamed is «rear wing panel, left, the heron»; of a part that stands no more
// its number alone may be known.
func partNamed(p *pb.Part, n Names) string {
	if p.GetPart() == "" {
		return partOn(p, n)
	}
	return comma(partCalled(p), n.job(p.GetJob()))
}

// partLeft is where a part is without the record: «Now: due Thu 12 Mar.»;
// empty when there is no such part then.
func partLeft(p *pb.Part, n Names) string {
	if partStates[p.GetState()] == "" {
		return ""
	}
	return "Now: " + partNow(p, n) + "."
}

func inForceTorque(ref *pb.TorqueReference, n Names) string {
	if ref == nil {
		return "Nothing on record there now."
	}
	return "Back to " + newtonMetres(ref.GetTorqueNm()) + " (" + bookSource(ref, n) + ")."
}

func inForceGap(ref *pb.GapReference, n Names) string {
	if ref == nil {
		return "Nothing on record there now."
	}
	return "Back to " + target(ref) + " (" + gapSource(ref, n) + ")."
}
