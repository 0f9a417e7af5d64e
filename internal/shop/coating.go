package shop

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Coat is paint put on, and who said so.
type Coat struct {
	CoatRecorded
	Said
}

// Film tells whether the sheet says how thick a coat is and how much of it stays.
func (p *PaintData) Film() bool { return p != nil && p.SolidsPct > 0 && p.DFTPerCoat > 0 }

// Mixed tells whether the material is mixed by a ratio.
func (p *PaintData) Mixed() bool { return p != nil && p.Mix != "" }

// coated tells whether a material is put on in coats: a paint is, and so is what
// comes in litres, as cavity wax does, and is not there to be mixed with others.
func (s *State) coated(m *material) bool {
	if m.Paint.Mixed() || m.Paint.Film() {
		return true
	}
	return m.Unit == "L" && !called(m.MaterialAdded, mixedIn...) && !slices.ContainsFunc(s.materials[1:], func(other *material) bool {
		return !other.gone && other.Paint.Mixed() && slices.Contains(other.Paint.With, m.ID)
	})
}

// mixedIn are words of what is mixed with others.
var mixedIn = []string{"hardener", "activator", "catalyst", "thinner", "reducer"}

// Mixable gives a material that has a ratio; the refusal of another names those
// that have one.
func (s *State) Mixable(id string) (Stock, error) {
	return s.only(id, func(m *material) bool { return m.Paint.Mixed() })
}

// Filmed gives a material whose film is on record; the refusal of another names
// those whose is.
func (s *State) Filmed(id string) (Stock, error) {
	return s.only(id, func(m *material) bool { return m.Paint.Film() })
}

// only gives a material that is what is asked; the refusal of another names those
// that are.
func (s *State) only(id string, is func(*material) bool) (Stock, error) {
	m, err := s.material(id)
	if err != nil {
		return Stock{}, err
	}
	if !is(m) {
		var ids []string
		for _, other := range s.materials[1:] {
			if !other.gone && is(other) {
				ids = append(ids, other.ID)
			}
		}
		return Stock{}, outOfRange("material", id, joined(ids))
	}
	return s.stock(m), nil
}

// Components gives what is poured for a material: itself first, then what it is
// mixed with.
func (s *State) Components(m MaterialAdded) ([]Stock, error) {
	ids := []string{m.ID}
	if m.Paint.Mixed() {
		ids = append(ids, m.Paint.With...)
	}
	parts := make([]Stock, 0, len(ids))
	for _, id := range ids {
		part, err := s.Stock(id)
		if err != nil {
			return nil, err
		}
		parts = append(parts, part)
	}
	return parts, nil
}

// TwoPack tells whether a material is mixed with a hardener. What is not known to
// be a thinner counts as one: a caution too many hurts nobody.
func (s *State) TwoPack(id string) bool {
	m, err := s.material(id)
	if err != nil || !m.Paint.Mixed() {
		return false
	}
	return slices.ContainsFunc(m.Paint.With, func(with string) bool {
		other, err := s.material(with)
		return err != nil || !called(other.MaterialAdded, "thinner", "reducer") || called(other.MaterialAdded, "hardener", "activator", "catalyst")
	})
}

// Paints tells whether a product's sheet of a paint is on record for a material:
// cavity wax has none, and hides no coat below it.
func (s *State) Paints(id string) bool {
	m, err := s.material(id)
	return err == nil && m.Paint != nil
}

// called tells whether one of the words is part of a material's id or name.
func called(m MaterialAdded, words ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(m.ID+" "+strings.ToLower(m.Name), w) })
}

// Primer tells whether a material is a primer by its name.
func (m MaterialAdded) Primer() bool { return called(m, "primer", "surfacer") }

// Area gives the outer area of each panel in m²: as the job has it, or else the
// shop. A refusal names the panels whose area is known.
func (s *State) Area(job string, panels []string) ([]float64, error) {
	if job != "" {
		if _, err := s.job(job); err != nil {
			return nil, err
		}
	}
	if err := checkPanels(panels); err != nil {
		return nil, err
	}
	known := map[string]float64{}
	for _, of := range []string{"", job} {
		for _, a := range s.areas {
			if a.Job == of {
				known[a.Panel] = a.M2
			}
		}
	}
	areas := make([]float64, len(panels))
	for i, p := range panels {
		v, ok := known[p]
		if !ok {
			var names []string
			for name := range known {
				names = append(names, name)
			}
			slices.Sort(names)
			return nil, outOfRange("panels", p, joined(names))
		}
		areas[i] = v
	}
	return areas, nil
}

// checkPanels refuses what is no panel, and one that is named twice.
func checkPanels(names []string) error {
	for i, p := range names {
		if _, ok := panels[p]; !ok {
			return refuse(UnknownName, "field", "panels", "value", p, "accepted", joined(Panels()))
		}
		if slices.Contains(names[:i], p) {
			return outOfRange("panels", p+" twice", "each panel once")
		}
	}
	return nil
}

