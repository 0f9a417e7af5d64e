package hear

// amend hears a correction of a record. It does not compete with the others:
// what is corrected decides how it is read (see correct.go).
var amend = kind{
	name:     "Amend",
	write:    true,
	examples: []string{"no, 150", "make it four", "that was on the tern, not the pilot"},
	score:    func(*reading, Context) float64 { return 0 },
	fill:     func(*reading, Context, *Intent) {},
}
