package shopfile

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/shop"
	"bayword/testdata/demo"
)

var tuesday = time.Date(2026, 3, 10, 10, 15, 0, 123_000_000, time.UTC)

// shopOf is the shop that events make, and what stands in it.
type shopOf struct {
	*shop.State
	names []shop.Told
}

func (s *shopOf) say(m shop.Meta, e shop.Event) error {
	m.Seq = s.Seq() + 1
	if _, err := s.Apply(m, e); err != nil {
		return err
	}
	told := shop.Told{Event: e, By: m.Person}
	if m.Person != "" {
		told.At = m.At
	}
	s.names = shop.Rename(s.names, told)
	return nil
}

func (s *shopOf) kept() []shop.Kept { return s.Standing(s.names) }

// begun is the shop of imported events.
func begun(t require.TestingT, events []shop.Event) *shopOf {
	s := &shopOf{State: shop.New()}
	for _, e := range events {
		told, ok := e.(shop.Told)
		if !ok {
			told.Event = e
		}
		m := shop.Meta{Person: told.By, At: told.At, Photos: told.Photos}
		if told.By == "" {
			m.At = tuesday.AddDate(0, 0, 1) // the day of the import
		}
		require.NoError(t, s.say(m, told.Event))
	}
	return s
}

// written is a folder of files.
func written(t require.TestingT, kept []shop.Kept, format Format) fstest.MapFS {
	files, err := Write(kept, format)
	require.NoError(t, err)
	folder := fstest.MapFS{}
	for _, f := range files {
		folder[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return folder
}

func text(folder fstest.MapFS, name string) string { return string(folder[name].Data) }

// busy is the demo shop after every kind of record was made in it, some mended.
func busy(t require.TestingT) *shopOf {
	events, err := Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	s := begun(t, events)
	photo := shop.Photo{Name: "left sill.jpg", SHA256: strings.Repeat("0a", 32)}
	for i, e := range []shop.Event{
		shop.PersonAdded{ID: "idris", Name: "Idris", Role: shop.Lead, Trade: "metal", Chat: "U0IDRIS", HoursPerDay: 6.5, DaysOff: []shop.Day{5, 6}},
		shop.PersonAdded{ID: "bo", Name: "Bo", Role: shop.Apprentice},
		shop.ChannelAdded{ID: "C0NEWBAY", Job: "tern", Chat: "C0NEWBAY"},
		shop.ChannelAdded{ID: "bay-1", Job: "osmere"},
		shop.SupplierAdded{Name: "=Wharf & Son; of \\ Dale"},
		shop.PanelAreaSet{Job: "heron", Panel: "door", M2: 0.975},
		shop.PanelAreaSet{Panel: "door", M2: 0.9},
		shop.DoorGeometrySet{Job: "heron", Panel: "bonnet", Height: 900.5, Length: 1200, HingeSpacing: 700, HingeEdge: shop.RearEdge},
		shop.StockMoved{Kind: shop.Use, Material: "thinner", Amount: shop.MicroOf(0.1), Job: "heron"},
		shop.JobCreated{ID: "linnet", Model: "Linnet", Stage: shop.Strip, Customer: "@ the corner"},
		shop.MaterialAdded{ID: "wax-oil", Name: "wax oil", Unit: "L", Pack: shop.MicroOf(2.5), Paint: &shop.PaintData{}},
		shop.StockMoved{Kind: shop.Delivery, Material: "thinner", Amount: shop.MicroOf(5), Batch: "+4471", Expires: 10_000},
		shop.StockMoved{Kind: shop.Count, Material: "thinner", Amount: 0},
		shop.StockMoved{Kind: shop.Waste, Material: "thinner", Amount: 1, Why: "spilt"},
		shop.TaskAdded{Number: 13, Job: "linnet", Title: "strip it, «all» of it\nand wash", Stage: shop.Strip, Low: 1, Likely: 1.5, High: 2.4, After: []int{12}, State: shop.Waiting, Who: "bo"},
		shop.HoursLogged{Job: "heron", People: []string{"idris", "jonah"}, Hours: shop.MicroOf(2), Stage: shop.Metal, Task: 2, Day: 9565},
		shop.HoursLogged{Job: "heron", People: []string{"idris"}, Hours: shop.MicroOf(1.0 / 3), Stage: shop.Paint, Day: 9565},
		shop.FindRecorded{Number: 5, Job: "linnet", Panel: "sill", Side: shop.Left, End: shop.RearEnd, Kind: shop.OldRepair, Width: 0.1 + 0.7, Count: 2, Note: "'tis thin"},
		shop.FindRecorded{Number: 6, Job: "linnet", Panel: "roof", Kind: shop.Dent},
		shop.FindClosed{Number: 1, Job: "heron"},
		shop.TorqueSet{Job: "tern", Fastener: "hub nut", Torque: 180},
		shop.TorqueRecorded{Job: "heron", Fastener: "wheel nut", Torque: 81, Count: 5},
		shop.GapSet{Job: "heron", Panel: "door", Edge: shop.RearEdge, Target: 4.2},
		shop.GapRecorded{Job: "heron", Panel: "door", Side: shop.Left, End: shop.FrontEnd, Edge: shop.RearEdge, Gaps: []float64{4, 4.5}, Flush: []float64{-0.5, 0}},
		shop.NoteAdded{Job: "heron", Text: "=1+1", Panel: "scuttle", Side: shop.Centre},
		shop.NoteAdded{Text: "\"quoted\", and a tab\tin it"},
		shop.CoatRecorded{Job: "heron", Material: "epoxy-primer", Panels: []string{"bonnet", "door"}, Coats: 2, At: tuesday.Truncate(time.Minute), Temperature: 18},
		shop.CoatRecorded{Job: "heron", Material: "epoxy-primer", Panels: []string{"roof"}, Coats: 1, At: time.Date(2025, 10, 26, 1, 30, 0, 0, time.UTC)},
		shop.PartOrdered{Number: 5, Job: "linnet", Part: "hinge", Side: shop.Right, Quantity: 4, Supplier: "a man at the fair", Origin: "used", Price: 12.99, Ordered: 9566, Due: 9570, State: shop.Ordered},
		shop.PartOrdered{Number: 6, Job: "linnet", Part: "lamp", Quantity: 1, State: shop.Arrived, Arrived: 9566, Condition: "-cracked", TrialFitted: true},
		shop.PartDueChanged{Number: 5, Job: "linnet", Due: 9575, Why: "the van broke down"},
		shop.PartArrived{Number: 5, Job: "linnet", Quantity: 3, Condition: "good"},
		shop.PartFitted{Number: 5, Job: "linnet", Trial: true, Note: "tight"},
		shop.PartArrived{Number: 5, Job: "linnet", Quantity: 1},
		shop.PartFitted{Number: 5, Job: "linnet"},
		shop.PartReturned{Number: 6, Job: "linnet", Why: "cracked"},
		shop.TaskStarted{Number: 13, Job: "linnet", Who: "bo"},
		shop.TaskFinished{Number: 13, Job: "linnet", Who: "bo"},
		shop.BriefAdded{Number: 5, Job: "heron", Text: "heated rear screen"},
		shop.BriefMet{Number: 5, Job: "heron", How: "wired and tried"},
		shop.BriefMet{Number: 1, Job: "heron", How: "flatted"},
		shop.ExtraProposed{Number: 3, Job: "linnet", Text: "let in the sill", Hours: 6, Parts: 10, Materials: 2.5, Rate: 52, Finds: []int{5, 6}, Stage: shop.Metal, State: shop.Proposed, HoursFrom: "advised"},
		shop.ExtraDecided{Number: 3, Job: "linnet", Agreed: true},
		shop.ExtraDecided{Number: 2, Job: "heron"},
		shop.SnagAdded{Number: 2, Job: "linnet", Text: "rattle"},
		shop.SnagClosed{Number: 2, Job: "linnet"},
		shop.ReminderSet{At: tuesday.Add(time.Hour).Truncate(time.Minute), Text: "turn the roof", Job: "heron", Channel: "bay-2"},
		shop.ReminderSet{At: tuesday.Add(48 * time.Hour).Truncate(time.Minute), Text: "ring Mr L", Channel: shop.Direct},
	} {
		m := shop.Meta{Person: "wren", At: tuesday.Add(time.Duration(i) * time.Minute)}
		if i%3 == 0 {
			m.Photos = []shop.Photo{photo, {Name: "-odd; name.png"}}
		}
		require.NoError(t, s.say(m, e))
		if _, ok := e.(shop.ReminderSet); ok && s.Seq()%2 == 0 {
			require.NoError(t, s.say(shop.Meta{At: tuesday}, shop.NoticeSent{ID: shop.ReminderNotice(s.Seq(), "2026-03-10T11:15")}))
		}
	}
	// An older record is changed into one that names a younger job; one is undone,
	// and what was closed and priced with it stays behind.
	use := entryOf(s, func(e shop.Event) bool { m, ok := e.(shop.StockMoved); return ok && m.Kind == shop.Use })
	six := entryOf(s, func(e shop.Event) bool { f, ok := e.(shop.FindRecorded); return ok && f.Number == 6 })
	require.NoError(t, s.say(shop.Meta{Person: "idris", At: tuesday}, shop.Amended{
		Entry: use, Now: shop.StockMoved{Kind: shop.Use, Material: "wax-oil", Amount: shop.MicroOf(0.7), Job: "linnet"},
	}))
	// What came with the shop turns out to come from somebody the shop does not list.
	shaft := entryOf(s, func(e shop.Event) bool { p, ok := e.(shop.PartOrdered); return ok && p.Number == 3 })
	require.NoError(t, s.say(shop.Meta{Person: "wren", At: tuesday}, shop.Amended{
		Entry: shaft, Now: shop.PartOrdered{Number: 3, Job: "pilot", Part: "propshaft", Quantity: 1, Supplier: "a man at the fair", State: shop.Ordered},
	}))
	require.NoError(t, s.say(shop.Meta{Person: "idris", At: tuesday}, shop.FindClosed{Number: 6, Job: "linnet"}))
	require.NoError(t, s.say(shop.Meta{Person: "idris", At: tuesday}, shop.Undone{Entry: six}))
	// Notices were sent of each kind; one is of a part that was taken back.
	coat := entryOf(s, func(e shop.Event) bool { _, ok := e.(shop.CoatRecorded); return ok })
	require.NoError(t, s.say(shop.Meta{Person: "idris", At: tuesday}, shop.PartOrdered{Number: 7, Job: "tern", Part: "badge", Quantity: 1, Due: 9566, State: shop.Ordered}))
	part := s.Seq()
	for _, id := range []string{
		shop.PartNotice(7, 9566), shop.PartNotice(5, 9570), shop.MorningNotice(9566, "wren"), shop.MorningNotice(9566, "idris"),
		shop.CoatNotice(coat, shop.CoatTold(shop.NoticeSand, "2025-10-26T17:30")), shop.CoatNotice(coat, shop.CoatTold(shop.NoticePotLife, "2025-10-26T05:15")),
	} {
		require.NoError(t, s.say(shop.Meta{At: tuesday}, shop.NoticeSent{ID: id}))
	}
	require.NoError(t, s.say(shop.Meta{Person: "idris", At: tuesday}, shop.Undone{Entry: part}))
	return s
}

func entryOf(s *shopOf, is func(shop.Event) bool) uint64 {
	for n := s.Seq(); n > 0; n-- {
		if r, ok := s.Record(n); ok && is(r.Event) {
			return r.Entry
		}
	}
	return 0
}

// answers is what a shop says about all it has. Numbers of entries are no part of
// it: a new ledger counts anew.
func answers(t require.TestingT, s *shopOf) string {
	now := tuesday.In(s.Location())
	var b strings.Builder
	who := func(said shop.Said) string {
		return said.By + " " + fmt.Sprint(said.By != "" && said.At.Equal(tuesday))
	}
	fmt.Fprintln(&b, s.Shop(), s.People(), s.Channels(), s.Suppliers(), s.Fasteners())
	for _, m := range s.Materials() {
		fmt.Fprintln(&b, m.MaterialAdded.ID, m.Paint, m.Now, m.Low, m.Batch, m.Expires)
	}
	for _, j := range s.Jobs() {
		fmt.Fprintln(&b, j.JobCreated, j.LoggedAll, j.AgreedAll, j.OpenFinds)
		st, err := s.Status(j.ID, now)
		require.NoError(t, err)
		for _, f := range st.Open {
			fmt.Fprintln(&b, f.FindRecorded, who(f.Said))
		}
		fmt.Fprintln(&b, st.Hours, st.Doing, st.Late, st.Extras, st.Snags, st.Doors, st.Counts)
		lines, _, err := s.History(shop.Where{Job: j.ID}, 0, 1000)
		require.NoError(t, err)
		for _, l := range lines {
			if l.Undated {
				l.At = time.Time{}
			}
			fmt.Fprintln(&b, l.By, l.At, l.Imported, l.Undated, l.Text)
		}
		tasks, err := s.Tasks(j.ID)
		require.NoError(t, err)
		for _, v := range tasks {
			fmt.Fprintln(&b, v.TaskAdded, v.Logged, who(v.Started), who(v.Finished), who(v.Said))
		}
		brief, err := s.Brief(j.ID)
		require.NoError(t, err)
		for _, v := range brief {
			fmt.Fprintln(&b, v.Number, v.Text, v.Met, v.How, who(v.Said), who(v.MetBy))
		}
		fmt.Fprintln(&b, first(s.Area(j.ID, []string{"door"})))
	}
	parts, err := s.Parts(shop.PartFilter{}, now)
	require.NoError(t, err)
	for _, v := range parts {
		fmt.Fprintln(&b, v.PartOrdered, v.ArrivedQuantity, v.FitNote, v.DaysLate, v.NeededBy, who(v.Said))
	}
	extras, err := s.Extras(shop.ExtraFilter{})
	require.NoError(t, err)
	for _, v := range extras {
		fmt.Fprintln(&b, v.Number, v.Text, v.State, v.Price, v.Rate, v.Stage, len(v.History), who(v.Said))
	}
	snags, err := s.Snags(shop.SnagFilter{})
	require.NoError(t, err)
	for _, v := range snags {
		fmt.Fprintln(&b, v.SnagAdded, who(v.Said), who(v.Mended))
	}
	for _, r := range s.Reminders() {
		fmt.Fprintln(&b, r.ReminderSet, who(r.Said))
	}
	for _, n := range s.Planned(now) {
		fmt.Fprintln(&b, n.Kind, n.At, n.Person, n.Text, s.Sent(n.ID))
	}
	coats, err := s.LatestCoats("")
	require.NoError(t, err)
	for _, c := range coats {
		sand := shop.CoatTold(shop.NoticeSand, s.Local(c.At().Add(16*time.Hour)))
		fmt.Fprintln(&b, c.Material, c.Panels, s.Sent(shop.CoatNotice(c.Entry, sand)))
	}
	return b.String()
}

// first leaves out the error that no area is known.
func first(area []float64, _ error) []float64 { return area }

// roundTrip holds that what a shop keeps comes back from either format: the same
// bytes in both, and the same answers.
func roundTrip(t require.TestingT, s *shopOf) {
	inJSON, inCSV := written(t, s.kept(), JSON), written(t, s.kept(), CSV)
	for _, folder := range []fstest.MapFS{inJSON, inCSV} {
		events, err := ReadFolder("shop", folder)
		require.NoError(t, err)
		back := begun(t, events)
		for name, f := range written(t, back.kept(), JSON) {
			require.Equal(t, text(inJSON, name), string(f.Data), name)
		}
		for name, f := range written(t, back.kept(), CSV) {
			require.Equal(t, text(inCSV, name), string(f.Data), name)
		}
		require.Equal(t, answers(t, s), answers(t, back))
	}
}

func TestABusyShopComesBackFromAFolder(t *testing.T) {
	t.Parallel()
	s := busy(t)
	roundTrip(t, s)

	folder := written(t, s.kept(), CSV)
	assert.Equal(t, "part,person,day\r\n5,,2026-03-15\r\n,wren,2026-03-11\r\n,idris,2026-03-11\r\n", text(folder, "notices_sent.csv"), "part 7 was taken back: its number may be given anew")
	assert.Contains(t, text(folder, "coats.csv"), ",pot-2025-10-26T05:15; sand-2025-10-26T17:30,")
	assert.Contains(t, answers(t, s), "epoxy-primer [roof] true")
	for _, n := range nouns() {
		assert.Greater(t, strings.Count(text(folder, n.name+".csv"), "\r\n"), 1, "the busy shop has no %s", n.name)
	}
}

// Whatever is said in it, a shop comes back from a folder.
func TestAnyShopComesBackFromAFolder(t *testing.T) {
	t.Parallel()
	events, err := Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	words := rapid.StringMatching(`[=+@'; \\",a-z0-9é😀\n\t-]{0,12}[a-z;\\'"]`)
	jobs := rapid.SampledFrom([]string{"heron", "tern", "osmere"})
	people := rapid.SampledFrom([]string{"wren", "jonah", "mabel"})
	material := rapid.SampledFrom([]string{"clearcoat", "thinner"})
	sizes := rapid.Float64Range(1, 39)
	rapid.Check(t, func(t *rapid.T) {
		s := begun(t, events)
		text := func(label string) string { return strings.TrimSpace(words.Draw(t, label)) }
		for n := range rapid.IntRange(0, 12).Draw(t, "how many") {
			job, number := jobs.Draw(t, "job"), 20+n
			e := rapid.SampledFrom([]shop.Event{
				shop.StockMoved{
					Kind: shop.MoveKind(rapid.IntRange(1, 4).Draw(t, "kind")), Material: material.Draw(t, "material"),
					Amount: shop.Micro(rapid.Int64Range(0, 1e10).Draw(t, "amount")), Job: job, Batch: text("batch"), Why: text("why"),
				},
				shop.HoursLogged{
					Job: job, People: []string{people.Draw(t, "worker")}, Hours: shop.Micro(rapid.Int64Range(1, 16e6).Draw(t, "hours")),
					Stage: shop.Stage(rapid.IntRange(1, 6).Draw(t, "stage")), Day: shop.Day(rapid.IntRange(1, 20_000).Draw(t, "day")),
				},
				shop.FindRecorded{
					Number: number, Job: job, Panel: "roof", Kind: shop.Rust, Width: sizes.Draw(t, "width"), Depth: sizes.Draw(t, "depth"), Note: text("note"),
				},
				shop.FindClosed{Number: rapid.IntRange(1, 4).Draw(t, "find"), Job: job},
				shop.NoteAdded{Job: job, Text: text("text")},
				shop.JobCreated{ID: fmt.Sprint("job-", n), Model: text("model"), Stage: shop.Strip, Brief: []string{text("brief"), text("brief")}},
				shop.GapRecorded{Job: job, Panel: "bonnet", Gaps: []float64{sizes.Draw(t, "gap")}, Flush: []float64{-sizes.Draw(t, "flush") / 3}},
				shop.CoatRecorded{
					Job: job, Material: "clearcoat", Panels: []string{"roof", "bonnet"}, Coats: 2,
					At: time.UnixMilli(rapid.Int64Range(1.7e12, 1.8e12).Draw(t, "at")).UTC(),
				},
				shop.PartOrdered{Number: number, Job: job, Part: text("part"), Quantity: 1, Supplier: text("supplier"), State: shop.Ordered},
				shop.SnagAdded{Number: number, Job: job, Text: text("snag")},
				shop.ExtraProposed{Number: number, Job: job, Text: text("extra"), Hours: sizes.Draw(t, "extra hours"), State: shop.Proposed},
				shop.BriefAdded{Number: number, Job: job, Text: text("line")},
				shop.ReminderSet{At: tuesday.Truncate(time.Minute), Text: text("reminder"), Channel: "bay-2"},
				shop.SupplierAdded{Name: fmt.Sprint(text("name"), n)},
				shop.PersonAdded{ID: "bo", Name: text("person"), Role: shop.Apprentice, Chat: text("chat")},
			}).Draw(t, "event")
			m := shop.Meta{Person: people.Draw(t, "who"), At: time.UnixMilli(rapid.Int64Range(1.7e12, 1.8e12).Draw(t, "said at")).UTC()}
			if rapid.Bool().Draw(t, "with a photograph") {
				m.Photos = []shop.Photo{{Name: text("photograph")}}
			}
			require.NoError(t, s.say(m, e))
		}
		roundTrip(t, s)
	})
}

// A folder that lists less than it could is a shop all the same.
const (
	shopJSON = `[{"name": "Millrace"}]`
	shopCSV  = "name\nMillrace\n"
)

func folderOf(files map[string]string) fstest.MapFS {
	folder := fstest.MapFS{"notes.txt": &fstest.MapFile{Data: []byte("not ours")}}
	for name, data := range files {
		folder[name] = &fstest.MapFile{Data: []byte(data)}
	}
	return folder
}

func TestWhatIsWrongInAFolderIsSaidWithItsFileAndLine(t *testing.T) {
	t.Parallel()
	const jobs, people = "id,stage\nheron,metal\n", "id,name,role\nwren,Wren,lead\n"
	for name, c := range map[string]struct {
		files map[string]string
		says  string
	}{
		"nothing":               {nil, `in:1: the folder: "shop": this key must be there`},
		"two shops":             {map[string]string{"shop.json": `[{"name": "A"}, {"name": "B"}]`}, `in/shop.json:1: shop: "2 rows": must be one`},
		"two formats":           {map[string]string{"shop.csv": shopCSV, "snags.json": "[]"}, `in: the folder: "snags.json": must be all CSV or all JSON`},
		"an unknown noun":       {map[string]string{"shop.csv": shopCSV, "colours.csv": "id\n"}, `in/colours.csv:1: unknown noun: "colours": accepted are shop, people`},
		"an unknown column":     {map[string]string{"shop.csv": shopCSV, "snags.csv": "id,job,colour\n"}, `in/snags.csv:1: unknown column of snags: "colour": accepted are id, job, text, state, now, entry, by, said_at, photos`},
		"a column twice":        {map[string]string{"shop.csv": shopCSV, "snags.csv": "id,job,id\n"}, `in/snags.csv:1: column of snags: "id": must come once`},
		"an unknown key":        {map[string]string{"shop.json": shopJSON, "snags.json": "[\n{\"id\": 1, \"colour\": \"red\"}\n]"}, `in/snags.json:2: unknown key of snags: "colour"`},
		"a key twice":           {map[string]string{"shop.json": `[{"name": "A", "name": "B"}]`}, `in/shop.json:1: key of shop: "name": must come once`},
		"a cell too many":       {map[string]string{"shop.csv": shopCSV, "people.csv": people + "bo,Bo,apprentice,trim\n"}, `in/people.csv:3: "bo": 4 cells, the header has 3`},
		"a quote astray":        {map[string]string{"shop.csv": shopCSV, "people.csv": people + "bo,\"Bo\"x,lead\n"}, `in/people.csv:3: no CSV: extraneous or missing "`},
		"no JSON":               {map[string]string{"shop.json": "[\n{\"name\": }]"}, `in/shop.json:2: no JSON: invalid character '}'`},
		"a JSON too many":       {map[string]string{"shop.json": shopJSON + "[]"}, `in/shop.json:1: no JSON: more than one value`},
		"lists without end":     {map[string]string{"shop.json": strings.Repeat("[", 100_000)}, `in/shop.json:1: no JSON: lists in lists in lists`},
		"no list":               {map[string]string{"shop.json": shopJSON, "snags.json": "{}"}, `in/snags.json:1: the folder snags: "{…}": must be a list`},
		"a number in quotes":    {map[string]string{"shop.json": `[{"name": "A", "labour_rate_per_hour": "52"}]`}, `labour_rate_per_hour: "52": must be a number from 0 to 10000`},
		"nothing for a text":    {map[string]string{"shop.json": `[{"name": null}]`}, `in/shop.json:1: shop name: "": must be one value`},
		"a missing job":         {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "snags.csv": "id,job,text,state\n1,heron,\"a\nb\",open\n2,tern,x,open\n"}, `in/snags.csv:4: snags job: "tern": accepted are heron`},
		"a missing find":        {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "find_closings.csv": "find\n3\n"}, `in/find_closings.csv:2: find_closings find: "3": must be the number of one that is there`},
		"a missing task":        {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "people.csv": people, "hours.csv": "job,people,hours,work,day\nheron,wren,2,4,2026-03-10\n"}, `in/hours.csv:2: hours work: "4": must be a stage or the id of a task`},
		"a missing person":      {map[string]string{"shop.csv": shopCSV, "people.csv": people, "notes.csv": "text,by,said_at\nx,bo,2026-03-10T10:15:00Z\n"}, `in/notes.csv:2: notes by: "bo": accepted are wren`},
		"a missing moment":      {map[string]string{"shop.csv": shopCSV, "people.csv": people, "notes.csv": "text,by\nx,wren\n"}, `in/notes.csv:2: notes: "said_at": this key must be there`},
		"a moment of nobody":    {map[string]string{"shop.csv": shopCSV, "notes.csv": "text,said_at\nx,2026-03-10T10:15:00Z\n"}, `in/notes.csv:2: notes said_at: "2026-03-10T10:15:00Z": must stand beside by`},
		"an entry of nobody":    {map[string]string{"shop.csv": shopCSV, "notes.csv": "text,entry\nx,1\n"}, `in/notes.csv:2: notes entry: "1": must stand beside by`},
		"an entry twice":        {map[string]string{"shop.csv": shopCSV, "people.csv": people, "notes.csv": "text,entry,by,said_at\nx,1,wren,2026-03-10T10:15\ny,1,wren,2026-03-10T10:15\n"}, `in/notes.csv:3: notes entry: "1": is there already`},
		"no photograph":         {map[string]string{"shop.csv": shopCSV, "notes.csv": "text,photos\nx,sill.jpg\n"}, `in/notes.csv:2: notes photos: "sill.jpg": must be the SHA-256 of its content`},
		"a notice of nothing":   {map[string]string{"shop.csv": shopCSV, "notices_sent.csv": "day\n2026-03-10\n"}, `in/notices_sent.csv:2: notices_sent: "part": this key must be there`},
		"a notice of no day":    {map[string]string{"shop.csv": shopCSV, "people.csv": people, "notices_sent.csv": "person\nwren\n"}, `in/notices_sent.csv:2: notices_sent: "day": this key must be there`},
		"a notice of two":       {map[string]string{"shop.csv": shopCSV, "people.csv": people, "notices_sent.csv": "part,person,day\n1,wren,2026-03-10\n"}, `in/notices_sent.csv:2: notices_sent person: "wren": must not stand beside part`},
		"a stranger's notice":   {map[string]string{"shop.csv": shopCSV, "people.csv": people, "notices_sent.csv": "person,day\nbo,2026-03-10\n"}, `in/notices_sent.csv:2: notices_sent person: "bo": accepted are wren`},
		"a notice of no part":   {map[string]string{"shop.csv": shopCSV, "notices_sent.csv": "part,day\n3,2026-03-10\n"}, `in/notices_sent.csv:2: notices_sent part: "3": must be the number of one that is there`},
		"nobody to remind":      {map[string]string{"shop.csv": shopCSV, "reminders.csv": "at,text,channel\n2026-03-10T14:00,x,dm\n"}, `in/reminders.csv:2: reminders: "by": this key must be there`},
		"a line of a brief":     {map[string]string{"shop.csv": shopCSV, "jobs.csv": "id,stage,brief\nheron,metal,sound\n", "brief_lines.csv": "job,line,text\nheron,1,x\n"}, `in/brief_lines.csv:2: brief_lines line: "1": is there already`},
		"a line that is not":    {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "brief_met.csv": "job,line,text\nheron,1,x\n"}, `in/brief_met.csv:2: brief_met line: "1": must be the number`},
		"no decision":           {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "extras.csv": "id,job,text,state\n1,heron,x,proposed\n", "extra_decisions.csv": "extra\n1\n"}, `"agreed": this key must be there`},
		"another state now":     {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "snags.csv": "id,job,text,state,now\n1,heron,x,open,closed\n"}, `in/snags.csv:2: snags now: "closed": it is open after what is listed`},
		"an odd channel":        {map[string]string{"shop.csv": shopCSV, "channels.csv": "id\ndm\n"}, `in/channels.csv:2: channels id: "dm": must be 1 to 80 letters`},
		"a person twice a row":  {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "people.csv": people, "hours.csv": "job,people,hours,day\nheron,wren; wren,2,2026-03-10\n"}, `in/hours.csv:2: hours people: "wren": must come once`},
		"hours of nobody":       {map[string]string{"shop.csv": shopCSV, "jobs.csv": jobs, "hours.csv": "job,hours\nheron,2\n"}, `in/hours.csv:2: hours: "people": this key must be there`},
		"a movement of nothing": {map[string]string{"shop.csv": shopCSV, "stock_moves.csv": "kind,material,amount\nloan,tape,1\n"}, `in/stock_moves.csv:2: stock_moves kind: "loan": accepted are use, delivery, count, waste`},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			events, err := ReadFolder("in", folderOf(c.files))
			require.ErrorContains(t, err, c.says)
			assert.Empty(t, events)
		})
	}
}

