package hear

// recordCoat hears coats put on.
var recordCoat = kind{
	name:     "RecordCoat",
	write:    true,
	examples: []string{"two coats epoxy on the bonnet, finished at 2"},
	needs:    []string{"job", "material", "panels", "coats"},
	score: func(r *reading, _ Context) float64 {
		if _, ok := r.quantity("coats"); !ok && !r.has("single coat", "more coat", "more coats", "another coat") || r.asking() || r.has("enough", "mix", "stretch", "estimate", "guide coat") {
			return 0
		}
		id, choose, _ := r.material(true, nil)
		_, panel := r.first(spanPanel)
		_, timed := r.timeSaid()
		put := r.has("on", "done", "put", "finished", "went on", "sprayed", "had", "laid", "just", "has had", "have had", "got")
		switch {
		case (id != "" || len(choose) > 0) && panel:
			return 1.2
		case (id != "" || len(choose) > 0) && (timed || put):
			return 1.05
		case panel && r.has("on"):
			return 0.95
		case panel && (timed || r.has("put", "sprayed", "laid")):
			return 1.05
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		fillMaterial(r, c, in)
		fillPanels(r, in)
		fillCoats(r, in)
		if t, ok := r.timeSaid(); ok {
			in.set("at", t.Format(isoMinute))
		}
		if b := r.bare(); len(b) == 1 && r.has("temperature", "temp") {
			in.set("temperature_c", b[0].value)
		}
		if t, ok := r.temperature(); ok {
			in.set("temperature_c", t)
		}
	},
}
