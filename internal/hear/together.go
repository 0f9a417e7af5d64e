package hear

import (
	"slices"
)

// startToo adds the start of a task that is planned and begun in one breath: «add a
// job fit calipers 3 hours and im starting it now».
func (v *Vocabulary) startToo(r *reading, all []Intent) []Intent {
	if len(all) != 1 || all[0].Kind != "AddTask" || !complete(all[0]) || !v.kinds["StartTask"] || !r.has("im starting it", "starting it now", "im on it now", "started it already") {
		return all
	}
	start := Intent{Kind: "StartTask", Fields: Fields{"job": all[0].text("job"), "task": all[0].text("title")}, Score: 1}
	return append(all, start)
}

// finishToo adds the end of a task to the hours said with it: «finished the loom, 5
// hours today».
func (v *Vocabulary) finishToo(r *reading, c Context, all []Intent) []Intent {
	if len(all) != 1 || all[0].Kind != "LogHours" || !v.kinds["FinishTask"] {
		return all
	}
	s, ok := r.quantity("h")
	if !ok || s.from <= r.lo {
		return all
	}
	before := r.part(r.lo, s.from)
	g := v.compete(before, []*reading{before}, c)
	if g.kind == nil || g.kind.name != "FinishTask" || g.score < 1 {
		return all
	}
	if done := v.build(g, c, nil, Intent{Fields: Fields{}}); len(done) == 1 {
		return append(done, all...)
	}
	return all
}

// sameWork gives the work that a message names once to all the hours it tells:
// «me 7 hours, jonah 6, paint».
func sameWork(r *reading, all []Intent) []Intent {
	stage, ok := r.first(spanStage)
	if ok && len(all) == 1 && all[0].Kind == "LogHours" && !all[0].has("work") && len(r.all(spanStage)) == 1 && (r.toks[stage.from-1].stop || r.toks[stage.from-1].end) && (stage.to == r.hi || stage.to+1 == r.hi && r.word(stage.to) == "work") {
		all[0].set("work", stage.id) // «90 minutes on the tern, strip work»
	}
	if len(all) < 2 || !ok || len(r.all(spanNumbered)) > 0 || slices.ContainsFunc(r.all(spanStage), func(s span) bool { return s.id != stage.id }) {
		return all
	}
	for i := range all {
		if all[i].Kind == "LogHours" && !all[i].has("work") {
			all[i].set("work", stage.id)
		}
	}
	return all
}

// oneClosing drops the closing by place beside one by number: «a post crack
// welded, find 9 sorted» closes one find.
func oneClosing(all []Intent) []Intent {
	numbered := slices.ContainsFunc(all, func(in Intent) bool { return in.Kind == "CloseFind" && in.has("find") })
	if !numbered {
		return all
	}
	return slices.DeleteFunc(all, func(in Intent) bool { return in.Kind == "CloseFind" && !in.has("find") })
}
