package shop_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
	"bayword/internal/shopfile"
	"bayword/testdata/demo"
)

func count(n int) *int { return &n }

func degrees(c float64) *float64 { return &c }

// london is Tuesday's moment where the demo shop is.
func london(t testing.TB) time.Time {
	t.Helper()
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	return tuesday.In(zone)
}

// coats is the demo shop as it was imported.
func coats(t testing.TB) *shop.State {
	t.Helper()
	events, err := shopfile.Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	st := shop.New()
	for i, e := range events {
		_, err := st.Apply(shop.Meta{Seq: uint64(i) + 1, At: tuesday}, e)
		require.NoError(t, err)
	}
	return st
}

func bonnet() shop.NewCoat {
	return shop.NewCoat{Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet"}, Coats: count(2)}
}

func TestWhatACoatNeeds(t *testing.T) {
	t.Parallel()
	st, now := coats(t), london(t)
	refused := func(reason shop.Reason, field, accepted string) func(*testing.T, error) {
		return func(t *testing.T, err error) {
			var r *shop.Refusal
			require.True(t, errors.As(err, &r), "%v", err)
			assert.Equal(t, reason, r.Reason)
			assert.Equal(t, field, r.Metadata["field"])
			assert.Contains(t, r.Metadata["accepted"], accepted)
		}
	}
	done := func(t *testing.T, err error) { require.NoError(t, err) }
	for name, c := range map[string]struct {
		change func(*shop.NewCoat)
		want   func(*testing.T, error)
	}{
		"all of it":              {func(*shop.NewCoat) {}, done},
		"no job":                 {func(c *shop.NewCoat) { c.Job = "" }, refused(shop.MissingField, "job", "")},
		"no material":            {func(c *shop.NewCoat) { c.Material = "" }, refused(shop.MissingField, "material", "")},
		"no panels":              {func(c *shop.NewCoat) { c.Panels = nil }, refused(shop.MissingField, "panels", "")},
		"no coats":               {func(c *shop.NewCoat) { c.Coats = nil }, refused(shop.MissingField, "coats", "")},
		"no such job":            {func(c *shop.NewCoat) { c.Job = "linnet" }, refused(shop.UnknownName, "job", "heron")},
		"no such material":       {func(c *shop.NewCoat) { c.Material = "tar" }, refused(shop.UnknownName, "material", "epoxy-primer")},
		"not put on in coats":    {func(c *shop.NewCoat) { c.Material = "seam-sealer" }, refused(shop.OutOfRange, "material", "epoxy-primer, high-build, basecoat-blue, clearcoat, cavity-wax")},
		"cavity wax":             {func(c *shop.NewCoat) { c.Material = "cavity-wax" }, done},
		"only part of a mix":     {func(c *shop.NewCoat) { c.Material = "thinner" }, refused(shop.OutOfRange, "material", "clearcoat")},
		"no such panel":          {func(c *shop.NewCoat) { c.Panels = []string{"bonnet", "wingding"} }, refused(shop.UnknownName, "panels", "bonnet")},
		"a panel twice":          {func(c *shop.NewCoat) { c.Panels = []string{"roof", "roof"} }, refused(shop.OutOfRange, "panels", "once")},
		"a panel with no area":   {func(c *shop.NewCoat) { c.Panels = []string{"c-post"} }, done},
		"none":                   {func(c *shop.NewCoat) { c.Coats = count(0) }, refused(shop.OutOfRange, "coats", "1 to 15")},
		"a slip of a digit":      {func(c *shop.NewCoat) { c.Coats = count(51) }, refused(shop.OutOfRange, "coats", "1 to 15")},
		"at nine":                {func(c *shop.NewCoat) { c.At = "2026-03-10T09:00" }, done},
		"in ten minutes":         {func(c *shop.NewCoat) { c.At = "2026-03-10T10:25" }, done},
		"in eleven minutes":      {func(c *shop.NewCoat) { c.At = "2026-03-10T10:26" }, refused(shop.OutOfRange, "at", "to 2026-03-10T10:25")},
		"a year ago":             {func(c *shop.NewCoat) { c.At = "2025-03-10T10:15" }, done},
		"more than a year ago":   {func(c *shop.NewCoat) { c.At = "2025-03-10T10:14" }, refused(shop.OutOfRange, "at", "2025-03-10T10:15 to")},
		"no time":                {func(c *shop.NewCoat) { c.At = "half nine" }, refused(shop.OutOfRange, "at", "2026-03-10T10:25")},
		"a warm booth":           {func(c *shop.NewCoat) { c.Temperature = degrees(20) }, done},
		"fahrenheit for celsius": {func(c *shop.NewCoat) { c.Temperature = degrees(68) }, refused(shop.OutOfRange, "temperature_c", "1 to 60 °C")},
		"frost":                  {func(c *shop.NewCoat) { c.Temperature = degrees(0) }, refused(shop.OutOfRange, "temperature_c", "1 to 60 °C")},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := bonnet()
			c.change(&r)
			_, err := st.DecideCoat("jonah", now, r)
			c.want(t, err)
		})
	}
	_, err := st.DecideCoat("bo", now, shop.NewCoat{})
	refused(shop.UnknownPerson, "", "")(t, err)
}

