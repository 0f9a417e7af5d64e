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
			return name + " is at an old repair: a patch joined to metal nobody knows does not last, cut back to sound metal"
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
			return "the panel's size is not on record, so it was not weighed"
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
	if len(compared) == 0 {
		compared = open(false)
	}
	if len(compared) == 0 {
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
	ad.CheckFirst, ad.Caution = checks(j, ad.Advised), caution(j)
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

// reason says in one sentence why a way is advised.
func (ad *Advice) reason() string {
	if ad.Advised == "" {
		return "no way is left that could be advised"
	}
	unit, of := "", func(o Option) string { return fmt.Sprintf("%.1f hours", o.Hours.Likely) }
	if ad.Input.LabourRate > 0 {
		unit, of = "about ", func(o Option) string { return fmt.Sprintf("%.0f", o.Cost.Likely) }
	}
	var best string
	var others, out []string
	for _, o := range ad.Options {
		switch {
		case o.Way == ad.Advised:
			best = unit + of(o)
		case o.RuledOut != "":
			out = append(out, string(o.Way)+" is ruled out, "+o.RuledOut)
		case slices.Contains(ad.Compared, o.Way):
			others = append(others, string(o.Way)+" "+of(o))
		default:
			others = append(others, string(o.Way)+" of unknown price")
		}
	}
	text := string(ad.Advised) + " at " + best
	if len(others) > 0 {
		text += " against " + strings.Join(others, " and ")
	}
	if len(out) > 0 {
		text += "; " + strings.Join(out, "; ")
	}
	return text
}

// checks says what to measure or try before the first cut. Common practice, no
// source.
func checks(j *job, w Way) []string {
	list := []string{"measure the sheet's thickness beside the find: thinned metal must go too"}
	if slices.ContainsFunc(j.finds, func(f Find) bool { return f.cut(j.panel) }) {
		list = append(list, "prod and scrape outward until the metal is bright and sound, and mark the cut there; look at the back of it")
	}
	if w == Whole || w == PartPanel {
		list = append(list, "try the new panel on the car before the first cut, against its neighbours' gaps")
	}
	if j.panel.Structural {
		list = append(list, "support the shell on its load points and check the aperture with the doors hung; brace it before anything is cut", "write down the gaps and diagonals first")
	} else if w != Patch && !j.panel.Hung {
		list = append(list, "check the aperture with doors and lids hung before the old panel is off")
	}
	return append(list, "look what is behind it: tank, pipes, loom, trim, wax")
}

// caution is the usual one for welding on a car, and that for structure. Common
// practice, no source.
func caution(j *job) string {
	text := "Disconnect the battery. Fuel tank and pipes away from the heat or out; wax, underseal, trim and sound deadening burn: take them back, have somebody watch and an extinguisher at hand. Strip zinc back, extraction and mask. Never patch over rust: cut back to sound metal."
	if j.panel.Structural {
		text = "The " + j.panel.Name + " is structural: the maker's method and your local roadworthiness rules come first, and somebody licensed inspects it. Cut back to sound metal, weld all round, no filler where metal belongs. " + text
	}
	return text
}
