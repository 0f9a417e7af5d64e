package shopfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
	"bayword/testdata/demo"
)

func TestTheDemoShopIsWhole(t *testing.T) {
	t.Parallel()
	events, err := Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)

	count := map[string]int{}
	st := shop.New()
	for i, e := range events {
		_, err := st.Apply(shop.Meta{Seq: uint64(i) + 1}, e)
		require.NoError(t, err)
		count[strings.TrimPrefix(fmt.Sprintf("%T", e), "shop.")]++
	}
	assert.Equal(t, map[string]int{
		"ShopOpened": 1, "PersonAdded": 6, "ChannelAdded": 6, "JobCreated": 4, "SupplierAdded": 4, "MaterialAdded": 20,
		"PanelAreaSet": 16, "GapSet": 8, "DoorGeometrySet": 2, "TorqueSet": 13, "TaskAdded": 12, "FindRecorded": 4,
		"PartOrdered": 4, "CoatRecorded": 1, "ExtraProposed": 2, "SnagAdded": 1,
	}, count)
}

func dayOn(t *testing.T, text string) shop.Day {
	t.Helper()
	d, ok := shop.ParseDay(text)
	require.True(t, ok, text)
	return d
}

func TestOptionalKeys(t *testing.T) {
	t.Parallel()
	events, err := Read("shop.yaml", []byte(`
shop: {name: Millrace, time_zone: Europe/Dublin, days_off: [2026-04-03, 2026-04-06]}
people: [{id: wren, name: Wren, role: lead, chat: U01, hours_per_day: 5, days_off: [2026-03-11]}]
jobs: [{id: heron, stage: metal, panel_area_m2: {door: 1.1}}]
channels: [{id: bay-2, job: heron, chat: C01}]
materials: [{id: tape, name: tape, unit: each}]
`))
	require.NoError(t, err)
	assert.Equal(t, []shop.Event{
		shop.ShopOpened{Name: "Millrace", TimeZone: "Europe/Dublin", DaysOff: []shop.Day{dayOn(t, "2026-04-03"), dayOn(t, "2026-04-06")}},
		shop.PersonAdded{ID: "wren", Name: "Wren", Role: shop.Lead, Chat: "U01", HoursPerDay: 5, DaysOff: []shop.Day{dayOn(t, "2026-03-11")}},
		shop.JobCreated{ID: "heron", Stage: shop.Metal},
		shop.PanelAreaSet{Job: "heron", Panel: "door", M2: 1.1},
		shop.ChannelAdded{ID: "bay-2", Job: "heron", Chat: "C01"},
		shop.MaterialAdded{ID: "tape", Name: "tape", Unit: "each", Pack: shop.MicroOf(1)},
	}, events)

	zone, err := Read("shop.yaml", []byte("shop: {name: Millrace}"))
	require.NoError(t, err)
	assert.Equal(t, []shop.Event{shop.ShopOpened{Name: "Millrace", TimeZone: "Europe/London"}}, zone)
}

// begin is a shop that other lines can follow; it is five lines long.
const begin = `shop: {name: Millrace}
people: [{id: wren, name: Wren, role: lead}]
jobs: [{id: heron, stage: metal}]
suppliers: [Ketteridge Panels]
materials: [{id: tape, name: tape, unit: each}]
`

