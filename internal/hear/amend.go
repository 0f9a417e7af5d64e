package hear

// amend hears a correction of a record. It does not compete with the others:
// what is corrected decides how it is read (see correct.go).
var amend = kind{
	name:     "Amend",
	write:    true,
	examples: []string{"no, 150", "make that three", "that was for the pilot not the heron"},
	score:    func(*reading, Context) float64 { return 0 },
	fill:     func(*reading, Context, *Intent) {},
}
