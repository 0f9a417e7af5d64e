package shop

import (
	"slices"
	"time"
)

type material struct {
	MaterialAdded
	rec      uint32
	gone     bool
	moves    []uint32 // standing movements, by index in recs
	shelf    Shelf
	delivery uint32 // 1 + index of the newest standing delivery, 0 for none
}

// Shelf is how the figure of a material comes about: the last count, or the
// opening count when there was none, and what moved since.
type Shelf struct {
	Base                    Micro
	count                   uint32 // 1 + index of the record of the count, 0 for none
	Deliveries, Uses, Waste int
	In, Out, Binned         Micro
}

// Now is what there is.
func (s Shelf) Now() Micro { return s.Base + s.In - s.Out - s.Binned }

func (s *Shelf) move(r rec) {
	v := Micro(r.value)
	switch r.kind {
	case recDelivery:
		s.Deliveries, s.In = s.Deliveries+1, s.In+v
	case recUse:
		s.Uses, s.Out = s.Uses+1, s.Out+v
	case recWaste:
		s.Waste, s.Binned = s.Waste+1, s.Binned+v
	}
}

func (m *material) link(recs []rec, i uint32) {
	last := len(m.moves) == 0 || m.moves[len(m.moves)-1] < i
	m.moves = insert(m.moves, i)
	switch r := recs[i]; {
	case !last:
		m.recount(recs)
	case r.kind == recCount:
		m.shelf = Shelf{Base: Micro(r.value), count: i + 1}
	default:
		m.shelf.move(r)
		if r.kind == recDelivery {
			m.delivery = i + 1
		}
	}
}

func (m *material) unlink(recs []rec, i uint32) {
	m.moves = remove(m.moves, i)
	m.recount(recs)
}

// recount works the shelf out anew.
func (m *material) recount(recs []rec) {
	m.shelf = m.before(recs, uint32(len(recs)))
	m.delivery = 0
	for _, k := range slices.Backward(m.moves) {
		if recs[k].kind == recDelivery {
			m.delivery = k + 1
			break
		}
	}
}

// before is the shelf as it was when record i was made.
func (m *material) before(recs []rec, i uint32) Shelf {
	at, _ := slices.BinarySearch(m.moves, i)
	s := Shelf{Base: m.OnHand}
	for _, k := range slices.Backward(m.moves[:at]) {
		if recs[k].kind == recCount {
			s.Base, s.count = Micro(recs[k].value), k+1
			break
		}
		s.move(recs[k])
	}
	return s
}

// Stock is what there is of a material.
type Stock struct {
	MaterialAdded
	Now     Micro
	Low     bool
	Batch   string // of the newest delivery, if said
	Expires Day
}

// Materials gives the stock of every material, in the order they came.
func (s *State) Materials() []Stock {
	all := make([]Stock, 0, len(s.materials))
	for _, m := range s.materials[1:] {
		if !m.gone {
			all = append(all, s.stock(m))
		}
	}
	return all
}

// Stock gives the stock of one material, or an UnknownName refusal.
func (s *State) Stock(id string) (Stock, error) {
	m, err := s.material(id)
	if err != nil {
		return Stock{}, err
	}
	return s.stock(m), nil
}

func (s *State) stock(m *material) Stock {
	now := m.shelf.Now()
	st := Stock{MaterialAdded: m.MaterialAdded, Now: now, Low: now <= m.ReorderAt}
	if m.delivery > 0 {
		e, _ := s.details[m.delivery-1].(StockMoved)
		st.Batch, st.Expires = e.Batch, e.Expires
	}
	return st
}

// Shelf tells how the figure of a material comes about; counted is nil when it
// was never counted, and last is the entry of the newest movement, 0 for none.
func (s *State) Shelf(id string) (shelf Shelf, counted *Said, last uint64, err error) {
	m, err := s.material(id)
	if err != nil {
		return Shelf{}, nil, 0, err
	}
	if m.shelf.count > 0 {
		said := s.said(m.shelf.count - 1)
		counted = &said
	}
	if n := len(m.moves); n > 0 {
		last = uint64(s.recs[m.moves[n-1]].seq)
	}
	return m.shelf, counted, last, nil
}

func (s *State) material(id string) (*material, error) {
	if err := missing(need{"material", id != ""}); err != nil {
		return nil, err
	}
	at, ok := s.materialAt[id]
	if !ok {
		return nil, refuse(UnknownName, "field", "material", "value", id, "accepted", s.materialIDs())
	}
	return s.materials[at], nil
}

// Move asks to use, deliver, count or waste a material.
type Move struct {
	Kind     MoveKind
	Material string
	Amount   *float64
	Job      string
	Batch    string
	Expires  string
	Why      string
}

