package shop

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// snapshotVersion changes when the encoding or the meaning of a field does; a
// snapshot of another version is of no use, and the ledger is folded instead.
const snapshotVersion = 2

// image is all of a State but its records, and what is derived from them.
type image struct {
	Seq, Names uint64
	Last       [recKinds]int
	Shop       ShopOpened
	People     []PersonAdded
	Channels   []ChannelAdded
	Suppliers  []string
	Areas      []PanelAreaSet
	Doors      []DoorGeometrySet
	Crews      []string
	Alias      [][2]uint64
	Details    []box
	Photos     []photosOf
	Sent       []sentNotice
	Records    int
}

type photosOf struct {
	Index  uint32
	Photos []Photo
}

type sentNotice struct {
	ID    string
	Entry uint64
}

// box holds one detail; the one field that is not nil.
type box struct {
	Index    uint32
	Move     *StockMoved
	Hours    *HoursLogged
	Job      *JobCreated
	Mat      *MaterialAdded
	Find     *FindRecorded
	Closing  *FindClosed
	Torque   *TorqueRecorded
	Book     *TorqueSet
	Gap      *GapRecorded
	Target   *GapSet
	Note     *NoteAdded
	Task     *TaskAdded
	Part     *PartOrdered
	Coat     *CoatRecorded
	Extra    *ExtraProposed
	Snag     *SnagAdded
	Start    *TaskStarted
	End      *TaskFinished
	Arrival  *PartArrived
	Fitting  *PartFitted
	Return   *PartReturned
	Brief    *BriefAdded
	Met      *BriefMet
	Mended   *SnagClosed
	Decision *ExtraDecided
	Reminder *ReminderSet
	Due      *PartDueChanged
}

func boxed(i uint32, e Event) (box, error) {
	b := box{Index: i}
	switch e := e.(type) {
	case StockMoved:
		b.Move = &e
	case HoursLogged:
		b.Hours = &e
	case JobCreated:
		b.Job = &e
	case MaterialAdded:
		b.Mat = &e
	case FindRecorded:
		b.Find = &e
	case FindClosed:
		b.Closing = &e
	case TorqueRecorded:
		b.Torque = &e
	case TorqueSet:
		b.Book = &e
	case GapRecorded:
		b.Gap = &e
	case GapSet:
		b.Target = &e
	case NoteAdded:
		b.Note = &e
	case TaskAdded:
		b.Task = &e
	case PartOrdered:
		b.Part = &e
	case CoatRecorded:
		b.Coat = &e
	case ExtraProposed:
		b.Extra = &e
	case SnagAdded:
		b.Snag = &e
	case TaskStarted:
		b.Start = &e
	case TaskFinished:
		b.End = &e
	case PartArrived:
		b.Arrival = &e
	case PartFitted:
		b.Fitting = &e
	case PartReturned:
		b.Return = &e
	case BriefAdded:
		b.Brief = &e
	case BriefMet:
		b.Met = &e
	case SnagClosed:
		b.Mended = &e
	case ExtraDecided:
		b.Decision = &e
	case ReminderSet:
		b.Reminder = &e
	case PartDueChanged:
		b.Due = &e
	default:
		return b, fmt.Errorf("shop: a snapshot cannot hold a %T", e)
	}
	return b, nil
}

func (b box) event() Event {
	switch {
	case b.Move != nil:
		return *b.Move
	case b.Hours != nil:
		return *b.Hours
	case b.Job != nil:
		return *b.Job
	case b.Mat != nil:
		return *b.Mat
	case b.Find != nil:
		return *b.Find
	case b.Closing != nil:
		return *b.Closing
	case b.Torque != nil:
		return *b.Torque
	case b.Book != nil:
		return *b.Book
	case b.Gap != nil:
		return *b.Gap
	case b.Target != nil:
		return *b.Target
	case b.Note != nil:
		return *b.Note
	case b.Task != nil:
		return *b.Task
	case b.Part != nil:
		return *b.Part
	case b.Coat != nil:
		return *b.Coat
	case b.Extra != nil:
		return *b.Extra
	case b.Snag != nil:
		return *b.Snag
	case b.Start != nil:
		return *b.Start
	case b.End != nil:
		return *b.End
	case b.Arrival != nil:
		return *b.Arrival
	case b.Fitting != nil:
		return *b.Fitting
	case b.Return != nil:
		return *b.Return
	case b.Brief != nil:
		return *b.Brief
	case b.Met != nil:
		return *b.Met
	case b.Mended != nil:
		return *b.Mended
	case b.Decision != nil:
		return *b.Decision
	case b.Reminder != nil:
		return *b.Reminder
	case b.Due != nil:
		return *b.Due
	}
	return nil
}

