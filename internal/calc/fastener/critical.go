package fastener

import (
	"slices"
	"strings"
	"unicode"
)

// Critical says whether a fastener's name is that of one on which lives hang:
// wheels, hubs, brakes, steering, suspension, drive shafts, seats and belts. Such
// a fastener never gets a computed torque. It is a reading of names, made to err
// on the side of yes: singular or plural, one word or two («wheelnut»), British
// or American («lug nut», «tie rod»). That these groups go by the maker's book
// alone is common practice, no source.
func Critical(fastenerName string) bool {
	words := strings.FieldsFunc(strings.ToLower(fastenerName), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, w := range words {
		words[i] = singular(w)
	}
	for i := range words {
		if harmlessAt(words, i) {
			continue
		}
		if alone(words[i]) {
			return true
		}
		for _, p := range criticalPhrases {
			if phraseAt(words, i, p) {
				return true
			}
		}
	}
	return false
}

// alone says whether one word settles it.
func alone(w string) bool {
	// Parts of a word catch «handbrake», «wheelnut», «halfshaft»; flywheel is the
	// one wheel that does not carry the car.
	for _, part := range []string{"brake", "caliper", "calliper", "steer", "suspen", "seatbelt", "balljoint", "trackrod", "tierod", "driveshaft", "propshaft", "halfshaft", "axle", "rollbar", "wishbone", "swivel", "subframe", "towbar", "airbag"} {
		if strings.Contains(w, part) {
			return true
		}
	}
	if strings.HasPrefix(w, "wheel") || strings.HasPrefix(w, "lugnut") || strings.HasPrefix(w, "hubnut") {
		return true
	}
	return slices.Contains(criticalWords, w)
}

// Single words, in the singular.
var criticalWords = []string{
	"lug", "hub", "knockoff", "spinner", "spindle", "kingpin", "knuckle", "upright", "trunnion",
	"rotor", "disc", "disk", "drum", "servo", "bleeder", "pedal", "spring", "shackle", "shock", "shocker", "damper", "strut",
	"panhard", "pitman", "rack", "column", "prop", "propeller", "uj", "cv", "seat", "belt", "harness", "camber", "castor", "caster", "toe", "tow", "towing", "lifting", "crossmember", "ubolt", "rollcage", "antiroll", "srs",
}

// Words that are critical only together, each in the singular.
var criticalPhrases = [][]string{
	{"ball", "joint"}, {"track", "rod"}, {"tie", "rod"}, {"drag", "link"}, {"drop", "link"}, {"drop", "arm"}, {"idler", "arm"},
	{"king", "pin"}, {"knock", "off"}, {"centre", "lock"}, {"center", "lock"},
	{"control", "arm"}, {"trailing", "arm"}, {"radius", "arm"}, {"swing", "arm"}, {"lower", "arm"}, {"upper", "arm"}, {"a", "arm"}, {"torque", "arm"},
	{"radius", "rod"}, {"torsion", "bar"}, {"roll", "bar"}, {"anti", "roll"}, {"sway", "bar"}, {"stabiliser", "bar"}, {"stabilizer", "bar"}, {"roll", "cage"}, {"u", "bolt"},
	{"master", "cylinder"}, {"slave", "cylinder"}, {"bleed", "nipple"}, {"bleed", "screw"},
	{"drive", "shaft"}, {"prop", "shaft"}, {"half", "shaft"}, {"universal", "joint"}, {"pinion", "flange"}, {"drive", "flange"},
	{"inertia", "reel"}, {"sub", "frame"},
}

// Words that share a name with a critical part and are none: the first word makes
// the second harmless.
var harmlessPairs = [][]string{
	{"wheel", "arch"}, {"wheel", "well"},
	{"fan", "belt"}, {"timing", "belt"}, {"cam", "belt"}, {"alternator", "belt"}, {"dynamo", "belt"}, {"drive", "belt"}, {"v", "belt"},
	{"valve", "spring"}, {"clutch", "spring"}, {"throttle", "spring"}, {"return", "spring"}, {"bonnet", "spring"}, {"valve", "seat"},
	{"bonnet", "strut"}, {"tailgate", "strut"}, {"gas", "strut"}, {"bonnet", "prop"}, {"roof", "rack"}, {"luggage", "rack"},
	{"throttle", "spindle"}, {"crank", "damper"}, {"crankshaft", "damper"}, {"clutch", "disc"},
	{"distributor", "rotor"},
}

// harmlessAt says whether the word at i belongs to a harmless pair.
func harmlessAt(words []string, i int) bool {
	for _, p := range harmlessPairs {
		if phraseAt(words, i, p) || (i > 0 && phraseAt(words, i-1, p)) {
			return true
		}
	}
	return false
}

func phraseAt(words []string, i int, phrase []string) bool {
	return i+len(phrase) <= len(words) && slices.Equal(words[i:i+len(phrase)], phrase)
}

// singular strips the usual English plural of a lower-case word.
func singular(w string) string {
	switch {
	case w == "srs" || w == "gas" || strings.HasSuffix(w, "ss") || strings.HasSuffix(w, "us"):
		return w // «radius», «cross» are no plurals
	case strings.HasSuffix(w, "xes") || strings.HasSuffix(w, "ches"):
		return strings.TrimSuffix(w, "es")
	case len(w) > 2 && strings.HasSuffix(w, "s"):
		return strings.TrimSuffix(w, "s")
	}
	return w
}
