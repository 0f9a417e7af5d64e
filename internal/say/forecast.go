package say

import (
	pb "bayword/proto/bayword/v1"

	"bayword/internal/say/picture"

	"google.golang.org/protobuf/proto"
)

// forecast is the hours and the day as likely as not and in four cases of five,
// then what makes them up and what holds most; hours and plan are drawn as well.
func forecast(r *pb.ForecastResponse, n Names) Reply {
	reply := aheadInWords(r, n)
	drawn, _ := proto.Clone(r).(*pb.ForecastResponse)
	for _, b := range drawn.GetBars() {
		b.Hold = n.days(b.GetHold())
	}
	if png, err := picture.Forecast(drawn); err == nil {
		reply.Picture = png
	}
	return reply
}

func aheadInWords(r *pb.ForecastResponse, n Names) Reply {
	head := upper(n.job(r.GetJob()))
	if head == "" {
		head = "The job"
	}
	soFar := agreedLogged(r.GetLogged(), r.GetEstimate(), r.GetExtras())
	if !(r.GetHours_80() > 0) {
		return careful(warned(r.GetBasis()), head+": nothing on record is left to do, "+soFar+".", subject("Late parts", lateParts(r.GetLate(), false, n)))
	}
	var stages []string
	for _, s := range r.GetStages() {
		if s.GetToCome_80() > 0 {
			stages = append(stages, spaced(short(s.GetStage()), hourSpan(s.GetToCome_50(), s.GetToCome_80())+" h"))
		}
	}
	toCome := ""
	if len(stages) > 0 {
		toCome = "To come: " + some(stages, 6) + "."
	}
	return careful(warned(r.GetBasis()),
		head+", "+soFar+".",
		"As likely as not (50 %): "+ahead(r.GetHours_50(), r.GetFinish_50(), n)+".",
		"Fairly sure (80 %): "+ahead(r.GetHours_80(), r.GetFinish_80(), n)+".",
		toCome,
		biggestHold(r.GetBars(), n),
		subject("Late parts", lateParts(r.GetLate(), false, n)),
		assumed(&pb.Basis{Assumptions: first(r.GetBasis().GetAssumptions(), 2)}),
	)
}

// ahead is «412 h to come, done Fri 4 Sep».
func ahead(h float64, finish string, n Names) string {
	out := aboutHours(h) + " h to come"
	if finish != "" {
		out += ", done " + n.day(finish)
	}
	return out
}

// hourSpan is «60–75», or one figure when both print alike.
func hourSpan(low, high float64) string {
	l, h := aboutHours(low), aboutHours(high)
	if l == h {
		return l
	}
	return l + "–" + h
}

// biggestHold is the held task the finish hangs on most often.
func biggestHold(bars []*pb.PlanBar, n Names) string {
	var most *pb.PlanBar
	for _, b := range bars {
		if b.GetHold() != "" && (most == nil || b.GetCritical() > most.GetCritical()) {
			most = b
		}
	}
	if most == nil {
		return ""
	}
	return "Biggest hold: " + n.days(short(most.GetHold())) + ", for " + taskName(most.GetTask()) + "."
}

// first is at most so many of a list.
func first(items []string, most int) []string { return items[:min(most, len(items))] }
