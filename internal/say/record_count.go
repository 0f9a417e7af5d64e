package say

import (
	"math"

	pb "bayword/proto/bayword/v1"
)

// recordCount is «38 P80 discs counted. Expected 64: 26 short.»
func recordCount(r *pb.RecordCountResponse) Reply {
	s := r.GetStock()
	return receipt(r.GetReceipt(), spaced(count(r)+".", expectation(r), low(s)))
}

func count(r *pb.RecordCountResponse) string {
	return ofStock(r.GetStock().GetOnHand(), r.GetStock()) + " counted"
}

// expectation compares the count with the ledger, to what prints.
func expectation(r *pb.RecordCountResponse) string {
	u := r.GetStock().GetUnit()
	diff := r.GetStock().GetOnHand() - r.GetExpected()
	out := "Expected " + amount(r.GetExpected(), u)
	switch {
	case math.Abs(diff) < 0.0005:
		return out + ", so it agrees."
	case diff < 0:
		return out + ": " + amount(-diff, u) + " short."
	}
	return out + ": " + amount(diff, u) + " over."
}
