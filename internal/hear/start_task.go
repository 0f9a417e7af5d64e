package hear

import (
	"cmp"
	"strconv"
	"strings"
)

// startTask hears that somebody begins a task.
var startTask = kind{
	name:     "StartTask",
	write:    true,
	examples: []string{"starting on the right sill", "starting on task 5"},
	score: func(r *reading, c Context) float64 {
		verb := r.has("starting", "started", "start", "begun", "beginning", "making a start", "made a start", "cracking on with", "getting on with", "getting going", "kicking off", "kicked off", "on to", "onto", "moving on to", "moved on to", "getting stuck into", "getting into", "stuck into", "picking up", "taking on", "took on", "taking over", "takes over", "took over", "on with task", "im on", "hes on", "shes on", "making start", "got going on", "have a go at", "having a go at", "begin", "underway", "under way")
		if !verb || r.asking() && !r.starts("can you start", "could you start") || r.denied() || r.has("will start", "ill start", "can start", "could start", "should start", "starts", "going to", "gonna", "tomorrow", "says", "reckons", "need to", "want to", "wants to", "when", "if", "once", "before we start", "to start", "might", "lets", "let me", "hours", "started by", "next week", "monday", "later", "about to", "before i start", "had started", "not started", "about starting", "starter motor", "thinking of", "planning", "hoping", "am i heck", "like heck") || r.hasHours() {
			return 0
		}
		if s, ok := r.whole.first(spanDay); ok && s.ids[1] > r.now.Format(isoDay) && s.ids[0] != r.now.Format(isoDay) && (s.ids[0] > r.now.Format(isoDay) || r.whole.has("on", "next", "this")) {
			return 0 // not yet
		}
		if p, ok := r.first(spanPerson); ok && p.id != c.Speaker && r.starts("start") {
			return 0 // an order to somebody
		}
		if r.findKind() != "" && !r.named("task", c) || len(r.all(spanFastener)) > 0 {
			return 0
		}
		if _, ok := r.numberOf("task"); ok {
			return 1.2
		}
		last := c.Last != nil && (c.Last.Intent.Kind == "AddTask" || c.Last.Intent.Kind == "FinishTask" || c.Last.Intent.Kind == "ListNext")
		switch {
		case r.named("task", c):
			return 1.05
		case last && !c.PassedOver && r.has("that one", "that", "it", "this one", "on it", "next one") && len(r.rest("starting", "started", "start", "now", "one", "next", "im", "am", "making", "task", "off")) == 0:
			return 1.05
		case r.has("the next task", "next task", "this task", "that task"):
			return 1
		case r.has("task") && len(r.rest("starting", "started", "start", "task")) > 0:
			return 1 // the service says that there is none
		}
		return 0
	},
	fill:  fillTask,
	check: needsTaskJob,
}

// needsTaskJob asks for the job of a task that goes by its words.
func needsTaskJob(in *Intent) {
	if _, err := strconv.Atoi(in.text("task")); err != nil && !in.has("job") {
		in.Missing = append(in.Missing, "job")
	}
	if in.has("task_unsaid") && !in.has("task") {
		in.Missing = append(in.Missing, "task")
	}
}

// fillTask sets which task of a job is meant, and who does it.
func fillTask(r *reading, c Context, in *Intent) {
	fillJob(r, in)
	if r.has("a task") {
		in.set("task_unsaid", "yes")
	}
	if s, ok := r.first(spanPerson); ok && s.id != "" {
		in.set("who", s.id)
	}
	if n, ok := r.numberOf("task"); ok {
		in.set("task", trimNumber(float64(n)))
		if job := cmp.Or(c.ThreadJob, c.ChannelJob, r.v.jobOf("task", n)); !in.has("job") && job != "" {
			in.set("job", job)
		}
		return
	}
	if b := r.bare(); len(b) == 1 && len(in.Missing) > 0 && in.Missing[0] == "task" {
		in.set("task", trimNumber(b[0].value))
		return
	}
	job := in.text("job")
	if job == "" {
		if job = c.fallbackJob(); job != "" {
			in.set("job", job)
		}
	}
	if len(r.things("task", job)) > 0 {
		in.set("task", r.ofTasks(r.taskWords(r.v.jobs[job].GetDrive() == "lhd"), job))
		if t := r.things("task", job); job == "" && oneJob(t) != "" {
			in.set("job", oneJob(t))
		}
		return
	}
	if c.Last != nil && c.Last.Number > 0 && (c.Last.Intent.Kind == "AddTask" || c.Last.Intent.Kind == "StartTask") && r.has("that one", "that", "it", "this one", "that task", "this task") {
		in.set("task", trimNumber(float64(c.Last.Number)))
		if in.text("job") == "" && c.Last.Intent.text("job") != "" {
			in.set("job", c.Last.Intent.text("job"))
		}
	}
}

