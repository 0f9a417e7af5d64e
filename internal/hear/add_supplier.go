package hear

// addSupplier hears a new supplier.
var addSupplier = kind{
	name:     "AddSupplier",
	write:    true,
	examples: []string{"new supplier: Wherry Glass"},
	needs:    []string{"name"},
	score: func(r *reading, _ Context) float64 {
		if !r.asking() && r.starts("new supplier", "add supplier", "add a supplier", "add a new supplier") {
			return 1.3
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		for i := r.lo; i < r.hi; i++ {
			if r.word(i) == "supplier" {
				if text := r.textFrom(i+1, r.hi); text != "" {
					in.set("name", text)
				}
				return
			}
		}
		if text := r.textFrom(r.lo, r.hi); text != "" && len(in.Missing) > 0 {
			in.set("name", text)
		}
	},
}