func TestATimeIsThatOfTheShop(t *testing.T) {
	t.Parallel()
	st := coats(t)
	july := time.Date(2026, 7, 10, 12, 0, 40, 0, time.UTC).In(london(t).Location())
	r := bonnet()
	d, err := st.DecideCoat("mabel", july, r)
	require.NoError(t, err)
	assert.Equal(t, shop.CoatRecorded{
		Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet"}, Coats: 2, At: time.Date(2026, 7, 10, 12, 0, 0, 0, time.UTC),
	}, d.Event, "now, to the minute")
	r.At = "2026-07-10T09:30"
	d, err = st.DecideCoat("mabel", july, r)
	require.NoError(t, err)
	e, _ := d.Event.(shop.CoatRecorded)
	assert.Equal(t, time.Date(2026, 7, 10, 8, 30, 0, 0, time.UTC), e.At, "summer time")
}

// put folds a coat of somebody's and gives its entry.
func put(t testing.TB, st *shop.State, e shop.Event) uint64 {
	t.Helper()
	_, err := st.Apply(shop.Meta{Seq: st.Seq() + 1, At: tuesday, Person: "mabel"}, e)
	require.NoError(t, err)
	return st.Seq()
}

func TestTheLatestCoatOfEachMaterialAndSetOfPanels(t *testing.T) {
	t.Parallel()
	st := coats(t)
	coat := func(material string, hour int, panels ...string) shop.CoatRecorded {
		return shop.CoatRecorded{Job: "osmere", Material: material, Panels: panels, Coats: 1, At: time.Date(2026, 3, 10, hour, 0, 0, 0, time.UTC)}
	}
	last := put(t, st, coat("basecoat-blue", 9, "door", "bonnet"))
	put(t, st, coat("basecoat-blue", 8, "bonnet", "door")) // said later, finished earlier
	clear := put(t, st, coat("clearcoat", 10, "bonnet", "door"))
	alone := put(t, st, coat("basecoat-blue", 7, "bonnet"))
	list := func(job string) (entries []uint64) {
		all, err := st.LatestCoats(job)
		require.NoError(t, err)
		for _, c := range all {
			entries = append(entries, c.Entry)
		}
		return entries
	}
	imported := list("osmere")[3]
	assert.Equal(t, []uint64{clear, last, alone, imported}, list("osmere"))
	assert.Equal(t, []uint64{clear, last, alone, imported}, list(""))
	assert.Empty(t, list("heron"))
	put(t, st, shop.Undone{Entry: last})
	assert.Equal(t, []uint64{clear, last + 1, alone, imported}, list("osmere"), "the one before it counts again")
	_, err := st.LatestCoats("linnet")
	assert.Error(t, err)
}

