package hear

import (
	"regexp"
	"strings"
)

// roadSpeed hears the question of revs and road speed.
var roadSpeed = kind{
	name:     "RoadSpeed",
	examples: []string{"revs at 60 in top, 175/65r14, 4.1 diff, 0.8 top"},
	needs:    []string{"tyre", "final_drive"},
	score: func(r *reading, _ Context) float64 {
		tyre := r.tyre() != ""
		gearing := r.has("diff", "final drive", "axle ratio", "axle") && len(r.bare()) > 0
		speed := r.has("revs", "rpm", "mph", "kph", "how fast", "road speed", "pulling")
		switch {
		case tyre && (gearing || speed):
			return 1.15
		case gearing && speed:
			return 1
		case r.asking() && r.has("revs", "rpm") && r.has("mph", "kph", "in top", "on the motorway"):
			return 0.95
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		if b := r.bare(); c.Last != nil && c.Last.Intent.Kind == "RoadSpeed" && len(b) == 1 && b[0].value >= 2.5 && b[0].value <= 7 && r.has("with a", "with the") {
			in.set("final_drive", b[0].value) // «and with a 3.9»
			return
		}
		if b := r.bare(); c.Last != nil && c.Last.Intent.Kind == "RoadSpeed" && len(b) == 1 && b[0].value > 0.4 && b[0].value < 1.5 && r.has("with a", "with the", "overdrive", "top") {
			in.set("gear_ratio", b[0].value)
			return
		}
		if b := r.bare(); c.Last != nil && c.Last.Intent.Kind == "RoadSpeed" && c.Last.Intent.has("rpm") && len(b) == 1 && b[0].value >= 500 && b[0].value <= 9000 && r.hi-r.lo <= 5 {
			in.set("rpm", b[0].value) // «what about 3500»: what engines turn at, common practice, no source
			return
		}
		if t := r.tyre(); t != "" {
			in.set("tyre", t)
		}
		if s, ok := r.quantity("mph"); ok {
			in.set("speed_mph", s.value)
		}
		if s, ok := r.quantity("kph"); ok {
			in.set("speed_kph", s.value)
		}
		if s, ok := r.quantity("rpm"); ok {
			in.set("rpm", s.value)
		}
		if r.has("1 to 1", "one to one") || r.has("direct top") && len(r.bare()) < 3 {
			in.set("gear_ratio", 1.0)
		}
		for _, s := range r.bare() {
			after, before := r.word(s.to), r.word(s.from-1)
			if s.from > r.lo && (r.toks[s.from-1].stop || r.toks[s.from-1].end) {
				before = ""
			}
			if before == "is" || before == "at" && gearWords[r.word(s.from-2)] {
				before = r.word(s.from - 2)
			}
			if r.toks[s.to-1].stop || r.toks[s.to-1].end {
				after = ""
			}
			switch {
			case after == "diff" || after == "final" || after == "axle":
				in.set("final_drive", s.value)
			case gearWords[after] && s.value < 8:
				in.set("gear_ratio", s.value)
			case before == "diff" || before == "axle" || before == "drive" && r.word(s.from-2) == "final":
				in.set("final_drive", s.value)
			case gearWords[before] && s.value < 8:
				in.set("gear_ratio", s.value)
			case after == "revs" || before == "revs" && s.value > 300:
				in.set("rpm", s.value)
			case before == "at" && s.value >= 5 && s.value <= 200 && !in.has("speed_kph") && !in.has("speed_mph"):
				in.set("speed_mph", s.value) // «revs at 60»
			}
		}
	},
	check: func(in *Intent) {
		if !in.has("rpm") && !in.has("speed_mph") && !in.has("speed_kph") {
			in.Missing = append(in.Missing, "speed_mph")
		}
	},
}

var gearWords = wordSet("top fifth fourth third second first overdrive gear od")

var inchTyre = regexp.MustCompile(`\b(\d\.\d{2}) ?(?:-|x|by) ?(1[0-9])\b`)

// tyre returns the tyre code said, or "".
func (r *reading) tyre() string {
	for i := r.lo; i < r.hi; i++ {
		if w := r.word(i); len(w) >= 9 && w[3] == '/' && strings.Contains(w, "r") && isDigit(w[0]) {
			return strings.TrimRight(w, "s")
		}
	}
	if r.hi > r.lo {
		text := strings.ToLower(r.source[r.toks[r.lo].from:r.toks[r.hi-1].to])
		if m := inchTyre.FindStringSubmatch(text); m != nil {
			return m[1] + "-" + m[2]
		}
	}
	return ""
}
