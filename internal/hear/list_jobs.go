package hear

// listJobs hears the question what is in the shop.
var listJobs = kind{
	name:     "ListJobs",
	examples: []string{"what's in the shop", "list all the jobs"},
	score: func(r *reading, _ Context) float64 {
		if r.whole.hi-r.whole.lo <= 3 && len(r.rest("whats", "what", "in", "is", "now", "have", "we")) == 0 && r.starts("whats in", "what is in", "what have we in") {
			return 1
		}
		if r.has("whats in the shop", "what is in the shop", "whats in the workshop", "what have we got in the shop", "whats in at the moment", "what have we got in at the moment", "what have we got in", "what vehicles have we got", "whats in the bays", "whats on the go in the workshop", "whats on in the shop", "whats on in the workshop", "whats on the go in the shop", "whats on the go at the minute", "everything thats in the workshop", "everything in the workshop", "everything in the shop", "everything thats in the shop", "everything weve got in") {
			return 1.1
		}
		if r.has("jobs", "vehicles", "cars", "projects", "motors") && r.asking() && !r.has("extras", "snags", "parts", "hours", "next", "finds") {
			if r.has("what", "whats", "which", "list", "how many", "show me", "all the") {
				return 1
			}
		}
		return 0
	},
	fill: func(*reading, Context, *Intent) {},
}
