package shop

import (
	"slices"
	"time"
)

// Told is an event with who said it and when. A ledger that begins with what
// another one kept holds such events; in one that goes on, Meta says so much.
type Told struct {
	Event  Event
	By     string    // a person's id; empty for what came with an import
	At     time.Time // zero with an empty By
	Photos []Photo
}

func (Told) isEvent() {}

// Kept is an event that stands, as it says now.
type Kept struct {
	Told
	Now  string   // state of a task, a find, a part, an extra or a snag; a late part is ordered
	Sent []string // of a reminder that was sent: when; of a coat: what was told of it, see CoatTold
}

// Rename folds an event that gives a name or a size into those that stand: one that
// changes what is known of a person, a channel or the shop takes the place of what
// was there. An event of another kind changes nothing.
func Rename(names []Told, t Told) []Told {
	same := func(Event) bool { return false }
	switch e := t.Event.(type) {
	case ShopOpened:
		same = func(had Event) bool { _, ok := had.(ShopOpened); return ok }
	case PersonAdded:
		same = func(had Event) bool { p, ok := had.(PersonAdded); return ok && p.ID == e.ID }
	case ChannelAdded:
		names = slices.DeleteFunc(names, func(had Told) bool { c, ok := had.Event.(ChannelAdded); return ok && c.ID == e.ID })
	case SupplierAdded, PanelAreaSet, DoorGeometrySet:
	default:
		return names
	}
	t.Photos = nil // a name is no record that could have some
	if at := slices.IndexFunc(names, func(had Told) bool { return same(had.Event) }); at >= 0 {
		names[at] = t
		return names
	}
	return append(names, t)
}

// Standing gives what a new ledger would have to begin with to know all that this
// one knows: the names, which the caller folded with Rename, then the standing
// records in their order, then the notices sent that no record says of itself. What
// is about something that was taken back is left out.
func (s *State) Standing(names []Told) []Kept {
	all := make([]Kept, 0, len(names)+len(s.recs))
	for _, t := range names {
		if s.hasJobOf(t.Event) {
			all = append(all, Kept{Told: t})
		}
	}
	sent := s.sentOf()
	for k, r := range s.recs {
		i := uint32(k)
		e, whole := s.whole(r, s.event(i))
		if r.flags&undone != 0 || !whole {
			continue
		}
		kept := Kept{Told: Told{Event: e, Photos: s.photos[i]}, Now: s.stateNow(i)}
		if said := s.said(i); said.By != "" {
			kept.By, kept.At = said.By, said.At
		}
		switch e := e.(type) {
		case ReminderSet:
			if local := s.Local(e.At); s.Sent(ReminderNotice(uint64(r.seq), local)) {
				kept.Sent = []string{local}
			}
		case CoatRecorded:
			kept.Sent = sent[uint64(r.seq)]
		}
		all = append(all, kept)
	}
	return append(all, s.sentOthers()...)
}

// stateNow is what became of the thing that a record makes.
func (s *State) stateNow(i uint32) string {
	word := func(second bool, words ...string) string {
		if second {
			return words[1]
		}
		return words[0]
	}
	switch s.details[i].(type) {
	case TaskAdded:
		return s.taskOf(i).State
	case FindRecorded:
		return word(s.findOf(i).Repaired, "open", "repaired")
	case PartOrdered:
		return s.partOf(i, time.Time{}).State
	case ExtraProposed:
		return s.extraOf(i).State
	case SnagAdded:
		return word(s.snagOf(i).Closed, "open", "closed")
	}
	return ""
}

// hasJobOf tells whether the job that a size is of stands.
func (s *State) hasJobOf(e Event) bool {
	id := ""
	switch e := e.(type) {
	case PanelAreaSet:
		id = e.Job
	case DoorGeometrySet:
		id = e.Job
	}
	_, ok := s.jobAt[id]
	return ok || id == ""
}

// whole gives a record without what of it is about finds that were taken back, and
// whether anything is left of it.
func (s *State) whole(r rec, e Event) (Event, bool) {
	switch e := e.(type) {
	case FindClosed:
		_, ok := s.findAt[e.Number]
		return e, ok
	case ExtraProposed:
		e.Finds = slices.DeleteFunc(slices.Clone(e.Finds), func(n int) bool { _, ok := s.findAt[n]; return !ok })
		return e, true
	case BriefMet:
		return e, e.Number <= len(s.jobs[r.job].Brief) || s.hasThing(r, e)
	}
	return e, s.hasThing(r, e)
}

// hasThing tells whether the thing stands that a record is about, if it is about
// one.
func (s *State) hasThing(r rec, e Event) bool {
	t, makes, ok := thingOf(r, e)
	_, stands := s.things[t]
	return !ok || makes || stands
}

// Clock tells a moment as people in a shop say it, 2026-03-10T14:00.
func Clock(e ShopOpened) func(time.Time) string { return (&State{shop: e}).Local }
