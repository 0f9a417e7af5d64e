package hear

// reportMoney hears the question where the money stands.
var reportMoney = kind{
	name:     "ReportMoney",
	examples: []string{"hows the money on the heron", "what have we spent on the osmere"},
	needs:    []string{"job"},
	score: func(r *reading, _ Context) float64 {
		if !r.asking() && !r.starts("money", "budget", "costs") || r.has("hours", "hour", "extra", "extras", "torque") || r.has("part", "parts") && !r.has("spent", "spend") || len(r.all(spanMaterial)) > 0 {
			return 0
		}
		switch {
		case r.has("money", "budget", "bill", "invoice", "costs", "cost so far", "over budget", "quote", "the price") && (r.has("hows", "how is", "where", "wheres", "what", "whats", "how much", "are we", "is the")):
			if r.has("whats the cost of", "price of", "cost of a") {
				return 0
			}
			return 1
		case r.has("spent", "what have we spent", "how much have we spent", "how much is agreed", "what does she owe", "what does he owe", "what do they owe", "how much to come", "what will it come to", "what are we up to in money") && r.jobNamed(), r.has("spent so far", "how much have we spent", "what have we spent", "whats been spent", "what has been spent", "how much has been spent", "how much is spent", "whats spent", "still owed", "whats owed", "what is owed", "how much is owed", "whats owing", "still owing"):
			return 1
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) { fillJob(r, in) },
}
