package hear

// listLowStock hears the question what is running out.
var listLowStock = kind{
	name:     "ListLowStock",
	examples: []string{"what are we low on", "anything below reorder level?"},
	score: func(r *reading, _ Context) float64 {
		if id, _, _ := r.material(false, nil); id != "" {
			return 0
		}
		if !r.has("low", "running out", "run out", "running low", "reorder", "reordering", "short of", "running short", "low stock", "nearly out of", "shopping list", "need ordering", "need to order", "needs ordering", "should we order", "should be ordering", "should we be ordering", "ought to be ordering", "to order in", "stock up on", "stocking up on", "get more of", "get some more of", "getting more of", "buy more of", "need more of") {
			return 0
		}
		if r.asking() || r.has("wants to know whats", "asking whats") || r.has("low on anything", "out of anything", "short of anything") || r.starts("whats", "what", "anything", "are we", "owt", "low stock", "shopping list") {
			if r.has("blow", "low edge", "lower") {
				return 0.3
			}
			return 1
		}
		return 0.3
	},
	fill: func(*reading, Context, *Intent) {},
}
