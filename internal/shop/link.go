package shop

import (
	"errors"
	"slices"
)

// insert puts a record's index into a list kept in the order of the records.
func insert(list []uint32, i uint32) []uint32 {
	if n := len(list); n == 0 || list[n-1] < i {
		return append(list, i)
	}
	at, _ := slices.BinarySearch(list, i)
	return slices.Insert(list, at, i)
}

func remove(list []uint32, i uint32) []uint32 {
	if at, ok := slices.BinarySearch(list, i); ok {
		return slices.Delete(list, at, at+1)
	}
	return list
}

// link makes a record count in all that is derived from it; one that was undone
// does not.
func (s *State) link(i uint32) {
	r := s.recs[i]
	if r.flags&undone != 0 {
		return
	}
	j := s.jobs[r.job]
	switch r.kind {
	case recUse, recHours:
		j.bulk = insert(j.bulk, i)
	case recDelivery, recCount, recWaste, recJob, recMaterial:
	default:
		j.recs = insert(j.recs, i)
	}
	if r.kind.isMove() {
		s.materials[r.ref].link(s.recs, i)
	}
	switch e := s.details[i].(type) {
	case JobCreated:
		j.gone = false
		s.jobAt[e.ID] = r.job
		s.names = s.seq
	case MaterialAdded:
		m := s.materials[r.ref]
		m.gone = false
		m.recount(s.recs)
		s.materialAt[e.ID] = r.ref
		s.names = s.seq
	case FindRecorded:
		s.finds = insert(s.finds, i)
		s.findAt[e.Number] = i
	case FindClosed:
		s.closings[e.Number] = insert(s.closings[e.Number], i)
	case TorqueSet:
		k := torqueKey{r.job, normalFastener(e.Fastener)}
		s.torques[k] = insert(s.torques[k], i)
		if len(s.torques[k]) == 1 {
			s.names = s.seq
		}
	case GapSet:
		k := gapKey{r.job, e.Panel, e.Side, e.Edge}
		s.gaps[k] = insert(s.gaps[k], i)
	case TaskAdded:
		j.tasks = insert(j.tasks, i)
	case ExtraProposed:
		j.extras = insert(j.extras, i)
	case TaskStarted:
		j.begun = insert(j.begun, i)
		s.names = s.seq // a job is known by its stage too
	case TaskFinished:
		j.ended = insert(j.ended, i)
		s.names = s.seq
	case ReminderSet:
		s.reminders = insert(s.reminders, i)
	}
	s.linkThing(r, i)
	if r.kind == recHours {
		s.work(i, +1)
	}
}

// unlink is the opposite of link.
func (s *State) unlink(i uint32) {
	r := s.recs[i]
	if r.flags&undone != 0 {
		return
	}
	j := s.jobs[r.job]
	switch r.kind {
	case recUse, recHours:
		j.bulk = remove(j.bulk, i)
	case recDelivery, recCount, recWaste, recJob, recMaterial:
	default:
		j.recs = remove(j.recs, i)
	}
	if r.kind.isMove() {
		s.materials[r.ref].unlink(s.recs, i)
	}
	switch e := s.details[i].(type) {
	case JobCreated:
		j.gone = true
		delete(s.jobAt, e.ID)
		s.names = s.seq
	case MaterialAdded:
		s.materials[r.ref].gone = true
		delete(s.materialAt, e.ID)
		s.names = s.seq
	case FindRecorded:
		s.finds = remove(s.finds, i)
		delete(s.findAt, e.Number)
	case FindClosed:
		s.closings[e.Number] = remove(s.closings[e.Number], i)
		if len(s.closings[e.Number]) == 0 {
			delete(s.closings, e.Number)
		}
	case TorqueSet:
		k := torqueKey{r.job, normalFastener(e.Fastener)}
		s.torques[k] = remove(s.torques[k], i)
		if len(s.torques[k]) == 0 {
			delete(s.torques, k)
			s.names = s.seq
		}
	case GapSet:
		k := gapKey{r.job, e.Panel, e.Side, e.Edge}
		s.gaps[k] = remove(s.gaps[k], i)
		if len(s.gaps[k]) == 0 {
			delete(s.gaps, k)
		}
	case TaskAdded:
		j.tasks = remove(j.tasks, i)
	case ExtraProposed:
		j.extras = remove(j.extras, i)
	case TaskStarted:
		j.begun = remove(j.begun, i)
		s.names = s.seq
	case TaskFinished:
		j.ended = remove(j.ended, i)
		s.names = s.seq
	case ReminderSet:
		s.reminders = remove(s.reminders, i)
	}
	s.unlinkThing(r, i)
	if r.kind == recHours {
		s.work(i, -1)
	}
}

// work adds a record's hours to the sums, or takes them off.
func (s *State) work(i uint32, sign Micro) {
	r := s.recs[i]
	stage := s.stageOf(r)
	if e, ok := s.details[i].(HoursLogged); ok {
		stage = e.Stage
	}
	each := sign * Micro(r.value)
	s.crewIndices(i, func(person uint16) {
		s.jobs[r.job].logged[stage] += each
		bump(s.worked, workKey{r.job, r.work, stage, person}, each)
		bump(s.days, dayKey{person, r.day}, each)
	})
}

// bump keeps no zeros, so that equal states have equal maps.
func bump[K comparable](m map[K]Micro, k K, by Micro) {
	if m[k] += by; m[k] == 0 {
		delete(m, k)
	}
}

var errNoName = errors.New("shop: not a name")

// addName folds what the shop is called and made of: it is no record, nobody can
// take it back. A person or a channel that is known is changed.
func (s *State) addName(m Meta, e Event, c *Change) error {
	before := struct {
		shop      ShopOpened
		people    int
		channels  []ChannelAdded
		suppliers []string
		areas     []PanelAreaSet
		doors     []DoorGeometrySet
	}{s.shop, len(s.people), s.channels, s.suppliers, s.areas, s.doors}
	restore := func() {
		s.shop, s.channels, s.suppliers, s.areas, s.doors = before.shop, before.channels, before.suppliers, before.areas, before.doors
	}
	switch e := e.(type) {
	case ShopOpened:
		s.shop = e
	case PersonAdded:
		if len(s.people) > maxIndex || e.ID == "" {
			return errors.New("a person with no id, or one too many: " + e.ID)
		}
		at, known := s.personAt[e.ID]
		if known {
			was := s.people[at]
			s.people[at] = e
			restore = func() { s.people[at] = was }
			break
		}
		s.personAt[e.ID] = uint16(len(s.people))
		s.people = append(s.people, e)
		restore = func() {
			s.people = s.people[:before.people]
			delete(s.personAt, e.ID)
		}
	case ChannelAdded:
		s.channels = slices.DeleteFunc(slices.Clone(s.channels), func(had ChannelAdded) bool { return had.ID == e.ID })
		s.channels = append(s.channels, e)
	case SupplierAdded:
		s.suppliers = append(slices.Clip(s.suppliers), e.Name)
	case PanelAreaSet:
		s.areas = append(slices.Clip(s.areas), e)
	case DoorGeometrySet:
		s.doors = append(slices.Clip(s.doors), e)
	case NoticeSent:
		had, was := s.sent[e.ID]
		s.sent[e.ID] = m.Seq
		restore = func() {
			if delete(s.sent, e.ID); was {
				s.sent[e.ID] = had
			}
		}
	default:
		return errNoName
	}
	c.what, c.restore = changedName, restore
	switch e.(type) {
	case PanelAreaSet, DoorGeometrySet, NoticeSent:
	default:
		s.names = m.Seq
	}
	return nil
}
