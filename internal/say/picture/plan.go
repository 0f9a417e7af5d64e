package picture

import (
	"fmt"
	"image/color"
	"strconv"
	"time"

	pb "bayword/proto/bayword/v1"
)

// Sizes of the plan in pixels.
const (
	planAxis = 46
	planRow  = 62
	planHold = 28 // more, for a task that is held
	planBar  = 20
	planKey  = 2 * 40
	planMore = 34
	planEnd  = 44 // kept free on the right, for the last label
)

// mainly is the share of cases from which on a task is called critical.
const mainly = 0.5

// soft is the colour of what the finish does not hang on.
var soft = color.RGBA{0x8f, 0xae, 0xc9, 0xff}

// Plan draws tasks on a calendar: each from the day it starts to the day it ends in
// half of the cases and in four of five, those that the finish hangs on darker, and
// what holds a task in red. It fails with ErrNothing when no bar has its days.
func Plan(job string, bars []*pb.PlanBar) ([]byte, error) {
	p := planOf(bars)
	if len(p.rows) == 0 {
		return nil, ErrNothing
	}
	const top = 76
	c, err := newCanvas(top + p.tall() + 16)
	if err != nil {
		return nil, err
	}
	c.title(withJob("Plan", job))
	p.draw(c, top)
	return c.png()
}

// Forecast draws the hours by stage and the plan below them, as far as there is
// something to draw. It fails with ErrNothing when there is neither.
func Forecast(r *pb.ForecastResponse) ([]byte, error) {
	h, p := hoursOf(r.GetStages()), planOf(r.GetBars())
	switch {
	case len(h.rows) == 0:
		return Plan(r.GetJob(), r.GetBars())
	case len(p.rows) == 0:
		return HoursByStage(r.GetJob(), r.GetStages())
	}
	const top, between = 76, 84
	c, err := newCanvas(top + h.tall() + between + p.tall() + 16)
	if err != nil {
		return nil, err
	}
	c.title(withJob("Hours by stage", r.GetJob()))
	h.draw(c, top)
	y := float64(top + h.tall() + between)
	c.write("Plan", style{big, true}, ink, point{24, y - 40}, left)
	p.draw(c, y)
	return c.png()
}

// plan is the tasks on one calendar.
type plan struct {
	rows       []planned
	more       int // rows that are not drawn
	first, end time.Time
}

type planned struct {
	name                string
	start, half, fairly time.Time // it ends before half or fairly
	critical            bool
	hold                string
}

// planOf takes the bars that have their days.
func planOf(bars []*pb.PlanBar) plan {
	var p plan
	for _, b := range bars {
		start, err := time.Parse(time.DateOnly, b.GetStart())
		half, errHalf := time.Parse(time.DateOnly, b.GetEnd())
		if err != nil || errHalf != nil || half.Before(start) || half.Sub(start) > 100*365*24*time.Hour {
			continue
		}
		fairly, err := time.Parse(time.DateOnly, b.GetEnd_80())
		if err != nil || fairly.Before(half) || fairly.Sub(half) > 100*365*24*time.Hour {
			fairly = half
		}
		// A bar reaches to the end of its last day.
		row := planned{taskName(b.GetTask()), start, half.AddDate(0, 0, 1), fairly.AddDate(0, 0, 1), b.GetCritical() >= mainly, shownTo(90, b.GetHold())}
		if len(p.rows) == mostRows || p.tooFar(row) {
			p.more++
			continue
		}
		if len(p.rows) == 0 || start.Before(p.first) {
			p.first = start
		}
		if len(p.rows) == 0 || row.fairly.After(p.end) {
			p.end = row.fairly
		}
		p.rows = append(p.rows, row)
	}
	return p
}

// tooFar says that a row lies so far from the first that no calendar holds both.
func (p *plan) tooFar(r planned) bool {
	const most = 50 * 365 * 24 * time.Hour
	return len(p.rows) > 0 && (r.start.Sub(p.rows[0].start).Abs() > most || r.fairly.Sub(p.rows[0].start).Abs() > most)
}

func taskName(t *pb.Task) string {
	name := shownTo(90, t.GetTitle())
	if t.GetNumber() > 0 {
		return strconv.FormatUint(uint64(t.GetNumber()), 10) + " " + name
	}
	if name == "" {
		name = shown(t.GetStage())
	}
	if name == "" {
		return "other work"
	}
	return "other work: " + name
}

func (p plan) tall() int {
	tall := planAxis + planKey
	for _, r := range p.rows {
		tall += r.tall()
	}
	if p.more > 0 {
		tall += planMore
	}
	return tall
}

func (r planned) tall() int {
	if r.hold != "" {
		return planRow + planHold
	}
	return planRow
}

