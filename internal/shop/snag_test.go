package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/shop"
)

func TestWhatASnagNeeds(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for name, c := range map[string]struct {
		by   string
		r    shop.NewSnag
		want want
	}{
		"an apprentice reports": {"jonah", shop.NewSnag{Job: "tern", Text: "passenger window rattles"}, want{}},
		"no job":                {"jonah", shop.NewSnag{Text: "it rattles"}, want{shop.MissingField, "job", ""}},
		"no text":               {"jonah", shop.NewSnag{Job: "tern"}, want{shop.MissingField, "text", ""}},
		"no such job":           {"jonah", shop.NewSnag{Job: "linnet", Text: "it rattles"}, want{shop.UnknownName, "job", "tern"}},
		"open already":          {"jonah", shop.NewSnag{Job: "pilot", Text: "Clutch pedal squeaks."}, want{shop.AlreadyExists, "text", "(snag 1)"}},
		"a stranger":            {"bo", shop.NewSnag{}, want{shop.UnknownPerson, "", ""}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := d.DecideSnag(c.by, c.r)
			refusedAs(t, c.want, err)
		})
	}
}

// What keeps people safe on the road gets a caution. Common practice, no source.
func TestASnagThatCanHurtHasACaution(t *testing.T) {
	t.Parallel()
	for text, cautious := range map[string]bool{
		"brakes pull to the left":                     true,
		"Handbrake will not hold":                     true,
		"steering wanders at 50":                      true,
		"a wheel bearing rumbles":                     true,
		"driver's seat belt will not retract":         true,
		"smells of fuel when parked":                  true,
		"rear suspension knocks":                      true,
		"left headlight flickers":                     true,
		"indicators flash too fast":                   true,
		"n/s tail lamp out":                           true,
		"rear lights dim with the brakes on":          true,
		"stop light stays on":                         true,
		"hazards will not go off":                     true,
		"petrol weeps from the tank":                  true,
		"driver's seat rocks on its runners":          true,
		"damper leaks":                                true,
		"boot lamp stays on":                          false,
		"heated rear screen switch does not light up": false,
		"fuel gauge reads half when full":             false,
		"courtesy light stays on":                     false,
		"fan belt squeals":                            false,
		"wheel arch liner loose":                      false,
		"seat piping frayed":                          false,
		"horn push sticks":                            false,
		"front tyres rub on lock":                     true,
		"tyre rubs on the arch":                       true,
		"wheel nut loose, arch liner off":             true,
		"seat belt will not lock when you drive off":  true,
		"belt webbing frayed by the wiring":           true,
		"passenger window rattles":                    false,
		"glovebox lid will not stay shut":             false,
	} {
		assert.Equal(t, cautious, shop.SnagCaution(text) != "", text)
	}
	assert.Contains(t, shop.SnagCaution("no brakes"), "not drive it until it is put right")
	assert.Contains(t, shop.SnagCaution("petrol weeps from the tank"), "No naked flame")
}

// What is put right is checked by its subject. Common practice, no source.
func TestASnagPutRightIsChecked(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]struct{ has, not []string }{
		"fuel pipe drips at the union":        {[]string{"Fuel: run it and look for leaks", "no naked flame", "extinguisher"}, []string{"Brakes"}},
		"brake fluid on the inside of a drum": {[]string{"Brakes: look at every joint", "off the road first"}, []string{"Fuel", "Wheels"}},
		"a wheel is loose":                    {[]string{"Wheels: tighten to the maker's figure"}, nil},
		"steering wheel has play":             {[]string{"Steering: every fastening"}, []string{"Wheels:"}},
		"seat belt sticks":                    {[]string{"Belts and seats", "licensed inspector"}, nil},
		"brake light stays on":                {[]string{"Lamps: try every one"}, []string{"Brakes:"}},
		"brake pipe and a tail lamp rubbed":   {[]string{"Lamps:", "Brakes:"}, nil},
		"wiring to the pump runs hot":         {[]string{"Wiring: a fuse no bigger"}, nil},
		"clutch master cylinder wet":          {nil, []string{"Brakes"}},
	} {
		got := shop.MendedCaution(text)
		for _, has := range want.has {
			assert.Contains(t, got, has, text)
			assert.Contains(t, got, "The maker's book comes first", text)
		}
		for _, not := range want.not {
			assert.NotContains(t, got, not, text)
		}
		assert.Equal(t, shop.SnagCaution(text) == "", got == "", text)
	}
	assert.Empty(t, shop.MendedCaution("passenger window rattles"))
}

