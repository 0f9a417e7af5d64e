package shop_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
)

var tuesday = time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)

// begun is the last entry of the small shop's beginning.
const begun = 8

// small is a shop with two materials, two jobs and three people.
func small(t require.TestingT) *shop.State {
	st := shop.New()
	for i, e := range []shop.Event{
		shop.ShopOpened{Name: "Millrace Coachworks"},
		shop.PersonAdded{ID: "wren", Name: "Wren", Role: shop.Lead},
		shop.PersonAdded{ID: "mabel", Name: "Mabel", Role: shop.Tradesperson},
		shop.PersonAdded{ID: "jonah", Name: "Jonah", Role: shop.Apprentice},
		shop.JobCreated{ID: "heron", Stage: shop.Metal},
		shop.JobCreated{ID: "tern", Stage: shop.Strip},
		shop.MaterialAdded{ID: "clear", Name: "clearcoat", Unit: "L", Pack: shop.MicroOf(5), OnHand: shop.MicroOf(6)},
		shop.MaterialAdded{ID: "wire", Name: "mig wire", Unit: "kg", Pack: shop.MicroOf(5), OnHand: shop.MicroOf(3)},
	} {
		_, err := st.Apply(shop.Meta{Seq: uint64(i) + 1, At: tuesday}, e)
		require.NoError(t, err)
	}
	return st
}

// noted is one record of the naive model: what it says now, and whether it stands.
type noted struct {
	entry  uint64
	by     string
	event  shop.Event
	undone bool
}

// naive keeps everything and works every figure out from scratch.
type naive struct{ records []noted }

// shelf is what there is: the opening count, then each standing movement in the
// order of the records, whenever it was corrected.
func (m *naive) shelf(material string, opening shop.Micro) shop.Micro {
	there := opening
	for _, r := range m.records {
		e, ok := r.event.(shop.StockMoved)
		if !ok || r.undone || e.Material != material {
			continue
		}
		switch e.Kind {
		case shop.Delivery:
			there += e.Amount
		case shop.Count:
			there = e.Amount
		default:
			there -= e.Amount
		}
	}
	return there
}

func (m *naive) hours(job string, stage shop.Stage) shop.Micro {
	var sum shop.Micro
	for _, r := range m.records {
		if e, ok := r.event.(shop.HoursLogged); ok && !r.undone && e.Job == job && e.Stage == stage {
			sum += e.Hours * shop.Micro(len(e.People))
		}
	}
	return sum
}

func (m *naive) open(job string) int {
	n := 0
	for _, r := range m.records {
		f, ok := r.event.(shop.FindRecorded)
		if !ok || r.undone || f.Job != job {
			continue
		}
		closed := slices.ContainsFunc(m.records, func(c noted) bool {
			e, ok := c.event.(shop.FindClosed)
			return ok && !c.undone && e.Number == f.Number
		})
		if !closed {
			n++
		}
	}
	return n
}

// book is the value in force: the last standing one of that name.
func (m *naive) book(job, fastener string) float64 {
	v := 0.0
	for _, r := range m.records {
		if e, ok := r.event.(shop.TorqueSet); ok && !r.undone && e.Job == job && e.Fastener == fastener {
			v = e.Torque
		}
	}
	return v
}

func (m *naive) apply(entry uint64, by string, e shop.Event) {
	switch e := e.(type) {
	case shop.Amended:
		for i := range m.records {
			if m.records[i].entry == e.Entry {
				m.records[i].event = e.Now
			}
		}
	case shop.Undone:
		for i := range m.records {
			if m.records[i].entry == e.Entry {
				m.records[i].undone = true
			}
		}
	default:
		m.records = append(m.records, noted{entry: entry, by: by, event: e})
	}
}

var (
	someone  = rapid.SampledFrom([]string{"wren", "mabel", "jonah"})
	material = rapid.SampledFrom([]string{"clear", "wire"})
	aJob     = rapid.SampledFrom([]string{"heron", "tern"})
	amount   = rapid.Map(rapid.IntRange(1, 80), func(n int) *float64 { v := float64(n) / 10; return &v })
	bolt     = rapid.SampledFrom([]string{"wheel nut", "sump plug"})
)

