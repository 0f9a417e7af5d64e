package shop

import (
	"fmt"
	"math"
	"slices"
)

// State is everything the shop knows, folded from its events. It is not safe for
// concurrent use: the owner guards it.
type State struct {
	seq   uint64 // of the last entry folded
	names uint64 // of the last entry that changed a name

	shop      ShopOpened
	people    []PersonAdded // the one at 0 is nobody
	personAt  map[string]uint16
	channels  []ChannelAdded
	suppliers []string
	areas     []PanelAreaSet
	doors     []DoorGeometrySet

	recs    []rec             // by seq
	details map[uint32]Event  // by index in recs, of those that say more than a rec holds
	alias   map[uint64]uint64 // entry of an amendment or undoing → entry of the record

	jobs       []*job // the one at 0 is no job
	jobAt      map[string]uint16
	materials  []*material // the one at 0 is no material
	materialAt map[string]uint16
	crews      []string // sets of people's indices; the one at 0 is none
	crewAt     map[string]uint16

	finds    []uint32       // standing finds, by index in recs
	findAt   map[int]uint32 // number → index in recs, of standing ones
	closings map[int][]uint32
	last     [recKinds]int // highest number given to a thing of a kind, standing or not

	things    map[thing]uint32   // standing numbered things but finds, by index in recs
	about     map[thing][]uint32 // standing records about a thing, oldest first
	reminders []uint32           // standing reminders
	photos    map[uint32][]Photo // by index in recs
	sent      map[string]uint64  // notices sent, with the entry that says so

	torques map[torqueKey][]uint32 // standing book values, oldest first
	gaps    map[gapKey][]uint32    // standing targets, oldest first

	worked map[workKey]Micro // by person
	days   map[dayKey]Micro
}

// rec is one record, small enough that a million fit in memory.
type rec struct {
	at    int64 // when it was said, ms since 1970
	value int64 // Micro moved, counted or worked each
	seq   uint32
	by    uint16 // person
	job   uint16
	ref   uint16 // material, or crew
	work  workID
	day   Day // hours
	kind  recKind
	flags uint8
}

const (
	undone uint8 = 1 << iota
	amended
)

type recKind uint8

const (
	recUse      = recKind(Use)
	recDelivery = recKind(Delivery)
	recCount    = recKind(Count)
	recWaste    = recKind(Waste)
)

const (
	recHours recKind = iota + 10
	recJob
	recMaterial
	recFind
	recClosing
	recTorque
	recTorqueSet
	recGap
	recGapSet
	recNote
	recTask
	recPart
	recCoat
	recExtra
	recSnag
	recTaskStart
	recTaskEnd
	recArrival
	recFitting
	recReturn
	recBrief
	recBriefMet
	recSnagClosing
	recDecision
	recReminder
	recDueChange
	recKinds // how many
)

// isMove tells whether the record moved stock.
func (k recKind) isMove() bool { return k >= recUse && k <= recWaste }

// workID is what hours were worked on: a Stage, or a task's number after them.
type workID uint16

func workOf(s Stage, task int) workID {
	if task > 0 {
		return workID(task) + stages
	}
	return workID(s)
}

func (w workID) task() int { return max(int(w)-stages, 0) }

// maxIndex bounds people, jobs, materials and tasks, which a rec holds in 16 bits.
const maxIndex = math.MaxUint16 - stages

type job struct {
	JobCreated
	rec    uint32
	gone   bool
	recs   []uint32      // standing records but uses and hours, by index
	bulk   []uint32      // standing uses and hours
	logged [stages]Micro // in the ledger, without what was imported
	tasks  []uint32
	extras []uint32
	begun  []uint32 // standing starts of tasks
	ended  []uint32 // standing ends
}

type torqueKey struct {
	job      uint16
	fastener string // normalised
}

type gapKey struct {
	job   uint16
	panel string
	side  Side
	edge  Edge
}

type workKey struct {
	job    uint16
	work   workID
	stage  Stage
	person uint16
}

