package hear

import (
	"regexp"
	"strings"
)

// createJob hears a vehicle that comes in.
var createJob = kind{
	name:     "CreateJob",
	write:    true,
	examples: []string{"new job: 1968 Penhallam Dipper, two door saloon, rhd, Mr Abara, call it dipper"},
	needs:    []string{"make", "model"},
	score: func(r *reading, _ Context) float64 {
		if r.has("hours", "task") && !r.has("create a job", "new job") {
			return 0
		}
		cue := r.has("new job", "create a job", "create job", "set up a job", "open a job", "take in a", "new vehicle", "start a new job", "make a job", "add a vehicle", "book a new one in", "book a new car in", "book one in", "new one in", "booking a new one in", "book in a", "new arrival", "new car in", "new vehicle in")
		if !cue {
			return 0
		}
		if aYear.MatchString(r.text) || r.has("nineteen") || r.has("called", "call it", "id", "customer", "rhd", "lhd", "right hand drive", "left hand drive") {
			return 1.3
		}
		if r.has("to the", "add a job") {
			return 0
		}
		return 0.9
	},
	fill: fillJobCard,
}

var (
	aYear     = regexp.MustCompile(`\b(18[89]\d|19\d\d|20[0-4]\d)\b`)
	aCustomer = regexp.MustCompile(`(?i)\b((?:mr|mrs|ms|miss|dr|sir|lady|lord|mx)\.? [\p{Lu}\p{Ll}][\p{L}'-]+)`)
	called    = regexp.MustCompile(`(?i)\b(?:called|call it|call her|call him|id|known as)[: ]+([\p{L}0-9-]+)`)
	customer  = regexp.MustCompile(`(?i)\bcustomer(?: is|:)? ([^,;.\n]+)`)
	headID    = regexp.MustCompile(`(?i)^\W*(?:please )?(?:create|new|open|start|set up|add) (?:a )?(?:new )?job:? ([\p{L}][\p{L}0-9-]*)[,:]`)
	makeSaid  = regexp.MustCompile(`(?i)\bmake[: ]+([\p{L}-]+)\s*,`)
	modelSaid = regexp.MustCompile(`(?i)\bmodel[: ]+([\p{L}\p{N} -]+?)\s*(?:,|$)`)
	bodyWords = regexp.MustCompile(`(?i)\b((?:(?:two|three|four|five|2|3|4|5)[- ]door )?(?:saloon|coupe|estate|hatchback|convertible|roadster|van|pick-?up|tourer|limousine|sports car|truck|wagon|fastback|cabriolet|drophead|lorry|bus|camper))\b`)
)

func fillJobCard(r *reading, _ Context, in *Intent) {
	text := r.source[r.toks[r.lo].from:r.toks[r.hi-1].to]
	after := ""
	if y := aYear.FindString(text); y != "" {
		v, _ := parseDigits(y)
		in.set("year", int(v))
		after = text[strings.Index(text, y)+len(y):]
	} else if v, next, ok := r.spokenYear(); ok && next < r.hi {
		in.set("year", v)
		after = r.after(next)
	}
	if after != "" {
		// Make and model are the capitalised or plain words after the year, to the next comma.
		name, _, _ := strings.Cut(strings.TrimSpace(after), ",")
		if b := bodyWords.FindString(name); b != "" {
			name, _, _ = strings.Cut(name, b)
		}
		for _, stop := range []string{" for ", " rhd", " lhd", " customer"} {
			name, _, _ = strings.Cut(name, stop)
		}
		if words := strings.Fields(strings.Trim(name, " .")); len(words) > 0 {
			in.set("make", titled(words[0]))
			if len(words) > 1 {
				in.set("model", titled(strings.Join(words[1:], " ")))
			}
		}
	}
	if b := bodyWords.FindString(text); b != "" {
		in.set("body", strings.ToLower(b))
	}
	switch {
	case r.has("rhd", "right hand drive", "righthand drive"):
		in.set("drive", "rhd")
	case r.has("lhd", "left hand drive", "lefthand drive"):
		in.set("drive", "lhd")
	}
	if m := customer.FindStringSubmatch(text); m != nil {
		name := strings.TrimSpace(m[1])
		if aCustomer.MatchString(name) {
			name = titled(name)
		}
		in.set("customer", name)
	} else if m := aCustomer.FindStringSubmatch(text); m != nil {
		in.set("customer", titled(m[1]))
	}
	if m := makeSaid.FindStringSubmatch(text); m != nil {
		in.set("make", titled(m[1]))
	}
	if m := modelSaid.FindStringSubmatch(text); m != nil {
		in.set("model", titled(strings.TrimSpace(m[1])))
	}
	if m := called.FindStringSubmatch(text); m != nil {
		in.set("id", strings.ToLower(m[1]))
	} else if m := headID.FindStringSubmatch(text); m != nil {
		in.set("id", strings.ToLower(m[1]))
	}
}

// spokenYear reads «nineteen seventy one».
func (r *reading) spokenYear() (year, next int, ok bool) {
	for i := r.lo; i+1 < r.hi; i++ {
		if r.word(i) != "nineteen" {
			continue
		}
		if v, n, ok := r.numberAt(i + 1); ok && v >= 10 && v <= 99 {
			return 1900 + int(v), n, true
		}
	}
	return 0, 0, false
}

// titled gives a name written in lower case its capitals.
func titled(s string) string {
	if s != strings.ToLower(s) {
		return s
	}
	words := strings.Fields(s)
	for i, w := range words {
		words[i] = strings.ToUpper(w[:1]) + w[1:]
	}
	return strings.Join(words, " ")
}
