package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// dust is the caution of everything that leads to sanding. Common practice, no source.
const dust = "Mask on and extraction running."

// Notice puts what the shop tells by itself into words, as of the time it is due.
// It is false for a kind it has no words for.
func Notice(v *pb.Notice, names Names) (Reply, bool) {
	if v.GetAt().IsValid() {
		names.now = v.GetAt().AsTime()
	}
	coat := upper(coated(v.GetWindows().GetCoat(), names))
	switch v.GetKind() {
	case pb.NoticeKind_NOTICE_KIND_REMINDER:
		head := "Reminder"
		if v.GetPerson() != "" && v.GetChannel() != "dm" {
			head += " for " + names.person(v.GetPerson()) // several read a channel
		}
		return text(comma(head, names.job(v.GetJob())) + ": " + stopped(v.GetText())), true
	case pb.NoticeKind_NOTICE_KIND_POT_LIFE:
		// Common practice, no source.
		return text("The mix goes off"+timed(" by ", names.when(v.GetWindows().GetPotLifeEnds()))+".", coat+".", "What is left in the pot can get hot as it sets: no closed tin, and nothing that burns beside it."), true
	case pb.NoticeKind_NOTICE_KIND_RECOAT_CLOSES:
		return text("The recoat window closes"+timed(" at ", names.when(v.GetWindows().GetRecoatUntil()))+"; after that, sand first.", coat+".", dust), true
	case pb.NoticeKind_NOTICE_KIND_SAND:
		return text("May be sanded now.", coat+".", dust), true
	case pb.NoticeKind_NOTICE_KIND_PART_DUE:
		return text(orElse(subject("Due today", dueParts(v.GetParts(), names)), "A part is due today."), waitingFor(v.GetParts())), true
	case pb.NoticeKind_NOTICE_KIND_MORNING:
		return morning(v, names), true
	}
	return Reply{}, false
}

func timed(before, at string) string {
	if at == "" {
		return " soon"
	}
	return before + at
}

// dueParts is «part 3 propshaft, the pilot, Fenwright Fasteners», one each.
func dueParts(parts []*pb.Part, n Names) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = comma(spaced(fmt.Sprintf("part %d", p.GetNumber()), partCalled(p)), n.job(p.GetJob()), short(p.GetSupplier()))
	}
	return out
}

// waitingFor is what waits for the one part a notice is about.
func waitingFor(parts []*pb.Part) string {
	if len(parts) != 1 {
		return ""
	}
	return waiting(parts[0])
}

// morning is the note to the lead: late, due today, waiting for the customer.
func morning(v *pb.Notice, n Names) Reply {
	waits := make([]string, len(v.GetWaiting()))
	for i, e := range v.GetWaiting() {
		waits[i] = extraItem(e, true, n)
	}
	hello := "Morning"
	if v.GetPerson() != "" {
		hello = comma(hello, n.person(v.GetPerson()))
	}
	lines := []string{
		subject("Late parts", lateParts(v.GetParts(), true, n)),
		subject("Due today", dueParts(v.GetDue(), n)),
		subject("Extras waiting for the customer", waits),
	}
	if strings.Join(lines, "") == "" {
		return text(hello + ": no part is late or due today, and no extra waits.")
	}
	return text(append([]string{hello + "."}, lines...)...)
}