func TestACoatIsMendedByTheRulesThatMadeIt(t *testing.T) {
	t.Parallel()
	st, now := coats(t), london(t)
	r := bonnet()
	r.At, r.Temperature = "2026-03-10T09:30", degrees(18)
	d, err := st.DecideCoat("mabel", now, r)
	require.NoError(t, err)
	entry := put(t, st, d.Event)

	later := now.AddDate(2, 0, 0) // the time on record is not judged again
	d, err = st.DecideAmend("mabel", later, entry, shop.Changes{Coats: count(3), Panels: []string{"bonnet", "roof"}})
	require.NoError(t, err)
	assert.Equal(t, []string{"panels bonnet -> bonnet, roof", "coats 2 -> 3"}, d.Changes)
	put(t, st, d.Event)
	d, err = st.DecideAmend("mabel", now, entry, shop.Changes{At: "2026-03-10T09:45", Temperature: degrees(17), Material: "high-build", Job: "tern"})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"job heron -> tern", "material epoxy-primer -> high-build", "at 2026-03-10T09:30 -> 2026-03-10T09:45", "temperature_c 18 -> 17",
	}, d.Changes)
	put(t, st, d.Event)
	rec, ok := st.Record(entry)
	require.True(t, ok)
	assert.Equal(t, shop.CoatRecorded{
		Job: "tern", Material: "high-build", Panels: []string{"bonnet", "roof"}, Coats: 3,
		At: time.Date(2026, 3, 10, 9, 45, 0, 0, time.UTC), Temperature: 17,
	}, rec.Event)

	for _, c := range []shop.Changes{
		{At: "2026-03-10T23:00"}, {Temperature: degrees(80)}, {Coats: count(0)}, {Panels: []string{"keel"}}, {Material: "thinner"}, {Amount: degrees(2)},
	} {
		_, err := st.DecideAmend("mabel", now, entry, c)
		assert.Error(t, err, "%+v", c)
	}
	_, err = st.DecideAmend("idris", now, entry, shop.Changes{Coats: count(1)})
	assert.Error(t, err, "it is mabel's")
	lines, _, err := st.History(shop.Where{Job: "tern", Panel: "roof"}, 0, 10)
	require.NoError(t, err)
	require.Len(t, lines, 1)
	assert.Equal(t, "3 coats of high-build primer on bonnet, roof", lines[0].Text)
	assert.Equal(t, time.Date(2026, 3, 10, 9, 45, 0, 0, time.UTC), lines[0].At)
}

func TestAMaterialThatWasPutOnIsInUse(t *testing.T) {
	t.Parallel()
	st := coats(t)
	material := put(t, st, shop.MaterialAdded{ID: "etch", Name: "etch primer", Unit: "L", Paint: &shop.PaintData{Mix: "1"}})
	coat := put(t, st, shop.CoatRecorded{Job: "tern", Material: "etch", Panels: []string{"roof"}, Coats: 1, At: tuesday})
	_, err := st.DecideUndo("wren", material)
	var r *shop.Refusal
	require.ErrorAs(t, err, &r)
	assert.Equal(t, shop.InUse, r.Reason)
	put(t, st, shop.Undone{Entry: coat})
	_, err = st.DecideUndo("wren", material)
	require.NoError(t, err)
}

func TestAreasOfAJobComeBeforeTheShops(t *testing.T) {
	t.Parallel()
	st := coats(t)
	put(t, st, shop.PanelAreaSet{Job: "pilot", Panel: "bonnet", M2: 0.9})
	for _, c := range []struct {
		job  string
		want float64
	}{{"pilot", 0.9}, {"heron", 1.25}, {"", 1.25}} {
		got, err := st.Area(c.job, []string{"roof", "bonnet"})
		require.NoError(t, err)
		assert.Equal(t, []float64{1.7, c.want}, got, c.job)
	}
	_, err := st.Area("", []string{"c-post"})
	var r *shop.Refusal
	require.ErrorAs(t, err, &r)
	assert.Equal(t, "panels", r.Metadata["field"])
	assert.Contains(t, r.Metadata["accepted"], "boot lid")
}

func TestWhatIsMixedWithAHardenerIsTwoPack(t *testing.T) {
	t.Parallel()
	st := coats(t)
	put(t, st, shop.MaterialAdded{ID: "wb-activator", Name: "water activator reducer", Unit: "L"})
	put(t, st, shop.MaterialAdded{ID: "wb", Name: "wb", Unit: "L", Paint: &shop.PaintData{Mix: "5:1", With: []string{"wb-activator"}}})
	for id, want := range map[string]bool{
		"epoxy-primer": true, "high-build": true, "clearcoat": true, "wb": true,
		"basecoat-blue": false, "thinner": false, "seam-sealer": false, "nothing": false,
	} {
		assert.Equal(t, want, st.TwoPack(id), id)
	}
}

