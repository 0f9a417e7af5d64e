package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"
)

var extraStates = map[pb.ExtraState]string{
	pb.ExtraState_EXTRA_STATE_PROPOSED: "waiting",
	pb.ExtraState_EXTRA_STATE_AGREED:   "agreed",
	pb.ExtraState_EXTRA_STATE_DECLINED: "declined",
}

// extraOn is «extra 2 on the heron: let in the left rear wing, £1,554».
func extraOn(e *pb.Extra, currency string, n Names) string {
	return fmt.Sprintf("extra %d%s: %s", e.GetNumber(), n.on(e.GetJob()), comma(plain(e.GetText()), money(e.GetPrice(), currency)))
}

// extraItem is «extra 2 let in the left rear wing», with the vehicle if wanted.
func extraItem(e *pb.Extra, withJob bool, n Names) string {
	out := spaced(fmt.Sprintf("extra %d", e.GetNumber()), short(e.GetText()))
	if withJob {
		out += n.on(e.GetJob())
	}
	return out
}

// priced is «22 h × £52 + £410 parts + £30 materials = £1,584».
func priced(e *pb.Extra, currency string) string {
	var parts []string
	if e.GetHours() != 0 {
		parts = append(parts, hours(e.GetHours())+" × "+money(e.GetLabourRate(), currency))
	}
	if e.GetPartsCost() != 0 {
		parts = append(parts, money(e.GetPartsCost(), currency)+" parts")
	}
	if e.GetMaterialsCost() != 0 {
		parts = append(parts, money(e.GetMaterialsCost(), currency)+" materials")
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, " + ") + " = " + money(e.GetPrice(), currency)
}