type dayKey struct {
	person uint16
	day    Day
}

// New is a shop in which nothing has happened.
func New() *State {
	return &State{
		people: make([]PersonAdded, 1), personAt: map[string]uint16{},
		details: map[uint32]Event{}, alias: map[uint64]uint64{},
		jobs: []*job{{}}, jobAt: map[string]uint16{},
		materials: []*material{{}}, materialAt: map[string]uint16{},
		crews: make([]string, 1), crewAt: map[string]uint16{},
		findAt: map[int]uint32{}, closings: map[int][]uint32{},
		things: map[thing]uint32{}, about: map[thing][]uint32{}, photos: map[uint32][]Photo{}, sent: map[string]uint64{},
		torques: map[torqueKey][]uint32{}, gaps: map[gapKey][]uint32{},
		worked: map[workKey]Micro{}, days: map[dayKey]Micro{},
	}
}

// Seq is the number of the last entry folded.
func (s *State) Seq() uint64 { return s.seq }

// NamesSeq is the number of the last entry that changed a name.
func (s *State) NamesSeq() uint64 { return s.names }

// Shop is how the shop was opened.
func (s *State) Shop() ShopOpened { return s.shop }

// Change is what Revert needs to take the last Apply back.
type Change struct {
	seq, names uint64
	last       [recKinds]int
	what       changeKind
	index      uint32
	old        rec
	oldDetail  Event
	restore    func() // of a name
}

type changeKind uint8

const (
	changedForGood changeKind = iota
	changedNew
	changedAmended
	changedUndone
	changedName
)

// Apply folds one event. Its error means that the ledger is not this shop's: the
// state is then as before.
func (s *State) Apply(m Meta, e Event) (Change, error) {
	c := Change{seq: s.seq, names: s.names, last: s.last}
	if m.Seq != s.seq+1 || m.Seq > math.MaxUint32 {
		return c, fmt.Errorf("shop: entry %d does not follow %d", m.Seq, s.seq)
	}
	var err error
	switch e := e.(type) {
	case Amended:
		err = s.amend(m, e, &c)
	case Undone:
		err = s.undo(m, e, &c)
	default:
		if err = s.addName(m, e, &c); err == errNoName { //nolint:errorlint // our own value
			err = s.add(m, e, &c)
		}
	}
	if err != nil {
		return c, fmt.Errorf("shop: entry %d: %w", m.Seq, err)
	}
	s.seq = m.Seq
	return c, nil
}

// Revert takes back the last Apply, which c came from.
func (s *State) Revert(c Change) {
	switch c.what {
	case changedNew:
		s.unlink(c.index)
		delete(s.details, c.index)
		delete(s.photos, c.index)
		s.recs = s.recs[:c.index]
		s.drop(c)
	case changedAmended:
		s.unlink(c.index)
		s.put(c.index, c.old, c.oldDetail)
		s.link(c.index)
		delete(s.alias, s.seq)
	case changedUndone:
		s.recs[c.index] = c.old
		s.link(c.index)
		delete(s.alias, s.seq)
	case changedName:
		c.restore()
	case changedForGood:
	}
	s.seq, s.names, s.last = c.seq, c.names, c.last
}

// drop forgets the job or material that a reverted record had made.
func (s *State) drop(c Change) {
	if n := len(s.jobs) - 1; n > 0 && s.jobs[n].rec == c.index && s.jobs[n].gone {
		s.jobs = s.jobs[:n]
	}
	if n := len(s.materials) - 1; n > 0 && s.materials[n].rec == c.index && s.materials[n].gone {
		s.materials = s.materials[:n]
	}
}

