package coating

import (
	"fmt"
	"math"
	"strings"

	"bayword/internal/unit"
)

// Method is how the material is put on.
type Method string

// The methods; Unsaid is the zero value.
const (
	Unsaid       Method = ""
	HVLP         Method = "hvlp"
	Conventional Method = "conventional"
	Airless      Method = "airless"
	Roller       Method = "roller"
	Brush        Method = "brush"
)

const methods = "use hvlp, conventional, airless, roller or brush, or leave it out"

// Loss is the part of the material that misses the panel, in percent.
type Loss struct {
	LowPct, HighPct float64
	What            string
}

// LossOf gives the usual loss of a method; all of it is common practice, no source:
// paint makers' and gun makers' rules of thumb (conventional spray 50 %, «no
// exception»; airless 30 %; brush 10 to 15 %), widened for panels with edges.
func LossOf(m Method) (Loss, bool) {
	switch m {
	case HVLP:
		return Loss{35, 50, "high-volume low-pressure gun"}, true
	case Conventional:
		return Loss{50, 70, "conventional gun"}, true
	case Airless:
		return Loss{30, 50, "airless"}, true
	case Roller:
		return Loss{5, 15, "roller"}, true
	case Brush:
		return Loss{10, 15, "brush"}, true
	case Unsaid:
		return Loss{35, 70, "some spray gun"}, true
	}
	return Loss{}, false
}

// Panel is an area to be coated.
type Panel struct {
	Name   string
	AreaM2 float64
}

// Job is what is to be coated, and with what.
type Job struct {
	Panels       []Panel
	Coats        int
	SolidsPct    float64 // solids by volume of the ready-to-spray material
	DFTUMPerCoat float64 // dry film of one coat, µm
	Method       Method
}

// Need is how much ready-to-spray material a job takes.
type Need struct {
	Job         Job
	AreaM2      float64
	Loss        Loss
	Theoretical Volume // nothing lost
	Low, High   Volume // at the ends of the loss range
	Plan        Volume // what to have and to mix: High

	RateM2PerL                    float64 // theoretical spreading rate of one coat
	RateLowM2PerL, RateHighM2PerL float64 // practical
	WetUMPerCoat                  float64
	DryUM                         float64 // all coats

	Assumptions []string
	Source      string
	Caution     string
}

// NeedOf says how much ready-to-spray material a job takes. It fails with
// *InputError.
func NeedOf(j Job) (Need, error) {
	n := Need{Job: j}
	if len(j.Panels) == 0 || len(j.Panels) > 200 {
		return Need{}, refuse("panels", len(j.Panels), "give 1 to 200 panels")
	}
	for _, p := range j.Panels {
		if err := within("area_m2", p.AreaM2, 0.001, 100, "the area of "+orPanel(p.Name)+" in m²"); err != nil {
			return Need{}, err
		}
		n.AreaM2 += p.AreaM2
	}
	var ok bool
	if n.Loss, ok = LossOf(j.Method); !ok {
		return Need{}, refuse("method", j.Method, methods)
	}
	if _, err := Litres(n.AreaM2, j.SolidsPct, j.DFTUMPerCoat, j.Coats, n.Loss.HighPct); err != nil {
		return Need{}, err
	}
	take := func(lossPct float64) Volume {
		l := litres(n.AreaM2, j.SolidsPct, j.DFTUMPerCoat, j.Coats, lossPct)
		return max(Volume(math.Ceil(l*float64(Litre)-1e-6)), 1)
	}
	n.Theoretical, n.Low, n.High = take(0), take(n.Loss.LowPct), take(n.Loss.HighPct)
	if n.High > MaxVolume {
		return Need{}, refuse("panels", unit.Format(n.AreaM2, unit.M2), "so much film on so much area takes more than %g litres; check areas, film and coats", MaxVolume.Litres())
	}
	n.Plan = n.High
	n.RateM2PerL = 10 * j.SolidsPct / j.DFTUMPerCoat
	n.RateLowM2PerL = n.RateM2PerL * (1 - n.Loss.HighPct/100)
	n.RateHighM2PerL = n.RateM2PerL * (1 - n.Loss.LowPct/100)
	n.WetUMPerCoat = j.DFTUMPerCoat * 100 / j.SolidsPct
	n.DryUM = j.DFTUMPerCoat * float64(j.Coats)
	n.Assumptions = n.assumptions()
	n.Source = "spreading rate 10·VS/DFT (ISO 23811); solids and film of the product's sheet"
	n.Caution = Isocyanate
	return n, nil
}

func (n *Need) assumptions() []string {
	names := make([]string, 0, 4)
	for i, p := range n.Job.Panels {
		if i == 3 && len(n.Job.Panels) > 4 {
			names = append(names, fmt.Sprintf("%d more", len(n.Job.Panels)-i))
			break
		}
		names = append(names, orPanel(p.Name)+" "+unit.Format(p.AreaM2, unit.M2))
	}
	as := []string{
		"outer faces only: " + strings.Join(names, ", "),
		fmt.Sprintf("%g %% solids by volume as sprayed, %g µm dry a coat", n.Job.SolidsPct, n.Job.DFTUMPerCoat),
		fmt.Sprintf("%s: %g to %g %% of the material misses the panel (common practice, no source); planned with %[3]g %%", n.Loss.What, n.Loss.LowPct, n.Loss.HighPct),
		"nothing added for what stays in cup and gun",
	}
	if n.Job.Method == Unsaid {
		as = append(as, "how it is put on was not said: the range spans all spray guns")
	}
	return as
}

func orPanel(name string) string {
	if name == "" {
		return "panel"
	}
	const most = 40
	if r := []rune(name); len(r) > most {
		return string(r[:most]) + "…"
	}
	return name
}