// What a spreadsheet saves is read: a mark at the beginning, columns in another
// order, some left out.
func TestATableThatASpreadsheetSaved(t *testing.T) {
	t.Parallel()
	events, err := ReadFolder("in", folderOf(map[string]string{
		"shop.csv":   "\ufeffname,time_zone\r\nMillrace,Europe/Dublin\r\n",
		"people.csv": "role,id,name\r\nlead,wren,Wren\r\n",
		"jobs.csv":   "id,vehicle.year,vehicle.model,stage,also_called,logged_hours.strip\r\nheron,1964,Heron,metal,the coupe; a \\; b,2.5\r\n",
		"notes.csv":  "text,by,said_at,photos\r\n'=sum,wren,2026-07-10T10:15,-  sill.jpg\r\n",
	}))
	require.NoError(t, err)
	job := shop.JobCreated{ID: "heron", Year: 1964, Model: "Heron", Stage: shop.Metal, AlsoCalled: []string{"the coupe", "a ; b"}}
	job.Logged[shop.Strip] = shop.MicroOf(2.5)
	assert.Equal(t, []shop.Event{
		shop.ShopOpened{Name: "Millrace", TimeZone: "Europe/Dublin"},
		shop.PersonAdded{ID: "wren", Name: "Wren", Role: shop.Lead},
		job,
		shop.Told{
			Event: shop.NoteAdded{Text: "=sum"}, By: "wren", At: time.Date(2026, 7, 10, 9, 15, 0, 0, time.UTC), Photos: []shop.Photo{{Name: "sill.jpg"}},
		},
	}, events)
}

