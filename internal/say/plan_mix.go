package say

import (
	"math"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/unit"
)

// planMix is «600 ml epoxy primer + 300 ml epoxy hardener = 900 ml, 2:1 by volume.»
func planMix(q *pb.PlanMixRequest, r *pb.PlanMixResponse) Reply {
	parts := make([]string, len(r.GetParts()))
	for i, p := range r.GetParts() {
		parts[i] = litres(p.GetAmountL()) + " " + partName(p)
	}
	if len(parts) == 0 {
		parts = []string{litres(r.GetTotalL()) + " " + named(r.GetName(), r.GetMaterial())}
	}
	head := cut(strings.Join(parts, " + "), maxSaid)
	if len(parts) > 1 {
		head += " = " + litres(r.GetTotalL())
	}
	if r.GetRatio() != "" {
		head += ", " + short(r.GetRatio()) + " by volume"
	}
	lines := []string{head + "."}
	if r.GetLowL() > 0 {
		lines = append(lines, "For "+painted(q.GetCoats(), q.GetPanels())+". If little is lost, "+litres(r.GetLowL())+" does.")
	}
	lines = append(lines, shorts(r.GetParts()))
	if r.GetPotLifeMin() > 0 {
		lines = append(lines, "Pot life "+minutes(r.GetPotLifeMin())+".")
	}
	return careful(warned(r.GetBasis()), append(lines, kept(r.GetBasis(), "one side", "no pot life"))...)
}

// litres is «600 ml» below a litre, «1.33 L» from there on.
func litres(l float64) string {
	ml := l * 1000
	switch {
	case !(math.Abs(ml) < 999.5): // not a number included
		return unit.Number(l) + " L"
	case math.Abs(ml) < 10:
		return unit.Number(ml) + " ml"
	}
	return unit.Number(math.Round(ml)) + " ml"
}

// minutes is «45 min» or «4 h».
func minutes(m float64) string {
	if m >= 120 {
		return unit.Number(m/60) + " h"
	}
	return unit.Number(m) + " min"
}

func partName(p *pb.MixPart) string { return named(p.GetName(), p.GetMaterial()) }

// named is a name, else the id.
func named(name, id string) string {
	if name != "" {
		return short(name)
	}
	return short(id)
}

// shorts is «Short: 200 ml epoxy hardener (1.4 L there).»; empty when all is there.
func shorts(parts []*pb.MixPart) string {
	var out []string
	for _, p := range parts {
		if p.GetShortL() > 0 {
			out = append(out, litres(p.GetShortL())+" "+partName(p)+" ("+litres(p.GetOnHandL())+" there)")
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "Short: " + some(out, 5) + "."
}

// painted is «2 coats on the bonnet and roof».
func painted(coats uint32, panels []string) string {
	out := plural(int(coats), "coat", "coats")
	if where := onPanels(panels); where != "" {
		out += " on the " + where
	}
	return out
}

func onPanels(panels []string) string {
	names := make([]string, 0, len(panels))
	for _, p := range panels {
		if s := short(p); s != "" {
			names = append(names, s)
		}
	}
	return cut(and(names), maxSaid)
}
