package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func TestAPersonIsMadeKnown(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for name, c := range map[string]struct {
		by    string
		r     shop.NewPerson
		event shop.PersonAdded
		want  want
	}{
		"a new one":             {"wren", shop.NewPerson{Name: "Dag Olsen", Role: "Tradesperson", Trade: "trim"}, shop.PersonAdded{ID: "dag-olsen", Name: "Dag Olsen", Role: shop.Tradesperson, Trade: "trim"}, want{}},
		"with an id":            {"wren", shop.NewPerson{ID: "dag", Name: "Dag Olsen", Role: "lead", Chat: "U7"}, shop.PersonAdded{ID: "dag", Name: "Dag Olsen", Role: shop.Lead, Chat: "U7"}, want{}},
		"one known by name":     {"wren", shop.NewPerson{Name: "Jonah", Role: "tradesperson"}, shop.PersonAdded{ID: "jonah", Name: "Jonah", Role: shop.Tradesperson}, want{}},
		"one known by id":       {"wren", shop.NewPerson{ID: "idris", Chat: "U9"}, shop.PersonAdded{ID: "idris", Name: "Idris", Role: shop.Tradesperson, Trade: "metal", Chat: "U9"}, want{}},
		"nobody":                {"wren", shop.NewPerson{Role: "lead"}, shop.PersonAdded{}, want{shop.MissingField, "name", ""}},
		"an id with no name":    {"wren", shop.NewPerson{ID: "dag", Role: "lead"}, shop.PersonAdded{}, want{shop.MissingField, "name", ""}},
		"no role":               {"wren", shop.NewPerson{Name: "Dag"}, shop.PersonAdded{}, want{shop.MissingField, "role", ""}},
		"no such role":          {"wren", shop.NewPerson{Name: "Dag", Role: "boss"}, shop.PersonAdded{}, want{shop.OutOfRange, "role", "lead, tradesperson, apprentice"}},
		"a name with no letter": {"wren", shop.NewPerson{Name: "!!", Role: "lead"}, shop.PersonAdded{}, want{shop.OutOfRange, "id", "lower-case"}},
		"an id with a space":    {"wren", shop.NewPerson{ID: "dag o", Name: "Dag", Role: "lead"}, shop.PersonAdded{}, want{shop.OutOfRange, "id", "lower-case"}},
		"another's name":        {"wren", shop.NewPerson{ID: "dag", Name: "mabel", Role: "lead"}, shop.PersonAdded{}, want{shop.AlreadyExists, "name", "mabel"}},
		"known so":              {"wren", shop.NewPerson{Name: "Idris", Trade: "metal"}, shop.PersonAdded{}, want{shop.AlreadyDone, "", "Idris"}},
		"the last lead":         {"wren", shop.NewPerson{Name: "Wren", Role: "apprentice"}, shop.PersonAdded{}, want{shop.OutOfRange, "role", "Wren is the last one"}},
		"a tradesperson":        {"idris", shop.NewPerson{}, shop.PersonAdded{}, want{shop.NotAllowed, "", "lead"}},
		"a stranger":            {"bo", shop.NewPerson{}, shop.PersonAdded{}, want{shop.UnknownPerson, "", ""}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dec, err := d.DecidePerson(c.by, c.r)
			refusedAs(t, c.want, err)
			if c.want.reason == 0 {
				assert.Equal(t, c.event, dec.Event)
			}
		})
	}
}

func TestAPersonIsChanged(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	dec, err := d.DecidePerson("wren", shop.NewPerson{Name: "Mabel", Role: "lead", Chat: "U2"})
	assert.Equal(t, []string{"role tradesperson -> lead", "chat_user - -> U2"}, dec.Changes)
	d.as("wren")(dec, err)
	assert.Equal(t, shop.Lead, d.Role("mabel"))
	assert.Len(t, d.People(), 6, "nobody twice")
	_, err = d.DecidePerson("wren", shop.NewPerson{Name: "Idris", Chat: "U2"})
	refusedAs(t, want{shop.AlreadyExists, "chat_user", "U2"}, err)
	d.as("mabel")(d.DecidePerson("mabel", shop.NewPerson{Name: "Wren", Role: "apprentice"}))
	_, err = d.DecideProposal("wren", shop.NewExtra{})
	refusedAs(t, want{shop.NotAllowed, "", "tradesperson"}, err)
	dec, err = d.DecidePerson("mabel", shop.NewPerson{Name: "Dag", Role: "apprentice"})
	require.NoError(t, err)
	assert.Empty(t, dec.Changes)
}