func TestWhatIsWrongIsSaidWithItsLine(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ file, says string }{
		"nothing":              {"", `shop.yaml:1: the file`},
		"no mapping":           {"- shop", `shop.yaml:1: the file: "[…]": must be a mapping`},
		"no shop":              {"people: []", `shop.yaml:1: the file: "shop": this key must be there`},
		"no YAML":              {"shop: {name: [", "shop.yaml: yaml: line 1"},
		"unknown section":      {begin + "colour: red", `shop.yaml:6: unknown key of the file: "colour": accepted are shop, people`},
		"unknown key":          {begin + "snags:\n- {id: 1, job: heron, text: x, state: open, who: wren}", `shop.yaml:7: unknown key of snags: "who": accepted are id, job, text, state`},
		"a key twice":          {begin + "snags:\n- {id: 1, id: 2, job: heron, text: x, state: open}", `shop.yaml:7: key of snags: "id": must come once`},
		"no list":              {begin + "snags: {id: 1}", `shop.yaml:6: the file snags: "{…}": must be a list`},
		"no item":              {begin + "snags: [rattle]", `shop.yaml:6: snags: "rattle": must be a mapping`},
		"unknown job":          {begin + "snags: [{id: 1, job: tern, text: x, state: open}]", `shop.yaml:6: snags job: "tern": accepted are heron`},
		"unknown person":       {begin + "tasks: [{id: 1, job: heron, title: x, stage: metal, state: doing, who: bo}]", `shop.yaml:6: tasks who: "bo": accepted are wren`},
		"unknown material":     {begin + "coats: [{job: heron, material: paint, panels: [door], coats: 2, at: 2026-03-09T15:30}]", `shop.yaml:6: coats material: "paint": accepted are tape`},
		"unknown supplier":     {begin + "parts: [{id: 1, job: heron, part: seal, supplier: Bo, state: ordered}]", `parts supplier: "Bo": accepted are Ketteridge Panels`},
		"unknown panel":        {begin + "finds: [{id: 1, job: heron, panel: lid, kind: hole, state: open}]", `shop.yaml:6: finds panel: "lid": accepted are a-post`},
		"unknown panel, coat":  {begin + "coats: [{job: heron, material: tape, panels: [lid], coats: 2, at: 2026-03-09T15:30}]", `coats panels: "lid": must be a panel`},
		"told of no coat":      {begin + "coats: [{job: heron, material: tape, panels: [door], coats: 2, at: 2026-03-09T15:30, sent: [dry-2026-03-10T14:30]}]", `shop.yaml:6: coats sent: "dry-2026-03-10T14:30": must be such as sand-2026-03-10T19:30`},
		"no side":              {begin + "finds: [{id: 1, job: heron, panel: sill, kind: hole, state: open}]", `shop.yaml:6: finds: "side": this key must be there`},
		"bad kind":             {begin + "finds: [{id: 1, job: heron, panel: roof, kind: scratch, state: open}]", `finds kind: "scratch": accepted are hole, rust`},
		"no state":             {begin + "finds: [{id: 1, job: heron, panel: roof, kind: hole}]", `finds: "state": this key must be there`},
		"a number twice":       {begin + "snags:\n- {id: 1, job: heron, text: x, state: open}\n- {id: 1, job: heron, text: y, state: open}", `shop.yaml:8: snags id: "1": is there already`},
		"an id twice":          {"shop: {name: M}\njobs:\n- {id: heron, stage: metal}\n- {id: heron, stage: metal}", `shop.yaml:4: jobs id: "heron": is there already`},
		"an odd id":            {"shop: {name: M}\njobs: [{id: The Heron, stage: metal}]", `jobs id: "The Heron": must be 1 to 40 lower-case letters`},
		"a supplier twice":     {"shop: {name: M}\nsuppliers:\n- Bo\n- Bo", `shop.yaml:4: suppliers: "Bo": is there already`},
		"no number":            {begin + "torque_references: [{job: heron, fastener: x, torque_nm: tight, source: p}]", `torque_references torque_nm: "tight": must be a number from 0.5 to 1500`},
		"a number in quotes":   {begin + `torque_references: [{job: heron, fastener: x, torque_nm: "80", source: p}]`, `torque_references torque_nm: "80": must be a number`},
		"not a number":         {begin + "torque_references: [{job: heron, fastener: x, torque_nm: .nan, source: p}]", `torque_nm: ".nan": must be a number`},
		"too large":            {begin + "gap_references: [{panel: door, target_mm: 400, tolerance_mm: 1}]", `gap_references target_mm: "400": must be a number from 0 to 40`},
		"no whole number":      {begin + "snags: [{id: 1.5, job: heron, text: x, state: open}]", `snags id: "1.5": must be a whole number from 1 to 60000`},
		"a list for a text":    {begin + "snags: [{id: 1, job: heron, text: [x], state: open}]", `snags text: "[…]": must be one value`},
		"nothing for a text":   {begin + "snags: [{id: 1, job: heron, text: , state: open}]", `snags text: "": must be one value`},
		"no truth":             {begin + "torque_references: [{job: heron, fastener: x, torque_nm: 80, source: p, safety_critical: maybe}]", `safety_critical: "maybe": must be true or false`},
		"no day":               {begin + "parts: [{id: 1, job: heron, part: seal, due: Thursday, state: ordered}]", `parts due: "Thursday": must be a day such as 2026-03-10`},
		"no moment":            {begin + "coats: [{job: heron, material: tape, panels: [door], coats: 2, at: noon}]", `coats at: "noon": must be a moment such as`},
		"no time zone":         {"shop: {name: M, time_zone: Here}", `shop time_zone: "Here": must be a time zone such as Europe/London`},
		"a task after nothing": {begin + "tasks: [{id: 1, job: heron, title: x, stage: metal, state: doing, after: [2]}]", `tasks after: "2": must be the id of a task`},
		"hours out of order":   {begin + "tasks: [{id: 1, job: heron, title: x, stage: metal, state: doing, hours: [4, 3, 5]}]", `tasks hours: "[4 3 5]": must be low, likely and high`},
		"mixed with nothing":   {"shop: {name: M}\nmaterials: [{id: a, name: a, unit: L, with: [b]}]", `materials with: "b": accepted are`},
		"a reference":          {"shop: &s {name: M}\npeople: [*s]", `shop.yaml:2: people: "*s": must be a mapping`},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			events, err := Read("shop.yaml", []byte(c.file))
			require.ErrorContains(t, err, c.says)
			assert.Empty(t, events)
		})
	}
}

func TestAtMostTwentyErrorsAreTold(t *testing.T) {
	t.Parallel()
	_, err := Read("shop.yaml", []byte(begin+"snags:\n"+strings.Repeat("- {id: x}\n", 50)))
	require.Error(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 20)
}

// Whatever the file, Read does not fail otherwise than by an error, and what it
// accepts is a shop, which comes back from a folder.
func FuzzRead(f *testing.F) {
	f.Add(demo.ShopYAML)
	f.Add([]byte(begin + "snags: [{id: 1, job: heron, text: x, state: open}]"))
	f.Add([]byte(begin + "notes: [{text: x, by: wren, said_at: 2026-03-10T10:15, entry: 1, photos: [- a.jpg]}]"))
	f.Add([]byte("a: &a [*a]\nb: {<<: *a}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		events, err := Read("shop.yaml", data)
		if err != nil {
			return
		}
		roundTrip(t, begun(t, events))
	})
}
