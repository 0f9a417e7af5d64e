package hear

// addBrief hears what the customer wants besides.
var addBrief = kind{
	name:     "AddBrief",
	write:    true,
	examples: []string{"customer also wants a heated rear screen", "add to the tern brief: keep the old radio working"},
	needs:    []string{"job", "text"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		from, to, headed := r.ownText("AddBrief")
		for trimmed := true; trimmed && to > from; {
			trimmed = false
			switch r.word(to - 1) {
			case "too", "also", "please", "now":
				to, trimmed = to-1, true
			case "well":
				if r.word(to-2) == "as" {
					to, trimmed = to-2, true
				}
			}
		}
		if text := r.textFrom(from, to); text != "" && (headed || !in.has("text")) {
			in.set("text", text)
		}
	},
}
