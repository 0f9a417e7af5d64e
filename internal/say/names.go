package say

import (
	"regexp"
	"slices"
	"time"

	pb "bayword/proto/bayword/v1"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"
)

// Names is what a reply needs to call things as the shop does. The zero Names
// works: ids are shown as they are and times in UTC.
type Names struct {
	Zone      *time.Location      // zone times are shown in; nil means UTC
	Jobs      map[string]string   // job id → how to call it, «the heron»
	Bodies    map[string]string   // job id → its body, «two-door coupe»
	People    map[string]string   // person id → name
	Leads     []string            // names of those who may do all
	Materials map[string]Material // material id → name and unit
	Examples  map[string][]string // kind (RPC name) → sentences that mean it, best first

	now time.Time // when the request being answered was made; zero when nobody said
}

// Material is how a material is called and counted.
type Material struct {
	Name string
	Unit string // "L", "kg", "m2", "each"
}

// NamesFrom takes the names from the shop's vocabulary. Examples are the
// caller's to add. A zone this machine does not know counts as UTC.
func NamesFrom(v *pb.GetVocabularyResponse) Names {
	n := Names{
		Zone:      time.UTC,
		Jobs:      make(map[string]string, len(v.GetJobs())),
		Bodies:    make(map[string]string, len(v.GetJobs())),
		People:    make(map[string]string, len(v.GetPeople())),
		Materials: make(map[string]Material, len(v.GetMaterials())),
	}
	if z, err := time.LoadLocation(v.GetTimeZone()); err == nil {
		n.Zone = z
	}
	for _, j := range v.GetJobs() {
		n.Jobs[j.GetId()] = "the " + j.GetId()
		n.Bodies[j.GetId()] = j.GetBody()
	}
	for _, p := range v.GetPeople() {
		n.People[p.GetId()] = p.GetName()
		if p.GetRole() == "lead" {
			n.Leads = append(n.Leads, p.GetName())
		}
	}
	for _, m := range v.GetMaterials() {
		n.Materials[m.GetId()] = Material{Name: m.GetName(), Unit: m.GetUnit()}
	}
	return n
}

// job is how to call a job: «the heron»; empty for none.
func (n Names) job(id string) string {
	if id == "" {
		return ""
	}
	if called := n.Jobs[id]; called != "" {
		return plain(called)
	}
	return "the " + plain(id)
}

// on is « on the heron», or nothing for no job.
func (n Names) on(job string) string {
	if job == "" {
		return ""
	}
	return " on " + n.job(job)
}

// person is a person's name, or the id of one the shop does not know.
func (n Names) person(id string) string {
	if name := n.People[id]; name != "" {
		return plain(name)
	}
	return plain(id)
}

// people is «Wren, Idris and Jonah».
func (n Names) people(ids []string) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = n.person(id)
	}
	return and(names)
}

// material is a material's name.
func (n Names) material(id string) string {
	if m := n.Materials[id]; m.Name != "" {
		return plain(m.Name)
	}
	return plain(id)
}

// lead is who may set references: «Wren», or «the lead» when nobody is named.
func (n Names) lead() string {
	if len(n.Leads) == 0 {
		return "the lead"
	}
	names := make([]string, len(n.Leads))
	for i, name := range n.Leads {
		names[i] = plain(name)
	}
	return or(names)
}

// date is «10 Mar 2026» in the shop's zone; empty when there is none.
func (n Names) date(at *timestamppb.Timestamp) string { return n.show(at, "2 Jan 2006") }

// moment is «Tue 10 Mar 10:15» in the shop's zone, with the year when it is another
// one; empty when there is none.
func (n Names) moment(at *timestamppb.Timestamp) string {
	if at == nil || at.CheckValid() != nil {
		return ""
	}
	return at.AsTime().In(n.zone()).Format(n.layout(at.AsTime()))
}

// layout is that of a moment: with the year when it is not that of now.
func (n Names) layout(t time.Time) string {
	if !n.now.IsZero() && t.In(n.zone()).Year() == n.now.In(n.zone()).Year() {
		return "Mon 2 Jan 15:04"
	}
	return "Mon 2 Jan 2006 15:04"
}

// when is a time as near to now as it is: «19:30», «Wed 11 Mar 01:30»; empty when
// there is none.
func (n Names) when(at *timestamppb.Timestamp) string {
	if at == nil || at.CheckValid() != nil {
		return ""
	}
	return n.near(at.AsTime())
}

func (n Names) near(t time.Time) string {
	t, now := t.In(n.zone()), n.now.In(n.zone())
	if !n.now.IsZero() && t.Format(time.DateOnly) == now.Format(time.DateOnly) {
		return t.Format("15:04")
	}
	return t.Format(n.layout(t))
}

// isoDay is a day as the service writes it, isoTime the time that may follow.
var (
	isoDay  = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)
	isoTime = regexp.MustCompile(`\b(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})\b`)
)

// day shows a day given as 2026-03-10: «Tue 10 Mar», with the year when it is
// another one. What is no such day is shown as it is.
func (n Names) day(s string) string {
	d, err := time.Parse(time.DateOnly, s)
	if err == nil && !n.now.IsZero() && d.Year() != n.now.In(n.zone()).Year() {
		return d.Format("Mon 2 Jan 2006")
	}
	return day(s, false)
}

// days shows the days inside a text of the service's, with their times. Where
// nobody said when now is, days of several years are shown with theirs.
func (n Names) days(s string) string {
	s = isoTime.ReplaceAllString(s, "$1 $2")
	found := isoDay.FindAllString(s, -1)
	if n.now.IsZero() && slices.ContainsFunc(found, func(d string) bool { return d[:4] != found[0][:4] }) {
		return isoDay.ReplaceAllStringFunc(s, func(d string) string {
			if t, err := time.Parse(time.DateOnly, d); err == nil {
				return t.Format("Mon 2 Jan 2006")
			}
			return d
		})
	}
	return isoDay.ReplaceAllStringFunc(s, n.day)
}

// dated is a receipt with the days in its warnings shown.
func (n Names) dated(r *pb.Receipt) *pb.Receipt {
	out, _ := proto.Clone(r).(*pb.Receipt)
	for i, w := range out.GetWarnings() {
		out.Warnings[i] = n.days(w)
	}
	return out
}

func (n Names) zone() *time.Location {
	if n.Zone == nil {
		return time.UTC
	}
	return n.Zone
}

func (n Names) show(at *timestamppb.Timestamp, layout string) string {
	if at == nil || at.CheckValid() != nil {
		return ""
	}
	return at.AsTime().In(n.zone()).Format(layout)
}

// by is «set by Wren, 10 Mar 2026»; empty for what was imported.
func (n Names) by(verb, person string, at *timestamppb.Timestamp) string {
	if person == "" {
		return ""
	}
	out := verb + " by " + n.person(person)
	if d := n.date(at); d != "" {
		out += ", " + d
	}
	return out
}