func TestAChannelStandsForAJob(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	put(t, d.State, shop.ChannelAdded{ID: "bay-2", Job: "heron", Chat: "C2"})
	for name, c := range map[string]struct {
		by, channel, job string
		event            shop.ChannelAdded
		want             want
	}{
		"another job":    {"wren", "bay-2", "tern", shop.ChannelAdded{ID: "bay-2", Job: "tern", Chat: "C2"}, want{}},
		"none":           {"wren", "bay-2", "", shop.ChannelAdded{ID: "bay-2", Chat: "C2"}, want{}},
		"a new channel":  {"wren", "C0123", "tern", shop.ChannelAdded{ID: "C0123", Job: "tern"}, want{}},
		"so already":     {"wren", "bay-2", "heron", shop.ChannelAdded{}, want{shop.AlreadyDone, "", "bay-2 stands for heron"}},
		"none already":   {"wren", "stores", "", shop.ChannelAdded{}, want{shop.AlreadyDone, "", "stores stands for no job"}},
		"no channel":     {"wren", "", "heron", shop.ChannelAdded{}, want{shop.MissingField, "channel", ""}},
		"a person alone": {"wren", "dm", "heron", shop.ChannelAdded{}, want{shop.OutOfRange, "channel", "dm"}},
		"two words":      {"wren", "bay 5", "heron", shop.ChannelAdded{}, want{shop.OutOfRange, "channel", "bay 5"}},
		"no such job":    {"wren", "bay-2", "linnet", shop.ChannelAdded{}, want{shop.UnknownName, "job", "heron"}},
		"a tradesperson": {"idris", "", "", shop.ChannelAdded{}, want{shop.NotAllowed, "", "lead"}},
	} {
		t.Run(name, func(t *testing.T) {
			dec, err := d.DecideChannel(c.by, c.channel, c.job)
			refusedAs(t, c.want, err)
			if c.want.reason == 0 {
				assert.Equal(t, c.event, dec.Event)
			}
		})
	}
	d.as("wren")(d.DecideChannel("wren", "bay-2", "tern"))
	assert.Equal(t, "tern", d.JobOf("bay-2"))
	assert.Len(t, d.Channels(), 6)
}

func TestASupplierIsMadeKnownOnce(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	_, err := d.DecideSupplier("idris", "Coldharbour Glass")
	refusedAs(t, want{shop.NotAllowed, "", "lead"}, err)
	_, err = d.DecideSupplier("wren", " ")
	refusedAs(t, want{shop.MissingField, "name", ""}, err)
	d.as("wren")(d.DecideSupplier("wren", "Coldharbour Glass"))
	assert.Contains(t, d.Suppliers(), "Coldharbour Glass")
	_, err = d.DecideSupplier("wren", "coldharbour  glass")
	refusedAs(t, want{shop.AlreadyExists, "name", "Coldharbour Glass"}, err)
}

func mm(height, length, spacing float64) shop.NewPanelSize {
	return shop.NewPanelSize{Job: "heron", Panel: "door", Side: shop.Left, Height: &height, Length: &length, HingeSpacing: &spacing}
}

