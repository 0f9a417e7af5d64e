package hear

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// take adds a span and marks its tokens as used.
func (r *reading) take(s span) {
	r.note(s)
	for i := s.from; i < s.to; i++ {
		r.used[i] = true
	}
}

// note adds a span and leaves its tokens free for others.
func (r *reading) note(s span) {
	r.spans = append(r.spans, s)
}

// read recognises everything in a message once.
func (v *Vocabulary) read(text string, now time.Time) *reading {
	r := &reading{v: v, source: text, now: now}
	r.toks = tokens(text, v.mender.Mend)
	r.mendByNext()
	r.joinGrits()
	r.stems = make([]string, len(r.toks))
	for i, t := range r.toks {
		r.stems[i] = stem(t.text)
	}
	r.mendNames()
	r.used = make([]bool, len(r.toks))
	r.matched, r.matches = make([]bool, len(r.toks)), make([][]span, len(r.toks))
	r.hi = len(r.toks)
	r.whole = r
	r.text = joinTokens(r.toks)
	r.spanNames(spanJob) // taken first for those of a number or two words («the 1500»)
	r.spanFasteners()
	r.spanNames(spanMaterial)
	r.spanNames(spanPerson, spanSupplier)
	r.spanThreads()
	r.spanPlaces()
	r.spanBatches()
	r.spanNumbered()
	r.spanFinds()
	r.spanStages()
	r.spanDays()
	r.spanQuantities()
	r.settle()
	r.blotContrast()
	r.blotSlips()
	slices.SortStableFunc(r.spans, func(a, b span) int { return a.from - b.from })
	return r
}

// spanNames takes names of the given kinds from the vocabulary.
func (r *reading) spanNames(kinds ...spanKind) {
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] {
			continue
		}
		for _, s := range r.match(i) {
			if !slices.Contains(kinds, s.kind) || r.anyUsed(s.from, s.to) {
				continue
			}
			if s.weak || (s.kind == spanMaterial && s.id == "") {
				r.note(s)
				if s.weak && s.kind == spanMaterial {
					continue
				}
				if s.kind == spanMaterial {
					i = s.to - 1
				}
				break
			}
			r.take(s)
			i = s.to - 1
			break
		}
	}
}

func (r *reading) anyUsed(from, to int) bool {
	for i := from; i < to; i++ {
		if r.used[i] {
			return true
		}
	}
	return false
}

// blotContrast makes what follows a contrasting «not» count for nothing.
func (r *reading) blotContrast() {
	for i := r.lo; i < r.hi; i++ {
		if r.word(i) != "not" || !r.contrast(i) {
			continue
		}
		for k := range r.spans {
			if s := &r.spans[k]; s.from > i && s.from <= i+3 && !slices.ContainsFunc(r.toks[i:s.from], func(t token) bool { return t.stop || t.end }) {
				s.landmark = true
			}
		}
	}
}

// blotSlips makes a figure that is corrected in the same breath count no more:
// «counted 40, no 42».
func (r *reading) blotSlips() {
	slices.SortStableFunc(r.spans, func(a, b span) int { return a.from - b.from })
	for k := range r.spans {
		s := &r.spans[k]
		if s.kind != spanQuantity || s.landmark {
			continue
		}
		next := s.to
		for w := r.word(next); w == "no" || w == "sorry" || w == "nah" || w == "make" || w == "that" || w == "i" || w == "mean" || w == "wait"; w = r.word(next) {
			next++
		}
		if first := r.word(s.to); next == s.to || first == "make" || first == "that" || first == "i" && r.word(s.to+1) != "mean" {
			continue
		}
		for m := range r.spans {
			if t := &r.spans[m]; t.kind == spanQuantity && t.from == next && (t.unit == s.unit || t.unit == "" || s.unit == "") {
				if t.unit == "" {
					t.unit, t.id = s.unit, s.id
				}
				s.landmark = true
				for i := s.to - 1; i < next; i++ {
					r.toks[i].stop = false // both are of one clause
				}
			}
		}
	}
}

// settle drops what a better reading makes pointless: an ambiguous material
// beside a clear one, and takes an ambiguous one when it is all there is.
func (r *reading) settle() {
	for k := range r.spans {
		s := &r.spans[k]
		if s.kind == spanMaterial && s.id == "" && !s.weak {
			for i := s.from; i < s.to; i++ {
				r.used[i] = true
			}
		}
	}
}

// numberedNouns are the things of the shop that go by number.
var numberedNouns = map[string]string{"find": "find", "task": "task", "extra": "extra", "snag": "snag", "job": "", "page": "page"}

