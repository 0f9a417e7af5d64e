package shopfile

import (
	"fmt"
	"slices"
	"time"
	"unicode"

	"gopkg.in/yaml.v3"

	"bayword/internal/shop"
)

func (f *file) shop(o object) {
	e := shop.ShopOpened{
		Name: o.text("name", true), Currency: o.text("currency", false), LabourRate: o.number("labour_rate_per_hour", false, 0, 10_000),
		SideWords: o.oneOf("side_words", false, "uk", "us"), TimeZone: o.text("time_zone", false), DaysOff: o.days("days_off"),
	}
	if e.TimeZone == "" {
		e.TimeZone = defaultZone
	}
	zone, err := time.LoadLocation(e.TimeZone)
	switch {
	case err == nil:
		f.zone = zone
	case o.at["time_zone"] != nil:
		o.wrong(o.at["time_zone"], "shop time_zone", e.TimeZone, "must be a time zone such as Europe/London")
	}
	f.opened = e
	f.add(o, e)
}

// leastDay is the shortest working day of somebody who works, in hours.
const leastDay = 0.25

func (f *file) person(o object) {
	role, _ := shop.ParseRole(o.oneOf("role", true, "lead", "tradesperson", "apprentice"))
	f.add(o, shop.PersonAdded{
		ID: o.id(f.people), Name: o.text("name", true), Role: role, Trade: o.text("trade", false), Chat: o.text("chat", false),
		HoursPerDay: o.number("hours_per_day", false, leastDay, 24), DaysOff: o.days("days_off"),
	})
}

// maxChannel is how long the id of a channel may be, in bytes.
const maxChannel = 80

// channel reads a channel. Its id is the one people know it by, or the chat
// platform's.
func (f *file) channel(o object) {
	e := shop.ChannelAdded{ID: o.text("id", true), Job: o.of("job", false, f.jobs), Chat: o.text("chat", false)}
	switch n := o.at["id"]; {
	case e.ID == "":
	case len(e.ID) > maxChannel || e.ID == shop.Direct || slices.ContainsFunc([]rune(e.ID), unicode.IsSpace):
		o.wrong(n, "channels id", e.ID, fmt.Sprintf("must be 1 to %d letters without a space, and not %s", maxChannel, shop.Direct))
	case f.unique.has(e.ID):
		o.wrong(n, "channels id", e.ID, "is there already")
	}
	f.unique.add(e.ID)
	f.add(o, e)
}

func (f *file) supplier(o object) {
	name := o.text("name", true)
	if name != "" && f.suppliers.has(name) {
		o.wrong(o.at["name"], "suppliers", name, "is there already")
	}
	f.suppliers.add(name)
	f.add(o, shop.SupplierAdded{Name: name})
}

func (f *file) job(o object) {
	stage, _ := shop.ParseStage(o.oneOf("stage", true, shop.Stages()...))
	e := shop.JobCreated{
		ID: o.id(f.jobs), AlsoCalled: o.texts("also_called"), Customer: o.text("customer", false), Stage: stage,
		Bay: o.whole("bay", false, 0, 1000), Brief: o.texts("brief"),
	}
	if vehicle, ok := o.at["vehicle"]; ok {
		v := f.object(vehicle, "vehicle", "year", "make", "model", "body", "drive")
		e.Year = v.whole("year", false, 1880, 2100)
		e.Make, e.Model, e.Body = v.text("make", false), v.text("model", false), v.text("body", false)
		e.Drive = v.oneOf("drive", false, "rhd", "lhd")
	}
	for _, h := range []struct {
		key string
		by  []shop.Micro
	}{{"estimate_hours", e.Estimate[:]}, {"logged_hours", e.Logged[:]}} {
		hours, ok := o.at[h.key]
		if !ok {
			continue
		}
		ho := f.object(hours, h.key, shop.Stages()...)
		for i, name := range shop.Stages() {
			h.by[i+1] = ho.micro(name, false)
		}
	}
	f.briefs[e.ID], f.stageOf[e.ID] = numbers{}, stage
	for i := range e.Brief {
		f.briefs[e.ID][i+1] = e.ID
	}
	f.add(o, e)
	if n, ok := o.at["panel_area_m2"]; ok {
		for _, row := range f.areasOf(n, o.at["id"]) {
			f.area(f.object(row, "panel_area_m2", "job", "panel", "area_m2"))
		}
	}
}

