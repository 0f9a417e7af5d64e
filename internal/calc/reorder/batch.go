package reorder

import (
	"slices"
	"time"
)

// Amount is in millionths of the material's own unit, so that sums are exact.
type Amount int64

// One is one unit of a material.
const One Amount = 1_000_000

const maxBatch = 1_000_000 * One

// Batch is a delivery, or what is left of one.
type Batch struct {
	ID      string
	Left    Amount
	Expires time.Time // the first moment when it may no longer be used; zero when none was said
}

// Pick is what to take of a batch.
type Pick struct {
	Batch Batch
	Take  Amount
}

// Picking is which batches to open for an amount.
type Picking struct {
	Picks   []Pick  // in the order to open them; they and Missing sum to the amount
	Missing Amount  // what the batches do not cover
	Expired []Batch // set aside, never picked
}

// FirstOut takes an amount from batches, first expiry first (the rule of good
// storage practice, common practice), batches without a date last, else in the
// order given. It fails with *InputError.
func FirstOut(batches []Batch, amount Amount, now time.Time) (Picking, error) {
	if amount <= 0 || amount > maxBatch {
		return Picking{}, refuse("amount", float64(amount)/float64(One), "give more than 0 and at most %d", maxBatch/One)
	}
	fresh, expired, err := inOrder(batches, now)
	if err != nil {
		return Picking{}, err
	}
	p := Picking{Missing: amount, Expired: expired}
	for _, b := range fresh {
		take := min(b.Left, p.Missing)
		if take == 0 {
			continue
		}
		p.Picks = append(p.Picks, Pick{b, take})
		p.Missing -= take
	}
	return p, nil
}

// Spoil is what of a batch is likely to be left when it expires.
type Spoil struct {
	Batch Batch
	Left  Amount
}

// Spoils says what will go out of date, opened first expiry first at perDay units a
// day; a batch that has expired is left whole. It fails with *InputError.
func Spoils(batches []Batch, perDay float64, now time.Time) ([]Spoil, error) {
	if err := within("per_day", perDay, 0, maxAmount, "use a day"); err != nil {
		return nil, err
	}
	fresh, expired, err := inOrder(batches, now)
	if err != nil {
		return nil, err
	}
	var spoils []Spoil
	for _, b := range expired {
		if b.Left > 0 {
			spoils = append(spoils, Spoil{b, b.Left})
		}
	}
	var busy float64 // days from now until the batch's turn
	for _, b := range fresh {
		if perDay == 0 {
			if !b.Expires.IsZero() && b.Left > 0 {
				spoils = append(spoils, Spoil{b, b.Left})
			}
			continue
		}
		need := float64(b.Left) / float64(One) / perDay
		if b.Expires.IsZero() {
			break
		}
		if has := b.Expires.Sub(now).Hours()/24 - busy; need > has {
			used := Amount(max(has, 0) * perDay * float64(One))
			if used < b.Left {
				spoils = append(spoils, Spoil{b, b.Left - used})
			}
			need = max(has, 0)
		}
		busy += need
	}
	return spoils, nil
}

// inOrder sorts a copy of the batches, first expiry first, and sets the expired
// ones aside.
func inOrder(batches []Batch, now time.Time) (fresh, expired []Batch, err error) {
	if now.IsZero() {
		return nil, nil, refuse("now", "unset", "give the time")
	}
	for _, b := range batches {
		if b.Left < 0 || b.Left > maxBatch {
			return nil, nil, refuse("left", float64(b.Left)/float64(One), "give 0 to %d of a batch", maxBatch/One)
		}
		if !b.Expires.IsZero() && !now.Before(b.Expires) {
			expired = append(expired, b)
		} else {
			fresh = append(fresh, b)
		}
	}
	slices.SortStableFunc(fresh, func(a, b Batch) int {
		switch {
		case a.Expires.IsZero() && b.Expires.IsZero():
			return 0
		case a.Expires.IsZero():
			return 1
		case b.Expires.IsZero():
			return -1
		}
		return a.Expires.Compare(b.Expires)
	})
	return fresh, expired, nil
}