// CheckCoats refuses a number of coats that cannot be.
func CheckCoats(n int) error { return coatsSpan.check(float64(n)) }

// NewCoat asks to record paint put on.
type NewCoat struct {
	Job, Material string
	Panels        []string
	Coats         *int
	At            string // when the last one was finished, local, as 2026-03-10T14:00; empty means now
	Temperature   *float64
}

// DecideCoat decides the recording of paint put on. now is in the shop's time zone.
func (s *State) DecideCoat(by string, now time.Time, r NewCoat) (Decision, error) {
	if err := s.may(by, taskRecordCoat); err != nil {
		return Decision{}, err
	}
	return s.decideCoat(now, r)
}

func (s *State) decideCoat(now time.Time, r NewCoat) (Decision, error) {
	err := missing(need{"job", r.Job != ""}, need{"material", r.Material != ""}, need{"panels", len(r.Panels) > 0}, need{"coats", r.Coats != nil})
	if err != nil {
		return Decision{}, err
	}
	if _, err := s.job(r.Job); err != nil {
		return Decision{}, err
	}
	if _, err := s.only(r.Material, s.coated); err != nil {
		return Decision{}, err
	}
	if err := checkPanels(r.Panels); err != nil {
		return Decision{}, err
	}
	if err := CheckCoats(*r.Coats); err != nil {
		return Decision{}, err
	}
	at, err := finished(r.At, now)
	if err != nil {
		return Decision{}, err
	}
	if err := coatTemperatureSpan.checkIf(r.Temperature); err != nil {
		return Decision{}, err
	}
	return Decision{Event: CoatRecorded{
		Job: r.Job, Material: r.Material, Panels: slices.Clone(r.Panels), Coats: *r.Coats, At: at, Temperature: optional(r.Temperature),
	}}, nil
}

const minuteLayout = "2006-01-02T15:04"

// finished reads when a coat was finished. Clocks differ a little, so it may lie
// some minutes ahead.
func finished(text string, now time.Time) (time.Time, error) {
	const ahead = 10 * time.Minute
	if text == "" {
		return now.UTC().Truncate(time.Minute), nil
	}
	oldest, newest := now.AddDate(-1, 0, 0), now.Add(ahead)
	at, err := time.ParseInLocation(minuteLayout, text, now.Location())
	if err != nil || at.Before(oldest) || at.After(newest) {
		return time.Time{}, outOfRange("at", text, oldest.Format(minuteLayout)+" to "+newest.Format(minuteLayout))
	}
	return at.UTC(), nil
}

// recoat changes paint put on; a time and a temperature that nobody changes are
// not judged again.
func (s *State) recoat(e CoatRecorded, c Changes, now time.Time) (Decision, error) {
	d, err := s.decideCoat(now, NewCoat{
		Job: or(c.Job, e.Job), Material: or(c.Material, e.Material), Panels: orList(c.Panels, e.Panels),
		Coats: orCount(c.Coats, e.Coats), At: c.At, Temperature: c.Temperature,
	})
	if next, ok := d.Event.(CoatRecorded); ok {
		if c.At == "" {
			next.At = e.At
		}
		if c.Temperature == nil {
			next.Temperature = e.Temperature
		}
		d.Event = next
	}
	return d, err
}

// LatestCoats gives the coat that was finished last of each material on each set
// of panels, of one job or, for an empty id, of all; newest first.
func (s *State) LatestCoats(jobID string) ([]Coat, error) {
	jobs := s.jobs[1:]
	if jobID != "" {
		j, err := s.job(jobID)
		if err != nil {
			return nil, err
		}
		jobs = []*job{j}
	}
	latest := map[string]Coat{}
	for _, j := range jobs {
		for _, i := range j.recs {
			e, ok := s.details[i].(CoatRecorded)
			if !ok {
				continue
			}
			names := slices.Sorted(slices.Values(e.Panels))
			key := strings.Join(append([]string{e.Job, e.Material}, names...), "\n")
			if had, ok := latest[key]; !ok || !e.At.Before(had.At()) {
				latest[key] = Coat{e, s.said(i)}
			}
		}
	}
	coats := make([]Coat, 0, len(latest))
	for _, c := range latest {
		coats = append(coats, c)
	}
	slices.SortFunc(coats, func(a, b Coat) int {
		return cmp.Or(b.At().Compare(a.At()), cmp.Compare(b.Entry, a.Entry))
	})
	return coats, nil
}

// At is when the coat was finished; when that was said is Said.At.
func (c Coat) At() time.Time { return c.CoatRecorded.At }

// coatText says a coat in a line.
func (s *State) coatText(e CoatRecorded) string {
	name := e.Material
	if m, err := s.material(e.Material); err == nil {
		name = m.Name
	}
	coats := " coats of "
	if e.Coats == 1 {
		coats = " coat of "
	}
	return strconv.Itoa(e.Coats) + coats + name + " on " + joined(e.Panels)
}

// Local writes a moment as people in the shop say it, 2026-03-10T14:00.
func (s *State) Local(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(s.Location()).Format(minuteLayout)
}
