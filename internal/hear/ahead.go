package hear

import (
	"math"
	"strings"
	"time"
)

// What is still to come: days that parts are due, times to be reminded at.

// dueDay returns the day that something is due: «friday», «the 20th», «in a
// fortnight», «thursday week», «end of the month».
func (r *reading) dueDay() (string, bool) {
	today := time.Date(r.now.Year(), r.now.Month(), r.now.Day(), 0, 0, 0, 0, r.now.Location())
	if days, ok := r.daysAhead(); ok {
		return today.AddDate(0, 0, days).Format(isoDay), true
	}
	for _, s := range r.all(spanDay) {
		if s.ids[1] <= today.Format(isoDay) && !r.has("due", "here", "by", "coming", "arriving", "delivery") || s.ids[1] < today.Format(isoDay) {
			continue // when it was ordered
		}
		if s.ids[1] == today.Format(isoDay) && len(r.all(spanDay)) > 1 {
			continue
		}
		if _, dated := r.spanOf(s.to, spanDay); dated {
			continue // «friday 20 march»: the date says it better
		}
		next := s.ids[1]
		if d, err := time.ParseInLocation(isoDay, next, r.now.Location()); err == nil {
			w := r.word(s.from - 1)
			if (w == "on" || w == "the") && r.word(s.from-2) == "week" || w == "week" && r.word(s.from-2) == "a" { // «a week on friday»
				next = d.AddDate(0, 0, 7).Format(isoDay)
			}
			if w == "next" && d.Sub(today) < 5*24*time.Hour && int(d.Weekday()) > int(today.Weekday()) {
				next = d.AddDate(0, 0, 7).Format(isoDay) // «next friday», said on a tuesday
			}
		}
		return next, true
	}
	switch {
	case r.has("end of the week", "end of this week", "by the weekend"):
		return today.AddDate(0, 0, (int(time.Friday)-int(today.Weekday())+7)%7).Format(isoDay), true
	case r.has("end of the month", "end of this month", "month end"):
		return time.Date(today.Year(), today.Month()+1, 0, 0, 0, 0, 0, today.Location()).Format(isoDay), true
	}
	return "", false
}

// daysAhead reads «in a fortnight», «in 10 days», «two weeks», «in a week».
func (r *reading) daysAhead() (int, bool) {
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		switch {
		case w == "fortnight":
			return 14, true
		case (w == "a" || w == "1" || w == "one") && r.word(i+1) == "week" && (r.word(i-1) == "in" || r.word(i-1) == "about" || r.word(i-1) == "due" || r.word(i-1) == "within") && r.word(i+2) != "on" && !weekdayOK(r.word(i+2)):
			return 7, true
		case w == "week" && r.word(i-1) == "a" && r.word(i+1) == "today":
			return 7, true
		case (w == "couple" || w == "few") && (r.word(i+2) == "weeks" || r.word(i+2) == "week") && w == "couple":
			return 14, true
		}
		if v, n, ok := r.numberAt(i); ok && v == math.Trunc(v) && v > 0 && v < 400 {
			switch r.word(n) {
			case "days", "day":
				return int(v), true
			case "weeks":
				return 7 * int(v), true
			case "working":
				return 0, false
			}
		}
	}
	return 0, false
}

// timeAhead returns the time to be reminded at, and the tokens that say it.
// A time of day alone is the next that comes in working hours today; one that
// has been is no time: it may be meant for tomorrow.
func (r *reading) timeAhead() (at time.Time, ok bool) {
	if d, ok := r.within(); ok {
		at := r.now.Truncate(time.Minute).Add(d)
		if d >= 10*time.Minute {
			at = at.Round(5 * time.Minute) // a round delay is a round time of the clock
		}
		return at, true
	}
	day, dayed := r.now, false
	if s, ok := r.first(spanDay); ok {
		if d, err := time.ParseInLocation(isoDay, s.ids[1], r.now.Location()); err == nil {
			day, dayed = d, true
		}
		if w := r.word(s.to - 1); w == "today" || w == "tonight" || w == "afternoon" || w == "morning" || w == "evening" {
			dayed = w != "today" && w != "tonight" && s.ids[0] != s.ids[1]
		}
	}
	if days, ok := r.daysAhead(); ok {
		day, dayed = r.now.AddDate(0, 0, days), true
	}
	hour, pm, am, ok := r.clockSaid()
	if !ok {
		return time.Time{}, false
	}
	pm = pm || r.has("afternoon", "evening", "tonight")
	am = am || r.has("morning", "first thing")
	if hour < 12 && (pm || !am && hour < 7) {
		hour += 12
	}
	of := func(h float64) time.Time {
		return time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, r.now.Location()).Add(time.Duration(math.Round(h*60)) * time.Minute)
	}
	t := of(hour)
	if !t.After(r.now) && !dayed && !am && hour < 12 {
		if later := of(hour + 12); later.After(r.now) && hour+12 <= 19 {
			t = later
		}
	}
	if !t.After(r.now) && (!dayed || am) {
		return time.Time{}, false
	}
	return t, true
}

