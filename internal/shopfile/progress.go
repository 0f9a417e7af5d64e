package shopfile

import (
	"strconv"

	"bayword/internal/shop"
)

// of is the job of what is about a thing: the thing's, unless another is said, for
// a record may be older than a change of its thing.
func (f *file) of(o object, known numbers, number int) string {
	if o.at["job"] != nil {
		return o.of("job", true, f.jobs)
	}
	return known[number]
}

// work reads what hours were spent on: a stage or the number of a task. With none
// they count to the stage the job is at.
func (f *file) work(o object, job string) (stage shop.Stage, task int) {
	text := o.text("work", false)
	if text == "" {
		return f.stageOf[job], 0
	}
	if stage, ok := shop.ParseStage(text); ok {
		return stage, 0
	}
	task, _ = strconv.Atoi(text)
	if _, ok := f.tasks[task]; !ok {
		o.wrong(o.at["work"], "hours work", text, "must be a stage or the id of a task")
	}
	return f.stageOf[taskKey(task)], task
}

// taskKey is what a task goes by beside jobs, whose ids have no such sign.
func taskKey(number int) string { return "#" + strconv.Itoa(number) }

func (f *file) briefLine(o object) {
	e := shop.BriefAdded{Number: o.whole("line", true, 1, maxNumber), Job: o.of("job", true, f.jobs), Text: o.text("text", true)}
	if lines := f.briefs[e.Job]; lines != nil {
		if lines[e.Number] != "" {
			o.wrong(o.at["line"], "brief_lines line", strconv.Itoa(e.Number), "is there already")
		}
		lines[e.Number] = e.Job
	}
	f.add(o, e)
}

func (f *file) briefMet(o object) {
	job := o.of("job", true, f.jobs)
	f.add(o, shop.BriefMet{Number: o.about("line", f.briefs[job]), Job: job, How: o.text("text", true)})
}

func (f *file) taskStart(o object) {
	n := o.about("task", f.tasks)
	f.add(o, shop.TaskStarted{Number: n, Job: f.of(o, f.tasks, n), Who: o.of("who", false, f.people)})
}

func (f *file) taskEnd(o object) {
	n := o.about("task", f.tasks)
	f.add(o, shop.TaskFinished{Number: n, Job: f.of(o, f.tasks, n), Who: o.of("who", false, f.people)})
}

func (f *file) arrival(o object) {
	n := o.about("part", f.parts)
	f.add(o, shop.PartArrived{Number: n, Job: f.of(o, f.parts, n), Quantity: o.whole("quantity", true, 1, 10_000), Condition: o.text("condition", false)})
}

func (f *file) fitting(o object) {
	n := o.about("part", f.parts)
	f.add(o, shop.PartFitted{Number: n, Job: f.of(o, f.parts, n), Trial: o.truth("trial"), Note: o.text("note", false)})
}

func (f *file) dueChange(o object) {
	n := o.about("part", f.parts)
	f.add(o, shop.PartDueChanged{Number: n, Job: f.of(o, f.parts, n), Due: o.day("due"), Why: o.text("why", false)})
}

func (f *file) sentBack(o object) {
	n := o.about("part", f.parts)
	f.add(o, shop.PartReturned{Number: n, Job: f.of(o, f.parts, n), Why: o.text("why", false)})
}

func (f *file) findClosing(o object) {
	n := o.about("find", f.finds)
	f.add(o, shop.FindClosed{Number: n, Job: f.of(o, f.finds, n)})
}

func (f *file) snagClosing(o object) {
	n := o.about("snag", f.snags)
	f.add(o, shop.SnagClosed{Number: n, Job: f.of(o, f.snags, n)})
}

func (f *file) decision(o object) {
	n := o.about("extra", f.extras)
	if o.at["agreed"] == nil {
		o.need("agreed")
	}
	f.add(o, shop.ExtraDecided{Number: n, Job: f.of(o, f.extras, n), Agreed: o.truth("agreed")})
}
