package say

import (
	"fmt"

	pb "bayword/proto/bayword/v1"
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
	return "the record", ""
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
