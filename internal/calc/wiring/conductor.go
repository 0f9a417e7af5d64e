package wiring

import (
	"strconv"
	"strings"
)

// Cable is the standard a cable is made to; the zero value is IEC 60228 class 5.
type Cable string

// The cables of a request.
const (
	Class5      Cable = ""         // flexible, plain copper, IEC 60228 class 5
	RoadVehicle Cable = "iso_6722" // thin-wall road-vehicle cable, ISO 6722-1
)

// size is one nominal cross-section and its greatest resistance at 20 °C.
type size struct {
	areaMM2 float64
	mohmM   float64 // mΩ/m
}

// class5 is IEC 60228 Table 3, class 5, plain copper, read in three reproductions
// of the table that agree.
var class5 = []size{
	{0.5, 39.0}, {0.75, 26.0}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98}, {4, 4.95}, {6, 3.30}, {10, 1.91},
	{16, 1.21}, {25, 0.780}, {35, 0.554}, {50, 0.386}, {70, 0.272}, {95, 0.206}, {120, 0.161},
}

// roadVehicle is ISO 6722-1, copper, from memory.
var roadVehicle = []size{
	{0.5, 37.1}, {0.75, 24.7}, {1, 18.5}, {1.5, 12.7}, {2, 9.42}, {2.5, 7.60}, {3, 6.15}, {4, 4.71}, {6, 3.14}, {10, 1.82},
	{16, 1.16}, {25, 0.743}, {35, 0.527}, {50, 0.368}, {70, 0.259}, {95, 0.196}, {120, 0.153},
}

// sizes gives the cross-sections of a cable, thinnest first, and their source.
func (c Cable) sizes() (s []size, source string, err error) {
	switch c {
	case Class5:
		return class5, "IEC 60228 Table 3, class 5, plain copper", nil
	case RoadVehicle:
		return roadVehicle, "ISO 6722-1, copper (from memory)", nil
	}
	return nil, "", refuse("cable", string(c), "use iso_6722, or leave it out for IEC 60228 class 5")
}

// Resistance is the greatest resistance in mΩ/m that the cable's standard allows
// a nominal cross-section in mm², at a conductor temperature in °C from -40 to
// 150. It fails with *InputError.
func Resistance(c Cable, areaMM2, conductorC float64) (float64, error) {
	if !(conductorC >= -40 && conductorC <= 150) {
		return 0, refuse("conductor_c", conductorC, "give a conductor temperature of -40 to 150 °C")
	}
	sizes, source, err := c.sizes()
	if err != nil {
		return 0, err
	}
	names := make([]string, len(sizes))
	for i, s := range sizes {
		if s.areaMM2 == areaMM2 {
			return s.mohmM / toTwenty(conductorC), nil
		}
		names[i] = strconv.FormatFloat(s.areaMM2, 'f', -1, 64)
	}
	return 0, refuse("area_mm2", areaMM2, "%s has %s mm²", source, strings.Join(names, ", "))
}

// toTwenty is kt of IEC 60228 Annex A for copper, R20 = Rt·kt: 254.5/(234.5 + t),
// which is 1/(1 + 0.00393·(t − 20)).
func toTwenty(celsius float64) float64 { return 254.5 / (234.5 + celsius) }
