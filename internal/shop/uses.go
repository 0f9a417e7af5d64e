package shop

import (
	"slices"
	"time"
)

// StockUse is one use of a material that stands.
type StockUse struct {
	At     time.Time
	Amount Micro
}

// StockBatch is what is likely left of one delivery.
type StockBatch struct {
	Batch   string
	Left    Micro
	Expires Day // 0 when none was said
}

// maxBatches bounds how far back batches are looked for.
const maxBatches = 50

// Batches gives the deliveries of a material that are likely still on the shelf:
// the newest ones that add up to what there is, for people open the oldest first.
// They come newest first.
func (s *State) Batches(id string) ([]StockBatch, error) {
	m, err := s.material(id)
	if err != nil {
		return nil, err
	}
	var out []StockBatch
	left := m.shelf.Now()
	for _, k := range slices.Backward(m.moves) {
		if left <= 0 || len(out) == maxBatches {
			break
		}
		r := s.recs[k]
		if r.kind != recDelivery {
			continue
		}
		b := StockBatch{Left: min(Micro(r.value), left)}
		left -= b.Left
		if e, ok := s.details[k].(StockMoved); ok {
			b.Batch, b.Expires = e.Batch, e.Expires
		}
		out = append(out, b)
	}
	return out, nil
}

// maxUses bounds how many uses a forecast rests on: the newest.
const maxUses = 2000

// Uses gives the uses of a material from a moment on, newest first, and since when
// they are all there are: that moment, or when the material came, or the oldest
// of them when there are more than a forecast needs.
func (s *State) Uses(id string, from time.Time) (uses []StockUse, since time.Time, err error) {
	m, err := s.material(id)
	if err != nil {
		return nil, time.Time{}, err
	}
	since = from
	if added := s.said(m.rec).At; added.After(since) {
		since = added
	}
	for _, k := range slices.Backward(m.moves) {
		r := s.recs[k]
		if r.kind != recUse || r.at < from.UnixMilli() {
			continue
		}
		if len(uses) == maxUses {
			since = uses[maxUses-1].At
			return slices.DeleteFunc(uses, func(u StockUse) bool { return u.At.Before(since) }), since, nil
		}
		at := time.UnixMilli(r.at).UTC()
		uses = append(uses, StockUse{at, Micro(r.value)})
		// What was said before the material came and recorded after counts too.
		if at.Before(since) {
			since = at
		}
	}
	return uses, since, nil
}
