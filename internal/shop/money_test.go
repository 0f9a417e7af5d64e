package shop_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
)

// Worked by hand from the demo shop: 52 an hour; heron's metal is 180 hours
// estimated and 10 of the agreed extra, 96.5 logged; its parts cost 410 and 96.
func TestWhereTheMoneyOfAJobStands(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	m, err := d.Money("heron")
	require.NoError(t, err)
	byStage := map[shop.Stage][3]float64{}
	for _, l := range m.Stages {
		byStage[l.Stage] = [3]float64{l.Agreed, l.Spent, l.ToCome}
	}
	assert.Equal(t, map[shop.Stage][3]float64{
		shop.Strip:      {60 * 52, 71 * 52, 0}, // overspent: nothing to come
		shop.Metal:      {190 * 52, 96.5 * 52, 93.5 * 52},
		shop.Paint:      {160 * 52, 0, 160 * 52},
		shop.Mechanical: {120 * 52, 0, 120 * 52},
		shop.Trim:       {90 * 52, 0, 90 * 52},
		shop.Assembly:   {80 * 52, 0, 80 * 52},
	}, byStage)
	assert.InDelta(t, 700*52, m.Agreed, 0)
	assert.InDelta(t, 167.5*52, m.Spent, 0)
	assert.InDelta(t, 506, m.OnOrder, 0, "neither has come")
	assert.InDelta(t, 543.5*52, m.ToCome, 0)
	assert.Zero(t, m.Parts)
	assert.InDelta(t, 37478, m.Heading, 0, "11 hours of strip and the parts are over the 36,400 agreed")
	assert.InDelta(t, 506, m.Unagreed, 0, "what waits is not agreed")
	assert.Zero(t, m.Goods)
	assert.Len(t, m.Waiting, 1)

	d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Number: count(2), Agreed: yes()}))
	d.as("wren")(d.DecideProposal("wren", shop.NewExtra{Job: "heron", Text: "new carpets", Parts: f64(600)}))
	m, err = d.Money("heron")
	require.NoError(t, err)
	assert.InDelta(t, 410, m.Goods, 0, "what waits does not count")
	assert.InDelta(t, 722*52+410, m.Agreed, 0)
	assert.InDelta(t, 565.5*52, m.ToCome, 0, "the wing panel on order is the extra's")
	assert.InDelta(t, 96, m.Unagreed, 0, "the door seals are nobody's")
	d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Number: count(3), Agreed: yes()}))
	m, err = d.Money("heron")
	require.NoError(t, err)
	assert.InDelta(t, 565.5*52+600, m.ToCome, 0, "door seals are no carpets")
	assert.InDelta(t, 167.5*52+506+565.5*52+600, m.Heading, 0)

	put(t, d.State, shop.PartArrived{Number: 1, Job: "heron", Quantity: 1})
	m, err = d.Money("heron")
	require.NoError(t, err)
	assert.Equal(t, []float64{410, 96, 167.5*52 + 410}, []float64{m.Parts, m.OnOrder, m.Spent})
	_, err = d.Money("linnet")
	refusedAs(t, want{shop.UnknownName, "job", "heron"}, err)
}

// Two stages of a job with no estimate: seven hours of an agreed extra in the one it
// is in, at 52; 51 hours logged there and three in another.
func TestMoneyWithNoEstimate(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	put(t, d.State, shop.JobCreated{ID: "dunnock", Stage: shop.Strip})
	for _, h := range []shop.HoursLogged{
		{Job: "dunnock", People: []string{"jonah"}, Hours: shop.MicroOf(51), Stage: shop.Strip}, {Job: "dunnock", People: []string{"mabel"}, Hours: shop.MicroOf(3), Stage: shop.Paint},
	} {
		put(t, d.State, h)
	}
	d.as("wren")(d.DecideProposal("wren", shop.NewExtra{Job: "dunnock", Text: "strip the doors too", Hours: f64(7), Parts: f64(20)}))
	d.as("wren")(d.DecideDecision("wren", shop.NewDecision{Job: "dunnock", Agreed: yes()}))
	m, err := d.Money("dunnock")
	require.NoError(t, err)
	assert.Equal(t, []float64{384, 54 * 52, 384}, []float64{m.Agreed, m.Spent, m.ToCome})
	require.Len(t, m.Stages, 2)
	assert.Equal(t, []float64{364, 2652, 364}, []float64{m.Stages[0].Agreed, m.Stages[0].Spent, m.Stages[0].ToCome})
	assert.Equal(t, []float64{0, 156, 0}, []float64{m.Stages[1].Agreed, m.Stages[1].Spent, m.Stages[1].ToCome})
}

