package say

import (
	pb "bayword/proto/bayword/v1"
)

// addNote is «Noted on the heron, left door: “…”»
func addNote(r *pb.AddNoteResponse, n Names) Reply {
	return receipt(r.GetReceipt(), "Noted"+noted(r.GetNote(), n))
}

func noted(t *pb.Note, n Names) string {
	where := n.on(t.GetJob())
	if t.GetPanel() != "" {
		where = comma(where, place(t.GetPanel(), t.GetSide(), pb.End_END_UNSPECIFIED))
		if t.GetJob() == "" {
			where = " on the " + where
		}
	}
	return where + ": “" + plain(t.GetText()) + "”"
}
