package hear

// This file is not list_windows.go: Go would build that on one system alone.

// listWindows hears the question when to go on with paint.
var listWindows = kind{
	name:     "ListWindows",
	examples: []string{"when can i flat the epoxy", "is the high build still in its window"},
	needs:    []string{"job"},
	score: func(r *reading, c Context) float64 {
		id, _, _ := r.material(false, nil)
		_, panel := r.first(spanPanel)
		window := r.has("window", "windows", "recoat")
		when := r.has("when can", "when is it ready", "can i flat", "can i sand", "can i recoat", "can we flat", "can we sand", "ready to flat", "ready to sand", "ready to recoat", "when i can", "when we can", "ready to block", "ready for blocking", "can i touch", "can i put my hands on", "have to have", "have i got till", "have i got until", "by when", "ready for colour", "how long before", "how long till", "how long until", "how long have i got", "too late to", "dry enough", "ready for flatting", "can i clear", "can i clear it", "can i lacquer", "can i clear over", "can i put clear", "can i get clear", "can we clear", "ready for sanding", "when will", "earliest i can", "earliest we can", "latest i can", "latest we can", "from when", "ok to sand", "ok to flat", "since when")
		work := r.has("touch it", "touch that", "hands on it", "clear on", "have clear", "can i clear", "clear it", "clear over", "lacquer", "put clear", "get clear", "flat", "sand", "sanded", "recoat", "rub down", "second coat", "next coat", "another coat", "rub it", "cut back", "sanding", "rubbing", "blocking", "topcoat", "top coat", "block", "blocking", "rub", "rubbed", "go over", "flatted", "flatting", "dry")
		switch {
		case r.has("gap", "windscreen", "window regulator", "rear window", "side window", "passenger window", "window winder", "window seal"):
			return 0
		case window && r.has("paint windows"):
			return 1.05
		case window && r.asking() && (r.has("recoat", "close", "closes", "still", "open", "when", "in its") || id != ""):
			return 1.1
		case c.spokenOf("RecordCoat", "ListWindows") && r.asking() && r.has("next one", "second one", "another") && r.has("when can", "how soon", "how long"):
			return 1.1
		case when && work:
			return 1.1
		case r.starts("when can") && id != "" && r.has("go on", "go over", "go down") && !r.has("brought", "shelf"):
			return 1
		case id != "" && work && r.asking() && r.has("ready to", "ready for", "get on and", "crack on and", "safe to", "be rubbed", "be flatted", "be sanded", "be recoated", "be blocked", "too soon to", "too early to", "yet") && r.starts("can i", "can we", "is", "whens", "when", "am i", "are we", "how soon", "is it"):
			return 1
		case when && id != "" && panel:
			return 0.8
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) { fillJob(r, in) },
}
