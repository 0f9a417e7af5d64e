package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// convert is «80 N·m = 59 lbf·ft».
func convert(q *pb.ConvertRequest, r *pb.ConvertResponse) Reply {
	return careful(warned(r.GetBasis()), in(figure(q.GetValue()), q.GetValue(), q.GetFrom())+" = "+in(unit.Number(r.GetValue()), r.GetValue(), q.GetTo()))
}

// in puts a unit behind a printed value: «2 imperial pints».
func in(printed string, value float64, symbol string) string {
	u, err := unit.Parse(symbol)
	if err != nil {
		return spaced(printed, short(symbol))
	}
	name := u.String()
	if u.Symbol() == unit.PintUK && value != 1 {
		name += "s"
	}
	return printed + " " + name
}