func (r *reading) spanNumbered() {
	for i := r.lo + 1; i+1 < r.hi; i++ {
		if w := r.word(i); w != "no" && w != "number" || r.used[i+1] || !r.has("start on", "starting on", "started on", "finished", "done with") || numberedNouns[r.stem(i-1)] != "" {
			continue
		}
		if v, n, ok := r.numberAt(i + 1); ok && v > 0 && v == float64(int(v)) && (n == r.hi || r.toks[n-1].stop || r.toks[n-1].end) && (r.word(i-1) == "on" || r.word(i-1) == "finished" || r.word(i-1) == "with") {
			r.take(span{kind: spanNumbered, from: i, to: n, id: "task", value: v}) // «making a start on no 3»
		}
	}
	for i := r.lo; i < r.hi; i++ {
		noun, ok := numberedNouns[r.stem(i)]
		if !ok || noun == "" || r.used[i] {
			continue
		}
		if v, n, ok := r.numberAt(i - 1); ok && n == i && r.word(i-2) == "number" && v > 0 && v == float64(int(v)) && !r.used[i-1] {
			r.take(span{kind: spanNumbered, from: i - 2, to: i + 1, id: noun, value: v}) // «number three task»
			continue
		}
		j := i + 1
		if r.word(j) == "number" || r.word(j) == "no" {
			j++
		}
		for {
			v, n, ok := r.numberAt(j)
			if !ok || v < 0 || v != float64(int(v)) || r.used[j] {
				break
			}
			if u, _, unit := r.unitAt(n); unit && (u == "h" || u == "min" || r.toks[j-1].stop && u != "") {
				break // «as an extra, 12 hours», «make that task 4 hours»
			}
			// «find 3» but not «find 3 holes»
			r.take(span{kind: spanNumbered, from: i, to: n, id: noun, value: v})
			j = n
			if w := r.word(j); w == "and" || w == "plus" || w == "to" {
				if _, _, more := r.numberAt(j + 1); more && r.stems[i] != r.toks[i].text {
					j++
					continue
				}
			}
			if r.toks[j-1].stop && r.stems[i] != r.toks[i].text {
				continue
			}
			break
		}
	}
}

// spanBatches finds «batch 4471», «batch is EP-209».
func (r *reading) spanBatches() {
	for i := r.lo; i+1 < r.hi; i++ {
		if w := r.word(i); w != "batch" && w != "lot" {
			continue
		}
		j := i + 1
		for r.word(j) == "number" || r.word(j) == "no" || r.word(j) == "is" || r.word(j) == "was" || r.word(j) == "should" || r.word(j) == "say" || r.word(j) == "read" || r.word(j) == "be" {
			j++
		}
		if j >= r.hi || r.used[j] || r.word(i) == "lot" && !isDigit(r.word(j)[0]) {
			continue
		}
		k := j + 1
		// A batch such as EP-209 may be several tokens without a space between.
		for k < r.hi && !strings.ContainsAny(r.source[r.toks[k-1].to:r.toks[k].from], " \n,;") {
			k++
		}
		r.take(span{kind: spanBatch, from: i, to: k, id: strings.Trim(r.source[r.toks[j].from:r.toks[k-1].to], ",.;")})
		i = k - 1
	}
}

// stageWords maps work to the stage of a job it belongs to.
var stageWords = map[string]string{
	"strip": "strip", "stripping": "strip", "stripped": "strip", "stripdown": "strip", "dismantling": "strip", "blasting": "strip",
	"metal": "metal", "metalwork": "metal", "welding": "metal", "welded": "metal", "fabrication": "metal", "fabricating": "metal", "panelbeating": "metal", "grinding": "metal",
	"paint": "paint", "painting": "paint", "paintwork": "paint", "blocking": "paint", "flatting": "paint", "priming": "paint", "spraying": "paint", "masking": "paint", "sanding": "paint", "prep": "paint", "polishing": "paint", "filling": "paint",
	"mechanical": "mechanical", "mechanicals": "mechanical", "mechanics": "mechanical", "wiring": "mechanical", "plumbing": "mechanical",
	"trim": "trim", "trimming": "trim", "upholstery": "trim", "retrim": "trim",
	"assembly": "assembly", "assembling": "assembly", "refitting": "assembly", "fitup": "assembly",
}

func (r *reading) spanStages() {
	for i := r.lo; i < r.hi; i++ {
		if st, ok := stageWords[r.word(i)]; ok && !r.used[i] {
			r.note(span{kind: spanStage, from: i, to: i + 1, id: st})
		}
	}
}

// stage returns the stage the reading names, or "".
func (r *reading) stage() string {
	if s, ok := r.first(spanStage); ok {
		return s.id
	}
	return ""
}