func TestWhichSnagIsMeant(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	rattle := d.as("jonah")(d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "passenger window rattles"}))
	d.as("jonah")(d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "rear window leaks"}))
	d.as("jonah")(d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "rear wiper leaks washer water"}))
	shut := d.as("mabel")(d.DecideSnagClosed("mabel", shop.SnagClosing{Job: "tern", Text: "rattling passenger window"}))
	first, ok := d.Snag(2)
	require.True(t, ok)
	assert.Equal(t, shop.Snag{
		SnagAdded: shop.SnagAdded{Number: 2, Job: "tern", Text: "passenger window rattles", Closed: true},
		Said:      shop.Said{Entry: rattle, By: "jonah", At: tuesday}, Mended: shop.Said{Entry: shut, By: "mabel", At: tuesday},
		Entries: []uint64{rattle, shut},
	}, first)
	assert.Equal(t, 2, d.OpenSnags("tern"))

	for name, c := range map[string]struct {
		r      shop.SnagClosing
		number int
		want   want
	}{
		"by number":                {shop.SnagClosing{Number: count(3)}, 3, want{}},
		"by number and job":        {shop.SnagClosing{Job: "tern", Number: count(3)}, 3, want{}},
		"on another job":           {shop.SnagClosing{Job: "heron", Number: count(3)}, 0, want{shop.NotFound, "snag", "3 on heron (it is on tern)"}},
		"on no job":                {shop.SnagClosing{Job: "linnet", Number: count(3)}, 0, want{shop.UnknownName, "job", ""}},
		"no such number":           {shop.SnagClosing{Number: count(9)}, 0, want{shop.NotFound, "snag", "9"}},
		"shut already":             {shop.SnagClosing{Number: count(2)}, 0, want{shop.AlreadyDone, "", "snag 2"}},
		"by its words":             {shop.SnagClosing{Job: "tern", Text: "the wiper leak"}, 4, want{}},
		"its words, shut":          {shop.SnagClosing{Job: "tern", Text: "passenger window rattle"}, 0, want{shop.AlreadyDone, "", "snag 2"}},
		"an open one before":       {shop.SnagClosing{Job: "tern", Text: "the window"}, 3, want{}},
		"two that are open":        {shop.SnagClosing{Job: "tern", Text: "the rear leak"}, 0, want{shop.Ambiguous, "snag", "3,4"}},
		"no words fit":             {shop.SnagClosing{Job: "tern", Text: "the horn"}, 0, want{shop.NotFound, "snag", "horn"}},
		"the one that is open":     {shop.SnagClosing{Job: "pilot"}, 1, want{}},
		"one of two that are open": {shop.SnagClosing{Job: "tern"}, 0, want{shop.Ambiguous, "snag", "3,4"}},
		"none on the job":          {shop.SnagClosing{Job: "heron"}, 0, want{shop.NotFound, "snag", "heron"}},
		"nothing said":             {shop.SnagClosing{}, 0, want{shop.MissingField, "job", ""}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dec, err := d.DecideSnagClosed("jonah", c.r)
			refusedAs(t, c.want, err)
			if c.number > 0 {
				closed, _ := dec.Event.(shop.SnagClosed)
				assert.Equal(t, c.number, closed.Number)
			}
		})
	}
	_, err := d.DecideSnagClosed("bo", shop.SnagClosing{})
	refusedAs(t, want{shop.UnknownPerson, "", ""}, err)
}

func TestSnagsAreListedByWhatBecameOfThem(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	d.as("jonah")(d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "rear window leaks"}))
	d.as("jonah")(d.DecideSnagClosed("jonah", shop.SnagClosing{Job: "pilot"}))
	numbers := func(f shop.SnagFilter) []int {
		snags, err := d.Snags(f)
		require.NoError(t, err)
		var ns []int
		for _, n := range snags {
			ns = append(ns, n.Number)
		}
		return ns
	}
	assert.Equal(t, []int{1, 2}, numbers(shop.SnagFilter{}))
	assert.Equal(t, []int{2}, numbers(shop.SnagFilter{Open: true}))
	assert.Equal(t, []int{1}, numbers(shop.SnagFilter{Closed: true}))
	assert.Equal(t, []int{2}, numbers(shop.SnagFilter{Job: "tern"}))
	_, err := d.Snags(shop.SnagFilter{Job: "linnet"})
	refusedAs(t, want{shop.UnknownName, "job", "tern"}, err)
	for job, want := range map[string][]string{"pilot": nil, "tern": {"snag 2: rear window leaks"}} {
		status, err := d.Status(job, d.now)
		require.NoError(t, err)
		assert.Equal(t, want, status.Snags)
	}
}

func TestASnagIsMendedAndTakenBack(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	added := d.as("jonah")(d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "rear window leaks"}))
	dec := d.change("jonah", added, shop.Changes{Text: "rear screen leaks", Job: "heron"})
	assert.Equal(t, []string{"job tern -> heron", "text rear window leaks -> rear screen leaks"}, dec.Changes)
	assert.Equal(t, 1, d.OpenSnags("heron"))
	assert.Zero(t, d.OpenSnags("tern"))

	shut := d.as("jonah")(d.DecideSnagClosed("jonah", shop.SnagClosing{Number: count(2)}))
	dec = d.change("jonah", shut, shop.Changes{Snag: count(1)})
	assert.Equal(t, []string{"snag 2 -> 1"}, dec.Changes)
	assert.Equal(t, 1, d.OpenSnags("heron"))
	assert.Zero(t, d.OpenSnags("pilot"))
	_, err := d.DecideAmend("jonah", d.now, shut, shop.Changes{Snag: count(7)})
	refusedAs(t, want{shop.NotFound, "snag", "7"}, err)

	d.as("jonah")(d.DecideUndo("jonah", shut))
	assert.Equal(t, 1, d.OpenSnags("pilot"))
	d.as("jonah")(d.DecideSnagClosed("jonah", shop.SnagClosing{Number: count(2)}))
	_, err = d.DecideUndo("jonah", added)
	refusedAs(t, want{shop.InUse, "", "snag 2"}, err)
	next := d.as("jonah")(d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "horn is weak"}))
	d.as("jonah")(d.DecideUndo("jonah", next))
	dec, err = d.DecideSnag("jonah", shop.NewSnag{Job: "tern", Text: "horn is weak"})
	require.NoError(t, err)
	assert.Equal(t, shop.SnagAdded{Number: 4, Job: "tern", Text: "horn is weak"}, dec.Event, "a number is given once")
}