// areasOf writes out areas that stand as a mapping of panels: those of a job, or
// with none those of all.
func (f *file) areasOf(n, job *yaml.Node) []*yaml.Node {
	var rows []*yaml.Node
	o := f.object(n, "panel_area_m2", shop.Panels()...)
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		panel, area := n.Content[i], n.Content[i+1]
		if o.at[panel.Value] != area {
			continue
		}
		row := mapping(panel.Line, scalar(panel.Line, "panel"), panel, scalar(panel.Line, "area_m2"), area)
		if job != nil {
			row.Content = append(row.Content, scalar(panel.Line, "job"), job)
		}
		rows = append(rows, row)
	}
	return rows
}

func (f *file) area(o object) {
	f.add(o, shop.PanelAreaSet{Job: o.of("job", false, f.jobs), Panel: o.panel(), M2: o.number("area_m2", true, 0.001, 100)})
}

// material reads a material; it may be mixed with another further down.
func (f *file) material(o object) {
	e := shop.MaterialAdded{
		ID: o.id(f.materials), Name: o.text("name", true), AlsoCalled: o.texts("also_called"), Unit: o.oneOf("unit", true, shop.Units()...),
		Pack: shop.MicroOf(1), OnHand: o.micro("on_hand", false), ReorderAt: o.micro("reorder_at", false),
	}
	if _, ok := o.at["pack"]; ok {
		e.Pack = shop.MicroOf(o.number("pack", true, 0.000001, 10_000))
	}
	paint := shop.PaintData{
		Mix: o.text("mix", false), With: o.texts("with"), SolidsPct: o.number("solids_pct", false, 0, 100),
		DFTPerCoat: o.number("dft_um_per_coat", false, 0, 5000), VOC: o.number("voc_g_per_l", false, 0, 2000),
		FlashMin: o.number("flash_min", false, 0, 10_000), RecoatFromH: o.number("recoat_from_h", false, 0, 10_000),
		RecoatUntilH: o.number("recoat_until_h", false, 0, 100_000), SandAfterH: o.number("sand_after_h", false, 0, 10_000),
		PotLifeMin: o.number("pot_life_min", false, 0, 100_000),
	}
	painted := []string{"mix", "with", "solids_pct", "dft_um_per_coat", "voc_g_per_l", "flash_min", "recoat_from_h", "recoat_until_h", "sand_after_h", "pot_life_min"}
	if slices.ContainsFunc(painted, func(k string) bool { return o.at[k] != nil }) {
		e.Paint = &paint
	}
	f.add(o, e)
	f.check(func() {
		for _, n := range o.list("with") {
			if n.Kind == yaml.ScalarNode && !f.materials.has(n.Value) {
				o.wrong(n, "materials with", n.Value, "accepted are "+fmt.Sprint(f.materials.names()))
			}
		}
	})
}

func (f *file) gap(o object) {
	f.add(o, shop.GapSet{
		Job: o.of("job", false, f.jobs), Panel: o.panel(), Side: o.side(), Edge: o.edge("edge"),
		Target: o.number("target_mm", true, 0, 40), Tolerance: o.number("tolerance_mm", true, 0, 20),
		FlushTolerance: o.number("flush_tolerance_mm", false, 0, 20), Source: o.text("source", false),
	})
}

func (f *file) door(o object) {
	f.add(o, shop.DoorGeometrySet{
		Job: o.of("job", true, f.jobs), Panel: o.panel(), Side: o.side(), Height: o.number("height_mm", true, 1, 6000),
		Length: o.number("length_mm", true, 1, 6000), HingeSpacing: o.number("hinge_spacing_mm", true, 1, 6000), HingeEdge: o.edge("hinge_edge"),
	})
}

// torque reads a book value. One that comes from nobody must say where it is from.
func (f *file) torque(o object) {
	f.add(o, shop.TorqueSet{
		Job: o.of("job", true, f.jobs), Fastener: o.text("fastener", true), Thread: o.text("thread", false),
		Torque: o.number("torque_nm", true, 0.5, 1500), Stages: o.figures("stages", 0.5, 1500),
		Source: o.text("source", !said(o)), Critical: o.truth("safety_critical"),
	})
}