// What was said comes after what came with the shop, by its entry; a record without
// one comes where its moment belongs.
func TestTheOrderOfWhatWasSaid(t *testing.T) {
	t.Parallel()
	events, err := Read("shop.yaml", []byte(begin+`notes:
- {text: third, entry: 5, by: wren, said_at: 2026-03-10T12:00}
- {text: first, entry: 2, by: wren, said_at: 2026-03-10T10:00}
- {text: second, by: wren, said_at: 2026-03-10T11:00}
- {text: fourth, by: wren, said_at: 2026-03-10T13:00}
- {text: of nobody}
reminders:
- {at: 2026-03-10T14:00, text: x, channel: bay-2, sent: true}
`))
	require.NoError(t, err)
	var order []string
	for _, e := range events {
		if told, ok := e.(shop.Told); ok {
			e = told.Event
		}
		switch e := e.(type) {
		case shop.NoteAdded:
			order = append(order, e.Text)
		case shop.NoticeSent:
			order = append(order, e.ID)
		}
	}
	assert.Equal(t, []string{"of nobody", "first", "second", "third", "fourth", "reminder-7-2026-03-10T14:00"}, order)
	st := begun(t, events)
	assert.Empty(t, st.Reminders(), "it was sent")
}

func TestACellIsNoFormula(t *testing.T) {
	t.Parallel()
	for text, cell := range map[string]string{
		"=1+1": "'=1+1", "+44 1": "'+44 1", "-cracked": "'-cracked", "@home": "'@home", "'tis": "''tis", "'": "''", "'=": "''=",
		"-3.5": "-3.5", "-": "'-", "a=b": "a=b", "": "", "-1; -2": "'-1; -2", "\tx": "'\tx",
	} {
		assert.Equal(t, cell, guard(text))
		assert.Equal(t, text, unguard(cell))
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		require.Equal(t, text, unguard(guard(text)))
	})
}

