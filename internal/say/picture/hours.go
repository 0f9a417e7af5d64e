package picture

import (
	"image/color"
	"math"
	"strconv"

	pb "bayword/proto/bayword/v1"
)

// Sizes of the bars of hours in pixels.
const (
	hoursRow = 78
	hoursBar = 28
	hoursKey = 44
	mostRows = 24
)

// done is the colour of what is logged.
var done = color.RGBA{0x2f, 0x62, 0x8f, 0xff}

// HoursByStage draws, for each stage, the hours logged against the estimate, and
// from half of the cases to four in five what the stage comes to in all, where there
// is a forecast. It fails with ErrNothing when there are no hours to draw.
func HoursByStage(job string, stages []*pb.StageForecast) ([]byte, error) {
	h := hoursOf(stages)
	if len(h.rows) == 0 {
		return nil, ErrNothing
	}
	const top = 76
	c, err := newCanvas(top + h.tall() + 16)
	if err != nil {
		return nil, err
	}
	c.title(withJob("Hours by stage", job))
	h.draw(c, top)
	return c.png()
}

// withJob is «Hours by stage, heron».
func withJob(title, job string) string {
	if job = shown(job); job != "" {
		return title + ", " + job
	}
	return title
}

// hourBars are the bars of a job's stages on one scale.
type hourBars struct {
	rows     []hourRow
	most     float64 // hours at the right end
	forecast bool    // some row has one
}

type hourRow struct {
	stage            string
	logged, estimate float64
	half, fairly     float64 // in all, logged included; zero for no forecast
}

// hoursOf takes what can be drawn.
func hoursOf(stages []*pb.StageForecast) hourBars {
	var h hourBars
	for _, s := range stages {
		r := hourRow{stage: shown(s.GetStage()), logged: hour(s.GetLogged()), estimate: hour(s.GetEstimate())}
		if half, fairly := hour(s.GetToCome_50()), hour(s.GetToCome_80()); fairly > 0 {
			r.half, r.fairly = r.logged+min(half, fairly), r.logged+fairly
			h.forecast = true
		}
		most := max(r.logged, r.estimate, r.fairly)
		if most > 0 && len(h.rows) < mostRows {
			h.rows = append(h.rows, r)
			h.most = max(h.most, most)
		}
	}
	return h
}

// hour is a number of hours that can be drawn, else none.
func hour(v float64) float64 {
	if !finite(v) || v < 0 || v > 1e6 {
		return 0
	}
	return v
}

func (h hourBars) tall() int {
	keys := 1
	if h.forecast {
		keys = 2
	}
	return len(h.rows)*hoursRow + keys*hoursKey
}

// draw puts the bars and their key on the canvas, from y down.
func (h hourBars) draw(c *canvas, y float64) {
	const x0, room = 24.0, width - 2*24.0
	at := func(hours float64) float64 { return x0 + room*hours/h.most }
	for _, r := range h.rows {
		says, col := r.says()
		c.write(c.fit(r.stage, style{plain, true}, room-20-c.wide(says, style{plain, false})), style{plain, true}, ink, point{x0, y + 16}, left)
		c.write(says, style{plain, false}, col, point{width - 24, y + 16}, right)
		top := y + 36
		c.box(pale, rect{x0, top, at(r.estimate), top + hoursBar})
		within := r.logged
		if r.estimate > 0 {
			within = min(r.logged, r.estimate)
		}
		c.box(done, rect{x0, top + 4, at(within), top + hoursBar - 4})
		c.box(bad, rect{at(within), top + 4, at(r.logged), top + hoursBar - 4})
		if r.estimate > 0 {
			c.frame(grey, rect{x0, top, at(r.estimate), top + hoursBar})
		}
		if r.fairly > 0 {
			c.whisker(at(r.half), at(r.fairly), top+hoursBar/2)
		}
		y += hoursRow
	}
	h.key(c, y)
}

// says is «96.5 of 180 h, 180–206 in all», in red when past the estimate.
func (r hourRow) says() (string, color.RGBA) {
	col := ink
	out := tenth(r.logged) + " h, no estimate"
	if r.estimate > 0 {
		out = tenth(r.logged) + " of " + tenth(r.estimate) + " h"
		if r.logged > r.estimate {
			out, col = out+", "+tenth(r.logged-r.estimate)+" over", bad
		}
	}
	if r.fairly > 0 {
		low, high := wholeHours(r.half), wholeHours(r.fairly)
		if low == high {
			return out + "; " + low + " in all", col
		}
		out += "; " + low + "–" + high + " in all"
	}
	return out, col
}

func wholeHours(v float64) string { return strconv.FormatFloat(math.Round(v), 'f', 0, 64) }

func (h hourBars) key(c *canvas, y float64) {
	const high = 20.0
	x, mid := 24.0, y+hoursKey/2
	entry := func(name string, draw func(r rect)) {
		draw(rect{x, mid - high/2, x + 40, mid + high/2})
		c.write(name, style{small, false}, grey, point{x + 50, mid}, left)
		x += 50 + c.wide(name, style{small, false}) + 32
	}
	entry("logged", func(r rect) { c.box(done, r) })
	entry("past the estimate", func(r rect) { c.box(bad, r) })
	entry("estimate", func(r rect) { c.box(pale, r); c.frame(grey, r) })
	if h.forecast {
		x, mid = 24, mid+hoursKey
		entry("in all: as likely as not (50 %) to fairly sure (80 %)", func(r rect) { c.whisker(r.x0+4, r.x1-4, mid) })
	}
}

// whisker is a spread: a dot at its likely end, a stop at its far one.
func (c *canvas) whisker(from, to, y float64) {
	c.stroke(paper, 9, point{from, y}, point{to, y})
	c.stroke(ink, 4, point{from, y}, point{to, y})
	c.stroke(ink, 4, point{to, y - 12}, point{to, y + 12})
	c.disc(paper, point{from, y}, 9)
	c.disc(ink, point{from, y}, 7)
}

// frame strokes a rectangle inside its edges.
func (c *canvas) frame(col color.RGBA, r rect) {
	const thick = 2
	c.box(col, rect{r.x0, r.y0, r.x1, r.y0 + thick})
	c.box(col, rect{r.x0, r.y1 - thick, r.x1, r.y1})
	c.box(col, rect{r.x0, r.y0, r.x0 + thick, r.y1})
	c.box(col, rect{r.x1 - thick, r.y0, r.x1, r.y1})
}
