package say

import (
	pb "bayword/proto/bayword/v1"
)

// left is «5.5 L left».
func left(s *pb.Stock) string { return amount(s.GetOnHand(), s.GetUnit()) + " left" }

// low is «Low: reorder at 2 L, a pack is 4 L.»; empty when there is enough.
func low(s *pb.Stock) string {
	if !s.GetLow() {
		return ""
	}
	return "Low: " + reorder(s) + "."
}

// reorder is «reorder at 2 L, a pack is 4 L».
func reorder(s *pb.Stock) string {
	pack := ""
	if s.GetPack() > 0 && s.GetPack() != 1 {
		pack = "a pack is " + amount(s.GetPack(), s.GetUnit())
	}
	return comma("reorder at "+amount(s.GetReorderAt(), s.GetUnit()), pack)
}

// batch is «batch 4471, expires 2026-09-01».
func batch(s *pb.Stock) string {
	out := ""
	if s.GetBatch() != "" {
		out = "batch " + plain(s.GetBatch())
	}
	if s.GetExpires() != "" {
		out = comma(out, "expires "+day(s.GetExpires(), true))
	}
	return out
}

// firstOut is «use batch 4471 first, it expires 1 Sep 2026»; without a date to go
// by it is the newest batch.
func firstOut(s *pb.Stock) string {
	if s.GetFirstOutExpires() == "" {
		return batch(s)
	}
	name := "the oldest"
	if s.GetFirstOutBatch() != "" {
		name = "batch " + plain(s.GetFirstOutBatch())
	}
	if s.GetFirstOutExpired() {
		return upper(name) + " is past its date, " + day(s.GetFirstOutExpires(), true) + ": look at it before it is used"
	}
	return "use " + name + " first, it expires " + day(s.GetFirstOutExpires(), true)
}
