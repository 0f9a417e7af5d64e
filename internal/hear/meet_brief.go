package hear

// meetBrief hears how a line of the brief was met.
var meetBrief = kind{
	name:     "MeetBrief",
	write:    true,
	examples: []string{"brief line 3 met: disc kit fitted and torqued"},
	needs:    []string{"job", "line"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		from, to, _ := r.ownText("MeetBrief")
		if v, n, ok := r.numberAt(from); ok && v >= 1 && v == float64(int(v)) {
			in.set("line", int(v))
			from = n
		}
		for from < to && (r.word(from) == "is" || r.word(from) == "met" || r.word(from) == "done" || r.word(from) == "now" || r.word(from) == "has" || r.word(from) == "been" || r.word(from) == "s") {
			from++
		}
		if text := r.textFrom(from, to); text != "" {
			in.set("text", text)
		}
	},
}
