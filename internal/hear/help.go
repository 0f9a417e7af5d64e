package hear

// help hears the question what the bot does.
var help = kind{
	name:     "Help",
	examples: []string{"what can you do", "help with stock"},
	score: func(r *reading, c Context) float64 {
		if r.whole.has("never") && r.whole.hi-r.whole.lo > 8 && !c.Addressed {
			return 0
		}
		switch {
		case r.has("what can you do", "stuff can you do", "can you help with", "can you help me with", "what do you do", "what can i ask", "what can i say", "how do you work", "what do you know", "things can i ask", "things can you do", "what else can you do", "what you can do", "what can i tell you", "what can i type", "what do i say"):
			return 1.1
		case r.starts("help") && (r.hi-r.lo == 1 || (r.starts("help with", "help on", "help about", "help for") || c.Addressed) && r.hi-r.lo <= 4):
			if r.hi-r.lo == 1 || c.Addressed || r.starts("help with", "help on") {
				return 1.1
			}
		case r.has("how do i use you", "how do i say it") && (c.Addressed || r.has("help", "give us a hand")):
			return 1
		case c.Addressed && r.has("how do i record", "how do i log", "how do i tell you", "how do i use you"):
			return 1
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		for i := r.lo; i < r.hi; i++ {
			if w := r.word(i); (w == "with" || w == "about" || w == "on") && i+1 < r.hi {
				topic := r.word(i + 1)
				if topic == "the" {
					topic = r.word(i + 2)
				}
				in.set("topic", topic)
			}
		}
		if !in.has("topic") && r.starts("help") && r.hi-r.lo == 2 {
			in.set("topic", r.word(r.lo+1))
		}
	},
}
