package say

import (
	"fmt"
	"slices"
	"strings"

	pb "bayword/proto/bayword/v1"

	"bayword/internal/say/picture"

	"google.golang.org/protobuf/proto"
)

// forecast is the day as likely as not and in four cases of five, then the hours to
// come and what holds most; hours and plan are drawn as well.
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
	late := subject("Late parts", lateParts(r.GetLate(), false, n))
	if !(r.GetHours_80() > 0) {
		return careful(warned(r.GetBasis()), head+": nothing on record is left to do, "+soFar(r)+".", late)
	}
	var stages []string
	for _, s := range r.GetStages() {
		if s.GetToCome_80() > 0 {
			stages = append(stages, spaced(short(s.GetStage()), hourSpan(s.GetToCome_50(), s.GetToCome_80())))
		}
	}
	toCome := hourSpan(r.GetHours_50(), r.GetHours_80()) + " h to come"
	if len(stages) > 0 {
		toCome += " (" + some(stages, 6) + ")"
	}
	var finish string
	if r.GetFinish_50() != "" && r.GetFinish_80() != "" {
		finish = "done " + n.day(r.GetFinish_50()) + " as likely as not (50 %), by " + n.day(r.GetFinish_80()) + " fairly sure (80 %)"
	} else {
		finish = aboutHours(r.GetHours_50()) + " h to come as likely as not (50 %), " + aboutHours(r.GetHours_80()) + " h fairly sure (80 %)"
	}
	return careful(warned(r.GetBasis()),
		head+": "+finish+".",
		upper(toCome)+"; "+soFar(r)+".",
		biggestHold(r.GetBars(), n),
		late,
		kept(shared(r.GetBasis()), "days with other vehicles", "hours a working day", "has no estimate", "past its estimate"),
	)
}

// shared says of all people at once that they share their days.
func shared(b *pb.Basis) *pb.Basis {
	var names, rest []string
	for _, a := range b.GetAssumptions() {
		if name, _, ok := strings.Cut(a, " shares the day evenly with "); ok {
			names = append(names, name)
		} else {
			rest = append(rest, a)
		}
	}
	switch len(names) {
	case 0:
	case 1:
		rest = append([]string{names[0] + " shares the days with other vehicles"}, rest...)
	default:
		rest = append([]string{and(names) + " share their days with other vehicles"}, rest...)
	}
	return &pb.Basis{Assumptions: rest}
}

// soFar is «167.5 h logged of 690 estimated»; an estimate of some stages alone is
// nothing to hold the hours of all against.
func soFar(r *pb.ForecastResponse) string {
	logged := hours(r.GetLogged()) + " logged"
	if slices.ContainsFunc(r.GetStages(), func(s *pb.StageForecast) bool { return s.GetLogged()+s.GetToCome_80() > 0 && s.GetEstimate() <= 0 }) {
		return logged + ", not every stage has an estimate"
	}
	switch over := r.GetLogged() - r.GetEstimate(); {
	case r.GetEstimate() <= r.GetExtras():
		return agreedLogged(r.GetLogged(), r.GetEstimate(), r.GetExtras())
	case over > 0:
		return logged + " of " + agreedHours(r.GetEstimate(), r.GetExtras()) + ", " + figure(over) + " over"
	}
	return logged + " of " + agreedHours(r.GetEstimate(), r.GetExtras())
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
	hold, rest, several := strings.Cut(most.GetHold(), "; ")
	more := ""
	if several {
		more = fmt.Sprintf(", and %d more", 1+strings.Count(rest, "; "))
	}
	return "Biggest hold: " + n.days(short(hold)) + more + ", for " + taskName(most.GetTask()) + "."
}

// first is at most so many of a list.
func first(items []string, most int) []string { return items[:min(most, len(items))] }
