package hear

import "strings"

// recordCoat hears coats put on.
var recordCoat = kind{
	name:     "RecordCoat",
	write:    true,
	examples: []string{"two coats epoxy on the bonnet, finished at 2"},
	needs:    []string{"job", "material", "panels", "coats"},
	score: func(r *reading, _ Context) float64 {
		if r.coatedPlainly() {
			return 1.15 // how many coats is to be asked
		}
		if _, ok := r.quantity("coats"); !ok && !r.has("single coat", "more coat", "more coats", "another coat") && !r.oneOfCoats() || r.asking() || r.has("enough", "mix", "stretch", "estimate", "guide coat", "freezing", "shivering") {
			return 0
		}
		id, choose, _ := r.material(true, nil)
		_, panel := r.first(spanPanel)
		_, timed := r.timeSaid()
		put := r.has("on", "did", "done", "put", "finished", "went on", "sprayed", "had", "laid", "just", "has had", "have had", "got")
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
		if !in.has("panels") && r.has("on it", "on that", "over it", "over that") {
			for _, d := range c.Records {
				if d.Intent.Kind == "RecordCoat" && !in.has("panels") && d.Intent.has("panels") {
					in.set("panels", d.Intent.Fields["panels"]) // «2 coats of clear on it»
				}
			}
		}
		fillCoats(r, in)
		if t, ok := r.timeSaid(); ok {
			in.set("at", t.Format(isoMinute))
		}
		if t, ok := r.whole.timeSaid(); ok && !in.has("at") && r.whole.has("finished at", "done at", "was at") {
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

// oneOfCoats reports «second coat of high build on»: one of several.
func (r *reading) oneOfCoats() bool {
	return r.has("first coat", "second coat", "third coat", "fourth coat", "1st coat", "2nd coat", "3rd coat", "4th coat", "last coat", "final coat", "next coat") && !r.has("before the", "until the", "after the", "next coat") && r.has("on", "done", "sprayed", "laid", "finished", "in")
}

// coatedPlainly reports «epoxy on the bonnet at 9»: a material, where and when, and
// nothing else.
func (r *reading) coatedPlainly() bool {
	id, choose, _ := r.material(true, nil)
	panel, on := r.first(spanPanel)
	if !on || r.asking() {
		return false
	}
	b := r.bare()
	onIt := r.word(panel.from-1) == "on" || r.word(panel.from-2) == "on"
	if clock := len(b) == 1 && r.word(b[0].from-1) == "at" && b[0].to == r.hi && b[0].from > panel.to-1; clock && onIt && (id != "" || len(choose) == 1) && len(r.rest()) == 0 {
		return true
	}
	if id == "" {
		return false
	}
	m, named := r.first(spanMaterial)
	only := func(words ...string) bool { return len(b) == 0 && len(r.rest(words...)) == 0 }
	if named && r.starts("done the", "did the", "ive done the", "just done the", "sprayed the", "shot the", "painted the", "coated the", "ive sprayed the", "just sprayed the") && r.word(m.from-1) == "in" && only("done", "did", "in", "just", "ive", "now", "sprayed", "shot", "painted", "coated") {
		return true // «done the bonnet in clear»
	}
	_, timed := r.timeSaid()
	switch {
	case r.denied():
		return false
	case timed && r.has("finished at", "just now", "just finished") && len(b) <= 1 && len(r.rest("finished", "done", "on", "in", "just", "now")) == 0:
		return true
	case r.starts("ive put", "weve put", "i put", "ive laid", "ive sprayed", "ive just put", "just put", "just laid", "just sprayed", "put", "laid", "sprayed", "shot the") && r.has("on the", "on both", "over the") && only("laid", "sprayed", "shot", "put", "on", "over", "just", "now", "ive", "weve"):
		return true
	case r.word(r.hi-1) == "done" && r.word(r.lo) != "done" && onIt && only("done", "is", "now"):
		return true // «epoxy on the bonnet done»
	}
	return named && strings.HasSuffix(r.word(m.from), "ed") && only("ive", "weve", "just", "now", "up") // «epoxied the bonnet»
}
