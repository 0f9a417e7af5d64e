package shopfile

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"bayword/internal/shop"
)

// line is one thing to be written: what of its columns has a value.
type line map[string]cell

// cell is one value, or those of a list.
type cell struct {
	items []string
	bare  bool // numbers, or a truth
}

func (l line) text(key, v string) {
	if v != "" {
		l[key] = cell{items: []string{v}}
	}
}

func (l line) texts(key string, v []string) {
	if len(v) > 0 {
		l[key] = cell{items: v}
	}
}

func (l line) days(key string, v []shop.Day) {
	all := make([]string, len(v))
	for i, d := range v {
		all[i] = d.String()
	}
	l.texts(key, all)
}

// number writes a number that says something; zero means that nothing was said.
func (l line) number(key string, v float64) {
	if v != 0 {
		l.figure(key, v)
	}
}

// figure writes a number that may be zero.
func (l line) figure(key string, v ...float64) {
	if len(v) == 0 {
		return
	}
	c := cell{bare: true}
	for _, n := range v {
		c.items = append(c.items, strconv.FormatFloat(n+0, 'f', -1, 64))
	}
	l[key] = c
}

func (l line) whole(key string, v int) { l.number(key, float64(v)) }

func (l line) wholes(key string, v []int) {
	all := make([]float64, len(v))
	for i, n := range v {
		all[i] = float64(n)
	}
	l.figure(key, all...)
}

func (l line) micro(key string, v shop.Micro) { l.number(key, v.Float()) }

func (l line) truth(key string, v bool) {
	if v {
		l[key] = cell{[]string{"true"}, true}
	}
}

// moment writes a moment as people say it, unless that would lose some of it.
func (l line) moment(key string, t time.Time, zone *time.Location) {
	local := t.In(zone).Format(minute)
	if back, err := time.ParseInLocation(minute, local, zone); err != nil || !back.Equal(t) {
		local = t.UTC().Format(time.RFC3339Nano)
	}
	l.text(key, local)
}

// told writes who said it and when, in UTC: a local hour can come twice.
func (l line) told(t shop.Told) {
	if t.By != "" {
		l.text("by", t.By)
		l.text("said_at", t.At.UTC().Truncate(time.Millisecond).Format(time.RFC3339Nano))
	}
	var photos []string
	for _, p := range t.Photos {
		sum := p.SHA256
		if sum == "" {
			sum = noHash
		}
		photos = append(photos, strings.TrimSpace(sum+" "+strings.TrimSpace(p.Name)))
	}
	l.texts("photos", photos)
}

// lineOf gives the noun of an event and its line; no noun for what is not written.
func lineOf(k shop.Kept, zone *time.Location) (string, line) {
	l := line{}
	l.text("now", k.Now)
	l.told(k.Told)
	if name := l.name(k.Event); name != "" {
		return name, l
	}
	if name := l.record(k, zone); name != "" {
		return name, l
	}
	return l.progress(k.Event), l
}

func (l line) name(e shop.Event) string {
	switch e := e.(type) {
	case shop.ShopOpened:
		l.text("name", e.Name)
		l.text("currency", e.Currency)
		l.number("labour_rate_per_hour", e.LabourRate)
		l.text("side_words", e.SideWords)
		l.text("time_zone", e.TimeZone)
		l.days("days_off", e.DaysOff)
		return "shop"
	case shop.PersonAdded:
		l.text("id", e.ID)
		l.text("name", e.Name)
		l.text("role", e.Role.String())
		l.text("trade", e.Trade)
		l.text("chat", e.Chat)
		l.number("hours_per_day", e.HoursPerDay)
		l.days("days_off", e.DaysOff)
		return "people"
	case shop.ChannelAdded:
		l.text("id", e.ID)
		l.text("job", e.Job)
		l.text("chat", e.Chat)
		return "channels"
	case shop.SupplierAdded:
		l.text("name", e.Name)
		return "suppliers"
	case shop.PanelAreaSet:
		l.text("job", e.Job)
		l.text("panel", e.Panel)
		l.figure("area_m2", e.M2)
		return "panel_area_m2"
	case shop.DoorGeometrySet:
		l.text("job", e.Job)
		l.text("panel", e.Panel)
		l.text("side", e.Side.String())
		l.figure("height_mm", e.Height)
		l.figure("length_mm", e.Length)
		l.figure("hinge_spacing_mm", e.HingeSpacing)
		l.text("hinge_edge", e.HingeEdge.String())
		return "door_geometry"
	case shop.JobCreated:
		l.job(e)
		return "jobs"
	case shop.MaterialAdded:
		l.material(e)
		return "materials"
	}
	return ""
}

func (l line) job(e shop.JobCreated) {
	l.text("id", e.ID)
	l.whole("vehicle.year", e.Year)
	l.text("vehicle.make", e.Make)
	l.text("vehicle.model", e.Model)
	l.text("vehicle.body", e.Body)
	l.text("vehicle.drive", e.Drive)
	l.texts("also_called", e.AlsoCalled)
	l.text("customer", e.Customer)
	l.text("stage", e.Stage.String())
	l.whole("bay", e.Bay)
	for i, stage := range shop.Stages() {
		l.micro("estimate_hours."+stage, e.Estimate[i+1])
		l.micro("logged_hours."+stage, e.Logged[i+1])
	}
	l.texts("brief", e.Brief)
}

func (l line) material(e shop.MaterialAdded) {
	l.text("id", e.ID)
	l.text("name", e.Name)
	l.texts("also_called", e.AlsoCalled)
	l.text("unit", e.Unit)
	l.figure("pack", e.Pack.Float())
	l.micro("on_hand", e.OnHand)
	l.micro("reorder_at", e.ReorderAt)
	if p := e.Paint; p != nil {
		l.text("mix", p.Mix)
		l.texts("with", p.With)
		l.figure("solids_pct", p.SolidsPct) // also of 0: it says that it is sprayed
		l.number("dft_um_per_coat", p.DFTPerCoat)
		l.number("voc_g_per_l", p.VOC)
		l.number("flash_min", p.FlashMin)
		l.number("recoat_from_h", p.RecoatFromH)
		l.number("recoat_until_h", p.RecoatUntilH)
		l.number("sand_after_h", p.SandAfterH)
		l.number("pot_life_min", p.PotLifeMin)
	}
}

// columnOf gives a column's key, and whether it holds a list.
func columnOf(column string) (key string, list bool) {
	key, list = strings.CutSuffix(column, "[]")
	return key, list
}

// isList tells whether a noun's key holds a list.
func (n noun) isList(key string) bool { return slices.Contains(n.header(), key+"[]") }