func TestThousandsAreSetApart(t *testing.T) {
	t.Parallel()
	for v, want := range map[float64]string{0: "0", 38: "38", 999: "999", 1000: "1,000", 1554.5: "1,554.5", -1554: "-1,554", -410: "-410", 1234567.25: "1,234,567.25"} {
		assert.Equal(t, want, shop.Coins(v))
	}
}

func TestAPartThatWentBackCostsNothing(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	put(t, d.State, shop.PartOrdered{Number: 5, Job: "heron", Part: "badge", Quantity: 1, State: "ordered"})
	m, err := d.Money("heron")
	require.NoError(t, err)
	assert.Equal(t, 1, m.Unpriced)
	put(t, d.State, shop.PartArrived{Number: 1, Job: "heron", Quantity: 1})
	put(t, d.State, shop.PartReturned{Number: 1, Job: "heron", Why: "creased"})
	m, err = d.Money("heron")
	require.NoError(t, err)
	assert.Equal(t, []float64{0, 96}, []float64{m.Parts, m.OnOrder})
}

// Two of three lamps at 100 in all came: 66.67 is spent, 33.33 on order. An extra's
// goods are to come less its own parts; once its task is done, none are.
func TestPartsOfAnExtra(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	put(t, d.State, shop.JobCreated{ID: "dunnock", Stage: shop.Trim})
	put(t, d.State, shop.ExtraProposed{
		Number: 11, Job: "dunnock", Text: "fit reading lamps", Hours: 2, Parts: 150, Materials: 12.5, Rate: 52, Stage: shop.Trim, State: shop.Agreed,
	})
	put(t, d.State, shop.TaskAdded{Number: 21, Job: "dunnock", Title: "fit reading lamps", Stage: shop.Trim, Low: 2, Likely: 2, High: 2, State: shop.Waiting})
	put(t, d.State, shop.PartOrdered{Number: 11, Job: "dunnock", Part: "reading lamp", Quantity: 3, Price: 100, State: shop.Ordered})
	put(t, d.State, shop.PartArrived{Number: 11, Job: "dunnock", Quantity: 2})
	put(t, d.State, shop.PartOrdered{Number: 12, Job: "dunnock", Part: "reading mirror", Quantity: 1, Price: 30, State: shop.Ordered})
	money := func() []float64 {
		m, err := d.Money("dunnock")
		require.NoError(t, err)
		assert.False(t, m.Estimated)
		return []float64{m.Agreed, m.Parts, m.OnOrder, m.Unagreed, m.ToCome}
	}
	assert.Equal(t, []float64{104 + 162.5, 66.67, 63.33, 30, 104 + 50 + 12.5}, money())
	put(t, d.State, shop.TaskFinished{Number: 21, Job: "dunnock", Who: "priya"})
	assert.Equal(t, []float64{266.5, 66.67, 63.33, 30, 0}, money())
}

// 0.35 hours at 52.1 are 18.235, which binary fractions have as a little less.
func TestHalfAPennyIsNotLost(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	put(t, d.State, shop.ShopOpened{Name: "Millrace Coachworks", Currency: "GBP", LabourRate: 52.1})
	put(t, d.State, shop.JobCreated{ID: "dunnock", Stage: shop.Strip})
	put(t, d.State, shop.HoursLogged{Job: "dunnock", People: []string{"jonah"}, Hours: shop.MicroOf(0.35), Stage: shop.Strip})
	m, err := d.Money("dunnock")
	require.NoError(t, err)
	assert.InDelta(t, 18.24, m.Spent, 0)
}

// extraNow is an extra of the naive model as it stands.
type extraNow struct {
	state string
	price float64
}

// extras works the extras out from scratch: the last standing decision counts.
func (m *naive) extras(rate float64) map[int]extraNow {
	now := map[int]extraNow{}
	for _, r := range m.records {
		if e, ok := r.event.(shop.ExtraProposed); ok && !r.undone {
			now[e.Number] = extraNow{"proposed", math.Round((e.Hours*rate+e.Parts)*100) / 100}
		}
	}
	for _, r := range m.records {
		e, ok := r.event.(shop.ExtraDecided)
		if x, there := now[e.Number]; ok && there && !r.undone {
			x.state = map[bool]string{true: "agreed", false: "declined"}[e.Agreed]
			now[e.Number] = x
		}
	}
	return now
}

