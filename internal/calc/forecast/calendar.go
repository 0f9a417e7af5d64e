package forecast

import "time"

// Calendar turns working days from now into days and back. Saturdays, Sundays and
// nothing else are free.
type Calendar struct {
	first time.Time // midnight of the first working day
}

// From begins a calendar on a day, or on the next that is worked.
func From(day time.Time) Calendar {
	y, m, d := day.Date()
	first := time.Date(y, m, d, 0, 0, 0, 0, day.Location())
	for free(first) {
		first = first.AddDate(0, 0, 1)
	}
	return Calendar{first}
}

func free(day time.Time) bool {
	return day.Weekday() == time.Saturday || day.Weekday() == time.Sunday
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
	const week = 5
	at := c.first.AddDate(0, 0, n/week*7)
	for n %= week; n > 0; {
		if at = at.AddDate(0, 0, 1); !free(at) {
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
		if !free(at) {
			n++
		}
	}
	return float64(n)
}
