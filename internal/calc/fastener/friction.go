package fastener

// Lubrication is the state of thread and head when the bolt is tightened.
type Lubrication string

// The lubrications of a request; Unsaid is the zero value.
const (
	Unsaid       Lubrication = ""
	Dry          Lubrication = "dry"           // clean, as delivered
	Oiled        Lubrication = "oiled"         // engine oil or the like
	Moly         Lubrication = "moly"          // molybdenum disulphide paste
	CopperGrease Lubrication = "copper_grease" // copper anti-seize
	Threadlock   Lubrication = "threadlock"    // liquid, still wet
	Zinc         Lubrication = "zinc"          // zinc plated, no lubricant
)

// Friction is a range of the coefficient, in the thread and under the head.
type Friction struct {
	Min, Typical, Max float64
	Source            string
}

const lubrications = "use dry, oiled, moly, copper_grease, threadlock or zinc, or leave it out"

// frictionOf gives the range for a lubrication; stainless steel, dry or merely
// oiled, rubs much harder.
//
// Classes are those of VDI 2230-1 (2003) Table A5, read in reproductions of it:
// A 0.04–0.10 (solid lubricants, waxes), B 0.08–0.16 (the same, greases, oils),
// C 0.14–0.24 (bare and slightly oiled as delivered; zinc plated without
// lubricant; adhesive), and for austenitic steel B to C with paste, D 0.20–0.35
// with oil, E from 0.30 dry. The low end sets the torque, so where a range departs
// from its class it does so mostly downwards (common practice, no source):
//   - dry, zinc and threadlock start below class C: a bolt called dry often
//     carries the maker's oil, plating is often waxed, wet adhesive slides;
//   - stainless keeps low ends below D and E for the sake of a steel or plated
//     partner;
//   - moly alone starts above the foot of its class, A: below 0.06 lie lacquers and
//     polymers, not paste, and the caution says so. At 0.04 the bolt would be used
//     to about 1.2 of its least yield strength.
func frictionOf(l Lubrication, stainless bool) (Friction, bool) {
	if stainless {
		switch l {
		case Dry:
			return Friction{0.16, 0.26, 0.40, "VDI 2230-1 friction classes D to E, low end common practice"}, true
		case Oiled, Threadlock:
			return Friction{0.14, 0.22, 0.35, "VDI 2230-1 friction classes C to D"}, true
		case Moly, CopperGrease:
			return Friction{0.08, 0.12, 0.24, "VDI 2230-1 friction classes B to C"}, true
		case Unsaid:
			return Friction{0.08, 0.20, 0.40, "VDI 2230-1 friction classes B to E"}, true
		}
	}
	switch l {
	case Unsaid:
		return Friction{0.08, 0.12, 0.24, "VDI 2230-1 friction classes B to C"}, true
	case Dry:
		return Friction{0.12, 0.16, 0.24, "VDI 2230-1 friction class C, low end common practice"}, true
	case Oiled:
		return Friction{0.08, 0.12, 0.16, "VDI 2230-1 friction class B"}, true
	case Moly:
		return Friction{0.06, 0.09, 0.14, "VDI 2230-1 friction classes A to B, low end common practice"}, true
	case CopperGrease:
		return Friction{0.08, 0.11, 0.16, "VDI 2230-1 friction class B"}, true
	case Threadlock, Zinc:
		return Friction{0.10, 0.15, 0.24, "VDI 2230-1 friction class C, low end common practice"}, true
	}
	return Friction{}, false
}