func fourDigits(w string) bool { return len(w) == 4 && strings.Trim(w, "0123456789") == "" }

// quantityWithUnit reports a number that is an amount of something.
func (r *reading) quantityWithUnit(i int) bool {
	for _, s := range r.spans {
		if s.kind == spanQuantity && s.from == i && s.unit != "" {
			return true
		}
	}
	return false
}

// within reads «in 20 minutes», «in half an hour», «in an hour and a half».
func (r *reading) within() (time.Duration, bool) {
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i); w != "in" && w != "within" {
			continue
		}
		switch {
		case r.word(i+1) == "half" && r.word(i+2) == "an" && stem(r.word(i+3)) == "hour":
			return 30 * time.Minute, true
		case r.word(i+1) == "half" && stem(r.word(i+2)) == "hour":
			return 30 * time.Minute, true
		case r.word(i+1) == "quarter" && r.word(i+2) == "of", r.word(i+1) == "a" && r.word(i+2) == "quarter":
			return 15 * time.Minute, true
		case (r.word(i+1) == "an" || r.word(i+1) == "a") && stem(r.word(i+2)) == "hour":
			if r.word(i+3) == "and" && r.has("and a half") {
				return 90 * time.Minute, true
			}
			return time.Hour, true
		case r.word(i+1) == "a" && r.word(i+2) == "couple":
			if r.has("couple of hours", "couple hours") {
				return 2 * time.Hour, true
			}
		}
		for _, s := range r.spans {
			if s.kind != spanQuantity || s.from != i+1 {
				continue
			}
			switch s.unit {
			case "h":
				return time.Duration(math.Round(s.value*60)) * time.Minute, true
			case "min":
				return time.Duration(math.Round(s.value)) * time.Minute, true
			}
		}
		if v, n, ok := r.numberAt(i + 1); ok {
			switch w := r.word(n); {
			case strings.HasPrefix(w, "min"):
				return time.Duration(math.Round(v)) * time.Minute, true
			case stem(w) == "hour":
				return time.Duration(math.Round(v*60)) * time.Minute, true
			}
		}
	}
	return 0, false
}

// clockSaid reads a time of day: «at 4», «half 3», «3pm», «15:30», «noon».
func (r *reading) clockSaid() (hour float64, pm, am, ok bool) {
	for i := r.lo; i < r.hi; i++ {
		switch w := r.word(i); {
		case w == "noon" || w == "midday":
			return 12, false, false, true
		case len(w) > 2 && isDigit(w[0]) && (strings.HasSuffix(w, "pm") || strings.HasSuffix(w, "am")):
			if v, number := parseDigits(strings.TrimSuffix(strings.TrimSuffix(w, "pm"), "am")); number && v <= 12 {
				return v, strings.HasSuffix(w, "pm"), strings.HasSuffix(w, "am"), true
			}
		}
		if w := r.word(i); fourDigits(w) && !r.quantityWithUnit(i) {
			if v, number := parseDigits(w); number && v < 2400 && math.Mod(v, 100) < 60 && v >= 500 {
				return math.Floor(v/100) + math.Mod(v, 100)/60, false, v < 1200 && w[0] == '0', true // «1530», «0830»
			}
		}
		h, n, said := r.clockAt(i)
		if !said || h < 0 || h >= 24 {
			continue
		}
		if m, k, ok := r.numberAt(n); ok && m < 60 && m == math.Trunc(m) && len(r.word(n)) == 2 && (r.word(k) == "pm" || r.word(k) == "am") && h <= 12 {
			return h + m/60, r.word(k) == "pm", r.word(k) == "am", true // «3 30 pm»
		}
		w, before := r.word(i), r.word(i-1)
		dotted := false
		if dot := strings.IndexByte(w, '.'); dot > 0 && len(w)-dot == 3 { // «at 3.30», «14.20»
			whole := math.Floor(h)
			if m := math.Round((h - whole) * 100); m < 60 {
				h, dotted = whole+m/60, whole >= 7
			}
		}
		next := r.word(n)
		clock := strings.Contains(w, ":") || dotted || next == "oclock" || next == "am" || next == "pm" || w == "half" && r.word(i+1) != "a" && r.word(i+1) != "an" || w == "quarter" || r.word(i+1) == "past" || r.word(i+1) == "to" && isDigitWord(r.word(i+2))
		if r.spanAt(i-1, spanDay) && h >= 1 && h == math.Trunc(h) && len(r.word(i)) <= 2 && (n >= r.hi || next == "to" || r.toks[n-1].stop || r.toks[n-1].end) {
			clock = true // «tomorrow 8 to …»
		}
		if !clock && before != "at" && before != "by" && before != "about" && before != "for" && before != "before" && before != "around" {
			continue
		}
		if !clock {
			if u, _, isUnit := r.unitAt(n); isUnit && u != "" {
				continue
			}
		}
		return h, next == "pm", next == "am", true
	}
	return 0, false, false, false
}