func TestAListIsOneCell(t *testing.T) {
	t.Parallel()
	for text, items := range map[string][]string{
		`a; b`: {"a", "b"}, `a\; b; c\\`: {"a; b", `c\`}, `\\\;; x`: {`\;`, "x"}, "4; 4.5": {"4", "4.5"},
	} {
		assert.Equal(t, text, join(items))
		assert.Equal(t, items, split(text))
	}
	assert.Equal(t, []string{"a", "b"}, split("a;b"), "as people write it")
}

// FuzzFolder holds that a folder of any table gives a shop or an error, and that a
// shop that was read comes back.
func FuzzFolder(f *testing.F) {
	folder := written(f, busy(f).kept(), CSV)
	for i, n := range nouns() {
		f.Add(i, folder[n.name+".csv"].Data)
	}
	f.Add(3, []byte("id\n\"\n"))
	f.Fuzz(func(t *testing.T, i int, data []byte) {
		all := nouns()
		in := fstest.MapFS{}
		for name, file := range folder {
			in[name] = file
		}
		in[all[uint(i)%uint(len(all))].name+".csv"] = &fstest.MapFile{Data: data}
		events, err := ReadFolder("in", in)
		if err != nil {
			require.Empty(t, events)
			return
		}
		roundTrip(t, begun(t, events))
	})
}