// material returns the material the reading names: one id, or several to
// choose from, or an unknown name. units narrows an ambiguous name to the
// materials that are measured so.
func (r *reading) material(weakToo bool, fits func(id string) bool) (id string, choose []string, unknown string) {
	for _, s := range r.spans {
		if s.kind == spanMaterial && s.id != "" && !s.weak && !s.landmark {
			return s.id, nil, ""
		}
	}
	if weakToo {
		for _, s := range r.spans {
			if s.kind == spanMaterial && s.weak && (r.hi-r.lo <= 4 || r.word(s.from-1) == "the" || r.word(s.from-1) == "of") {
				return s.id, nil, ""
			}
		}
	}
	for _, s := range r.spans {
		if s.kind != spanMaterial || s.id != "" || s.weak {
			continue
		}
		// «etch primer»: a word that no material has makes it another one.
		if j := s.from - 1; j >= r.lo && !r.used[j] && !filler[r.word(j)] && !isDigit(r.toks[j].text[0]) && !materialMayFollow[r.word(j)] && !r.toks[j].stop && !r.toks[j].end {
			return "", nil, r.word(j) + " " + r.word(s.from)
		}
		for _, m := range s.ids {
			if fits == nil || fits(m) {
				choose = append(choose, m)
			}
		}
		if len(choose) == 1 {
			return choose[0], nil, ""
		}
		slices.Sort(choose)
		return "", choose, ""
	}
	return "", nil, ""
}

// materialMayFollow are words that come before a material without naming one.
var materialMayFollow = wordSet("used use more any some much many left no new full good spare last old fresh mixed our mixing mix got have took put had counted binned wasted delivered ordered need want litres of grams hows stock extra another remaining the proper whole same other how what which steel")

// weekdays by name.
var weekdays = map[string]time.Weekday{"monday": 1, "tuesday": 2, "wednesday": 3, "thursday": 4, "friday": 5, "saturday": 6, "sunday": 0, "mon": 1, "tues": 2, "tue": 2, "weds": 3, "wed": 3, "thurs": 4, "thur": 4, "fri": 5, "sat": 6}

var monthNames = map[string]time.Month{"january": 1, "february": 2, "march": 3, "april": 4, "may": 5, "june": 6, "july": 7, "august": 8, "september": 9, "october": 10, "november": 11, "december": 12, "jan": 1, "feb": 2, "mar": 3, "apr": 4, "jun": 6, "jul": 7, "aug": 8, "sept": 9, "sep": 9, "oct": 10, "nov": 11, "dec": 12}

// dayMonth is a day written 09/03.
var dayMonth = regexp.MustCompile(`^[0-3]\d/[01]\d$`)

const isoDay = "2006-01-02"

// spanDays finds days. ids holds the day as one gone by and as one to come;
// they are the same for a full date.
func (r *reading) spanDays() {
	today := time.Date(r.now.Year(), r.now.Month(), r.now.Day(), 0, 0, 0, 0, r.now.Location())
	day := func(from, to int, past, next time.Time) {
		r.take(span{kind: spanDay, from: from, to: to, id: past.Format(isoDay), ids: []string{past.Format(isoDay), next.Format(isoDay)}})
	}
	for i := r.lo; i < r.hi; i++ {
		if r.used[i] {
			continue
		}
		w, n := r.word(i), r.word(i+1)
		switch {
		case w == "today" || w == "tonight":
			day(i, i+1, today, today)
		case w == "this" && (n == "morning" || n == "afternoon" || n == "evening"):
			day(i, i+2, today, today)
		case w == "day" && n == "before" && r.word(i+2) == "yesterday":
			day(i, i+3, today.AddDate(0, 0, -2), today.AddDate(0, 0, -2))
		case w == "yesterday":
			to := i + 1
			if n == "morning" || n == "afternoon" {
				to++
			}
			day(i, to, today.AddDate(0, 0, -1), today.AddDate(0, 0, -1))
		case w == "tomorrow":
			if n == "week" { // «tomorrow week»
				day(i, i+2, today.AddDate(0, 0, 8), today.AddDate(0, 0, 8))
				break
			}
			day(i, i+1, today.AddDate(0, 0, 1), today.AddDate(0, 0, 1))
		case weekdayOK(w):
			wd := weekdays[w]
			back := (int(today.Weekday()) - int(wd) + 7) % 7
			if back == 0 {
				back = 7
			}
			ahead := (int(wd) - int(today.Weekday()) + 7) % 7
			if ahead == 0 {
				ahead = 7
			}
			from, to := i, i+1
			if r.word(i-1) == "last" {
				from--
			}
			if n == "week" {
				to++
				ahead += 7
			}
			day(from, to, today.AddDate(0, 0, -back), today.AddDate(0, 0, ahead))
		case len(w) == 10 && w[4] == '-':
			if t, err := time.ParseInLocation(isoDay, w, r.now.Location()); err == nil {
				day(i, i+1, t, t)
			}
		case dayMonth.MatchString(w):
			if t, err := time.ParseInLocation("02/01/2006", w+"/"+strconv.Itoa(today.Year()), r.now.Location()); err == nil {
				past, next := t, t
				if past.After(today) {
					past = t.AddDate(-1, 0, 0)
				}
				if next.Before(today) {
					next = t.AddDate(1, 0, 0)
				}
				day(i, i+1, past, next)
			}
		case w == "end" && r.word(i+1) == "of" && monthNames[r.word(i+2)] > 0:
			year := today.Year()
			last := time.Date(year, monthNames[r.word(i+2)]+1, 0, 0, 0, 0, 0, today.Location())
			if last.Before(today) {
				last = time.Date(year+1, monthNames[r.word(i+2)]+1, 0, 0, 0, 0, 0, today.Location())
			}
			day(i, i+3, last, last)
		case strings.Count(w, "/") == 2:
			for _, layout := range []string{"2/1/2006", "2/1/06"} {
				if t, err := time.ParseInLocation(layout, w, r.now.Location()); err == nil {
					day(i, i+1, t, t)
				}
			}
		default:
			r.dayOfMonth(i, today, day)
		}
	}
}

