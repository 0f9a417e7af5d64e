package forecast

import "time"

// Calendar turns working days from now into days and back. Saturdays, Sundays and
// the days off are free, and no other.
type Calendar struct {
	first time.Time // midnight of the first working day
	off   map[date]bool
}

type date struct {
	year  int
	month time.Month
	day   int
}

func dateOf(t time.Time) date {
	y, m, d := t.Date()
	return date{y, m, d}
}

// From begins a calendar on a day, or on the next that is worked.
func From(day time.Time, off ...time.Time) Calendar {
	d := dateOf(day)
	c := Calendar{first: time.Date(d.year, d.month, d.day, 0, 0, 0, 0, day.Location()), off: map[date]bool{}}
	for _, t := range off {
		c.off[dateOf(t)] = true
	}
	for c.free(c.first) {
		c.first = c.first.AddDate(0, 0, 1)
	}
	return c
}

func (c Calendar) free(day time.Time) bool {
	return day.Weekday() == time.Saturday || day.Weekday() == time.Sunday || c.off[dateOf(day)]
}

// Number counts a working day, 0 the first; false for one that is free or before it.
func (c Calendar) Number(day time.Time) (int, bool) {
	d := dateOf(day)
	at := time.Date(d.year, d.month, d.day, 0, 0, 0, 0, c.first.Location())
	if c.free(at) || at.Before(c.first) {
		return 0, false
	}
	return int(c.MorningAfter(at)) - 1, true
}

// Start is the day on which work begins that begins so many working days from now.
func (c Calendar) Start(days float64) time.Time { return c.day(int(days + slack)) }

// End is the day on which work ends that ends so many working days from now: what
// fills a day ends on it.
func (c Calendar) End(days float64) time.Time {
	whole := int(days)
	if days-float64(whole) <= slack && whole > 0 {
		whole--
	}
	return c.day(whole)
}

// day is the n-th working day, 0 the first.
func (c Calendar) day(n int) time.Time {
	at := c.first
	for n > 0 {
		if at = at.AddDate(0, 0, 1); !c.free(at) {
			n--
		}
	}
	return at
}

// MorningAfter counts the working days until the morning after a day, on which
// what came that day can be worked with; 0 for a day before the first.
func (c Calendar) MorningAfter(day time.Time) float64 {
	n := 0
	y, m, d := day.Date()
	last := time.Date(y, m, d, 0, 0, 0, 0, c.first.Location())
	for at := c.first; !at.After(last) && n < maxDays; at = at.AddDate(0, 0, 1) {
		if !c.free(at) {
			n++
		}
	}
	return float64(n)
}
