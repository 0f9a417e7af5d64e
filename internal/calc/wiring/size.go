package wiring

import (
	"fmt"

	"bayword/internal/unit"
)

// Circuit is what the cable feeds; it sets the drop allowed when none is given.
type Circuit string

// The circuits of a request; Unsaid is the zero value.
const (
	Unsaid   Circuit = ""
	Lighting Circuit = "lighting"
	Charging Circuit = "charging"
	Starter  Circuit = "starter"
)

// Input is what is known of a circuit. Amps and LengthM are needed; the zero value
// of the rest means not said.
type Input struct {
	Amps       float64 // continuous load
	LengthM    float64 // one way, from the source to the load
	Volts      float64 // of the system; 12 when 0
	DropPct    float64 // of Volts; by Circuit when 0
	Circuit    Circuit
	TwoWire    bool    // a wire comes back; otherwise the body is the return
	Cable      Cable   // IEC 60228 class 5 when empty
	ConductorC float64 // conductor temperature in °C; 20 when 0
}

// Limit says what asked for the cross-section.
type Limit string

// The limits.
const (
	ByDrop     Limit = "drop"     // the voltage drop
	ByRating   Limit = "rating"   // the current
	ByFuse     Limit = "fuse"     // carrying the fuse the load needs
	BySmallest Limit = "smallest" // nothing: no thinner cable has a rating
)

// Result is which cable, with everything needed to judge it.
type Result struct {
	Input  Input   // as understood: Volts, DropPct and ConductorC are filled in
	LimitV float64 // drop allowed

	AreaMM2   float64 // smallest nominal cross-section that serves
	AWG       AWG     // thinnest common gauge not thinner
	LimitedBy Limit
	DropV     float64 // at Input.ConductorC
	DropPct   float64 // of Volts
	DropHotV  float64 // with the conductor at 60 °C, as warm as its rating allows
	RatingA   float64 // continuous current; 0 for a starter, which is not continuous
	FuseA     float64 // 0 for a starter

	NextMM2   float64 // next size up; 0 beyond the table
	NextDropV float64 // its drop at Input.ConductorC

	Assumptions []string
	Source      string
	Caution     string
}

// smallestMM2 is the thinnest cable offered: the table of ratings starts above
// 0.75 mm².
const smallestMM2 = 1

// Size chooses a cable; see the package comment for the model. It fails with
// *InputError.
func Size(in Input) (Result, error) {
	r := Result{Input: in}
	if err := r.understand(); err != nil {
		return Result{}, err
	}
	in = r.Input
	sizes, source, err := in.Cable.sizes()
	if err != nil {
		return Result{}, err
	}
	if in.Circuit != Starter {
		if r.FuseA, err = Fuse(in.Amps); err != nil {
			return Result{}, err
		}
	}
	for i, s := range sizes {
		if s.areaMM2 < smallestMM2 {
			continue
		}
		if blocked := r.blockedBy(s); blocked != "" {
			r.LimitedBy = blocked
			continue
		}
		if r.LimitedBy == "" {
			r.LimitedBy = BySmallest
		}
		r.choose(s)
		if i+1 < len(sizes) {
			r.NextMM2, r.NextDropV = sizes[i+1].areaMM2, in.drop(sizes[i+1].mohmM, in.ConductorC)
		}
		r.say(source)
		return r, nil
	}
	last := sizes[len(sizes)-1]
	return Result{}, refuse("length_m", in.LengthM, "%g A over this length drops %.2g V even in %g mm², %.2g V are allowed: shorten the run, allow more drop, or split the load",
		in.Amps, in.drop(last.mohmM, in.ConductorC), last.areaMM2, r.LimitV)
}

// VoltageDrop is the drop in V of a circuit in a nominal cross-section in mm²; it
// uses Amps, LengthM, TwoWire, Cable and ConductorC. It fails with *InputError.
func VoltageDrop(in Input, areaMM2 float64) (float64, error) {
	r := Result{Input: in}
	if err := r.understand(); err != nil {
		return 0, err
	}
	ohm, err := Resistance(in.Cable, areaMM2, 20)
	if err != nil {
		return 0, err
	}
	return r.Input.drop(ohm, r.Input.ConductorC), nil
}

// drop is ΔU = I·L·R' in V, for a resistance at 20 °C in mΩ/m; twice that when a
// wire comes back.
func (in Input) drop(mohmM, conductorC float64) float64 {
	ways := 1.0
	if in.TwoWire {
		ways = 2
	}
	return in.Amps * in.LengthM * ways * mohmM / 1000 / toTwenty(conductorC)
}

// blockedBy says which limit a size does not keep, the drop first; "" for none.
func (r *Result) blockedBy(s size) Limit {
	switch {
	case r.Input.drop(s.mohmM, r.Input.ConductorC) > r.LimitV*(1+1e-9):
		return ByDrop
	case r.Input.Circuit == Starter:
		return ""
	case ratingOf(s.areaMM2) < r.Input.Amps:
		return ByRating
	case ratingOf(s.areaMM2) < r.FuseA:
		return ByFuse
	}
	return ""
}

