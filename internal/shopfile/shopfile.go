// Package shopfile reads the file that describes a shop, in the format of the
// demo shop, into the events that make it. It checks everything, and tells what is
// wrong with the line it is in. It may import internal/shop.
package shopfile

import (
	"fmt"
	"slices"
	"time"

	"gopkg.in/yaml.v3"

	"bayword/internal/shop"
)

const defaultZone = "Europe/London"

// file is a shop file being read: what has a name so far, and the events.
type file struct {
	*reader
	zone                                       *time.Location
	people, jobs, suppliers, materials, unique set
	tasks                                      set
	events                                     []shop.Event
}

// Read reads a shop file; name is what errors call it. The error joins one error
// for each thing wrong, the first 20, each as «name:LINE: what: "value": what is
// accepted».
func Read(name string, data []byte) ([]shop.Event, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f := &file{
		reader: &reader{file: name}, zone: time.UTC,
		people: newSet(), jobs: newSet(), suppliers: newSet(), materials: newSet(), unique: newSet(), tasks: newSet(),
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, fmt.Errorf("%s:1: the file: %q: must be a mapping that begins with shop", name, "")
	}
	top := f.object(doc.Content[0], "the file", "shop", "people", "channels", "jobs", "suppliers", "materials", "panel_area_m2",
		"gap_references", "door_geometry", "torque_references", "tasks", "finds", "parts", "coats", "extras", "snags")
	f.shop(top)
	for _, section := range []struct {
		key  string
		read func(*yaml.Node)
	}{
		{"people", f.person}, {"jobs", f.job}, {"channels", f.channel}, {"suppliers", f.supplier},
	} {
		for _, n := range top.list(section.key) {
			section.read(n)
		}
	}
	f.readMaterials(top.list("materials"))
	f.areas(top, "")
	for _, section := range []struct {
		key  string
		read func(*yaml.Node)
	}{
		{"gap_references", f.gap}, {"door_geometry", f.door}, {"torque_references", f.torque},
	} {
		for _, n := range top.list(section.key) {
			section.read(n)
		}
	}
	f.readTasks(top.list("tasks"))
	for _, section := range []struct {
		key  string
		read func(object)
		keys []string
	}{
		{"finds", f.find, []string{"id", "job", "panel", "side", "end", "kind", "width_mm", "height_mm", "diameter_mm", "depth_mm", "count", "note", "state"}},
		{"parts", f.part, []string{"id", "job", "part", "side", "quantity", "supplier", "origin", "price", "ordered", "due", "state"}},
		{"coats", f.coat, []string{"job", "material", "panels", "coats", "at", "temperature_c"}},
		{"extras", f.extra, []string{"id", "job", "text", "hours", "parts", "state"}},
		{"snags", f.snag, []string{"id", "job", "text", "state"}},
	} {
		f.unique = newSet()
		for _, n := range top.list(section.key) {
			section.read(f.object(n, section.key, section.keys...))
		}
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	return f.events, nil
}

func (f *file) add(e shop.Event) { f.events = append(f.events, e) }

func (f *file) shop(top object) {
	n, ok := top.at["shop"]
	if !ok {
		top.need("shop")
		return
	}
	o := f.object(n, "shop", "name", "currency", "labour_rate_per_hour", "side_words", "time_zone")
	e := shop.ShopOpened{
		Name: o.text("name", true), Currency: o.text("currency", false), LabourRate: o.number("labour_rate_per_hour", false, 0, 10_000),
		SideWords: o.oneOf("side_words", false, "uk", "us"), TimeZone: o.text("time_zone", false),
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
	f.add(e)
}

func (f *file) person(n *yaml.Node) {
	o := f.object(n, "people", "id", "name", "role", "trade", "chat")
	role, _ := shop.ParseRole(o.oneOf("role", true, "lead", "tradesperson", "apprentice"))
	f.add(shop.PersonAdded{ID: o.id(f.people), Name: o.text("name", true), Role: role, Trade: o.text("trade", false), Chat: o.text("chat", false)})
}

func (f *file) channel(n *yaml.Node) {
	o := f.object(n, "channels", "id", "job", "chat")
	f.add(shop.ChannelAdded{ID: o.id(f.unique), Job: o.of("job", false, f.jobs), Chat: o.text("chat", false)})
}

func (f *file) supplier(n *yaml.Node) {
	if n.Kind != yaml.ScalarNode || n.Value == "" {
		f.wrong(n, "suppliers", value(n), "must be a name")
		return
	}
	if f.suppliers.has(n.Value) {
		f.wrong(n, "suppliers", n.Value, "is there already")
	}
	f.suppliers.add(n.Value)
	f.add(shop.SupplierAdded{Name: n.Value})
}

func (f *file) job(n *yaml.Node) {
	o := f.object(n, "jobs", "id", "vehicle", "also_called", "customer", "stage", "bay", "estimate_hours", "logged_hours", "brief", "panel_area_m2")
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
	f.add(e)
	f.areas(o, e.ID)
}

// areas reads panel areas: of one job, or in the file itself of all.
func (f *file) areas(o object, job string) {
	n, ok := o.at["panel_area_m2"]
	if !ok {
		return
	}
	a := f.object(n, "panel_area_m2", shop.Panels()...)
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if panel := n.Content[i].Value; a.at[panel] == n.Content[i+1] {
			f.add(shop.PanelAreaSet{Job: job, Panel: panel, M2: a.number(panel, true, 0.001, 100)})
		}
	}
}

// readMaterials reads the materials; one may be mixed with another further down.
func (f *file) readMaterials(nodes []*yaml.Node) {
	var with []object
	for _, n := range nodes {
		o := f.object(n, "materials", "id", "name", "also_called", "unit", "pack", "on_hand", "reorder_at", "mix", "with", "solids_pct",
			"dft_um_per_coat", "voc_g_per_l", "flash_min", "recoat_from_h", "recoat_until_h", "sand_after_h", "pot_life_min")
		with = append(with, o)
		f.add(f.material(o))
	}
	for _, o := range with {
		for _, n := range o.list("with") {
			if n.Kind == yaml.ScalarNode && !f.materials.has(n.Value) {
				o.wrong(n, "materials with", n.Value, "accepted are "+fmt.Sprint(f.materials.names()))
			}
		}
	}
}

func (f *file) material(o object) shop.MaterialAdded {
	e := shop.MaterialAdded{
		ID: o.id(f.materials), Name: o.text("name", true), AlsoCalled: o.texts("also_called"), Unit: o.oneOf("unit", true, shop.Units()...),
		Pack: shop.MicroOf(1), OnHand: o.micro("on_hand", false), ReorderAt: o.micro("reorder_at", false),
	}
	if _, ok := o.at["pack"]; ok {
		e.Pack = shop.MicroOf(o.number("pack", true, 0.001, 10_000))
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
	return e
}

func (f *file) gap(n *yaml.Node) {
	o := f.object(n, "gap_references", "job", "panel", "side", "edge", "target_mm", "tolerance_mm", "flush_tolerance_mm", "source")
	f.add(shop.GapSet{
		Job: o.of("job", false, f.jobs), Panel: o.panel("panel"), Side: o.side(), Edge: o.edge("edge"),
		Target: o.number("target_mm", true, 0, 40), Tolerance: o.number("tolerance_mm", true, 0, 20),
		FlushTolerance: o.number("flush_tolerance_mm", false, 0, 20), Source: o.text("source", false),
	})
}

func (f *file) door(n *yaml.Node) {
	o := f.object(n, "door_geometry", "job", "panel", "side", "height_mm", "length_mm", "hinge_spacing_mm", "hinge_edge")
	f.add(shop.DoorGeometrySet{
		Job: o.of("job", true, f.jobs), Panel: o.panel("panel"), Side: o.side(), Height: o.number("height_mm", true, 1, 6000),
		Length: o.number("length_mm", true, 1, 6000), HingeSpacing: o.number("hinge_spacing_mm", true, 1, 6000), HingeEdge: o.edge("hinge_edge"),
	})
}

func (f *file) torque(n *yaml.Node) {
	o := f.object(n, "torque_references", "job", "fastener", "thread", "torque_nm", "stages", "source", "safety_critical")
	f.add(shop.TorqueSet{
		Job: o.of("job", true, f.jobs), Fastener: o.text("fastener", true), Thread: o.text("thread", false),
		Torque: o.number("torque_nm", true, 0.5, 1500), Stages: o.numbers("stages", 0.5, 1500),
		Source: o.text("source", true), Critical: o.truth("safety_critical"),
	})
}

// readTasks reads the tasks; one may come after another further down.
func (f *file) readTasks(nodes []*yaml.Node) {
	objects := make([]object, len(nodes))
	for i, n := range nodes {
		o := f.object(n, "tasks", "id", "job", "title", "stage", "hours", "after", "state", "who", "needs_part")
		objects[i] = o
		stage, _ := shop.ParseStage(o.oneOf("stage", true, shop.Stages()...))
		e := shop.TaskAdded{
			Number: o.numbered(f.tasks), Job: o.of("job", true, f.jobs), Title: o.text("title", true), Stage: stage,
			State: o.oneOf("state", true, "waiting", "doing", "done"), Who: o.of("who", false, f.people), NeedsPart: o.text("needs_part", false),
		}
		if h := o.numbers("hours", 0, 10_000); len(h) == 3 && h[0] <= h[1] && h[1] <= h[2] {
			e.Low, e.Likely, e.High = h[0], h[1], h[2]
		} else if at := o.at["hours"]; at != nil {
			o.wrong(at, "tasks hours", fmt.Sprint(h), "must be low, likely and high, each no less than the one before")
		}
		for _, n := range o.numbers("after", 1, maxNumber) {
			e.After = append(e.After, int(n))
		}
		f.add(e)
	}
	for _, o := range objects {
		for _, n := range o.list("after") {
			if !f.tasks.has(n.Value) {
				o.wrong(n, "tasks after", value(n), "must be the id of a task")
			}
		}
	}
}

func (f *file) find(o object) {
	kind, _ := shop.ParseFindKind(o.oneOf("kind", true, shop.FindKinds()...))
	end := shop.End(slices.Index([]string{"", "front", "rear"}, o.oneOf("end", false, "front", "rear")))
	e := shop.FindRecorded{
		Number: o.numbered(f.unique), Job: o.of("job", true, f.jobs), Panel: o.panel("panel"), Side: o.side(), End: end, Kind: kind,
		Width: o.number("width_mm", false, 0.5, 6000), Height: o.number("height_mm", false, 0.5, 6000),
		Diameter: o.number("diameter_mm", false, 0.5, 6000), Depth: o.number("depth_mm", false, 0.05, 200),
		Count: o.whole("count", false, 1, 500), Note: o.text("note", false),
		Repaired: o.oneOf("state", true, "open", "repaired") == "repaired",
	}
	if e.Side == 0 && shop.Sided(e.Panel) {
		o.need("side")
	}
	f.add(e)
}

func (f *file) part(o object) {
	e := shop.PartOrdered{
		Number: o.numbered(f.unique), Job: o.of("job", true, f.jobs), Part: o.text("part", true), Side: o.side(),
		Quantity: 1, Supplier: o.of("supplier", false, f.suppliers), Origin: o.text("origin", false), Price: o.number("price", false, 0, 10_000_000),
		Ordered: o.day("ordered"), Due: o.day("due"), State: o.oneOf("state", true, "ordered", "arrived", "fitted"),
	}
	if _, ok := o.at["quantity"]; ok {
		e.Quantity = o.whole("quantity", true, 1, 10_000)
	}
	f.add(e)
}

func (f *file) coat(o object) {
	e := shop.CoatRecorded{
		Job: o.of("job", true, f.jobs), Material: o.of("material", true, f.materials), Panels: o.texts("panels"),
		Coats: o.whole("coats", true, 1, 50), At: o.moment("at", f.zone), Temperature: o.number("temperature_c", false, -30, 60),
	}
	for _, n := range o.list("panels") {
		if !slices.Contains(shop.Panels(), n.Value) {
			o.wrong(n, "coats panels", value(n), "must be a panel")
		}
	}
	f.add(e)
}

func (f *file) extra(o object) {
	f.add(shop.ExtraProposed{
		Number: o.numbered(f.unique), Job: o.of("job", true, f.jobs), Text: o.text("text", true), Hours: o.number("hours", false, 0, 10_000),
		Parts: o.number("parts", false, 0, 10_000_000), State: o.oneOf("state", true, "proposed", "agreed", "declined"),
	})
}

func (f *file) snag(o object) {
	f.add(shop.SnagAdded{
		Number: o.numbered(f.unique), Job: o.of("job", true, f.jobs), Text: o.text("text", true),
		Closed: o.oneOf("state", true, "open", "closed") == "closed",
	})
}
