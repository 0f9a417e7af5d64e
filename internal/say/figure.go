package say

import (
	"math"
	"slices"
	"strconv"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// figure prints a number as it was recorded: up to three decimals, no trailing
// zeros. unit.Number rounds to what a reading is worth, which is right for a
// computed value but would lose a quarter of an hour here.
func figure(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) >= 1e9 || (v != 0 && math.Abs(v) < 0.0005) {
		return unit.Number(v)
	}
	s := strconv.FormatFloat(v, 'f', 3, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// signed is figure with its sign: «+0.5», «-0.3», «0».
func signed(v float64) string {
	if v > 0 {
		return "+" + figure(v)
	}
	return figure(v)
}

// figures joins numbers by commas.
func figures(values []float64, print func(float64) string) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = print(v)
	}
	return strings.Join(parts, ", ")
}

// newtonMetres is «81 N·m (59.7 lbf·ft)».
func newtonMetres(nm float64) string { return unit.Format(nm, unit.NM) }

// amount is «0.5 L», «3.1 m²», or the bare number of what is counted.
func amount(v float64, u string) string {
	switch u {
	case "", "each":
		return figure(v)
	case "m2":
		return figure(v) + " m²"
	}
	return figure(v) + " " + plain(u)
}

// ofStock is an amount of a material: «0.5 L clearcoat», «7 seam sealer», and
// «1 m² of 1.2 mm steel sheet», where two numbers would meet.
func ofStock(v float64, s *pb.Stock) string {
	return counts(amount(v, s.GetUnit()), stockName(s))
}

func counts(quantity, name string) string {
	if name != "" && name[0] >= '0' && name[0] <= '9' {
		return quantity + " of " + name
	}
	return quantity + " " + name
}

// stockName is the material's name, else its id.
func stockName(s *pb.Stock) string {
	if s.GetName() != "" {
		return plain(s.GetName())
	}
	return plain(s.GetMaterial())
}

// hours is «3.5 h».
func hours(v float64) string { return figure(v) + " h" }

// ofEstimate is «100.5 of 180 h», or «100.5 h, no estimate», and how far over.
func ofEstimate(logged, estimate float64) string {
	switch {
	case estimate <= 0:
		return hours(logged) + ", no estimate"
	case logged > estimate:
		return figure(logged) + " of " + hours(estimate) + ", " + figure(logged-estimate) + " over"
	}
	return figure(logged) + " of " + hours(estimate)
}

// ofAgreed is «100.5 of 190 h (180 + 10 extra)»; with extras alone there is no
// estimate to hold the hours against: «23 h, no estimate, 7 h of agreed extras».
func ofAgreed(logged, agreed, extras float64) string {
	switch {
	case extras > 0 && agreed <= extras:
		return ofEstimate(logged, 0) + ", " + hours(extras) + " of agreed extras"
	case extras > 0:
		return ofEstimate(logged, agreed) + " (" + figure(agreed-extras) + " + " + figure(extras) + " extra)"
	}
	return ofEstimate(logged, agreed)
}

// agreedLogged is «100.5 of 190 h logged», or «23 h logged, no estimate, 7 h of
// agreed extras».
func agreedLogged(logged, agreed, extras float64) string {
	switch {
	case agreed > extras:
		return ofEstimate(logged, agreed) + " logged"
	case extras > 0:
		return hours(logged) + " logged, no estimate, " + hours(extras) + " of agreed extras"
	}
	return hours(logged) + " logged, no estimate"
}

// ofStage is ofEstimate for one stage of several; where none has an estimate it says
// the hours alone.
func ofStage(s *pb.StageHours, all []*pb.StageHours) string {
	if !slices.ContainsFunc(all, func(s *pb.StageHours) bool { return s.GetEstimate() > 0 }) {
		return plain(s.GetStage()) + " " + hours(s.GetLogged())
	}
	return plain(s.GetStage()) + " " + ofAgreed(s.GetLogged(), s.GetEstimate(), s.GetExtras())
}

// tolerance is «4 ± 0.5 mm», or «4 mm» when none is set.
func tolerance(target, allowed float64) string {
	if allowed <= 0 {
		return figure(target) + " mm"
	}
	return figure(target) + " ± " + figure(allowed) + " mm"
}