func (r *Result) choose(s size) {
	in := r.Input
	r.AreaMM2 = s.areaMM2
	r.DropV, r.DropHotV = in.drop(s.mohmM, in.ConductorC), in.drop(s.mohmM, max(ratedC, in.ConductorC))
	r.DropPct = r.DropV / in.Volts * 100
	if in.Circuit != Starter {
		r.RatingA = ratingOf(s.areaMM2)
	}
	// Beyond 4/0 the thickest gauge is as near as the table gets.
	r.AWG = thickest
	if g, ok := notThinner(s.areaMM2); ok {
		r.AWG = g
	}
}

// understand checks the input, fills in what was not said and notes that it did.
func (r *Result) understand() error {
	in := &r.Input
	most := fuseLoad * fuses[len(fuses)-1]
	if in.Circuit == Starter {
		most = 1000
	}
	if !(in.Amps >= 0.1 && in.Amps <= most) {
		return refuse("amps", in.Amps, "give 0.1 to %g A", most)
	}
	if !(in.LengthM >= 0.05 && in.LengthM <= 50) {
		return refuse("length_m", in.LengthM, "give the length one way, 0.05 to 50 m")
	}
	if in.Volts == 0 {
		in.Volts = 12
		r.assume("12 V system (common practice, no source)")
	} else if !(in.Volts >= 6 && in.Volts <= 48) {
		return refuse("volts", in.Volts, "give 6 to 48 V, or leave it out for 12")
	}
	if in.ConductorC == 0 {
		in.ConductorC = 20
		r.assume("conductor at 20 °C")
	} else if !(in.ConductorC >= -40 && in.ConductorC <= 150) {
		return refuse("conductor_c", in.ConductorC, "give -40 to 150 °C, or leave it out for 20")
	}
	return r.allow()
}

// allow sets the drop allowed.
func (r *Result) allow() error {
	in := &r.Input
	pct, volts := 3.0, 0.0
	switch in.Circuit {
	case Unsaid, Lighting:
	case Charging:
		volts = 0.3
	case Starter:
		volts = 0.5
	default:
		return refuse("circuit", string(in.Circuit), "use lighting, charging or starter, or leave it out")
	}
	switch {
	case in.DropPct != 0:
		if !(in.DropPct >= 0.5 && in.DropPct <= 10) {
			return refuse("drop_pct", in.DropPct, "give 0.5 to 10 %% of the system's voltage, or leave it out")
		}
	case volts > 0:
		in.DropPct = volts / in.Volts * 100
		r.assume(fmt.Sprintf("a drop of %g V in the cable, as for %s (common practice, no source)", volts, in.Circuit))
	default:
		in.DropPct = pct
		r.assume(fmt.Sprintf("a drop of %g %%, as for lighting (common practice, no source)", pct))
	}
	r.LimitV = in.Volts * in.DropPct / 100
	return nil
}

func (r *Result) assume(what string) { r.Assumptions = append(r.Assumptions, what) }

// say fills in the rest of the assumptions, the source and the caution.
func (r *Result) say(source string) {
	if r.Input.TwoWire {
		r.assume("a wire of the same size comes back: twice the length is counted")
	} else {
		r.assume("the body is the return: its own drop and that of the earth strap are not in the figure")
	}
	if r.DropHotV > r.LimitV {
		hot := fmt.Sprintf("at %d °C the drop is %s, over the %s allowed", ratedC, volt(r.DropHotV), volt(r.LimitV))
		if r.NextMM2 > 0 {
			hot += fmt.Sprintf("; the next size up is %g mm²", r.NextMM2)
		}
		r.assume(hot)
	}
	if r.Input.Circuit == Starter {
		r.assume("a starter draws for seconds: only the drop is checked, and by custom it has no fuse (common practice, no source)")
		r.Source = source + "; temperature after its Annex A"
		r.Caution = "The maker's cable size comes first. An unfused cable must not be able to chafe. " + caution
		return
	}
	r.assume(fmt.Sprintf("insulation for at least %d °C with 30 °C around it, or for 105 °C in an engine bay; not in a thick bundle", ratedC))
	r.assume("the load is continuous and at most 80 % of the fuse, the fuse at most the rating of the wire (common practice, no source)")
	r.Source = source + "; temperature after IEC 60228 Annex A; current 33 CFR 183.425 Table 5, column for 60 °C; gauge ASTM B258"
	r.Caution = "Fit the fuse at the source: it protects the wire, never go up a size to stop it blowing. " + caution
}

const caution = "Disconnect the battery first. The wiring diagram of the maker comes first; if you are not practised in vehicle wiring, have it done or checked by someone who is."

func volt(v float64) string { return unit.Number(v) + " V" }
