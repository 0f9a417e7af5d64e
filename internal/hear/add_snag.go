package hear

// addSnag hears a small fault to put right.
var addSnag = kind{
	name:     "AddSnag",
	write:    true,
	examples: []string{"snag: passenger window rattles", "tailgate squeaks, put it on the snag list"},
	needs:    []string{"job", "text"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		from, to, headed := r.ownText("AddSnag")
		if text := r.textFrom(from, to); text != "" && (headed || !in.has("text")) {
			in.set("text", text)
		}
	},
}
