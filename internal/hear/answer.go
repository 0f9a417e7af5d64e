package hear

import "slices"

// answer reads a message as the answer to the question that waits. What the
// question already knew stays as it was.
func (v *Vocabulary) answer(r *reading, c Context) (Intent, bool) {
	in := c.Pending.clone()
	k := kindNamed(in.Kind)
	before := c.Pending
	if r.has("never mind", "nevermind", "forget it", "dont bother") {
		return Intent{}, false
	}
	if in.Kind == "AddNote" && slices.Contains(before.Missing, "text") && r.asking() {
		return Intent{}, false
	}
	k.fill(r, c, &in)
	if in.Kind == "RecordGap" && slices.Contains(before.Missing, "edge") && !in.has("edge") {
		fillEdge(r, &in)
	}
	for f, old := range before.Fields {
		if before.has(f) && !slices.Contains(before.Missing, f) && f != "panel_choice" && f != "material_choice" {
			in.Fields[f] = old
		}
	}
	if before.has("amount") && !slices.Contains(before.Missing, "amount") {
		in.Amount, in.Unit, in.Pack = before.Amount, before.Unit, before.Pack
	}
	done := v.finish(in, c)
	if len(done) != 1 {
		return Intent{}, false // «both» answers a question about a side
	}
	in = done[0]
	if len(in.Missing) >= len(before.Missing) && !narrower(in, *before) {
		return Intent{}, false
	}
	if rest := r.rest("edge", "side", "hand", "job", "find", "hours", "hour", "left", "there", "no", "sorry", "meant"); len(rest) > 2 && len(rest) > (r.hi-r.lo)/2 && in.Kind != "CreateJob" && in.Kind != "AddMaterial" && in.Kind != "AddNote" {
		return Intent{}, false
	}
	return in, true
}

// narrower reports that an answer left fewer meanings of an ambiguous name.
func narrower(in, before Intent) bool {
	a, _ := in.Fields["material_choice"].([]string)
	b, _ := before.Fields["material_choice"].([]string)
	return len(a) > 0 && len(a) < len(b)
}