// DecideMove decides a movement of stock.
func (s *State) DecideMove(by string, now time.Time, m Move) (Decision, error) {
	if err := s.may(by, moveTasks[m.Kind]); err != nil {
		return Decision{}, err
	}
	return s.decideMove(now, m, uint32(len(s.recs)))
}

// decideMove decides a movement that stands at the place of record i.
func (s *State) decideMove(now time.Time, m Move, i uint32) (Decision, error) {
	if err := missing(need{"material", m.Material != ""}, need{"amount", m.Amount != nil}); err != nil {
		return Decision{}, err
	}
	mat, err := s.material(m.Material)
	if err != nil {
		return Decision{}, err
	}
	if m.Job != "" {
		if _, err := s.job(m.Job); err != nil {
			return Decision{}, err
		}
	}
	if err := checkAmount("amount", *m.Amount, m.Kind == Count); err != nil {
		return Decision{}, err
	}
	e := StockMoved{Kind: m.Kind, Material: m.Material, Amount: MicroOf(*m.Amount), Job: m.Job, Batch: m.Batch, Why: m.Why}
	d := Decision{}
	switch m.Kind {
	case Delivery:
		if m.Expires == "" {
			break
		}
		day, ok := ParseDay(m.Expires)
		if !ok {
			return Decision{}, outOfRange("expires", m.Expires, "a day as 2026-03-10")
		}
		e.Expires = day
		if today, _ := dayOf(now); day < today {
			d.Warnings = append(d.Warnings, "This batch expired on "+day.String()+".")
		}
	case Use, Waste:
		there := s.spare(mat, i)
		if e.Amount > there {
			return Decision{}, refuse(NotEnoughStock, "material", m.Material, "value", number(*m.Amount),
				"accepted", max(there, 0).String(), "unit", mat.Unit)
		}
	}
	d.Event = e
	return d, nil
}

// spare is how much can have gone at record i: no more than was there then, and
// unless the shelf was counted since, no more than is there now.
func (s *State) spare(m *material, i uint32) Micro {
	if i == uint32(len(s.recs)) {
		return m.shelf.Now()
	}
	then := m.before(s.recs, i).Now()
	at, _ := slices.BinarySearch(m.moves, i)
	for _, k := range m.moves[at:] {
		if s.recs[k].kind == recCount {
			return then
		}
	}
	return min(then, m.shelf.Now())
}

// NewMaterial asks to add a material.
type NewMaterial struct {
	ID, Name, Unit          string
	Pack, ReorderAt, OnHand *float64
	AlsoCalled              []string
}

// DecideMaterial decides the adding of a material.
func (s *State) DecideMaterial(by string, r NewMaterial) (Decision, error) {
	if err := s.may(by, taskAddMaterial); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"name", r.Name != ""}, need{"unit", r.Unit != ""}); err != nil {
		return Decision{}, err
	}
	id := r.ID
	if id == "" {
		id = Slug(r.Name)
	}
	if id == "" || id != Slug(id) || len(id) > maxID {
		return Decision{}, outOfRange("id", id, idRule)
	}
	if !slices.Contains(unitNames[:], r.Unit) {
		return Decision{}, refuse(UnknownName, "field", "unit", "value", r.Unit, "accepted", joined(unitNames[:]))
	}
	for _, a := range []struct {
		field string
		v     *float64
		zero  bool
	}{{"pack", r.Pack, false}, {"reorder_at", r.ReorderAt, true}, {"on_hand", r.OnHand, true}} {
		if a.v == nil {
			continue
		}
		if err := checkAmount(a.field, *a.v, a.zero); err != nil {
			return Decision{}, err
		}
	}
	if _, ok := s.materialAt[id]; ok {
		return Decision{}, refuse(AlreadyExists, "field", "id", "value", id)
	}
	for _, name := range append([]string{r.Name}, r.AlsoCalled...) {
		if other := s.materialCalled(name); other != "" {
			return Decision{}, refuse(AlreadyExists, "field", "name", "value", name)
		}
	}
	if len(s.materials) > maxIndex {
		return Decision{}, outOfRange("id", id, "no more materials than there are")
	}
	e := MaterialAdded{
		ID: id, Name: r.Name, AlsoCalled: r.AlsoCalled, Unit: r.Unit, Pack: MicroOf(1),
		ReorderAt: MicroOf(optional(r.ReorderAt)), OnHand: MicroOf(optional(r.OnHand)),
	}
	if r.Pack != nil {
		e.Pack = MicroOf(*r.Pack)
	}
	return Decision{Event: e}, nil
}