// draw puts the calendar, the tasks and the key on the canvas, from y down.
func (p plan) draw(c *canvas, y float64) {
	const x0, room = 24.0, width - 24.0 - planEnd
	days := p.end.Sub(p.first).Hours() / 24
	at := func(t time.Time) float64 { return x0 + room*(t.Sub(p.first).Hours()/24)/days }
	bottom := y + planAxis
	for _, r := range p.rows {
		bottom += float64(r.tall())
	}
	for i, t := range ticks(p.first, days, room) {
		anchor := centre
		if i == 0 {
			anchor = left
		}
		c.stroke(pale, 2, point{at(t.day), y + 30}, point{at(t.day), bottom})
		c.write(t.label, style{small, false}, grey, point{at(t.day), y + 14}, anchor)
	}
	y += planAxis
	for _, r := range p.rows {
		r.draw(c, y, at)
		y += float64(r.tall())
	}
	if p.more > 0 {
		c.write(fmt.Sprintf("and %d more", p.more), style{small, false}, grey, point{x0, y + 16}, left)
		y += planMore
	}
	p.key(c, y)
}

// draw puts a task's name, what holds it and its bar on the canvas.
func (r planned) draw(c *canvas, y float64, at func(time.Time) float64) {
	const x0 = 24.0
	c.write(c.fit(r.name, style{small, true}, width-2*x0), style{small, true}, ink, point{x0, y + 14}, left)
	y += 30
	if r.hold != "" {
		const held = "held: "
		c.write(held+c.fit(r.hold, style{small, false}, width-2*x0-c.wide(held, style{small, false})), style{small, false}, bad, point{x0, y + 10}, left)
		y += planHold
	}
	col := soft
	if r.critical {
		col = done
	}
	from, half, fairly := at(r.start), max(at(r.half), at(r.start)+3), at(r.fairly)
	if fairly > half {
		c.box(pale, rect{half, y + 4, fairly, y + planBar - 4})
		c.frame(col, rect{half - 2, y + 4, fairly, y + planBar - 4})
	}
	c.box(col, rect{from, y, half, y + planBar})
	if r.hold != "" {
		c.flag(point{from, y})
	}
}

// flag marks the start of a task that is held.
func (c *canvas) flag(at point) {
	c.fill(bad, point{at.x, at.y - 4}, point{at.x + 16, at.y + planBar/2}, point{at.x, at.y + planBar + 4})
}

func (p plan) key(c *canvas, y float64) {
	x, mid := 24.0, y+20
	entry := func(name string, draw func(r rect)) {
		draw(rect{x, mid - planBar/2, x + 40, mid + planBar/2})
		c.write(name, style{small, false}, grey, point{x + 50, mid}, left)
		x += 50 + c.wide(name, style{small, false}) + 32
	}
	entry("as likely as not (50 %)", func(r rect) { c.box(done, r) })
	entry("until fairly sure (80 %)", func(r rect) {
		r.y0, r.y1 = r.y0+4, r.y1-4
		c.box(pale, r)
		c.frame(done, r)
	})
	x, mid = 24, mid+40
	entry("the finish hangs on it", func(r rect) { c.box(done, r) })
	entry("it does not", func(r rect) { c.box(soft, r) })
	entry("held", func(r rect) { c.flag(point{r.x0, r.y0}) })
}

// tick is a day that the calendar names.
type tick struct {
	day   time.Time
	label string
}

// ticks are the first day and then weeks, months or years, as close as their names
// leave room for.
func ticks(first time.Time, days, room float64) []tick {
	const labelRoom = 100
	fits := func(d float64) bool { return d*room/days >= labelRoom }
	far := func(t time.Time) bool { return fits(t.Sub(first).Hours() / 24) }
	out := []tick{{first, first.Format("2 Jan")}}
	add := func(t time.Time, layout string, step func(time.Time) time.Time) []tick {
		end := first.Add(time.Duration(days * 24 * float64(time.Hour)))
		for ; !t.After(end); t = step(t) {
			if far(t) {
				out = append(out, tick{t, t.Format(layout)})
			}
		}
		return out
	}
	monday := first.AddDate(0, 0, int(8-first.Weekday())%7)
	for _, weeks := range []int{1, 2, 4} {
		if fits(float64(7 * weeks)) {
			return add(monday, "2 Jan", func(t time.Time) time.Time { return t.AddDate(0, 0, 7*weeks) })
		}
	}
	out[0].label = first.Format("Jan 06")
	month := time.Date(first.Year(), first.Month()+1, 1, 0, 0, 0, 0, time.UTC)
	for _, months := range []int{1, 2, 3, 6} {
		if fits(float64(30 * months)) {
			return add(month, "Jan 06", func(t time.Time) time.Time { return t.AddDate(0, months, 0) })
		}
	}
	out[0].label = first.Format("2006")
	years := 1
	for !fits(float64(365 * years)) {
		years *= 2
	}
	return add(time.Date(first.Year()+1, 1, 1, 0, 0, 0, 0, time.UTC), "2006", func(t time.Time) time.Time { return t.AddDate(years, 0, 0) })
}
