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
