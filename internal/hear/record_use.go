package hear

// recordUse hears material taken off the shelf.
var recordUse = kind{
	name:     "RecordUse",
	write:    true,
	examples: []string{"used half a litre of clear", "took 12 p80 discs for the tern", "300 ml of epoxy gone on the bonnet"},
	needs:    []string{"material", "amount"},
	score: func(r *reading, c Context) float64 {
		verb := r.has("used", "using", "took", "taken", "gone on", "went on", "gone through", "got through", "cut out of", "drew off", "poured", "squirted", "brushed", "burned through", "burnt through", "chewed through", "swallowed", "pulled", "grabbed", "sprayed", "slapped on", "emptied", "used up", "been through", "gone into", "went into", "gone in", "out for the", "out for") || (r.word(r.hi-1) == "gone" || r.word(r.hi-1) == "today" && r.word(r.hi-2) == "gone") && (r.hasAmountUnit() || r.materialNamed() && len(r.bare()) == 1) && r.hi-r.lo <= 8 ||
			r.has("had some", "took some", "used some", "put some") && len(r.all(spanMaterial)) > 0 && len(r.bare()) == 0 || (r.has("went through", "been through") && len(r.bare()) > 0 && r.findKind() == "" && !r.has("theres", "there are")) ||
			(r.has("had", "put", "laid down", "laid on", "cut", "went through", "been through", "shot", "applied", "opened", "needed", "slung") && r.hasAmountUnit())
		verb = verb || r.hasAmountUnit() && r.starts("dab of", "a dab of", "skim of", "a skim of", "squirt of", "smear of", "bit of", "a bit of", "dollop of", "lick of") && r.has("on it", "on that", "on the", "in it", "in the")
		if r.asking() || r.has("had to scrap", "write it off", "written off") || r.has("on the shelf") && r.has("went through the", "been through the", "put it on", "put them on") || r.has("who used", "have we used", "right") && r.hi-r.lo > 0 && r.word(r.hi-1) == "right" {
			return 0
		}
		if b := r.bare(); verb && len(b) == 1 && r.has("of them", "of it", "of that") && c.Last != nil && c.Last.Intent.Kind == "GetStock" && c.Last.lastMaterial() != "" && len(r.all(spanMaterial)) == 0 {
			return 1 // «taken two of them»
		}
		if !verb || r.has("coat", "coats") && !r.has("used") || r.has("used to", "hours each on") {
			return 0
		}
		return r.stockScore(0.3)
	},
	fill: fillStock,
}

// hasAmountUnit reports a quantity that can only be one of a material.
func (r *reading) hasAmountUnit() bool {
	for _, s := range r.spans {
		if s.kind != spanQuantity || s.landmark {
			continue
		}
		switch s.unit {
		case "l", "ml", "pint_uk", "gal_uk", "kg", "g", "m2", "ft2", "pack", "oz":
			return true
		case "mil": // below that it is a length
			if s.value >= 20 {
				return true
			}
		}
	}
	return false
}

// stockScore weighs what a stock movement is made of: a verb (worth given),
// a material, an amount.
func (r *reading) stockScore(verb float64) float64 {
	if r.asking() && !r.starts("can you", "could you", "will you", "would you") {
		return 0 // a question moves no stock
	}
	score := verb
	id, choose, unknown := r.material(true, nil)
	amount := r.hasAmountUnit()
	switch {
	case id != "":
		score += 0.7
	case (len(choose) > 0 || unknown != "") && amount:
		score += 0.7
	case amount:
		score += 0.65
	}
	if amount || len(r.bare()) > 0 {
		score += 0.2
	}
	return score
}

// fillStock fills job, material and amount.
func fillStock(r *reading, c Context, in *Intent) {
	fillAmount(r, c, in)
	fillMaterial(r, c, in)
	_, chosen := in.Fields["material_choice"]
	if in.Kind == "RecordUse" && !in.has("material") && !chosen && in.Unknown == "" && c.Last != nil && c.Last.Intent.Kind == "GetStock" {
		// It is of what was just asked about.
		_, fits := r.v.amount(c.Last.lastMaterial(), in.Amount, in.Unit, in.Pack)
		switch {
		case in.Unit == "" && r.has("of them", "of it", "of that"):
			in.set("material", c.Last.lastMaterial())
			in.set("amount", in.Amount)
		case in.Unit != "" && fits:
			in.set("material", c.Last.lastMaterial())
		}
	}
	if in.Kind == "RecordUse" {
		fillJob(r, in)
	}
}
