package repair

import (
	"fmt"
	"slices"
	"strings"
)

// mostShare is how much of a panel may be cut out for patches, and partShare for a
// part panel (common practice, no source).
const (
	mostShare = 0.5
	partShare = 0.7
)

// ruledOut says why a way is not to be taken, by the likely rates.
func (j *job) ruledOut(w Way, r *Rates) string {
	cut, whole := j.cutArea(r[Beyond].Likely, r[Margin].Likely), j.panel.area()
	switch w {
	case Patch:
		if name := j.onOld(); name != "" {
			return name + " is at an old repair: a patch on metal nobody knows does not last"
		}
		if whole > 0 && cut > mostShare*whole {
			return fmt.Sprintf("what is to be cut out is %.0f %% of the panel", 100*min(cut/whole, 1))
		}
	case PartPanel:
		switch {
		case j.panel.NoPanel:
			return "it is no one panel"
		case cut == 0:
			return "nothing is to be cut out"
		case whole > 0 && j.section(r[Beyond].Likely, r[Margin].Likely, r[SectionTimes].Likely) > partShare*whole:
			return "it would be nearly the whole panel"
		}
	case Whole:
		switch {
		case j.panel.NoPanel:
			return "it is no one panel"
		case whole == 0 && !j.panel.Hung:
			return "its size is not on record, so it was not weighed"
		case cut == 0 && !slices.ContainsFunc(j.finds, func(f Find) bool { return f.Kind != Paint && f.Kind != Pitting }):
			return "there is only the surface to put right"
		}
	}
	return ""
}

// onOld names the first find at an old repair; empty for none.
func (j *job) onOld() string {
	for _, f := range j.finds {
		if f.Kind == OldRepair || f.OnOldRepair {
			return f.Name
		}
	}
	return ""
}

// choose takes the way of the least mean cost, of those whose cost is known.
func (ad *Advice) choose(t trial) {
	open := func(known bool) (picked []int) {
		for i, o := range ad.Options {
			if o.RuledOut == "" && !(known && o.CostPartly) {
				picked = append(picked, i)
			}
		}
		return picked
	}
	compared := open(true)
	if len(compared) == 0 { // at most a whole panel of no known price is left
		for _, i := range open(false) {
			ad.Advised = ways[i]
		}
		return
	}
	by := cost
	if ad.Input.LabourRate == 0 {
		by = hours
	}
	wins, sums := make([]int, len(ways)), make([]float64, len(ways))
	for run := range t.cases[0] {
		least := compared[0]
		for _, i := range compared {
			sums[i] += t.cases[i][run][by]
			if t.cases[i][run][by] < t.cases[least][run][by] {
				least = i
			}
		}
		wins[least]++
	}
	best := compared[0]
	for _, i := range compared {
		ad.Compared = append(ad.Compared, ways[i])
		if sums[i] < sums[best] {
			best = i
		}
	}
	ad.Advised = ways[best]
	ad.Confidence = float64(wins[best]) / float64(len(t.cases[0]))
	if w := ad.Options[len(ways)-1]; w.RuledOut == "" && w.CostPartly && ad.Advised != Whole && by == cost {
		ad.BreakEven = max(ad.Options[best].MeanCost-w.MeanCost, 0)
	}
}

// explain says why, what to check first, and what to watch for.
func (ad *Advice) explain(j *job) {
	for _, f := range j.finds {
		ad.Steps = append(ad.Steps, j.step(f, ad.Input.Rates))
	}
	for _, o := range ad.Options {
		text := fmt.Sprintf("%s: %.1f hours (%.1f to %.1f)", o.Way, o.Hours.Likely, o.Hours.Low, o.Hours.High)
		if o.RuledOut != "" {
			text += "; ruled out: " + o.RuledOut
		}
		ad.Steps = append(ad.Steps, text)
	}
	ad.Why = ad.reason()
	ad.assume(ad.Input.Factor.Assumption)
	ad.assume(fmt.Sprintf("%d simulated cases, each rate triangular between its low and high value; material from the shelf is not in the cost", ad.Input.Runs))
	ad.assume("rates are common practice, no source")
	if ad.Input.PartPrice == nil {
		ad.assume("no price of a part panel on record: it is taken as made in the shop")
	}
	if ad.Input.PanelPrice == nil {
		ad.assume("no price of the panel on record: the cost of replacing it is the labour alone")
	}
	if ad.Input.LabourRate == 0 {
		ad.assume("no labour rate on record: hours are compared, not money")
	}
	if !j.panel.Hidden {
		ad.assume("fill and block count round the repair alone; the rest of the panel is blocked whichever way is taken")
	}
	for id, s := range ad.Input.Rates {
		r := Rate{Name: RateID(id).Name(), Value: s}
		if RateID(id) <= lastHours {
			m := ad.Input.Factor.Median()
			r.Value, r.Closed = Spread{s.Low * m, s.Likely * m, s.High * m}, ad.Input.Factor.Closed
		}
		ad.Rates = append(ad.Rates, r)
	}
	welds := ad.option(ad.Advised).welds()
	ad.CheckFirst, ad.Caution = checks(j, ad.Advised, welds), caution(j, ad.Advised, welds)
}

