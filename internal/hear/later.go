package hear

// notYet names the kind of a message that this service does not take yet, so
// that the answer can say so instead of keeping silent; "" when it is none.
// Only unmistakable messages count.
func notYet(r *reading, v *Vocabulary) string {
	has := func(kind string) bool { return v.kinds[kind] }
	_, coats := r.quantity("coats")
	id, _, _ := r.material(false, nil)
	start := r.word(r.lo)
	colon := r.hi > r.lo && (r.toks[r.lo].stop || r.toks[r.lo].end)
	_, supplier := r.first(spanSupplier)
	switch {
	case coats && id != "" && !r.asking() && !has("RecordCoat"):
		return "RecordCoat"
	case start == "snag" && colon && !has("AddSnag"):
		return "AddSnag"
	case r.has("ordered") && supplier && !has("RecordOrder"):
		return "RecordOrder"
	case r.starts("remind me at", "remind me in", "remind me tomorrow") && !has("Remind"):
		return "Remind"
	case r.starts("price an extra", "price up an extra", "extra", "new extra", "work up an extra", "put together an extra") && !has("ProposeExtra") && !r.asking():
		return "ProposeExtra"
	case r.starts("new task", "add task", "add a task", "add a job to") && !has("AddTask"):
		return "AddTask"
	}
	return ""
}