// Snapshot encodes the state: a version byte, the length of the image and the
// image, then the records. Equal states give equal bytes.
func (s *State) Snapshot() ([]byte, error) {
	im := image{
		Seq: s.seq, Names: s.names, Last: s.last, Shop: s.shop, People: s.people[1:], Channels: s.channels,
		Suppliers: s.suppliers, Areas: s.areas, Doors: s.doors, Records: len(s.recs),
	}
	for _, entry := range slices.Sorted(maps.Keys(s.alias)) {
		im.Alias = append(im.Alias, [2]uint64{entry, s.alias[entry]})
	}
	for _, i := range slices.Sorted(maps.Keys(s.photos)) {
		im.Photos = append(im.Photos, photosOf{i, s.photos[i]})
	}
	for _, id := range slices.Sorted(maps.Keys(s.sent)) {
		im.Sent = append(im.Sent, sentNotice{id, s.sent[id]})
	}
	for _, i := range slices.Sorted(maps.Keys(s.details)) {
		b, err := boxed(i, s.details[i])
		if err != nil {
			return nil, err
		}
		im.Details = append(im.Details, b)
	}
	// Sets of people are numbered by first use, so that those which came of a
	// request that was not carried out leave no trace.
	renumbered := make([]uint16, len(s.crews))
	records := make([]byte, 0, 24*len(s.recs))
	var last rec
	for _, r := range s.recs {
		if r.kind == recHours && r.ref > 0 {
			if renumbered[r.ref] == 0 {
				im.Crews = append(im.Crews, s.crews[r.ref])
				renumbered[r.ref] = uint16(len(im.Crews))
			}
			r.ref = renumbered[r.ref]
		}
		records = appendRec(records, r, last)
		last = r
	}
	var head bytes.Buffer
	if err := gob.NewEncoder(&head).Encode(im); err != nil {
		return nil, fmt.Errorf("shop: snapshot: %w", err)
	}
	out := make([]byte, 0, 1+binary.MaxVarintLen64+head.Len()+len(records))
	out = append(out, snapshotVersion)
	out = binary.AppendUvarint(out, uint64(head.Len()))
	return append(append(out, head.Bytes()...), records...), nil
}

// appendRec writes a record after the last one.
func appendRec(b []byte, r, last rec) []byte {
	b = append(b, byte(r.kind), r.flags)
	b = binary.AppendUvarint(b, uint64(r.seq-last.seq))
	b = binary.AppendVarint(b, r.at-last.at)
	b = binary.AppendVarint(b, r.value)
	for _, v := range [...]uint16{r.by, r.job, r.ref, uint16(r.work), uint16(r.day)} {
		b = binary.AppendUvarint(b, uint64(v))
	}
	return b
}

var errSnapshot = errors.New("shop: not a snapshot of this version")

// Restore reads a snapshot.
func Restore(data []byte) (*State, error) {
	if len(data) < 2 || data[0] != snapshotVersion {
		return nil, errSnapshot
	}
	size, n := binary.Uvarint(data[1:])
	if n <= 0 || size > uint64(len(data)-1-n) {
		return nil, errSnapshot
	}
	head, records := data[1+n:1+n+int(size)], data[1+n+int(size):]
	var im image
	if err := gob.NewDecoder(bytes.NewReader(head)).Decode(&im); err != nil {
		return nil, fmt.Errorf("%w: %w", errSnapshot, err)
	}
	s := New()
	s.shop, s.channels, s.suppliers, s.areas, s.doors = im.Shop, im.Channels, im.Suppliers, im.Areas, im.Doors
	for _, p := range im.People {
		s.personAt[p.ID] = uint16(len(s.people))
		s.people = append(s.people, p)
	}
	for _, c := range im.Crews {
		if !s.isCrew(c) || len(s.crews) > maxIndex {
			return nil, errSnapshot
		}
		s.crewAt[c] = uint16(len(s.crews))
		s.crews = append(s.crews, c)
	}
	for _, a := range im.Alias {
		s.alias[a[0]] = a[1]
	}
	for _, b := range im.Details {
		if s.details[b.Index] = b.event(); s.details[b.Index] == nil || int(b.Index) >= im.Records {
			return nil, errSnapshot
		}
	}
	if err := s.restoreRecords(records, im.Records); err != nil {
		return nil, err
	}
	for _, p := range im.Photos {
		s.photos[p.Index] = p.Photos
	}
	for _, n := range im.Sent {
		s.sent[n.ID] = n.Entry
	}
	s.seq, s.names, s.last = im.Seq, im.Names, im.Last
	return s, nil
}

