package shop

import "slices"

// panels are the places of a vehicle, and what a find there needs and means.
// Common practice, no source.
var panels = map[string]struct{ sided, structural bool }{
	"bonnet": {}, "boot lid": {}, "tailgate": {}, "roof": {}, "scuttle": {},
	"bulkhead":   {structural: true},
	"front wing": {sided: true}, "rear wing": {sided: true},
	"inner wing":    {sided: true, structural: true},
	"front valance": {}, "rear valance": {}, "front panel": {}, "rear panel": {},
	"door": {sided: true}, "door skin": {sided: true},
	"sill":       {sided: true, structural: true},
	"inner sill": {sided: true, structural: true}, "outer sill": {sided: true, structural: true},
	"floor":      {sided: true, structural: true},
	"boot floor": {}, "spare wheel well": {},
	"a-post": {sided: true, structural: true}, "b-post": {sided: true, structural: true}, "c-post": {sided: true, structural: true},
	"windscreen surround": {}, "rear screen surround": {},
	"front arch": {sided: true}, "rear arch": {sided: true}, "inner arch": {sided: true},
	"chassis leg": {sided: true, structural: true},
	"crossmember": {structural: true},
	"outrigger":   {sided: true, structural: true}, "spring hanger": {sided: true, structural: true},
	"jacking point": {sided: true, structural: true},
	"battery tray":  {}, "drip rail": {sided: true}, "load bed": {},
	"cab corner": {sided: true}, "cab back": {}, "whole body": {},
}

// Panels lists the panels there are, by name.
func Panels() []string {
	names := make([]string, 0, len(panels))
	for p := range panels {
		names = append(names, p)
	}
	slices.Sort(names)
	return names
}

// Sided tells whether a panel comes as a left and a right one.
func Sided(panel string) bool { return panels[panel].sided }

// FindCaution is what to watch for when a find is on a part that carries load;
// empty for other panels. Common practice, no source: the local inspection's
// own rules decide.
func FindCaution(panel string) string {
	if !panels[panel].structural {
		return ""
	}
	return "The " + panel + " is structural: have the repair looked at by a licensed inspector, keep to your local roadworthiness rules, cut back to sound metal and weld all round: never patch over rust."
}

// MendedFindCaution is what to see to once a find on a part that carries load is
// repaired; empty for other panels. Common practice, no source.
func MendedFindCaution(panel string) string {
	if !panels[panel].structural {
		return ""
	}
	return "The " + panel + " is structural: have the repair looked at by a licensed inspector before it is painted or closed up."
}

// sameSide tells whether a side asked for fits a side on record: of a panel with
// no sides, the centre need not be said.
func sameSide(asked, on Side) bool {
	return asked == 0 || asked == on || asked == Centre && on == 0
}
