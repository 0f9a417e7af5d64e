package hear

import "slices"

// computeTorque hears the question what torque a bolt takes.
var computeTorque = kind{
	name:     "ComputeTorque",
	examples: []string{"m10 10.9 oiled into ally, what torque", "3/8 unf grade 5 dry into steel, how tight"},
	needs:    []string{"thread", "grade"},
	score: func(r *reading, c Context) float64 {
		if _, ok := r.first(spanThread); !ok {
			return 0
		}
		if r.has("book says", "manual says", "torqued", "ordered", "used", "need some", "tapped out", "drill size", "tap size") {
			return 0
		}
		score := 0.3
		if r.has("torque", "torques", "how tight", "nm", "foot pounds", "how many", "go to", "do up", "tighten", "tight", "go up to", "newton metres") {
			score += 0.5
		}
		if _, ok := r.weakest(spanGrade); ok {
			score += 0.2
		}
		if _, ok := r.first(spanLubricant); ok {
			score += 0.15
		}
		if _, ok := r.first(spanInto); ok && r.has("into", "in to", "in") {
			score += 0.15
		}
		if r.asking() {
			score += 0.1
		}
		return score
	},
	fill: func(r *reading, _ Context, in *Intent) {
		if s, ok := r.first(spanThread); ok {
			in.set("thread", s.id)
		}
		if s, ok := r.weakest(spanGrade); ok {
			in.set("grade", s.id)
		}
		if s, ok := r.first(spanLubricant); ok {
			in.set("lubrication", s.id)
		}
		if s, ok := r.first(spanInto); ok {
			in.set("into", s.id)
			delete(in.Fields, "into_unknown")
		} else if r.has("plastic", "wood", "brass", "bronze", "magnesium", "titanium", "zinc alloy", "nylon") {
			in.set("into_unknown", "other")
		}
		if s, ok := r.quantity("mm", "in", "mil", "cm"); ok && (r.has("engaged", "engagement", "of thread", "deep", "thread in", "in the hole") || r.has("into", "in")) {
			in.set("engaged_mm", tidy(millimetres(s.value, s.unit)))
		}
		if s, ok := r.first(spanFastener); ok {
			in.set("fastener", s.id)
		}
		if w := r.critical(); w != "" {
			in.set("fastener", w)
		}
	},
	check: func(in *Intent) {
		if in.has("into_unknown") {
			in.Missing = append(in.Missing, "into")
			delete(in.Fields, "into_unknown")
		}
	},
}

// CriticalWords returns the words that make a question one about a
// safety-critical thing.
func CriticalWords() []string { return slices.Clone(criticalWords) }

// criticalWords name what a person's life hangs on, wherever they stand in the
// question; the service refuses to work a torque out for it.
var criticalWords = []string{
	"brake", "brakes", "handbrake", "caliper", "calliper", "disc", "drum", "master cylinder", "track rod", "tie rod", "ball joint", "wishbone", "control arm", "damper", "shock", "shocker",
	"panhard", "drag link", "leaf spring", "coil spring", "spring hanger", "spring", "shackle", "u bolt", "u bolts", "ubolt", "ubolts", "trunnion", "kingpin", "king pin", "swivel", "stub axle", "hub", "wheel", "wheels", "axle",
	"steering", "suspension", "anti roll", "antiroll", "seat", "seats", "seat belt", "belt", "harness", "propshaft", "prop shaft", "prop", "driveshaft", "drive shaft", "half shaft", "roll bar", "roll cage", "rollcage", "tow bar", "towbar", "tow", "lifting", "crossmember",
}

// critical returns the safety-critical thing a reading names, or "".
func (r *reading) critical() string {
	for _, w := range criticalWords {
		if r.whole.has(w) {
			return w
		}
	}
	return ""
}
