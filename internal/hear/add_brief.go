package hear

// addBrief hears what the customer wants besides.
var addBrief = kind{
	name:     "AddBrief",
	write:    true,
	examples: []string{"customer also wants a heated rear screen", "add to the tern brief: keep the old radio working"},
	needs:    []string{"job", "text"},
	score:    ownWords,
	fill: func(r *reading, c Context, in *Intent) {
		fillJob(r, in)
		from, to, headed := r.ownText("AddBrief")
		for trimmed := true; trimmed && to > from; {
			trimmed = false
			switch r.word(to - 1) {
			case "too", "also", "please", "now":
				to, trimmed = to-1, true
			case "well":
				if r.word(to-2) == "as" {
					to, trimmed = to-2, true
				}
			}
		}
		if text := r.textFrom(from, to); text != "" && (headed || !in.has("text")) {
			in.set("text", text)
		}
	},
}

// wants reads what the customer wants: «mrs adeyemi would also like», «customer
// wants … as well». Only what is plainly about the vehicle counts.
func (r *reading) wants(i int) (int, bool) {
	j := i
	switch {
	case r.word(i) == "customer" || r.word(i) == "customers" || r.word(i) == "client" || r.word(i) == "owner":
		j++
	case r.word(i) == "the" && (r.word(i+1) == "customer" || r.word(i+1) == "client" || r.word(i+1) == "owner"):
		j += 2
	default:
		if r.word(j) == "the" {
			j++
		}
		if w := r.word(j); w == "mr" || w == "mrs" || w == "ms" || w == "miss" {
			j++
		}
		named := false
		for _, s := range r.spans {
			if s.kind == spanJob && s.weak && s.from == j {
				j, named = s.to, true
			}
		}
		if !named {
			return 0, false
		}
	}
	if r.word(j) == "s" {
		j++
	}
	if (r.word(j) == "on" || r.word(j) == "for") && (r.spanAt(j+1, spanJob) || r.spanAt(j+2, spanJob)) {
		for j++; r.word(j) == "the" || r.spanAt(j, spanJob); j++ {
		}
	}
	if r.word(j) == "says" || r.word(j) == "said" {
		j++
		if p := r.word(j); p == "he" || p == "she" || p == "they" {
			j++
		}
	}
	if k := r.customerClause(i, j); k > j {
		j = k // «mr hale popped in, wants …»
	}
	for _, p := range []string{"would also like", "would like", "also wants", "also asked for", "has asked for", "has also asked for", "asked for", "asked if we could", "asked if we can", "wants", "want", "wants us to", "would like us to", "want us to", "asks for", "would want", "d like", "d also like", "fancies", "also fancies", "is after", "also after", "now wants", "also want", "wish", "wishes", "wish also", "would also want", "has decided they want", "has decided she wants", "has decided he wants"} {
		end, ok := r.phraseEnds(j, p)
		if !ok {
			continue
		}
		for _, longer := range []string{"wants us to", "want us to", "would like us to", "would also like", "has also asked for"} {
			if e, more := r.phraseEnds(j, longer); more && e > end {
				end = e
			}
		}
		switch r.word(end) {
		case "to", "it", "that", "this", "him", "her", "his", "extra":
			return 0, false
		}
		if r.part(end, r.hi).has("date", "update", "word", "price", "quote", "invoice", "call", "ring", "know", "copy", "record", "document", "paperwork", "folder", "it back", "car back", "van back", "her back", "his back", "them back", "visit", "photo", "photos", "picture", "pictures", "chat", "extra", "refund", "discount", "answer", "progress", "tea", "coffee", "brew", "ringing", "lift", "keys", "seat belt fitted before", "speak", "meeting", "look", "see", "sooner", "friday", "done by", "finished", "ready", "yesterday", "blood", "moon") {
			return 0, false
		}
		return end, !r.asking()
	}
	return 0, false
}

// customerClause returns where what the customer wants begins behind a clause about
// the customer: «… popped in, wants», «… rang and would like»; j when there is none.
func (r *reading) customerClause(i, j int) int {
	for k := j; k < r.hi && k < i+8; k++ {
		if w := r.word(k); w == "rang" || w == "popped" || w == "called" || w == "phoned" || w == "came" || w == "been" || w == "stopped" || w == "dropped" || w == "emailed" || w == "texted" {
			for m := k + 1; m < r.hi && m < k+5; m++ {
				if r.toks[m-1].stop || r.word(m-1) == "and" {
					if p := r.word(m); p == "he" || p == "she" || p == "they" {
						m++
					}
					return m
				}
			}
			return j
		}
	}
	return j
}

// briefOf reads «add to the tern brief:», «tern brief: …».
func (r *reading) briefOf(i int) (int, bool) {
	for j := i; j < r.hi && j < i+7; j++ {
		if r.word(j) == "brief" && (r.toks[j].stop || r.word(j+1) == "that" || r.word(j+1) == "add") && (r.word(i) == "add" || r.word(i) == "put" || r.word(i) == "stick" || r.spanAt(i, spanJob) || r.spanAt(i+1, spanJob)) {
			return j + 1, true
		}
	}
	return 0, false
}

// pastWanting steps over «upshot is he'd also like».
func (r *reading) pastWanting(from, stop int) int {
	for j := from; j < stop-1; j++ {
		switch r.word(j) {
		case "like", "wants", "want", "after", "fancies":
			return j + 1
		case "for":
			if r.word(j-1) == "asked" {
				return j + 1
			}
		}
	}
	return from
}
