package coating

import (
	"fmt"
	"math"
	"time"

	"bayword/internal/unit"
)

// Times are a product's own times, as its sheet gives them. 0 is «not given».
type Times struct {
	FlashMin     float64 // between coats, and before the oven
	RecoatFromH  float64
	RecoatUntilH float64 // the last moment without flatting
	SandAfterH   float64
	PotLifeMin   float64 // from mixing; 0 also for a material that does not go off
}

// Coat is a coat that was put on.
type Coat struct {
	Times        Times
	FinishedAt   time.Time
	MixedAt      time.Time // zero when nobody said
	TemperatureC *float64  // of the booth; nil when nobody said
}

// sheetC is the temperature that the times of a sheet are taken to be for.
const sheetC = 20.0

// Windows are the moments that follow from a coat's finish; a zero time is one
// that the product's sheet does not give. Temperature has moved none of them.
type Windows struct {
	Coat        Coat
	FlashedAt   time.Time
	RecoatFrom  time.Time
	RecoatUntil time.Time
	SandFrom    time.Time
	PotLifeEnds time.Time
	// PotLifeIsLatest says that nobody said when it was mixed: PotLifeEnds is
	// counted from the finish of the coat, and truly it was earlier.
	PotLifeIsLatest bool

	Assumptions []string // what temperature is likely to do is said here, in words
	Source      string
	Caution     string
}

// WindowsOf counts a product's times from a coat's finish. It is elapsed time: an
// hour stays an hour when clocks change. It fails with *InputError.
func WindowsOf(c Coat) (Windows, error) {
	if err := checkCoat(c); err != nil {
		return Windows{}, err
	}
	after := func(v float64, unit time.Duration) time.Time {
		if v == 0 {
			return time.Time{}
		}
		return c.FinishedAt.Add(time.Duration(math.Round(v * float64(unit))))
	}
	t := c.Times
	w := Windows{
		Coat:        c,
		FlashedAt:   after(t.FlashMin, time.Minute),
		RecoatFrom:  after(t.RecoatFromH, time.Hour),
		RecoatUntil: after(t.RecoatUntilH, time.Hour),
		SandFrom:    after(t.SandAfterH, time.Hour),
		PotLifeEnds: after(t.PotLifeMin, time.Minute),
		Assumptions: []string{"the product's own times, counted from the finish of the coat"},
		Source:      "arithmetic on the product's own times",
		Caution:     "The product's sheet comes first, and a thumb test in a corner before sandpaper; mask on and extraction running when you sand. Recoat too late without flatting and the next coat may peel.",
	}
	switch {
	case t.PotLifeMin == 0:
	case c.MixedAt.IsZero():
		w.PotLifeIsLatest = true
		w.Assumptions = append(w.Assumptions, "nobody said when it was mixed: the pot life is counted from the finish of the coat and ends earlier than said")
	default:
		w.PotLifeEnds = w.PotLifeEnds.Add(c.MixedAt.Sub(c.FinishedAt))
	}
	if c.TemperatureC != nil {
		w.Assumptions = append(w.Assumptions, paceInWords(*c.TemperatureC))
	}
	return w, nil
}

// paceInWords says in words what a temperature is likely to do to a sheet's times.
func paceInWords(c float64) string {
	said := fmt.Sprintf("at %s", unit.Format(c, unit.Celsius))
	usual := fmt.Sprintf("the sheet's times are taken to be for %g °C", sheetC)
	const rule = "rule of thumb, twice as fast for every 10 °C (from memory, no source); no time here is moved by it"
	switch pace := Pace(sheetC, c); {
	case pace > 2.5:
		return fmt.Sprintf("%s it is likely to go off and dry several times faster; %s; %s", said, usual, rule)
	case pace > 1.6:
		return fmt.Sprintf("%s it is likely to go off and dry about twice as fast; %s; %s", said, usual, rule)
	case pace > 1.15:
		return fmt.Sprintf("%s it is likely to go off and dry somewhat faster; %s; %s", said, usual, rule)
	case pace >= 0.87:
		return fmt.Sprintf("%s the sheet's times should hold; %s", said, usual)
	case pace >= 0.625:
		return fmt.Sprintf("%s it is likely to dry somewhat slower; %s; %s", said, usual, rule)
	case pace >= 0.4:
		return fmt.Sprintf("%s it is likely to take about twice as long; %s; %s", said, usual, rule)
	default:
		return fmt.Sprintf("%s it is likely to take several times as long, or not to cure at all; %s; %s", said, usual, rule)
	}
}

// Pace is how many times faster a two-pack material is likely to go at toC than at
// fromC: 2^(ΔT/10). A rule of thumb from memory; it feeds words, never a window.
func Pace(fromC, toC float64) float64 { return math.Exp2((toC - fromC) / 10) }

// Phase is where a coat stands.
type Phase string

// The phases, in their order.
const (
	Flashing Phase = "flashing" // still giving off solvent
	Closed   Phase = "closed"   // too soon to recoat
	Open     Phase = "open"     // may be recoated
	Past     Phase = "past"     // flat it before the next coat
)

// At says where the coat stands at a moment, and whether it may be sanded. A time
// that the sheet does not give holds nothing up.
func (w Windows) At(now time.Time) (p Phase, sandable bool) {
	p = Open
	switch {
	case !w.FlashedAt.IsZero() && now.Before(w.FlashedAt):
		p = Flashing
	case !w.RecoatFrom.IsZero() && now.Before(w.RecoatFrom):
		p = Closed
	case !w.RecoatUntil.IsZero() && now.After(w.RecoatUntil):
		p = Past
	}
	return p, !w.SandFrom.IsZero() && !now.Before(w.SandFrom)
}

func checkCoat(c Coat) error {
	if c.FinishedAt.IsZero() {
		return refuse("at", "", "say when the coat was finished")
	}
	t := c.Times
	const maxMin, maxH = 30 * 24 * 60, 2 * 366 * 24
	for _, f := range []struct {
		field   string
		v, most float64
		what    string
	}{
		{"flash_min", t.FlashMin, maxMin, "minutes (0 when not given)"},
		{"recoat_from_h", t.RecoatFromH, maxH, "hours (0 when not given)"},
		{"recoat_until_h", t.RecoatUntilH, maxH, "hours (0 when not given)"},
		{"sand_after_h", t.SandAfterH, maxH, "hours (0 when not given)"},
		{"pot_life_min", t.PotLifeMin, maxMin, "minutes (0 when not given)"},
	} {
		if err := within(f.field, f.v, 0, f.most, f.what); err != nil {
			return err
		}
	}
	if t.RecoatUntilH != 0 && t.RecoatUntilH < t.RecoatFromH {
		return refuse("recoat_until_h", t.RecoatUntilH, "give at least recoat_from_h, %g", t.RecoatFromH)
	}
	if !c.MixedAt.IsZero() && (c.MixedAt.After(c.FinishedAt) || c.FinishedAt.Sub(c.MixedAt) > 30*24*time.Hour) {
		return refuse("mixed_at", c.MixedAt.Format("2006-01-02T15:04"), "give a time before the finish of the coat, at most 30 days")
	}
	if c.TemperatureC != nil {
		return within("temperature_c", *c.TemperatureC, -20, 100, "a temperature in °C")
	}
	return nil
}
