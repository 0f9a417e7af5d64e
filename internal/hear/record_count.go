package hear

// recordCount hears a count of the shelf.
var recordCount = kind{
	name:     "RecordCount",
	write:    true,
	examples: []string{"counted the p80s, 38 left", "stock count: epoxy 2.9"},
	needs:    []string{"material", "amount"},
	score: func(r *reading, _ Context) float64 {
		if !r.has("counted", "count", "stocktake", "stock take", "recount", "recounted", "on the shelf", "dipped", "weighed", "stock check", "down to", "theres", "there are") || r.asking() {
			return 0
		}
		if r.has("put it on the shelf", "put them on the shelf", "landed", "delivered", "arrived") || r.has("used", "binned", "counted on", "count on", "count me", "count us") {
			return 0
		}
		if r.has("theres", "there are") && !r.has("counted", "count", "stocktake", "dipped", "weighed") && (!r.has("of them", "left", "in it", "in the tin", "on the shelf", "in stock") || r.findKind() != "") {
			return 0
		}
		if len(r.bare()) == 0 && !r.hasAmountUnit() && r.has("stock check", "on the shelf", "theres", "there are") {
			return 0
		}
		score := r.stockScore(0.3)
		if score < 0.6 && len(r.bare()) > 0 && r.has("stock count", "stocktake", "stock take", "just counted") {
			score += 0.45 // the material is asked for
		}
		return score
	},
	fill: fillStock,
}
