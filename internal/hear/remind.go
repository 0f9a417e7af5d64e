package hear

import (
	"slices"
	"time"
)

// remind hears what somebody wants to be reminded of.
var remind = kind{
	name:     "Remind",
	write:    true,
	examples: []string{"remind me at 4 to turn the roof panel", "remind me in 20 minutes to check the epoxy"},
	needs:    []string{"at", "text"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		if t, ok := r.timeAhead(); ok && !r.severalTimes() {
			in.set("at", t.Format(isoMinute))
		} else if t, ok := r.thatHour(in); ok {
			in.set("at", t.Format(isoMinute))
		} else if b := r.bare(); len(b) == 1 && (len(r.leads(nil)) == 0 || r.word(b[0].from-1) == "me" && r.word(b[0].to) == "to") && b[0].value >= 1 && b[0].value < 24 {
			// «make it 4», or «4» to the question when
			hour := b[0].value
			if hour < 7 {
				hour += 12
			}
			t := time.Date(r.now.Year(), r.now.Month(), r.now.Day(), 0, 0, 0, 0, r.now.Location()).Add(time.Duration(hour*60) * time.Minute)
			if t.After(r.now) {
				in.set("at", t.Format(isoMinute))
			} else if slices.Contains(in.Missing, "at") {
				in.set("hour", b[0].value) // today's has been: which one, is to be asked
			}
		}
		if job := r.onlyJob(); job != "" {
			in.set("job", job)
		} else if c.ChannelJob != "" && !in.has("job") {
			in.set("job", c.ChannelJob)
		}
		if who := r.remindedPerson(c); who != "" {
			in.set("who", who)
		}
		from, to, headed := r.ownText("Remind")
		if !headed && !slices.Contains(in.Missing, "text") {
			return
		}
		text := r.reminderText(from, to)
		if before := r.whole.part(r.whole.lo, r.lo); text == "" && headed && before.hi > before.lo && !before.asking() {
			text = before.reminderText(before.lo, before.hi) // «bleed the brakes tomorrow, remind me at 8»
			if t, ok := r.whole.timeAhead(); ok {
				in.set("at", t.Format(isoMinute))
			}
		}
		if text != "" {
			in.set("text", text)
		}
	},
}

// thatHour is the hour said before on the day said now: «8», «tomorrow».
func (r *reading) thatHour(in *Intent) (time.Time, bool) {
	hour, kept := number(in.Fields["hour"])
	s, dayed := r.first(spanDay)
	if !kept || !dayed {
		return time.Time{}, false
	}
	day, err := time.ParseInLocation(isoDay, s.ids[1], r.now.Location())
	if r.has("tonight", "evening", "today") && hour < 12 {
		hour += 12
	}
	at := time.Date(day.Year(), day.Month(), day.Day(), int(hour), 0, 0, 0, r.now.Location())
	return at, err == nil && at.After(r.now)
}

// severalTimes reports two times of day: one reminder cannot keep both.
func (r *reading) severalTimes() bool {
	for i := r.lo; i+2 < r.hi; i++ {
		if fourDigits(r.word(i)) && r.word(i+1) == "and" && fourDigits(r.word(i+2)) {
			return true
		}
	}
	return false
}

// reminderText is what is left of a reminder when its time is taken off, before and
// behind.
func (r *reading) reminderText(from, to int) string {
	start, end := from, to
	for start < end && (r.timeWord(start) || r.word(start) == "me" || r.word(start) == "us" || r.word(start) == "all") {
		start++
	}
	for tail := end; tail > start && r.timeWord(tail-1); tail-- {
		if w := r.word(tail - 1); r.spanAt(tail-1, spanDay) || isDigitWord(w) || isCount(w) || w == "hour" || w == "tomorrow" || w == "noon" || w == "midday" || w == "fortnight" || w == "week" {
			end = tail - 1 // «turn the gas on» ends with no time
		}
	}
	for end > start && end < to && (r.word(end-1) == "at" || r.word(end-1) == "on" || r.word(end-1) == "in" || r.word(end-1) == "by" || r.word(end-1) == "half" || r.word(end-1) == "about" || r.word(end-1) == "next" || r.word(end-1) == "before") {
		end--
	}
	if end == start+1 && (r.word(start) == "then" || r.word(start) == "that" || r.word(start) == "it" || r.word(start) == "later") {
		return "" // of what, is to be asked
	}
	switch r.word(start) {
	case "to", "about", "that", "because":
		if start++; start >= end {
			return "" // «remind me at 4 to»: what, is to be asked
		}
	}
	return r.textFrom(start, end)
}

// remindedPerson names who is to be reminded, when it is somebody else.
func (r *reading) remindedPerson(c Context) string {
	for i := r.lo; i+1 < r.hi; i++ {
		if id := r.person(i + 1); r.word(i) == "remind" && id != "" && id != c.Speaker {
			return id
		}
	}
	return ""
}

// timeWord reports a word that only says when.
func (r *reading) timeWord(i int) bool {
	switch r.word(i) {
	case "at", "in", "on", "tomorrow", "today", "tonight", "morning", "afternoon", "evening", "half", "past", "quarter", "oclock", "am", "pm", "an", "hour", "hours", "minute", "minutes", "min", "mins", "noon", "midday", "by", "first", "thing", "next", "week", "for", "about", "around", "fortnight", "before":
		return true
	}
	if r.spanAt(i, spanDay) {
		return true
	}
	if r.word(i) == "to" { // «ten to four»
		_, _, next := r.numberAt(i + 1)
		_, _, before := r.numberAt(i - 1)
		return next && (before || r.word(i-1) == "quarter")
	}
	if r.word(i) == "and" { // «an hour and a half», «1600 and 1700»
		_, _, next := r.numberAt(i + 1)
		return r.word(i+1) == "a" && r.word(i+2) == "half" || next
	}
	if r.word(i) == "end" || r.word(i) == "day" { // «end of day»
		return r.has("end of day", "end of the day")
	}
	if r.word(i) == "of" {
		return r.word(i-1) == "end" && (r.word(i+1) == "day" || r.word(i+1) == "the")
	}
	if r.word(i) == "a" {
		return r.word(i+1) == "half" || r.word(i+1) == "couple" || r.word(i+1) == "fortnight" || r.word(i+1) == "week"
	}
	if s := r.word(i); s != "" && isDigit(s[0]) || isCount(s) {
		return true
	}
	return false
}

// timeBefore reads «in an hour and a half remind me to …» at the «remind» of token i.
func (r *reading) timeBefore(i int) (from int, ok bool) {
	if r.word(i) != "remind" || r.word(i+1) != "me" && r.word(i+1) != "us" || i == r.lo {
		return 0, false
	}
	from = i
	for from > r.lo && (r.timeWord(from-1) || filler[r.word(from-1)]) && !r.toks[from-1].end {
		from--
	}
	return from, from < i && (from == r.lo || r.toks[from-1].end || r.toks[from-1].stop) && i+2 < r.hi
}