// isCrew tells whether a set of people is one of this shop's.
func (s *State) isCrew(key string) bool {
	if len(key) == 0 || len(key)%2 != 0 {
		return false
	}
	for ; len(key) > 0; key = key[2:] {
		if at := int(key[0]) | int(key[1])<<8; at == 0 || at >= len(s.people) {
			return false
		}
	}
	return true
}

func (s *State) restoreRecords(records []byte, n int) error {
	const spare = 1024
	if n < 0 || n > len(records) {
		return errSnapshot
	}
	s.recs = make([]rec, 0, n+spare)
	var last rec
	for i := range n {
		r, size, ok := readRec(records, last)
		if !ok {
			return errSnapshot
		}
		records, last = records[size:], r
		index := uint32(i)
		switch e := s.details[index].(type) {
		case JobCreated:
			s.jobs = append(s.jobs, &job{JobCreated: e, rec: index, gone: true})
		case MaterialAdded:
			s.materials = append(s.materials, &material{MaterialAdded: e, rec: index, gone: true})
		}
		if !s.knows(index, r) {
			return errSnapshot
		}
		s.recs = append(s.recs, r)
		s.link(index)
	}
	if len(records) > 0 {
		return errSnapshot
	}
	return nil
}

// knows tells whether what a record refers to is there, and whether its detail is
// of its kind.
func (s *State) knows(i uint32, r rec) bool {
	detail := s.details[i]
	if detail != nil && kindOf(detail) != r.kind || int(r.by) >= len(s.people) || int(r.job) >= len(s.jobs) {
		return false
	}
	switch {
	case r.kind == recJob:
		return int(r.job) == len(s.jobs)-1 && detail != nil
	case r.kind == recMaterial:
		return int(r.ref) == len(s.materials)-1 && detail != nil
	case r.kind.isMove():
		return int(r.ref) < len(s.materials) && (r.ref > 0 || r.flags&undone != 0)
	case r.kind == recHours:
		e, whole := detail.(HoursLogged)
		return int(r.ref) < len(s.crews) && (r.ref > 0 || whole) && (r.work < stages || whole) && e.Stage < stages
	}
	return detail != nil
}

func readRec(b []byte, last rec) (r rec, size int, ok bool) {
	if len(b) < 2 {
		return r, 0, false
	}
	r.kind, r.flags = recKind(b[0]), b[1]
	at := 2
	ok = true
	uvarint := func() uint64 {
		v, n := binary.Uvarint(b[min(at, len(b)):])
		at, ok = at+n, ok && n > 0
		return v
	}
	varint := func() int64 {
		v, n := binary.Varint(b[min(at, len(b)):])
		at, ok = at+n, ok && n > 0
		return v
	}
	r.seq = last.seq + uint32(uvarint())
	r.at = last.at + varint()
	r.value = varint()
	r.by, r.job, r.ref = uint16(uvarint()), uint16(uvarint()), uint16(uvarint())
	r.work, r.day = workID(uvarint()), Day(uvarint())
	return r, at, ok
}

// Equal tells whether two states are the same, and if not, where they part.
func Equal(a, b *State) (bool, string) {
	x, errX := a.Snapshot()
	y, errY := b.Snapshot()
	if err := cmp.Or(errX, errY); err != nil {
		return false, err.Error()
	}
	if !bytes.Equal(x, y) {
		return false, fmt.Sprintf("%d and %d records; the bytes differ", len(a.recs), len(b.recs))
	}
	return true, ""
}