// decide draws one request and decides it.
func decide(t *rapid.T, st *shop.State, by string, last uint64) (shop.Decision, error) {
	m := shop.Move{Material: material.Draw(t, "material"), Amount: amount.Draw(t, "amount")}
	entry := rapid.Uint64Range(begun, last+1).Draw(t, "entry")
	if entry == begun {
		entry = 0 // their own last one
	}
	switch what := rapid.SampledFrom([]string{
		"use", "use", "delivery", "count", "waste", "hours", "find", "close", "book", "amend amount", "amend material",
		"amend hours", "amend job", "amend", "undo", "undo",
	}).Draw(t, "what"); what {
	case "use":
		m.Kind, m.Job = shop.Use, aJob.Draw(t, "job")
		return st.DecideMove(by, tuesday, m)
	case "delivery":
		m.Kind, m.Batch = shop.Delivery, rapid.SampledFrom([]string{"", "4471"}).Draw(t, "batch")
		return st.DecideMove(by, tuesday, m)
	case "count":
		m.Kind = shop.Count
		return st.DecideMove(by, tuesday, m)
	case "waste":
		m.Kind, m.Why = shop.Waste, rapid.SampledFrom([]string{"", "went off"}).Draw(t, "why")
		return st.DecideMove(by, tuesday, m)
	case "hours":
		return st.DecideHours(by, tuesday, shop.NewHours{
			Job: aJob.Draw(t, "job"), Hours: amount.Draw(t, "hours"), People: rapid.SampledFrom([][]string{nil, {"mabel", "jonah"}}).Draw(t, "people"),
			Work: rapid.SampledFrom([]string{"", "paint"}).Draw(t, "work"),
		})
	case "find":
		return st.DecideFind(by, shop.NewFind{Job: aJob.Draw(t, "job"), Panel: "sill", Side: shop.Left, Kind: shop.Hole})
	case "close":
		n := rapid.IntRange(1, 6).Draw(t, "number")
		return st.DecideClosing(by, shop.Closing{Number: &n})
	case "book":
		return st.DecideTorqueSet(by, shop.NewTorque{Job: aJob.Draw(t, "job"), Fastener: bolt.Draw(t, "fastener"), Torque: amount.Draw(t, "torque")})
	case "amend amount":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Amount: m.Amount})
	case "amend material":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Material: m.Material})
	case "amend hours":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Hours: m.Amount, Day: "2026-03-09"})
	case "amend job":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Job: aJob.Draw(t, "job")})
	case "amend":
		return st.DecideAmend(by, tuesday, entry, shop.Changes{Torque: m.Amount, Fastener: bolt.Draw(t, "fastener")})
	default:
		return st.DecideUndo(by, entry)
	}
}

// Whatever is recorded, corrected and taken back in whatever order, every figure
// is the one that comes of working it out from scratch; a refusal and a dry run
// change nothing; and a snapshot is the state.
func TestFiguresAreThoseWorkedOutFromScratch(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		st, model := small(t), &naive{}
		var log []struct {
			meta  shop.Meta
			event shop.Event
		}
		for range rapid.IntRange(1, 60).Draw(t, "steps") {
			before, err := st.Snapshot()
			require.NoError(t, err)
			by := someone.Draw(t, "by")
			d, err := decide(t, st, by, st.Seq())
			after, serr := st.Snapshot()
			require.NoError(t, serr)
			require.Equal(t, before, after, "deciding changes nothing")
			var refusal *shop.Refusal
			if errors.As(err, &refusal) {
				continue
			}
			require.NoError(t, err)
			if e, ok := d.Event.(shop.StockMoved); ok && (e.Kind == shop.Use || e.Kind == shop.Waste) {
				opening := map[string]float64{"clear": 6, "wire": 3}[e.Material]
				require.LessOrEqual(t, e.Amount, model.shelf(e.Material, shop.MicroOf(opening)), "no more goes than there is")
			}
			meta := shop.Meta{Seq: st.Seq() + 1, Person: by, At: tuesday.Add(time.Duration(st.Seq()) * time.Minute)}
			change, err := st.Apply(meta, d.Event)
			require.NoError(t, err)
			st.Revert(change)
			after, err = st.Snapshot()
			require.NoError(t, err)
			require.Equal(t, before, after, "a dry run changes nothing")
			_, err = st.Apply(meta, d.Event)
			require.NoError(t, err)
			log = append(log, struct {
				meta  shop.Meta
				event shop.Event
			}{meta, d.Event})
			model.apply(meta.Seq, by, d.Event)
			compare(t, st, model)
		}
		replayed := small(t)
		half := len(log) / 2
		for i, l := range log {
			if i == half {
				data, err := replayed.Snapshot()
				require.NoError(t, err)
				replayed, err = shop.Restore(data)
				require.NoError(t, err)
			}
			_, err := replayed.Apply(l.meta, l.event)
			require.NoError(t, err)
		}
		same, how := shop.Equal(st, replayed)
		require.True(t, same, "a replay over a snapshot gives the same state: %s", how)
		compare(t, replayed, model)
	})
}

func compare(t *rapid.T, st *shop.State, model *naive) {
	for id, opening := range map[string]float64{"clear": 6, "wire": 3} {
		stock, err := st.Stock(id)
		require.NoError(t, err)
		require.Equal(t, model.shelf(id, shop.MicroOf(opening)), stock.Now, "shelf of %s", id)
		shelf, _, _, err := st.Shelf(id)
		require.NoError(t, err)
		require.Equal(t, stock.Now, shelf.Now())
	}
	for _, job := range []string{"heron", "tern"} {
		for stage := shop.Strip; stage <= shop.Assembly; stage++ {
			require.Equal(t, model.hours(job, stage), st.HoursOf(job, stage).Logged, "%s %s", job, stage)
		}
		require.Equal(t, model.open(job), st.OpenFinds(job), "open finds of %s", job)
		for _, name := range []string{"wheel nut", "sump plug"} {
			got := 0.0
			if b := st.BookValue(job, name); b != nil {
				got = b.Torque
			}
			require.InDelta(t, model.book(job, name), got, 0, fmt.Sprintf("book value of %s on %s", name, job))
		}
	}
}