func (s *State) add(m Meta, e Event, c *Change) error {
	r, detail, err := s.compact(e)
	if err != nil {
		return err
	}
	by, ok := s.personAt[m.Person]
	if !ok && m.Person != "" {
		return fmt.Errorf("no person %q", m.Person)
	}
	r.seq, r.by, r.at = uint32(m.Seq), by, m.At.UnixMilli()
	i := uint32(len(s.recs))
	switch e := e.(type) {
	case JobCreated:
		if len(s.jobs) > maxIndex {
			return fmt.Errorf("more than %d jobs", maxIndex)
		}
		r.job = uint16(len(s.jobs))
		s.jobs = append(s.jobs, &job{JobCreated: e, rec: i, gone: true})
	case MaterialAdded:
		if len(s.materials) > maxIndex {
			return fmt.Errorf("more than %d materials", maxIndex)
		}
		r.ref = uint16(len(s.materials))
		s.materials = append(s.materials, &material{MaterialAdded: e, rec: i, gone: true})
	}
	if n := numberOf(e); n > 0 {
		s.last[r.kind] = max(s.last[r.kind], n)
	}
	if len(m.Photos) > 0 {
		s.photos[i] = m.Photos
	}
	s.recs = append(s.recs, r)
	if detail != nil {
		s.details[i] = detail
	}
	s.seq = m.Seq
	s.link(i)
	c.what, c.index = changedNew, i
	return nil
}

func (s *State) put(i uint32, r rec, detail Event) {
	s.recs[i] = r
	if detail == nil {
		delete(s.details, i)
	} else {
		s.details[i] = detail
	}
}

func (s *State) amend(m Meta, e Amended, c *Change) error {
	i, ok := s.find(e.Entry)
	if !ok {
		return fmt.Errorf("no record %d to amend", e.Entry)
	}
	r, detail, err := s.compact(e.Now)
	if err != nil {
		return err
	}
	old := s.recs[i]
	if r.kind != old.kind {
		return fmt.Errorf("record %d is of another kind", e.Entry)
	}
	if old.flags&undone != 0 {
		return fmt.Errorf("record %d was undone", e.Entry)
	}
	c.what, c.index, c.old, c.oldDetail = changedAmended, i, old, s.details[i]
	r.seq, r.by, r.at, r.flags = old.seq, old.by, old.at, old.flags|amended
	s.seq = m.Seq
	s.unlink(i)
	s.put(i, r, detail)
	s.link(i)
	s.alias[m.Seq] = uint64(old.seq)
	return nil
}

func (s *State) undo(m Meta, e Undone, c *Change) error {
	i, ok := s.find(e.Entry)
	if !ok {
		return fmt.Errorf("no record %d to undo", e.Entry)
	}
	if s.recs[i].flags&undone != 0 {
		return fmt.Errorf("record %d was undone", e.Entry)
	}
	c.what, c.index, c.old = changedUndone, i, s.recs[i]
	s.seq = m.Seq
	s.unlink(i)
	s.recs[i].flags |= undone
	s.alias[m.Seq] = uint64(s.recs[i].seq)
	return nil
}

// find gives the index of the record that an entry made, amended or undid.
func (s *State) find(entry uint64) (uint32, bool) {
	if root, ok := s.alias[entry]; ok {
		entry = root
	}
	i, ok := slices.BinarySearchFunc(s.recs, entry, func(r rec, seq uint64) int {
		switch {
		case uint64(r.seq) < seq:
			return -1
		case uint64(r.seq) > seq:
			return 1
		}
		return 0
	})
	return uint32(i), ok
}

// event gives the newest version of what a record says.
func (s *State) event(i uint32) Event {
	r := s.recs[i]
	if e, ok := s.details[i]; ok {
		return e
	}
	switch {
	case r.kind.isMove():
		return StockMoved{
			Kind: MoveKind(r.kind), Material: s.materials[r.ref].ID,
			Amount: Micro(r.value), Job: s.jobs[r.job].ID,
		}
	case r.kind == recHours:
		return HoursLogged{
			Job: s.jobs[r.job].ID, People: s.crew(r.ref), Hours: Micro(r.value),
			Stage: s.stageOf(r), Task: r.work.task(), Day: r.day,
		}
	}
	return nil
}