// aroundTask are the words about a task that are none of its title.
var aroundTask = wordSet(`starting started start begun beginning begin making made make making cracking crack getting get going go gone kicking kicked off moving moved stuck picking
picked taking took have having hes shes im ive weve theyre has been finished finish finishing done complete completed all mark tick sign signed call wrapped up sewn bag out way dusted now
next today morning afternoon task job work just finally down will be can you he she they them and with too as well again already lovely nice that this it its s off sorted right thats me then please show as under way underway begin start board come last finally off mark down`)

// taskWords are the words that say which task is meant.
func (r *reading) taskWords(lhd bool) string {
	var words []string
	r = r.taskClause()
	for i := r.lo + 1; i < r.hi; i++ {
		if r.word(i) == "not" && r.contrast(i) {
			r = r.part(r.lo, i) // «the right sill not the left»
		}
	}
	for i := r.hi - 2; i >= r.lo; i-- {
		switch r.word(i) {
		case "finished", "starting", "started", "done", "finish":
			behind, before := r.part(i+1, r.hi), r.part(r.lo, i)
			if len(behind.things("task", "")) > 0 && len(before.things("task", "")) == 0 {
				r = behind // «… but ive finished the loom»
			}
		}
	}
	for i := r.lo; i < r.hi; i++ {
		w := r.word(i)
		if s, ok := r.spanOf(i, spanSide); ok {
			if i == s.from && !(i == r.lo && !r.spanAt(s.to, spanPanel) && s.to-s.from == 1) { // «right, …» begins a sentence
				words = append(words, sideWord(s.id, lhd))
			}
			continue
		}
		if w == "and" && len(words) > 0 && i+1 < r.hi && !aroundTask[r.word(i+1)] && !filler[r.word(i+1)] {
			words = append(words, w)
			continue
		}
		if aroundTask[w] || filler[w] || r.spanAt(i, spanJob) || r.spanAt(i, spanPerson) || r.spanAt(i, spanDay) {
			continue
		}
		if w == "replacement" {
			w = "replace"
		}
		words = append(words, w)
	}
	return strings.Join(words, " ")
}

// ofTasks keeps the words that are some task's, with the sides, when any is: «blocking
// all finished, thank the lord».
func (r *reading) ofTasks(said, job string) string {
	known := map[string]bool{"left": true, "right": true, "and": true}
	for _, t := range r.v.things {
		if t.noun == "task" && (job == "" || t.job == job) {
			for _, w := range t.words {
				known[w] = true
			}
		}
	}
	var words []string
	for w := range strings.FieldsSeq(said) {
		long := longer(known, w)
		switch {
		case known[root(w)] || known[w]:
			words = append(words, w)
		case long != "":
			words = append(words, long)
		case conditional[w]:
			return said
		}
	}
	if text := strings.Trim(strings.TrimSuffix(strings.TrimPrefix(strings.Join(words, " "), "and "), " and"), " "); text != "" && text != "left" && text != "right" {
		return text
	}
	return said
}

// longer returns the known word that ends with a word: the propshaft of «shaft».
func longer(known map[string]bool, w string) string {
	for k := range known {
		if len(w) >= 5 && len(k) > len(w) && strings.HasSuffix(k, w) {
			return k
		}
	}
	return ""
}

// conditional are words that make a start or an end depend on something else.
var conditional = wordSet("after then before once until till when more except unless but first apart")

// taskClause is the part of a message, up to a mark, that names a task.
func (r *reading) taskClause() *reading {
	from := r.lo
	for i := r.lo; i < r.hi; i++ {
		if !r.toks[i].stop && !r.toks[i].end && i+1 < r.hi {
			continue
		}
		if clause := r.part(from, i+1); len(clause.things("task", "")) > 0 {
			return clause
		}
		from = i + 1
	}
	return r
}

// sideWord is left or right, whoever's side it was called.
func sideWord(id string, lhd bool) string {
	switch {
	case id == "driver" && lhd, id == "passenger" && !lhd:
		return "left"
	case id == "driver", id == "passenger":
		return "right"
	}
	return id
}

// oneJob is the job that all of them are on, or "".
func oneJob(all []thing) string {
	for _, t := range all {
		if t.job != all[0].job {
			return ""
		}
	}
	return all[0].job
}
