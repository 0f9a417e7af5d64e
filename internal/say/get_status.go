package say

import (
	"fmt"
	"strings"

	pb "bayword/proto/bayword/v1"
)

// getStatus is where a vehicle is, a line a subject.
func getStatus(r *pb.GetStatusResponse, n Names) Reply {
	j := r.GetJob()
	var logged, agreed, extras float64
	var stages []string
	for _, s := range r.GetStages() {
		logged += s.GetLogged()
		agreed += s.GetEstimate()
		extras += s.GetExtras()
		stages = append(stages, ofStage(s, r.GetStages()))
	}
	finds := make([]string, len(r.GetOpenFinds()))
	for i, f := range r.GetOpenFinds() {
		finds[i] = spaced(fmt.Sprint(f.GetNumber()), place(f.GetPanel(), f.GetSide(), f.GetEnd()), findKinds[f.GetKind()], size(f))
	}
	late := make([]string, len(r.GetLateParts()))
	for i, p := range r.GetLateParts() {
		late[i] = n.days(p)
	}
	hoursLine := ""
	if len(stages) > 0 {
		hoursLine = "Hours: " + ofAgreed(logged, agreed, extras) + ". " + upper(some(stages, 6)) + "."
	}
	return text(
		upper(comma(plain(j.GetId())+": in "+plain(j.GetStage()), bay(j), vehicle(j), plain(j.GetCustomer())))+".",
		hoursLine,
		subject("Being done", r.GetDoing()),
		subject("Open finds", finds),
		subject("Late parts", late),
		subject("Extras waiting on the customer", r.GetWaitingExtras()),
		subject("Open snags", r.GetOpenSnags()),
	)
}

// vehicle is «1964 Tarrant Heron, two-door coupe».
func vehicle(j *pb.Job) string {
	year := ""
	if j.GetYear() > 0 {
		year = fmt.Sprint(j.GetYear())
	}
	return comma(spaced(year, plain(j.GetMake()), plain(j.GetModel())), plain(j.GetBody()))
}

func bay(j *pb.Job) string {
	if j.GetBay() == 0 {
		return ""
	}
	return fmt.Sprintf("bay %d", j.GetBay())
}

// subject is «Open finds (3): 1 left sill hole; …»; empty when there is nothing.
func subject(label string, items []string) string {
	if len(items) == 0 {
		return ""
	}
	shortened := make([]string, len(items))
	for i, it := range items {
		shortened[i] = short(it)
	}
	return fmt.Sprintf("%s (%d): %s.", label, len(items), some(shortened, 5))
}

// some joins the first few and says how many more there are.
func some(items []string, most int) string {
	if more := len(items) - most; more > 0 {
		return strings.Join(items[:most], "; ") + fmt.Sprintf("; … and %d more", more)
	}
	return strings.Join(items, "; ")
}