// money adds up what is agreed and spent on a job.
func (m *naive) money(job string, rate float64) (agreed, spent float64) {
	now := m.extras(rate)
	for _, r := range m.records {
		switch e := r.event.(type) {
		case shop.ExtraProposed:
			if !r.undone && e.Job == job && now[e.Number].state == "agreed" {
				agreed += now[e.Number].price
			}
		case shop.HoursLogged:
			if !r.undone && e.Job == job {
				spent += e.Hours.Float() * float64(len(e.People)) * rate
			}
		}
	}
	return agreed, spent
}

// haggle draws one request about an extra and decides it.
func haggle(t *rapid.T, st *shop.State, by string) (shop.Decision, error) {
	job := aJob.Draw(t, "job")
	n := rapid.IntRange(1, 5).Draw(t, "number")
	agreed := rapid.Bool().Draw(t, "agreed")
	entry := rapid.Uint64Range(begun, st.Seq()+1).Draw(t, "entry")
	if entry == begun {
		entry = 0
	}
	cost := amount.Draw(t, "cost")
	switch rapid.SampledFrom([]string{
		"propose", "propose", "decide", "decide", "decide", "hours", "reprice", "move", "rejudge", "readdress", "undo",
	}).Draw(t, "what") {
	case "propose":
		return st.DecideProposal(by, shop.NewExtra{Job: job, Text: "more", Hours: cost, Parts: amount.Draw(t, "parts")})
	case "decide":
		return st.DecideDecision(by, shop.NewDecision{Number: &n, Agreed: &agreed})
	case "hours":
		return st.DecideHours(by, tuesday, shop.NewHours{Job: job, Hours: cost, People: []string{"mabel", "jonah"}})
	case "reprice":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Hours: cost})
	case "move":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Job: job})
	case "rejudge":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Agreed: &agreed})
	case "readdress":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Extra: &n})
	default:
		return st.DecideUndo(by, entry)
	}
}

// Whatever is proposed, decided, mended and taken back, the states of extras and
// the money are those that come of working them out from scratch, and a snapshot
// keeps them.
func TestMoneyIsWhatComesOfWorkingItOutFromScratch(t *testing.T) {
	t.Parallel()
	const rate = 52
	rapid.Check(t, func(t *rapid.T) {
		st, model := small(t), &naive{}
		told(t, st, tuesday, shop.ShopOpened{Name: "Millrace Coachworks", Currency: "GBP", LabourRate: rate})
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			by := rapid.SampledFrom([]string{"wren", "wren", "mabel"}).Draw(t, "by")
			before, err := st.Snapshot()
			require.NoError(t, err)
			d, err := haggle(t, st, by)
			after, serr := st.Snapshot()
			require.NoError(t, serr)
			require.Equal(t, before, after, "deciding changes nothing")
			var refusal *shop.Refusal
			if errors.As(err, &refusal) {
				continue
			}
			require.NoError(t, err)
			meta := shop.Meta{Seq: st.Seq() + 1, Person: by, At: tuesday.Add(time.Duration(st.Seq()) * time.Minute)}
			_, err = st.Apply(meta, d.Event)
			require.NoError(t, err)
			model.apply(meta.Seq, by, d.Event)
			sameMoney(t, st, model, rate)
		}
		data, err := st.Snapshot()
		require.NoError(t, err)
		back, err := shop.Restore(data)
		require.NoError(t, err)
		sameMoney(t, back, model, rate)
	})
}

func sameMoney(t *rapid.T, st *shop.State, model *naive, rate float64) {
	extras, err := st.Extras(shop.ExtraFilter{})
	require.NoError(t, err)
	got := map[int]extraNow{}
	for _, x := range extras {
		got[x.Number] = extraNow{x.State, x.Price}
	}
	require.Equal(t, model.extras(rate), got)
	for _, job := range []string{"heron", "tern"} {
		m, err := st.Money(job)
		require.NoError(t, err)
		agreed, spent := model.money(job, rate)
		require.InDelta(t, agreed, m.Agreed, 0.005, "agreed on %s", job)
		require.InDelta(t, agreed, st.AgreedExtras(job), 0.005)
		require.InDelta(t, spent, m.Spent, 0.005, "spent on %s", job)
	}
}