// step says what becomes of a find when it is put right by itself.
func (j *job) step(f Find, r *Rates) string {
	size := fmt.Sprintf("%s: %s %g × %g mm", f.Name, strings.ReplaceAll(string(f.Kind), "_", " "), f.Width, f.Height)
	if f.Kind == Crack {
		size = fmt.Sprintf("%s: crack of %g mm", f.Name, f.Width)
	}
	if f.Count > 1 {
		size += fmt.Sprintf(", %d of them", f.Count)
	}
	w, h := f.grown(r[Beyond].Likely, r[Margin].Likely)
	switch {
	case f.cut(j.panel):
		return fmt.Sprintf("%s, cut back %g mm: patch of %g × %g mm, %g mm to cut and weld", size, r[Margin].Likely, w, h, 2*(w+h))
	case f.Kind == Crack:
		return fmt.Sprintf("%s, ground out and welded over %g mm", size, w)
	}
	return size + ", dressed"
}

// reason says in one sentence why a way is advised. Figures stand in the options.
func (ad *Advice) reason() string {
	if ad.Advised == "" {
		return "no way is left that could be advised"
	}
	var others, unknown, out []string
	for _, o := range ad.Options {
		switch {
		case o.RuledOut != "":
			out = append(out, string(o.Way)+" is ruled out, "+o.RuledOut)
		case o.CostPartly:
			unknown = append(unknown, string(o.Way)+" of unknown price")
		case o.Way != ad.Advised:
			others = append(others, string(o.Way))
		}
	}
	text := string(ad.Advised) + " is the only way that could be weighed"
	switch {
	case !slices.Contains(ad.Compared, ad.Advised):
		text = string(ad.Advised) + " is the only way left"
	case len(others) > 0 && ad.Input.LabourRate > 0:
		text = string(ad.Advised) + " costs less than " + strings.Join(others, " and ")
	case len(others) > 0:
		text = string(ad.Advised) + " takes fewer hours than " + strings.Join(others, " and ")
	}
	return strings.Join(append(append([]string{text}, unknown...), out...), "; ")
}

// todo says what a way is to do here: what is not cut out is not patched.
func (j *job) todo(w Way) string {
	switch w {
	case PartPanel:
		return "let in a part panel"
	case Whole:
		return "replace the whole panel"
	}
	if slices.ContainsFunc(j.finds, func(f Find) bool { return f.cut(j.panel) }) {
		return "patch it"
	}
	for _, does := range []struct {
		kind Kind
		what string
	}{
		{Crack, "grind it out and weld it up"},
		{Dent, "dress it out, fill and block"},
		{Filler, "take the filler out, dress what is under it, fill and block"},
		{Pitting, "take it back to bright metal, fill and block"},
	} {
		if slices.ContainsFunc(j.finds, func(f Find) bool { return f.Kind == does.kind }) {
			return does.what
		}
	}
	return "flat it and refinish it"
}

// option is the way advised; nil when there is none.
func (ad *Advice) option(w Way) *Option {
	for i := range ad.Options {
		if ad.Options[i].Way == w {
			return &ad.Options[i]
		}
	}
	return nil
}

// welds tells whether a way takes any welding.
func (o *Option) welds() bool { return o != nil && o.WeldMM.High+o.PlugWelds.High > 0 }

// checks says what to measure or try before the first cut, what holds the shell up
// first. Common practice, no source.
func checks(j *job, w Way, welds bool) []string {
	var list []string
	if j.panel.Structural && welds {
		list = append(list, "support the shell on its load points, check the aperture with the doors hung, and brace it before anything is cut", "write down the gaps and diagonals")
	}
	if slices.ContainsFunc(j.finds, func(f Find) bool { return f.cut(j.panel) }) {
		list = append(list, "prod and scrape outward, and behind, until the metal is bright and sound: cut there", "measure the sheet beside it: thinned metal goes too")
	} else {
		list = append(list, "look at the back of it, for filler or rust")
	}
	if w == Whole || w == PartPanel {
		list = append(list, "try the new panel on the car before the first cut, against its neighbours' gaps")
	}
	if welds {
		list = append(list, "look what is behind it: tank, pipes, loom, trim, wax")
	}
	return list
}

// caution is that for welding on a car, or for dressing and filling, or for taking a
// panel off its hinges; and that for structure. Common practice, no source.
func caution(j *job, w Way, welds bool) string {
	var text string
	switch {
	case welds:
		text = "Before welding: battery off, fuel tank and pipes out or well away, wax, underseal and trim taken back, somebody watching with an extinguisher; zinc stripped back, extraction and mask. Never patch over rust."
	case w == Whole:
		text = "Have a second pair of hands on its weight before a bolt is loosened, and check that it latches fully afterwards."
	default:
		text = "Mask on and extraction running when you sand; gloves for filler and its hardener, by the product's own sheet."
	}
	if !j.panel.Structural {
		return text
	}
	structural := "The " + j.panel.Name + " is structural: the maker's method and your local roadworthiness rules come first, and somebody licensed inspects it. "
	if welds {
		structural += "Cut back to sound metal, weld all round, no filler where metal belongs. "
	}
	return structural + text
}
