package hear

import (
	"math"
	"slices"
	"strings"
	"time"

	"bayword/internal/unit"
)

// What the kinds about paint share: panels, coats, times of day, litres.

// fillPanels sets the panels in the order said.
func fillPanels(r *reading, in *Intent) {
	var panels []string
	for _, p := range r.all(spanPanel) {
		if p.id != "" && !slices.Contains(panels, p.id) {
			panels = append(panels, p.id)
		}
	}
	if len(panels) == 0 && r.has("the lot", "whole shell", "the shell", "everything", "all over", "the body") {
		panels = []string{"whole body"}
	}
	if len(panels) > 0 {
		in.set("panels", panels)
	}
}

// fillCoats sets the number of coats.
func fillCoats(r *reading, in *Intent) {
	if s, ok := r.quantity("coats"); ok && s.value >= 1 && s.value == float64(int(s.value)) {
		in.set("coats", int(s.value))
		return
	}
	for _, s := range r.bare() {
		if (r.word(s.from-1) == "for" || r.word(s.from-1) == "and") && (r.word(s.to) == "on" || in.Kind == "CheckEnough" && r.word(s.to) == "") && s.value == float64(int(s.value)) && s.value <= 12 {
			in.set("coats", int(s.value)) // «and enough of the blue for three on the tailgate»
			return
		}
	}
	switch {
	case r.has("more coat", "more coats"):
		for _, s := range r.bare() {
			if r.word(s.to) == "more" && s.value == float64(int(s.value)) {
				in.set("coats", int(s.value))
			}
		}
	case r.has("another coat"), r.oneOfCoats():
		in.set("coats", 1)
	case r.has("single coat"):
		in.set("coats", 1)
	case r.has("twice"):
		in.set("coats", 2)
	case r.has("three times"):
		in.set("coats", 3)
	case r.has("a coat", "one coat", "coat of"):
		in.set("coats", 1)
	case len(in.Missing) == 1 && in.Missing[0] == "coats":
		if b := r.bare(); len(b) == 1 && b[0].value == float64(int(b[0].value)) {
			in.set("coats", int(b[0].value))
		}
	}
}

// litres returns the volume said, in litres.
func (r *reading) litres() (float64, bool) {
	s, ok := r.quantity("l", "ml", "mil", "pint_uk", "gal_uk")
	if !ok {
		return 0, false
	}
	u := s.unit
	if u == "mil" {
		u = "ml"
	}
	v, err := unit.Convert(s.value, u, unit.Litre)
	return tidy(v), err == nil
}

const isoMinute = "2006-01-02T15:04"

// timeSaid returns when something was finished: «at half nine», «yesterday at 4
// in the afternoon», «at 9:45», «just now». A time of day alone is the last
// that can have been in working hours, on the day said or today.
func (r *reading) timeSaid() (time.Time, bool) {
	if r.has("just now", "just finished", "just done", "this minute", "right now", "a minute ago") {
		return r.now.Truncate(time.Minute), true
	}
	if s, ok := r.quantity("min"); ok && r.word(s.to) == "ago" {
		return r.now.Add(-time.Duration(math.Round(s.value)) * time.Minute).Truncate(time.Minute), true
	}
	day, dayed := r.now, false
	if s, ok := r.first(spanDay); ok {
		if d, err := time.ParseInLocation(isoDay, s.ids[0], r.now.Location()); err == nil {
			day, dayed = d, true
		}
	}
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i - 2); r.warmthAt(i) || (w == "starting" || w == "started" || w == "began") && r.has("finished", "done") {
			continue // «starting at 9 finished 10»
		}
		at := r.word(i-1) == "at" || r.word(i-1) == "finished" || r.word(i-1) == "about" || r.word(i-1) == "by" || r.word(i-1) == "done" && i == r.hi-1 && strings.Contains(r.word(i), ".")
		hour, n, ok := r.clockAt(i)
		// «9.30» is half past nine.
		if w := r.word(i); ok && (r.word(i-1) == "at" || r.word(i-1) == "finished" || r.word(i-1) == "done") && len(w) >= 4 && w[len(w)-3] == '.' {
			whole := float64(int(hour))
			if m := (hour - whole) * 100; m < 60 {
				hour = whole + m/60
			}
		}
		if !ok || hour < 0 || hour >= 24 {
			continue
		}
		if u, _, isUnit := r.unitAt(n); isUnit && u != "" && r.word(n) != "c" {
			continue // a temperature or an amount
		}
		next := r.word(n)
		clock := strings.Contains(r.word(i), ":") || next == "oclock" || next == "am" || next == "pm" || r.word(i) == "half" && r.word(i+1) != "a" && r.word(i+1) != "an" || r.word(i) == "quarter"
		if !at && !clock {
			continue
		}
		afternoon := next == "pm" || r.has("afternoon", "evening", "tonight")
		morning := next == "am" || r.has("morning")
		if hour < 12 && (afternoon || !morning && hour < 6.5) {
			hour += 12
		}
		t := time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, r.now.Location()).Add(time.Duration(math.Round(hour*60)) * time.Minute)
		// «at 7» in the evening of the same day, when that has been.
		if later := t.Add(12 * time.Hour); !morning && hour < 12 && !afternoon && !dayed && later.Before(r.now) && hour < 8 {
			t = later
		}
		return t, true
	}
	return time.Time{}, false
}

// warmthAt reports that the number at token i says how warm it is: «booth at 19».
func (r *reading) warmthAt(i int) bool {
	w := r.word(i - 2)
	return r.word(i-1) == "at" && (w == "booth" || w == "air" || w == "temp" || w == "temperature" || w == "oven")
}

// temperature returns the temperature said, in °C.
func (r *reading) temperature() (float64, bool) {
	for _, s := range r.bare() {
		if r.warmthAt(s.from) {
			return s.value, true
		}
	}
	for _, s := range r.spans {
		if s.kind != spanQuantity {
			continue
		}
		switch s.unit {
		case "c":
			return s.value, true
		case "f":
			v, err := unit.Convert(s.value, unit.Fahr, unit.Celsius)
			return tidy(v), err == nil
		}
	}
	return 0, false
}