func TestWhatAPanelsSizeNeeds(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	area := func(panel string, m2 float64) shop.NewPanelSize { return shop.NewPanelSize{Panel: panel, Area: &m2} }
	with := func(r shop.NewPanelSize, change func(*shop.NewPanelSize)) shop.NewPanelSize {
		change(&r)
		return r
	}
	door := shop.DoorGeometrySet{Job: "heron", Panel: "door", Side: shop.Left, Height: 620, Length: 1080, HingeSpacing: 380, HingeEdge: shop.FrontEdge}
	tailgate := shop.DoorGeometrySet{Job: "osmere", Panel: "tailgate", Height: 800, Length: 1200, HingeSpacing: 900, HingeEdge: shop.TopEdge}
	for name, c := range map[string]struct {
		r     shop.NewPanelSize
		event shop.Event
		want  want
	}{
		"an area":              {area("bonnet", 1.4), shop.PanelAreaSet{Panel: "bonnet", M2: 1.4}, want{}},
		"of a sided panel":     {area("front wing", 0.8), shop.PanelAreaSet{Panel: "front wing", M2: 0.8}, want{}},
		"too small":            {area("bonnet", 0.009), nil, want{shop.OutOfRange, "area_m2", "0.01 to 30 m²"}},
		"cm² for m²":           {area("bonnet", 12500), nil, want{shop.OutOfRange, "area_m2", "0.01 to 30 m²"}},
		"no panel":             {area("", 1.4), nil, want{shop.MissingField, "panel", ""}},
		"no such panel":        {area("wingding", 1.4), nil, want{shop.UnknownName, "panel", "bonnet"}},
		"no size":              {shop.NewPanelSize{Panel: "bonnet"}, nil, want{shop.MissingField, "area_m2", ""}},
		"no such job":          {shop.NewPanelSize{Job: "linnet", Panel: "bonnet", Area: f64(1)}, nil, want{shop.UnknownName, "job", "heron"}},
		"a door":               {mm(620, 1080, 380), door, want{}},
		"hinged at the rear":   {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.HingeEdge = shop.RearEdge }), nil, want{}},
		"a tailgate":           {with(mm(800, 1200, 900), func(r *shop.NewPanelSize) { r.Job, r.Panel, r.Side = "osmere", "tailgate", shop.Centre }), tailgate, want{}},
		"a tailgate's front":   {with(mm(800, 1200, 900), func(r *shop.NewPanelSize) { r.Panel, r.HingeEdge = "tailgate", shop.FrontEdge }), nil, want{shop.OutOfRange, "hinge_edge", "top, bottom"}},
		"a door of no side":    {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.Side = 0 }), nil, want{shop.MissingField, "side", ""}},
		"a door of no job":     {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.Job = "" }), nil, want{shop.MissingField, "job", ""}},
		"no height":            {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.Height = nil }), nil, want{shop.MissingField, "height_mm", ""}},
		"no length":            {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.Length = nil }), nil, want{shop.MissingField, "length_mm", ""}},
		"no hinges":            {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.HingeSpacing = nil }), nil, want{shop.MissingField, "hinge_spacing_mm", ""}},
		"cm for mm":            {mm(62, 108, 38), nil, want{shop.OutOfRange, "height_mm", "100 to 4000 mm"}},
		"a slip of a digit":    {mm(620, 10800, 380), nil, want{shop.OutOfRange, "length_mm", "100 to 4000 mm"}},
		"hinges past the edge": {mm(620, 1080, 621), nil, want{shop.OutOfRange, "hinge_spacing_mm", "77.5 to 620 mm"}},
		"hinges side by side":  {mm(620, 1080, 77), nil, want{shop.OutOfRange, "hinge_spacing_mm", "77.5 to 620 mm"}},
		"no hinges there":      {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.Panel = "sill" }), nil, want{shop.OutOfRange, "panel", "door, bonnet, boot lid, tailgate"}},
		"both at once":         {with(mm(620, 1080, 380), func(r *shop.NewPanelSize) { r.Area = f64(1) }), nil, want{shop.OutOfRange, "area_m2", "one at a time"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dec, err := d.DecidePanelSize("wren", c.r)
			refusedAs(t, c.want, err)
			if c.event != nil {
				assert.Equal(t, c.event, dec.Event)
			}
		})
	}
	_, err := d.DecidePanelSize("idris", shop.NewPanelSize{})
	refusedAs(t, want{shop.NotAllowed, "", "lead"}, err)
}

func TestTheLastSizeCounts(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for _, m2 := range []float64{1.5, 1.4} {
		d.as("wren")(d.DecidePanelSize("wren", shop.NewPanelSize{Panel: "bonnet", Area: &m2}))
	}
	d.as("wren")(d.DecidePanelSize("wren", shop.NewPanelSize{Job: "tern", Panel: "bonnet", Area: f64(0.9)}))
	for job, m2 := range map[string]float64{"": 1.4, "heron": 1.4, "tern": 0.9} {
		areas, err := d.Area(job, []string{"bonnet"})
		require.NoError(t, err)
		assert.Equal(t, []float64{m2}, areas, job)
	}
	d.as("wren")(d.DecidePanelSize("wren", mm(625, 1080, 390)))
	h, err := d.Hung(shop.Where{Job: "heron", Panel: "door", Side: shop.Left})
	require.NoError(t, err)
	assert.InDelta(t, 390, h.Size.HingeSpacing, 0)
	h, err = d.Hung(shop.Where{Job: "heron", Panel: "door", Side: shop.Right})
	require.NoError(t, err)
	assert.InDelta(t, 380, h.Size.HingeSpacing, 0, "the other side is as it was")
	status, err := d.Status("heron", d.now)
	require.NoError(t, err)
	assert.Len(t, status.Doors, 2, "each door once")
	_, err = d.DecideUndo("wren", d.Seq())
	refusedAs(t, want{shop.NothingToChange, "", "say it anew"}, err)
}

func TestWhoWorksPartTimeStillDoes(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	was := shop.PersonAdded{ID: "bo", Name: "Bo", Role: shop.Apprentice, HoursPerDay: 4, DaysOff: []shop.Day{5}}
	put(t, d.State, was)
	dec, err := d.DecidePerson("wren", shop.NewPerson{ID: "bo", Role: "tradesperson"})
	require.NoError(t, err)
	was.Role = shop.Tradesperson
	assert.Equal(t, was, dec.Event)
}
