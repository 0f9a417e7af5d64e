package picture

import (
	"regexp"
	"strings"
)

// body is a vehicle of a kind, drawn plainly: no real one. Lengths run from the
// nose, 0, to the tail, 1; heights from the roof, 0, to the ground, 1.
type body struct {
	shut        []float64 // edges of the doors, front to rear: two for one door a side, three for two
	front, rear float64   // wheels
	scuttle     float64   // where the bonnet ends
	screen      float64   // where the roof begins
	roofEnd     float64
	deck        float64 // where the rear screen, or the back of the cab, meets the body
	bed         bool    // it carries an open load bed behind deck
	boxy        bool    // it has a tailgate at its very end
}

// bodyOf takes the kind from the shop's words for it. What is not known is drawn
// as a saloon.
func bodyOf(words string) body {
	words = strings.ToLower(words)
	b := body{shut: []float64{0.35, 0.54, 0.72}, front: 0.18, rear: 0.81, scuttle: 0.32, screen: 0.43, roofEnd: 0.71, deck: 0.84}
	switch {
	case strings.Contains(words, "pick") || strings.Contains(words, "truck"):
		b.shut, b.screen, b.roofEnd, b.deck, b.bed, b.rear = []float64{0.34, 0.54}, 0.40, 0.565, 0.60, true, 0.79
	case strings.Contains(words, "estate") || strings.Contains(words, "wagon"):
		b.roofEnd, b.deck, b.boxy = 0.90, 0.975, true
	case strings.Contains(words, "hatch"):
		b.shut, b.roofEnd, b.deck, b.boxy = []float64{0.35, 0.62}, 0.78, 0.96, true
	case strings.Contains(words, "coup"):
		b.shut, b.roofEnd, b.deck = []float64{0.35, 0.63}, 0.64, 0.82
	}
	switch doorsASide(words) {
	case 1:
		b.shut = []float64{b.shut[0], min(0.63, b.lastShut())}
	case 2:
		if len(b.shut) == 2 {
			last := min(0.72, max(b.lastShut(), b.roofEnd-0.01))
			b.shut = []float64{b.shut[0], (b.shut[0] + last) / 2, last}
		}
	}
	return b
}

var doors = regexp.MustCompile(`\b(two|three|four|five|2|3|4|5)[ -]?(doors?|dr)\b`)

// doorsASide is how many doors the words for a body give each side, its tailgate
// being no side's; 0 when they do not say.
func doorsASide(words string) int {
	said := doors.FindStringSubmatch(words)
	if said == nil {
		return 0
	}
	return map[string]int{"two": 1, "2": 1, "three": 1, "3": 1, "four": 2, "4": 2, "five": 2, "5": 2}[said[1]]
}

func (b body) lastShut() float64 { return b.shut[len(b.shut)-1] }

// Heights of the side view.
const (
	roofLine = 0.05
	waist    = 0.42
	sillTop  = 0.75
	sillEnd  = 0.82
	wheelUp  = 0.795 // of the wheels' centres
)

// silhouette is the body from its left side, clockwise from the nose.
func (b body) silhouette() []point {
	ps := []point{{0.005, sillEnd}, {0, 0.52}, {0.04, 0.45}, {b.scuttle, waist - 0.03}, {b.screen, roofLine}, {b.roofEnd, roofLine}, {b.deck, waist}}
	return append(ps, point{0.995, waist + 0.03}, point{1, 0.56}, point{0.985, sillEnd})
}

// window is the glass in the side.
func (b body) window() []point {
	return []point{{b.scuttle + 0.035, waist - 0.02}, {b.screen + 0.012, roofLine + 0.06}, {b.roofEnd - 0.012, roofLine + 0.06}, {b.deck - 0.045, waist - 0.02}}
}

// spot is where a find is marked: on a side, or from above, where across runs
// from 0 on the right to 1 on the left.
type spot struct {
	above bool
	at    point
}

// inSide are the panels that show from the side; the rest show from above.
func (b body) inSide(panel string, rearEnd, frontEnd bool) (point, bool) {
	first, last := b.shut[0], b.lastShut()
	middle := (first + last) / 2
	along := middle
	switch {
	case frontEnd:
		along = first + 0.05
	case rearEnd:
		along = last - 0.05
	}
	door := (first + b.shut[1]) / 2
	if rearEnd && len(b.shut) > 2 {
		door = (b.shut[1] + b.shut[2]) / 2
	}
	post := last + 0.03
	if len(b.shut) == 2 {
		post = (last + b.deck) / 2
	}
	at, ok := map[string]point{
		"front wing": {first - 0.06, 0.56}, "front arch": {b.front, 0.58},
		"a-post": {first, 0.5}, "b-post": {b.shut[1], 0.5}, "c-post": {post, 0.36},
		"door": {door, 0.57}, "door skin": {door, 0.66},
		"sill": {along, 0.79}, "outer sill": {along, 0.79}, "inner sill": {along, 0.79}, "jacking point": {first + 0.06, 0.83},
		"rear wing": {min(0.93, b.rear+0.11), 0.56}, "rear arch": {b.rear, 0.58},
		"drip rail": {(b.screen + b.roofEnd) / 2, roofLine + 0.03}, "cab corner": {b.roofEnd, 0.7},
	}[panel]
	return at, ok
}

// fromAbove is where a panel is along the vehicle, and how far out of the middle
// it is on its side.
func (b body) fromAbove(panel string, rearEnd, frontEnd bool) (along, out float64, ok bool) {
	floor := (b.shut[0] + b.lastShut()) / 2
	switch {
	case frontEnd:
		floor = b.shut[0] + 0.07
	case rearEnd:
		floor = b.lastShut() - 0.05
	}
	lid := (b.deck + 1) / 2
	if b.boxy {
		lid = b.deck - 0.01
	}
	gate := lid
	if b.bed {
		gate = 0.97
	}
	inner := b.rear
	if frontEnd {
		inner = b.front
	}
	at, ok := map[string][2]float64{
		"bonnet": {b.scuttle * 0.55, 0.25}, "front panel": {0.03, 0.3}, "front valance": {0.005, 0.3}, "battery tray": {b.front + 0.02, 0.3},
		"inner wing": {b.front - 0.02, 0.36}, "chassis leg": {b.front + 0.06, 0.22}, "crossmember": {b.front + 0.03, 0.2},
		"scuttle": {b.scuttle - 0.005, 0.25}, "bulkhead": {b.scuttle + 0.02, 0.25}, "windscreen surround": {(b.scuttle + b.screen) / 2, 0.34},
		"roof": {(b.screen + b.roofEnd) / 2, 0.2}, "floor": {floor, 0.22}, "outrigger": {b.shut[0] + 0.03, 0.4}, "inner arch": {inner, 0.34},
		"rear screen surround": {(b.roofEnd + b.deck) / 2, 0.3}, "spring hanger": {b.rear - 0.06, 0.26}, "boot floor": {min(0.9, b.rear+0.07), 0.2},
		"boot lid": {lid, 0.25}, "tailgate": {gate, 0.25}, "spare wheel well": {min(0.92, b.rear+0.1), 0.2}, "rear panel": {0.97, 0.3}, "rear valance": {0.995, 0.3},
		"load bed": {(b.deck + 1) / 2, 0.25}, "cab back": {b.deck - 0.01, 0.25}, "whole body": {0.5, 0.2},
	}[panel]
	return at[0], at[1], ok
}
