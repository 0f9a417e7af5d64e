package coating

import (
	"fmt"
	"strings"
)

// Category is a subcategory of Directive 2004/42/EC Annex II B.
type Category string

// The subcategories.
const (
	Preparatory   Category = "preparatory"    // B(a): gun and surface cleaner
	PreCleaner    Category = "pre_cleaner"    // B(a)
	BodyFiller    Category = "body_filler"    // B(b): body filler and stopper
	Primer        Category = "primer"         // B(c): surfacer, filler and general metal primer
	WashPrimer    Category = "wash_primer"    // B(c)
	Topcoat       Category = "topcoat"        // B(d): base coat and clear coat too
	SpecialFinish Category = "special_finish" // B(e)
)

// limits are those of Directive 2004/42/EC Annex II B, g/L ready for use, phase
// from 1 January 2007 (date from memory); read in a government guidance page that repeats them.
var limits = [...]struct {
	category   Category
	clause     string
	gPerL      float64
	countWater bool // the water in the product counts as product, Annex II B note (1)
}{
	{Preparatory, "B(a)", 850, true},
	{PreCleaner, "B(a)", 200, true},
	{BodyFiller, "B(b)", 250, false},
	{Primer, "B(c)", 540, false},
	{WashPrimer, "B(c)", 780, false},
	{Topcoat, "B(d)", 420, false},
	{SpecialFinish, "B(e)", 840, false},
}

// Categories lists the subcategories.
func Categories() []Category {
	out := make([]Category, len(limits))
	for i, l := range limits {
		out[i] = l.category
	}
	return out
}

// Portion is one component of a mix, as its own sheet describes it.
type Portion struct {
	Litres   float64
	VOCGPerL float64 // of the component as supplied, water and all
	WaterPct float64 // water by volume
}

// Solvent is the VOC of a mix ready for use, g/L. A sheet that gives one figure for
// a material without water gives both.
type Solvent struct {
	GPerL          float64 // of all of it
	LessWaterGPerL float64 // of what is not water; what most limits are about
}

// MixVOC is the VOC of components mixed ready for use: mass of VOC over volume,
// volumes taken to add (Directive 2004/42/EC, Article 2 and Annex II). It fails
// with *InputError.
func MixVOC(portions []Portion) (Solvent, error) {
	if len(portions) == 0 || len(portions) > maxParts {
		return Solvent{}, refuse("with", len(portions), "give one to %d components", maxParts)
	}
	var grams, volume, water float64
	for _, p := range portions {
		if err := within("amount_l", p.Litres, 0.001, MaxVolume.Litres(), "litres"); err != nil {
			return Solvent{}, err
		}
		// No solvent of paints is denser than 1.7 kg/L.
		if err := within("voc_g_per_l", p.VOCGPerL, 0, 1700, "VOC in g/L"); err != nil {
			return Solvent{}, err
		}
		if err := within("water_pct", p.WaterPct, 0, 95, "water by volume in percent"); err != nil {
			return Solvent{}, err
		}
		grams += p.Litres * p.VOCGPerL
		volume += p.Litres
		water += p.Litres * p.WaterPct / 100
	}
	return Solvent{grams / volume, grams / (volume - water)}, nil
}

// VOC is how a mix stands to the law.
type VOC struct {
	Category   Category
	Solvent    Solvent
	GPerL      float64 // what the limit is compared with
	LimitGPerL float64
	OverGPerL  float64 // 0 when it keeps the limit
	Keeps      bool

	Assumptions []string
	Source      string
	Caution     string
}

// CheckVOC compares a mix ready for use with its limit. It fails with *InputError.
func CheckVOC(c Category, s Solvent) (VOC, error) {
	for _, l := range limits {
		if l.category != c {
			continue
		}
		if err := within("voc_g_per_l", s.GPerL, 0, 1700, "VOC ready for use in g/L"); err != nil {
			return VOC{}, err
		}
		if err := within("voc_g_per_l", s.LessWaterGPerL, s.GPerL, 34_000, "VOC less water in g/L, at least that with water,"); err != nil {
			return VOC{}, err
		}
		v := VOC{Category: c, Solvent: s, GPerL: s.LessWaterGPerL, LimitGPerL: l.gPerL}
		as := "any water in it is left out of the volume"
		if l.countWater {
			v.GPerL, as = s.GPerL, "its water counts as product"
		}
		v.OverGPerL = max(v.GPerL-v.LimitGPerL, 0)
		v.Keeps = v.OverGPerL == 0
		v.Assumptions = []string{"ready for use, volumes taken to add; " + as, historic}
		v.Source = fmt.Sprintf("Directive 2004/42/EC Annex II %s: %g g/L ready for use", l.clause, l.gPerL)
		v.Caution = "The label and the law where you are decide, not this sum."
		return v, nil
	}
	names := make([]string, 0, len(limits))
	for _, l := range limits {
		names = append(names, string(l.category))
	}
	return VOC{}, refuse("category", c, "use one of %s", strings.Join(names, ", "))
}

// historic is the exception, said as something to ask about: Article 3 leaves it
// to member states, who grant licences for limited amounts (from memory), and British
// guidance says that the limits do not apply to vintage or historic vehicles.
const historic = "vehicles of historic interest can be excepted (Directive 2004/42/EC Article 3, and national rules): check locally"
