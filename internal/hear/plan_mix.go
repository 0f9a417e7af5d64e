package hear

import "bayword/internal/unit"

// planMix hears the question how to mix.
var planMix = kind{
	name:     "PlanMix",
	examples: []string{"mix me 1.2 litres of high build", "how much clear to mix for 3 coats on the roof"},
	needs:    []string{"material"},
	score: func(r *reading, c Context) float64 {
		if !r.without(spanMaterial).has("mix", "mixed", "mixing", "make up", "make me up", "make us up", "knock me up", "what parts", "how much of each", "ratio", "ratios", "goes in the pot", "whats the split", "what do i pour", "what do i put in", "what do we put in", "what goes in", "what do we pour", "how do i split", "how much do i put in") || r.has("mixed up with", "mixed up the", "mix up between") {
			return 0
		}
		if r.has("used", "binned", "wasted", "chucked", "spilt") {
			return 0.3
		}
		id, choose, _ := r.material(true, nil)
		_, amount := r.litres()
		_, coats := r.quantity("coats")
		switch {
		case (id != "" || len(choose) > 0) && (amount || coats || r.asking() || r.starts("mix", "mixing", "make", "work", "give", "do me", "do us", "sort", "i need", "need") || r.has("ratio", "ratios")):
			return 1.15
		case amount && r.asking() && r.has("mix") && id == "" && c.Last.lastMaterial() == "":
			return 0.95 // of what is asked for
		case coats && r.asking() && r.has("mix") && c.Last != nil && c.Last.Intent.Kind == "PlanMix" && id == "":
			return 1.05
		case amount && r.has("it", "that") && c.Last.lastMaterial() != "":
			return 1.05
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillMaterial(r, c, in)
		if _, chosen := in.Fields["material_choice"]; !in.has("material") && !chosen && (r.has("it", "that") || c.Last != nil && c.Last.Intent.Kind == "PlanMix" && len(in.Missing) == 0) && c.Last.lastMaterial() != "" {
			in.set("material", c.Last.lastMaterial())
		}
		if v, ok := r.litres(); ok {
			in.set("amount_l", v)
			if s, ok := r.quantity("l", "ml", "mil", "pint_uk", "gal_uk"); ok {
				in.Unit = s.unit
			}
		} else if b := r.bare(); len(b) == 1 && !in.has("coats") && in.Unit != "" {
			if v, err := unit.Convert(b[0].value, map[bool]string{true: "ml", false: in.Unit}[in.Unit == "mil"], unit.Litre); err == nil {
				in.set("amount_l", tidy(v)) // «and for 450»
			}
		}
		fillPanels(r, in)
		fillCoats(r, in)
		fillJob(r, in)
	},
	check: func(in *Intent) {
		if !in.has("amount_l") && (!in.has("panels") || !in.has("coats")) {
			in.Missing = append(in.Missing, "amount_l")
		}
	},
}