func weekdayOK(w string) bool { _, ok := weekdays[w]; return ok }

// dayOfMonth reads «27 march», «march 27th», «the 20th», «end of june 2027».
func (r *reading) dayOfMonth(i int, today time.Time, day func(from, to int, past, next time.Time)) {
	num := func(w string) int {
		w = strings.TrimRight(w, "stndrh")
		n := 0
		for _, c := range w {
			if c < '0' || c > '9' {
				return 0
			}
			n = n*10 + int(c-'0')
		}
		if w == "" || n > 31 {
			return 0
		}
		return n
	}
	w := r.word(i)
	ordinal := len(w) >= 3 && isDigit(w[0]) && (strings.HasSuffix(w, "th") || strings.HasSuffix(w, "st") || strings.HasSuffix(w, "nd") || strings.HasSuffix(w, "rd"))
	d := 0
	if isDigit(w[0]) {
		d = num(w)
	}
	if n, words := r.ordinalAt(i); n > 0 {
		d, ordinal, i = n, true, i+words-1
	}
	to, month := i+1, time.Month(0)
	if d > 0 {
		j := i + 1
		if r.word(j) == "of" {
			j++
		}
		if m, ok := monthNames[r.word(j)]; ok {
			month, to = m, j+1
		} else if !ordinal {
			return
		}
	} else if m, ok := monthNames[w]; ok && w != "may" && w != "march" && w != "mar" {
		month = m
		if n := r.word(i + 1); n != "" && isDigit(n[0]) {
			d, to = num(n), i+2
		}
		if d == 0 {
			return
		}
	} else {
		return
	}
	year := 0
	if y := r.word(to); len(y) == 4 && isDigit(y[0]) {
		if v, ok := parseDigits(y); ok && v > 1990 && v < 2100 {
			year, to = int(v), to+1
		}
	}
	mk := func(y int, m time.Month) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, today.Location()) }
	switch {
	case year > 0:
		t := mk(year, month)
		day(i, to, t, t)
	case month > 0:
		past, next := mk(today.Year(), month), mk(today.Year(), month)
		if past.After(today) {
			past = mk(today.Year()-1, month)
		}
		if next.Before(today) {
			next = mk(today.Year()+1, month)
		}
		day(i, to, past, next)
	default:
		past, next := mk(today.Year(), today.Month()), mk(today.Year(), today.Month())
		if past.After(today) {
			past = mk(today.Year(), today.Month()-1)
		}
		if next.Before(today) {
			next = mk(today.Year(), today.Month()+1)
		}
		day(i, to, past, next)
	}
}

// ordinals are days of the month in words. The small ones count things as well.
var ordinals = map[string]int{
	"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13,
	"fourteenth": 14, "fifteenth": 15, "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19, "twentieth": 20, "thirtieth": 30,
}

// ordinalAt reads a day of the month in words at token i: «due the twentieth», «by
// the twenty third».
func (r *reading) ordinalAt(i int) (day, words int) {
	if r.word(i-1) != "the" {
		return 0, 0
	}
	due := r.word(i-2) == "due" || r.word(i-2) == "by" || r.word(i-2) == "till" || r.word(i-2) == "until" || r.word(i-2) == "to" || r.word(i-2) == "on"
	if n := ordinals[r.word(i)]; n >= 10 || n > 0 && due && r.word(i-2) != "on" && r.word(i-2) != "to" {
		return n, 1
	}
	if t, n := tens[r.word(i)], ordinals[r.word(i+1)]; (t == 20 || t == 30) && n > 0 && n < 10 {
		return int(t) + n, 2
	}
	return 0, 0
}
