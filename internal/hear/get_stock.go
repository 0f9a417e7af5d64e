package hear

// getStock hears the question how much of a material there is.
var getStock = kind{
	name:     "GetStock",
	examples: []string{"how much epoxy have we got", "any p320 left?"},
	needs:    []string{"material"},
	score: func(r *reading, c Context) float64 {
		id, choose, unknown := r.material(false, nil)
		if id == "" && len(choose) == 0 && unknown == "" && c.Last.lastMaterial() != "" && r.asking() && r.has("how much", "how many", "whats left", "what have we got left") && len(r.rest("how", "much", "many", "left", "after", "now", "have", "got", "there", "does", "do", "leave", "what", "whats", "still", "altogether", "total", "all", "together")) == 0 {
			return 0.95
		}
		if id == "" && len(choose) == 0 && unknown == "" {
			if s, ok := r.weakest(spanMaterial); !ok || s.id == "" {
				return 0
			}
		}
		if r.without(spanMaterial).has("coat", "coats", "enough", "mix", "mixed", "flat", "sand", "recoat", "window", "stretch to", "do i need", "do we need", "will i need", "ok to", "put clear on", "spray") {
			return 0
		}
		if r.has("down to") && len(r.bare()) > 0 && !r.asking() {
			return 0.2 // a count
		}
		if r.starts("who left", "whos left", "who has left", "who put", "whos put") {
			return 0
		}
		if r.hasAmountUnit() || r.has("stock check") && len(r.bare()) > 0 {
			return 0.2
		}
		score := 0.0
		switch {
		case r.has("how much", "how many", "hows the", "leave of the", "that leave of", "leave us for", "leave us with", "leaves us for", "how are we for", "how are we off for", "stood at", "standing at", "sat at", "sitting at", "how are we doing for", "how are we fixed for", "how we off for", "how we fixed for", "what have we got", "how we doing for"):
			score = 1
		case r.asking() && r.has("left", "got", "have we", "there any", "any", "is there", "stock", "on the shelf", "down to", "holding", "in the rack", "there", "remaining", "on hand", "still"):
			score = 1
		case r.starts("whats the", "what is the", "wheres the", "and whats the") && r.word(r.hi-1) == "at" && r.asking():
			score = 1 // «whats the epoxy at»
		case r.has("stock check", "check stock", "stock level", "stock of", "in stock", "down to", "whats left") && !r.has("counted"):
			score = 0.95
		case r.starts("what", "whats") && r.has("have we got"):
			score = 0.9
		case c.Addressed && len(r.rest()) == 0 && r.asking():
			score = 0.8
		}
		if score > 0 && id == "" && len(choose) == 0 && unknown != "" {
			score -= 0.1
		}
		return score
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillMaterial(r, c, in)
		if _, chosen := in.Fields["material_choice"]; !in.has("material") && !chosen && in.Unknown == "" && c.Last.lastMaterial() != "" {
			in.set("material", c.Last.lastMaterial())
		}
	},
}
