package hear

// listReminders hears the question what is still to be reminded of.
var listReminders = kind{
	name:     "ListReminders",
	examples: []string{"what reminders have i got"},
	needs:    []string{},
	score: func(r *reading, _ Context) float64 {
		if r.has("reminders", "reminder") && (r.asking() || r.starts("reminders", "list reminders", "my reminders", "show reminders")) {
			return 1.1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		if r.has("i", "my", "me", "ive") && c.Speaker != "" {
			in.set("person", c.Speaker)
		}
		if s, ok := r.first(spanPerson); ok {
			in.set("person", s.id)
		}
	},
}