// However coats are recorded, mended and taken back, those listed are the ones
// that a search of all records finds.
func TestTheLatestCoatsAreThoseOfASearch(t *testing.T) {
	t.Parallel()
	begin, err := coats(t).Snapshot()
	require.NoError(t, err)
	now := london(t)
	rapid.Check(t, func(t *rapid.T) {
		st, err := shop.Restore(begin)
		require.NoError(t, err)
		model := &naive{}
		first := st.Seq()
		for range rapid.IntRange(1, 25).Draw(t, "steps") {
			var d shop.Decision
			entry := rapid.Uint64Range(first+1, st.Seq()+1).Draw(t, "entry")
			n := rapid.IntRange(1, 4).Draw(t, "coats")
			at := rapid.SampledFrom([]string{"", "2026-03-10T08:00", "2026-03-10T09:00"}).Draw(t, "at")
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				d, err = st.DecideAmend("mabel", now, entry, shop.Changes{Coats: &n, At: at})
			case 1:
				d, err = st.DecideUndo("mabel", entry)
			default:
				d, err = st.DecideCoat("mabel", now, shop.NewCoat{
					Job: "heron", Material: rapid.SampledFrom([]string{"epoxy-primer", "high-build"}).Draw(t, "material"), Coats: &n, At: at,
					Panels: rapid.SampledFrom([][]string{{"roof"}, {"roof", "bonnet"}, {"bonnet", "roof"}}).Draw(t, "panels"),
				})
			}
			var refusal *shop.Refusal
			if errors.As(err, &refusal) {
				continue
			}
			require.NoError(t, err)
			meta := shop.Meta{Seq: st.Seq() + 1, Person: "mabel", At: tuesday}
			change, err := st.Apply(meta, d.Event)
			require.NoError(t, err)
			st.Revert(change)
			_, err = st.Apply(meta, d.Event)
			require.NoError(t, err)
			model.apply(meta.Seq, "mabel", d.Event)
		}
		got, err := st.LatestCoats("heron")
		require.NoError(t, err)
		want := model.latest()
		require.Len(t, got, len(want[1])+len(want[2]))
		for _, c := range got {
			require.Equal(t, want[len(c.Panels)][c.Material], c.Entry)
		}
		data, err := st.Snapshot()
		require.NoError(t, err)
		back, err := shop.Restore(data)
		require.NoError(t, err)
		again, err := back.LatestCoats("heron")
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}

// latest gives the entries by number of panels and material.
func (m *naive) latest() map[int]map[string]uint64 {
	found, times := map[int]map[string]uint64{1: {}, 2: {}}, map[uint64]time.Time{}
	for _, r := range m.records {
		e, ok := r.event.(shop.CoatRecorded)
		if !ok || r.undone {
			continue
		}
		times[r.entry] = e.At
		if had, ok := found[len(e.Panels)][e.Material]; !ok || !e.At.Before(times[had]) {
			found[len(e.Panels)][e.Material] = r.entry
		}
	}
	return found
}

// What is mixed with others is no coat, though no ratio names it yet.
func TestAHardenerIsNoCoat(t *testing.T) {
	t.Parallel()
	st := coats(t)
	put(t, st, shop.MaterialAdded{ID: "etch-activator", Name: "etch activator", Unit: "L"})
	put(t, st, shop.MaterialAdded{ID: "stone-guard", Name: "stone guard", Unit: "L"})
	put(t, st, shop.MaterialAdded{ID: "grease", Name: "grease", Unit: "kg"})
	for material, fine := range map[string]bool{"etch-activator": false, "stone-guard": true, "grease": false} {
		r := bonnet()
		r.Material = material
		_, err := st.DecideCoat("jonah", london(t), r)
		assert.Equal(t, fine, err == nil, material)
	}
}

// Wax has no times of its own and must not hide those of the paint below it.
func TestWaxHidesNoWetCoat(t *testing.T) {
	t.Parallel()
	st := coats(t)
	put(t, st, shop.CoatRecorded{Job: "osmere", Material: "high-build", Panels: []string{"bonnet"}, Coats: 1, At: tuesday.Add(-time.Hour)})
	put(t, st, shop.CoatRecorded{Job: "osmere", Material: "cavity-wax", Panels: []string{"sill"}, Coats: 1, At: tuesday})
	d, err := st.DecideTask("wren", london(t), shop.NewTask{Job: "osmere", Title: "block the bonnet", Stage: "paint"})
	says(t, st, "wren", d, err)
	d, err = st.DecideTaskStart("wren", london(t), shop.Progress{Job: "osmere", Task: "block the bonnet"})
	require.NoError(t, err)
	require.Len(t, d.Warnings, 1)
	assert.Contains(t, d.Warnings[0], "High-build primer on bonnet: not to be sanded before")
}
